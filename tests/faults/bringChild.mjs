/** A program that brings jobs, to be killed: `bringChild.mjs DATA URL|- JOBS`; says the number and id of each that was taken on. */

import { readFileSync, writeSync } from 'node:fs';
import { sha256Of } from '../../dist/jobs/index.js';
import { openStore } from '../../dist/jobs/openStore.js';

const [data, url, file] = process.argv.slice(2);
const store = await openStore(data, '1', url === '-' ? undefined : url);
for (const { number, text, job } of JSON.parse(readFileSync(file, 'utf8'))) {
  const bytes = new TextEncoder().encode(text);
  const input = { fileName: `${number}.dxf`, bytes, sha256: sha256Of(bytes), job };
  for (;;) {
    try {
      const { record } = await store.submit({ input });
      writeSync(1, `${number} ${record.id}\n`);
      break;
    } catch {
      // The database or the disk is away: it was not taken on.
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  }
}
await store.close();
