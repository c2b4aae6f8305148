/** What stands at the ends of a strip between two arcs: linework that closes it, a straight wall that goes on, or one that it runs into. */

import { cross, distance, dot, sub, unit, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { type Interval, totalLength, union } from '../intervals.js';
import { REPAIR_MM } from '../limits.js';
import { angleAt, endsOf, isFull, onCircle, TURN, turned } from './circle.js';
import type { Arc } from './merge.js';
import { rayTo, type Strip } from './strips.js';

/** A straight wall in local mm. */
export interface Straight {
  readonly start: Vec;
  readonly end: Vec;
  readonly thicknessMm: number;
}

export interface StripEnd {
  /** How far the one face runs on beyond the other along the axis. */
  readonly beyondMm: number;
  readonly capped: boolean;
  /** The straight wall whose two faces go on from here (index), or null. */
  readonly goesOn: number | null;
  /** The straight wall whose near face both arcs meet, stop short of or run past (index), or null. */
  readonly runsInto: number | null;
  /** By how much an arc stops short of that face (negative: runs past it), the farther one of the two; 0 when there is no such wall. */
  readonly shortMm: number;
  /** Angle about the axis' centre at which the axis ends. */
  readonly angle: number;
}

/** Share of the thickness that linework has to cross at an end for the end to be closed; as of straight walls. */
const CAP_SHARE = 0.9;
/** How far a face may lie off the straight one that it goes on as. */
const ON_FACE_MM = 3;

/** The end of the arc on this side of the strip, if it lies within `mostMm` beyond the strip's end; else the point on the ray. */
const faceEnd = (arc: Arc, strip: Strip, side: 0 | 1, mostMm: number): { at: Vec; beyondMm: number } => {
  const angle = side === 0 ? strip.from : strip.from + strip.by;
  const reach = rayTo(strip.axis.centre, angle, arc) ?? arc.radius;
  const onRay = onCircle({ centre: strip.axis.centre, radius: reach }, angle);
  if (isFull(arc)) return { at: onRay, beyondMm: Infinity };
  const end = endsOf(arc)[side];
  const by =
    turned((side === 0 ? angle - angleAt(strip.axis.centre, end) : angleAt(strip.axis.centre, end) - angle) + 1e-3) -
    1e-3;
  const beyondMm = Math.max(0, by * strip.axis.radius);
  return beyondMm <= mostMm ? { at: end, beyondMm } : { at: onRay, beyondMm: Infinity };
};

/** Does linework cross from `low` to `high`? */
const closes = (low: Vec, high: Vec, lines: readonly { readonly a: Vec; readonly b: Vec }[]): boolean => {
  const u = unit(sub(high, low));
  const whole = distance(low, high);
  const parts: Interval[] = [];
  for (const { a, b } of lines) {
    const p = sub(a, low);
    const q = sub(b, low);
    if (Math.abs(cross(u, p)) > SAME_POINT_MM || Math.abs(cross(u, q)) > SAME_POINT_MM) continue;
    const t = [dot(u, p), dot(u, q)];
    const part = { a: Math.max(0, Math.min(...t)), b: Math.min(whole, Math.max(...t)) };
    if (part.b > part.a) parts.push(part);
  }
  return totalLength(union(parts)) >= CAP_SHARE * whole;
};

/** Place of a point in a straight wall's frame: along it beyond either end (0 within), and to its left. */
const inFrameOf = (w: Straight, p: Vec): { beyondMm: number; leftMm: number } => {
  const u = unit(sub(w.end, w.start));
  const d = sub(p, w.start);
  const along = dot(u, d);
  return { beyondMm: Math.max(0, -along, along - distance(w.start, w.end)), leftMm: cross(u, d) };
};

const goesOnAs = (low: Vec, high: Vec, thicknessMm: number, walls: readonly Straight[]): number | null => {
  for (const [i, w] of walls.entries()) {
    const [p, q] = [inFrameOf(w, low), inFrameOf(w, high)];
    const reach = 2 * Math.max(thicknessMm, w.thicknessMm);
    if (p.beyondMm > reach || q.beyondMm > reach || Math.min(p.beyondMm, q.beyondMm) === Infinity) continue;
    const half = w.thicknessMm / 2;
    const faces = p.leftMm * q.leftMm < 0;
    if (faces && [p, q].every((e) => Math.abs(Math.abs(e.leftMm) - half) <= ON_FACE_MM)) return i;
  }
  return null;
};

/**
 * The wall into which the arcs run: both end at its near face, short of it by a repair's length at most, or within its thickness and a repair's length. Which
 * face is near tells a point of the axis some way back.
 */
const runsIntoWall = (
  low: Vec,
  high: Vec,
  back: Vec,
  walls: readonly Straight[],
): { wall: number; sense: 1 | -1; shortMm: number } | null => {
  for (const [wall, w] of walls.entries()) {
    const sense = inFrameOf(w, back).leftMm < 0 ? -1 : 1;
    const ends = [low, high].map((p) => inFrameOf(w, p));
    const reach = w.thicknessMm + REPAIR_MM;
    if (ends.some((e) => e.beyondMm > reach)) continue;
    const short = ends.map((e) => sense * e.leftMm - w.thicknessMm / 2);
    if (short.some((x) => x > REPAIR_MM || x < -w.thicknessMm - REPAIR_MM)) continue;
    // An axis that comes from inside the wall does not run into it.
    if (Math.abs(inFrameOf(w, back).leftMm) <= w.thicknessMm / 2) continue;
    return { wall, sense, shortMm: Math.abs(short[0]!) >= Math.abs(short[1]!) ? short[0]! : short[1]! };
  }
  return null;
};

/** The angle at which the axis meets a wall's face, within reach of the end; null when it does not. */
const meetsFace = (strip: Strip, angle: number, w: Straight, side: 1 | -1): number | null => {
  const u = unit(sub(w.end, w.start));
  const { centre, radius } = strip.axis;
  // The circle's points at the face's distance from the wall's axis: left · (centre + r·(cos, sin) - start) = side · half.
  const toCentre = cross(u, sub(centre, w.start));
  const sin = (side * (w.thicknessMm / 2) - toCentre) / radius;
  if (Math.abs(sin) > 1) return null;
  const along = Math.atan2(u.y, u.x);
  const off = (a: number) => {
    const d = turned(a - angle);
    return d > Math.PI ? d - TURN : d;
  };
  const both = [along + Math.asin(sin), along + Math.PI - Math.asin(sin)].map(off);
  const best = Math.abs(both[0]!) <= Math.abs(both[1]!) ? both[0]! : both[1]!;
  const mostMm = 2 * Math.max(strip.thicknessMm, w.thicknessMm) + REPAIR_MM;
  return Math.abs(best) * radius <= mostMm ? angle + best : null;
};

/** One end of a strip; side 0 is where its angles begin. */
export const endOf = (
  arcs: readonly Arc[],
  strip: Strip,
  side: 0 | 1,
  lines: readonly { readonly a: Vec; readonly b: Vec }[],
  walls: readonly Straight[],
): StripEnd => {
  const angle = side === 0 ? strip.from : strip.from + strip.by;
  const mostMm = 2 * strip.thicknessMm;
  const low = faceEnd(arcs[strip.low]!, strip, side, mostMm);
  const high = faceEnd(arcs[strip.high]!, strip, side, mostMm);
  const goesOn = goesOnAs(low.at, high.at, strip.thicknessMm, walls);
  const inward = side === 0 ? 1 : -1;
  const backAngle =
    angle + (inward * Math.min(2 * strip.thicknessMm, (strip.by * strip.axis.radius) / 2)) / strip.axis.radius;
  const into = goesOn === null ? runsIntoWall(low.at, high.at, onCircle(strip.axis, backAngle), walls) : null;
  const met = into && meetsFace(strip, angle, walls[into.wall]!, into.sense);
  return {
    beyondMm: Math.max(...[low.beyondMm, high.beyondMm].filter((x) => x !== Infinity), 0),
    capped: closes(low.at, high.at, lines),
    goesOn,
    runsInto: into && met !== null ? into.wall : null,
    shortMm: into && met !== null ? into.shortMm : 0,
    angle: met ?? angle,
  };
};
