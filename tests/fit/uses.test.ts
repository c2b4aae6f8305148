/** What the search thinks that a layout takes of the yard is what is drawn and listed, and costs told in prices can be told back. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Cost, costOrder, type Prices, TIERS, type Uses } from '../../src/fit/cost.js';
import { emit } from '../../src/fit/emit.js';
import { DEFAULT_FIT_OPTIONS, fit as fitPlan } from '../../src/fit/index.js';
import { together } from '../../src/fit/parts.js';
import { modelRuns } from '../../src/fit/plan.js';
import { type PartSearch, searchesOf } from '../../src/fit/search.js';
import { stemUses, summed, zoneUses } from '../../src/fit/stock/columns.js';
import { fixedUses } from '../../src/fit/stock/master.js';
import { unpriced } from '../../src/fit/stock/prices.js';
import { DRAWN_FIXTURES, questionOfFixture } from '../support/question.js';

const { costOrder: ORDER } = DEFAULT_FIT_OPTIONS;

/** Zones, places of stems and corner units of the winner. */
const usesOf = (parts: readonly PartSearch[], solved: ReturnType<PartSearch['solve']>): Uses => {
  const zones = parts.flatMap((p) =>
    p.tables.flatMap((t) => {
      const run = solved.runs.find((r) => r.model === t.run)!;
      const zone = run.zones[t.run.zones.indexOf(t.zone)];
      return zone ? zoneUses(t, zone) : [];
    }),
  );
  const stems = solved.runs.flatMap((r) => r.stems.flatMap((s) => stemUses(r.model.ctx, s.bound)));
  const corners = parts.flatMap((p) =>
    p.model.corners.flatMap((c) => (p.legsOf(c.vertex).length > 0 ? c.uses(solved.legOf(c.vertex)) : [])),
  );
  return summed([...zones, ...stems, ...corners, ...fixedUses(parts)]);
};

const pricesArbitrary = (items: readonly string[]): fc.Arbitrary<Prices> => {
  const number = fc.integer({ min: 0, max: 64 }).map((n) => n / 16);
  const vector = fc.array(number, { minLength: TIERS, maxLength: TIERS });
  return fc.record({
    of: fc
      .array(vector, { minLength: items.length, maxLength: items.length })
      .map((list) => new Map(items.map((item, i): [string, Cost] => [item, [0, ...list[i]!.slice(1), 0]]))),
    carry: fc
      .array(vector, { minLength: TIERS, maxLength: TIERS })
      .map((rows) => rows.map((row, k) => row.map((x, j) => (j < k ? x : 0)))),
  });
};

describe.each(DRAWN_FIXTURES)('%s', (drawing) => {
  const { plan, catalogue, demands } = questionOfFixture(drawing);
  const searches = (prices: Prices | null) =>
    searchesOf(modelRuns(plan, catalogue, demands, DEFAULT_FIT_OPTIONS, costOrder(ORDER, prices)));

  it('takes what is drawn', () => {
    const parts = searches(null);
    const model = modelRuns(plan, catalogue, demands, DEFAULT_FIT_OPTIONS, costOrder(ORDER));
    const solved = together(
      { ...model, runs: parts.flatMap((p) => p.model.runs) },
      parts.map((p) => p.solve()),
    );
    const { pieces, ties } = emit(plan, catalogue, solved, []);
    const drawn = summed([...pieces, ...ties].flatMap((x) => (x.item ? [[x.item, 1] as const] : [])));
    expect(usesOf(parts, solved)).toEqual(drawn);
  });

  it('counts as many ties and units as are drawn', () => {
    const { pieces, ties, tiers } = fitPlan(plan, catalogue, demands, DEFAULT_FIT_OPTIONS).value;
    const units = pieces.filter((p) => p.item !== null).length;
    expect(tiers.find((t) => t.name === 'tiesAndUnits')!.value).toBe(units + ties.length);
  });

  it('costs in prices what it costs, carried, and the price of what it takes', () => {
    const items = [...new Set(catalogue.units.map((u) => u.id))];
    fc.assert(
      fc.property(pricesArbitrary(items), (prices) => {
        const parts = searches(prices);
        for (const part of parts) {
          part.solve();
          for (const { table, solution } of part.answers()) {
            const cost = unpriced(solution.cost, zoneUses(table, solution), prices);
            // Counts again, none of them short: nothing of the prices is left.
            expect(cost[1]).toBe(0);
            for (const x of cost.slice(0, TIERS)) expect(Math.abs(x * 2 - Math.round(x * 2))).toBeLessThan(1e-3);
          }
        }
      }),
      { numRuns: 2, seed: 7 },
    );
  });
});
