/**
 * Fewer kinds of panel at the same cost: the tier 'kinds', which no shortest path can count since it looks at the job as a whole.
 *
 * One width after the other, the least used first, is taken out of the catalogue and the job solved again; it stays out if all tiers before
 * keep their values. This gives no proof that fewer kinds are impossible, so the tier's bound stays open.
 */

import { inOrder } from '../ground/order.js';
import type { Catalogue, FacePlan, RunDemand } from '../ground/vocabulary.js';
import { type CostOrder, compareTiers } from './cost.js';
import type { Panel } from './gear.js';
import type { FitOptions } from './options.js';
import { modelRuns, type PlanModel, type SolvedPlan } from './plan.js';
import { solvePlanWithin } from './search.js';

/** How often each panel width stands in the zones and end zones, in grid units. */
const widthCounts = (solved: SolvedPlan): Map<number, number> => {
  const counts = new Map<number, number>();
  // Panels on their side are of few lengths: none is taken out.
  const take = ({ widthGu, turned }: Panel) => {
    if (!turned) counts.set(widthGu, (counts.get(widthGu) ?? 0) + 1);
  };
  for (const run of solved.runs) {
    for (const zone of run.zones) {
      for (const placed of zone.answer?.placed ?? []) if (placed.tied) take(placed.tied.group.panel);
      for (const bound of [zone.start, zone.end]) {
        for (const face of [bound.left, bound.right]) if (face.group) take(face.group.group.panel);
      }
    }
  }
  return counts;
};

const without = (catalogue: Catalogue, widthGu: number): Catalogue => ({
  ...catalogue,
  units: catalogue.units.filter((u) => u.kind !== 'panel' || Math.round(u.widthMm / catalogue.gridMm) !== widthGu),
});

/** Strips stay where they are: to ask for each width where else they might stand takes several times as long. */
const withStripsOf = ({ picks }: SolvedPlan, model: PlanModel): PlanModel => ({
  ...model,
  strips: model.strips.map((s) => ({ ...s, places: s.places.filter((id) => picks.get(id) === 1) })),
});

/** The same job with fewer widths where that costs nothing; `solved` itself where its search was long or cut short. */
export const fewerKinds = (
  plan: FacePlan,
  catalogue: Catalogue,
  demands: ReadonlyMap<string, RunDemand>,
  options: FitOptions,
  order: CostOrder,
  solved: SolvedPlan,
): SolvedPlan => {
  if (solved.cutShort || solved.work > options.stepLimit) return solved;
  let best = solved;
  let gear = catalogue;
  const counts = widthCounts(solved);
  const tries = [...counts.keys()].sort(
    inOrder(
      (a, b) => counts.get(a)! - counts.get(b)!,
      (a, b) => a - b,
    ),
  );
  let { work } = solved;
  for (const widthGu of tries) {
    if (!widthCounts(best).has(widthGu) || widthCounts(best).size === 1) continue;
    const fewer = without(gear, widthGu);
    const model = withStripsOf(best, modelRuns(plan, fewer, demands, options, order));
    const { solved: trial, work: taken } = solvePlanWithin(model, best.cost);
    work += taken;
    if (!trial) continue;
    const kinds = widthCounts(trial).size;
    if (trial.cutShort || compareTiers(trial.cost, best.cost) !== 0 || kinds >= widthCounts(best).size) continue;
    // The bound of the whole catalogue still holds: fewer kinds only take choices away.
    best = { ...trial, bound: compareTiers(solved.bound, solved.cost) === 0 ? trial.cost : solved.bound };
    gear = fewer;
  }
  return { ...best, work };
};
