/** Rows while the concrete rises and in lifts: against levers, the equation of three moments with loads integrated in steps, and finer steps of the fill. */

import { describe, expect, it } from 'vitest';
import { pressureAt, rowLoads } from '../../src/check/index.js';
import { OneWayRows, risingLoads } from '../../src/check/rising.js';
import { courseJoints, filledTo, liftsOf, loadsBetween, type RowsQuestion } from '../../src/check/rowParts.js';
import { solveDense } from '../../src/check/solve.js';
import type { Envelope } from '../../src/ground/vocabulary.js';

const GAMMA = 9.80665 * 2.4;
const limited = (kpa: number): Envelope => ({ points: [{ depthMm: (kpa / GAMMA) * 1000, kpa }] });
const question = (heightsMm: number[], rowLevelsMm: number[], topMm: number, kpa: number): RowsQuestion => ({
  stack: { baseMm: 0, heightsMm },
  rowLevelsMm,
  footingMm: 0,
  topMm,
  envelope: limited(kpa),
});
const loadsAt = (q: RowsQuestion, fillMm: number) =>
  new OneWayRows(courseJoints(q), q.rowLevelsMm).under(loadsBetween(filledTo(q, 0, fillMm), 0, fillMm));

/** A continuous beam without hinges by the equation of three moments; pressure by level, integrated in steps of 1 mm; lengths in m. */
const threeMoments = (rowsMm: readonly number[], topMm: number, p: (zMm: number) => number): number[] => {
  const n = rowsMm.length;
  const over = (from: number, to: number, weight: (z: number) => number) => {
    let sum = 0;
    for (let z = from + 0.5; z < to; z++) sum += (p(z) * weight(z)) / 1000;
    return sum;
  };
  // Sagging positive: what hangs over the ends bends the other way.
  const ends = [
    -over(0, rowsMm[0]!, (z) => (rowsMm[0]! - z) / 1000),
    -over(rowsMm[n - 1]!, topMm, (z) => (z - rowsMm[n - 1]!) / 1000),
  ];
  const spans = rowsMm.slice(1).map((b, i) => {
    const a = rowsMm[i]!;
    const l = (b - a) / 1000;
    // 6 A a / L of the simple beam: for a point load at x from the left, W x (L^2 - x^2) / L about the left end's far side.
    const left = over(a, b, (z) => {
      const x = (b - z) / 1000;
      return (x * (l * l - x * x)) / l;
    });
    const right = over(a, b, (z) => {
      const x = (z - a) / 1000;
      return (x * (l * l - x * x)) / l;
    });
    return { a, b, l, left, right };
  });
  const m = new Array<number>(n).fill(0);
  m[0] = ends[0]!;
  m[n - 1] = ends[1]!;
  const inner = n - 2;
  if (inner > 0) {
    const k = Array.from({ length: inner }, () => new Array<number>(inner).fill(0));
    const f = new Array<number>(inner).fill(0);
    for (let i = 0; i < inner; i++) {
      const [before, after] = [spans[i]!, spans[i + 1]!];
      k[i]![i] = 2 * (before.l + after.l);
      f[i] = -before.right - after.left;
      if (i > 0) k[i]![i - 1] = before.l;
      else f[i] = f[i]! - before.l * m[0]!;
      if (i + 1 < inner) k[i]![i + 1] = after.l;
      else f[i] = f[i]! - after.l * m[n - 1]!;
    }
    solveDense(k, f)!.forEach((x, i) => {
      m[i + 1] = x;
    });
  }
  const reactions = new Array<number>(n).fill(0);
  reactions[0] = over(0, rowsMm[0]!, () => 1);
  reactions[n - 1] = reactions[n - 1]! + over(rowsMm[n - 1]!, topMm, () => 1);
  spans.forEach(({ a, b, l }, i) => {
    const force = over(a, b, () => 1);
    const right = over(a, b, (z) => (z - a) / 1000) / l;
    const tilt = (m[i + 1]! - m[i]!) / l;
    reactions[i] = reactions[i]! + force - right + tilt;
    reactions[i + 1] = reactions[i + 1]! + right - tilt;
  });
  return reactions;
};

describe('at one fill', () => {
  it('rows carry what the equation of three moments says, where none lets go', () => {
    for (const [rows, height, kpa] of [
      [[300, 900, 1500, 2100], 2400, 43.1],
      [[300, 900, 1500, 2100, 2550], 2700, 43.1],
      [[300, 900, 1500], 1800, 30],
    ] as const) {
      const q = question([height], [...rows], height, kpa);
      let compared = 0;
      for (let fill = 1000; fill <= height; fill += 100) {
        const found = loadsAt(q, fill);
        // With those that let go taken out the beam is continuous again.
        const active = rows.filter((_, i) => (found?.[i] ?? 0) > 1e-9);
        if (!found || active.length < 2) continue;
        const by = threeMoments(active, height, (z) => (z < fill ? pressureAt(q.envelope, fill - z) : 0));
        for (const [i, z] of active.entries()) expect(found[q.rowLevelsMm.indexOf(z)]!).toBeCloseTo(by[i]!, 2);
        compared++;
      }
      expect(compared).toBeGreaterThan(5);
    }
  });

  it('rows that would be pushed let go: where two are left they are a lever', () => {
    let levers = 0;
    for (const rows of [
      [300, 900, 1500],
      [250, 1000, 1700],
      [300, 900, 1500, 2100],
    ]) {
      const q = question([2400], rows, 2400, 43.1);
      for (let fill = 900; fill <= 2400; fill += 50) {
        const found = loadsAt(q, fill);
        const carrying = rows.flatMap((z, i) => (found && found[i]! > 1e-9 ? [{ z, kN: found[i]! }] : []));
        const [low, high, ...more] = carrying;
        if (!low || !high || more.length > 0) continue;
        let [force, moment] = [0, 0];
        for (let z = 0.5; z < fill; z++) {
          const p = pressureAt(q.envelope, fill - z) / 1000;
          force += p;
          moment += p * (z - low.z);
        }
        expect(high.kN).toBeCloseTo(moment / (high.z - low.z), 3);
        expect(low.kN + high.kN).toBeCloseTo(force, 3);
        levers++;
      }
    }
    expect(levers).toBeGreaterThan(0);
  });
});

describe('the worst of all fills', () => {
  it('is told with its level where it is more than under the full pour', () => {
    // Worked example 5, 2400 + 300: the lowest row carries 27.36 under the full pour.
    const q = question([2400, 300], [300, 900, 1500, 2100, 2450], 2660, 43.1);
    const [lowest] = rowLoads(q).value;
    expect(lowest!.kNPerM).toBeGreaterThan(27.37);
    expect(lowest!.kNPerM).toBeLessThan(27.45);
    expect(lowest!.fillMm).toBeLessThan(2660);
    expect(rowLoads({ ...q, whileRising: false }).value[0]!.fillMm).toBeUndefined();
    // Worked example 1: no row does.
    const one = rowLoads(question([2400], [300, 900, 1500, 2100], 2350, 43.1)).value;
    expect(one.map((r) => r.kNPerM.toFixed(2))).toEqual(['27.27', '20.48', '12.66', '3.56']);
  });

  it('is within one in a thousand of that of steps of 20 mm, and never under the full pour', () => {
    for (const [heights, rows, top, kpa] of [
      [[2700], [300, 900, 1500, 2100, 2550], 2700, 43.1],
      [[2400, 900], [300, 900, 1500, 2100, 2650, 3050], 3300, 43.1],
      [[2700, 2700], [300, 900, 1500, 2100, 2550, 3000, 3600, 4200, 4800, 5250], 5400, 60],
    ] as const) {
      const q = question([...heights], [...rows], top, kpa);
      const found = rowLoads(q).value;
      const full = rowLoads({ ...q, whileRising: false }).value;
      for (let fill = 1000; fill <= top; fill += 20) {
        loadsAt(q, fill)?.forEach((x, i) => {
          expect(x).toBeLessThanOrEqual(found[i]!.kNPerM * 1.001);
        });
      }
      for (const [i, r] of found.entries()) expect(r.kNPerM).toBeGreaterThanOrEqual(full[i]!.kNPerM);
    }
  });

  it('of the foot is the moment about the lowest row: gamma h^2 / 2 (1 - h / 3 z1), most at twice its height', () => {
    const q = question([2400], [300, 900, 1500, 2100], 2350, 43.1);
    const { foot } = risingLoads(q, courseJoints(q), q.rowLevelsMm, liftsOf(q));
    expect(foot.fillMm).toBe(600);
    expect(foot.kNPerM).toBeCloseTo(((GAMMA * 0.36) / 2) * (1 - 600 / 900), 6);
    // A row at the very foot leaves it nothing to swing about.
    const low = question([1200], [50, 900], 1200, 43.1);
    expect(risingLoads(low, courseJoints(low), low.rowLevelsMm, liftsOf(low)).foot.kNPerM).toBeLessThan(0.05);
  });
});

describe('lifts', () => {
  it('press only where they are fresh, each row for the worst of them', () => {
    // 1200 in two lifts of 600: triangles of gamma 0.6^2 / 2, resultants at 200 and 800, rows at 300 and 900.
    const q = { ...question([1200], [300, 900], 1200, 43.1), liftMm: 600 };
    const force = (GAMMA * 0.36) / 2;
    expect(liftsOf(q)).toEqual([
      [0, 600],
      [600, 1200],
    ]);
    const [low, high] = rowLoads(q).value;
    // First lift: the foot is held, the row takes F 200 / 300; its strip takes all of it.
    expect(low!.stripKnPerM).toBeCloseTo(force, 6);
    expect(low!.kNPerM).toBeCloseTo(force, 6);
    // Second: a lever of both rows, 5 / 6 for the upper one; its strip takes all.
    expect(high!.kNPerM).toBeCloseTo(force, 6);
    const whole = rowLoads({ ...q, liftMm: 1200 }).value;
    expect(whole[0]!.kNPerM).toBeGreaterThan(low!.kNPerM);
    expect(rowLoads({ ...q, liftMm: 5000 }).value).toEqual(whole);
  });

  it('are no less than what the rows of any single lift carry by levers', () => {
    const q = { ...question([2400], [300, 900, 1500, 2100], 2400, 30), liftMm: 1000 };
    const found = rowLoads(q).value;
    expect(liftsOf(q).map(([a, b]) => b - a)).toEqual([1000, 1000, 400]);
    for (const [from, to] of liftsOf(q)) {
      let force = 0;
      for (let z = from + 0.5; z < to; z++) force += pressureAt(q.envelope, to - z) / 1000;
      const near = found.filter((r) => r.levelMm > from - 600 && r.levelMm < to + 600);
      expect(near.reduce((sum, r) => sum + r.kNPerM, 0)).toBeGreaterThan(force - 1e-3);
    }
  });
});
