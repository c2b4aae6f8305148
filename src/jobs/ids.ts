/** New ids of jobs, the same in every store (idForm.ts). */

import { randomBytes } from 'node:crypto';

/** What ids of jobs begin with that were brought at this time, ms since 1970: in order of text the earlier come before it. */
export const idAt = (ms: number): string => Math.max(0, Math.floor(ms)).toString(36).padStart(9, '0');

/** Begins with the time, so that ids in order are jobs in order, as far as clocks agree. */
export const newId = (): string => idAt(Date.now()) + randomBytes(12).toString('hex');
