/**
 * Bars that run along a wall (rule T10): the rows that meet them give way, by another order of courses, another phase or no ties in that row, where the rest
 * stands and carries; what is then drawn is held against the bars by distances worked out here anew.
 */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demoCatalogue } from '../../src/catalogue/index.js';
import { carriesOnRows, horizontalLevels } from '../../src/check/index.js';
import { cornerHouseModel, ifcText } from '../support/houseModel.js';
import { laidOut, layFile, laySheet } from '../support/lay.js';
import { cornerHouse, loneWall } from '../support/scenes.js';
import type { Sheet } from '../support/sheet.js';
import { standAndLay } from '../support/standing.js';
import { freeEnd, onePlan } from '../support/straightPlan.js';

const JOB = {
  levels: { footingMm: 0, topMm: 2350 },
  concrete: { rateMPerH: 1.5, temperatureC: 15 },
  catalogue: 'demo',
};
const BAR_MM = 12;
const BARS = { diameterMm: BAR_MM, coverMm: 50, faces: 'both' as const };
const TIE_MM = Math.max(...demoCatalogue.ties.map((t) => t.diameterMm));
/** Rod and bar with its ribs, and 20 between them. */
const reachMm = (tieMm: number) => (tieMm + 1.1 * BAR_MM) / 2 + 20;
const horizontals = (firstMm: number, spacingMm = 250) => ({
  reinforcement: { horizontals: { diameterMm: BAR_MM, spacingMm, firstMm } },
});
type Outcome = ReturnType<typeof laidOut>;
const lay = (sheet: Sheet, firstMm: number): Outcome =>
  laidOut(laySheet(sheet, { ...JOB, ...horizontals(firstMm), output: { sheets: false } }));
const house = (firstMm: number): Outcome => lay(cornerHouse, firstMm);
const alone = (firstMm: number): Outcome => lay(loneWall(2400, 200), firstMm);
const codes = ({ result }: Outcome) => result.findings.map((f) => f.code);
const levels = ({ result }: Outcome) => [...new Set(result.layout.ties.map((t) => t.levelMm))].sort((a, b) => a - b);
/** How much nearer to a bar a tie comes than it may; at most 0 where all is well. */
const tooNearMm = ({ result }: Outcome, firstMm: number, spacingMm = 250): number => {
  const tieMm = Math.max(...result.catalogue.ties.map((t) => t.diameterMm));
  return Math.max(
    ...levels({ result } as Outcome).map((z) => {
      const past = (((z - firstMm) % spacingMm) + spacingMm) % spacingMm;
      return reachMm(tieMm) - Math.min(past, spacingMm - past);
    }),
  );
};

describe('a row that meets horizontal bars', () => {
  it('gives way where the others carry, is said once for all walls, and the start that would help does help', () => {
    const given = house(100);
    expect(tooNearMm(given, 100)).toBeLessThanOrEqual(0);
    expect(codes(given)).not.toContain('check.tie-bar');
    const said = given.result.findings.filter((f) => f.code === 'fit.row-left-out');
    expect(said).toHaveLength(1);
    expect(said[0]!.message).toContain('The tie row at 2100 of');
    const [, from, to] = /start (\d+) to (\d+) mm higher/.exec(said[0]!.message)!.map(Number) as [
      number,
      number,
      number,
    ];
    for (const later of [from, to]) {
      const moved = alone(100 + later);
      expect(codes(moved), `later by ${later}`).not.toContain('fit.row-left-out');
      expect(codes(moved), `later by ${later}`).not.toContain('check.tie-bar');
      expect(levels(moved)).toContain(2100);
    }
    // Just before it another row meets a bar.
    expect(codes(alone(100 + from - 2)).some((c) => c === 'fit.row-left-out' || c === 'fit.rows-not-clear')).toBe(true);
  });

  it('that the wall cannot do without stays, and is a failure with the same advice', () => {
    const met = alone(150);
    expect(codes(met)).toContain('check.tie-bar');
    const said = met.result.findings.filter((f) => f.code === 'fit.rows-not-clear');
    expect(said).toHaveLength(1);
    expect(said[0]!.message).toMatch(/The tie row at 900 of .* start 34 to 66 mm higher/);
  });

  it('at any start: clear of every bar, or said', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 249 }), (firstMm) => {
        const laid = alone(firstMm);
        const isClear = tooNearMm(laid, firstMm) <= 0.5;
        expect(codes(laid).includes('fit.rows-not-clear')).toBe(codes(laid).includes('check.tie-bar'));
        if (!isClear) expect(codes(laid)).toContain('check.tie-bar');
        expect(laid.result.findings.filter((f) => f.severity === 'failure' && f.code !== 'check.tie-bar')).toEqual([]);
      }),
      { numRuns: 4 },
    );
  });

  it('is looked for in a model too, where a bar lies in one wall alone', async () => {
    // The wall along the street: 9000 long, its axis at y = 100.
    const path = [500, 8500].map((x) => [x, 160, 2100] as const);
    const model = ifcText({ ...cornerHouseModel, bars: [{ name: 'H12', diameterMm: BAR_MM, path }] });
    const laid = laidOut(await layFile(new TextEncoder().encode(model), JOB, 'house.ifc'));
    expect(codes(laid)).not.toContain('check.tie-bar');
    const wall = laid.result.plan.walls.find((w) => w.start.y === 100 && w.end.y === 100)!;
    const own = laid.result.layout.ties.filter((t) => t.wall === wall.id);
    expect(own.some((t) => t.levelMm === 1500)).toBe(true);
    expect(own.filter((t) => Math.abs(t.levelMm - 2100) < reachMm(12))).toEqual([]);
    expect(laid.result.layout.ties.some((t) => t.wall !== wall.id && t.levelMm === 2100)).toBe(true);
  });
});

describe('what is not left out', () => {
  const tall = (firstMm: number, spacingMm: number, heightMm = 3000) =>
    laidOut(
      laySheet(loneWall(2400, 200), {
        ...JOB,
        levels: { footingMm: 0, topMm: heightMm },
        concrete: { rateMPerH: 0.8, temperatureC: 20 },
        ...horizontals(firstMm, spacingMm),
        output: { sheets: false },
      }),
    );

  it('rows without which a course would have none, its foot held instead', () => {
    for (const firstMm of [50, 1]) {
      const { result } = tall(firstMm, 100);
      const bases = new Map(result.layout.pieces.map((p) => [`${p.baseMm} ${p.topMm}`, [p.baseMm, p.topMm] as const]));
      const own = [...new Set(result.layout.ties.map((t) => t.levelMm))];
      for (const [base, top] of bases.values())
        expect(
          own.some((z) => z > base && z < top),
          `${base} to ${top}`,
        ).toBe(true);
      expect(result.findings.map((f) => f.code)).not.toContain('check.base-held');
    }
  });

  it('any row, while another meets a bar all the same', () => {
    const { result } = tall(27, 100);
    const metRows = result.findings.filter((f) => f.code === 'check.tie-bar');
    const outRows = result.findings.filter((f) => f.code === 'fit.row-left-out');
    expect(Math.min(metRows.length, outRows.length)).toBe(0);
    const dense = tall(25, 50, 2350);
    expect(dense.result.findings.map((f) => f.code)).not.toContain('fit.row-left-out');
    expect(dense.result.findings.map((f) => f.code)).toContain('fit.rows-not-clear');
  });

  it('and no start is named that does not help', () => {
    for (const firstMm of [27, 50, 1]) {
      const { result } = tall(firstMm, 100);
      const said = result.findings.find((f) => f.code === 'fit.row-left-out' || f.code === 'fit.rows-not-clear');
      const window = /start (\d+) to (\d+) mm higher/.exec(said?.message ?? '');
      if (!window) continue;
      const moved = tall(firstMm + (Number(window[1]) + Number(window[2])) / 2, 100).result.findings.map((f) => f.code);
      expect(
        moved.filter((c) => c === 'fit.row-left-out' || c === 'check.tie-bar'),
        `from ${firstMm}`,
      ).toEqual([]);
    }
  });
});

describe('courses and phase', () => {
  const stood = (heightMm: number, firstMm: number, pitchMm = demoCatalogue.pitchMm) => {
    const plan = onePlan(2400, 200, heightMm, freeEnd(0, 'start'), freeEnd(2400, 'end'));
    const job = { concrete: { method: 'aci-347-si', rateMPerH: 0.8, temperatureC: 20 }, ...horizontals(firstMm, 5000) };
    return standAndLay(plan, { ...demoCatalogue, pitchMm }, job);
  };

  it('stand in another order where that clears a bar and nothing else changes', () => {
    const plain = stood(2950, 4000).stacks.get('W1')!;
    expect(plain.stack.heightsMm).toEqual([2400, 600]);
    const turned = stood(2950, 2550).stacks.get('W1')!;
    expect(turned.stack.heightsMm).toEqual([600, 2400]);
    expect(turned.leftOutMm).toBeUndefined();
    expect(turned.rowLevelsMm.every((z) => Math.abs(z - 2550) >= reachMm(12))).toBe(true);
  });

  it('are lifted, as little as clears the bar, where no row can be left out', () => {
    // The lowest row carries most: one course of 2400 does not do without it.
    expect(stood(2350, 4000, 150).stacks.get('W1')!.stack.baseMm).toBe(0);
    const lifted = stood(2350, 300, 150).stacks.get('W1')!;
    const least = Math.ceil(reachMm(TIE_MM) / 5) * 5;
    expect(lifted.stack.baseMm).toBe(least);
    expect(lifted.metMm).toBeUndefined();
    expect(stood(2350, 300, 25).stacks.get('W1')!.metMm).toEqual([300]);
  });
});

describe('walls of any height', () => {
  it('hold, on their side or upright, on the rows that bars leave them, and keep clear of bars unless it is said', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 12, max: 60 }).map((x) => 50 * x),
        fc.integer({ min: 0, max: 299 }),
        fc.constantFrom(150, 200, 300),
        (heightMm, firstMm, spacingMm) => {
          const plan = onePlan(2400, 200, heightMm, freeEnd(0, 'start'), freeEnd(2400, 'end'));
          const concrete = { method: 'aci-347-si', rateMPerH: 0.8, temperatureC: 20 };
          const laid = standAndLay(plan, demoCatalogue, { concrete, ...horizontals(firstMm, spacingMm) });
          expect(laid.failures.map((f) => f.message)).toEqual([]);
          const { metMm = [] } = laid.stacks.get('W1')!;
          const own = horizontalLevels(plan.walls[0]!, { ...BARS, firstMm, spacingMm });
          for (const { levelMm } of laid.layout.ties) {
            const nearest = Math.min(...own.map((z) => Math.abs(z - levelMm)));
            expect(metMm.includes(levelMm) || nearest >= reachMm(TIE_MM), `${levelMm} of ${heightMm}`).toBe(true);
          }
        },
      ),
      { numRuns: 5 },
    );
  });
});

describe('carrying on some rows', () => {
  const [panel] = demoCatalogue.units.filter((u) => u.kind === 'panel' && u.heightMm === 2400 && u.widthMm === 600);
  const uniform = (kpa: number) => ({
    method: 'by hand',
    designKpa: kpa,
    rateMPerH: 1,
    temperatureC: 15,
    pourHeightMm: 2400,
    inputs: {},
    envelope: { points: [{ depthMm: 1, kpa }] },
  });
  const carries = (kpa: number, rowLevelsMm: readonly number[], workingKn = 1000) =>
    carriesOnRows({
      units: [panel!],
      stack: { baseMm: 0, heightsMm: [2400] },
      rowLevelsMm,
      allLevelsMm: [300, 900, 1500, 2100],
      footingMm: 0,
      topMm: 2400,
      pressure: uniform(kpa),
      workingKn,
    });

  it('asks whether panels bear the wider gap: 60 kPa at 600, 60 / 8 at 1200', () => {
    expect(carries(7.4, [300, 1500, 2100])).toBe(true);
    expect(carries(7.6, [300, 1500, 2100])).toBe(false);
    expect(carries(7.6, [300, 900, 1500, 2100])).toBe(true);
  });

  it('asks whether ties bear half of the widest panel: two rows by the lever', () => {
    // 5 kPa all over 2.4 m, rows at 0.3 and 1.5: moments about the lower one give the upper 5 x 2.4 x (1.2 - 0.3) / 1.2 = 9 kN/m, and never more before it is full.
    const perTie = (9 * (panel!.widthMm / 1000)) / 2;
    expect(carries(5, [300, 1500], perTie * 1.001)).toBe(true);
    expect(carries(5, [300, 1500], perTie * 0.999)).toBe(false);
  });
});
