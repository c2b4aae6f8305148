/**
 * The words inside shape. Coordinates are mm from a local origin (the lowest x and y of the stretches), so that a plan far from
 * the drawing's origin is worked on with the same digits as one at the origin.
 *
 * - *direction*: unit vector u of lower x, then lower y, to higher; all parallel walls share one object.
 * - *bar*: straight wall of one thickness on one axis, before corners and junctions are known; it may be cut into several walls.
 * - *joint*: a place where bars meet or one ends: the ends that come there, and the bars that pass.
 */

import { add, cross, dot, leftOf, scale, type Vec } from '../ground/plane.js';

/** Two directions at right angles make a family: `axis` 0 and 1. */
export interface Direction {
  readonly family: number;
  readonly axis: 0 | 1;
  readonly u: Vec;
  /** u turned to the left. */
  readonly n: Vec;
}

/** One stretch of the input, in local coordinates. */
export interface Part {
  readonly start: Vec;
  readonly end: Vec;
  readonly thicknessMm: number;
  readonly sources: readonly string[];
}

export interface Bar {
  readonly direction: Direction;
  /** Axis: the points p with dot(p, n) = offsetMm. */
  readonly offsetMm: number;
  /** Both ends, measured along u: dot(p, u). */
  readonly loMm: number;
  readonly hiMm: number;
  readonly thicknessMm: number;
  readonly loCapped: boolean;
  readonly hiCapped: boolean;
  readonly parts: readonly Part[];
}

export type BarEnd = 'lo' | 'hi';

export interface EndAt {
  /** Place of the bar in the list of bars. */
  readonly bar: number;
  readonly end: BarEnd;
}

export interface Joint {
  readonly ends: readonly EndAt[];
  /** Bars that run on through the joint. */
  readonly passes: readonly number[];
}

export const bySense = (end: BarEnd): 1 | -1 => (end === 'hi' ? 1 : -1);

/** End of the bar along its direction, mm. */
export const endOf = (bar: Bar, end: BarEnd): number => (end === 'lo' ? bar.loMm : bar.hiMm);

/** The point of a bar's axis at `alongMm` (measured like loMm), moved `leftMm` to the left. */
export const pointOf = (bar: Bar, alongMm: number, leftMm = 0): Vec =>
  add(scale(bar.direction.u, alongMm), scale(bar.direction.n, bar.offsetMm + leftMm));

export const lengthOf = (bar: Bar): number => bar.hiMm - bar.loMm;

export const isParallel = (a: Direction, b: Direction): boolean => a.family === b.family && a.axis === b.axis;

/** Unit vectors u and n, exact for the drawing's own axes; u leads to higher x, or to higher y where x stays the same. */
export const makeDirection = (family: number, axis: 0 | 1, angleRad: number): Direction => {
  const along = { x: Math.cos(angleRad), y: Math.sin(angleRad) };
  const raw = axis === 0 ? along : leftOf(along);
  const upright = Math.abs(raw.x) <= 1e-9;
  const turned = upright ? raw.y < 0 : raw.x < 0;
  const u = { x: (turned ? -raw.x : raw.x) + 0, y: (turned ? -raw.y : raw.y) + 0 };
  return { family, axis, u, n: leftOf(u) };
};

/** How two bars that are not parallel cross. */
export interface Crossing {
  readonly at: Vec;
  /** Place of the crossing along each bar. */
  readonly along: readonly [number, number];
  /** Sine and cosine of the angle between the two lines, both 0 to 1. */
  readonly sin: number;
  readonly cos: number;
  /** Half of the length that the two bodies share, along each bar: (t_other + t_own cos) / (2 sin). */
  readonly reach: readonly [number, number];
}

/** Sine of the angle from one direction to the other, signed; 0 where they count as parallel. */
const sinBetween = (a: Direction, b: Direction): number => {
  const signed = isParallel(a, b) ? 0 : cross(a.u, b.u);
  return Math.abs(signed) < 1e-9 ? 0 : signed;
};

/** Place along `a` at which the axis of `b` crosses it, or null when they are parallel. */
export const crossingPlace = (a: Bar, b: Bar): number | null => {
  if (sinBetween(a.direction, b.direction) === 0) return null;
  // Of the points u s + n offset of a's axis, the one whose distance along b's normal is b's offset.
  return (b.offsetMm - a.offsetMm * dot(a.direction.n, b.direction.n)) / dot(a.direction.u, b.direction.n);
};

export const crossingOf = (a: Bar, b: Bar): Crossing | null => {
  const along = crossingPlace(a, b);
  if (along === null) return null;
  const sin = Math.abs(sinBetween(a.direction, b.direction));
  const cos = Math.abs(dot(a.direction.u, b.direction.u));
  const at = pointOf(a, along);
  return {
    at,
    along: [along, dot(at, b.direction.u)],
    sin,
    cos,
    reach: [(b.thicknessMm + a.thicknessMm * cos) / (2 * sin), (a.thicknessMm + b.thicknessMm * cos) / (2 * sin)],
  };
};

/** A place of the drawing for a message: x, y rounded to 1 mm would lose nothing that a person looks for. */
export const placeOf = (p: Vec, origin: Vec): readonly [number, number, number] => [
  Math.round((p.x + origin.x) * 1000) / 1000 + 0,
  Math.round((p.y + origin.y) * 1000) / 1000 + 0,
  0,
];
