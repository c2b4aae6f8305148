/** Row loads against statics worked out beforehand with beam elements and by hand (worked examples 1, 5, 12 and low walls). */

import { describe, expect, it } from 'vitest';
import { beamReactions } from '../../src/check/beam.js';
import { forceBetween, linearPieces, momentAbout, pressureAt } from '../../src/check/envelope.js';
import { type RowsQuestion, rowLoads } from '../../src/check/index.js';
import type { Envelope } from '../../src/ground/vocabulary.js';

const GAMMA = 9.80665 * 2.4;
const limited = (kpa: number): Envelope => ({ points: [{ depthMm: (kpa / GAMMA) * 1000, kpa }] });
const FLUID = limited(1000);

const question = (heightsMm: number[], rowLevelsMm: number[], topMm: number, envelope = FLUID): RowsQuestion => ({
  stack: { baseMm: 0, heightsMm },
  rowLevelsMm,
  footingMm: 0,
  topMm,
  envelope,
});

/** The beam alone, without the strips as a lower bound. */
const exact = (q: RowsQuestion, base = false): number[] => {
  const joints = [0];
  for (const h of q.stack.heightsMm) joints.push(joints[joints.length - 1]! + h);
  const rows = q.rowLevelsMm.filter((z) => z < q.topMm);
  const supports = base ? [0, ...rows] : rows;
  return beamReactions({
    jointsM: joints.map((z) => z / 1000),
    supportsM: supports.map((z) => z / 1000),
    loads: linearPieces(q.envelope, q.topMm, 0, joints[joints.length - 1]!),
  })!;
};

const fixed = (list: readonly number[]) => list.map((x) => (x === 0 ? 0 : x).toFixed(2).replace('-0.00', '0.00'));
const strips = (q: RowsQuestion) => fixed(rowLoads(q).value.map((r) => r.stripKnPerM));

describe('exact row loads and strips', () => {
  it.each<[string, RowsQuestion, string[], string[]]>([
    [
      'worked example 1: 2400, pour 2350, 43.1 kPa',
      question([2400], [300, 900, 1500, 2100], 2350, limited(43.1)),
      ['27.27', '18.98', '12.66', '2.91'],
      ['25.78', '20.48', '12.00', '3.56'],
    ],
    [
      'worked example 12: 2400 + 600, pour 2950, 60 kPa, hinge at 2400',
      question([2400, 600], [300, 900, 1500, 2100, 2700], 2950, limited(60)),
      ['37.59', '27.06', '19.69', '14.01', '2.18'],
      ['35.53', '28.95', '20.48', '12.00', '3.56'],
    ],
    ['1200, fluid', question([1200], [300, 900], 1200), ['14.12', '2.83'], ['12.71', '4.24']],
    ['900, rows 300 and 600, fluid', question([900], [300, 600], 900), ['9.53', '0.00'], ['7.15', '2.38']],
    ['450 turned, rows 50 and 400, fluid', question([450], [50, 400], 450), ['1.70', '0.68'], ['1.79', '0.60']],
    [
      '1800, three rows, fluid',
      question([1800], [300, 900, 1500], 1800),
      ['23.04', '11.12', '3.97'],
      ['21.18', '12.71', '4.24'],
    ],
    [
      'worked example 5: 2400 + 300 turned, pour 2660',
      question([2400, 300], [300, 900, 1500, 2100, 2450], 2660, limited(43.1)),
      ['27.36', '22.59', '17.36', '6.49', '1.38'],
      ['25.86', '24.24', '16.38', '6.96', '1.74'],
    ],
  ])('%s', (_name, q, statics, tributary) => {
    // Reference: beam elements with uniform load on each, refined until the second decimal stood still but for the last digit.
    exact(q).forEach((x, i) => {
      expect(Math.abs(x - Number(statics[i]))).toBeLessThan(0.016);
    });
    expect(strips(q)).toEqual(tributary);
    for (const [i, row] of rowLoads({ ...q, whileRising: false }).value.entries())
      expect(row.kNPerM).toBeCloseTo(Math.max(exact(q)[i]!, row.stripKnPerM), 9);
  });

  it('rows at or above the pour line are not tied', () => {
    const q = question([2400], [300, 900, 1500, 2100], 2100);
    expect(rowLoads(q).value.map((r) => r.levelMm)).toEqual([300, 900, 1500]);
  });

  it('one row at 300, pour 450: half of it in the held foot, and that is said', () => {
    const q = question([600], [300], 450);
    expect(fixed(exact(q, true))).toEqual(['1.19', '1.19']);
    const { value, findings } = rowLoads(q);
    expect(value[0]!.kNPerM).toBeCloseTo(value[0]!.stripKnPerM, 9);
    expect(strips(q)).toEqual(['2.38']);
    expect(findings.map((f) => [f.code, f.severity])).toEqual([['check.base-held', 'attention']]);
    expect(findings[0]!.message).toContain('1.19 kN/m');
  });

  it('one row at a third of the pour: the foot has nothing to carry, yet the forms only balance; no load of 0 is told', () => {
    const { findings } = rowLoads(question([600], [150], 450));
    expect(findings.map((f) => f.code)).toEqual(['check.base-held']);
    expect(findings[0]!.message).toBe(
      'The forms balance on the tie row at 150: the least push would turn them unless their foot is held.',
    );
  });

  it('900 with the pour at 750: the top row would be pushed by 0.17 of the force, so the foot must be held', () => {
    const q = question([900], [300, 600], 750);
    const free = exact(q);
    expect(free[1]! / (free[0]! + free[1]!)).toBeCloseTo(-1 / 6, 9);
    const { findings } = rowLoads(q);
    expect(findings.map((f) => f.code)).toEqual(['check.base-held']);
  });

  it('a row that is pushed whether the foot is held or not is a failure', () => {
    // Two rows close together near the top of a low pour: the upper one holds the forms back.
    const q = question([1200], [500, 560], 600);
    const { findings } = rowLoads(q);
    expect(findings.map((f) => [f.code, f.severity, f.rule])).toEqual([['check.row-pushed', 'failure', 'T11']]);
  });

  it('an upper course with concrete and no row is a mechanism; its loads are strips', () => {
    const { value, findings } = rowLoads(question([2400, 300], [300, 900, 1500, 2100, 2550], 2450));
    expect(findings.map((f) => [f.code, f.severity])).toEqual([['check.course-without-row', 'failure']]);
    for (const r of value) expect(r.kNPerM).toBe(r.stripKnPerM);
  });

  it('an upper course wholly above the pour line needs no row', () => {
    expect(rowLoads(question([2400, 300], [300, 900, 1500, 2100], 2400)).findings).toEqual([]);
  });

  it('no row in the concrete is a failure', () => {
    const { value, findings } = rowLoads({ ...question([600], [300], 250), subject: 'W7' });
    expect(value).toEqual([]);
    expect(findings.map((f) => [f.code, f.subject])).toEqual([['check.no-row', 'W7']]);
  });

  it('forms that stand above the footing carry the fill below them too', () => {
    const raised = { ...question([1200], [310, 910], 1210), stack: { baseMm: 10, heightsMm: [1200] } };
    const { value } = rowLoads(raised);
    const force = forceBetween(FLUID, 1210, 0, 1210);
    expect(value[0]!.stripKnPerM + value[1]!.stripKnPerM).toBeCloseTo(force, 9);
    expect(value[0]!.kNPerM).toBeCloseTo((force * 0.91 - momentAbout(FLUID, 1210, 0, 1210)) / 0.6, 9);
  });

  it('a lower course with one row hangs from the course above', () => {
    const q = question([600, 2400], [300, 900, 1500, 2100, 2700], 2900, limited(60));
    expect(rowLoads(q).findings).toEqual([]);
    // Moments of the lowest course about its row: the hinge at 600 gives what the row does not.
    const [r1] = exact(q);
    const force = forceBetween(q.envelope, 2900, 0, 600);
    const moment = momentAbout(q.envelope, 2900, 0, 600);
    expect(r1!).toBeCloseTo((force * 0.6 - moment) / 0.3, 9);
  });
});

describe('three moments', () => {
  /** Equation of three moments with piecewise linear load, by Simpson's rule on simple beams (exact for cubic integrands). */
  const threeMoments = (rows: number[], q: RowsQuestion): number[] => {
    const p = (z: number) => pressureAt(q.envelope, q.topMm - z);
    const steps = 4000;
    const integral = (a: number, b: number, f: (z: number) => number) => {
      const h = (b - a) / steps;
      let sum = f(a) + f(b);
      for (let i = 1; i < steps; i++) sum += f(a + i * h) * (i % 2 === 1 ? 4 : 2);
      return (sum * h) / 3;
    };
    const first = rows[0]!;
    const last = rows[rows.length - 1]!;
    const top = Math.min(q.topMm, q.stack.heightsMm[0]!);
    const hang = [integral(0, first, (z) => p(z) * (first - z)), integral(last, top, (z) => p(z) * (z - last))];
    // Unknown support moments (hogging positive); a span's load gives the end slopes of a simple beam.
    const slope = (a: number, b: number, fromB: boolean) => {
      const l = b - a;
      const f = (z: number) => {
        const x = fromB ? b - z : z - a;
        return (p(z) * x * (l * l - x * x)) / (6 * l);
      };
      return integral(a, b, f);
    };
    const n = rows.length;
    const m = new Array<number>(n).fill(0);
    m[0] = hang[0]!;
    m[n - 1] = hang[1]!;
    // Gauss-Seidel on the tridiagonal equations: it converges, since they are diagonally dominant.
    for (let pass = 0; pass < 200; pass++) {
      for (let i = 1; i < n - 1; i++) {
        const [a, b, c] = [rows[i - 1]!, rows[i]!, rows[i + 1]!];
        const load = slope(a, b, false) + slope(b, c, true);
        m[i] = (load * 6 - m[i - 1]! * (b - a) - m[i + 1]! * (c - b)) / (2 * (c - a));
      }
    }
    return rows.map((z, i) => {
      const before = rows[i - 1];
      const after = rows[i + 1];
      let r = 0;
      if (before === undefined) r += integral(0, z, p);
      else r += integral(before, z, (x) => (p(x) * (x - before)) / (z - before)) + (m[i]! - m[i - 1]!) / (z - before);
      if (after === undefined) r += integral(z, top, p);
      else r += integral(z, after, (x) => (p(x) * (after - x)) / (after - z)) + (m[i]! - m[i + 1]!) / (after - z);
      return r / 1000;
    });
  };

  it.each<[RowsQuestion, number[]]>([
    [question([2400], [300, 900, 1500, 2100], 2350, limited(43.1)), [300, 900, 1500, 2100]],
    [question([1800], [300, 900, 1500], 1800), [300, 900, 1500]],
    [question([2700], [250, 800, 1700, 2400], 2600, limited(30)), [250, 800, 1700, 2400]],
  ])('agree with the beam elements (case %#)', (q, rows) => {
    const other = threeMoments(rows, q);
    exact(q).forEach((r, i) => {
      expect(r).toBeCloseTo(other[i]!, 2);
    });
  });
});

describe('worked layout 14: a one-sided wall of 3.0 m, 25 kN/m3, limited to 60 kPa', () => {
  it('is pushed by 108 kN/m at 1.03 m over its foot: 111.6 kNm/m', () => {
    const envelope = { points: [{ depthMm: 2400, kpa: 60 }] };
    const force = forceBetween(envelope, 3000, 0, 3000);
    const moment = momentAbout(envelope, 3000, 0, 3000);
    expect(force).toBeCloseTo(108, 9);
    expect(moment / force).toBeCloseTo(1.033, 3);
    expect(moment).toBeCloseTo(111.6, 9);
  });
});
