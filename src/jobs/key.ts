/** What makes two jobs the same. */

import { createHash } from 'node:crypto';
import type { JobInput } from './messages.js';

/** Text of a value in which the order of keys does not matter. */
const canonical = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (value !== null && typeof value === 'object') {
    const entries = Object.entries(value).filter(([, v]) => v !== undefined);
    entries.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    return `{${entries.map(([k, v]) => `${JSON.stringify(k)}:${canonical(v)}`).join(',')}}`;
  }
  return JSON.stringify(value) ?? 'null';
};

/** Lower-case hex. The name counts, since results are called by it; so does the program, since another version may lay out otherwise. */
export const keyOf = ({ bytes: _, ...rest }: JobInput, version: string): string =>
  createHash('sha256')
    .update(canonical({ ...rest, version }))
    .digest('hex');
