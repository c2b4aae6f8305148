/**
 * Which rows of ties a stack is held by. All that lie in concrete, as far as they clear what runs along the wall (rule T10): a horizontal bar is met at every
 * station, so that moving its ties along does not help, and the row gives way where the others stand and carry without it.
 */

import type { Run, Stack } from '../ground/vocabulary.js';

/** Whether courses stand on tie rows at these levels under the concrete of a run. */
export type Stands = (run: Run, stack: Stack, rowLevelsMm: readonly number[]) => boolean;

export interface RowRules {
  readonly stands: Stands;
  /** Whether ties of the run's row at a level would meet what runs along the wall. */
  readonly isMet?: (run: Run, levelMm: number) => boolean;
  /** Beyond standing: whether units and ties carry on these rows alone, others of all rows being left out. */
  readonly carries?: (
    run: Run,
    stack: Stack,
    rowLevelsMm: readonly number[],
    allLevelsMm: readonly number[],
  ) => boolean;
}

export interface StandingRows {
  /** Lowest first. */
  readonly rowLevelsMm: readonly number[];
  /** Rows that give way to what runs along the wall, lowest first. */
  readonly leftOutMm: readonly number[];
  /** Rows that are kept though they meet it, lowest first. */
  readonly metMm: readonly number[];
}

/**
 * The rows on which courses stand. Without rows that are met: all, or all but the highest, which would be pushed where the pour ends close above it and is
 * then left without ties. Rows that are met are left out where all of them can be; while one stays the bars have to move anyway, and none is given up. null:
 * they stand on none of these.
 */
export const standingRows = (
  { stands, carries = stands, isMet }: RowRules,
  run: Run,
  stack: Stack,
  rows: readonly number[],
): StandingRows | null => {
  const leastOf = (kept: readonly number[], holds: (own: readonly number[]) => boolean) =>
    [kept, kept.slice(0, -1)].find((own) => own.length > 0 && holds(own));
  const met = isMet ? rows.filter((z) => isMet(run, z)) : [];
  const plain = leastOf(rows, (own) => stands(run, stack, own));
  if (plain?.every((z) => !met.includes(z)) !== true && met.length > 0) {
    const clear = rows.filter((z) => !met.includes(z));
    const left = leastOf(clear, (own) => carries(run, stack, own, rows));
    if (left) return { rowLevelsMm: left, leftOutMm: met, metMm: [] };
  }
  return plain ? { rowLevelsMm: plain, leftOutMm: [], metMm: plain.filter((z) => met.includes(z)) } : null;
};
