/** What stands in the folders of the store in folders; what it promises as a store is held by `stores.test.ts`. */

import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  unlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, vi } from 'vitest';
import { folderStore } from '../../src/jobs/folderStore.js';
import { type JobInput, sha256Of } from '../../src/jobs/index.js';
import { everyJob } from '../support/everyJob.js';

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
  expect(await everyJob(store)).toEqual([]);
  const again = await store.submit({ input: inputOf('a') });
  expect([again.isNew, again.record.id, again.record.state]).toEqual([false, record.id, 'waiting']);
  // The key alone is there, or only its name.
  for (const text of ['0'.repeat(33), '']) {
    const key = join(at, 'keys', readdirSync(join(at, 'keys'))[0]!);
    writeFileSync(key, text);
    expect((await store.submit({ input: inputOf('a') })).isNew).toBe(true);
  }
});

it('lists the newest of many jobs without a look into the others', async () => {
  const at = root();
  const store = await folderStore(at, '1');
  const ids: string[] = [];
  for (const text of ['a', 'b', 'c']) {
    ids.push((await store.submit({ input: inputOf(text) })).record.id);
    await (await store.claim())!.finish('cancelled');
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
  // Whoever looks is told so by an error.
  for (const id of ids.slice(0, 2)) {
    unlinkSync(join(at, 'cancelled', id, 'record.json'));
    mkdirSync(join(at, 'cancelled', id, 'record.json'));
  }
  expect((await store.page({ limit: 1 })).map((r) => r.id)).toEqual([ids[2]]);
  await expect(store.page({ limit: 2 })).rejects.toThrow('EISDIR');
});

it('sees what came into a folder whose names it knows', async () => {
  const at = root();
  vi.useFakeTimers({ toFake: ['performance'] });
  const [store, other] = [await folderStore(at, '1'), await folderStore(at, '1')];
  for (const [i, text] of ['a', 'b', 'c'].entries()) {
    await other.submit({ input: inputOf(text) });
    await (await other.claim())!.finish('cancelled');
    // At once, and when the names are known by heart.
    for (let look = 0; look < 3; look++) {
      expect(await store.count('cancelled')).toBe(i + 1);
      vi.advanceTimersByTime(3_000);
    }
  }
  vi.useRealTimers();
});

it('is not held up by a job that a disk has spoilt, and leaves it for whoever looks', async () => {
  const at = root();
  const store = await folderStore(at, '1');
  const spoilt: string[] = [];
  for (const name of ['record.json', 'settings.json']) {
    const { record } = await store.submit({ input: inputOf(name) });
    writeFileSync(join(at, 'waiting', record.id, name), '{"id":');
    spoilt.push(record.id);
  }
  const { record: well } = await store.submit({ input: inputOf('well') });
  expect((await store.claim())?.record.id).toBe(well.id);
  expect(await store.get(spoilt[1]!)).toMatchObject({ state: 'ended', exitCode: 3 });
  const [broken] = readdirSync(join(at, 'broken'));
  expect(broken).toMatch(new RegExp(`^${spoilt[0]}@`));
  expect(readFileSync(join(at, 'broken', broken!, 'drawing'), 'utf8')).toBe('record.json');
  expect((await everyJob(store)).map((r) => r.id).sort()).toEqual([spoilt[1], well.id].sort());
  // Brought again it is a job again.
  expect((await store.submit({ input: inputOf('record.json') })).isNew).toBe(true);
});
