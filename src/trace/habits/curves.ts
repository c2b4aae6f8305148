/** Curved axes → the two faces of their walls as concentric arcs, and the body between them in chords. Local mm. */

import { add, distance, leftOf, scale, sub, type Vec } from '../../ground/plane.js';
import type { Ring } from './areas.js';

export interface ArcFaces {
  /** Ends of the outer and the inner face, in the order of the axis; the bulge is the axis' own. */
  readonly faces: readonly (readonly [Vec, Vec])[];
  readonly bulge: number;
  readonly body: Ring;
}

/** Chords of a quarter turn. */
const CHORDS = 24;

/** The centre of an arc from `a` to `b`; bulge = tan(included angle / 4), positive anticlockwise. */
export const centreOf = (a: Vec, b: Vec, bulge: number): Vec => {
  const mid = scale(add(a, b), 0.5);
  return add(mid, scale(leftOf(sub(b, a)), (1 - bulge * bulge) / (4 * bulge)));
};

/** Points on an arc from `a` to `b` inclusive, about CHORDS chords a quarter turn. */
export const chordsOf = (a: Vec, b: Vec, bulge: number): Vec[] => {
  const c = centreOf(a, b, bulge);
  const turn = 4 * Math.atan(bulge);
  const count = Math.max(2, Math.ceil((Math.abs(turn) / (Math.PI / 2)) * CHORDS));
  const from = Math.atan2(a.y - c.y, a.x - c.x);
  const r = distance(a, c);
  return Array.from({ length: count + 1 }, (_, i) => {
    if (i === 0) return a;
    if (i === count) return b;
    const angle = from + (turn * i) / count;
    return { x: c.x + r * Math.cos(angle), y: c.y + r * Math.sin(angle) };
  });
};

/** Null when the arc is too tight for the wall's thickness. */
export const arcFaces = (a: Vec, b: Vec, bulge: number, thicknessMm: number): ArcFaces | null => {
  const c = centreOf(a, b, bulge);
  const r = distance(a, c);
  if (!(r > thicknessMm / 2)) return null;
  const at = (p: Vec, k: number): Vec => add(c, scale(sub(p, c), (r + (k * thicknessMm) / 2) / r));
  const faces = ([1, -1] as const).map((k): readonly [Vec, Vec] => [at(a, k), at(b, k)]);
  const [outer, inner] = faces.map(([p, q]) => chordsOf(p, q, bulge)) as [Vec[], Vec[]];
  const points = [...outer, ...inner.reverse()];
  return { faces, bulge, body: { points, sources: points.map(() => null) } };
};
