/** Which parts of made lines are drawn as linework anyway. Local mm. */

import { cross, distance, dot, leftOf, sub, unit, type Vec } from '../../ground/plane.js';
import { type Interval, subtract, union } from '../intervals.js';
import { REPAIR_MM } from '../limits.js';
import { BoxBook, boxOf } from './areas.js';

interface Piece {
  readonly a: Vec;
  readonly b: Vec;
}

/** A fill's edge follows a line within this over its length. */
const FOLLOW_SIN = 0.02;

/** For a piece, the parts (distances from its start) beside which no line runs within REPAIR_MM. */
export const uncoveredBy = (lines: readonly Piece[]): ((piece: Piece) => Interval[]) => {
  const book = new BoxBook(lines, (l) => boxOf([l.a, l.b]));
  return (piece) => {
    const u = unit(sub(piece.b, piece.a));
    const n = leftOf(u);
    const box = boxOf([piece.a, piece.b]);
    const near = book.near({
      x0: box.x0 - REPAIR_MM,
      y0: box.y0 - REPAIR_MM,
      x1: box.x1 + REPAIR_MM,
      y1: box.y1 + REPAIR_MM,
    });
    const parts = near.flatMap((l): Interval[] => {
      if (Math.abs(cross(u, unit(sub(l.b, l.a)))) > FOLLOW_SIN) return [];
      const [p, q] = [sub(l.a, piece.a), sub(l.b, piece.a)];
      if (Math.abs(dot(p, n) + dot(q, n)) / 2 > REPAIR_MM) return [];
      const [s, t] = [dot(p, u), dot(q, u)];
      return [{ a: Math.min(s, t), b: Math.max(s, t) }];
    });
    return subtract([{ a: 0, b: distance(piece.a, piece.b) }], union(parts, REPAIR_MM));
  };
};
