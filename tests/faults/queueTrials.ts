/** Trials of workers on one queue: killed, cut off from their database, and with jobs that go wrong. */

import type { ChildProcess } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { sha256Of } from '../../src/jobs/index.js';
import { openStore } from '../../src/jobs/openStore.js';
import type { JobRecord, JobStore } from '../../src/jobs/record.js';
import { Dice } from '../support/drawings/dice.js';
import { everyJob } from '../support/everyJob.js';
import { after, begin, begun, type Counted, type Ground, kill } from './children.js';

const storeOf = ({ folder, url }: Ground): Promise<JobStore> =>
  openStore(join(folder, 'jobs'), '1', url === '-' ? undefined : url);

/** Begins a program again and again; it is killed after `lifeMs`, which is drawn anew each time. */
class Mortal {
  kills = 0;
  #isEnding = false;
  readonly #living: Promise<void>;
  child: ChildProcess | null = null;

  constructor(start: () => ChildProcess, lifeMs: () => number, killsMost: number, isDone: () => boolean = () => false) {
    this.#living = (async () => {
      while (!this.#isEnding && !isDone()) {
        this.child = start();
        await begun(this.child);
        const until = this.kills < killsMost ? performance.now() + lifeMs() : Number.POSITIVE_INFINITY;
        while (performance.now() < until && !this.#isEnding && !isDone() && this.child.exitCode === null)
          await after(10);
        await kill(this.child);
        // Otherwise it had come to its own end before.
        if (this.child.signalCode === 'SIGKILL') this.kills++;
      }
    })();
  }

  end(): Promise<void> {
    this.#isEnding = true;
    return this.#living;
  }
}

const killsOf = (programs: readonly Mortal[]): string => programs.map((p) => p.kills).join(' and ');

export interface QueueTrial {
  readonly jobs: number;
  readonly seed: number;
  /** Of a program between its begin and its kill, ms: at most. */
  readonly lifeMs: number;
  /** How often one program is killed at most; then it lives. */
  readonly killsMost: number;
  /** How often the database is stopped and begun again. */
  readonly stops: number;
}

/**
 * Two programs bring the same jobs and two work them off; each is killed and begun again, over and over. The stand-in gives another result each time that it is run, so
 * that a job done twice shows: what was once told as the result must stay it.
 */
export const workersKilled = async (ground: Ground, trial: QueueTrial): Promise<Counted> => {
  const { folder, url, server } = ground;
  const dice = new Dice(trial.seed);
  const data = join(folder, 'jobs');
  const texts = Array.from({ length: trial.jobs }, (_, i) => `walls of ${i}\n`.repeat(1 + dice.whole(500)));
  const list = join(folder, 'list.json');
  writeFileSync(
    list,
    JSON.stringify(texts.map((text, number) => ({ number, text, job: { wait: dice.whole(200), mark: true } }))),
  );
  const faults: string[] = [];
  const store = await storeOf(ground);
  const takenOn = [new Map<number, string>(), new Map<number, string>()] as const;
  const hear = (child: ChildProcess, ids: Map<number, string>): ChildProcess => {
    let rest = '';
    child.stdout!.on('data', (bytes: Buffer) => {
      const lines = (rest + bytes.toString()).split('\n');
      rest = lines.pop()!;
      for (const line of lines) {
        const [number, id] = line.split(' ');
        for (const known of takenOn.map((m) => m.get(Number(number))))
          if (known !== undefined && known !== id) faults.push(`${number} was taken on as ${known} and as ${id}`);
        ids.set(Number(number), id!);
      }
    });
    return child;
  };
  const life = () => dice.between(0, trial.lifeMs);
  // Both bring the same, and are told the same ids.
  const bringers = takenOn.map(
    (ids) =>
      new Mortal(
        () => hear(begin('bring', data, url, list), ids),
        life,
        trial.killsMost,
        () => ids.size === trial.jobs,
      ),
  );
  const workers = [1, 2].map(() => new Mortal(() => begin('work', data, url), life, trial.killsMost));
  let stops = 0;
  let isEnding = false;
  const stopping = (async () => {
    while (server && !isEnding && stops < trial.stops) {
      await after(dice.between(0.1, 0.8) * trial.lifeMs);
      server.stop();
      stops++;
      await after(dice.between(0, 0.4) * trial.lifeMs);
      server.start();
    }
  })();
  /** Results as they were first told. */
  const told = new Map<string, string>();
  let records: readonly JobRecord[] = [];
  const isDone = () =>
    takenOn.every((ids) => ids.size === trial.jobs) &&
    records.length >= trial.jobs &&
    records.every((r) => r.endedAt !== null);
  for (const begunAt = performance.now(); !isDone() || stops < (server ? trial.stops : 0); ) {
    if (performance.now() - begunAt > 900_000) {
      faults.push('it gets nowhere');
      break;
    }
    await after(100);
    records = await everyJob(store).catch(() => records);
    for (const { id, files } of records) {
      const hash = files.map((f) => f.sha256).join();
      if (files.length > 0 && (told.get(id) ?? hash) !== hash) faults.push(`${id} was done twice`);
      if (files.length > 0) told.set(id, hash);
    }
  }
  isEnding = true;
  await Promise.all([...bringers, ...workers].map((mortal) => mortal.end()));
  await stopping;
  records = await everyJob(store);
  if (records.length !== trial.jobs) faults.push(`${records.length} jobs are there`);
  if (new Set(records.map((r) => r.key)).size !== records.length) faults.push('one job is there twice');
  for (const [number, id] of takenOn[0]) {
    const record = records.find((r) => r.id === id);
    if (!record) faults.push(`${number} was taken on and is lost`);
    else if (record.exitCode !== 0) faults.push(`${number} ended with ${record.exitCode}`);
    else {
      const bytes = await store.fileOf(id, `${number}.dxf.echo`);
      if (!bytes || !/^run [0-9a-f-]{36}$/.test(new TextDecoder().decode(bytes).slice(texts[number]!.length)))
        faults.push(`${number} has no whole result`);
      else if (!new TextDecoder().decode(bytes).startsWith(texts[number]!))
        faults.push(`${number} has another's result`);
    }
  }
  await store.close();
  rmSync(folder, { recursive: true });
  return {
    rows: [
      ['jobs brought', trial.jobs],
      ['the two programs that bring them, the same jobs each, were killed', `${killsOf(bringers)} times`],
      ['the two workers were killed', `${killsOf(workers)} times`],
      ...(trial.stops > 0 && server ? ([['the database was stopped and begun again', `${stops} times`]] as const) : []),
      ['jobs begun more than once', records.filter((r) => r.attempts > 1).length],
      ['most often that one job was begun', Math.max(...records.map((r) => r.attempts))],
      ['jobs given up (eight losses)', records.filter((r) => r.exitCode === 3).length],
    ],
    faults,
  };
};

const WRONG = [
  { end: 'throw', exitCode: 3, words: 'that throw' },
  { end: 'silent', exitCode: 3, words: 'whose thread ends without a word' },
  { end: 'memory', exitCode: 2, words: 'that need more than 64 MB' },
  { end: 'loop', exitCode: 2, words: 'that do not end within 2 s' },
] as const;

/** Jobs that go wrong among others that do not; the worker must outlive them. */
export const jobsGoWrong = async (ground: Ground, ofEach: number): Promise<Counted> => {
  const faults: string[] = [];
  const store = await storeOf(ground);
  const expected = new Map<string, number>();
  const bring = async (text: string, job: object, exitCode: number) => {
    const bytes = new TextEncoder().encode(text);
    const { record } = await store.submit({
      input: { fileName: 'plan.dxf', bytes, sha256: sha256Of(bytes), job: job as never },
    });
    expected.set(record.id, exitCode);
  };
  for (let i = 0; i < ofEach; i++) {
    for (const { end, exitCode } of WRONG) {
      await bring(`${end} ${i}`, { end }, exitCode);
      await bring(`well beside ${end} ${i}`, { wait: 50 }, 0);
    }
  }
  const child = begin('work', join(ground.folder, 'jobs'), ground.url);
  let records: readonly JobRecord[] = [];
  for (let i = 0; i < 1200; i++) {
    records = await everyJob(store);
    if (records.every((r) => r.endedAt !== null)) break;
    await after(100);
  }
  if (child.exitCode !== null || child.signalCode !== null) faults.push('the worker ended');
  await kill(child);
  for (const { id, exitCode } of records)
    if (exitCode !== expected.get(id)) faults.push(`a job ended with ${exitCode}, not ${expected.get(id)}`);
  if (records.length !== 2 * WRONG.length * ofEach) faults.push(`${records.length} jobs are there`);
  if (records.some((r) => r.attempts !== 1)) faults.push('a job was begun more than once');
  await store.close();
  rmSync(ground.folder, { recursive: true });
  return {
    rows: [
      ...WRONG.map(({ words }) => [`jobs ${words}`, ofEach] as const),
      ['jobs beside them that came to their end', records.filter((r) => r.exitCode === 0).length],
    ],
    faults,
  };
};
