/** The stand-in of `echoWorker.mjs`, quick whatever its job says. */
import { workerData } from 'node:worker_threads';

workerData.job.wait = 0;
await import('./echoWorker.mjs');
