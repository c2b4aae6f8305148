/**
 * Tolerances of walls and a tie beside bars, against figures that were published or worked by hand on them; the source stands beside each. Limits that are
 * from memory are marked so, and the program says so too.
 */

import { describe, expect, it } from 'vitest';
import { keepClear, RIBS } from '../../src/check/keepClear.js';
import { plumbLimitMm, thicknessLimits, tolerances } from '../../src/check/tolerances.js';
import type { ModelBar, Wall } from '../../src/ground/vocabulary.js';
import { corner, onePlan } from '../support/straightPlan.js';

const IN = 25.4;
const FT = 12 * IN;

describe('thickness', () => {
  it('UFGS 03700 p. 26, text of ACI 117-90: walls up to 12 in, +3/8 and -1/4 in; 250 mm: +9.5, -6.4 mm', () => {
    const limits = thicknessLimits('aci-117', 250);
    expect(Math.abs(limits.plusMm - 9.5)).toBeLessThan(0.051);
    expect(Math.abs(limits.minusMm - 6.4)).toBeLessThan(0.051);
    expect(limits.confirmed).toBe(true);
    expect(thicknessLimits('aci-117', 12 * IN)).toEqual(limits);
  });
  it('ACI 117 from memory: over 12 in to 3 ft +1/2, -3/8 in; over 3 ft +1, -3/4 in; not confirmed', () => {
    expect(thicknessLimits('aci-117', 14 * IN)).toEqual({ plusMm: IN / 2, minusMm: (3 / 8) * IN, confirmed: false });
    expect(thicknessLimits('aci-117', 4 * FT)).toEqual({ plusMm: IN, minusMm: (3 / 4) * IN, confirmed: false });
  });
  it.each([
    [150, 10],
    [400, 15],
    [2500, 30],
    [3000, 30],
    [100, 10],
    [275, 12.5],
  ])('EN 13670 class 1 from memory: a section of %d mm within %d', (sizeMm, limitMm) => {
    expect(thicknessLimits('en-13670', sizeMm)).toEqual({ plusMm: limitMm, minusMm: limitMm, confirmed: false });
  });
});

describe('plumb', () => {
  it('ACI 117-10 from memory: a wall of 10 ft within 0.3 %, 0.36 in; of 30 ft within 1 in, as UFGS 03700 has it up to 100 ft', () => {
    expect(plumbLimitMm('aci-117', 10 * FT)! / IN).toBeCloseTo(0.36, 6);
    expect(plumbLimitMm('aci-117', 30 * FT)! / IN).toBeCloseTo(1, 6);
    expect(plumbLimitMm('aci-117', 101 * FT)).toBeNull();
  });
  it('EN 13670 from memory: the greater of 15 mm and h/400 up to 10 m: 3 m 15, 8 m 20', () => {
    expect(plumbLimitMm('en-13670', 3000)).toBe(15);
    expect(plumbLimitMm('en-13670', 8000)).toBe(20);
    expect(plumbLimitMm('en-13670', 10_001)).toBeNull();
  });
});

it('stand once for each thickness and height of a plan', () => {
  const plan = onePlan(4000, 250, 2350, corner(0, 250, 'start'), corner(4000, 250, 'end'));
  const { rows } = tolerances(plan, 'en-13670');
  expect(rows).toEqual([
    {
      walls: plan.walls.map((w) => w.id),
      thicknessMm: 250,
      heightMm: 2350,
      plusMm: 12,
      minusMm: 12,
      confirmed: false,
      plumbMm: 15,
    },
  ]);
});

describe('a tie beside bars', () => {
  // By hand: bars #5 at 41 in from 6 in, ties of 5/8 in at 24 in from 12 in. The nearest pair is 129 and 132: 3 - (0.625 + 0.625) / 2 = 2.375 in clear.
  const wall = {
    id: 'W1',
    start: { x: 0, y: 0 },
    end: { x: 144 * IN, y: 0 },
    thicknessMm: 8 * IN,
  } as Wall;
  const bars = [6, 47, 88, 129].map((x, i): ModelBar => {
    const foot = { x: x * IN, y: 0, z: 0 };
    return { id: `B${i}`, line: 0, name: null, diameterMm: 0.625 * IN, path: [foot, { ...foot, z: 96 * IN }] };
  });
  const ties = [12, 36, 60, 84, 108, 132];
  /** Ties that come nearer to a bar than this, in. */
  const near = (clearIn: number) => {
    const question = { wall, rowLevelsMm: [24 * IN], tieDiameterMm: 0.625 * IN, clearMm: clearIn * IN, obstacles: [] };
    const found = keepClear({ ...question, bars });
    return ties.filter((t) => found.some((i) => t * IN > i.fromMm && t * IN < i.toMm));
  };
  /** What ribs take of the clear distance. */
  const ribsIn = ((RIBS - 1) * 0.625) / 2;

  it('129 against 132 in is 2.375 in clear, less what ribs add to the bar', () => {
    expect(near(2.375 - ribsIn - 0.01)).toEqual([]);
    expect(near(2.375 - ribsIn + 0.01)).toEqual([132]);
  });
});
