/**
 * Areas that overlap and butt → the lines that bound all of them together. A side of an area is cut where other sides meet it; a piece
 * stays when there is concrete on one side of it and none on the other. So seams between areas that butt fall away, and each
 * piece keeps its source. Nothing is moved: what stays lies where it was drawn.
 */

import { byText, comparePoints, inOrder } from '../../ground/order.js';
import { add, cross, distance, dot, leftOf, scale, sub, unit, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { LINES_MOST, NO_LENGTH_MM, REPAIR_MM } from '../limits.js';
import { type Area, areaBook, type Box, BoxBook, boxOf, filledIn } from './areas.js';

export interface OutlinePiece {
  readonly a: Vec;
  readonly b: Vec;
  readonly source: string;
  readonly layer: string;
}

export interface Outline {
  /** Each from its lower end (x, then y), sorted by ends and source. */
  readonly pieces: readonly OutlinePiece[];
  /** Middles of the cracks between areas that stop short of each other and were taken as one, with their widths. */
  readonly cracks: readonly { readonly at: Vec; readonly widthMm: number }[];
}

/** Where concrete is looked for beside a line: nearer than two points can be told apart. */
const BESIDE_MM = SAME_POINT_MM / 2;
/** Work that is done at most: sides and areas that are looked at. A plan of 4000 walls takes some ten million. */
const LOOKS_MOST = 100_000_000;
/** Sides this little out of parallel bound a crack. */
const CRACK_SIN = 0.01;

/** `source` null: it bounds the concrete, but its line is there already. */
interface AreaSide extends Omit<OutlinePiece, 'source'> {
  readonly source: string | null;
  readonly box: Box;
}

const sidesOf = (areas: readonly Area[]): AreaSide[] =>
  areas.flatMap((area) =>
    area.rings.flatMap(({ points, sources }) =>
      points.flatMap((p, i): AreaSide[] => {
        const q = points[(i + 1) % points.length]!;
        const source = sources[i]!;
        if (distance(p, q) < NO_LENGTH_MM) return [];
        const [a, b] = comparePoints(p, q) <= 0 ? [p, q] : [q, p];
        return [{ a, b, source, layer: area.layer, box: boxOf([a, b]) }];
      }),
    ),
  );

const grown = (b: Box, mm: number): Box => ({ x0: b.x0 - mm, y0: b.y0 - mm, x1: b.x1 + mm, y1: b.y1 + mm });

/** Distances along `side` from its start at which others end on it, cross it, or end beside it. */
const cutsOf = (side: AreaSide, near: readonly AreaSide[]): number[] => {
  const u = unit(sub(side.b, side.a));
  const n = leftOf(u);
  const lengthMm = distance(side.a, side.b);
  const cuts = [0, lengthMm];
  for (const other of near) {
    if (other === side) continue;
    const [p, q] = [sub(other.a, side.a), sub(other.b, side.a)];
    const [op, oq] = [dot(p, n), dot(q, n)];
    const parallel = Math.abs(cross(u, unit(sub(other.b, other.a)))) < CRACK_SIN;
    for (const [off, end] of [
      [op, p],
      [oq, q],
    ] as const) {
      if (Math.abs(off) <= (parallel ? REPAIR_MM + SAME_POINT_MM : SAME_POINT_MM)) cuts.push(dot(end, u));
    }
    if (!parallel && op * oq < 0) cuts.push(dot(add(p, scale(sub(q, p), op / (op - oq))), u));
  }
  const sorted = cuts.filter((c) => c >= 0 && c <= lengthMm).sort((x, y) => x - y);
  return sorted.filter((c, i) => i === 0 || c - sorted[i - 1]! > 1e-6);
};

/** Width of the crack between `p`, whose air lies towards `out`, and a parallel side that has concrete behind it; null if there is none. */
const crackAt = (p: Vec, out: Vec, near: readonly AreaSide[], filled: (p: Vec) => boolean): number | null => {
  let width: number | null = null;
  for (const other of near) {
    const v = unit(sub(other.b, other.a));
    if (Math.abs(dot(v, out)) > CRACK_SIN) continue;
    const along = dot(sub(p, other.a), v);
    const off = dot(sub(other.a, p), out);
    if (off <= BESIDE_MM || off > REPAIR_MM || along < 0 || along > distance(other.a, other.b)) continue;
    if (filled(add(p, scale(out, off + BESIDE_MM))) && (width === null || off < width)) width = off;
  }
  return width;
};

const round = (p: Vec): string => `${Math.round(p.x * 10)} ${Math.round(p.y * 10)}`;

/** The lines that bound the areas together; cracks up to REPAIR_MM between them are closed. Null: more than tracing works through. */
export const outlineOf = (areas: readonly Area[]): Outline | null => {
  const sides = sidesOf(areas);
  if (sides.length > 4 * LINES_MOST) return null;
  const concrete = areaBook(areas);
  const filled = filledIn(concrete);
  const book = new BoxBook(sides, (s) => s.box);
  const pieces = new Map<string, OutlinePiece>();
  const cracks = new Map<string, { at: Vec; widthMm: number }>();
  for (const side of sides.sort(byText((s) => s.source ?? ''))) {
    const { source } = side;
    if (source === null) continue;
    const near = book.near(grown(side.box, REPAIR_MM + SAME_POINT_MM));
    if (book.looks + concrete.looks > LOOKS_MOST) return null;
    const u = unit(sub(side.b, side.a));
    const n = leftOf(u);
    const cuts = cutsOf(side, near);
    for (let i = 0; i + 1 < cuts.length; i++) {
      const [from, to] = [cuts[i]!, cuts[i + 1]!];
      const mid = add(side.a, scale(u, (from + to) / 2));
      const left = filled(add(mid, scale(n, BESIDE_MM)));
      if (left === filled(add(mid, scale(n, -BESIDE_MM)))) continue;
      const widthMm = crackAt(mid, scale(n, left ? -1 : 1), near, filled);
      if (widthMm !== null) {
        const at = add(mid, scale(n, (left ? -widthMm : widthMm) / 2));
        if (widthMm > SAME_POINT_MM) cracks.set(round(at), { at, widthMm });
        continue;
      }
      const a = i === 0 ? side.a : add(side.a, scale(u, from));
      const b = i + 2 === cuts.length ? side.b : add(side.a, scale(u, to));
      const key = `${round(a)} ${round(b)}`;
      if (!pieces.has(key)) pieces.set(key, { a, b, source, layer: side.layer });
    }
  }
  return {
    pieces: [...pieces.values()].sort(
      inOrder<OutlinePiece>(
        (p, q) => comparePoints(p.a, q.a),
        (p, q) => comparePoints(p.b, q.b),
        byText((p) => p.source),
      ),
    ),
    cracks: [...cracks.values()].sort((p, q) => comparePoints(p.at, q.at)),
  };
};
