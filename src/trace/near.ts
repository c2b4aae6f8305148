/** Points by place: which of them lie within a reach of another. Lengths local mm. */

import { distance, type Vec } from '../ground/plane.js';

/** Gives the indices of the points within `reachMm` of a place, rising. */
export const pointsNear = (points: readonly Vec[], reachMm: number): ((p: Vec) => number[]) => {
  const cells = new Map<string, number[]>();
  const cell = (x: number) => Math.floor(x / reachMm);
  points.forEach((p, i) => {
    const key = `${cell(p.x)} ${cell(p.y)}`;
    const list = cells.get(key);
    if (list) list.push(i);
    else cells.set(key, [i]);
  });
  return (p) => {
    const out: number[] = [];
    for (let x = cell(p.x) - 1; x <= cell(p.x) + 1; x++) {
      for (let y = cell(p.y) - 1; y <= cell(p.y) + 1; y++) {
        for (const i of cells.get(`${x} ${y}`) ?? []) if (distance(points[i]!, p) <= reachMm) out.push(i);
      }
    }
    return out.sort((a, b) => a - b);
  };
};
