/**
 * Ties clear of bars: the worked example by hand (verticals of 16, ribs 1.1, tie 12, clear 20: centres at least 34.8 apart), the start that would
 * help, and laws. Stations of the example run from the inner vertex, 100 before it on the axis.
 */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { laterStarts } from '../../src/fit/barShift.js';
import { chooseStacks, DEFAULT_FIT_OPTIONS, fit as fitPlan } from '../../src/fit/index.js';
import type { Layout, RunDemand } from '../../src/ground/vocabulary.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { corner, onePlan } from '../support/straightPlan.js';

const ROW_LOADS = [25.78, 20.48, 12.0, 3.56];
const REACH_MM = (12 + 1.1 * 16) / 2 + 20;
const VERTEX = 100;

const layOut = (more: Pick<RunDemand, 'keepClear' | 'verticals'>, lengthMm = 6550) => {
  const plan = onePlan(lengthMm, 200, 2350, corner(0, 200, 'start'), corner(lengthMm, 200, 'end'));
  const stacks = chooseStacks(plan, workedExampleCatalogue, DEFAULT_FIT_OPTIONS).value;
  const { stack, rowLevelsMm } = stacks.get('W1')!;
  const rows = rowLevelsMm.map((levelMm, i) => ({
    row: i + 1,
    levelMm,
    kNPerM: ROW_LOADS[i]!,
    stripKnPerM: ROW_LOADS[i]!,
  }));
  const demands = new Map<string, RunDemand>([['W1', { stack, rows, designKpa: 43.1, ...more }]]);
  return fitPlan(plan, workedExampleCatalogue, demands, DEFAULT_FIT_OPTIONS);
};
const stations = (layout: Layout): number[] =>
  [...new Set(layout.ties.map((t) => t.stationMm - VERTEX))].sort((a, b) => a - b);
const widths = (layout: Layout): number[] =>
  layout.pieces
    .filter((p) => p.course === 1 && p.kind !== 'inside-corner' && p.covers[0]?.face === 'W1-L')
    .map((p) => p.covers[0]!)
    .sort((a, b) => a.fromMm - b.fromMm)
    .map((c) => c.toMm - c.fromMm);
const value = (layout: Layout, name: string): number => layout.tiers.find((t) => t.name === name)!.value;
const verticals = (spacingMm: number, firstMm: number) => ({
  verticals: { firstMm: VERTEX + firstMm, spacingMm, reachMm: REACH_MM },
});

describe('worked layout 11: bars against ties', () => {
  const free = layOut({});

  it('verticals at 200 from 100 leave the layout as it is: the other hole at each joint clears', () => {
    const heeded = layOut(verticals(200, 100));
    for (const name of ['failures', 'places', 'timberAreaM2', 'steelFillers', 'tiesAndUnits'])
      expect(value(heeded.value, name), name).toBe(value(free.value, name));
    const off = stations(heeded.value).map((s) => Math.abs(((((s - 100) % 200) + 300) % 200) - 100));
    expect(Math.min(...off)).toBeGreaterThanOrEqual(REACH_MM);
    expect(heeded.findings.map((f) => f.code)).toEqual(['fit.dead-fit']);
  });

  it('verticals at 100 from 0 shift the joints by one filler, and every tie stands 50 from a bar', () => {
    const { value: layout } = layOut(verticals(100, 0));
    expect(value(layout, 'failures')).toBe(0);
    expect(value(layout, 'places')).toBe(0);
    expect(widths(layout).filter((w) => w === 50 || w === 25)).toHaveLength(1);
    expect(stations(layout).every((s) => ((s % 100) + 100) % 100 === 50)).toBe(true);
  });

  it('no other start of bars at 100 does without a filler: 6050 takes holes of both kinds, 50 apart', () => {
    // The example by hand holds that a start 35 to 65 later changes nothing; it leaves the hole before the last leg out of account.
    const free50 = value(free.value, 'steelFillers');
    for (let later = 0; later < 100; later += 20) {
      const heeded = layOut(verticals(100, later));
      expect(value(heeded.value, 'steelFillers'), `later by ${later}`).toBeGreaterThan(free50);
      expect(heeded.findings.map((f) => f.code)).not.toContain('fit.bars-elsewhere');
    }
  });

  it('where all holes are of one kind, the start that would help is named, and helps', () => {
    // 6000 between the legs: ten panels of 600, every hole at a whole hundred.
    const length = 6500;
    const { findings } = layOut(verticals(100, 0), length);
    const [advice, ...more] = findings.filter((f) => f.code === 'fit.bars-elsewhere');
    expect(more).toEqual([]);
    expect(advice!.message).toContain('later by 35 to 65 mm');
    const helped = layOut(verticals(100, 50), length);
    expect(helped.value.tiers).toEqual(layOut({}, length).value.tiers);
    expect(helped.findings.map((f) => f.code)).not.toContain('fit.bars-elsewhere');
  });

  it('bars nearer together than a tie fits between cannot be kept clear of: said, and laid out without heed', () => {
    const { value: layout, findings } = layOut(verticals(60, 0));
    expect(findings.map((f) => f.code)).toContain('fit.ties-not-clear');
    expect(widths(layout).reduce((a, b) => a + b, 0)).toBe(6050);
  });
});

describe('places in the wall', () => {
  it('never hold a tie, wherever they are', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 200, max: 6300 }), { minLength: 1, maxLength: 4 }), (at) => {
        const keepClear = at
          .sort((a, b) => a - b)
          .map((s) => ({ fromMm: s - 40, toMm: s + 40 }))
          .filter((x, i, all) => i === 0 || x.fromMm > all[i - 1]!.toMm);
        const { value: layout, findings } = layOut({ keepClear });
        if (findings.some((f) => f.code === 'fit.ties-not-clear')) return;
        for (const { stationMm: s } of layout.ties)
          expect(
            keepClear.some((x) => s > x.fromMm && s < x.toMm),
            `tie at ${s}`,
          ).toBe(false);
      }),
      { numRuns: 3 },
    );
  });

  it('seen from the other end cost the same: the search looks at one end first', () => {
    const length = 2450;
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 150, max: length - 150 }), { minLength: 1, maxLength: 3 }), (at) => {
        const places = (stations: readonly number[]) =>
          stations
            .map((s) => ({ fromMm: s - 40, toMm: s + 40 }))
            .sort((a, b) => a.fromMm - b.fromMm)
            .filter((x, i, all) => i === 0 || x.fromMm > all[i - 1]!.toMm);
        // Overlapping places would be merged: those are left out on both sides alike.
        fc.pre(places(at).length === at.length);
        const [one, other] = [at, at.map((s) => length - s)].map((s) => layOut({ keepClear: places(s) }, length).value);
        fc.pre(!one!.work.cutShort && !other!.work.cutShort);
        for (const name of ['failures', 'places', 'timberAreaM2', 'steelFillers', 'tiesAndUnits'])
          expect(value(one!, name), name).toBeCloseTo(value(other!, name), 9);
      }),
      { numRuns: 3 },
    );
  });

  it('never make a layout cheaper', () => {
    const free = layOut({}).value;
    for (const at of [300, 2350]) {
      const heeded = layOut({ keepClear: [{ fromMm: at - 60, toMm: at + 60 }] }).value;
      const cost = (l: Layout) =>
        ['failures', 'places', 'timberAreaM2', 'steelFillers', 'tiesAndUnits'].map((n) => value(l, n));
      const [a, b] = [cost(free), cost(heeded)];
      const first = a.findIndex((x, i) => x !== b[i]);
      if (first >= 0) expect(b[first]!).toBeGreaterThan(a[first]!);
    }
  });
});

describe('starts of bars that clear all ties', () => {
  const reach = { firstMm: 0, spacingMm: 100, reachMm: 35 };

  it('are those of the worked example: 35 to 65 later', () => {
    expect(laterStarts(reach, [200, 800, 1400])).toEqual([{ fromMm: 35, toMm: 65 }]);
  });

  it('are none where ties ask for opposite starts, or bars stand too near', () => {
    expect(laterStarts(reach, [200, 850])).toEqual([]);
    expect(laterStarts({ ...reach, spacingMm: 60 }, [200])).toEqual([]);
  });

  it('keep every tie clear, and no start outside them does', () => {
    const station = fc.integer({ min: 0, max: 3000 });
    fc.assert(
      fc.property(
        fc.array(station, { minLength: 1, maxLength: 5 }),
        fc.integer({ min: 0, max: 199 }),
        (ties, first) => {
          const bars = { firstMm: first, spacingMm: 200, reachMm: 35 };
          const open = laterStarts(bars, ties);
          for (let later = 0; later < 200; later++) {
            const clear = ties.every((s) => {
              const past = (((s - first - later) % 200) + 200) % 200;
              return Math.min(past, 200 - past) >= 35;
            });
            const inside = open.some((i) => later >= i.fromMm && later <= i.toMm);
            // Openings of less than 5 mm are not offered.
            if (inside) expect(clear, `later by ${later}`).toBe(true);
            else if (clear) {
              const near = [-5, 5].every((d) => {
                const past = ties.map((s) => (((s - first - later - d) % 200) + 200) % 200);
                return past.every((p) => Math.min(p, 200 - p) >= 35);
              });
              expect(near, `later by ${later}`).toBe(false);
            }
          }
        },
      ),
    );
  });
});
