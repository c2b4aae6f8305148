/** A store of jobs, in folders and in PostgreSQL alike: nothing is lost, nothing is in two hands, nothing that a person wrote becomes a path. */

import { spawnSync } from 'node:child_process';
import { describe, expect, it, vi } from 'vitest';
import { Forgetting } from '../../src/jobs/forgetting.js';
import { idAt } from '../../src/jobs/ids.js';
import { type JobInput, type JobOutcome, sha256Of } from '../../src/jobs/index.js';
import { ME } from '../../src/jobs/owner.js';
import type { JobStore } from '../../src/jobs/record.js';
import { everyJob } from '../support/everyJob.js';
import { overStores } from '../support/stores.js';

const inputOf = (text: string, fileName = 'plan.dxf', job: JobInput['job'] = {}): JobInput => {
  const bytes = new TextEncoder().encode(text);
  return { fileName, bytes, sha256: sha256Of(bytes), job };
};
const done = (text: string, more: Partial<Extract<JobOutcome, { kind: 'done' }>> = {}): JobOutcome => ({
  kind: 'done',
  exitCode: 0,
  findings: [],
  files: [{ name: 'plan.forms.dxf', bytes: new TextEncoder().encode(text) }],
  summary: null,
  traced: null,
  ...more,
});
const textOf = (bytes: Uint8Array | null): string | null => bytes && new TextDecoder().decode(bytes);
const submitted = async (store: JobStore, text: string) => (await store.submit({ input: inputOf(text) })).record.id;
overStores((fresh) => {
  describe('a job', () => {
    it('goes from waiting to its end, and its files are there by name', async () => {
      const store = await (await fresh()).open();
      const { record, isNew } = await store.submit({ input: inputOf('a'), origin: { drop: 'plan.dxf' } });
      expect([isNew, record.state, record.origin]).toEqual([true, 'waiting', { drop: 'plan.dxf' }]);
      const claim = (await store.claim())!;
      expect(textOf(claim.input.bytes)).toBe('a');
      expect(await claim.beat('fit')).toBe('held');
      expect(await store.get(record.id)).toMatchObject({ state: 'running', stage: 'fit', attempts: 1 });
      expect(await store.claim()).toBeNull();
      expect(await claim.finish(done('forms'))).toBe(true);
      expect(await store.get(record.id)).toMatchObject({ state: 'ended', exitCode: 0, stage: null });
      expect(textOf(await store.fileOf(record.id, 'plan.forms.dxf'))).toBe('forms');
      expect(await store.fileOf(record.id, '../record.json')).toBeNull();
      expect(await store.outcomeOf(record.id)).toMatchObject({ kind: 'done', exitCode: 0, findings: [] });
    });

    it('with the same drawing, name and settings is the same; with any other it is not', async () => {
      const at = await fresh();
      const store = await at.open();
      const first = await store.submit({ input: inputOf('a') });
      const again = await store.submit({ input: inputOf('a') });
      expect([again.isNew, again.record.id]).toEqual([false, first.record.id]);
      const others = [inputOf('b'), inputOf('a', 'other.dxf'), inputOf('a', 'plan.dxf', { comparePitchMm: 50 })];
      for (const input of others) expect((await store.submit({ input })).isNew).toBe(true);
      expect((await (await at.open('2')).submit({ input: inputOf('a') })).isNew).toBe(true);
    });

    it('brought many times at once is one', async () => {
      const at = await fresh();
      const stores = await Promise.all([at.open(), at.open()]);
      const all = await Promise.all(
        Array.from({ length: 20 }, (_, i) => stores[i % 2]!.submit({ input: inputOf('a') })),
      );
      expect(new Set(all.map((s) => s.record.id)).size).toBe(1);
      expect(all.filter((s) => s.isNew)).toHaveLength(1);
      expect(await everyJob(stores[0])).toHaveLength(1);
    });

    it('is in one hand, however many reach for it, and the oldest comes first', async () => {
      const at = await fresh();
      const stores = await Promise.all([1, 2, 3].map(() => at.open()));
      const ids: string[] = [];
      for (const text of ['a', 'b', 'c', 'd', 'e']) ids.push(await submitted(stores[0]!, text));
      expect((await stores[1]!.claim())!.record.id).toBe((await everyJob(stores[0]!))[0]!.id);
      expect((await everyJob(stores[2]!)).map((r) => r.id).sort()).toEqual(ids.sort());
      const claims = await Promise.all(Array.from({ length: 12 }, (_, i) => stores[i % 3]!.claim()));
      const taken = claims.flatMap((c) => (c ? [c.record.id] : []));
      expect(new Set(taken).size).toBe(taken.length);
      expect(taken).toHaveLength(4);
    });

    it('can be given back, cancelled while it waits or runs, and forgotten when it has ended', async () => {
      const at = await fresh();
      const store = await at.open();
      const id = await submitted(store, 'a');
      await (await store.claim())!.release();
      expect(await store.get(id)).toMatchObject({ state: 'waiting', attempts: 0 });
      const claim = (await store.claim())!;
      expect(await store.discard(id)).toBe(false);
      expect(await store.cancel(id)).toBe(true);
      expect(await claim.beat(null)).toBe('cancelled');
      expect(await claim.finish('cancelled')).toBe(true);
      expect(await store.get(id)).toMatchObject({ state: 'cancelled', exitCode: null });
      expect(await store.cancel(id)).toBe(false);
      const other = await submitted(store, 'a');
      expect(other).not.toBe(id);
      expect(await store.cancel(other)).toBe(true);
      expect(await store.claim()).toBeNull();
      for (const x of [id, other]) expect(await store.discard(x)).toBe(true);
      expect(await everyJob(store)).toEqual([]);
      expect(await at.remains()).toEqual([]);
    });

    it('that met a limit or a fault is begun anew when it is brought again; a refusal stands', async () => {
      const store = await (await fresh()).open();
      const late = done('', {
        exitCode: 2,
        files: [],
        findings: [{ code: 'pipeline.out-of-time' } as never],
      });
      const refused = done('', { exitCode: 2, files: [], findings: [{ code: 'pipeline.job-refused' } as never] });
      const outcomes: [JobOutcome, boolean][] = [
        [late, true],
        [{ kind: 'fault', exitCode: 3, detail: 'x' }, true],
        [refused, false],
      ];
      for (const [i, [outcome, isNew]] of outcomes.entries()) {
        await submitted(store, String(i));
        await (await store.claim())!.finish(outcome);
        expect((await store.submit({ input: inputOf(String(i)) })).isNew, String(i)).toBe(isNew);
        if (isNew) await (await store.claim())!.finish('cancelled');
      }
    });

    it('that is forgotten leaves a later one of the same content alone', async () => {
      const store = await (await fresh()).open();
      const first = await submitted(store, 'a');
      await (await store.claim())!.finish({ kind: 'fault', exitCode: 3, detail: 'x' });
      const second = await submitted(store, 'a');
      expect(second).not.toBe(first);
      expect(await store.discard(first)).toBe(true);
      expect(await store.submit({ input: inputOf('a') })).toMatchObject({ isNew: false, record: { id: second } });
    });

    it('has its files read piece by piece, whole also where it is forgotten meanwhile', async () => {
      const store = await (await fresh()).open();
      const id = await submitted(store, 'a');
      const long = 'forms '.repeat(50_000);
      await (await store.claim())!.finish(done(long));
      expect(await store.streamOf(id, '../record.json')).toBeNull();
      const pieces = (await store.streamOf(id, 'plan.forms.dxf'))!;
      expect(await store.discard(id)).toBe(true);
      expect((await pieces.toArray()).join('')).toBe(long);
    });

    it('is not found under names that are no ids', async () => {
      const store = await (await fresh()).open();
      for (const id of ['', '.', '..', '../waiting', 'a/b', 'x'.repeat(300), '\0'])
        expect(
          await Promise.all([
            store.get(id),
            store.outcomeOf(id),
            store.fileOf(id, 'x'),
            store.cancel(id),
            store.discard(id),
          ]),
        ).toEqual([null, null, null, false, false]);
    });
  });

  describe('a worker that is gone', () => {
    const lostPid = spawnSync(process.execPath, ['-e', '']).pid;

    it('gives its job back at once where its process can be asked for', async () => {
      const at = await fresh();
      const store = await at.open();
      const id = await submitted(store, 'a');
      const claim = (await store.claim())!;
      expect(await store.recover()).toEqual([]);
      await at.disown({ ...ME, pid: lostPid, instance: 'x' });
      expect(await store.recover()).toEqual([id]);
      expect(await store.get(id)).toMatchObject({ state: 'waiting', attempts: 1 });
      // It was only slow: what it has to say is not kept, and the other's stands.
      const other = (await store.claim())!;
      expect(await claim.beat(null)).toBe('lost');
      expect(await claim.finish(done('old'))).toBe(false);
      expect(await other.finish(done('new'))).toBe(true);
      expect(textOf(await store.fileOf(id, 'plan.forms.dxf'))).toBe('new');
      expect(await store.recover()).toEqual([]);
    });

    it('of a process number that this one has now, too', async () => {
      const at = await fresh();
      const store = await at.open();
      const id = await submitted(store, 'a');
      await store.claim();
      await at.disown({ ...ME, instance: 'before the restart' });
      expect(await store.recover()).toEqual([id]);
    });

    it('on another machine is waited for as long as its word holds', async () => {
      const at = await fresh();
      const store = await at.open();
      const id = await submitted(store, 'a');
      await store.claim();
      await at.disown({ host: 'elsewhere', pid: 1, instance: 'x' });
      expect(await store.recover()).toEqual([]);
      await at.age(59);
      expect(await store.recover()).toEqual([]);
      await at.age(61);
      // At the first look it may be that it was the store itself that was away.
      const given = [...(await store.recover()), ...(await store.recover())];
      expect(given).toEqual([id]);
      expect(await store.get(id)).toMatchObject({ state: 'waiting', attempts: 1, startedAt: null });
    });

    it('is not one whose clock is hours behind or ahead', async () => {
      for (const hours of [-3, 3]) {
        const at = await fresh();
        const [store, other] = [await at.open(), await at.open()];
        await submitted(store, 'a');
        vi.useFakeTimers({ toFake: ['Date'], now: Date.now() + hours * 3_600_000 });
        const claim = (await store.claim())!;
        expect(await claim.beat('read')).toBe('held');
        vi.useRealTimers();
        await at.disown({ host: 'elsewhere', pid: 1, instance: 'x' });
        expect([...(await other.recover()), ...(await other.recover())]).toEqual([]);
      }
    });

    it('in a container of the same name, with processes of its own, is another machine', async () => {
      const at = await fresh();
      const store = await at.open();
      await submitted(store, 'a');
      await store.claim();
      await at.disown({ host: ME.host.replace(/\d+\]$/, '1]'), pid: process.pid, instance: 'x' });
      expect(await store.recover()).toEqual([]);
    });

    it('cannot keep what it was asked to cancel, nor does the next one begin it', async () => {
      const at = await fresh();
      const store = await at.open();
      const id = await submitted(store, 'a');
      await store.claim();
      await store.cancel(id);
      await at.disown({ ...ME, pid: lostPid, instance: 'x' });
      await store.recover();
      const claim = await store.claim();
      expect(await claim?.beat(null)).toBe('cancelled');
    });
  });

  describe('many jobs', () => {
    /** Ended, cancelled, running and waiting ones, as they came; of each a millisecond of its own. */
    const some = async (store: JobStore): Promise<string[]> => {
      const ids: string[] = [];
      for (let i = 0; i < 7; i++) {
        ids.push(await submitted(store, String(i)));
        if (i < 4) await (await store.claim())!.finish(i === 1 ? 'cancelled' : done('x'));
        if (i === 4) await store.claim();
        await new Promise((resolve) => setTimeout(resolve, 2));
      }
      return ids;
    };

    it('are listed part by part, newest first, and counted by their state', async () => {
      const store = await (await fresh()).open();
      const ids = await some(store);
      const newest = [...ids].reverse();
      const idsOf = async (of: Parameters<JobStore['page']>[0]) => (await store.page(of)).map((r) => r.id);
      expect(await idsOf({ limit: 100 })).toEqual(newest);
      expect(await idsOf({ limit: 3 })).toEqual(newest.slice(0, 3));
      expect(await idsOf({ limit: 3, before: newest[2]! })).toEqual(newest.slice(3, 6));
      expect(await idsOf({ limit: 3, before: newest[6]! })).toEqual([]);
      expect(await idsOf({ limit: 2, state: 'ended' })).toEqual([ids[3], ids[2]]);
      expect(await idsOf({ limit: 2, state: 'ended', before: ids[2]! })).toEqual([ids[0]]);
      expect(await idsOf({ limit: 9, state: 'cancelled' })).toEqual([ids[1]]);
      expect(await idsOf({ limit: 9, before: idAt(Date.now() - 60_000) })).toEqual([]);
      expect(await idsOf({ limit: 9, before: idAt(Date.now() + 60_000) })).toEqual(newest);
      const counts = await Promise.all((['waiting', 'running', 'ended', 'cancelled'] as const).map(store.count));
      expect(counts).toEqual([2, 1, 3, 1]);
    });

    it('are forgotten when they ended long enough ago, of ours alone, and one that cannot be keeps no other', async () => {
      const store = await (await fresh()).open();
      const ids = await some(store);
      const logged: unknown[] = [];
      const lame: JobStore = {
        ...store,
        page: store.page,
        discard: (id) => (id === ids[2] ? Promise.reject(new Error('not now')) : store.discard(id)),
      };
      const forget = (keepDays: number) =>
        new Forgetting({
          store: lame,
          keepDays,
          isOurs: ({ id }) => id !== ids[3],
          log: (level, _words, { id }) => logged.push([level, id]),
        }).look();
      await forget(1);
      expect(logged).toEqual([]);
      await forget(1e-8);
      expect(logged).toEqual([
        ['error', ids[2]],
        ['info', ids[0]],
        ['info', ids[1]],
      ]);
      expect((await store.page({ limit: 100 })).map((r) => r.id)).toEqual([6, 5, 4, 3, 2].map((i) => ids[i]));
    });
  });
});
