/** Chooses the phase of each setup together with its layout: the one whose layout costs least, all tiers in their order (rule T9). */

import { chooseStacks, type FitOptions, fit as fitRuns, type Phase, type Setup, setupsOf } from '../fit/index.js';
import type { Catalogue, CostTier, FacePlan, FoundInModel } from '../ground/vocabulary.js';
import { demandsOf } from './demands.js';
import type { Job } from './schema.js';

/** What a layout is made from besides the phase. */
export interface PhaseQuestion {
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly options: FitOptions;
  readonly job: Job;
  readonly model: FoundInModel | undefined;
}

const compareTiers = (a: readonly CostTier[], b: readonly CostTier[]): number => {
  for (const [i, tier] of a.entries()) {
    const d = tier.value - b[i]!.value;
    if (Math.abs(d) > 1e-9) return d;
  }
  return 0;
};

/** What the plan costs with these phases, by run id. */
export const tiersWith = (q: PhaseQuestion, phaseOf: ReadonlyMap<string, number>): readonly CostTier[] => {
  const stacks = chooseStacks(q.plan, q.catalogue, q.options, phaseOf).value;
  const { demands } = demandsOf(q.plan, stacks, q.job, q.catalogue, q.model).value;
  return fitRuns(q.plan, q.catalogue, demands, q.options).value.tiers;
};

export const tierValue = (tiers: readonly CostTier[], name: CostTier['name']): number =>
  tiers.find((t) => t.name === name)?.value ?? 0;

/** The setup laid out by itself at one phase. */
const tiersAt = (q: PhaseQuestion, setup: Setup, { phaseMm }: Phase): readonly CostTier[] => {
  const own = new Set(setup.runs);
  const plan = { ...q.plan, runs: q.plan.runs.filter((r) => own.has(r.id)) };
  return tiersWith({ ...q, plan }, new Map(setup.runs.map((id) => [id, phaseMm])));
};

/** The best of a setup's phases; the first of several that are equal. */
const bestPhase = (q: PhaseQuestion, setup: Setup): number => {
  const [first, ...others] = setup.phases;
  if (others.length === 0) return first!.phaseMm;
  const before = q.options.costOrder.slice(0, q.options.costOrder.indexOf('timberAreaM2'));
  let best = { phaseMm: first!.phaseMm, tiers: tiersAt(q, setup, first!) };
  for (const phase of others) {
    // Places do not depend on the phase, and no layout at this one has less timber than its gaps: the phases come in the order of their gaps.
    const settled = tierValue(best.tiers, 'failures') === 0 && before.every((t) => t === 'places');
    if (settled && phase.gapAreaM2 >= tierValue(best.tiers, 'timberAreaM2')) break;
    const tiers = tiersAt(q, setup, phase);
    if (compareTiers(tiers, best.tiers) < 0) best = { phaseMm: phase.phaseMm, tiers };
  }
  return best.phaseMm;
};

/** Phase of each run, mm, by run id. */
export const choosePhases = (q: PhaseQuestion): Map<string, number> =>
  new Map(
    setupsOf(q.plan, q.catalogue, q.options).flatMap((setup) => {
      const phaseMm = bestPhase(q, setup);
      return setup.runs.map((id): [string, number] => [id, phaseMm]);
    }),
  );
