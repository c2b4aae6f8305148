/** How thick a long body is in plan. */

import { areaOf, type Region } from './region.js';

/** The least thickness that gives the body's area along its outline's half, mm: exact for rectangles and for walls in an L or in a row of corners. */
export const thicknessOfPlan = (region: Region): number => {
  let around = 0;
  for (const ring of region)
    ring.forEach((p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      around += Math.hypot(q.X - p.X, q.Y - p.Y) / 10_000;
    });
  const half = around / 2;
  const area = areaOf(region);
  // Sides a and b of a rectangle: a + b = half, a b = area.
  return half === 0 ? 0 : (half - Math.sqrt(Math.max(0, half * half - 4 * area))) / 2;
};
