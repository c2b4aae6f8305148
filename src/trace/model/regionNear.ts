/** A large region looked at place by place: halved again and again, so that a look takes time by what is there and not by all of it. */

import { type Box, boxOfRegion, boxRing, enclosed, intersection, NOTHING, type Region } from './region.js';

/** A part of fewer vertices is cut no further. */
const VERTICES_FEW = 200;
/** Nor is one whose halves would be hardly smaller than it: less than so many reaches long. */
const REACHES_LEAST = 4;

const verticesOf = (region: Region): number => region.reduce((sum, ring) => sum + ring.length, 0);

/**
 * Says what of a region lies in a box of up to `reachMm` each way, and more around it. Halves overlap by the reach, so that each box lies wholly in one.
 * Slanting edges may be off by the rounding of where they were cut (0.0001 mm).
 */
export const regionNear = (region: Region, reachMm: number): ((box: Box) => Region) => {
  const whole = boxOfRegion(region);
  if (whole === null) return () => NOTHING;
  const wide = whole.x1 - whole.x0 >= whole.y1 - whole.y0;
  const [from, to] = wide ? [whole.x0, whole.x1] : [whole.y0, whole.y1];
  if (verticesOf(region) <= VERTICES_FEW || to - from < REACHES_LEAST * reachMm) return () => region;
  const cut = (from + to) / 2;
  const halves = {
    low: wide ? { ...whole, x1: cut + reachMm } : { ...whole, y1: cut + reachMm },
    high: wide ? { ...whole, x0: cut - reachMm } : { ...whole, y0: cut - reachMm },
  };
  // Cut when first looked at: where nothing is asked, nothing is done.
  const made = new Map<'low' | 'high', (box: Box) => Region>();
  return (box) => {
    const side = (wide ? box.x0 + box.x1 : box.y0 + box.y1) / 2 <= cut ? 'low' : 'high';
    const near = made.get(side) ?? regionNear(intersection(region, enclosed([boxRing(halves[side], 1)])), reachMm);
    made.set(side, near);
    return near(box);
  };
};
