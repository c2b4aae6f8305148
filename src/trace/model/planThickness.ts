/** How thick a long body is in plan. */

import { areaOf, lengthAround, type Region } from './region.js';

/** The least thickness that gives the body's area along its outline's half, mm: exact for rectangles and for walls in an L or in a row of corners. */
export const thicknessOfPlan = (region: Region): number => {
  const half = lengthAround(region) / 2;
  const area = areaOf(region);
  // Sides a and b of a rectangle: a + b = half, a b = area.
  return half === 0 ? 0 : (half - Math.sqrt(Math.max(0, half * half - 4 * area))) / 2;
};
