/**
 * Panels on their side: the worked layouts of the low beam (13) and of the step's stack (5), number for number; laws; and all sequences of short low
 * walls, tried one by one with reactions by the stiffness matrix of the chain. The demo numbers are the worked examples' own (common practice, no
 * source, where they speak of overhang and rating).
 */

import { describe, expect, it } from 'vitest';
import { demoCatalogue, demoInchCatalogue } from '../../src/catalogue/index.js';
import { beamReactions } from '../../src/check/beam.js';
import { check, rowLoads } from '../../src/check/index.js';
import type { Catalogue, Layout, Piece } from '../../src/ground/vocabulary.js';
import { planOf, roomStretches, stretch } from '../check/support.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { type HandUnit, handLaid } from '../support/handLaid.js';
import { allUpright, compareCosts, standAndLay } from '../support/standing.js';
import { freeEnd, onePlan } from '../support/straightPlan.js';

const between = (layout: Layout, face: string, from: number, to: number): Piece[] =>
  layout.pieces.filter((p) => p.covers[0]?.face === face && p.covers[0].fromMm >= from && p.covers[0].toMm <= to);
const FLUID = {
  points: [
    { depthMm: 0, kpa: 0 },
    { depthMm: 3000, kpa: 70.608 },
  ],
};

describe('worked layout 13: a beam 450 high, 300 thick, inner face 7250', () => {
  const plan = planOf(roomStretches(7250, 7250, 300), 450);
  const fitted = standAndLay(plan, workedExampleCatalogue);
  /** Station of the inner vertex of wall W1. */
  const AT = 150;
  const units: HandUnit[] = [
    ['panel-450x2400', true, 150, [450, 1050, 1650, 2250]],
    ['panel-450x2400', true, 2550, [2850, 3450, 4050, 4650]],
    ['panel-450x1200', true, 4950, [5250, 5850]],
    ['panel-500x600', false, 6150, [6200]],
    ['panel-450x600', false, 6650, [6700, 7050]],
  ].map(([item, turned, from, ties], i, all) => ({
    item: item as string,
    turned: turned as boolean,
    fromMm: (from as number) + AT,
    toMm: ((all[i + 1]?.[2] as number) ?? 7100) + AT,
    tiesMm: (ties as number[]).map((s) => s + AT),
  }));
  const rows = [50, 300, 400].map((levelMm, i) => ({ row: i + 1, levelMm }));
  const byHand = handLaid(plan, workedExampleCatalogue, fitted.layout, 'W1', units, rows);
  const checked = check({ ...fitted, layout: byHand });

  it('has its rows at 50 and 400 with 1.70 and 0.68 kN/m on the side, and 1.19 with a held foot for 1.19 upright', () => {
    const ask = (heightsMm: number[], rowLevelsMm: number[]) =>
      rowLoads({ stack: { baseMm: 0, heightsMm }, rowLevelsMm, footingMm: 0, topMm: 450, envelope: FLUID });
    // Statics of the page that corrects the worked layouts: the resultant 2.38 acts 150 up, so 1.70 / 0.68; upright F z_c / z_1.
    const lain = ask([450], [50, 400]);
    expect(lain.findings).toEqual([]);
    const exact = beamReactions({
      jointsM: [0, 0.45],
      supportsM: [0.05, 0.4],
      loads: [{ lowMm: 0, highMm: 450, lowKpa: 10.5912, highKpa: 0 }],
    })!;
    expect(exact.map((r) => r.toFixed(2))).toEqual(['1.70', '0.68']);
    // No row is taken below its strip: the lower one has 225 of height, the upper one its statics.
    expect(lain.value.map((r) => r.stripKnPerM.toFixed(2))).toEqual(['1.79', '0.60']);
    expect(lain.value.map((r) => r.kNPerM.toFixed(2))).toEqual(['1.79', '0.68']);
    const upright = ask([600], [300]);
    expect(upright.findings.map((f) => f.code)).toEqual(['check.base-held']);
    expect(upright.findings[0]!.message).toContain('held for 1.19 kN/m');
  });

  it('holds under the check as worked by hand: five units, thirteen columns of ties', () => {
    expect(checked.findings.filter((f) => f.severity === 'failure')).toEqual([]);
    const own = checked.value.ties.filter((t) => t.wall === 'W1');
    const stations = [...new Set(own.map((t) => t.stationMm - AT))].sort((a, b) => a - b);
    expect(stations).toEqual([450, 1050, 1650, 2250, 2850, 3450, 4050, 4650, 5250, 5850, 6200, 6700, 7050]);
    // Half-gaps of the hand calculation; a column's share of all its rows is 2.38 kN/m.
    const width = (s: number) => {
      const column = own.filter((t) => t.stationMm - AT === s);
      const upright = s > 6150;
      const perM = upright ? 2.3836 : column.reduce((sum, t) => sum + t.stripKn, 0);
      return upright ? (column[0]!.stripKn / perM) * 1000 : (perM / 2.3836) * 1000;
    };
    expect(stations.map((s) => Math.round(width(s)))).toEqual([750, ...Array(8).fill(600), 475, 425, 425, 425]);
    // On the inner face alone the last one has half of 350 and 200 to the vertex, 375, and all of them are its length.
    expect(750 + 8 * 600 + 475 + 425 + 425 + 375).toBe(7250);
    expect(own.reduce((sum, t) => Math.max(sum, t.loadKn), 0)).toBeLessThan(1.8);
  });

  it('is laid out by the fit with five units too, and at no greater cost', () => {
    expect(fitted.failures).toEqual([]);
    for (const side of ['left', 'right'] as const) {
      const face = plan.faces.find((f) => f.wall === 'W1' && f.side === side)!.id;
      const own = between(fitted.layout, face, AT + 150, AT + 7100);
      expect(own.map((p) => p.item).sort()).toEqual(units.map((u) => u.item).sort());
      expect(own.filter((p) => p.turned).map((p) => p.topMm)).toEqual([450, 450, 450]);
    }
    const fittedTies = fitted.layout.ties.filter((t) => t.wall === 'W1').length;
    expect(fittedTies).toBeLessThanOrEqual(byHand.ties.filter((t) => t.wall === 'W1').length);
    expect(fitted.layout.tiers.every((t) => t.optimal || t.name === 'kinds')).toBe(true);
  });

  it('is not held where two holes of a long panel are left without ties: it spans too far', () => {
    const few = units.map((u, i) => (i === 0 ? { ...u, tiesMm: [u.tiesMm[0]!, u.tiesMm[3]!] } : u));
    const layout = handLaid(plan, workedExampleCatalogue, fitted.layout, 'W1', few, rows);
    const { findings } = check({ ...fitted, layout });
    expect(findings.filter((f) => f.severity === 'failure').map((f) => f.code)).toContain('check.rating');
    // 60 x (600 / 1800)^3.
    expect(findings.find((f) => f.code === 'check.rating')!.message).toContain('rated 2.2 over its span of 1800 mm');
  });
});

describe('worked layout 5: the stack beside a step of 310, pour line at 2660', () => {
  // Four columns of 600 on the low side, six on the high one; the free ends let the forms begin where the hand calculation has them.
  const plan = onePlan(
    6000,
    200,
    2660,
    freeEnd(110, 'start'),
    freeEnd(5890, 'end'),
    [],
    [
      [110, 0],
      [2400, 310],
    ],
  );
  const fitted = standAndLay(plan, workedExampleCatalogue);
  const levels = (from: number, to: number) =>
    [...new Set(fitted.layout.ties.filter((t) => t.stationMm > from && t.stationMm < to).map((t) => t.levelMm))].sort(
      (a, b) => a - b,
    );

  it('is 10 + 2400 + 300 on its side = 310 + 2400, one level on top', () => {
    expect(fitted.failures).toEqual([]);
    expect(fitted.stacks.get('W1.1')).toMatchObject({ stack: { baseMm: 10 }, turnedTop: { heightMm: 300 } });
    for (const face of ['W1-L', 'W1-R']) {
      const low = between(fitted.layout, face, 0, 2400).filter((p) => p.course > 0);
      expect(low.filter((p) => p.course === 1).map((p) => [p.baseMm, p.topMm])).toEqual(Array(4).fill([10, 2410]));
      expect(low.filter((p) => p.course === 2)).toMatchObject([
        { item: 'panel-300x2400', turned: true, baseMm: 2410, topMm: 2710 },
      ]);
      const high = between(fitted.layout, face, 2400, 6000).filter((p) => p.course === 1);
      expect(high.map((p) => [p.baseMm, p.topMm])).toEqual(Array(6).fill([310, 2710]));
    }
    const bulkheads = fitted.layout.pieces.filter((p) => p.kind === 'bulkhead' && p.covers[0]!.face === 'W1-S');
    expect(bulkheads.map((p) => [p.baseMm, p.topMm])).toEqual([
      [10, 2410],
      [2410, 2710],
    ]);
  });

  it('has its rows at 310 910 1510 2110 2460 low and 610 1210 1810 2410 high', () => {
    expect(levels(0, 2400)).toEqual([310, 910, 1510, 2110, 2460]);
    expect(levels(2400, 6000)).toEqual([610, 1210, 1810, 2410]);
  });

  it('costs less than the two upright courses of the same height', () => {
    const upright = standAndLay(plan, allUpright(workedExampleCatalogue));
    expect(upright.stacks.get('W1.1')!.stack.heightsMm).toEqual([1800, 900]);
    expect(compareCosts(fitted.layout.tiers, upright.layout.tiers)).toBeLessThan(0);
    // What was not searched for is not claimed to be least.
    expect(fitted.layout.tiers.find((t) => t.name === 'tiesAndUnits')).toMatchObject({ bound: null, optimal: false });
  });

  it('is refused by the check when the panel on its side is moved off the joints below', () => {
    const moved = fitted.layout.pieces.map((p) =>
      p.turned ? { ...p, covers: p.covers.map((c) => ({ ...c, fromMm: c.fromMm - 100, toMm: c.toMm - 100 })) } : p,
    );
    const { findings } = check({ ...fitted, layout: { ...fitted.layout, pieces: moved } });
    const codes = findings.map((f) => f.code);
    expect(codes).toContain('check.turned-joint');
    expect(codes).toContain('check.tie-hole');
  });
});

describe('a stack that stands on its rows', () => {
  it.each([
    // A foot that would move in is no stack: 600 high on a row at 150 under 470 of concrete.
    [470, [900], [250]],
    [1200, [1200], [300, 900]],
    // The upper row of the 900 would be pushed under 650 of concrete and is left without ties.
    [2450, [1800, 900], [300, 900, 1500, 2100], workedExampleCatalogue],
  ] as [number, number[], number[], Catalogue?][])('%d high', (topMm, heightsMm, rows, yard = demoCatalogue) => {
    const plan = planOf([stretch(0, 0, 5000, 0, 200, [true, true])], topMm);
    const { stacks, failures } = standAndLay(plan, allUpright(yard));
    expect(failures).toEqual([]);
    expect(stacks.get('W1')).toMatchObject({ stack: { heightsMm }, rowLevelsMm: rows });
  });
});

describe('laws', () => {
  const ell = (flip: 1 | -1) => [
    stretch(0, 0, 6000 * flip, 0, 200, flip === 1 ? [true, false] : [true, false]),
    stretch(6000 * flip, 0, 6000 * flip, 4000, 200, [false, true]),
  ];
  it.each([
    [450, workedExampleCatalogue],
    [120, demoCatalogue],
    [304.8, demoInchCatalogue],
    [2900, workedExampleCatalogue],
    [3000, demoCatalogue],
    [3048, demoInchCatalogue],
  ] as [number, Catalogue][])(
    '%d high: leave to set panels on their side never costs more, and its mirror image costs the same',
    (topMm, yard) => {
      const plans = [1, -1].map((flip) => planOf(ell(flip as 1 | -1), topMm, yard.gridMm));
      const [own, mirrored] = plans.map((plan) => standAndLay(plan, yard));
      expect(own!.failures).toEqual([]);
      expect(own!.layout.pieces.some((p) => p.turned)).toBe(true);
      expect(compareCosts(own!.layout.tiers, standAndLay(plans[0]!, allUpright(yard)).layout.tiers)).toBeLessThan(0);
      expect(compareCosts(own!.layout.tiers, mirrored!.layout.tiers)).toBe(0);
    },
  );
});
