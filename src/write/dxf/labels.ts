/** Places for texts so that none lies over another: boxes in plan, and lanes in elevations. */

import { direction } from '../../ground/places.js';
import { add, dot, leftOf, scale, sub, type Vec } from '../../ground/plane.js';

/** What takes the ground: a form or a tie, a text or sign, a leader. Leaders may cross forms and each other, nothing may cross a text. */
export type Kind = 'body' | 'text' | 'leader';

const MAY_CROSS: Readonly<Record<Kind, readonly Kind[]>> = {
  body: ['body', 'leader'],
  text: [],
  leader: ['body', 'leader'],
};

/** A rectangle at any angle. */
export interface Box {
  readonly kind: Kind;
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
      const others = this.cells.get(cell) ?? [];
      if (others.some((other) => !MAY_CROSS[box.kind].includes(other.kind) && overlap(box, other))) return false;
    }
    return true;
  }

  /** Whether a text would lie over no other text, whatever lines it crosses. */
  private clearsTexts(box: Box): boolean {
    for (const cell of this.cellsOf(box)) {
      const others = this.cells.get(cell) ?? [];
      if (others.some((other) => other.kind === 'text' && overlap(box, other))) return false;
    }
    return true;
  }

  /**
   * The first candidate whose boxes (a label and its leader) are all free, which are taken then. Where there is none, the first whose label is free, though
   * its leader crosses something; else the first whose label lies over lines but over no other text; else the first of all.
   */
  firstFree<T extends { readonly boxes: readonly [Box, ...Box[]] }>(candidates: Iterable<T>): T {
    let [first, overLines, labelFree]: [T | null, T | null, T | null] = [null, null, null];
    let chosen: T | null = null;
    for (const candidate of candidates) {
      const [label, ...leaders] = candidate.boxes;
      first ??= candidate;
      if (!labelFree && !overLines && this.clearsTexts(label)) overLines = candidate;
      if (!this.isFree(label)) continue;
      labelFree ??= candidate;
      if (!leaders.every((box) => this.isFree(box))) continue;
      chosen = candidate;
      break;
    }
    const best = chosen ?? labelFree ?? overLines ?? first;
    if (!best) throw new Error('a label has no place to be tried');
    for (const box of best.boxes) this.take(box);
    return best;
  }
}

const LEADER_HALF_MM = 8;

/** The thin box that a leader takes. */
export const leaderBox = (from: Vec, to: Vec): Box => ({
  kind: 'leader',
  centre: scale(add(from, to), 0.5),
  halfMm: [Math.hypot(to.x - from.x, to.y - from.y) / 2, LEADER_HALF_MM],
  rotationDeg: (Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI,
});

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
