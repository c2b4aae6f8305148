/** Pull along the forms per metre of height at corners, junctions, free ends and along curves, in words; clamps/pulls.ts has the formulas. */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { Run, RunEnd } from '../ground/vocabulary.js';
import { endPull, type HeldReactions } from './clamps/pulls.js';
import { type Context, placeOn } from './context.js';
import { pressureFrom, type WallLoad } from './ratings.js';

interface Pull {
  readonly wall: string;
  /** 'at node N1', or along what. */
  readonly place: string;
  readonly at: readonly [number, number, number] | null;
  /** kN per m of height in the two faces: outer and inner at a corner, left and right elsewhere. */
  readonly pulls: readonly [number, number];
  readonly where: string;
}

const EITHER_FACE = 'left or right face at most, both together as much';

const curvePull = (ctx: Context, run: Run, load: WallLoad): Pull | null => {
  if (!ctx.walls.get(run.wall)?.arc) return null;
  const all = (pressureFrom(load, load.footingMm) * run.thicknessMm) / 1000;
  const at = placeOn(ctx, run.wall, null, (run.start.leftMm + run.end.leftMm) / 2, load.footingMm);
  return { wall: run.wall, at, place: 'along its arc', pulls: [all, all], where: EITHER_FACE };
};

const wordsOf = (end: RunEnd): string => {
  if (end.kind === 'corner') return 'outer and inner face';
  return end.kind === 'tangent' ? EITHER_FACE : 'left and right face';
};

const pullAt = (ctx: Context, run: Run, end: RunEnd, held: HeldReactions, load: WallLoad): Pull | null => {
  const strips = endPull(run, end, held);
  if (!strips) return null;
  const p = pressureFrom(load, load.footingMm) / 1000;
  const pair = [p * strips.leftMm, p * strips.rightMm] as const;
  const at = placeOn(ctx, run.wall, null, (end.leftMm + end.rightMm) / 2, load.footingMm);
  const outerFirst = end.kind === 'corner' && end.inner === 'left';
  const pulls = outerFirst ? ([pair[1], pair[0]] as const) : pair;
  return { wall: run.wall, place: `at node ${end.node}`, at, pulls, where: wordsOf(end) };
};

/** One note for each end and each curve that pulls; where the layout has no clamps, that they are not checked, with the largest pull. */
export const inPlaneFindings = (ctx: Context, loads: ReadonlyMap<string, WallLoad>, held: HeldReactions): Finding[] => {
  const pulls: Pull[] = [];
  // Where no forms stand nothing pulls.
  const formed = new Set(ctx.runOfPiece.values());
  for (const run of ctx.plan.runs.filter((r) => formed.has(r.id))) {
    const load = loads.get(run.id);
    if (!load) continue;
    for (const end of [run.start, run.end]) {
      const pull = pullAt(ctx, run, end, held, load);
      if (pull) pulls.push(pull);
    }
    const ring = curvePull(ctx, run, load);
    if (ring) pulls.push(ring);
  }
  if (pulls.length === 0) return [];
  const notes = pulls.map(({ wall, place, at, pulls: [a, b], where }) => {
    const message = `Wall ${wall} ${place}: the forms pull along the wall with ${plainNumber(a, 1)} and ${plainNumber(b, 1)} kN per m of height (${where}) at the foot.`;
    return finding('check.in-plane', message, { at, subject: wall });
  });
  if ((ctx.catalogue.clamps ?? []).length > 0) return notes;
  const most = pulls.reduce((a, b) => (Math.max(...b.pulls) > Math.max(...a.pulls) ? b : a));
  const message = `The catalogue has no clamps: the pull along the forms, up to ${plainNumber(Math.max(...most.pulls), 1)} kN per m of height in wall ${most.wall} ${most.place}, is not checked.`;
  return [finding('check.clamps-not-checked', message, { at: most.at, subject: most.wall }), ...notes];
};
