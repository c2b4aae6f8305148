/** Known walls looked for among those that were found. */

import { expect } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { WallStretch } from '../../src/ground/vocabulary.js';
import { type KnownPlan, type KnownStretch, type Placing, place } from './plans.js';

const near = (a: Vec, b: Vec, mm: number) => Math.hypot(a.x - b.x, a.y - b.y) <= mm;

/** The stretch that was meant: ends in either order within `mm`, and the same thickness. */
const find = (found: readonly WallStretch[], known: KnownStretch, m: Placing, mm: number): WallStretch | undefined => {
  const [a, b] = [place(known.start, m), place(known.end, m)];
  return found.find(
    (s) =>
      Math.abs(s.thicknessMm - known.thicknessMm) <= mm &&
      ((near(s.start, a, mm) && near(s.end, b, mm)) || (near(s.start, b, mm) && near(s.end, a, mm))),
  );
};

/** All walls of the plan are found, with as many closed ends, and no others. */
export const expectKnown = (found: readonly WallStretch[], plan: KnownPlan, m: Placing, mm: number): void => {
  for (const known of plan.stretches) {
    const s = find(found, known, m, mm);
    expect(s, `stretch ${JSON.stringify(known)} among ${JSON.stringify(found)}`).toBeDefined();
    expect(Number(s!.startCapped) + Number(s!.endCapped)).toBe(known.caps);
  }
  expect(found.length).toBe(plan.stretches.length);
};
