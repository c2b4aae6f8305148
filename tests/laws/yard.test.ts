/**
 * More gear never costs more, over corners, tees, oblique corners, jogs and steps: a yard without one of its widths, without its fillers or without one of
 * its legs lays the same plan out at no less.
 */

import { describe, expect, it } from 'vitest';
import { type Cost, compareCost, costOrder, TIERS } from '../../src/fit/cost.js';
import { DEFAULT_FIT_OPTIONS } from '../../src/fit/index.js';
import { modelRuns } from '../../src/fit/plan.js';
import { solvePlan } from '../../src/fit/search.js';
import type { Catalogue, FormUnit } from '../../src/ground/vocabulary.js';
import { DRAWN_FIXTURES, questionOfFixture } from '../support/question.js';

const order = costOrder(DEFAULT_FIT_OPTIONS.costOrder);
/** The last place only prefers wide units. */
const counted = (cost: Cost): Cost => [...cost.slice(0, TIERS), 0];

describe.each(DRAWN_FIXTURES)('%s', (drawing) => {
  const { plan, catalogue, demands } = questionOfFixture(drawing);
  const solve = (yard: Catalogue) => solvePlan(modelRuns(plan, yard, demands, DEFAULT_FIT_OPTIONS, order));
  const without = (leaveOut: (u: FormUnit) => boolean): Catalogue => ({
    ...catalogue,
    units: catalogue.units.filter((u) => !leaveOut(u)),
  });
  const whole = solve(catalogue);
  const widths = [...new Set(catalogue.units.filter((u) => u.kind === 'panel').map((u) => u.widthMm))];
  const legs = [
    ...new Set(catalogue.units.flatMap((u) => (u.kind === 'inside-corner' && u.legsMm ? [u.legsMm[0]] : []))),
  ];

  it('costs no less without one of the widths, without fillers, without one of the legs', () => {
    const fewer: [string, Catalogue][] = [
      // Every other width: each takes a second or two.
      ...widths
        .filter((_, i) => i % 2 === 0)
        .map((w): [string, Catalogue] => [`panels of ${w}`, without((u) => u.kind === 'panel' && u.widthMm === w)]),
      ['fillers', without((u) => u.kind === 'filler')],
      ...legs.map((leg): [string, Catalogue] => [
        `legs of ${leg}`,
        without((u) => u.kind === 'inside-corner' && u.legsMm?.[0] === leg),
      ]),
    ];
    for (const [name, yard] of fewer) {
      const { cost } = solve(yard);
      expect(compareCost(counted(whole.bound), counted(cost)), `${name}: bound of the whole yard`).toBeLessThanOrEqual(
        0,
      );
      if (compareCost(counted(whole.bound), counted(whole.cost)) === 0)
        expect(compareCost(counted(whole.cost), counted(cost)), name).toBeLessThanOrEqual(0);
    }
  });
});
