/** Jobs worked off: all of them, each once, whatever happens to a worker, to the store or to the program. */

import { spawnSync } from 'node:child_process';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type JobInput, sha256Of } from '../../src/jobs/index.js';
import { ME } from '../../src/jobs/owner.js';
import type { JobStore } from '../../src/jobs/record.js';
import { Runner, type RunnerOptions } from '../../src/jobs/runner.js';
import { everyJob } from '../support/everyJob.js';
import { overStores } from '../support/stores.js';

const ECHO = new URL('../support/echoWorker.mjs', import.meta.url);
/** What the stand-in is told stands where a job file's keys would. */
const inputOf = (text: string, told: object = {}): JobInput => {
  const bytes = new TextEncoder().encode(text);
  return { fileName: 'plan.dxf', bytes, sha256: sha256Of(bytes), job: told as JobInput['job'] };
};
const runners: Runner[] = [];
const begun = (store: JobStore, more: Partial<RunnerOptions> = {}): Runner => {
  const runner = new Runner(store, { workers: 2, workerUrl: ECHO, pollMs: 20, ...more });
  runners.push(runner);
  runner.start();
  return runner;
};
const until = (store: JobStore, states: readonly string[]) =>
  vi.waitFor(
    async () => {
      const records = await everyJob(store);
      expect(records.map((r) => r.state)).toEqual(states);
      return records;
    },
    { timeout: 20_000, interval: 20 },
  );

/** A process that has ended. */
const GONE = { ...ME, pid: spawnSync(process.execPath, ['-e', '']).pid, instance: 'x' };

overStores((fresh) => {
  const freshStore = async () => (await fresh()).open();
  afterEach(async () => {
    await Promise.all(runners.splice(0).map((r) => r.stop(0)));
  });

  describe('a runner', () => {
    it('works off what waits and what comes, no more at a time than it has workers', async () => {
      const store = await freshStore();
      for (let i = 0; i < 5; i++) await store.submit({ input: inputOf(`early ${i}`, { wait: 30 }) });
      let most = 0;
      const runner = begun(store, { onStage: () => (most = Math.max(most, runner.running)) });
      for (let i = 0; i < 3; i++) await store.submit({ input: inputOf(`late ${i}`) });
      const records = await until(store, Array(8).fill('ended'));
      expect(records.every((r) => r.exitCode === 0 && r.attempts === 1)).toBe(true);
      expect(most).toBeLessThanOrEqual(2);
    });

    it('keeps faults and refusals as what they are, and goes on', async () => {
      const store = await freshStore();
      for (const end of ['throw', 'refuse', 'late', 'well']) await store.submit({ input: inputOf(end, { end }) });
      begun(store);
      const records = await until(store, Array(4).fill('ended'));
      expect(records.map((r) => r.exitCode)).toEqual([3, 2, 2, 0]);
      expect(await store.outcomeOf(records[0]!.id)).toMatchObject({ kind: 'fault' });
    });

    it('that is stopped gives back what it has not done, and the next one does it', async () => {
      const store = await freshStore();
      await store.submit({ input: inputOf('slow', { wait: 60_000 }) });
      const first = begun(store);
      await until(store, ['running']);
      await first.stop(0);
      await until(store, ['waiting']);
      begun(store, { workerUrl: new URL('../support/quickEchoWorker.mjs', import.meta.url) });
      const [record] = await until(store, ['ended']);
      expect(record).toMatchObject({ exitCode: 0, attempts: 1 });
    });

    it('that is stopped with time to spare lets jobs end', async () => {
      const store = await freshStore();
      await store.submit({ input: inputOf('slow', { wait: 300 }) });
      const first = begun(store);
      await until(store, ['running']);
      await first.stop(10_000);
      await until(store, ['ended']);
    });

    it('ends a job that is cancelled while it runs', async () => {
      const store = await freshStore();
      const { record } = await store.submit({ input: inputOf('slow', { wait: 60_000 }) });
      begun(store);
      await until(store, ['running']);
      expect(await store.cancel(record.id)).toBe(true);
      await until(store, ['cancelled']);
    });

    it('begins a job alone whose worker was lost, and not at all that took eight along', async () => {
      const at = await fresh();
      const store = await at.open();
      await store.submit({ input: inputOf('deadly') });
      await store.submit({ input: inputOf('lost beside it', { wait: 100 }) });
      const lose = async (claims: number) => {
        for (let i = 0; i < claims; i++) await store.claim();
        await at.disown(GONE);
        expect(await store.recover()).toHaveLength(claims);
      };
      await lose(2);
      for (let i = 1; i < 8; i++) await lose(1);
      for (let i = 0; i < 4; i++) await store.submit({ input: inputOf(`other ${i}`, { wait: 30 }) });
      const beside: number[] = [];
      const runner = begun(store, { onStage: (r) => r.attempts > 1 && beside.push(runner.running) });
      const [deadly, lost, ...others] = await until(store, Array(6).fill('ended'));
      expect(deadly).toMatchObject({ exitCode: 3, attempts: 9 });
      expect(lost).toMatchObject({ exitCode: 0, attempts: 2 });
      expect(others.every((r) => r.exitCode === 0)).toBe(true);
      expect(beside).toEqual([1]);
    });

    it('keeps an outcome as soon as the store can be written again', async () => {
      const inner = await freshStore();
      let full = 3;
      const store: JobStore = {
        ...inner,
        claim: async () => {
          const claim = await inner.claim();
          if (!claim) return null;
          const finish: typeof claim.finish = async (outcome) => {
            if (full-- > 0) throw Object.assign(new Error('no space left on device'), { code: 'ENOSPC' });
            return claim.finish(outcome);
          };
          return { ...claim, finish };
        },
      };
      await store.submit({ input: inputOf('a') });
      const said: string[] = [];
      begun(store, { log: (level, words) => level === 'error' && said.push(words) });
      const [record] = await until(store, ['ended']);
      expect(record).toMatchObject({ exitCode: 0, attempts: 1 });
      expect(said).toHaveLength(3);
    });

    it('outlives a store that cannot be read for a while', async () => {
      const inner = await freshStore();
      let broken = 3;
      const claim: JobStore['claim'] = () => (broken-- > 0 ? Promise.reject(new Error('gone')) : inner.claim());
      await inner.submit({ input: inputOf('a') });
      begun({ ...inner, claim });
      await until(inner, ['ended']);
    });
  });
});
