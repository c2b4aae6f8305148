/**
 * Linework → clusters: what lies within a gap of each other belongs together. The plane is laid out in square cells as wide as the gap; cells
 * that linework passes through and that touch each other are one cluster. So two clusters are at least one gap apart, and what is
 * nearer than one gap is never parted.
 *
 * Complexity: proportional to the linework's length over the gap, which is kept below CELLS_MOST by widening the gap.
 */

import { grouping } from '../../ground/groups.js';
import type { DrawingPath } from '../../ground/vocabulary.js';
import { type Box, boxOfPath, EMPTY, isEmpty, joined } from './boxes.js';

const CELLS_MOST = 300000;
/** Cells are told by one number: columns and rows up to this many either way. */
const ROWS = 2 ** 26;

export interface Cluster {
  readonly box: Box;
  readonly paths: readonly DrawingPath[];
}

const cellsAlong = (
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  gap: number,
  visit: (cell: number) => void,
): void => {
  // Half a cell a step: no cell that the line crosses by more than a corner is passed over, and those touch the next ones.
  const steps = Math.max(1, Math.ceil((2 * Math.max(Math.abs(x1 - x0), Math.abs(y1 - y0))) / gap));
  for (let i = 0; i <= steps; i++) {
    const column = Math.floor((x0 + ((x1 - x0) * i) / steps) / gap);
    const row = Math.floor((y0 + ((y1 - y0) * i) / steps) / gap);
    visit(column * ROWS + row);
  }
};

const lengthOf = (path: DrawingPath): number => {
  let sum = 0;
  for (let i = 1; i < path.vertices.length; i++) {
    const l = Math.hypot(path.vertices[i]!.x - path.vertices[i - 1]!.x, path.vertices[i]!.y - path.vertices[i - 1]!.y);
    if (Number.isFinite(l)) sum += l;
  }
  return sum;
};

const order = (p: Cluster, q: Cluster): number =>
  p.box.x0 - q.box.x0 || p.box.y0 - q.box.y0 || p.box.x1 - q.box.x1 || p.box.y1 - q.box.y1;

/** Clusters by lower left corner. Paths without a finite place are in none. */
export const clustersOf = (paths: readonly DrawingPath[], wantedGap: number): Cluster[] => {
  const placed = paths.filter((p) => p.vertices.length > 0 && !isEmpty(boxOfPath(p)));
  const all = placed.reduce((b, p) => joined(b, boxOfPath(p)), EMPTY);
  const length = placed.reduce((s, p) => s + lengthOf(p), 0);
  const gap = Math.max(
    wantedGap,
    (4 * length) / CELLS_MOST,
    (all.x1 - all.x0) / (ROWS / 4),
    (all.y1 - all.y0) / (ROWS / 4),
  );
  if (placed.length === 0 || !(gap > 0)) return placed.length === 0 ? [] : [{ box: all, paths: placed }];

  const owner = new Map<number, number>();
  const { connect, groups } = grouping(placed.length);
  placed.forEach((path, i) => {
    const { vertices } = path;
    const visit = (cell: number) => {
      const first = owner.get(cell);
      if (first === undefined) owner.set(cell, i);
      else connect(i, first);
    };
    const edges = path.closed ? vertices.length : Math.max(1, vertices.length - 1);
    for (let k = 0; k < edges; k++) {
      const p = vertices[k]!;
      const q = vertices[(k + 1) % vertices.length]!;
      if (![p.x, p.y, q.x, q.y].every(Number.isFinite)) continue;
      cellsAlong(p.x - all.x0, p.y - all.y0, q.x - all.x0, q.y - all.y0, gap, visit);
    }
  });
  for (const [cell, i] of owner) {
    for (const step of [1, ROWS - 1, ROWS, ROWS + 1]) {
      const next = owner.get(cell + step);
      if (next !== undefined) connect(i, next);
    }
  }
  return groups()
    .map((members) => members.map((i) => placed[i]!))
    .map((list) => ({ box: list.reduce((b, p) => joined(b, boxOfPath(p)), EMPTY), paths: list }))
    .sort(order);
};
