/** Boxes that stand along the axes, drawing units. */

import type { Vec } from '../../ground/plane.js';
import type { DrawingPath } from '../../ground/vocabulary.js';

export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export const EMPTY: Box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };

export const joined = (p: Box, q: Box): Box => ({
  x0: Math.min(p.x0, q.x0),
  y0: Math.min(p.y0, q.y0),
  x1: Math.max(p.x1, q.x1),
  y1: Math.max(p.y1, q.y1),
});

const boxOfPoints = (points: readonly Vec[]): Box => {
  let { x0, y0, x1, y1 } = EMPTY;
  for (const p of points) {
    if (!Number.isFinite(p.x) || !Number.isFinite(p.y)) continue;
    if (p.x < x0) x0 = p.x;
    if (p.x > x1) x1 = p.x;
    if (p.y < y0) y0 = p.y;
    if (p.y > y1) y1 = p.y;
  }
  return { x0, y0, x1, y1 };
};

export const boxOfPath = (path: DrawingPath): Box => boxOfPoints(path.vertices);

export const isEmpty = (b: Box): boolean => !(b.x1 >= b.x0 && b.y1 >= b.y0);
export const sizeOf = (b: Box): number => (isEmpty(b) ? 0 : Math.max(b.x1 - b.x0, b.y1 - b.y0));
export const grown = (b: Box, by: number): Box => ({ x0: b.x0 - by, y0: b.y0 - by, x1: b.x1 + by, y1: b.y1 + by });
export const holds = (b: Box, p: Vec): boolean => p.x >= b.x0 && p.x <= b.x1 && p.y >= b.y0 && p.y <= b.y1;
export const within = (inner: Box, outer: Box): boolean =>
  inner.x0 >= outer.x0 && inner.x1 <= outer.x1 && inner.y0 >= outer.y0 && inner.y1 <= outer.y1;

/** How far a point is from a box; 0 inside. */
export const distanceTo = (b: Box, p: Vec): number =>
  Math.hypot(Math.max(b.x0 - p.x, p.x - b.x1, 0), Math.max(b.y0 - p.y, p.y - b.y1, 0));

/** Free space between two boxes; 0 when they touch or lap. */
export const gapBetween = (p: Box, q: Box): number =>
  Math.hypot(Math.max(p.x0 - q.x1, q.x0 - p.x1, 0), Math.max(p.y0 - q.y1, q.y0 - p.y1, 0));

/** Share of the smaller box that lies in the other. Boxes without area count by their middle. */
export const shareLapped = (p: Box, q: Box): number => {
  const w = Math.min(p.x1, q.x1) - Math.max(p.x0, q.x0);
  const h = Math.min(p.y1, q.y1) - Math.max(p.y0, q.y0);
  if (w < 0 || h < 0) return 0;
  const area = (b: Box) => (b.x1 - b.x0) * (b.y1 - b.y0);
  const least = Math.min(area(p), area(q));
  return least > 0 ? (w * h) / least : 1;
};
