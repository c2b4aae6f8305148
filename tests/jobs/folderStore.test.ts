/** What stands in the folders of the store in folders; what it promises as a store is held by `stores.test.ts`. */

import { mkdtempSync, readdirSync, readFileSync, renameSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folderStore } from '../../src/jobs/folderStore.js';
import { type JobInput, sha256Of } from '../../src/jobs/index.js';

const root = () => mkdtempSync(join(tmpdir(), 'store-'));
const inputOf = (text: string): JobInput => {
  const bytes = new TextEncoder().encode(text);
  return { fileName: 'plan.dxf', bytes, sha256: sha256Of(bytes), job: {} };
};

it('keeps a drawing as it came', async () => {
  const at = root();
  const store = await folderStore(at, '1');
  const { record } = await store.submit({ input: inputOf('0\nEOF\n') });
  expect(readFileSync(join(at, 'waiting', record.id, 'drawing'), 'utf8')).toBe('0\nEOF\n');
});

it('waits for a worker whose owner file is torn as for one elsewhere', async () => {
  const at = root();
  const store = await folderStore(at, '1');
  await store.submit({ input: inputOf('a') });
  await store.claim();
  const owner = join(at, 'running', readdirSync(join(at, 'running'))[0]!, 'owner.json');
  writeFileSync(owner, '{"ho');
  expect(await store.recover()).toEqual([]);
  const before = Date.now() / 1000 - 61;
  utimesSync(owner, before, before);
  expect(await store.recover()).toHaveLength(1);
});

it('brings to an end what a program left between two steps of bringing a job', async () => {
  const at = root();
  const store = await folderStore(at, '1');
  const { record } = await store.submit({ input: inputOf('a') });
  // As it stands after the key was taken and before the job was moved.
  renameSync(join(at, 'waiting', record.id), join(at, 'making', record.id));
  expect(await store.list()).toEqual([]);
  const again = await store.submit({ input: inputOf('a') });
  expect([again.isNew, again.record.id, again.record.state]).toEqual([false, record.id, 'waiting']);
  // The key alone is there, or only its name.
  for (const text of ['0'.repeat(33), '']) {
    const key = join(at, 'keys', readdirSync(join(at, 'keys'))[0]!);
    writeFileSync(key, text);
    expect((await store.submit({ input: inputOf('a') })).isNew).toBe(true);
  }
});
