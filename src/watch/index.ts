/**
 * A watched folder: drawings that are dropped are laid out, and what became of each is found beside it.
 *
 * What is to be done stands in the folder alone: a drawing lies in `drop-here` until its results are handed over. So a program that was ended at any moment
 * goes on where it was, and the store gives a drawing that was done already its results at once.
 */

import { type FSWatcher, watch as watchFolder } from 'node:fs';
import { mkdir, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { ifThere, replaceFile } from '../jobs/durable.js';
import { readBytes } from '../jobs/files.js';
import { Forgetting } from '../jobs/forgetting.js';
import { DEFAULT_LIMITS, type JobLimits, sha256Of } from '../jobs/index.js';
import { openStore } from '../jobs/openStore.js';
import { type Overrides, settingsFor } from '../jobs/prepare.js';
import type { JobRecord, JobStore } from '../jobs/record.js';
import { Refusal, Unreadable } from '../jobs/refusal.js';
import { Runner, type RunnerOptions } from '../jobs/runner.js';
import { stemOf } from '../pipeline/callers.js';
import { deliver, finishDeliveries } from './deliver.js';
import { Lock } from './lock.js';
import { kindOf, type Places, placesIn } from './places.js';
import { lookAt, Settling } from './settling.js';
import { refusedWords, statusText, whatHappened } from './words.js';

export interface WatchOptions {
  /** Said over every drawing's own job file; `job`: for drawings that have none beside them. */
  readonly over?: Overrides;
  readonly workers?: number;
  readonly limits?: Partial<JobLimits>;
  /** How long a file must not have changed, s. */
  readonly settleS?: number;
  /** Between looks into the folder, s; the system's own word of changes comes on top where there is one. */
  readonly pollS?: number;
  /** How long results of a drawing are kept for the same one to be dropped again, days. */
  readonly keepDays?: number;
  /** Program's version, see `openStore`. */
  readonly version: string;
  /** Where jobs stand; in the watched folder unless said otherwise. */
  readonly jobsFolder?: string;
  /** Jobs stand in this database, and other programs share the work; else in folders. */
  readonly databaseUrl?: string;
  readonly log?: RunnerOptions['log'];
  readonly workerUrl?: URL;
}

/** A drawing in work. */
interface Drop {
  readonly look: string;
  readonly sidecar: string | null;
  readonly id: string;
  readonly isAgain: boolean;
}

/** A file that cannot be read at once may still be in somebody's hands: how long that is waited for, ms. */
const UNREADABLE_MS = 30_000;
/** Drawings that are read in one look. */
const TAKEN_MOST = 20;

export class Watch {
  readonly #places: Places;
  readonly #options: WatchOptions;
  readonly #store: JobStore;
  readonly #runner: Runner;
  readonly #settling: Settling;
  readonly #lock: Lock;
  /** Resolves when another program has taken over the folder. */
  readonly untilLost: Promise<void>;
  #lost: () => void = () => undefined;
  readonly #forgetting: Forgetting;
  readonly #drops = new Map<string, Drop>();
  readonly #unreadable = new Map<string, number>();
  readonly #trouble = new Map<string, string>();
  #hint: FSWatcher | null = null;
  #timer: NodeJS.Timeout | null = null;
  #looking: Promise<void> = Promise.resolve();
  #status = '';
  #isEnding = false;
  /** The folder could not be looked into at the last look. */
  #isAway = false;
  /** A look is under way or about to be that will see what is there now. */
  #isAsked = false;

  private constructor(places: Places, options: WatchOptions, store: JobStore, lock: Lock) {
    this.#lock = lock;
    this.untilLost = new Promise((resolve) => {
      this.#lost = resolve;
    });
    this.#places = places;
    this.#options = options;
    this.#store = store;
    this.#settling = new Settling((options.settleS ?? 5) * 1000);
    this.#runner = new Runner(store, {
      workers: options.workers ?? 1,
      ...(options.limits ? { limits: options.limits } : {}),
      ...(options.log ? { log: options.log } : {}),
      ...(options.workerUrl ? { workerUrl: options.workerUrl } : {}),
      onEnded: () => this.lookSoon(),
    });
    this.#forgetting = new Forgetting({
      store,
      keepDays: options.keepDays ?? 14,
      isOurs: ({ id, origin }) => origin.drop !== undefined && ![...this.#drops.values()].some((d) => d.id === id),
      ...(options.log ? { log: options.log } : {}),
    });
  }

  /** Makes the folders where they are missing and begins. A Refusal where they cannot be made, or another program watches. */
  static async begin(root: string, options: WatchOptions): Promise<Watch> {
    const places = placesIn(root, options.jobsFolder);
    try {
      for (const folder of [places.drop, places.laidOut, places.notLaidOut, places.store])
        await mkdir(folder, { recursive: true });
    } catch (error) {
      throw new Refusal(`The folders in ${root} cannot be made (${(error as NodeJS.ErrnoException).code}).`);
    }
    let lost = () => {};
    const lock = await Lock.take({
      path: places.lock,
      beside: places.store,
      lost: () => lost(),
      said: (level, words) => options.log?.(level, words, {}),
    });
    const store = await openStore(places.store, options.version, options.databaseUrl).catch(async (error: unknown) => {
      await lock.end();
      throw error;
    });
    const watch = new Watch(places, options, store, lock);
    lost = () => watch.#lost();
    for (const into of [places.laidOut, places.notLaidOut]) await finishDeliveries(into, places.drop);
    watch.#runner.start();
    watch.#forgetting.begin();
    watch.#begin();
    return watch;
  }

  #begin(): void {
    try {
      // A hint only: not every file system tells, and none of them tells all.
      this.#hint = watchFolder(this.#places.drop, () => this.lookSoon());
      this.#hint.on('error', () => this.#hint?.close());
    } catch {
      this.#hint = null;
    }
    this.#timer = setInterval(() => this.lookSoon(), (this.#options.pollS ?? 2) * 1000);
    this.lookSoon();
  }

  /** Looks into the folder once more after the look that is under way. */
  lookSoon(): void {
    if (this.#isEnding || this.#isAsked) return;
    this.#isAsked = true;
    this.#looking = this.#looking
      .then(() => {
        this.#isAsked = false;
        return this.#look();
      })
      .then(
        () => {
          if (this.#isAway) this.#say('info', 'the folder can be looked into again', {});
          this.#isAway = false;
        },
        (error) => {
          // Said once: it is looked into again and again.
          if (!this.#isAway)
            this.#say('error', 'cannot look into the folder; it is tried again', { error: String(error) });
          this.#isAway = true;
        },
      );
  }

  /** Resolves when nothing that was dropped is left to do. */
  async untilDone(): Promise<void> {
    for (;;) {
      await this.#looking;
      const names = (await readdir(this.#places.drop)).filter((name) => kindOf(name) === 'drawing');
      if (names.length === 0 && this.#drops.size === 0) return;
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }

  /** Ends; jobs that run have `graceMs`, and are begun anew by whoever watches next. */
  async end(graceMs = 10_000): Promise<void> {
    this.#isEnding = true;
    this.#hint?.close();
    if (this.#timer) clearInterval(this.#timer);
    await this.#looking;
    await this.#runner.stop(graceMs);
    await this.#forgetting.end();
    await this.#store.close();
    await this.#lock.end();
  }

  async #look(): Promise<void> {
    if (this.#isEnding) return;
    if (!(await this.#lock.check())) return;
    const now = performance.now();
    const names = (await readdir(this.#places.drop)).sort();
    this.#settling.keepOnly(new Set(names));
    const arriving: string[] = [];
    const passedOver: [string, string][] = [];
    let taken = 0;
    for (const name of names) {
      const kind = kindOf(name);
      if (kind === 'other') passedOver.push([name, 'neither a drawing (.dxf, .ifc, .ifczip) nor a job file']);
      if (kind !== 'drawing') continue;
      const path = join(this.#places.drop, name);
      const seen = await lookAt(path);
      if (seen === 'not a file') passedOver.push([name, seen]);
      if (seen === null || seen === 'not a file') continue;
      const { look, sidecar } = seen;
      const known = this.#drops.get(name);
      if (known?.look === look) continue;
      if (known) this.#say('info', 'changed while it was in work, and is taken anew', { fileName: name });
      this.#drops.delete(name);
      if (!this.#settling.isSettled(name, look, now)) arriving.push(name);
      // Of many a few at a time, so that results of some are handed over before the last one is read.
      else if (taken++ < TAKEN_MOST) await this.#guarded(name, () => this.#take(name, path, sidecar, look));
    }
    if (taken > TAKEN_MOST) this.lookSoon();
    for (const [name, drop] of [...this.#drops]) {
      const record = await this.#store.get(drop.id);
      if (record?.endedAt) await this.#guarded(name, () => this.#handOver(name, drop, record));
      // Forgotten by somebody: it is taken anew.
      else if (!record) this.#drops.delete(name);
    }
    await this.#tell({ waiting: [...this.#drops.keys()].sort(), arriving, passedOver });
  }

  /** What cannot be written now is tried again at the next look; it is said once. */
  async #guarded(name: string, step: () => Promise<void>): Promise<void> {
    try {
      await step();
      this.#trouble.delete(name);
    } catch (error) {
      const words = `${name}: ${error instanceof Error ? error.message : String(error)}`;
      if (this.#trouble.get(name) !== words) this.#say('error', 'cannot go on; it is tried again', { why: words });
      this.#trouble.set(name, words);
    }
  }

  async #take(name: string, path: string, sidecar: string | null, look: string): Promise<void> {
    const mostMb = this.#options.limits?.fileMb ?? DEFAULT_LIMITS.fileMb;
    const { job, ...over } = this.#options.over ?? {};
    // Changed, or taken away, while it was read: the next look sees what is there then.
    const isOther = async (): Promise<boolean> => {
      const now = await lookAt(path);
      return now === null || now === 'not a file' || now.look !== look;
    };
    let input: Parameters<JobStore['submit']>[0]['input'];
    try {
      const bytes = await readBytes(path, mostMb);
      const settings = await settingsFor(path, { ...over, ...(sidecar === null && job !== undefined ? { job } : {}) });
      if ('kind' in settings) throw new Refusal(settings.findings.at(-1)!.message);
      input = { fileName: name, bytes, sha256: sha256Of(bytes), ...settings };
      this.#unreadable.delete(name);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (await isOther()) return;
      const since = this.#unreadable.get(name) ?? performance.now();
      this.#unreadable.set(name, since);
      // What cannot be read at all may be in somebody's hands still; a job file that is wrong stays wrong.
      if (error instanceof Unreadable && performance.now() - since < UNREADABLE_MS) return;
      this.#unreadable.delete(name);
      await this.#deliver(
        name,
        sidecar,
        `refused-${Date.now().toString(36)}`,
        [],
        refusedWords(name, error.message),
        2,
      );
      return;
    }
    if (await isOther()) return;
    const { record, isNew } = await this.#store.submit({ input, origin: { drop: name } });
    this.#drops.set(name, { look, sidecar, id: record.id, isAgain: !isNew && record.endedAt !== null });
    this.#say('info', 'taken', { fileName: name, id: record.id });
    this.#runner.wake();
  }

  async #handOver(name: string, drop: Drop, record: JobRecord): Promise<void> {
    const outcome = await this.#store.outcomeOf(record.id);
    if (!outcome) throw new Error(`job ${record.id} has no outcome`);
    const files = [];
    for (const { name: file } of record.files) {
      const bytes = await this.#store.fileOf(record.id, file);
      if (!bytes) throw new Error(`job ${record.id} has no file ${file}`);
      files.push({ name: file, bytes });
    }
    const words = whatHappened(record, outcome, drop.isAgain);
    await this.#deliver(name, drop.sidecar, record.id, files, words, outcome.exitCode);
    this.#drops.delete(name);
  }

  async #deliver(
    fileName: string,
    sidecar: string | null,
    id: string,
    files: readonly { name: string; bytes: Uint8Array }[],
    words: string,
    exitCode: number,
  ): Promise<void> {
    const path = join(this.#places.drop, fileName);
    const isThere = (await ifThere(stat(path))) !== null;
    const into = exitCode <= 1 ? this.#places.laidOut : this.#places.notLaidOut;
    const others = (await readdir(this.#places.drop)).filter((name) => kindOf(name) === 'drawing' && name !== fileName);
    const isShared = others.some((name) => stemOf(name) === stemOf(fileName));
    const folder = await deliver({
      into,
      drawing: isThere ? path : null,
      sidecar,
      isShared,
      fileName,
      id,
      files,
      words,
    });
    this.#say('info', 'handed over', { fileName, folder, exitCode });
  }

  async #tell(status: Omit<Parameters<typeof statusText>[0], 'trouble'>): Promise<void> {
    const text = statusText({ ...status, trouble: [...this.#trouble.values()] });
    if (text === this.#status) return;
    // Where it cannot be written the log has said so.
    await replaceFile(this.#places.status, text).then(
      () => {
        this.#status = text;
      },
      () => undefined,
    );
  }

  #say(level: 'info' | 'warn' | 'error', words: string, about: Readonly<Record<string, unknown>>): void {
    this.#options.log?.(level, words, about);
  }
}
