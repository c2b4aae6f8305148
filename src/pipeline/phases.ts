/**
 * Chooses how each setup stands together with its layout: the phase of its bases (rule T9), then whether panels may lie on their side (rule T8); each
 * time what is laid out whole costs least, all tiers in their order.
 */

import { carriesOnRows, rowLoads } from '../check/index.js';
import {
  chooseStacks,
  type FitOptions,
  fit as fitRuns,
  type Phase,
  type Programs,
  phaseOf as phaseAt,
  type RowRules,
  type Setup,
  type StackChoice,
  type StackRules,
  type Stands,
  setupsOf,
  tiesFor,
} from '../fit/index.js';
import type { Staged } from '../ground/findings.js';
import { byNumber } from '../ground/order.js';
import type { Catalogue, CostTier, FacePlan, FoundInModel } from '../ground/vocabulary.js';
import { voidsOf } from '../ground/voids.js';
import { demandsOf } from './demands.js';
import { pressureOf } from './pressures.js';
import { rowsMet } from './rowsMet.js';
import type { Job } from './schema.js';

/** What a layout is made from besides the phase. */
export interface PhaseQuestion {
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly options: FitOptions;
  readonly job: Job;
  readonly model: FoundInModel | undefined;
  readonly programs: Programs | null;
  /** How rows are chosen, where that was made before: the same for all phases of one question. */
  readonly rowRules?: RowRules;
}

/** By all tiers but the kinds of panel. */
const compareTiers = (a: readonly CostTier[], b: readonly CostTier[]): number => {
  for (const [i, tier] of a.entries()) {
    if (tier.name === 'kinds') continue;
    const d = tier.value - b[i]!.value;
    if (Math.abs(d) > 1e-9) return d;
  }
  return 0;
};

/** Whether courses stand on their tie rows, by the statics of the check: no course without a row, no row that is pushed. */
const standsUnder = ({ job, plan }: PhaseQuestion): Stands => {
  const pressureFor = pressureOf(job, plan);
  return (run, stack, rowLevelsMm) => {
    const { envelope } = pressureFor(run, { stack, rowLevelsMm }).value;
    const { footingMm, topMm } = run;
    const { value, findings } = rowLoads({ stack, rowLevelsMm, footingMm, topMm, envelope, whileRising: false });
    return value.length > 0 && findings.every((f) => f.severity !== 'failure');
  };
};

/** The same for rows of which some give way to bars: units and ties carry on those that are left. */
const carriesUnder = ({ job, plan, catalogue }: PhaseQuestion): NonNullable<RowRules['carries']> => {
  const pressureFor = pressureOf(job, plan);
  return (run, stack, rowLevelsMm, allLevelsMm) => {
    const [tie] = tiesFor(catalogue, run.thicknessMm);
    const pressure = pressureFor(run, { stack, rowLevelsMm }).value;
    const { footingMm, topMm } = run;
    const { units } = catalogue;
    const workingKn = tie?.workingLoadKn ?? 0;
    return carriesOnRows({ units, stack, rowLevelsMm, allLevelsMm, footingMm, topMm, pressure, workingKn });
  };
};

/** How the runs are to stand: the phase of each, by run id, and in which of them panels may lie on their side. */
export interface Standing {
  readonly phaseOf: ReadonlyMap<string, number>;
  readonly onSide: NonNullable<StackRules['onSide']>;
}

/** A whole layout as it is compared. */
export interface LaidOut {
  /** Rows that meet what runs along the walls: failures before all others. */
  readonly met: number;
  readonly tiers: readonly CostTier[];
  /** Runs whose forms stick up too far. */
  readonly stickUps: number;
  /** Kinds of panel, as few as cost nothing: worked out when it is asked, where all else is equal. */
  readonly kinds: () => number;
}

const rowRulesOf = (q: PhaseQuestion): RowRules => {
  if (q.rowRules) return q.rowRules;
  const isMet = rowsMet(q);
  return { stands: standsUnder(q), ...(isMet ? { isMet, carries: carriesUnder(q) } : {}) };
};

export const stacksWith = (q: PhaseQuestion, { phaseOf, onSide }: Standing): Staged<ReadonlyMap<string, StackChoice>> =>
  chooseStacks(q.plan, q.catalogue, q.options, phaseOf, { ...rowRulesOf(q), onSide });

/** What the plan costs so. */
export const laidWith = (q: PhaseQuestion, standing: Standing): LaidOut => {
  const stacks = stacksWith(q, standing);
  const { demands } = demandsOf(q.plan, stacks.value, q.job, q.catalogue, q.model).value;
  const laid = (fewestKinds: boolean) =>
    fitRuns(q.plan, q.catalogue, demands, { ...q.options, fewestKinds }, q.programs);
  const { value, findings } = laid(false);
  const stickUps = [...stacks.findings, ...findings].filter((f) => f.code === 'fit.stick-up').length;
  let known: number | undefined;
  const kinds = (): number => {
    known ??= tierValue(laid(true).value.tiers, 'kinds');
    return known;
  };
  return { met: rowsMetIn(stacks.value), tiers: value.tiers, stickUps, kinds };
};

const rowsMetIn = (stacks: ReadonlyMap<string, StackChoice>): number =>
  [...stacks.values()].reduce((sum, s) => sum + (s.metMm?.length ?? 0), 0);

const compareLaid = (a: LaidOut, b: LaidOut): number =>
  a.met - b.met || compareTiers(a.tiers, b.tiers) || a.kinds() - b.kinds();

export const tierValue = (tiers: readonly CostTier[], name: CostTier['name']): number =>
  tiers.find((t) => t.name === name)?.value ?? 0;

const NONE: Standing['onSide'] = new Map();
/** Ways to set panels on their side that are laid out whole and compared. */
const WAYS_TRIED = 2;

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
const laidAt = (q: PhaseQuestion, setup: Setup, { phaseMm }: Phase): LaidOut =>
  laidWith(alone(q, setup), atPhase(setup, phaseMm));

/** A phase with its layout; null where there was nothing to compare it with. */
interface BestPhase {
  readonly phase: Phase;
  readonly laid: LaidOut | null;
}

/**
 * How panels lie on their side in the runs of a setup: in all that can, the way whose whole layout costs least; not at all where that costs more than
 * upright panels alone, or where more forms would stick up too far.
 */
const onSideOf = (q: PhaseQuestion, setup: Setup, { phase, laid: known }: BestPhase): Standing['onSide'] => {
  const { phaseMm } = phase;
  const own = alone(q, setup);
  // Rows beside openings, and forms along curves, are worked out for upright columns alone.
  const curved = new Set(q.plan.walls.filter((w) => w.arc).map((w) => w.id));
  const plain = own.plan.runs.filter((r) => !curved.has(r.wall) && voidsOf(q.plan, r).length === 0).map((r) => r.id);
  const seen = new Set<string>();
  let upright = known;
  let best: (LaidOut & { readonly onSide: Standing['onSide'] }) | null = null;
  for (let passed = 0; passed < WAYS_TRIED; passed++) {
    const standing = atPhase(setup, phaseMm, new Map(plain.map((id) => [id, passed])));
    const stacks = [...stacksWith(own, standing).value];
    const key = JSON.stringify(stacks);
    if (seen.has(key) || stacks.every(([, s]) => !s.turnedTop)) break;
    seen.add(key);
    upright ??= laidAt(q, setup, phase);
    const laid = laidWith(own, standing);
    if (laid.stickUps <= upright.stickUps && compareLaid(laid, best ?? upright) < 0)
      best = { ...laid, onSide: standing.onSide };
  }
  return best?.onSide ?? NONE;
};

/** Phases at which rows may clear bars are looked for in steps of this. Laths are not set truer. *Practice, no source.* */
const PHASE_STEP_MM = 5;

/**
 * The phases of a setup at which fewest rows meet what runs along the walls, least gaps first. Where some meet it at all that are worth trying for the gaps'
 * sake, forms that stand higher are looked at too (rule T10: another phase, before advice).
 */
const clearPhases = (q: PhaseQuestion, setup: Setup): readonly Phase[] => {
  const own = alone(q, setup);
  if (rowRulesOf(own).isMet === undefined) return setup.phases;
  const met = (phase: Phase) => rowsMetIn(stacksWith(own, atPhase(setup, phase.phaseMm)).value);
  const fewest = (phases: readonly Phase[]) => {
    const counted = phases.map((phase) => ({ phase, met: met(phase) }));
    const least = Math.min(...counted.map((c) => c.met));
    return { least, phases: counted.filter((c) => c.met === least).map((c) => c.phase) };
  };
  const asGiven = fewest(setup.phases);
  if (asGiven.least === 0) return asGiven.phases;
  const from = setup.phases[0]!.phaseMm;
  const { pitchMm } = q.catalogue;
  const steps = Array.from({ length: Math.ceil(pitchMm / PHASE_STEP_MM) - 1 }, (_, i) => (i + 1) * PHASE_STEP_MM);
  const higher = steps.map((by) => phaseAt(own.plan.runs, q.catalogue, q.options, (from + by) % pitchMm));
  const shifted = fewest(higher.sort(byNumber((p) => p.gapAreaM2)));
  return shifted.least < asGiven.least ? shifted.phases.slice(0, 1) : asGiven.phases;
};

/** The best of a setup's phases; the first of several that are equal. */
const bestPhase = (q: PhaseQuestion, setup: Setup): BestPhase => {
  const [first, ...others] = clearPhases(q, setup);
  if (others.length === 0) return { phase: first!, laid: null };
  const before = q.options.costOrder.slice(0, q.options.costOrder.indexOf('timberAreaM2'));
  let best = { phase: first!, laid: laidAt(q, setup, first!) };
  for (const phase of others) {
    // Places do not depend on the phase, and no layout at this one has less timber than its gaps: the phases come in the order of their gaps.
    const settled = tierValue(best.laid.tiers, 'failures') === 0 && before.every((t) => t === 'places');
    if (settled && phase.gapAreaM2 >= tierValue(best.laid.tiers, 'timberAreaM2')) break;
    const laid = laidAt(q, setup, phase);
    if (compareLaid(laid, best.laid) < 0) best = { phase, laid };
  }
  return best;
};

/** Phase of each run, and where panels lie on their side; `settled` where the latter is known. */
export const chooseStanding = (asked: PhaseQuestion, settled?: Standing['onSide']): Standing => {
  const q = { ...asked, rowRules: rowRulesOf(asked) };
  const phaseOf = new Map<string, number>();
  const onSide = new Map<string, number>();
  for (const setup of setupsOf(q.plan, q.catalogue, q.options)) {
    const best = bestPhase(q, setup);
    for (const id of setup.runs) phaseOf.set(id, best.phase.phaseMm);
    if (!settled) for (const [id, passed] of onSideOf(q, setup, best)) onSide.set(id, passed);
  }
  return { phaseOf, onSide: settled ?? onSide };
};
