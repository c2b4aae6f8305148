/** What the fit is asked for a drawing: plan, gear and demands, as the pipeline makes them. */

import { readFileSync } from 'node:fs';
import { demoCatalogue, demoInchCatalogue } from '../../src/catalogue/index.js';
import { DEFAULT_FIT_OPTIONS } from '../../src/fit/index.js';
import type { Catalogue, FacePlan, RunDemand } from '../../src/ground/vocabulary.js';
import { demandsOf } from '../../src/pipeline/demands.js';
import { type Job, parseJob } from '../../src/pipeline/options.js';
import { chooseStanding, stacksWith } from '../../src/pipeline/phases.js';
import { traceOptions, withJob } from '../../src/pipeline/settings.js';
import { readDxf } from '../../src/read/dxf/index.js';
import { shape } from '../../src/shape/index.js';
import { trace } from '../../src/trace/index.js';
import { jobBeside } from './lay.js';
import { FIXTURES } from './makeFixtures.js';

export const jobOf = (value: unknown): Job => {
  const parsed = parseJob(value);
  if (!parsed.ok) throw new Error(parsed.findings.map((f) => f.message).join(' '));
  return parsed.value;
};

export interface Question {
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly demands: ReadonlyMap<string, RunDemand>;
}

/** A drawing as far as the fit; null where it has no walls. */
export const questionOf = (bytes: Uint8Array, job: Job): Question | null => {
  const read = readDxf(bytes);
  if (!read.ok) return null;
  const foundation = trace(read.value, traceOptions(job)).value;
  const yard = foundation.lengthUnit === 'in' ? demoInchCatalogue : demoCatalogue;
  const { catalogue } = withJob(yard, job, null);
  const plan = shape(foundation, { gridMm: catalogue.gridMm }).value;
  if (plan.runs.length === 0) return null;
  const options = DEFAULT_FIT_OPTIONS;
  const question = { plan, catalogue, options, job, model: undefined, programs: null };
  const stacks = stacksWith(question, chooseStanding(question)).value;
  return { plan, catalogue, demands: demandsOf(plan, stacks, job, catalogue, undefined).value.demands };
};

/** Fixtures with walls of every kind: corners and tees, inches, an oblique corner, a change of thickness, steps with an opening. */
export const DRAWN_FIXTURES = [
  '01-corner-house/corner-house.dxf',
  '02-parallel-lines-in-inches/marlow-cellar.dxf',
  '05-corner-of-45-degrees/half-turn.dxf',
  '06-change-of-thickness/thicker.dxf',
  '09-steps-on-a-slope/hillside-store.dxf',
];

/** What the fit is asked for a fixture with the job beside it. */
export const questionOfFixture = (drawing: string): Question => {
  const path = FIXTURES + drawing;
  const question = questionOf(new Uint8Array(readFileSync(path)), jobOf(jobBeside(path)));
  if (!question) throw new Error(`${drawing} has no walls`);
  return question;
};
