/**
 * The one item more that would help. Source of what is expected: the worked table of outer end zones, t + a; with t 200 and a 150 that is 350, which a 300
 * with a filler of 50 makes, and a panel of 350 or another leg (100: 300, 200: 400, 250: 450) makes without one.
 */

import { describe, expect, it } from 'vitest';
import { DEFAULT_FIT_OPTIONS, fit as fitPlan, wishedFindings } from '../../src/fit/index.js';
import { planOf, roomStretches, sceneOf } from '../check/support.js';
import { workedExampleCatalogue as catalogue } from '../support/exampleCatalogue.js';

const fillersOf = (
  yard: typeof catalogue,
  plan: ReturnType<typeof planOf>,
  demands: ReturnType<typeof sceneOf>['demands'],
) => fitPlan(plan, yard, demands, DEFAULT_FIT_OPTIONS).value.tiers.find((t) => t.name === 'steelFillers')!.value;

describe('the item that would help most', () => {
  it('does away with the fillers of a room of 200 walls, and is one of those that the table names', () => {
    const { plan, demands } = sceneOf(planOf(roomStretches(6350, 4000, 200), 2350));
    expect(fillersOf(catalogue, plan, demands)).toBe(8);
    const [first, ...more] = wishedFindings(plan, catalogue, demands, DEFAULT_FIT_OPTIONS);
    const { message } = first!;
    expect(more).toEqual([]);
    expect(message).toMatch(/a panel 350 mm wide|legs of (100|200|250) mm/);
    expect(message).toContain('0 steel fillers');
    expect(message).toMatch(/where it takes 0 places of timber \(0 m2\), 8 steel fillers, \d+ ties and units now\.$/);
  });

  it('is none where the least layout needs neither timber nor fillers', () => {
    // t + a = 400 is one panel, and 5000 - 300 and 4000 - 300 are sums of the widths.
    const { plan, demands } = sceneOf(planOf(roomStretches(5000, 4000, 250), 2350));
    expect(fillersOf(catalogue, plan, demands)).toBe(0);
    expect(wishedFindings(plan, catalogue, demands, DEFAULT_FIT_OPTIONS)).toEqual([]);
  });

  it('is said to be none where no width or leg of the steps closes a length off the grid', () => {
    const { plan, demands } = sceneOf(planOf(roomStretches(5013, 4013, 250), 2350));
    const [finding] = wishedFindings(plan, catalogue, demands, DEFAULT_FIT_OPTIONS);
    // 13 mm more than the grid: a strip stays whatever the widths are.
    expect(finding!.message).not.toContain(': 0 places');
  });
});
