/** On which side of a joint its ties stand: a dot under the forms, seen at a glance where the circles of the ties are small. */

import type { Vec } from '../../ground/plane.js';
import type { CheckedTie } from '../../ground/vocabulary.js';
import type { View } from './elevationView.js';
import type { Shape } from './sheet.js';

const HALF_MM = 26;
/** Under the footing line, clear of the strokes of ground. */
const UNDER_MM = 96;

/** A filled square on its corner. */
export const tieSide = ({ x, y }: Vec, about: readonly string[] = []): Shape[] => [
  {
    type: 'solid',
    layer: 'TIES',
    about,
    corners: [
      { x: x - HALF_MM, y },
      { x, y: y - HALF_MM },
      { x: x + HALF_MM, y },
      { x, y: y + HALF_MM },
    ],
  },
];

/** One dot for each column of ties. */
export const drawTieSides = (view: View, ties: readonly CheckedTie[]): Shape[] =>
  [...new Set(ties.map((t) => t.stationMm))].flatMap((s) =>
    tieSide({ x: view.at(s, 0).x, y: -UNDER_MM }, ['tie-side', view.frame.face.id]),
  );
