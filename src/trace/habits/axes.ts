/**
 * Axes as drawn → axes that meet. Doubles and split pieces become one line (lines.ts); an end that stops short of another wall's axis, but
 * within that wall's body, is led to the axis, and one that runs past it within the body is cut there. All lengths local mm.
 */

import { byNumber, inOrder } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { REPAIR_MM } from '../limits.js';
import { buildLines, type Direction, type LineSet, pointAt, uOf, vOf } from '../lines.js';
import type { Segment } from '../segments.js';
import { piecesOf } from './axisPieces.js';

/** A straight piece of an axis as it was drawn. */
export interface AxisPart extends Segment {
  readonly thicknessMm: number;
  /** A wall of which both faces are drawn: others meet it, but nothing is made of it. */
  readonly drawn: boolean;
}

/** Part of a line with one thickness. */
export interface AxisPiece {
  readonly a: number;
  readonly b: number;
  readonly thicknessMm: number;
  readonly drawn: boolean;
  readonly source: string;
  readonly layer: string;
}

export interface Axis {
  readonly direction: Direction;
  readonly v: number;
  readonly a: number;
  readonly b: number;
  /** End to end from a to b. */
  readonly pieces: readonly AxisPiece[];
}

export interface MovedEnd {
  readonly kind: 'led on' | 'cut' | 'put in line';
  readonly at: Vec;
  readonly sizeMm: number;
  readonly source: string;
}

/** Pieces of one line that lie over each other with different thicknesses. */
export interface ThicknessClash {
  readonly at: Vec;
  readonly takenMm: number;
  readonly leftMm: number;
  readonly source: string;
}

export interface AxisSet {
  /** In the order of their lines: by direction, offset, place. */
  readonly axes: readonly Axis[];
  readonly moved: readonly MovedEnd[];
  readonly clashes: readonly ThicknessClash[];
  /** What was repaired on the way from segments to lines. */
  readonly lines: LineSet;
}

/** Axes that meet at less than this share no end: their bodies run along each other. About 15 degrees, as shape has it for tees. */
const MEET_SIN = 0.25;
/** An end is moved by no more than this share of its line, so that no wall vanishes or doubles. */
const MOVE_SHARE = 0.5;

const thicknessAt = (axis: Axis, u: number): number =>
  (axis.pieces.find((p) => u <= p.b) ?? axis.pieces.at(-1)!).thicknessMm;

/** Where two axes cross, as places along each, with the sine and cosine between them; null when they run too much alongside. */
const crossing = (p: Axis, q: Axis): { up: number; uq: number; sin: number; cos: number } | null => {
  const [d, e] = [p.direction, q.direction];
  const sin = d.x * e.y - d.y * e.x;
  const cos = d.x * e.x + d.y * e.y;
  if (Math.abs(sin) < MEET_SIN) return null;
  const up = (p.v * cos - q.v) / sin;
  return { up, uq: uOf(e, pointAt(d, up, p.v)), sin: Math.abs(sin), cos: Math.abs(cos) };
};

/** How far `u` lies outside the axis; negative inside. */
const outside = (axis: Axis, u: number): number => Math.max(axis.a - u, u - axis.b);

/** Half of what another wall's body takes of this axis, with what drawings miss by. */
const reachOf = (ownMm: number, otherMm: number, sin: number, cos: number): number =>
  (otherMm + ownMm * cos) / (2 * sin) + REPAIR_MM;

interface Near {
  readonly u: number;
  readonly missMm: number;
  /** Half of the other wall's thickness along this axis: where its face is. */
  readonly faceMm: number;
}

/** The crossing to which an end belongs: the nearest within the other wall's body. */
const crossingFor = (axis: Axis, end: 'a' | 'b', others: readonly Axis[]): Near | null => {
  let best: Near | null = null;
  const own = thicknessAt(axis, axis[end]);
  for (const other of others) {
    if (other === axis) continue;
    const c = crossing(axis, other);
    if (!c) continue;
    const otherMm = thicknessAt(other, c.uq);
    const missMm = Math.abs(c.up - axis[end]);
    if (missMm > reachOf(own, otherMm, c.sin, c.cos)) continue;
    if (missMm > MOVE_SHARE * (axis.b - axis.a)) continue;
    if (outside(other, c.uq) > reachOf(otherMm, own, c.sin, c.cos)) continue;
    if (best === null || missMm < best.missMm || (missMm === best.missMm && c.up < best.u)) {
      best = { u: c.up, missMm, faceMm: otherMm / (2 * c.sin) };
    }
  }
  return best;
};

/** All ends are judged on the axes as drawn, then moved together. */
const meetEnds = (axes: readonly Axis[], moved: MovedEnd[]): Axis[] =>
  axes.map((axis) => {
    const ends = { a: axis.a, b: axis.b };
    for (const end of ['a', 'b'] as const) {
      const to = crossingFor(axis, end, axes);
      if (to === null) continue;
      ends[end] = to.u;
      const { source, drawn } = end === 'a' ? axis.pieces[0]! : axis.pieces.at(-1)!;
      // To stop at the other wall's axis or at either of its faces is a way of drawing and no fault.
      if (drawn || to.missMm <= REPAIR_MM || Math.abs(to.missMm - to.faceMm) <= REPAIR_MM) continue;
      const kind = (end === 'a' ? to.u < axis.a : to.u > axis.b) ? 'led on' : 'cut';
      moved.push({ kind, at: pointAt(axis.direction, to.u, axis.v), sizeMm: to.missMm, source });
    }
    const last = axis.pieces.length - 1;
    const pieces = axis.pieces
      .map((p, i) => ({
        ...p,
        a: i === 0 ? ends.a : Math.max(p.a, ends.a),
        b: i === last ? ends.b : Math.min(p.b, ends.b),
      }))
      .filter((p) => p.b > p.a);
    return { ...axis, ...ends, pieces };
  });

const isDrawn = (axis: Axis): boolean => axis.pieces.some((p) => p.drawn);

/** Do two axes of one direction go on as one wall of one thickness, but for a step aside that nobody builds? */
const inOneLine = (p: Axis, q: Axis): boolean => {
  const [first, next] = p.a <= q.a ? [p, q] : [q, p];
  const t = thicknessAt(first, next.a);
  return Math.abs(t - thicknessAt(next, next.a)) <= SAME_POINT_MM && next.a - first.b <= t + REPAIR_MM;
};

/** Puts axes that go on a little out of line onto the line of the longest of them. */
const alignAxes = (axes: readonly Axis[], moved: MovedEnd[]): Axis[] => {
  // An axis is led by one that is longer, or drawn: chains of them end, as the order is strict.
  const rank = inOrder<number>(
    byNumber((i) => (isDrawn(axes[i]!) ? 0 : 1)),
    byNumber((i) => axes[i]!.a - axes[i]!.b),
    byNumber((i) => i),
  );
  const leader = axes.map((_, i) => i);
  axes.forEach((p, i) => {
    for (let j = i + 1; j < axes.length; j++) {
      const q = axes[j]!;
      // Axes come sorted by direction and offset.
      if (q.direction !== p.direction || q.v - p.v > REPAIR_MM) break;
      if (!inOneLine(p, q)) continue;
      if (rank(j, leader[i]!) < 0) leader[i] = j;
      if (rank(i, leader[j]!) < 0) leader[j] = i;
    }
  });
  return axes.map((axis, i) => {
    let k = i;
    while (leader[k] !== k) k = leader[k]!;
    const { v } = axes[k]!;
    const sizeMm = Math.abs(v - axis.v);
    if (k === i || isDrawn(axis) || sizeMm > REPAIR_MM) return axis;
    const at = pointAt(axis.direction, (axis.a + axis.b) / 2, v);
    moved.push({ kind: 'put in line', at, sizeMm, source: axis.pieces[0]!.source });
    return { ...axis, v };
  });
};

/** Cleans axes up. Sorted output; the order of the parts does not matter when they come sorted by place and source. */
export const meetAxes = (parts: readonly AxisPart[]): AxisSet => {
  const lines = buildLines(parts);
  const clashes: ThicknessClash[] = [];
  const drawn = lines.lines.map((line): Axis => {
    const direction = lines.directions[line.direction]!;
    const pieces = piecesOf(line, direction, clashes);
    return { direction, v: line.v, a: pieces[0]!.a, b: pieces.at(-1)!.b, pieces };
  });
  const moved: MovedEnd[] = [];
  const axes = meetEnds(alignAxes(drawn, moved), moved).filter((x) => x.pieces.length > 0);
  return { axes, moved, clashes, lines };
};

/** Places of an axis' two ends. */
export const axisEnds = (axis: Axis): readonly [Vec, Vec] => [
  pointAt(axis.direction, axis.a, axis.v),
  pointAt(axis.direction, axis.b, axis.v),
];

/** Does the axis run on through the point, past it on both sides? */
export const runsThrough = (axis: Axis, p: Vec): boolean =>
  Math.abs(vOf(axis.direction, p) - axis.v) <= SAME_POINT_MM && outside(axis, uOf(axis.direction, p)) < -SAME_POINT_MM;
