/**
 * Which rows of ties a stack is held by. All that lie in concrete, as far as they clear what runs along the wall (rule T10): a horizontal bar is met at every
 * station, so that moving its ties along does not help, and the row gives way where the others stand and carry without it.
 */

import { byNumber } from '../ground/order.js';
import type { Run, Stack } from '../ground/vocabulary.js';

/** Whether courses stand on tie rows at these levels under the concrete of a run. */
export type Stands = (run: Run, stack: Stack, rowLevelsMm: readonly number[]) => boolean;

export interface RowRules {
  readonly stands: Stands;
  /** Whether ties of the run's row at a level would meet what runs along the wall. */
  readonly isMet?: (run: Run, levelMm: number) => boolean;
  /** Beyond standing: whether units and ties carry on these rows alone, some of the units' own rows being left out. */
  readonly carries?: Stands;
}

export interface StandingRows {
  /** Lowest first. */
  readonly rowLevelsMm: readonly number[];
  /** Rows that give way to what runs along the wall, lowest first. */
  readonly leftOutMm: readonly number[];
  /** Rows that are kept though they meet it, lowest first. */
  readonly metMm: readonly number[];
}

/** Of so many rows that are met, each set is tried as left out; beyond that all of them or none. */
const SETS_OF_MOST = 6;

/** All sets of the rows, those with most first; of equal ones those that leave out the lower rows last, since these carry most. */
const setsOf = (rows: readonly number[]): (readonly number[])[] => {
  if (rows.length > SETS_OF_MOST) return [rows, []];
  const sets = Array.from({ length: 2 ** rows.length }, (_, bits) => rows.filter((_row, i) => (bits >> i) & 1));
  return sets.sort(byNumber((s) => -s.length));
};

/**
 * The rows on which courses stand. Without rows that are met: all, or all but the highest, which would be pushed where the pour ends close above it and is
 * then left without ties. Rows that are met are left out, as many as can be. null: they stand on none of these.
 */
export const standingRows = (
  { stands, carries = stands, isMet }: RowRules,
  run: Run,
  stack: Stack,
  rows: readonly number[],
): StandingRows | null => {
  const met = isMet ? rows.filter((z) => isMet(run, z)) : [];
  for (const leftOutMm of setsOf(met)) {
    const kept = rows.filter((z) => !leftOutMm.includes(z));
    const holds = leftOutMm.length > 0 ? carries : stands;
    const rowLevelsMm = [kept, kept.slice(0, -1)].find((r) => r.length > 0 && holds(run, stack, r));
    if (!rowLevelsMm) continue;
    return { rowLevelsMm, leftOutMm, metMm: rowLevelsMm.filter((z) => met.includes(z)) };
  }
  return null;
};
