/** Where items are placed: through inserts into the plan. */

import type { PathVertex } from '../../ground/vocabulary.js';
import type { Boundary } from './clip.js';
import type { Knot } from './curves.js';
import type { InsertItem } from './items.js';
import { apply, IDENTITY, type Matrix, type Point3 } from './matrix.js';

/** Where an item stands: the map to world coordinates, and what it came through. */
export interface Place {
  readonly map: Matrix;
  /** Names of the inserts before it, each with '/'. */
  readonly prefix: string;
  /** Effective layer of the insert; null in the drawing itself. */
  readonly layer: string | null;
  /** Effective line type of the insert; null in the drawing itself. */
  readonly lineType: string | null;
  readonly blocks: readonly string[];
  /** Boundaries outside of which nothing is seen, in plan. */
  readonly clips: readonly Boundary[];
}

export const TOP: Place = { map: IDENTITY, prefix: '', layer: null, lineType: null, blocks: [], clips: [] };

/** Coordinates beyond this cannot be told apart to a tenth of a unit in double precision. */
export const FARTHEST = 1e14;

/** A bulge of more than this is an arc that lacks less than 0.0003 degrees of the whole circle. */
export const MOST_BULGE = 1e6;

/** Sides of boundaries against which a vertex is held for the work of placing one. *Practice, no source.* */
export const CORNERS_PER_VERTEX = 16;

export const usable = (p: Point3): boolean =>
  Math.abs(p.x) <= FARTHEST && Math.abs(p.y) <= FARTHEST && Math.abs(p.z) <= FARTHEST;

/** Vertices in plan. Arcs stay arcs, turned about when mirrored. */
export const inPlan = (points: readonly Point3[], knots: readonly Knot[], mirrored: boolean): PathVertex[] =>
  points.map(({ x, y }, i) => {
    const { bulge } = knots[i]!;
    return { x, y, bulge: mirrored && bulge !== 0 ? -bulge : bulge };
  });

export const inPlanOf = (boundary: Boundary, map: Matrix): Boundary =>
  boundary.map(({ x, y }) => {
    const p = apply(map, { x, y, z: 0 });
    return { x: p.x, y: p.y };
  });

/** The place of one copy of an array. */
export const shifted = (item: InsertItem, column: number, row: number): Matrix => {
  if (column === 0 && row === 0) return item.place;
  const { origin } = item.place;
  const { columnStep: c, rowStep: r } = item;
  return {
    ...item.place,
    origin: {
      x: origin.x + column * c.x + row * r.x,
      y: origin.y + column * c.y + row * r.y,
      z: origin.z + column * c.z + row * r.z,
    },
  };
};
