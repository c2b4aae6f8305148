/** Curves as vertices with bulges where that is exact, else as short chords. */

import type { Point3 } from './matrix.js';

/** A vertex in the entity's own coordinates. */
export interface Knot extends Point3 {
  readonly bulge: number;
}

export const knot = (x: number, y: number, z = 0, bulge = 0): Knot => ({ x, y, z, bulge });

/** Chords per full turn where a curve must be flattened: they leave it by at most 0.024 % of its radius. */
export const CHORDS_PER_TURN = 144;
const STEP = (2 * Math.PI) / CHORDS_PER_TURN;
/** Chords per span of a spline between two knots. */
const CHORDS_PER_SPAN = 16;
/** More control points than any drawn curve has. *Practice, no source.* */
const MOST_POINTS = 20_000;

const TURN = 2 * Math.PI;

/** The angle from `start` anticlockwise to `end`, in (0, 2π]: equal angles are the whole turn. */
export const sweep = (start: number, end: number): number => {
  const d = (end - start) % TURN;
  return d <= 1e-12 ? d + TURN : d;
};

/** An arc from angle `start` through `by` radians (negative: clockwise); pieces of at most half a turn, so that bulges stay within ±1. */
export const arcKnots = (centre: Point3, radius: number, start: number, by: number): Knot[] => {
  const pieces = Math.abs(by) > Math.PI * (1 + 1e-12) ? 2 : 1;
  const bulge = Math.tan(by / pieces / 4);
  return Array.from({ length: pieces + 1 }, (_, i) => {
    const angle = start + (by * i) / pieces;
    const last = i === pieces;
    return knot(centre.x + radius * Math.cos(angle), centre.y + radius * Math.sin(angle), centre.z, last ? 0 : bulge);
  });
};

/** A whole circle as two half turns. */
export const circleKnots = (centre: Point3, radius: number): Knot[] => [
  knot(centre.x + radius, centre.y, centre.z, 1),
  knot(centre.x - radius, centre.y, centre.z, 1),
];

/**
 * Part of an ellipse by its parameter, from `start` through `by` radians, as chords: centre + major·cos t + minor·sin t. A whole turn leaves
 * out the last point, which is the first.
 */
export const ellipseKnots = (centre: Point3, major: Point3, minor: Point3, start: number, by: number): Knot[] => {
  const n = Math.max(2, Math.ceil(Math.abs(by) / STEP - 1e-9));
  const whole = Math.abs(by) >= TURN - 1e-9;
  return Array.from({ length: whole ? n : n + 1 }, (_, i) => {
    const t = start + (by * i) / n;
    const c = Math.cos(t);
    const s = Math.sin(t);
    return knot(
      centre.x + major.x * c + minor.x * s,
      centre.y + major.y * c + minor.y * s,
      centre.z + major.z * c + minor.z * s,
    );
  });
};

/** Points on the arc from a to b with this bulge, without a and with b. Centre from the chord: DXF reference, bulge = tan(angle / 4). */
const chordsOf = (a: Knot, b: Knot): Knot[] => {
  const angle = 4 * Math.atan(a.bulge);
  const n = Math.max(1, Math.ceil(Math.abs(angle) / STEP - 1e-9));
  if (a.bulge === 0 || n === 1) return [{ ...b, bulge: 0 }];
  const k = (1 - a.bulge * a.bulge) / (4 * a.bulge);
  const centreX = (a.x + b.x) / 2 - k * (b.y - a.y);
  const centreY = (a.y + b.y) / 2 + k * (b.x - a.x);
  const knots: Knot[] = [];
  for (let i = 1; i < n; i++) {
    const t = (angle * i) / n;
    const dx = a.x - centreX;
    const dy = a.y - centreY;
    const z = a.z + ((b.z - a.z) * i) / n;
    knots.push(knot(centreX + dx * Math.cos(t) - dy * Math.sin(t), centreY + dx * Math.sin(t) + dy * Math.cos(t), z));
  }
  knots.push({ ...b, bulge: 0 });
  return knots;
};

/** How many vertices the outline has once its arcs are chords, at most. */
export const flattenedCount = (knots: readonly Knot[]): number =>
  knots.reduce((n, v) => n + 1 + (v.bulge === 0 ? 0 : Math.ceil((4 * Math.abs(Math.atan(v.bulge))) / STEP)), 0);

export const hasBulge = (knots: readonly Knot[]): boolean => knots.some((v) => v.bulge !== 0);

/** The same outline with every arc as chords. */
export const flattened = (knots: readonly Knot[], closed: boolean): Knot[] => {
  const first = knots[0];
  if (!first) return [];
  const flat: Knot[] = [{ ...first, bulge: 0 }];
  for (let i = 1; i < knots.length; i++) flat.push(...chordsOf(knots[i - 1]!, knots[i]!));
  if (closed) flat.push(...chordsOf(knots[knots.length - 1]!, first).slice(0, -1));
  return flat;
};

export interface SplineData {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly points: readonly Point3[];
  /** One a point, or empty for all 1. */
  readonly weights: readonly number[];
}

/** The point at t in span k, by de Boor's algorithm in homogeneous coordinates. `room` has four numbers for each of degree + 1 points. */
const splinePoint = (spline: SplineData, k: number, t: number, room: Float64Array): Knot => {
  const { degree, knots, points, weights } = spline;
  for (let j = 0; j <= degree; j++) {
    const i = j + k - degree;
    const { x, y, z } = points[i]!;
    const w = weights[i] ?? 1;
    room[4 * j] = x * w;
    room[4 * j + 1] = y * w;
    room[4 * j + 2] = z * w;
    room[4 * j + 3] = w;
  }
  for (let r = 1; r <= degree; r++) {
    for (let j = degree; j >= r; j--) {
      const low = knots[j + k - degree]!;
      const span = knots[j + 1 + k - r]! - low;
      const a = span === 0 ? 0 : (t - low) / span;
      for (let c = 4 * j; c < 4 * j + 4; c++) room[c] = (1 - a) * room[c - 4]! + a * room[c]!;
    }
  }
  const at = 4 * degree;
  const w = room[at + 3]!;
  return knot(room[at]! / w, room[at + 1]! / w, room[at + 2]! / w);
};

/** A B-spline as chords, or null where its numbers do not make one (too few points, knots that fall or do not fit, weights not positive). */
export const splineKnots = (spline: SplineData): Knot[] | null => {
  const { degree, knots, points, weights } = spline;
  if (!Number.isInteger(degree) || degree < 1 || degree > 25 || points.length <= degree) return null;
  if (points.length > MOST_POINTS) return null;
  if (knots.length !== points.length + degree + 1) return null;
  if (weights.length !== 0 && weights.length !== points.length) return null;
  if (weights.some((w) => w <= 0) || knots.some((t, i) => i > 0 && t < knots[i - 1]!)) return null;
  const room = new Float64Array(4 * (degree + 1));
  const chords = degree === 1 ? 1 : CHORDS_PER_SPAN;
  const path: Knot[] = [];
  for (let k = degree; k < points.length; k++) {
    const from = knots[k]!;
    const to = knots[k + 1]!;
    if (to <= from) continue;
    if (path.length === 0) path.push(splinePoint(spline, k, from, room));
    for (let i = 1; i <= chords; i++) path.push(splinePoint(spline, k, from + ((to - from) * i) / chords, room));
  }
  return path.length === 0 ? null : path;
};
