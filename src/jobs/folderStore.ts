/**
 * Jobs in folders, one each, for one or several processes over one file system. The folder in which a job's folder stands is its state, and it goes from
 * one to the next by being renamed: in one step, by one process alone.
 *
 * ```
 * making/             what is being written, and what is being forgotten
 * waiting/ID          record.json, settings.json, drawing
 * running/ID@CLAIM    the same, owner.json, perhaps cancel
 * ended/ID            the same, outcome.json, files/0, files/1 …
 * cancelled/ID        ended because somebody asked
 * broken/ID           what has no readable record: left for whoever looks after the disk
 * keys/KEY            the id of the job with that key
 * ```
 * Names that people gave stand inside records alone.
 */

import { randomBytes } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { ifThere, replaceFile, syncFolder, writeSynced } from './durable.js';
import { ID } from './idForm.js';
import {
  endedRecord,
  GONE,
  isSettled,
  knownOrNew,
  openResult,
  parsed,
  readInput,
  readOutcome,
  readResult,
  writeInput,
  writeOutcome,
} from './kept.js';
import type { JobOutcome } from './messages.js';
import { lastBefore, NamesIn } from './namesIn.js';
import { isAbandoned, own, renew, timeThere } from './owner.js';
import type { Claim, JobRecord, JobState, JobStore } from './record.js';

const STATES = ['waiting', 'running', 'ended', 'cancelled'] as const satisfies readonly JobState[];
const PARTS = ['making', ...STATES, 'broken', 'keys'] as const;
type Part = (typeof PARTS)[number];

const isTaken = (error: unknown): boolean =>
  ['ENOTEMPTY', 'EEXIST', 'EPERM'].includes((error as NodeJS.ErrnoException).code ?? '');

class FolderStore implements JobStore {
  readonly #root: string;
  readonly #version: string;
  /** Jobs that have come to their end are kept for weeks and may be many. */
  readonly #over: Readonly<Record<'ended' | 'cancelled', NamesIn>>;

  constructor(root: string, version: string) {
    this.#root = root;
    this.#version = version;
    this.#over = { ended: new NamesIn(this.#at('ended')), cancelled: new NamesIn(this.#at('cancelled')) };
  }

  #at(part: Part, ...names: string[]): string {
    return join(this.#root, part, ...names);
  }

  readonly submit: JobStore['submit'] = async (submission) => {
    const begun = await knownOrNew(submission, this.#version, (key) => this.#holderOf(key));
    if (!begun.isNew) return begun;
    const { record } = begun;
    const { id, key } = record;
    const making = this.#at('making', id);
    let holdsKey = false;
    try {
      await mkdir(making);
      await writeSynced(join(making, 'record.json'), JSON.stringify(record));
      await writeInput(making, submission.input);
      while (!holdsKey) {
        holdsKey = await this.#takeKey(key, id);
        const other = holdsKey ? null : await this.#holderOf(key);
        if (!other) continue;
        await rm(making, { recursive: true, force: true });
        return { record: other, isNew: false };
      }
      // Whoever brings the same meanwhile may have done it.
      await ifThere(rename(making, this.#at('waiting', id)));
      await syncFolder(this.#at('waiting'));
    } catch (error) {
      await rm(making, { recursive: true, force: true }).catch(() => undefined);
      if (holdsKey) await rm(this.#at('keys', key), { force: true }).catch(() => undefined);
      throw error;
    }
    return { record, isNew: true };
  };

  /** The job that a key stands for; where it stands for none any more, it is free after that. */
  async #holderOf(key: string): Promise<JobRecord | null> {
    const path = this.#at('keys', key);
    let id = await ifThere(readFile(path, 'utf8'));
    // Taken this moment, and not written yet.
    for (let look = 0; id === '' && look < 25; look++) {
      await pause(20);
      id = await ifThere(readFile(path, 'utf8'));
    }
    if (id === null) return null;
    // Whole since before the key was taken: whoever was to move it may be gone.
    if (ID.test(id)) await ifThere(rename(this.#at('making', id), this.#at('waiting', id)));
    const record = await this.get(id);
    const outcome = record?.state === 'ended' ? await this.outcomeOf(record.id) : null;
    const isOpen = record && record.endedAt === null;
    if (record && (isOpen || (outcome && isSettled(outcome)))) return record;
    await rm(path, { force: true });
    return null;
  }

  /** Whether the key was free; it then stands for this id. */
  async #takeKey(key: string, id: string): Promise<boolean> {
    try {
      const file = await open(this.#at('keys', key), 'wx');
      try {
        await file.writeFile(id);
        await file.sync();
      } finally {
        await file.close();
      }
      return true;
    } catch (error) {
      if (isTaken(error)) return false;
      throw error;
    }
  }

  /** The key may stand for a later job by now: the same drawing brought again after a fault or a limit. */
  async #freeKey({ id, key }: JobRecord): Promise<void> {
    const path = this.#at('keys', key);
    if ((await ifThere(readFile(path, 'utf8'))) === id) await rm(path, { force: true });
  }

  readonly claim: JobStore['claim'] = async () => {
    for (const id of (await readdir(this.#at('waiting'))).filter((name) => ID.test(name)).sort()) {
      const folder = this.#at('running', `${id}@${randomBytes(6).toString('hex')}`);
      // Whoever renames it has it.
      if ((await ifThere(rename(this.#at('waiting', id), folder).then(() => true))) !== true) continue;
      try {
        await own(folder);
        const claim = await this.#claimIn(folder);
        if (claim) return claim;
      } catch (error) {
        // Nothing was begun: on a full disk it goes on waiting.
        await ifThere(rename(folder, this.#at('waiting', id))).catch(() => undefined);
        throw error;
      }
    }
    return null;
  };

  async #claimIn(folder: string): Promise<Claim | null> {
    const [before, input] = await Promise.all([parsed<JobRecord>(join(folder, 'record.json')), readInput(folder)]);
    if (!before) {
      await ifThere(rename(folder, this.#at('broken', basename(folder))));
      return null;
    }
    if (!input) {
      await this.#endedIn(folder, before, GONE);
      return null;
    }
    let record: JobRecord = {
      ...before,
      state: 'running',
      startedAt: new Date().toISOString(),
      attempts: before.attempts + 1,
    };
    const note = (): Promise<boolean> =>
      ifThere(replaceFile(join(folder, 'record.json'), JSON.stringify(record)).then(() => true)).then(
        (x) => x === true,
      );
    if (!(await note())) return null;
    // One step after the other: a sign of life must not write into what is being kept.
    let last: Promise<unknown> = Promise.resolve();
    const inTurn = <T>(step: () => Promise<T>): Promise<T> => {
      const turn = last.then(step);
      last = turn.catch(() => undefined);
      return turn;
    };
    return {
      record,
      input,
      beat: (stage) =>
        inTurn(async () => {
          if (!(await renew(folder))) return 'lost';
          if (stage !== record.stage) {
            record = { ...record, stage };
            if (!(await note())) return 'lost';
          }
          return (await ifThere(stat(join(folder, 'cancel')))) ? 'cancelled' : 'held';
        }),
      finish: (outcome) => inTurn(() => this.#endedIn(folder, record, outcome)),
      release: () =>
        inTurn(async () => {
          // It was not lost, so it counts as not begun.
          record = { ...before, state: 'waiting' };
          if (await note()) await ifThere(rename(folder, this.#at('waiting', record.id)));
        }),
    };
  }

  async #endedIn(folder: string, before: JobRecord, outcome: JobOutcome | 'cancelled'): Promise<boolean> {
    const written = async (): Promise<boolean> => {
      const files = outcome === 'cancelled' ? [] : await writeOutcome(folder, outcome);
      const record = endedRecord(before, outcome, files);
      await replaceFile(join(folder, 'record.json'), JSON.stringify(record));
      const part = outcome === 'cancelled' ? 'cancelled' : 'ended';
      await rename(folder, this.#at(part, record.id));
      await syncFolder(this.#at(part));
      // What another try may end otherwise is not the same job again.
      if (!isSettled(outcome)) await this.#freeKey(record);
      return true;
    };
    try {
      return (await ifThere(written())) === true;
    } catch (error) {
      // Another worker, to whom it was given meanwhile, has ended it.
      if (!isTaken(error) || (await this.#overFolderOf(before.id)) === null) throw error;
      await rm(folder, { recursive: true, force: true });
      return false;
    }
  }

  readonly recover: JobStore['recover'] = async () => {
    const now = await timeThere(this.#at('making'));
    const given: string[] = [];
    for (const name of await readdir(this.#at('running'))) {
      const [id] = name.split('@');
      if (!id || !ID.test(id) || !(await isAbandoned(this.#at('running', name), now))) continue;
      const back = await ifThere(rename(this.#at('running', name), this.#at('waiting', id)).then(() => true));
      if (back) given.push(id);
    }
    return given;
  };

  /** The folder of a job that has come to its end. */
  async #overFolderOf(id: string): Promise<string | null> {
    for (const part of ['ended', 'cancelled'] as const)
      if (await ifThere(stat(this.#at(part, id)))) return this.#at(part, id);
    return null;
  }

  async #folderOf(id: string): Promise<string | null> {
    if (!ID.test(id)) return null;
    // A job may go on to its next state between two looks.
    for (let look = 0; look < 3; look++) {
      if (await ifThere(stat(this.#at('waiting', id)))) return this.#at('waiting', id);
      const over = await this.#overFolderOf(id);
      if (over !== null) return over;
      const name = (await readdir(this.#at('running'))).find((n) => n.startsWith(`${id}@`));
      if (name) return this.#at('running', name);
    }
    return null;
  }

  async #recordIn(folder: string): Promise<JobRecord | null> {
    const record = await parsed<JobRecord>(join(folder, 'record.json'));
    // The folder tells the state: a record is written before its folder goes on, and stays as it was where a worker is lost.
    if (!record || folder.startsWith(this.#at('ended')) || folder.startsWith(this.#at('cancelled'))) return record;
    const isWaiting = folder.startsWith(this.#at('waiting'));
    const open = { ...record, endedAt: null, exitCode: null, files: [] };
    return isWaiting ? { ...open, state: 'waiting', startedAt: null, stage: null } : { ...open, state: 'running' };
  }

  readonly get: JobStore['get'] = async (id) => {
    for (let look = 0; look < 3; look++) {
      const folder = await this.#folderOf(id);
      if (!folder) return null;
      const record = await this.#recordIn(folder);
      if (record) return record;
    }
    return null;
  };

  /** In order. */
  async #idsIn(state: JobState): Promise<readonly string[]> {
    if (state === 'ended' || state === 'cancelled') return this.#over[state].ids();
    const names = await readdir(this.#at(state));
    return names
      .map((name) => name.split('@')[0]!)
      .filter((id) => ID.test(id))
      .sort();
  }

  /** Names are read of all jobs, and kept while nothing changes; records of those alone that are given. */
  readonly page: JobStore['page'] = async ({ before, state, limit }) => {
    const states = state === undefined ? STATES : [state];
    const records: JobRecord[] = [];
    for (let last = before; records.length < limit; ) {
      const wanted = limit - records.length;
      const places = await Promise.all(
        states.map(async (s) => lastBefore(await this.#idsIn(s), last, wanted).map((id) => ({ id, state: s }))),
      );
      const newest = [...new Map(places.flat().map((place) => [place.id, place])).values()]
        .sort((a, b) => (a.id < b.id ? 1 : -1))
        .slice(0, wanted);
      if (newest.length === 0) break;
      last = newest.at(-1)!.id;
      const read = await Promise.all(newest.map((place) => this.#recordOf(place.id, place.state)));
      // It may have gone on since its name was read.
      records.push(...read.filter((r): r is JobRecord => r !== null && (state === undefined || r.state === state)));
    }
    return records;
  };

  async #recordOf(id: string, state: JobState): Promise<JobRecord | null> {
    const isOver = state === 'ended' || state === 'cancelled';
    return (isOver ? await this.#recordIn(this.#at(state, id)) : null) ?? this.get(id);
  }

  readonly count: JobStore['count'] = async (state) => (await this.#idsIn(state)).length;

  readonly outcomeOf: JobStore['outcomeOf'] = (id) =>
    ID.test(id) ? readOutcome(this.#at('ended', id)) : Promise.resolve(null);

  readonly fileOf: JobStore['fileOf'] = async (id, name) => {
    const record = await this.get(id);
    return record && readResult(this.#at('ended', id), record, name);
  };

  readonly streamOf: JobStore['streamOf'] = async (id, name) => {
    const record = await this.get(id);
    return record && openResult(this.#at('ended', id), record, name);
  };

  readonly cancel: JobStore['cancel'] = async (id) => {
    if (!ID.test(id)) return false;
    const folder = this.#at('running', `${id}@${randomBytes(6).toString('hex')}`);
    if (await ifThere(rename(this.#at('waiting', id), folder).then(() => true))) {
      await own(folder);
      const claim = await this.#claimIn(folder);
      return (await claim?.finish('cancelled')) === true;
    }
    const name = (await readdir(this.#at('running'))).find((n) => n.startsWith(`${id}@`));
    if (!name) return false;
    return (await ifThere(writeFile(this.#at('running', name, 'cancel'), '').then(() => true))) === true;
  };

  readonly discard: JobStore['discard'] = async (id) => {
    if (!ID.test(id)) return false;
    const record = await this.get(id);
    const folder = record?.endedAt ? await this.#overFolderOf(id) : null;
    if (!record || folder === null) return false;
    const gone = this.#at('making', `${id}.gone`);
    if (!(await ifThere(rename(folder, gone).then(() => true)))) return false;
    await this.#freeKey(record);
    await rm(gone, { recursive: true, force: true });
    return true;
  };

  /** Nothing is held open. */
  readonly close: JobStore['close'] = () => Promise.resolve();
}

/** What a process that has ended left half made, ms after it was last touched. */
const HALF_MADE_MS = 3_600_000;

const sweep = async (making: string): Promise<void> => {
  const now = await timeThere(making);
  for (const name of await readdir(making)) {
    const facts = await ifThere(stat(join(making, name)));
    if (facts && now - facts.mtimeMs > HALF_MADE_MS) await rm(join(making, name), { recursive: true, force: true });
  }
};

/** The store under `root`, which is made where it is not there. `version`: of the program; results of another one are not taken for the same. */
export const folderStore = async (root: string, version: string): Promise<JobStore> => {
  for (const part of PARTS) await mkdir(join(root, part), { recursive: true });
  await sweep(join(root, 'making'));
  return new FolderStore(root, version);
};
