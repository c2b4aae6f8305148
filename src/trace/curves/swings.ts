/** Arcs that are door swings: about a quarter of a circle with the door's leaf along one of its ends. Lengths local mm. */

import { distance, type Vec } from '../../ground/plane.js';
import { endsOf, isFull } from './circle.js';
import { LEAF_LEAST_MM, LEAF_MOST_MM, LEAF_OFF_MM } from './limits.js';
import type { Arc } from './merge.js';

const LEAST_RAD = (25 * Math.PI) / 180;
const MOST_RAD = (100 * Math.PI) / 180;

/** Is this arc the swing of a door whose leaf is among the lines? */
export const isSwing = (arc: Arc, lines: readonly { readonly a: Vec; readonly b: Vec }[]): boolean => {
  const { radius, centre } = arc;
  if (radius < LEAF_LEAST_MM || radius > LEAF_MOST_MM || isFull(arc)) return false;
  if (arc.by < LEAST_RAD || arc.by > MOST_RAD) return false;
  const ends = endsOf(arc);
  const joins = (p: Vec, q: Vec) =>
    distance(p, centre) <= LEAF_OFF_MM && ends.some((e) => distance(q, e) <= LEAF_OFF_MM);
  return lines.some((l) => joins(l.a, l.b) || joins(l.b, l.a));
};
