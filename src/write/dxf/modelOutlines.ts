/** What a model shows around the walls, where there is no drawing to show it: footings, slabs, columns, walls that are not formed, pipes and sleeves. */

import type { Foundation, ModelOutline } from '../../ground/vocabulary.js';
import type { LayerKey } from './layers.js';
import { polyline, type Shape } from './sheet.js';

/** The walls taken are drawn as the concrete of the plan. */
const LAYER_OF: Readonly<Record<ModelOutline['kind'], LayerKey | null>> = {
  wall: null,
  footing: 'FTNG',
  slab: 'FTNG',
  'wall-left-out': 'REFR',
  column: 'REFR',
  obstacle: 'REFR',
};

/** Nothing of a drawing: that is there itself. */
export const modelOutlines = ({ model }: Foundation): Shape[] =>
  (model?.outlines ?? []).flatMap(({ id, kind, rings }) => {
    const layer = LAYER_OF[kind];
    if (layer === null) return [];
    return rings.filter((ring) => ring.length > 2).map((ring) => polyline(layer, ring, true, [kind, id]));
  });
