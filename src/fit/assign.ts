/**
 * Least sum of factors over shared choices: which leg stands in which corner.
 *
 * Source: bucket elimination (Dechter 1999), i.e. dynamic programming over the wall graph. Costs are vectors compared lexicographically;
 * their order is kept under addition, so the method is exact. Elimination takes the choice with the fewest neighbours first, then the
 * first by id. Complexity: exponential only in the width of the graph, which is small for rooms.
 */

import { addCost, type Cost, compareCost, ZERO_COST } from './cost.js';

/** A table over a few choices: `cost` of one value of each, null where that combination cannot stand. */
export interface Factor {
  readonly scope: readonly string[];
  readonly cost: (values: readonly number[]) => Cost | null;
}

export interface Choice {
  readonly id: string;
  /** Number of values, 0 … size - 1. */
  readonly size: number;
}

/** A table over a few choices: one cell for each combination of their values, the last choice fastest; undefined where that cannot stand. */
interface Table {
  readonly scope: readonly string[];
  readonly cells: (Cost | undefined)[];
}

/** Calls `visit` with each combination of values and its number, last choice fastest. */
const combinations = (sizes: readonly number[], visit: (values: readonly number[], cell: number) => void): void => {
  const values = sizes.map(() => 0);
  if (sizes.some((s) => s === 0)) return;
  for (let cell = 0; ; cell++) {
    visit(values, cell);
    let i = sizes.length - 1;
    while (i >= 0 && values[i]! + 1 === sizes[i]!) values[i--] = 0;
    if (i < 0) return;
    values[i] = values[i]! + 1;
  }
};

/** How far apart in a table the cells of two neighbouring values of each choice are. */
const stridesOf = (sizes: readonly number[]): number[] => {
  const strides = sizes.map(() => 1);
  for (let i = sizes.length - 2; i >= 0; i--) strides[i] = strides[i + 1]! * sizes[i + 1]!;
  return strides;
};

interface Elimination {
  readonly id: string;
  readonly scope: readonly string[];
  readonly strides: readonly number[];
  /** By cell of the scope's values: best value of id. */
  readonly best: readonly number[];
}

/** Joins all tables that mention `id` and keeps the least over its values. */
const eliminate = (
  id: string,
  tables: readonly Table[],
  sizeOf: ReadonlyMap<string, number>,
): { table: Table; step: Elimination } => {
  const scope = [...new Set(tables.flatMap((t) => t.scope))].filter((s) => s !== id).sort();
  const all = [...scope, id];
  const size = sizeOf.get(id)!;
  const cells: (Cost | undefined)[] = [];
  const best: number[] = [];
  // For each choice of `all`, how far it moves in each table.
  const moves = tables.map((t) => {
    const strides = stridesOf(t.scope.map((s) => sizeOf.get(s)!));
    return all.map((s) => (t.scope.includes(s) ? strides[t.scope.indexOf(s)]! : 0));
  });
  combinations(
    all.map((s) => sizeOf.get(s)!),
    (values, cell) => {
      let sum: Cost = ZERO_COST;
      for (let t = 0; t < tables.length; t++) {
        const move = moves[t]!;
        let at = 0;
        for (let i = 0; i < values.length; i++) at += values[i]! * move[i]!;
        const part = tables[t]!.cells[at];
        if (!part) return;
        sum = addCost(sum, part);
      }
      const row = Math.floor(cell / size);
      const held = cells[row];
      if (held && compareCost(held, sum) <= 0) return;
      cells[row] = sum;
      best[row] = values[values.length - 1]!;
    },
  );
  return { table: { scope, cells }, step: { id, scope, strides: stridesOf(scope.map((s) => sizeOf.get(s)!)), best } };
};

/** A value for each choice, and what they cost together. */
export interface Assignment {
  readonly values: ReadonlyMap<string, number>;
  readonly cost: Cost;
}

/** The values of all choices with the least total, and that total; null when no combination stands. */
export const leastAssignment = (choices: readonly Choice[], factors: readonly Factor[]): Assignment | null => {
  const sizeOf = new Map(choices.map((c) => [c.id, c.size]));
  let tables: Table[] = factors.map((f) => {
    const cells: (Cost | undefined)[] = [];
    combinations(
      f.scope.map((s) => sizeOf.get(s)!),
      (values, cell) => {
        cells[cell] = f.cost(values) ?? undefined;
      },
    );
    return { scope: f.scope, cells };
  });
  const steps: Elimination[] = [];
  const left = new Set(choices.map((c) => c.id));
  while (left.size > 0) {
    const width = (id: string) => new Set(tables.filter((t) => t.scope.includes(id)).flatMap((t) => t.scope)).size;
    const [id] = [...left].sort((a, b) => width(a) - width(b) || (a < b ? -1 : 1));
    const touching = tables.filter((t) => t.scope.includes(id!));
    const { table, step } = eliminate(id!, touching, sizeOf);
    tables = [...tables.filter((t) => !touching.includes(t)), table];
    steps.push(step);
    left.delete(id!);
  }
  let cost: Cost = ZERO_COST;
  for (const t of tables) {
    const cell = t.cells[0];
    if (!cell) return null;
    cost = addCost(cost, cell);
  }
  const values = new Map<string, number>();
  for (const { id, scope, strides, best } of [...steps].reverse()) {
    const row = scope.reduce((sum, s, i) => sum + values.get(s)! * strides[i]!, 0);
    values.set(id, best[row]!);
  }
  return { values, cost };
};
