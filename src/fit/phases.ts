/**
 * Phases: what is clamped together can shift by whole pitches only, so the bases of all its forms are one phase plus whole pitches (rule T9), round
 * corners and past steps. Under each run the gap between footing and base is fill; the phase that leaves least is chosen with the layout.
 *
 * Only phases at which some run stands on its footing need be tried: the gap's area is piecewise linear in the phase, rises between those and falls by
 * jumps at them. Where units count before timber, phases at which a lower stack just reaches its pour line are tried too.
 */

import { groupsOf } from '../ground/groups.js';
import { modulo } from '../ground/units.js';
import type { Catalogue, FacePlan, Run } from '../ground/vocabulary.js';
import type { FitOptions } from './options.js';

/** Everything that is clamped together. */
export interface Setup {
  /** Ids of its runs, in the order of the plan. */
  readonly runs: readonly string[];
  /** Phases worth trying, mm above level 0 and below the pitch; the one that leaves least fill under the forms first. */
  readonly phases: readonly Phase[];
}

export interface Phase {
  readonly phaseMm: number;
  /** Area of the gaps under the forms of the setup, both faces, m2: no layout at this phase has less timber. */
  readonly gapAreaM2: number;
}

/** Less than this under the forms is no gap. */
export const LEAST_GAP_MM = 0.01;
/** Levels that agree within this are one. */
const SAME_MM = 1e-6;

/** Level of the footing on which forms stand: where it was measured, the highest. */
const highOf = (run: Run): number => run.highMm ?? run.footingMm;

/** How far a level lies above a whole number of pitches. */
const above = (levelMm: number, pitchMm: number): number => {
  const rest = modulo(levelMm, pitchMm);
  return rest > pitchMm - SAME_MM ? 0 : rest;
};

/** Level of the lowest base that keeps the phase and stands on the footing or over it. */
export const baseFor = (run: Run, phaseMm: number, pitchMm: number, bedMm: number): number => {
  const least = highOf(run) + bedMm;
  return least + above(phaseMm - least, pitchMm);
};

/** Area of the gap between the footing of a run and forms that stand at `baseMm`, both faces, mm2. */
export const gapAreaMm2 = (run: Run, baseMm: number): number => (baseMm - run.footingMm) * formedMm(run);

/** Length of the returns of jogs where the run stands out, and of the sides of pilasters, mm. */
const returnsMm = (run: Run): number =>
  [run.start, run.end].reduce(
    (sum, e) => (e.kind === 'jog' ? sum + Math.max(0, e.leftOutMm) + Math.max(0, e.rightOutMm) : sum),
    (run.pilasters ?? []).reduce((sum, p) => sum + 2 * p.projectionMm, 0),
  );

/** Length of concrete over which forms of the run stand on its footing, both faces, mm. */
const formedMm = (run: Run): number =>
  (['left', 'right'] as const).reduce((sum, side) => {
    const at = (end: Run['start']) => (side === 'left' ? end.leftMm : end.rightMm);
    const stems = run.stems.filter((s) => s.side === side).reduce((w, s) => w + s.toMm - s.fromMm, 0);
    return sum + Math.max(0, at(run.end) - at(run.start) - stems);
  }, returnsMm(run));

/** The runs of walls that meet at nodes, one list for all that hang together. */
const joinedRuns = (plan: FacePlan): Run[][] => {
  const indexOf = new Map(plan.walls.map((w, i) => [w.id, i]));
  const pairs = plan.nodes.flatMap(({ walls }) =>
    walls.slice(1).map((w) => [indexOf.get(walls[0]!)!, indexOf.get(w)!] as const),
  );
  const runsOf = new Map<string, Run[]>();
  for (const run of plan.runs) runsOf.set(run.wall, [...(runsOf.get(run.wall) ?? []), run]);
  return groupsOf(plan.walls.length, pairs)
    .map((group) => group.flatMap((i) => runsOf.get(plan.walls[i]!.id) ?? []))
    .filter((runs) => runs.length > 0);
};

/** Heights that stacks of these units can have, up to `mostMm`. */
const stackHeights = (heights: readonly number[], mostMm: number): number[] => {
  const reached = new Set([0]);
  for (const sum of reached) for (const h of heights) if (sum + h <= mostMm) reached.add(sum + h);
  return [...reached];
};

const candidates = (runs: readonly Run[], catalogue: Catalogue, options: FitOptions): number[] => {
  const { pitchMm } = catalogue;
  const feet = runs.map((r) => highOf(r) + options.bedMm);
  const order = options.costOrder;
  if (order.indexOf('tiesAndUnits') > order.indexOf('timberAreaM2')) return feet;
  const heights = [...new Set(catalogue.units.filter((u) => u.kind === 'panel').map((u) => u.heightMm))];
  const tops = runs.flatMap((r, i) => {
    const reach = r.topMm + options.stickUpLeastMm;
    return stackHeights(heights, reach - feet[i]!)
      .map((h) => reach - h)
      .filter((base) => base - feet[i]! < pitchMm);
  });
  return [...feet, ...tops];
};

/** A phase of the setup of these runs, with the gaps that it leaves. */
export const phaseOf = (
  runs: readonly Run[],
  { pitchMm }: Catalogue,
  { bedMm }: FitOptions,
  phaseMm: number,
): Phase => {
  const area = runs.reduce((sum, r) => sum + gapAreaMm2(r, baseFor(r, phaseMm, pitchMm, bedMm)), 0);
  return { phaseMm, gapAreaM2: area / 1e6 };
};

/** The setups of a plan with their phases. */
export const setupsOf = (plan: FacePlan, catalogue: Catalogue, options: FitOptions): Setup[] => {
  const { pitchMm } = catalogue;
  return joinedRuns(plan).map((runs) => {
    const found = new Map<number, Phase>();
    for (const level of candidates(runs, catalogue, options)) {
      const phaseMm = above(level, pitchMm);
      const key = Math.round(phaseMm / SAME_MM);
      if (found.has(key)) continue;
      found.set(key, phaseOf(runs, catalogue, options, phaseMm));
    }
    const phases = [...found.values()].sort((a, b) => a.gapAreaM2 - b.gapAreaM2 || a.phaseMm - b.phaseMm);
    return { runs: runs.map((r) => r.id), phases };
  });
};

/** For each run the phase of its setup that leaves least under the forms. */
export const leastPhases = (plan: FacePlan, catalogue: Catalogue, options: FitOptions): Map<string, number> =>
  new Map(
    setupsOf(plan, catalogue, options).flatMap((s) => s.runs.map((id): [string, number] => [id, s.phases[0]!.phaseMm])),
  );
