/**
 * Pull along the forms per metre of height, which clamps carry: at corners, junctions and free ends.
 *
 * Corner turning by d: with S_A and S_B what the held edges of the two outer lines carry, N_B = (S_A + S_B cos d) / sin d in B's outer line and
 * the rest, p t_B - N_B, in its inner line; tee: p t / (2 sin q) in each face of the stem; free end: p t / 2 in each face; jog of j: p j in the face that stands out. Statics of the
 * corner, cut across the wall. A corner that turns by less than 45 degrees holds no edge: there S is 0 and the inner line has it all. The layout has no clamps, so the pulls are reported and not checked.
 */

import { holdsEdge } from '../ground/cornerAngles.js';
import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { Run, RunEnd } from '../ground/vocabulary.js';
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

/** Largest reaction of a held edge, mm of strip, by vertex and wall: '|' between them. */
export type HeldReactions = ReadonlyMap<string, number>;

const cornerPull = (
  { wall, thicknessMm }: Run,
  end: RunEnd & { kind: 'corner' },
  held: HeldReactions,
  load: WallLoad,
): Omit<Pull, 'wall' | 'at'> | null => {
  const outer = end.inner === 'left' ? end.rightVertex : end.leftVertex;
  const isHeld = holdsEdge(end.deflectionDeg);
  const own = isHeld ? held.get(`${outer}|${wall}`) : 0;
  const other = isHeld ? held.get(`${outer}|${end.other}`) : 0;
  if (own === undefined || other === undefined) return null;
  const d = (end.deflectionDeg * Math.PI) / 180;
  const p = pressureFrom(load, load.footingMm);
  const strip = (other + own * Math.cos(d)) / Math.sin(d);
  const pulls = [(p * strip) / 1000, (p * (thicknessMm - strip)) / 1000] as const;
  return { place: `at node ${end.node}`, pulls, where: 'outer and inner face' };
};

/** The return of a jog is pushed along the wall; the line of the face that stands out pulls it back. */
const jogPull = (end: RunEnd & { kind: 'jog' }, load: WallLoad): Omit<Pull, 'wall' | 'at'> | null => {
  const p = pressureFrom(load, load.footingMm);
  const [left, right] = [end.leftOutMm, end.rightOutMm].map((out) => (p * Math.max(0, out)) / 1000) as [number, number];
  return left + right > 0 ? { place: `at node ${end.node}`, pulls: [left, right], where: 'left and right face' } : null;
};

const EITHER_FACE = 'left or right face at most, both together as much';

/**
 * Along a curved wall the two faces together pull with p t, as equilibrium of a sector of the concrete asks (its own pressure pushes its two ends apart with
 * that); how they share it depends on their joints, so either may have it all.
 */
const curvePull = (ctx: Context, run: Run, load: WallLoad): Pull | null => {
  if (!ctx.walls.get(run.wall)?.arc) return null;
  const all = (pressureFrom(load, load.footingMm) * run.thicknessMm) / 1000;
  const at = placeOn(ctx, run.wall, null, (run.start.leftMm + run.end.leftMm) / 2, load.footingMm);
  return {
    wall: run.wall,
    at,
    place: 'along its arc',
    pulls: [all, all],
    where: EITHER_FACE,
  };
};

/** What the curved wall pulls with at its end goes on in the straight one. */
const tangentPull = (run: Run, end: RunEnd & { kind: 'tangent' }, load: WallLoad): Omit<Pull, 'wall' | 'at'> => {
  const all = (pressureFrom(load, load.footingMm) * run.thicknessMm) / 1000;
  return { place: `at node ${end.node}`, pulls: [all, all], where: EITHER_FACE };
};

const endPull = (run: Run, end: RunEnd, held: HeldReactions, load: WallLoad): Omit<Pull, 'wall' | 'at'> | null => {
  if (end.kind === 'corner') return cornerPull(run, end, held, load);
  // At a step both sides end in joints that nothing pulls along the wall.
  if (end.kind === 'open' || end.kind === 'step' || end.kind === 'ring') return null;
  if (end.kind === 'tangent') return tangentPull(run, end, load);
  if (end.kind === 'jog') return jogPull(end, load);
  const sin = end.kind === 'stem' ? Math.sin((end.angleDeg * Math.PI) / 180) : 1;
  const half = (pressureFrom(load, load.footingMm) * run.thicknessMm) / 2 / sin / 1000;
  return { place: `at node ${end.node}`, pulls: [half, half], where: 'left and right face' };
};

export const inPlaneFindings = (ctx: Context, loads: ReadonlyMap<string, WallLoad>, held: HeldReactions): Finding[] => {
  const pulls: Pull[] = [];
  // Where no forms stand nothing pulls.
  const formed = new Set(ctx.runOfPiece.values());
  for (const run of ctx.plan.runs.filter((r) => formed.has(r.id))) {
    const load = loads.get(run.id);
    if (!load) continue;
    for (const end of [run.start, run.end]) {
      const pull = endPull(run, end, held, load);
      const at = placeOn(ctx, run.wall, null, (end.leftMm + end.rightMm) / 2, load.footingMm);
      if (pull) pulls.push({ ...pull, wall: run.wall, at });
    }
    const ring = curvePull(ctx, run, load);
    if (ring) pulls.push(ring);
  }
  if (pulls.length === 0) return [];
  const most = pulls.reduce((a, b) => (Math.max(...b.pulls) > Math.max(...a.pulls) ? b : a));
  const notes = pulls.map(({ wall, place, at, pulls: [a, b], where }) => {
    const message = `Wall ${wall} ${place}: the forms pull along the wall with ${plainNumber(a, 1)} and ${plainNumber(b, 1)} kN per m of height (${where}) at the foot.`;
    return finding('check.in-plane', message, { at, subject: wall });
  });
  const message = `Clamps are not laid out: the pull along the forms, up to ${plainNumber(Math.max(...most.pulls), 1)} kN per m of height in wall ${most.wall} ${most.place}, is not checked.`;
  return [finding('check.clamps-not-checked', message, { at: most.at, subject: most.wall }), ...notes];
};
