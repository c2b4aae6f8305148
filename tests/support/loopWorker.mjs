/** Stands in for the worker where a job is to go wrong: `workerData.job.catalogue` says how. */
import { parentPort, workerData } from 'node:worker_threads';

const how = workerData.job.catalogue;
parentPort.postMessage({ kind: 'progress', stage: 'read' });
if (how === 'loop') for (;;);
if (how === 'memory') {
  const kept = [];
  for (;;) kept.push(new Array(1000).fill(Math.random()));
}
if (how === 'throw') throw new Error('a fault on purpose');
if (how === 'silent') process.exit(0);
