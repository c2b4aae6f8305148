/** Openings without concrete over and under them part their wall: it ends at both jambs, where bulkheads close it (rule T6). */

import { type Finding, finding } from '../ground/findings.js';
import { add, dot, scale, sub, type Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { FaceLine, FacePlan, Foundation, LevelBand, WallStretch } from '../ground/vocabulary.js';
import { isGap } from '../ground/voids.js';

/** A gap lies in a stretch whose axis is this near to it. */
const OFF_AXIS_MM = 10;
/** A rest of a stretch shorter than this is none. */
const REST_MM = 1;
const SAME_MM = 50;

interface Gap {
  readonly from: Vec;
  readonly to: Vec;
  readonly thicknessMm: number;
}

const middleOf = ({ from, to }: Pick<Gap, 'from' | 'to'>): Vec => scale(add(from, to), 0.5);
const lengthOf = (v: Vec): number => Math.hypot(v.x, v.y);
const levelIn = (bands: readonly LevelBand[], stationMm: number): number =>
  (bands.find((b) => stationMm <= b.toMm) ?? bands.at(-1))!.levelMm;

/** The gaps of a plan, in world coordinates. */
export const gapsOf = (plan: FacePlan): Gap[] => {
  const walls = new Map(plan.walls.map((w) => [w.id, w]));
  return plan.openings.flatMap((o): Gap[] => {
    const { start, end, lengthMm, arc, base, top, thicknessMm } = walls.get(o.wall)!;
    const middleMm = (o.fromMm + o.toMm) / 2;
    const around = { footingMm: levelIn(base, middleMm), topMm: levelIn(top, middleMm) };
    if (arc || !isGap(o, around)) return [];
    const at = (s: number): Vec => add(start, scale(sub(end, start), s / lengthMm));
    return [{ from: at(o.fromMm), to: at(o.toMm), thicknessMm }];
  });
};

/** The two ends of what lies before and behind a gap on a line from `start` to `end`; null where the gap does not lie in it. */
const restsOf = (start: Vec, end: Vec, gap: Gap, offMostMm: number) => {
  const axis = sub(end, start);
  const lengthMm = lengthOf(axis);
  if (lengthMm === 0) return null;
  const along = scale(axis, 1 / lengthMm);
  const place = (p: Vec) => {
    const d = sub(p, start);
    return { onMm: dot(d, along), offMm: Math.abs(d.x * along.y - d.y * along.x) };
  };
  const [a, b] = [place(gap.from), place(gap.to)];
  if (Math.max(a.offMm, b.offMm) > offMostMm || Math.abs(a.offMm - b.offMm) > OFF_AXIS_MM) return null;
  const [low, high] = [Math.min(a.onMm, b.onMm), Math.max(a.onMm, b.onMm)];
  if (high <= 0 || low >= lengthMm) return null;
  const at = (mm: number): Vec => add(start, scale(along, mm));
  return { before: low > REST_MM ? at(low) : null, behind: lengthMm - high > REST_MM ? at(high) : null };
};

/** A stretch without a gap that lies in it; its new ends are closed. */
const without = (s: WallStretch, gap: Gap): WallStretch[] => {
  const rests = restsOf(s.start, s.end, gap, OFF_AXIS_MM);
  if (!rests) return [s];
  const { before, behind } = rests;
  return [
    ...(before ? [{ ...s, end: before, endCapped: true }] : []),
    ...(behind ? [{ ...s, start: behind, startCapped: true }] : []),
  ];
};

/** A line of the drawing along the faces or the axis, without what runs through the gap. */
const lineWithout = (line: FaceLine, gap: Gap): FaceLine[] => {
  const rests = restsOf(line.from, line.to, gap, gap.thicknessMm / 2 + OFF_AXIS_MM);
  if (!rests) return [line];
  const { before, behind } = rests;
  return [...(before ? [{ ...line, to: before }] : []), ...(behind ? [{ ...line, from: behind }] : [])];
};

/** The foundation with its walls parted at the gaps, which are then no openings any more. */
export const partedAt = (foundation: Foundation, gaps: readonly Gap[]): Foundation => ({
  ...foundation,
  stretches: gaps.reduce<readonly WallStretch[]>(
    (all, gap) => all.flatMap((s) => without(s, gap)),
    foundation.stretches,
  ),
  faceLines: gaps.reduce<readonly FaceLine[]>(
    (all, gap) => all.flatMap((line) => lineWithout(line, gap)),
    foundation.faceLines,
  ),
  openings: foundation.openings.filter(
    ({ from, to }) => !gaps.some((gap) => lengthOf(sub(middleOf(gap), middleOf({ from, to }))) < SAME_MM),
  ),
});

/** What is said of each gap; that two ends face each other there is known, and no question. */
export const gapFindings = (gaps: readonly Gap[], found: readonly Finding[]): Finding[] => {
  const isKnown = ({ code, at }: Finding): boolean =>
    code === 'shape.gap-in-line' &&
    at !== null &&
    gaps.some((gap) => lengthOf(sub(middleOf(gap), { x: at[0], y: at[1] })) < SAME_MM);
  const said = gaps.map((gap) => {
    const { x, y } = middleOf(gap);
    const width = plainNumber(lengthOf(sub(gap.to, gap.from)), 0);
    const message = `An opening of ${width} mm leaves no concrete over and under it: the wall ends at both jambs, each with a bulkhead.`;
    return finding('shape.parted', message, { at: [x, y, 0] });
  });
  return [...found.filter((f) => !isKnown(f)), ...said];
};
