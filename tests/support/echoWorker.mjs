/**
 * Stands in for the worker where what is tested is all around it: gives the drawing's bytes back as a result, at once or after `job.wait` ms, or those in
 * the drawing's name ('wait-200.dxf'). `job.end`, or the name ('end-throw.dxf'): how it ends otherwise. `job.mark`: no two runs have the same result.
 */
import { randomUUID } from 'node:crypto';
import { parentPort, workerData } from 'node:worker_threads';

const { job, fileName, bytes } = workerData;
parentPort.postMessage({ kind: 'progress', stage: 'read' });
await new Promise((resolve) => setTimeout(resolve, job.wait ?? Number(/wait-(\d+)/.exec(fileName)?.[1] ?? 0)));
const end = job.end ?? /end-([a-z]+)/.exec(fileName)?.[1];
if (end === 'silent') process.exit(0);
if (end === 'loop') for (;;);
if (end === 'memory') for (const kept = []; ; ) kept.push(new Array(1000).fill(Math.random()));
if (end === 'throw') throw new Error('a fault on purpose');
const failure = (code, message) => ({
  code,
  severity: 'failure',
  rule: 'input',
  at: null,
  subject: '',
  message,
  assumed: null,
});
const marked = Buffer.concat([bytes, Buffer.from(`run ${randomUUID()}`)]);
const refused = end === 'refuse';
const findings = refused
  ? [failure('read.refused', 'Refused on purpose.')]
  : end === 'late'
    ? [failure('pipeline.out-of-time', 'Late on purpose.')]
    : [];
parentPort.postMessage({
  kind: 'outcome',
  outcome: {
    kind: 'done',
    exitCode: findings.length > 0 ? 2 : 0,
    findings,
    files: findings.length > 0 ? [] : [{ name: `${fileName}.echo`, bytes: job.mark ? marked : bytes }],
    summary: null,
    traced: null,
  },
});
