/** Distances in space against plain sampling. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  add3,
  length3,
  passesThrough,
  scale3,
  segmentDistance,
  segmentToTriangle,
  sub3,
} from '../../src/ground/space.js';
import type { Vec3 } from '../../src/ground/vocabulary.js';

const coordinate = fc.integer({ min: -20, max: 20 });
const point = fc.record({ x: coordinate, y: coordinate, z: coordinate });
const on = (a: Vec3, b: Vec3, t: number): Vec3 => add3(a, scale3(sub3(b, a), t));
const STEPS = 40;
const shares = Array.from({ length: STEPS + 1 }, (_, i) => i / STEPS);

describe('distance of two segments', () => {
  it('is the least that sampling finds, within the width of a sample', () => {
    fc.assert(
      fc.property(point, point, point, point, (a, b, c, d) => {
        const found = segmentDistance({ from: a, to: b }, { from: c, to: d });
        const sampled = Math.min(...shares.flatMap((s) => shares.map((t) => length3(sub3(on(a, b, s), on(c, d, t))))));
        const width = (length3(sub3(a, b)) + length3(sub3(c, d))) / STEPS;
        expect(found).toBeLessThanOrEqual(sampled + 1e-9);
        expect(found).toBeGreaterThanOrEqual(sampled - width);
      }),
      { numRuns: 200 },
    );
  });

  it('is the same either way round', () => {
    fc.assert(
      fc.property(point, point, point, point, (a, b, c, d) => {
        const one = segmentDistance({ from: a, to: b }, { from: c, to: d });
        expect(segmentDistance({ from: d, to: c }, { from: a, to: b })).toBeCloseTo(one, 9);
      }),
    );
  });
});

describe('distance of a segment and a triangle', () => {
  it('is the least that sampling finds, within the width of a sample, and nought where it passes', () => {
    fc.assert(
      fc.property(point, point, point, point, point, (a, b, p, q, r) => {
        const segment = { from: a, to: b };
        const found = segmentToTriangle(segment, [p, q, r]);
        const coarse = shares.filter((_, i) => i % 4 === 0);
        const inTriangle = coarse.flatMap((s) => coarse.map((t) => on(p, on(q, r, t), s)));
        const sampled = Math.min(...coarse.flatMap((s) => inTriangle.map((x) => length3(sub3(on(a, b, s), x)))));
        const size = Math.max(length3(sub3(p, q)), length3(sub3(q, r)), length3(sub3(r, p)));
        expect(found).toBeLessThanOrEqual(sampled + 1e-9);
        expect(found).toBeGreaterThanOrEqual(sampled - (length3(sub3(a, b)) + 2 * size) / 10);
        if (passesThrough(segment, [p, q, r]) !== null) expect(found).toBe(0);
      }),
      { numRuns: 100 },
    );
  });

  it('of a flat triangle is that of its edges', () => {
    const [a, b] = [
      { x: 0, y: 0, z: 0 },
      { x: 10, y: 0, z: 0 },
    ];
    expect(segmentToTriangle({ from: { x: 5, y: 3, z: 4 }, to: { x: 5, y: 9, z: 4 } }, [a, b, b])).toBeCloseTo(5, 12);
  });
});
