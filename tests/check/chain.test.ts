/** Chain reactions of the worked layouts, in mm of strip, and the statements about stability. References were worked out beforehand by another program. */

import { describe, expect, it } from 'vitest';
import { chainReactions, fixedGroups, isFixed, pressureCase, rowLoads } from '../../src/check/index.js';
import { overhangLimit } from '../../src/check/solveLine.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';

const cum = (from: number, widths: readonly number[]): number[] => {
  const joints = [from];
  for (const w of widths) joints.push(joints[joints.length - 1]! + w);
  return joints;
};
const many = (n: number, w: number): number[] => Array<number>(n).fill(w);
const leftHoles = (joints: readonly number[]): number[] => [
  ...joints.slice(0, -1).map((j) => j + 50),
  joints[joints.length - 1]! - 50,
];

const solve = (
  jointsMm: readonly number[],
  supportsMm: readonly number[],
  startShearMm = 0,
  endShearMm = 0,
  loadedMm?: readonly [number, number],
) => chainReactions({ jointsMm, supportsMm, startShearMm, endShearMm, ...(loadedMm ? { loadedMm } : {}) })!.reactionsMm;

const round = (list: readonly number[]): number[] => list.map((x) => Math.round(x));
const total = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/** Largest ratio of exact reactions to half-gap strips. */
const worstRatio = (exact: readonly number[], gaps: readonly number[]): number =>
  Math.max(...exact.map((r, i) => r / gaps[i]!));

const gapsBetween = (ties: readonly number[], low: number, high: number, held: boolean): number[] =>
  ties.map((s, i) => {
    const before = i > 0 ? (s - ties[i - 1]!) / 2 : held ? (s - low) / 2 : s - low;
    const after = i + 1 < ties.length ? (ties[i + 1]! - s) / 2 : held ? (high - s) / 2 : high - s;
    return before + after;
  });

/** A wall of inside length 6350 between corners, legs 150, outer zones 350: both faces with the same ties. */
const both = (widths: readonly number[], ties: readonly number[]) => {
  const joints = cum(150, widths);
  const inner = solve(joints, ties, 150, 150);
  const outer = solve([-200, ...joints, 6550], [-200, ...ties, 6550]);
  return { inner, outer: outer.slice(1, -1), held: [outer[0]!, outer[outer.length - 1]!] };
};

describe('worked layout 1', () => {
  const widths = [...many(9, 600), 400, 250];
  const ties = leftHoles(cum(150, widths));
  const b = both(widths, ties);

  it('sequence B: ties and reactions of both faces', () => {
    expect(ties).toEqual([200, 800, 1400, 2000, 2600, 3200, 3800, 4400, 5000, 5600, 6000, 6150]);
    expect(round(b.inner)).toEqual([491, 610, 599, 600, 600, 600, 600, 600, 600, 514, 256, 280]);
    expect(round(b.outer)).toEqual([518, 607, 599, 600, 600, 600, 600, 600, 600, 514, 248, 313]);
    expect(round(b.held)).toEqual([175, 175]);
    expect(total(b.inner)).toBeCloseTo(6350, 6);
    expect(total([...b.outer, ...b.held])).toBeCloseTo(6750, 6);
  });
  it('exact over half-gap: 1.029 inside, 1.139 outside; largest over largest 1.017 and 1.012', () => {
    expect(worstRatio(b.inner, gapsBetween(ties, 0, 6350, false))).toBeCloseTo(1.029, 3);
    expect(worstRatio(b.outer, gapsBetween(ties, -200, 6550, true))).toBeCloseTo(1.139, 3);
    expect(Math.max(...b.inner) / 600).toBeCloseTo(1.017, 3);
    expect(Math.max(...b.outer) / 600).toBeCloseTo(1.012, 3);
  });
  it('sequence A (ten 600, the last with a stiff 50): outside 1.038', () => {
    const joints = cum(150, [...many(9, 600), 650]);
    const own = [...joints.slice(0, -1).map((j) => j + 50), 6150];
    const outer = solve([-200, ...joints, 6550], [-200, ...own, 6550]).slice(1, -1);
    expect(worstRatio(outer, gapsBetween(own, -200, 6550, true))).toBeCloseTo(1.038, 3);
  });
  it('sequence C (200 first): 367 where the half-gap says 300', () => {
    const c = [200, 450, ...many(9, 600)];
    const own = leftHoles(cum(150, c));
    const { inner, outer } = both(c, own);
    expect(round(outer)[0]).toBe(367);
    expect(worstRatio(inner, gapsBetween(own, 0, 6350, false))).toBeCloseTo(1.111, 3);
    expect(worstRatio(outer, gapsBetween(own, -200, 6550, true))).toBeCloseTo(1.222, 3);
  });
  it('takes any one of its twelve tie columns away and is a mechanism, on either face', () => {
    const joints = cum(150, widths);
    for (const gone of ties) {
      const rest = ties.filter((s) => s !== gone);
      expect(isFixed(joints, rest)).toBe(false);
      expect(isFixed([-200, ...joints, 6550], [-200, ...rest, 6550])).toBe(false);
      const problem = { jointsMm: joints, supportsMm: rest, startShearMm: 0, endShearMm: 0 };
      expect(chainReactions(problem)).toBeNull();
    }
  });
});

describe('other chains', () => {
  it('ten 600, all left holes 610, alternate sides 615', () => {
    const joints = cum(150, many(10, 600));
    expect(Math.max(...round(solve(joints, leftHoles(joints), 150, 150)))).toBe(610);
    const alternate = [200, 700, 1400, 1900, 2600, 3100, 3800, 4300, 5000, 5500, 6100];
    expect(Math.max(...round(solve(joints, alternate, 150, 150)))).toBe(615);
  });
  it.each([
    [200, 1.143],
    [250, 1.089],
    [300, 1.062],
  ])('end panel %i with both holes: %f', (w, ratio) => {
    const joints = cum(150, [...many(4, 600), w]);
    const ties = leftHoles(joints);
    const gaps = gapsBetween(ties, 0, joints[5]! + 150, false);
    expect(worstRatio(solve(joints, ties, 150, 150), gaps)).toBeCloseTo(ratio, 3);
  });
  it('worked layout 3: concrete ends at 4280, tie 3800 carries 469 of a strip of 425', () => {
    const joints = cum(150, [...many(6, 600), 250, 400]);
    const ties = leftHoles(joints);
    const r = solve(joints, ties, 150, 0, [0, 4280]);
    expect(round(r)[6]).toBe(469);
    expect(total(r)).toBeCloseTo(4280, 6);
  });
  it('worked layout 4, left bay: the tie beside the stem carries 400 with the pull of the stem (150 + 100)', () => {
    const joints = cum(150, [...many(5, 600), 300]);
    const r = solve(joints, leftHoles(joints), 150, 250);
    expect(round(r)[6]).toBe(400);
  });
  it('worked layout 7: behind a jog, the leg hands on 150 + 166 and tie 3200 carries 672', () => {
    const thick = cum(150, [...many(4, 600), 450]);
    const r = solve(thick, [...thick.slice(0, -1).map((j) => j + 50), 3000], 150, 0);
    expect(round(r)[5]).toBe(166);
    const thin = cum(3150, many(3, 600));
    expect(round(solve(thin, leftHoles(thin), 150 + r[5]!, 150))[0]).toBe(672);
  });
  it('a 200 panel with both holes tied pushes one of them back: -75 where the half-gap says 150, and 467 beside it', () => {
    const joints = cum(150, [400, 600, 200, 200, 500, 300, 250]);
    const sides = [-1, 1, -1, -1, 1, -1];
    const ties = [joints[0]! + 50, ...joints.slice(1, -1).map((j, i) => j + 50 * sides[i]!), joints[7]! - 50];
    const r = round(solve(joints, ties, 150, 150));
    expect(isFixed(joints, ties)).toBe(true);
    expect(r.slice(3, 5)).toEqual([-75, 467]);
    expect(gapsBetween(ties, 0, joints[7]! + 150, false)[3]).toBe(150);
  });
});

describe('worked layout 12: the pressure that layout B stands', () => {
  const widths = [...many(9, 600), 400, 250];
  const ties = leftHoles(cum(150, widths));
  const { inner, outer } = both(widths, ties);
  const most = Math.max(...inner, ...outer);
  const GAMMA = 9.80665 * 2.4;
  const firstRow = (kpa: number) =>
    rowLoads({
      stack: { baseMm: 0, heightsMm: [2400, 600] },
      rowLevelsMm: [300, 900, 1500, 2100, 2700],
      footingMm: 0,
      topMm: 2950,
      envelope: { points: [{ depthMm: (kpa / GAMMA) * 1000, kpa }] },
    }).value[0]!;
  const bisect = (low: number, high: number, holds: (x: number) => boolean): number => {
    let [a, b] = [low, high];
    for (let i = 0; i < 60; i++) {
      const m = (a + b) / 2;
      if (holds(m)) a = m;
      else b = m;
    }
    return a;
  };

  it('at 55.5 kPa half-gaps give 19.98 kN, the exact chain 20.33', () => {
    const q = firstRow(55.5).stripKnPerM;
    expect((q * 600) / 1000).toBeCloseTo(19.98, 1);
    expect((q * most) / 1000).toBeCloseTo(20.33, 1);
  });
  it('20 kN with row strips holds up to 54.64 kPa; with exact rows only up to less', () => {
    const byStrip = bisect(30, 60, (p) => (firstRow(p).stripKnPerM * most) / 1000 <= 20);
    expect(byStrip).toBeCloseTo(54.64, 1);
    const byStatics = bisect(30, 60, (p) => (firstRow(p).kNPerM * most) / 1000 <= 20);
    expect(byStatics).toBeLessThan(byStrip - 1);
    expect((firstRow(byStatics).kNPerM * most) / 1000).toBeCloseTo(20, 6);
  });
  it.each([
    [5, 1.38],
    [10, 1.68],
    [15, 1.98],
    [20, 2.61],
  ])('fastest rate at %i degrees by bisection over the whole method: %f m/h', (temperatureC, rate) => {
    const p = (rateMPerH: number) =>
      pressureCase(
        {
          method: 'aci-347-si',
          rateMPerH,
          temperatureC,
          densityKgPerM3: 2400,
          chemistryCoefficient: 1,
          slumpMm: 100,
        },
        2950,
      ).value.designKpa;
    expect(bisect(0.1, 4.5, (r) => p(r) <= 54.645)).toBeCloseTo(rate, 2);
  });
});

describe('overhang', () => {
  const panel = workedExampleCatalogue.units.find((u) => u.id === 'panel-600x2400')!;
  const free = { ...workedExampleCatalogue, overhangMm: 1000 };
  it.each([
    [30, 300, 220],
    [60, 300, 124],
  ])('at %d kPa with %d of strip on the tip: %d', (p, v, o) => {
    expect(Math.round(overhangLimit(free, panel, p, v))).toBe(o);
  });
  it('is never more than the catalogue allows', () => {
    expect(overhangLimit(workedExampleCatalogue, panel, 30, 300)).toBe(150);
    expect(overhangLimit(workedExampleCatalogue, panel, 0, 300)).toBe(150);
  });
});

describe('plain iteration', () => {
  const reach = (mm: number) => () => mm;
  it('two panels on hinges between one tie each and a held edge are a mechanism', () => {
    // 300 + 250 before the first tie of the next panel.
    const joints = [0, 300, 550, 1150];
    expect(fixedGroups(joints, [0, 600, 1100], reach(150)).map((g) => g !== null)).toEqual([false, false, true]);
    expect(isFixed(joints, [0, 600, 1100])).toBe(false);
  });
  it('spans: from the hinge of a fixed neighbour to the tie, and between the ties', () => {
    const joints = [0, 600, 1200];
    const spans = fixedGroups(joints, [50, 650, 1150], reach(150)).map((g) => g?.spanMm);
    expect(spans).toEqual([550, 500]);
  });
  it('a group that stands out too far is not fixed', () => {
    expect(fixedGroups([0, 600], [50, 400], reach(150))).toEqual([null]);
    expect(fixedGroups([0, 600], [50, 450], reach(150))).toEqual([{ spanMm: 400 }]);
  });
  it('an empty chain or one without supports does not stand', () => {
    expect(isFixed([0, 600], [])).toBe(false);
    expect(isFixed([0, 600], [300])).toBe(false);
    expect(() => chainReactions({ jointsMm: [0, 600], supportsMm: [-5, 300], startShearMm: 0, endShearMm: 0 })).toThrow(
      'outside',
    );
  });
});
