/**
 * Clean-outs (rule T16): at the foot of each low stretch of the footing one panel stands without a tie, so that it comes out alone and the foot can be
 * washed. A chain of hinged groups needs as many ties without it as with it, so this mostly costs nothing. Where no panel of the least layout is such a
 * one, the zone in which one costs least is solved again with it.
 */

import { CLEAN_OUT_MOST_MM, lowStretches } from '../ground/lowStretches.js';
import type { FacePlan } from '../ground/vocabulary.js';
import { addCost, type Cost, compareCost, lessCost, TIERS } from './cost.js';
import type { Feature } from './features.js';
import type { TiedGroup } from './groups.js';
import type { RunModel, SolvedPlan, SolvedRun } from './plan.js';
import { pickName } from './search.js';
import type { ZoneSolution } from './zones.js';

export const comesOutOf =
  ({ ctx: { gear } }: RunModel) =>
  ({ group, tiesGu }: TiedGroup): boolean =>
    tiesGu.length === 0 &&
    group.fillerCount === 0 &&
    !group.panel.turned &&
    group.panel.widthGu * gear.gridMm <= CLEAN_OUT_MOST_MM + 0.5;

const hasOne = (run: SolvedRun): boolean => {
  const comesOut = comesOutOf(run.model);
  const inZones = run.zones.some((z) => z.answer?.placed.some((p) => p.tied && comesOut(p.tied)));
  // Opposite a stem one panel stands without a tie.
  const atStems = run.stems.some(({ bound }) =>
    [bound.left.group, bound.right.group].some(
      (g) => g && !g.tiesGu?.length && comesOut({ group: g.group, tiesGu: [], rank: 0 }),
    ),
  );
  return inZones || atStems;
};

interface Change {
  readonly run: SolvedRun;
  readonly zone: number;
  readonly solution: ZoneSolution;
  readonly more: Cost;
}

/** The least change that gives one of these runs a panel that comes out alone; null where none can. */
const leastChange = (runs: readonly SolvedRun[], solved: SolvedPlan, pickOf: (f: Feature) => number): Change | null => {
  let best: Change | null = null;
  for (const run of runs) {
    for (const [i, zone] of run.model.zones.entries()) {
      const before = run.zones[i];
      if (!before?.answer || before.level !== 'proven') continue;
      const [low, high] = [run.model.features[i]!, run.model.features[i + 1]!];
      const ceiling: Cost | null = best && addCost(before.cost, best.more);
      const solution = zone.solveOpen(solved.legOf, pickOf(low), pickOf(high), comesOutOf(run.model), ceiling);
      if (!solution) continue;
      const more = lessCost(solution.cost, before.cost);
      if (best === null || compareCost(more, best.more) < 0) best = { run, zone: i, solution, more };
      // Nothing is less than nothing in every tier that counts.
      if (more.slice(0, TIERS).every((x) => x === 0)) return best;
    }
  }
  return best;
};

/** Low stretches on which no panel comes out alone. */
export const withoutCleanOut = (plan: FacePlan, { runs }: SolvedPlan): number => {
  const byId = new Map(runs.map((r) => [r.model.ctx.run.id, r]));
  const laid = lowStretches(plan).map((stretch) => stretch.flatMap((r) => byId.get(r.id) ?? []));
  return laid.filter((runs) => runs.length > 0 && !runs.some(hasOne)).length;
};

/** The plan with a panel that comes out alone at every low stretch where one can stand; `solved` itself where nothing has to change for that. */
export const withCleanOuts = (plan: FacePlan, solved: SolvedPlan): SolvedPlan => {
  const byId = new Map(solved.runs.map((r) => [r.model.ctx.run.id, r]));
  const pickOf = (f: Feature): number => (f.kind === 'end' ? 0 : (solved.picks.get(pickName(f.id)) ?? 0));
  const changes: Change[] = [];
  for (const stretch of lowStretches(plan)) {
    const runs = stretch.flatMap((r) => byId.get(r.id) ?? []);
    if (runs.length === 0 || runs.some(hasOne)) continue;
    const change = leastChange(runs, solved, pickOf);
    if (!change) continue;
    const { run, zone, solution } = change;
    const id = run.model.ctx.run.id;
    byId.set(id, { ...run, zones: run.zones.map((z, i) => (i === zone ? solution : z)) });
    changes.push(change);
  }
  if (changes.length === 0) return solved;
  // What it costs more is the price of the clean-out: the bound is that of layouts without one.
  return {
    ...solved,
    runs: solved.runs.map((r) => byId.get(r.model.ctx.run.id)!),
    cost: changes.reduce((sum, c) => addCost(sum, c.more), solved.cost),
    work: changes.reduce((sum, c) => sum + c.solution.steps, solved.work),
  };
};
