/** The list of jobs, part by part; one part is read from the store once for all who ask for it within a moment. */

import type { JobRecord, JobState, JobStore } from '../jobs/record.js';
import { kindOf } from './views.js';

/** How old a part may be that others are given too, ms. */
const SHARED_MS = 500;
/** Records that are read for one request: where few of the kind are among many, a part is shorter than it was asked for. */
const READ_MOST = 1_000;

export interface ListingOf {
  readonly before: string | null;
  readonly state: JobState | null;
  readonly kind: 'layout' | 'trace' | null;
  readonly limit: number;
}

export interface ListingPart {
  /** Newest first. */
  readonly records: readonly JobRecord[];
  /** What comes next comes before this id; null: nothing does. */
  readonly next: string | null;
}

export class Listing {
  readonly #store: JobStore;
  #at = 0;
  readonly #parts = new Map<string, Promise<ListingPart>>();

  constructor(store: JobStore) {
    this.#store = store;
  }

  part(of: ListingOf): Promise<ListingPart> {
    const now = performance.now();
    if (now - this.#at > SHARED_MS) {
      this.#parts.clear();
      this.#at = now;
    }
    const name = JSON.stringify([of.before, of.state, of.kind, of.limit]);
    const known = this.#parts.get(name);
    if (known) return known;
    const part = this.#read(of);
    this.#parts.set(name, part);
    part.catch(() => this.#parts.delete(name));
    return part;
  }

  /** Something was changed by a caller, who is to see that. */
  changed(): void {
    this.#parts.clear();
  }

  async #read({ before, state, kind, limit }: ListingOf): Promise<ListingPart> {
    const found: JobRecord[] = [];
    let read = 0;
    let last = before;
    // One more than was asked for tells whether there is more.
    for (;;) {
      const asked = limit + 1 - found.length;
      const records = await this.#store.page({
        limit: asked,
        ...(last === null ? {} : { before: last }),
        ...(state === null ? {} : { state }),
      });
      found.push(...records.filter((record) => kind === null || kindOf(record) === kind));
      read += records.length;
      last = records.at(-1)?.id ?? last;
      if (found.length > limit) return { records: found.slice(0, limit), next: found[limit - 1]!.id };
      if (records.length < asked) return { records: found, next: null };
      if (read >= READ_MOST) return { records: found, next: last };
    }
  }
}
