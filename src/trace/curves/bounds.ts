/** Straight lines that bound the concrete where a curved wall ends: its caps, and the rest of faces at a meeting with a straight wall. */

import { cross, distance, dot, sub, unit, type Vec } from '../../ground/plane.js';
import type { WallCurve, WallStretch } from '../../ground/vocabulary.js';
import { STRAIGHTEN_MM } from '../limits.js';
import { onCircle, TURN } from './circle.js';

/** Lines may have been straightened by this much since they were drawn. */
const SLACK_MM = STRAIGHTEN_MM;

interface Part {
  readonly from: Vec;
  readonly to: Vec;
}

/** A rectangle from `at` along `out` (unit), `half` to either side, from `back` behind to `ahead` before. */
interface Region {
  readonly at: Vec;
  readonly out: Vec;
  readonly half: number;
  readonly back: number;
  readonly ahead: number;
}

const holds = (r: Region, p: Vec): boolean => {
  const d = sub(p, r.at);
  const along = dot(r.out, d);
  return Math.abs(cross(r.out, d)) <= r.half && along >= -r.back && along <= r.ahead;
};

const regionsOfCurve = (c: WallCurve, walls: readonly WallStretch[]): Region[] => {
  if (c.toRad - c.fromRad >= TURN - 1e-9) return [];
  const ends = [
    { angle: c.fromRad, sense: -1, capped: c.startCapped },
    { angle: c.toRad, sense: 1, capped: c.endCapped },
  ];
  return ends.map(({ angle, sense, capped }) => {
    const at = onCircle({ centre: c.centre, radius: c.radiusMm }, angle);
    const out = { x: -Math.sin(angle) * sense, y: Math.cos(angle) * sense };
    if (capped) return { at, out, half: c.thicknessMm / 2 + SLACK_MM, back: SLACK_MM, ahead: c.thicknessMm };
    // As of straight walls: concrete runs on to the far face of what the wall meets.
    const near = walls.filter((w) => distanceTo(w, at) <= c.thicknessMm).map((w) => w.thicknessMm);
    const reach = Math.max(c.thicknessMm, ...near) + SLACK_MM;
    return { at, out, half: c.thicknessMm / 2 + SLACK_MM, back: SLACK_MM, ahead: reach };
  });
};

const distanceTo = (w: WallStretch, p: Vec): number => {
  const u = unit(sub(w.end, w.start));
  const along = dot(u, sub(p, w.start));
  return Math.max(Math.abs(cross(u, sub(p, w.start))) - w.thicknessMm / 2, -along, along - distance(w.start, w.end));
};

const onBand = (c: WallCurve, p: Vec, reachMm: number): boolean =>
  Math.abs(distance(c.centre, p) - c.radiusMm) <= c.thicknessMm / 2 + reachMm;

/** Beyond an end of a straight wall that stands against a curve: faces run on to the curve's near face. */
const regionsOfWall = (w: WallStretch, curves: readonly WallCurve[]): Region[] => {
  const out = unit(sub(w.end, w.start));
  const ends = [
    { at: w.end, out },
    { at: w.start, out: { x: -out.x, y: -out.y } },
  ];
  return ends.flatMap((e) => {
    const near = curves.filter((c) => onBand(c, e.at, 2 * w.thicknessMm)).map((c) => c.thicknessMm);
    if (near.length === 0) return [];
    const reach = 2 * Math.max(w.thicknessMm, ...near);
    return [{ ...e, half: w.thicknessMm / 2 + SLACK_MM, back: SLACK_MM, ahead: reach }];
  });
};

/**
 * Tells of a line that is part of no straight wall whether it bounds the concrete at the end of a curved one, or of a straight one that
 * ends at a curved one. mm in the drawing's axes.
 */
export const boundsOfCurves = (
  curves: readonly WallCurve[],
  walls: readonly WallStretch[],
): ((part: Part) => boolean) => {
  if (curves.length === 0) return () => false;
  const regions = [
    ...curves.flatMap((c) => regionsOfCurve(c, walls)),
    ...walls.flatMap((w) => regionsOfWall(w, curves)),
  ];
  return (part) => regions.some((r) => holds(r, part.from) && holds(r, part.to));
};
