/** How findings about a model are worded: names with their GlobalIds, numbers, places. Local mm. */

import { type Finding, finding } from '../../ground/findings.js';
import type { Vec } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import type { ModelElement, ModelOpening } from '../../ground/vocabulary.js';
import { LISTED_MOST } from '../limits.js';
import type { Measured } from './bodies.js';

export const mm = (value: number): string => plainNumber(value, 1);

export const place = (p: Vec, z = 0): readonly [number, number, number] => [p.x, p.y, z];

export const nameOf = (e: ModelElement): string => (e.name ? `${e.name} (${e.id})` : `${e.entity} ${e.id}`);

export const shown = (m: Measured): string => nameOf(m.element);

/** As a sentence begins. */
export const openingName = (o: ModelOpening): string => (o.name ? `${o.name} (${o.id})` : `Opening ${o.id}`);

export const middleOf = (m: Measured): Vec | null =>
  m.box && { x: (m.box.x0 + m.box.x1) / 2, y: (m.box.y0 + m.box.y1) / 2 };

/** The first LISTED_MOST one by one; the rest counted in one finding of the same code. */
export const listed = (findings: readonly Finding[]): Finding[] => {
  const more = findings.length - LISTED_MOST;
  if (more <= 0) return [...findings];
  const first = findings[0]!;
  return [
    ...findings.slice(0, LISTED_MOST),
    finding(first.code, `${more} more of this kind.`, { severity: first.severity }),
  ];
};
