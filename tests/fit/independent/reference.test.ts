/**
 * The two independent answers to one run, by enumeration and by a mixed-integer program, held against each other, against runs worked by hand and
 * against the stiffness matrix of the chain.
 */

import { describe, expect, it } from 'vitest';
import { DEFAULT_FIT_OPTIONS } from '../../../src/fit/index.js';
import { matrixReactions } from '../../support/chainMatrix.js';
import { bruteForce } from './bruteForce.js';
import { milp } from './milp.js';
import { ANY_FILLERS, type FillerRule, type Zone } from './problem.js';
import { referenceZone, type WallCase } from './wall.js';
import { type Yard, yardOf } from './yards.js';

const SWEEP = process.env.SWEEP !== undefined;
const ONE_FILLER: FillerRule = { mostPerPanel: 1, bothEdges: false };

const corner = { kind: 'corner', otherMm: 250 } as const;
const free = { kind: 'free', otherMm: 0 } as const;

const wall = (yard: Yard, zoneMm: number, more: Partial<WallCase> = {}): WallCase => {
  const legMm = yard.legs?.[0] ?? 150;
  const ends = { start: corner, end: corner, ...more };
  const legs = [ends.start, ends.end].filter((e) => e.kind === 'corner').length;
  return {
    catalogue: yardOf(yard),
    innerMm: zoneMm + legs * legMm,
    thicknessMm: 250,
    designKpa: 43.1,
    tieStripMm: 776,
    ...ends,
    ...more,
  };
};

const zone = (yard: Yard, zoneMm: number, more: Partial<WallCase> = {}): Zone =>
  referenceZone(wall(yard, zoneMm, more), ANY_FILLERS);

describe('enumeration of short runs worked by hand', () => {
  it('two 450 between legs: three ties, two outer panels of 400', () => {
    // Common zone 900; each panel on both faces makes 4 units, the two outer end zones 250 + 150 one each.
    expect(bruteForce(zone({ widths: [450, 400], fillers: [] }, 900))!.cost).toEqual([0, 0, 0, 3 + 4 + 2, 0]);
  });

  it('a stretch of 930 takes 2 x 400 and timber 130: one place, two faces', () => {
    // 130 is a group without a tie between two that stand by themselves: 4 ties.
    expect(bruteForce(zone({ widths: [400], fillers: [] }, 930))!.cost).toEqual([1, 260, 0, 4 + 4 + 2, 0]);
  });

  it('two 200 in a row between legs would need a tie that is pushed', () => {
    // Matrix of the chain: the middle tie on either side leaves one of the three negative (tests/fit/workedLayouts.test.ts).
    const thick = {
      start: { kind: 'corner', otherMm: 350 },
      end: { kind: 'corner', otherMm: 350 },
      thicknessMm: 350,
    } as const;
    const found = bruteForce(
      zone({ widths: [600, 500, 200], fillers: [] }, 400, { ...thick, designKpa: 30, tieStripMm: 900 }),
    )!;
    expect(found.placed.map((p) => p.group.panelMm)).toEqual([200]);
    expect(found.cost[0]).toBe(2);
  });

  it('a free end takes the least run past that panels reach', () => {
    // From the leg at 150: 150 + 3 x 600 = 1950, concrete to 1830, so 120 beyond, 20 more than the least.
    const found = bruteForce(zone({ widths: [600, 400], fillers: [50] }, 1680, { end: free }))!;
    expect(found.cost).toEqual([0, 0, 0, 4 + 6 + 1, 20]);
    expect(found.placed.at(-1)!.fromMm + found.placed.at(-1)!.tiesMm.at(-1)!).toBeGreaterThanOrEqual(1830 + 56);
  });

  it('one panel carries a stiff 50 at both edges: 50 | 600 | 50', () => {
    // At 10 kPa the moment in each joint is 10 x 0.05 x 0.65 / 2 = 0.16 kNm/m, far below 0.8; each tie carries 300 + 350 = 650 of strip.
    const found = bruteForce(
      zone({ widths: [600], fillers: [50] }, 700, {
        thicknessMm: 450,
        designKpa: 10,
        start: { kind: 'corner', otherMm: 450 },
        end: { kind: 'corner', otherMm: 450 },
      }),
    )!;
    expect(found.placed.map((p) => p.group.name)).toEqual(['(50) 600 (50)']);
    expect(found.cost).toEqual([0, 0, 4, 2 + 6 + 2, 0]);
  });
});

describe('more ties than statics needs', () => {
  it('a joint both of whose sides stand by themselves may hand on any strip: 250 400 | 400 250 on six ties', () => {
    // By symmetry nothing is handed on at the middle. The 400 stands on its left hinge and the tie at 350: 400 x 200 / 350 = 228.6, hinge 171.4.
    // The 250 carries 250 + 200 + 171.4: about its left edge 150 R2 = 250 x 125 + 250 x 171.4 - 50 x 621.4, so R2 = 286.9, R1 = 334.5.
    // Equal elastic ties have the same, by symmetry too.
    const reactions = matrixReactions([0, 250, 650, 1050, 1300], [50, 200, 600, 700, 1100, 1250], 200, 200)!;
    expect(reactions.map((r) => Math.round(r * 10) / 10)).toEqual([334.5, 286.9, 228.6, 228.6, 286.9, 334.5]);
    const z = zone({ widths: [600, 400, 250], fillers: [], ratedKpa: 80, timberLeastMm: 300 }, 1300, {
      tieStripMm: 391,
      designKpa: 10,
    });
    expect(bruteForce(z)!.cost).toEqual([0, 0, 0, 6 + 8 + 2, 0]);
  });
});

describe('panels without a rated span', () => {
  it('are judged by their own width, whatever else the yard owns: two 450 beside a 200 that is not used', () => {
    // Overhang 75 of a 450: 43.1 (75^2 / 2 + 75 v) at most 60 x 450^2 / 8 leaves v up to 432; what hangs there is at most 225.
    const yard = { fillers: [], ratedSpanMm: 0, holeMm: 75, overhangMm: 100 };
    const thick = { start: { kind: 'corner', otherMm: 300 }, end: { kind: 'corner', otherMm: 300 } } as const;
    for (const widths of [[450], [450, 200]])
      expect(bruteForce(zone({ ...yard, widths }, 900, { ...thick, tieStripMm: 613 }))!.cost).toEqual([0, 0, 0, 9, 0]);
  });
});

describe('the chain of the enumeration', () => {
  const yards: Yard[] = [
    { widths: [600, 400, 250], fillers: [50] },
    { widths: [450, 300, 200], fillers: [] },
  ];
  it.each(yards)('has the reactions of the matrix wherever ties are just as many as statics needs: $widths', (yard) => {
    let judged = 0;
    for (let zoneMm = 500; zoneMm <= 2200; zoneMm += 50) {
      for (const tieStripMm of [467, 776]) {
        const z = zone(yard, zoneMm, { tieStripMm });
        const found = bruteForce(z);
        if (!found) continue;
        const joints = [found.start.jointMm, ...found.placed.map((p) => p.fromMm + p.group.lengthMm)];
        const ties = found.placed.flatMap((p) => p.tiesMm.map((h) => p.fromMm + h));
        if (ties.length !== joints.length) continue;
        judged++;
        for (const face of [0, 1] as const) {
          const reactions = matrixReactions(joints, ties, found.start.shearsMm[face], found.end.shearsMm[face])!;
          expect(Math.min(...reactions)).toBeGreaterThanOrEqual(-1e-6);
          expect(Math.max(...reactions)).toBeLessThanOrEqual(tieStripMm + 1e-6);
        }
      }
    }
    expect(judged).toBeGreaterThan(20);
  });
});

describe('mixed-integer program', () => {
  const yard: Yard = { widths: [600, 400, 250], fillers: [50] };
  const few: Yard = { widths: [500, 350], fillers: [] };
  const cases: [string, Yard, number, Partial<WallCase>][] = [
    ['two panels', yard, 850, {}],
    ['a filler', yard, 700, {}],
    ['ties at their limit', few, 1000, { tieStripMm: 467 }],
    ['timber between panels', few, 880, {}],
    ['a pad beside a leg', few, 590, {}],
    ['a free end', yard, 900, { end: free }],
    ['a place where no tie may stand', yard, 850, { keepClear: [{ fromMm: 170, toMm: 230 }] }],
    ['nothing that stands', few, 420, { keepClear: [{ fromMm: 100, toMm: 900 }] }],
  ];
  // Every mm of run past is a choice of its own: fewer here.
  const options = { ...DEFAULT_FIT_OPTIONS, runPastMostMm: 150 };
  const hold = (y: Yard, zoneMm: number, more: Partial<WallCase>) => {
    const z = referenceZone(wall(y, zoneMm, more), ONE_FILLER, { options });
    expect(milp(z)?.cost, `${y.widths}: ${zoneMm}`).toEqual(bruteForce(z)?.cost);
  };
  it.each(cases)('costs what enumeration finds: %s', (_, y, zoneMm, more) => hold(y, zoneMm, more));

  it('costs what enumeration finds, over lengths', () => {
    const stepMm = SWEEP ? 50 : 450;
    for (const y of [yard, few])
      for (const tieStripMm of [467, 776])
        for (let zoneMm = 400; zoneMm <= (SWEEP ? 1600 : 900); zoneMm += stepMm) hold(y, zoneMm, { tieStripMm });
  }, 3_600_000);
});
