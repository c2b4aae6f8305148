/**
 * Chooses how each setup stands together with its layout: the phase of its bases (rule T9), then whether panels may lie on their side (rule T8); each
 * time what is laid out whole costs least, all tiers in their order.
 */

import { rowLoads } from '../check/index.js';
import {
  chooseStacks,
  type FitOptions,
  fit as fitRuns,
  type Phase,
  type Programs,
  type Setup,
  type StackChoice,
  type Stands,
  setupsOf,
} from '../fit/index.js';
import type { Staged } from '../ground/findings.js';
import type { Catalogue, CostTier, FacePlan, FoundInModel } from '../ground/vocabulary.js';
import { voidsOf } from '../ground/voids.js';
import { demandsOf, pressureOf } from './demands.js';
import type { Job } from './schema.js';

/** What a layout is made from besides the phase. */
export interface PhaseQuestion {
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly options: FitOptions;
  readonly job: Job;
  readonly model: FoundInModel | undefined;
  readonly programs: Programs | null;
}

const compareTiers = (a: readonly CostTier[], b: readonly CostTier[]): number => {
  for (const [i, tier] of a.entries()) {
    const d = tier.value - b[i]!.value;
    if (Math.abs(d) > 1e-9) return d;
  }
  return 0;
};

/** Whether courses stand on their tie rows, by the statics of the check: no course without a row, no row that is pushed. */
const standsUnder = (job: Job): Stands => {
  const pressureFor = pressureOf(job);
  return (run, stack, rowLevelsMm) => {
    const { envelope } = pressureFor(run).value;
    const { footingMm, topMm } = run;
    const { value, findings } = rowLoads({ stack, rowLevelsMm, footingMm, topMm, envelope });
    return value.length > 0 && findings.every((f) => f.severity !== 'failure');
  };
};

/** How the runs are to stand: the phase of each, by run id, and in which of them panels may lie on their side. */
export interface Standing {
  readonly phaseOf: ReadonlyMap<string, number>;
  readonly onSide: ReadonlySet<string>;
}

export const stacksWith = (q: PhaseQuestion, { phaseOf, onSide }: Standing): Staged<ReadonlyMap<string, StackChoice>> =>
  chooseStacks(q.plan, q.catalogue, q.options, phaseOf, { stands: standsUnder(q.job), onSide });

/** What the plan costs so. */
export const tiersWith = (q: PhaseQuestion, standing: Standing): readonly CostTier[] => {
  const stacks = stacksWith(q, standing).value;
  const { demands } = demandsOf(q.plan, stacks, q.job, q.catalogue, q.model).value;
  return fitRuns(q.plan, q.catalogue, demands, q.options, q.programs).value.tiers;
};

export const tierValue = (tiers: readonly CostTier[], name: CostTier['name']): number =>
  tiers.find((t) => t.name === name)?.value ?? 0;

const NONE: ReadonlySet<string> = new Set();

/** The question of one setup by itself. */
const alone = (q: PhaseQuestion, setup: Setup): PhaseQuestion => {
  const own = new Set(setup.runs);
  // The stock is the whole job's: a setup by itself is laid out as if it were not limited.
  return { ...q, plan: { ...q.plan, runs: q.plan.runs.filter((r) => own.has(r.id)) }, programs: null };
};

const atPhase = (setup: Setup, phaseMm: number, onSide = NONE): Standing => ({
  phaseOf: new Map(setup.runs.map((id) => [id, phaseMm])),
  onSide,
});

/** The setup laid out by itself at one phase, all panels upright. */
const tiersAt = (q: PhaseQuestion, setup: Setup, { phaseMm }: Phase): readonly CostTier[] =>
  tiersWith(alone(q, setup), atPhase(setup, phaseMm));

/** Runs of the setup whose columns may end in panels on their side: all that can, where the whole layout then costs less, else none. */
const onSideOf = (q: PhaseQuestion, setup: Setup, phaseMm: number): ReadonlySet<string> => {
  const own = alone(q, setup);
  // Rows beside openings are worked out for upright columns alone.
  const closed = own.plan.runs.filter((r) => voidsOf(q.plan, r).length === 0).map((r) => r.id);
  const asked = atPhase(setup, phaseMm, new Set(closed));
  const can = [...stacksWith(own, asked).value].filter(([, s]) => s.turnedTop).map(([id]) => id);
  if (can.length === 0) return NONE;
  const onSide = new Set(can);
  const [lain, upright] = [tiersWith(own, { ...asked, onSide }), tiersWith(own, atPhase(setup, phaseMm))];
  return compareTiers(lain, upright) < 0 ? onSide : NONE;
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

/** Phase of each run, and where panels lie on their side. */
export const chooseStanding = (q: PhaseQuestion): Standing => {
  const phaseOf = new Map<string, number>();
  const onSide = new Set<string>();
  for (const setup of setupsOf(q.plan, q.catalogue, q.options)) {
    const phaseMm = bestPhase(q, setup);
    for (const id of setup.runs) phaseOf.set(id, phaseMm);
    for (const id of onSideOf(q, setup, phaseMm)) onSide.add(id);
  }
  return { phaseOf, onSide };
};
