/** CIRIA Report 108 against two published worksheets, and hand arithmetic where it says 'own'. */

import { describe, expect, it } from 'vitest';
import { ciriaTemperatureFactor } from '../../src/check/ciria108.js';
import { type CiriaInputs, type PourShape, pressureCase } from '../../src/check/index.js';

const G = 9.80665;

const ciria = (
  c2: number,
  rateMPerH: number,
  temperatureC: number,
  pourM: number,
  shape: PourShape = {},
  more: Partial<CiriaInputs> & { readonly D?: number } = {},
) => {
  const { D = 25, ...rest } = more;
  const inputs: CiriaInputs = {
    method: 'ciria-108',
    rateMPerH,
    temperatureC,
    densityKgPerM3: (D * 1000) / G,
    c2,
    ...rest,
  };
  const { value, findings } = pressureCase(inputs, pourM * 1000, shape);
  return { kpa: value.designKpa, hsM: value.envelope.points[0]!.depthMm / 1000, value, findings };
};

describe('published worksheets', () => {
  it('CI1, forum of engineersedge.com: column, C2 0.45, H = h = 9.05, 1 m/h, 12.5 °C: K 1.60, 86.82, cap 226.25, depth 3.47', () => {
    const a = ciria(0.45, 1, 12.5, 9.05, { isColumn: true });
    expect(ciriaTemperatureFactor(12.5)).toBeCloseTo(1.6, 2);
    expect(a.kpa).toBeCloseTo(86.82, 2);
    expect(a.value.inputs.fluidKpa).toBeCloseTo(226.25, 6);
    expect(a.hsM).toBeCloseTo(3.47, 2);
  });
  it('CI2, idoc.tips/download/279791453: wall, C2 0.60, 3.30 m, 3 m/h, K 0.56 (32 °C, above the range that the report is said to have): 53.8, cap 82.50, depth 2.15', () => {
    // The sheet goes to 32 °C; at that temperature the report’s range, 5 to 30 from memory, does not hold, so the formula alone is compared.
    expect(ciriaTemperatureFactor(32)).toBeCloseTo(0.56, 2);
    const a = ciria(0.6, 3, 32, 3.3);
    expect(a.findings.map((f) => f.code)).toEqual(['check.method-limit']);
    expect(a.kpa).toBeCloseTo(82.5, 6);
    const raw = 25 * (Math.sqrt(3) + 0.6 * ciriaTemperatureFactor(32) * Math.sqrt(3.3 - Math.sqrt(3)));
    expect(raw).toBeCloseTo(53.87, 2);
    expect(raw / 25).toBeCloseTo(2.15, 2);
    // The same mix at the greatest temperature within the range presses more, as colder concrete must.
    expect(ciria(0.6, 3, 30, 3.3).kpa).toBeGreaterThan(raw);
  });
  it('the formula of gist.github.com/jsb2505/317f82dee2b5eafd1cac3ebc5eddba72, case by case', () => {
    const gist = (c1: number, c2: number, D: number, H: number, h: number, T: number, R: number): number => {
      const K = (36 / (T + 16)) ** 2;
      if (c1 * Math.sqrt(R) > H) return D * h;
      return Math.min(D * h, D * (c1 * Math.sqrt(R) + c2 * K * Math.sqrt(H - c1 * Math.sqrt(R))));
    };
    for (const c2 of [0.3, 0.45, 0.6])
      for (const R of [0.5, 1, 3, 9])
        for (const T of [5, 12, 30])
          for (const [H, h] of [
            [3, 3],
            [4, 2.7],
            [2, 2],
          ] as const)
            for (const isColumn of [false, true])
              expect(ciria(c2, R, T, h, { formHeightMm: H * 1000, isColumn }).kpa).toBeCloseTo(
                gist(isColumn ? 1.5 : 1, c2, 25, H, h, T, R),
                9,
              );
  });
});

describe('vectors (own, by hand)', () => {
  it.each<[string, number, number, number, number, number, PourShape, number]>([
    ['R2 T10 H3', 0.3, 2, 10, 3, 25, {}, 53.46],
    ['R2 T5 H3', 0.3, 2, 5, 3, 25, {}, 63.11],
    ['retarded R1.5 T10 H4', 0.45, 1.5, 10, 4, 25, {}, 66.55],
    ['retarded R2 T20 H2 D24.5', 0.45, 2, 20, 2, 24.5, {}, 43.09],
    ['cap R10 T15 H3', 0.3, 10, 15, 3, 25, {}, 75],
    ['form 4 m, pour 3 m: H drives the term, h the cap', 0.3, 1, 10, 3, 25, { formHeightMm: 4000 }, 49.9],
  ])('%s', (_name, c2, r, t, h, D, shape, kpa) => {
    expect(Math.abs(ciria(c2, r, t, h, shape, { D }).kpa - kpa)).toBeLessThan(0.006);
  });
  it.each<[number, number, number[]]>([
    [5, 3, [51.0, 56.2, 63.1, 68.1, 75.0]],
    [5, 4, [57.7, 63.2, 70.8, 76.5, 85.2]],
    [10, 3, [39.5, 45.3, 53.5, 59.5, 68.5]],
    [10, 4, [43.8, 49.9, 58.5, 65.0, 75.0]],
    [15, 3, [33.0, 39.3, 48.1, 54.7, 64.7]],
    [15, 6, [41.0, 47.6, 57.0, 64.2, 75.5]],
  ])('grid at %d °C, %d m: R 0.5, 1, 2, 3, 5', (t, h, kpa) => {
    [0.5, 1, 2, 3, 5].forEach((r, i) => {
      expect(Math.abs(ciria(0.3, r, t, h).kpa - kpa[i]!)).toBeLessThan(0.06);
    });
  });
  it('the cap is by the pour: with h = 2 under a form of 6 m it is 50', () => {
    expect(ciria(0.6, 3, 5, 2, { formHeightMm: 6000 }).kpa).toBeCloseTo(50, 6);
  });
  it('a rise slower than any that the report has presses no less than its slowest', () => {
    expect(ciria(0.3, 0.1, 10, 3).kpa).toBeCloseTo(ciria(0.3, 0.5, 10, 3).kpa, 9);
  });
});

describe('limits: full fluid pressure and a failure that names them', () => {
  it.each<[string, () => ReturnType<typeof ciria>, string]>([
    ['colder than 5', () => ciria(0.3, 1, 4, 3), '5 to 30'],
    ['warmer than 30', () => ciria(0.3, 1, 31, 3), '5 to 30'],
    ['faster than 10 m/h', () => ciria(0.3, 10.5, 15, 3), '10 m/h'],
    ['self-compacting', () => ciria(0.3, 1, 15, 3, {}, { selfCompacting: true }), 'self-compacting'],
    ['under water', () => ciria(0.3, 1, 15, 3, {}, { underwater: true }), 'water'],
    ['pumped in from the base', () => ciria(0.3, 1, 15, 3, {}, { pumpedFromBase: true }), 'base'],
    ['vibrated from outside', () => ciria(0.3, 1, 15, 3, {}, { externalVibration: true }), 'outside'],
  ])('%s', (_name, made, word) => {
    const a = made();
    expect(a.findings.map((f) => [f.code, f.severity])).toEqual([['check.method-limit', 'failure']]);
    expect(a.findings[0]!.message).toContain(word);
    expect(a.kpa).toBeCloseTo(75, 6);
  });
  it('every result says what was not confirmed against the standard', () => {
    const a = ciria(0.3, 1, 15, 3);
    expect(a.findings.map((f) => [f.code, f.severity])).toEqual([['check.from-memory', 'attention']]);
    expect(a.value.inputs.notConfirmed).toContain('not confirmed against the standard');
  });
});
