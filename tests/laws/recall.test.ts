/**
 * The walls come back: drawings made of known walls in many habits, with many faults, are read and traced, and at least 95 % of the wall length is
 * found with nothing invented (less only where the table of cases says so). What tracing does not do yet is named in the table of cases with its reason.
 */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arbitraryTrial, CASES, tryOut } from '../support/drawings/cases.js';

const SEED = Number(process.env.FC_SEED ?? 2704);
const RUNS = Number(process.env.FC_RUNS ?? 4);
const LEAST = 0.95;

describe('the walls come back', { timeout: 60_000 }, () => {
  for (const [i, c] of CASES.entries()) {
    if (c.notYet) continue;
    it(`drawn as: ${c.name}`, () => {
      fc.assert(
        fc.property(arbitraryTrial(c), (trial) => {
          const { recall, missed, falseWalls } = tryOut(c, trial);
          expect(falseWalls, 'found, but not there').toEqual([]);
          expect(recall, `missed: ${missed.join('; ')}`).toBeGreaterThanOrEqual(c.least ?? LEAST);
        }),
        // Each habit on plans of its own.
        { seed: SEED + i, numRuns: RUNS },
      );
    });
  }
});
