/** Works off a store's jobs, so many at a time, each in a thread of its own under limits. */

import { setTimeout as pause } from 'node:timers/promises';
import type { StageName } from '../pipeline/index.js';
import { type JobLimits, runJobWhile } from './index.js';
import type { JobOutcome } from './messages.js';
import type { Claim, JobRecord, JobStore } from './record.js';

export interface RunnerOptions {
  /** Jobs at a time. */
  readonly workers: number;
  readonly limits?: Partial<JobLimits>;
  /** Told of what happens, in words and with what it happened to. */
  readonly log?: (level: 'info' | 'warn' | 'error', words: string, about: Readonly<Record<string, unknown>>) => void;
  readonly onStage?: (record: JobRecord, stage: StageName) => void;
  readonly onEnded?: (record: JobRecord) => void;
  /** A job is out of this runner's hands, whether or not it ended in them. */
  readonly onLeft?: (id: string) => void;
  readonly workerUrl?: URL;
  /** How often a store is asked for jobs that others brought, and a running job's worker says that it lives, ms. */
  readonly pollMs?: number;
}

/**
 * A job that was lost with its worker this often is not begun again. It may be many: from the second time on a job is begun alone, so that one that takes
 * the program along takes no other with it, and one that was lost beside such a job, or because somebody ended the program, comes through.
 */
const ATTEMPTS_MOST = 8;
/** Between tries to keep an outcome where the store cannot be written, ms: first and longest. */
const RETRY_MS = [500, 30_000] as const;
/** Between looks for jobs whose workers are gone, ms. */
const RECOVER_MS = 15_000;

const lostTooOften = (): JobOutcome => ({
  kind: 'fault',
  exitCode: 3,
  detail: `the program ended ${ATTEMPTS_MOST} times while it was at this job`,
});

const abortOf = (signal: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', () => resolve(), { once: true });
  });

export class Runner {
  readonly #store: JobStore;
  readonly #options: RunnerOptions;
  readonly #pollMs: number;
  readonly #busy = new Set<Promise<void>>();
  #ending: AbortController | null = null;
  #looping: Promise<void> = Promise.resolve();
  /** Ends the jobs that run. */
  #hurry = new AbortController();
  #wake: () => void = () => undefined;
  /** A job runs, or waits for the others to end, that no other is begun beside. */
  #isAlone = false;
  #lookedAt = Number.NEGATIVE_INFINITY;

  constructor(store: JobStore, options: RunnerOptions) {
    this.#store = store;
    this.#options = options;
    this.#pollMs = options.pollMs ?? 1000;
  }

  /** Jobs that run now. */
  get running(): number {
    return this.#busy.size;
  }

  /** Since the store was last read without an error, ms; the runner is well while this stays near `pollMs`. */
  get sinceLookMs(): number {
    return performance.now() - this.#lookedAt;
  }

  start(): void {
    if (this.#ending) return;
    this.#ending = new AbortController();
    this.#hurry = new AbortController();
    this.#looping = this.#loop(this.#ending.signal);
  }

  /** A job was brought: it is looked for at once. */
  wake(): void {
    this.#wake();
  }

  /** Begins no more jobs; those that run have `graceMs` to end and are given back then. */
  async stop(graceMs: number): Promise<void> {
    this.#ending?.abort();
    this.#wake();
    await this.#looping;
    const timer = setTimeout(() => this.#hurry.abort(), graceMs);
    await Promise.all(this.#busy);
    clearTimeout(timer);
    this.#ending = null;
  }

  async #loop(ending: AbortSignal): Promise<void> {
    let recovered = Number.NEGATIVE_INFINITY;
    let isAway = false;
    while (!ending.aborted) {
      const woken = new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
      try {
        if (performance.now() - recovered > RECOVER_MS) {
          for (const id of await this.#store.recover())
            this.#say('warn', 'given back, since its worker is gone', { id });
          recovered = performance.now();
        }
        while (!ending.aborted && !this.#isAlone && this.#busy.size < this.#options.workers) {
          const claim = await this.#store.claim();
          if (!claim) break;
          if (ending.aborted) await this.#giveBack(claim);
          else this.#begin(claim);
        }
        if (isAway) this.#say('info', 'the store of jobs can be read and written again', {});
        isAway = false;
        this.#lookedAt = performance.now();
      } catch (error) {
        // Said once: it is asked again and again.
        if (!isAway)
          this.#say('error', 'the store of jobs cannot be read or written; it is tried again', {
            error: String(error),
          });
        isAway = true;
      }
      await Promise.race([woken, pause(this.#pollMs, undefined, { ref: false })]);
    }
  }

  #begin(claim: Claim): void {
    const isAlone = claim.record.attempts > 1;
    if (isAlone) this.#isAlone = true;
    const work = this.#work(claim, isAlone ? [...this.#busy] : []).finally(() => {
      this.#busy.delete(work);
      if (isAlone) this.#isAlone = false;
      this.#wake();
    });
    this.#busy.add(work);
  }

  /** Begins when `others` have ended. Never rejects. */
  async #work(claim: Claim, others: readonly Promise<void>[]): Promise<void> {
    const { id, fileName, attempts } = claim.record;
    if (attempts > ATTEMPTS_MOST) return this.#keep(claim, lostTooOften());
    this.#say('info', 'begun', { id, fileName, attempts });
    const stopping = new AbortController();
    const hurry = () => stopping.abort();
    if (this.#hurry.signal.aborted) hurry();
    this.#hurry.signal.addEventListener('abort', hurry);
    let stage: StageName | null = null;
    let word: 'held' | 'lost' | 'cancelled' = 'held';
    let isBeating = false;
    let wasRenewed = true;
    const beat = async (): Promise<void> => {
      if (isBeating) return;
      isBeating = true;
      try {
        const said = await claim.beat(stage);
        wasRenewed = true;
        if (said === 'held') return;
        word = said;
        stopping.abort();
      } catch (error) {
        // Said once: a store that is away is asked again and again.
        if (wasRenewed) this.#say('warn', 'could not be renewed in the store', { id, error: String(error) });
        wasRenewed = false;
      } finally {
        isBeating = false;
      }
    };
    const beats = setInterval(() => void beat(), this.#pollMs);
    await Promise.race([Promise.all(others), abortOf(stopping.signal)]);
    const outcome = await runJobWhile(claim.input, {
      ...(this.#options.limits ? { limits: this.#options.limits } : {}),
      ...(this.#options.workerUrl ? { workerUrl: this.#options.workerUrl } : {}),
      signal: stopping.signal,
      onProgress: (s) => {
        stage = s;
        this.#options.onStage?.(claim.record, s);
      },
    });
    try {
      const held = word as 'held' | 'lost' | 'cancelled';
      if (held === 'lost') this.#say('warn', 'was given to another worker meanwhile', { id });
      else if (outcome !== 'stopped') await this.#keep(claim, outcome);
      else if (held === 'cancelled') await this.#keep(claim, 'cancelled');
      else await this.#giveBack(claim);
    } finally {
      this.#options.onLeft?.(id);
      clearInterval(beats);
      this.#hurry.signal.removeEventListener('abort', hurry);
    }
  }

  async #giveBack(claim: Claim): Promise<void> {
    const { id } = claim.record;
    try {
      await claim.release();
      this.#say('info', 'given back, to be begun anew', { id });
    } catch (error) {
      // It is found again when its worker is seen to be gone.
      this.#say('error', 'could not be given back', { id, error: String(error) });
    }
  }

  /** Keeps an outcome, and tries until that is done or the runner is hurried: a full disk loses no work. */
  async #keep(claim: Claim, outcome: JobOutcome | 'cancelled'): Promise<void> {
    const { id, fileName } = claim.record;
    for (let waitMs: number = RETRY_MS[0]; ; waitMs = Math.min(2 * waitMs, RETRY_MS[1])) {
      try {
        const kept = await claim.finish(outcome);
        const what = outcome === 'cancelled' ? 'cancelled' : outcome.exitCode;
        if (!kept) return this.#say('warn', 'was given to another worker meanwhile', { id });
        this.#say('info', 'ended', { id, fileName, exitCode: what });
        const record = await this.#store.get(id);
        if (record) this.#options.onEnded?.(record);
        return;
      } catch (error) {
        this.#say('error', 'its outcome cannot be kept; it is tried again', { id, error: String(error) });
        if (this.#hurry.signal.aborted) return this.#giveBack(claim);
        await pause(waitMs, undefined, { signal: this.#hurry.signal }).catch(() => undefined);
      }
    }
  }

  #say(level: 'info' | 'warn' | 'error', words: string, about: Readonly<Record<string, unknown>>): void {
    this.#options.log?.(level, words, about);
  }
}
