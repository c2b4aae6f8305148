/** A plan laid out as the pipeline does it: phase and panels on their side chosen with whole layouts, then checked. */

import { check } from '../../src/check/index.js';
import { DEFAULT_FIT_OPTIONS, type FitOptions, fit as fitRuns } from '../../src/fit/index.js';
import type { Catalogue, CostTier, FacePlan } from '../../src/ground/vocabulary.js';
import { demandsOf } from '../../src/pipeline/demands.js';
import { type Job, parseJob } from '../../src/pipeline/options.js';
import { chooseStanding, stacksWith } from '../../src/pipeline/phases.js';

/** The concrete of the worked examples: ACI 347 SI, 1.5 m/h, 15 degC, 2400 kg/m3. */
export const WORKED_JOB = {
  concrete: { method: 'aci-347-si', rateMPerH: 1.5, temperatureC: 15, densityKgPerM3: 2400 },
};

const jobOf = (value: unknown): Job => {
  const job = parseJob(value);
  if (!job.ok) throw new Error(job.findings.map((f) => f.message).join(' '));
  return job.value;
};

export const standAndLay = (
  plan: FacePlan,
  catalogue: Catalogue,
  jobValue: unknown = WORKED_JOB,
  options: FitOptions = DEFAULT_FIT_OPTIONS,
) => {
  const job = jobOf(jobValue);
  const question = { plan, catalogue, options, job, model: undefined, programs: null };
  const standing = chooseStanding(question);
  const stacks = stacksWith(question, standing);
  const made = demandsOf(plan, stacks.value, job, catalogue, undefined);
  const { demands, pressure } = made.value;
  const laid = fitRuns(plan, catalogue, demands, options);
  const layout = laid.value;
  const checked = check({ plan, catalogue, layout, demands, pressure });
  const findings = [...stacks.findings, ...made.findings, ...laid.findings, ...checked.findings];
  const failures = findings.filter((f) => f.severity === 'failure');
  return {
    plan,
    catalogue,
    standing,
    stacks: stacks.value,
    demands,
    pressure,
    layout,
    checked: checked.value,
    findings,
    failures,
  };
};

/** The same yard in which no panel may be set on its side. */
export const allUpright = (catalogue: Catalogue): Catalogue => ({
  ...catalogue,
  units: catalogue.units.map((u) => ({ ...u, turnable: false })),
});

/** Below 0: `a` costs less than `b`, tier by tier in their order. */
export const compareCosts = (a: readonly CostTier[], b: readonly CostTier[]): number => {
  for (const [i, { value }] of a.entries()) if (Math.abs(value - b[i]!.value) > 1e-9) return value - b[i]!.value;
  return 0;
};
