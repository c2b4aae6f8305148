/** The thread in which one job runs. It has no state, reads no files and ends with its job. */

import { parentPort, workerData } from 'node:worker_threads';
import type { Finding } from '../ground/findings.js';
import {
  engineFor,
  type LayOutInput,
  layOut,
  painterFor,
  printerFor,
  programsFor,
  type StageName,
  summaryOf,
  traceOnly,
  traceSummaryOf,
} from '../pipeline/index.js';
import type { FromWorker, JobInput, JobOutcome } from './messages.js';
import { paintKit, paperKit } from './paper.js';

const say = (message: FromWorker): void => parentPort?.postMessage(message);

const progress = (stage: StageName): void => say({ kind: 'progress', stage });

const refused = (findings: readonly Finding[]): JobOutcome => ({
  kind: 'done',
  exitCode: 2,
  findings,
  files: [],
  summary: null,
  traced: null,
});

const layout = (input: LayOutInput): JobOutcome => {
  const outcome = layOut(input, progress);
  if (outcome.kind === 'refused') return refused(outcome.findings);
  const { exitCode, files, result } = outcome;
  return { kind: 'done', exitCode, findings: result.findings, files, summary: summaryOf(result), traced: null };
};

const traced = (input: LayOutInput): JobOutcome => {
  const outcome = traceOnly(input, progress);
  if (outcome.kind === 'refused') return refused(outcome.findings);
  const { exitCode, files, result } = outcome;
  return { kind: 'done', exitCode, findings: result.findings, files, summary: null, traced: traceSummaryOf(result) };
};

const run = async (input: JobInput): Promise<JobOutcome> => {
  const readModel = await engineFor(input.bytes);
  const programs = await programsFor(input);
  const whole: LayOutInput = { ...input, ...(readModel ? { readModel } : {}), ...(programs ? { programs } : {}) };
  if (input.traceOnly === true) return traced(whole);
  const writePdf = await printerFor(input, paperKit);
  const paint = await painterFor(input, paintKit);
  return layout({ ...whole, ...(writePdf ? { writePdf } : {}), ...(paint ? { paint } : {}) });
};

say({ kind: 'outcome', outcome: await run(workerData as JobInput) });
