/** Forgets jobs that ended long enough ago: when a front end begins, and every hour from then on. */

import { idAt } from './ids.js';
import type { JobRecord, JobStore } from './record.js';
import type { RunnerOptions } from './runner.js';

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
/** Records that are read at a time. */
const PAGE = 200;

export interface ForgettingOf {
  readonly store: JobStore;
  readonly keepDays: number;
  /** Of a store that is shared the jobs that others brought are theirs to forget; all are, unless said otherwise. */
  readonly isOurs?: (record: JobRecord) => boolean;
  readonly log?: RunnerOptions['log'];
}

export class Forgetting {
  readonly #of: ForgettingOf;
  #timer: NodeJS.Timeout | null = null;
  #looking: Promise<void> = Promise.resolve();
  #isEnding = false;

  constructor(of: ForgettingOf) {
    this.#of = of;
  }

  begin(): void {
    this.#timer = setInterval(() => this.look(), HOUR_MS);
    this.look();
  }

  /** Looks once; never rejects. */
  look(): Promise<void> {
    this.#looking = this.#looking.then(() => this.#look());
    return this.#looking;
  }

  async end(): Promise<void> {
    this.#isEnding = true;
    if (this.#timer) clearInterval(this.#timer);
    await this.#looking;
  }

  async #look(): Promise<void> {
    const { store, keepDays, isOurs = () => true } = this.#of;
    const endedBefore = Date.now() - keepDays * DAY_MS;
    try {
      for (const state of ['ended', 'cancelled'] as const) {
        // What was brought after that time has not ended before it: only what is old is read.
        let before = idAt(endedBefore);
        for (let isMore = true; isMore && !this.#isEnding; ) {
          const records = await store.page({ state, before, limit: PAGE });
          for (const record of records)
            if (record.endedAt && Date.parse(record.endedAt) < endedBefore && isOurs(record))
              await this.#forget(record);
          isMore = records.length === PAGE;
          before = records.at(-1)?.id ?? before;
        }
      }
    } catch (error) {
      this.#of.log?.('error', 'old jobs cannot be looked for now; it is tried again', { error: String(error) });
    }
  }

  /** One that cannot be forgotten now keeps no other. */
  async #forget({ id, endedAt }: JobRecord): Promise<void> {
    if (this.#isEnding) return;
    try {
      if (await this.#of.store.discard(id))
        this.#of.log?.('info', 'forgotten, since it ended long enough ago', { id, endedAt });
    } catch (error) {
      this.#of.log?.('error', 'cannot be forgotten now; it is tried again', { id, error: String(error) });
    }
  }
}
