/** Looking at a large plan place by place: the same as looking at all of it, for work that grows with the plan and not with its square. */

import ClipperLib from 'clipper-lib';
import { describe, expect, it, vi } from 'vitest';
import { tracePlan } from '../../../src/trace/model/plan.js';
import { areaOf, type Box, boxRing, difference, enclosed, intersection } from '../../../src/trace/model/region.js';
import { regionNear } from '../../../src/trace/model/regionNear.js';
import { withSquaredEnds } from '../../../src/trace/model/skewEnds.js';
import type { Ring } from './byHand.js';

/** A wall in the form of an L, its ends cut aslant by 50 mm. */
const hook = (x: number, y: number): Ring => [
  [x, y],
  [x + 3000, y],
  [x + 2950, y + 250],
  [x + 250, y + 250],
  [x + 250, y + 2950],
  [x, y + 3000],
];
const footprints = (n: number, ring: (x: number, y: number) => Ring) => {
  const row = Math.ceil(Math.sqrt(n));
  return Array.from({ length: n }, (_, i) =>
    enclosed([ring((i % row) * 5000, Math.floor(i / row) * 5000).map(([x, y]) => ({ x, y }))]),
  );
};

describe('a plan looked at place by place', () => {
  it('each place is as in the whole', () => {
    const region = footprints(100, hook).flat();
    const reach = 1500;
    const near = regionNear(region, reach);
    let seen = 0;
    for (let x = -1000; x < 51_000; x += 1300)
      for (let y = -1000; y < 51_000; y += 1700) {
        const box: Box = { x0: x, y0: y, x1: x + reach, y1: y + reach };
        const window = enclosed([boxRing(box)]);
        const [one, other] = [intersection(near(box), window), intersection(region, window)];
        expect(areaOf(difference(one, other)) + areaOf(difference(other, one))).toBeLessThan(1);
        seen += areaOf(one) > 0 ? 1 : 0;
      }
    expect(seen).toBeGreaterThan(500);
  });

  it('squaring the ends of four times as many walls clips about four times as many corners', () => {
    const clipped = (n: number): number => {
      const plan = tracePlan(footprints(n, hook));
      expect(plan.stretches.length).toBe(2 * n);
      let corners = 0;
      const addPaths = ClipperLib.Clipper.prototype.AddPaths;
      const spy = vi.spyOn(ClipperLib.Clipper.prototype, 'AddPaths').mockImplementation(function (
        this: ClipperLib.Clipper,
        ...[paths, type, closed]
      ) {
        corners += paths.reduce((sum, path) => sum + path.length, 0);
        return addPaths.call(this, paths, type, closed);
      });
      const squared = withSquaredEnds(plan);
      spy.mockRestore();
      expect(squared.skewEnds.length).toBe(2 * n);
      return corners;
    };
    // As halving goes: n log n. All of the plan at each end would be sixteen times as much.
    expect(clipped(400) / clipped(100)).toBeLessThan(6);
  });
});
