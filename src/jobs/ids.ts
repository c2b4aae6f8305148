/** Ids of jobs, the same in every store. */

import { randomBytes } from 'node:crypto';

/** Of this form alone; anything else is no job of ours. */
export const ID = /^[0-9a-z]{9}[0-9a-f]{24}$/;

/** Begins with the time, so that ids in order are jobs in order, as far as clocks agree. */
export const newId = (): string => Date.now().toString(36).padStart(9, '0') + randomBytes(12).toString('hex');
