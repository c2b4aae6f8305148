/** Arcs that are door swings: about a quarter of a circle with the door's leaf along one of its ends. Lengths local mm. */

import type { Vec } from '../../ground/plane.js';
import { pointsNear } from '../near.js';
import { endsOf, isFull } from './circle.js';
import { LEAF_LEAST_MM, LEAF_MOST_MM, LEAF_OFF_MM } from './limits.js';
import type { Arc } from './merge.js';

const LEAST_RAD = (25 * Math.PI) / 180;
const MOST_RAD = (100 * Math.PI) / 180;

/** The arcs (by index) that are swings of doors whose leaves are among the lines. */
export const swingsAmong = (
  arcs: readonly Arc[],
  lines: readonly { readonly a: Vec; readonly b: Vec }[],
): ReadonlySet<number> => {
  const near = pointsNear(
    lines.flatMap((l) => [l.a, l.b]),
    LEAF_OFF_MM,
  );
  const isSwing = (arc: Arc): boolean => {
    if (arc.radius < LEAF_LEAST_MM || arc.radius > LEAF_MOST_MM || isFull(arc)) return false;
    if (arc.by < LEAST_RAD || arc.by > MOST_RAD) return false;
    // A line from the centre to an end of the arc; its ends stand at 2i and 2i + 1.
    const fromCentre = near(arc.centre);
    return endsOf(arc).some((end) => {
      const atEnd = new Set(near(end));
      return fromCentre.some((i) => atEnd.has(i % 2 === 0 ? i + 1 : i - 1));
    });
  };
  return new Set(arcs.flatMap((a, i) => (isSwing(a) ? [i] : [])));
};
