/** Walls that are no upright slab: they lean, or have a head that stands out of their faces. By their sections from below; local mm. */

import type { Band } from './bodies.js';
import { thicknessOfPlan } from './planThickness.js';
import { areaOf, componentsOf, difference, grown, intersection, type Region, union, withoutCracks } from './region.js';

export interface Lean {
  readonly fromMm: number;
  readonly toMm: number;
  /** How far the faces run sideways between these levels. */
  readonly byMm: number;
  /** The lowest section of the part that leans. */
  readonly section: Region;
}

/** Faces that run sideways by no more over their height are plumb. *Practice, no source.* */
const PLUMB_MM = 5;
/** A lower part is an edge: the top of a gable with a ledge. Share of the wall's height. */
const LEAN_SHARE = 0.25;
/** A head begins in the upper part of a wall … */
const HEAD_FROM = 0.5;
/** … stands out by more than this … */
const OUT_MM = 20;
/** … and lies against the faces along more than so many times as much as it stands out. */
const ALONG_OUT = 2;
/** Doors up to this width are closed first: what is over them is no head. */
const DOOR_MM = 1600;

/** The highest part that leans: its sections do not lie within each other, and are together thicker than each of them. */
export const leanOf = (bands: readonly Band[]): Lean | null => {
  const heightMm = (bands[bands.length - 1]?.toMm ?? 0) - (bands[0]?.fromMm ?? 0);
  const groups = [...new Set(bands.map((b) => b.group))].map((g) => bands.filter((b) => b.group === g));
  const leans = groups.flatMap((group): Lean[] => {
    if (group.length < 2) return [];
    const whole = thicknessOfPlan(union(...group.map((b) => b.region)));
    const byMm = whole - Math.max(...group.map((b) => thicknessOfPlan(b.region)));
    const [first, last] = [group[0]!, group[group.length - 1]!];
    const isEdge = last.toMm - first.fromMm < LEAN_SHARE * heightMm;
    return byMm > PLUMB_MM && !isEdge ? [{ fromMm: first.fromMm, toMm: last.toMm, byMm, section: first.region }] : [];
  });
  return leans.sort((p, q) => q.toMm - q.fromMm - (p.toMm - p.fromMm))[0] ?? null;
};

/** Does a piece lie along the faces of what is under it, and not behind its ends? */
const liesAlong = (piece: Region, under: Region): boolean => {
  const reach = OUT_MM + 5;
  const alongMm = areaOf(intersection(grown(piece, reach), under)) / (reach - OUT_MM);
  return alongMm > 0 && areaOf(piece) / alongMm < alongMm / ALONG_OUT;
};

/** The first band of a head: a corbel, a nib. Null: none. */
export const headOf = (bands: readonly Band[]): number | null => {
  if (bands.length < 2) return null;
  const base = bands[0]!.fromMm;
  const least = base + HEAD_FROM * (bands[bands.length - 1]!.toMm - base);
  for (let k = 1; k < bands.length; k++) {
    if (bands[k]!.fromMm < least || bands[k]!.group === bands[k - 1]!.group) continue;
    const under = withoutCracks(union(...bands.slice(0, k).map((b) => b.region)), DOOR_MM);
    const out = difference(union(...bands.slice(k).map((b) => b.region)), grown(under, OUT_MM));
    if (componentsOf(out).some((piece) => liesAlong(piece, under))) return k;
  }
  return null;
};
