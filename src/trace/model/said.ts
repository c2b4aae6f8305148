/** How findings about a model are worded: names with their GlobalIds, numbers, places. Local mm. */

import type { Vec } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import type { ModelElement, ModelOpening } from '../../ground/vocabulary.js';
import type { Measured } from './bodies.js';

export const mm = (value: number): string => plainNumber(value, 1);

export const place = (p: Vec, z = 0): readonly [number, number, number] => [p.x, p.y, z];

export const nameOf = (e: ModelElement): string => (e.name ? `${e.name} (${e.id})` : `${e.entity} ${e.id}`);

export const shown = (m: Measured): string => nameOf(m.element);

/** As a sentence begins. */
export const openingName = (o: ModelOpening): string => (o.name ? `${o.name} (${o.id})` : `Opening ${o.id}`);

export const middleOf = (m: Measured): Vec | null =>
  m.box && { x: (m.box.x0 + m.box.x1) / 2, y: (m.box.y0 + m.box.y1) / 2 };
