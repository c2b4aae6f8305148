/** The list of all jobs, read from the store once for all who ask within a moment. */

import type { JobRecord, JobStore } from '../jobs/record.js';

/** How old a list may be that others are given too, ms. */
const SHARED_MS = 500;

export class Listing {
  readonly #store: JobStore;
  #last: { readonly at: number; readonly records: Promise<readonly JobRecord[]> } | null = null;

  constructor(store: JobStore) {
    this.#store = store;
  }

  /** In the order in which they came. */
  all(): Promise<readonly JobRecord[]> {
    const now = performance.now();
    if (this.#last && now - this.#last.at < SHARED_MS) return this.#last.records;
    const records = this.#store.list();
    this.#last = { at: now, records };
    records.catch(() => {
      this.#last = null;
    });
    return records;
  }

  /** Something of it was changed by a caller, who is to see that. */
  changed(): void {
    this.#last = null;
  }
}
