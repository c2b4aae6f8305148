/** A program that watches a folder, to be killed: `watchChild.ts FOLDER [once]`. */

import { Watch } from '../../src/watch/index.js';

const [root, once] = process.argv.slice(2);
const watch = await Watch.begin(root!, {
  version: '1',
  workers: 3,
  settleS: 0.05,
  pollS: 0.05,
  workerUrl: new URL('../support/echoWorker.mjs', import.meta.url),
});
process.stdout.write('watching\n');
if (once) {
  await watch.untilDone();
  await watch.end();
}
