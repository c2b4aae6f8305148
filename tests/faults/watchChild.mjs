/** A program that watches a folder, to be killed: `watchChild.mjs FOLDER URL|- [once]`. */

import { Watch } from '../../dist/watch/index.js';

const [root, url, once] = process.argv.slice(2);
const watch = await Watch.begin(root, {
  version: '1',
  workers: 3,
  settleS: 0.05,
  pollS: 0.05,
  ...(url === '-' ? {} : { databaseUrl: url }),
  workerUrl: new URL('../support/echoWorker.mjs', import.meta.url),
});
process.stdout.write('begun\n');
if (once) {
  await watch.untilDone();
  await watch.end();
}
