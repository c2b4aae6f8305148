/** Walls beside points: what a note, a mark or a place of the job file is about. */

import { byNumber, inOrder } from '../ground/order.js';
import { segmentShare, toSegment, type Vec } from '../ground/plane.js';
import type { Wall } from '../ground/vocabulary.js';
import { pointToCurve } from './curvePlaces.js';

/** Share of a straight wall's length at which a point stands beside it, 0 to 1. */
export const shareAlong = (p: Vec, { start, end }: Wall): number => segmentShare(p, start, end);

/** Distance from a point to a wall's body, mm; 0 inside it. */
export const pointToWall = (p: Vec, { arc, start, end, thicknessMm }: Wall): number => {
  if (!arc) return Math.max(0, toSegment(p, start, end) - thicknessMm / 2);
  const { centre, innerRadiusMm, fromRad, sweepRad } = arc;
  const radiusMm = innerRadiusMm + thicknessMm / 2;
  return pointToCurve(p, { centre, radiusMm, fromRad, toRad: fromRad + sweepRad, thicknessMm });
};

/** The wall nearest to a point, the first of several, by its place in the list; there must be one. */
export const nearestWall = (p: Vec, walls: readonly Wall[]): { readonly wall: number; readonly awayMm: number } => {
  const near = walls
    .map((wall, i) => ({ wall: i, awayMm: pointToWall(p, wall) }))
    .sort(
      inOrder(
        byNumber((c) => c.awayMm),
        byNumber((c) => c.wall),
      ),
    );
  return near[0]!;
};
