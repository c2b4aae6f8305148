import type { JobRecord, JobStore } from '../../src/jobs/record.js';

/** All jobs of a store, in the order of their ids: that in which they came, but for those of one millisecond. */
export const everyJob = async (store: JobStore): Promise<readonly JobRecord[]> =>
  [...(await store.page({ limit: 1_000_000 }))].reverse();
