/** Places for texts so that none lies over another: boxes in plan, and lanes in elevations. */

import { add, dot, leftOf, scale, sub, type Vec } from '../../ground/plane.js';
import { direction } from './places.js';

/** A rectangle at any angle. */
export interface Box {
  readonly centre: Vec;
  readonly halfMm: readonly [number, number];
  readonly rotationDeg: number;
}

const axesOf = (box: Box): readonly [Vec, Vec] => {
  const x = direction(box.rotationDeg);
  return [x, leftOf(x)];
};

const reachAlong = (box: Box, axis: Vec): number => {
  const [x, y] = axesOf(box);
  return Math.abs(dot(x, axis)) * box.halfMm[0] + Math.abs(dot(y, axis)) * box.halfMm[1];
};

/** Whether two boxes overlap (separating axes); touching is none. */
export const overlap = (a: Box, b: Box): boolean =>
  [...axesOf(a), ...axesOf(b)].every((axis) => {
    const apart = Math.abs(dot(sub(b.centre, a.centre), axis));
    return apart < reachAlong(a, axis) + reachAlong(b, axis) - 1e-6;
  });

const CELL_MM = 1000;

/** Boxes that are taken, in a grid of cells so that a look does not go through all of them. */
export class Places {
  private readonly cells = new Map<string, Box[]>();

  private *cellsOf(box: Box): Generator<string> {
    const rx = reachAlong(box, { x: 1, y: 0 });
    const ry = reachAlong(box, { x: 0, y: 1 });
    const from = [Math.floor((box.centre.x - rx) / CELL_MM), Math.floor((box.centre.y - ry) / CELL_MM)] as const;
    const to = [Math.floor((box.centre.x + rx) / CELL_MM), Math.floor((box.centre.y + ry) / CELL_MM)] as const;
    for (let i = from[0]; i <= to[0]; i++) for (let j = from[1]; j <= to[1]; j++) yield `${i} ${j}`;
  }

  take(box: Box): void {
    for (const cell of this.cellsOf(box)) {
      const boxes = this.cells.get(cell);
      if (boxes) boxes.push(box);
      else this.cells.set(cell, [box]);
    }
  }

  isFree(box: Box): boolean {
    for (const cell of this.cellsOf(box)) {
      if (this.cells.get(cell)?.some((other) => overlap(box, other))) return false;
    }
    return true;
  }

  /** The place in the list of the first box that is free, which is taken then; the first of all where none is. */
  firstFree(candidates: readonly Box[]): number {
    const found = candidates.findIndex((box) => this.isFree(box));
    const at = Math.max(found, 0);
    this.take(candidates[at]!);
    return at;
  }
}

/** Shifts along and away in which a label is tried: straight out first, then beside, then further out. */
export const tries = (
  home: Box,
  along: Vec,
  away: Vec,
  stepMm: number,
  rows: number,
  beside: number,
  rowMm: number,
): Box[] => {
  const boxes: Box[] = [];
  for (let row = 0; row < rows; row++) {
    for (let k = 0; k <= 2 * beside; k++) {
      const shift = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * stepMm;
      boxes.push({ ...home, centre: add(home.centre, add(scale(along, shift), scale(away, row * rowMm))) });
    }
  }
  return boxes;
};

/**
 * Positions as near as can be to the wanted ones (rising), at least `gap` apart: least squares, by pooling neighbours that are too near
 * (isotonic regression of position minus index times gap). The order of the input is kept.
 */
export const spread = (wanted: readonly number[], gap: number): number[] => {
  const pools: { sum: number; count: number }[] = [];
  wanted.forEach((position, i) => {
    let pool = { sum: position - i * gap, count: 1 };
    let last = pools.at(-1);
    while (last && last.sum / last.count > pool.sum / pool.count) {
      pool = { sum: last.sum + pool.sum, count: last.count + pool.count };
      pools.pop();
      last = pools.at(-1);
    }
    pools.push(pool);
  });
  return pools
    .flatMap(({ sum, count }) => new Array<number>(count).fill(sum / count))
    .map((position, i) => position + i * gap);
};
