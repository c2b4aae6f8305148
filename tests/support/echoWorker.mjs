/**
 * Stands in for the worker where what is tested is all around it: gives the drawing's bytes back as a result, at once or after `job.wait` ms, or those in
 * the drawing's name ('wait-200.dxf'). `job.end`: how it ends otherwise.
 */
import { parentPort, workerData } from 'node:worker_threads';

const { job, fileName, bytes } = workerData;
parentPort.postMessage({ kind: 'progress', stage: 'read' });
await new Promise((resolve) => setTimeout(resolve, job.wait ?? Number(/wait-(\d+)/.exec(fileName)?.[1] ?? 0)));
if (job.end === 'throw') throw new Error('a fault on purpose');
const refused = job.end === 'refuse';
const findings = refused
  ? [{ code: 'read.not-dxf', severity: 'failure', message: 'Refused on purpose.', assumed: null }]
  : job.end === 'late'
    ? [{ code: 'pipeline.out-of-time', severity: 'failure', message: 'Late on purpose.', assumed: null }]
    : [];
parentPort.postMessage({
  kind: 'outcome',
  outcome: {
    kind: 'done',
    exitCode: findings.length > 0 ? 2 : 0,
    findings,
    files: findings.length > 0 ? [] : [{ name: `${fileName}.echo`, bytes }],
    summary: null,
    traced: null,
  },
});
