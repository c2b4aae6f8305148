/** A program that works off jobs, two at a time, to be killed: `workChild.mjs DATA URL|-`. */

import { openStore } from '../../dist/jobs/openStore.js';
import { Runner } from '../../dist/jobs/runner.js';

const [data, url] = process.argv.slice(2);
const store = await openStore(data, '1', url === '-' ? undefined : url);
new Runner(store, {
  workers: 2,
  pollMs: 50,
  limits: { timeS: 2, memoryMb: 64 },
  workerUrl: new URL('../support/echoWorker.mjs', import.meta.url),
}).start();
process.stdout.write('begun\n');
// A runner alone keeps no program alive while it waits for jobs.
setInterval(() => undefined, 60_000);
