/** Straight walls that go over into a curved one are drawn on or cut so that both end at one point. mm in the drawing's axes. */

import { type Finding, finding } from '../../ground/findings.js';
import { comparePoints } from '../../ground/order.js';
import { cross, distance, dot, sub, unit, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { plainNumber, roundTo } from '../../ground/units.js';
import type { WallCurve, WallStretch } from '../../ground/vocabulary.js';
import { stretchOrder } from '../group.js';
import { REPAIR_MM, STRAIGHTEN_MM } from '../limits.js';
import { onCircle, TURN } from './circle.js';

/** Places leave rounded to this, as those of straight walls do. */
const PLACES = 4;

/** A wall goes over into a curve where both run in one direction within this (radians): at a corner each ends by itself. */
const TANGENT = 0.01;

interface Loose {
  readonly at: Vec;
  /** Unit vector from the centre: square to the curve. */
  readonly square: Vec;
  readonly thicknessMm: number;
}

const looseEnds = (c: WallCurve): Loose[] => {
  if (c.toRad - c.fromRad >= TURN - 1e-9) return [];
  const circle = { centre: c.centre, radius: c.radiusMm };
  const ends = [
    { at: onCircle(circle, c.fromRad), capped: c.startCapped },
    { at: onCircle(circle, c.toRad), capped: c.endCapped },
  ];
  return ends
    .filter((e) => !e.capped)
    .map((e) => ({ at: e.at, square: unit(sub(e.at, c.centre)), thicknessMm: c.thicknessMm }));
};

/** The curve's end on the wall's axis, near this end of the wall and as thick; null when there is none. */
const endFor = (w: WallStretch, end: Vec, ends: readonly Loose[]): Vec | null => {
  const u = unit(sub(w.end, w.start));
  const fits = ends.filter((e) => {
    const off = sub(e.at, end);
    return (
      distance(e.at, end) <= REPAIR_MM &&
      Math.abs(dot(u, e.square)) <= TANGENT &&
      Math.abs(cross(u, off)) <= STRAIGHTEN_MM &&
      Math.abs(e.thicknessMm - w.thicknessMm) <= 2 * STRAIGHTEN_MM
    );
  });
  const near = fits.sort((p, q) => distance(p.at, end) - distance(q.at, end) || comparePoints(p.at, q.at))[0];
  if (!near) return null;
  const along = dot(u, sub(near.at, end));
  return Math.abs(along) <= SAME_POINT_MM ? null : { x: end.x + u.x * along, y: end.y + u.y * along };
};

/** Moves the loose ends of straight walls along their axes to the ends of curved walls within a repair's length, and says so. */
export const snapToCurves = (
  stretches: readonly WallStretch[],
  curves: readonly WallCurve[],
): { readonly stretches: readonly WallStretch[]; readonly findings: readonly Finding[] } => {
  const ends = curves.flatMap(looseEnds);
  const findings: Finding[] = [];
  const moved = (w: WallStretch, end: Vec, other: Vec): Vec => {
    const exact = endFor(w, end, ends);
    if (exact === null) return end;
    const to = { x: roundTo(exact.x, PLACES), y: roundTo(exact.y, PLACES) };
    const gap = distance(other, to) > distance(other, end);
    const size = plainNumber(distance(end, to), 0);
    const code = gap ? 'trace.gap-closed' : 'trace.overrun-cut';
    const text = gap
      ? `A gap of ${size} mm between a straight wall and a curved one was closed.`
      : `A straight wall that runs ${size} mm past the start of a curved one was cut.`;
    findings.push(finding(code, text, { at: [to.x, to.y, 0], subject: w.sources[0] ?? '' }));
    return to;
  };
  const out = stretches.map((w) => {
    const start = w.startCapped ? w.start : moved(w, w.start, w.end);
    const end = w.endCapped ? w.end : moved(w, w.end, w.start);
    return start === w.start && end === w.end ? w : { ...w, start, end };
  });
  return { stretches: findings.length > 0 ? [...out].sort(stretchOrder) : stretches, findings };
};
