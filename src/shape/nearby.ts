/** Finds the segments that may lie close to a segment, by square cells along them: linear work for lines that are spread over a plan. */

import { distance, type Vec } from '../ground/plane.js';

export interface Edge {
  readonly from: Vec;
  readonly to: Vec;
}

export interface Nearby<E extends Edge> {
  /** Each segment with a point within a cell's quarter of a point of `edge`, once, in the order in which they were given. */
  readonly near: (edge: Edge) => E[];
}

const CELL_LEAST_MM = 1000;
/** Cells across the whole extent at most, so that a stray line far away costs no more than a plan. */
const CELLS_MOST = 500;

/** Points along the segment, at most half a cell apart. */
const samples = (edge: Edge, cellMm: number): Vec[] => {
  const count = Math.ceil((2 * distance(edge.from, edge.to)) / cellMm);
  return Array.from({ length: count + 1 }, (_, i) => {
    const t = count === 0 ? 0 : i / count;
    return { x: edge.from.x + (edge.to.x - edge.from.x) * t, y: edge.from.y + (edge.to.y - edge.from.y) * t };
  });
};

/** An index over `edges`; answers hold for distances up to a quarter of 1,000 mm. */
export const nearbyOf = <E extends Edge>(edges: readonly E[]): Nearby<E> => {
  const extentMm = edges.reduce(
    (m, e) => Math.max(m, Math.abs(e.from.x), Math.abs(e.from.y), Math.abs(e.to.x), Math.abs(e.to.y)),
    0,
  );
  const cellMm = Math.max(CELL_LEAST_MM, (2 * extentMm) / CELLS_MOST);
  const cells = new Map<string, number[]>();
  const cellOf = (p: Vec): readonly [number, number] => [Math.floor(p.x / cellMm), Math.floor(p.y / cellMm)];
  edges.forEach((edge, i) => {
    for (const p of samples(edge, cellMm)) {
      const key = cellOf(p).join(' ');
      const list = cells.get(key);
      if (!list) cells.set(key, [i]);
      else if (list[list.length - 1] !== i) list.push(i);
    }
  });
  const near = (edge: Edge): E[] => {
    // A line far longer than all of them would be walked for ever; it is compared with each.
    if (distance(edge.from, edge.to) > 4 * CELLS_MOST * cellMm) return [...edges];
    const found = new Set<number>();
    const seen = new Set<string>();
    for (const p of samples(edge, cellMm)) {
      const [x, y] = cellOf(p);
      for (let dx = -1; dx <= 1; dx++)
        for (let dy = -1; dy <= 1; dy++) {
          const key = `${x + dx} ${y + dy}`;
          if (seen.has(key)) continue;
          seen.add(key);
          for (const i of cells.get(key) ?? []) found.add(i);
        }
    }
    return [...found].sort((a, b) => a - b).map((i) => edges[i]!);
  };
  return { near };
};
