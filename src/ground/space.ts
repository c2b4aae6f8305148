/** Vectors, segments and triangles in space, all in one length unit. */

import type { Vec3 } from './vocabulary.js';

export const ORIGIN: Vec3 = { x: 0, y: 0, z: 0 };

export const add3 = (a: Vec3, b: Vec3): Vec3 => ({ x: a.x + b.x, y: a.y + b.y, z: a.z + b.z });
export const sub3 = (a: Vec3, b: Vec3): Vec3 => ({ x: a.x - b.x, y: a.y - b.y, z: a.z - b.z });
export const scale3 = (a: Vec3, k: number): Vec3 => ({ x: a.x * k, y: a.y * k, z: a.z * k });
export const dot3 = (a: Vec3, b: Vec3): number => a.x * b.x + a.y * b.y + a.z * b.z;
export const cross3 = (a: Vec3, b: Vec3): Vec3 => ({
  x: a.y * b.z - a.z * b.y,
  y: a.z * b.x - a.x * b.z,
  z: a.x * b.y - a.y * b.x,
});
/** Most vectors of buildings lie along an axis: for them the length is at hand, and the same. */
export const length3 = ({ x, y, z }: Vec3): number => {
  if (x === 0) {
    if (y === 0) return Math.abs(z);
    if (z === 0) return Math.abs(y);
  } else if (y === 0 && z === 0) return Math.abs(x);
  return Math.hypot(x, y, z);
};

/** Of length 1; not numbers where the vector has no length. */
export const unit3 = (a: Vec3): Vec3 => scale3(a, 1 / length3(a));

export interface Segment3 {
  readonly from: Vec3;
  readonly to: Vec3;
}

export type Triangle3 = readonly [Vec3, Vec3, Vec3];

const clamp01 = (t: number): number => Math.max(0, Math.min(1, t));

/**
 * Least distance of two segments. After the minimisation of the squared distance over both parameters, clamped to the segments (Ericson, Real-Time
 * Collision Detection, 2005, section 5.1.9; value from memory). Points (segments of no length) are taken.
 */
export const segmentDistance = (a: Segment3, b: Segment3): number => {
  const u = sub3(a.to, a.from);
  const v = sub3(b.to, b.from);
  const w = sub3(a.from, b.from);
  const [uu, vv, uv, uw, vw] = [dot3(u, u), dot3(v, v), dot3(u, v), dot3(u, w), dot3(v, w)];
  const denominator = uu * vv - uv * uv;
  let s = denominator > 1e-12 * uu * vv ? clamp01((uv * vw - vv * uw) / denominator) : 0;
  let t = vv > 0 ? (uv * s + vw) / vv : 0;
  if (t < 0 || t > 1) {
    t = clamp01(t);
    s = uu > 0 ? clamp01((uv * t - uw) / uu) : 0;
  }
  return length3(sub3(add3(w, scale3(u, s)), scale3(v, t)));
};

/** Share of the segment at which it passes through the triangle; null when it does not (or lies in its plane). */
export const passesThrough = ({ from, to }: Segment3, [a, b, c]: Triangle3): number | null => {
  const d = sub3(to, from);
  const e1 = sub3(b, a);
  const e2 = sub3(c, a);
  const p = cross3(d, e2);
  const det = dot3(e1, p);
  if (Math.abs(det) <= 1e-12 * length3(d) * length3(e1) * length3(e2)) return null;
  const w = sub3(from, a);
  const u = dot3(w, p) / det;
  const q = cross3(w, e1);
  const v = dot3(d, q) / det;
  const t = dot3(e2, q) / det;
  return u >= 0 && v >= 0 && u + v <= 1 && t >= 0 && t <= 1 ? t : null;
};

/** Distance of a point to a triangle, by its plane where the foot lies inside, else by its edges. */
const pointToTriangle = (p: Vec3, triangle: Triangle3): number => {
  const [a, b, c] = triangle;
  const n = cross3(sub3(b, a), sub3(c, a));
  const size = length3(n);
  if (size > 0) {
    const off = dot3(sub3(p, a), n) / size;
    const foot = sub3(p, scale3(n, off / size));
    const sides = [
      [a, b],
      [b, c],
      [c, a],
    ] as const;
    if (sides.every(([s, e]) => dot3(cross3(sub3(e, s), sub3(foot, s)), n) >= 0)) return Math.abs(off);
  }
  return Infinity;
};

/** Least distance of a segment to a filled triangle; 0 where it passes through. */
export const segmentToTriangle = (segment: Segment3, triangle: Triangle3): number => {
  if (passesThrough(segment, triangle) !== null) return 0;
  const [a, b, c] = triangle;
  return Math.min(
    segmentDistance(segment, { from: a, to: b }),
    segmentDistance(segment, { from: b, to: c }),
    segmentDistance(segment, { from: c, to: a }),
    pointToTriangle(segment.from, triangle),
    pointToTriangle(segment.to, triangle),
  );
};
