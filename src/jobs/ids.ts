/** New ids of jobs, the same in every store (idForm.ts). */

import { randomBytes } from 'node:crypto';

/** Begins with the time, so that ids in order are jobs in order, as far as clocks agree. */
export const newId = (): string => Date.now().toString(36).padStart(9, '0') + randomBytes(12).toString('hex');
