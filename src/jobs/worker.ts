/** The thread in which one job runs. It has no state, reads no files and ends with its job. */

import { parentPort, workerData } from 'node:worker_threads';
import { layOut, summaryOf } from '../pipeline/index.js';
import type { FromWorker, JobInput, JobOutcome } from './messages.js';

const say = (message: FromWorker): void => parentPort?.postMessage(message);

const run = (input: JobInput): JobOutcome => {
  const outcome = layOut(input, (stage) => say({ kind: 'progress', stage }));
  if (outcome.kind === 'refused') {
    return { kind: 'done', exitCode: 2, findings: outcome.findings, files: [], summary: null };
  }
  const { exitCode, files, result } = outcome;
  return { kind: 'done', exitCode, findings: result.findings, files, summary: summaryOf(result) };
};

say({ kind: 'outcome', outcome: run(workerData as JobInput) });
