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

interface Table {
  readonly scope: readonly string[];
  readonly cells: Map<string, Cost>;
}

/** Calls `visit` with each combination of values, last choice fastest. */
const combinations = (sizes: readonly number[], visit: (values: readonly number[]) => void): void => {
  const values = sizes.map(() => 0);
  if (sizes.some((s) => s === 0)) return;
  for (;;) {
    visit(values);
    let i = sizes.length - 1;
    while (i >= 0 && values[i]! + 1 === sizes[i]!) values[i--] = 0;
    if (i < 0) return;
    values[i] = values[i]! + 1;
  }
};

const keyOf = (values: readonly number[]): string => values.join(',');

interface Elimination {
  readonly id: string;
  readonly scope: readonly string[];
  /** Values of scope → best value of id. */
  readonly best: Map<string, number>;
}

/** Joins all tables that mention `id` and keeps the least over its values. */
const eliminate = (
  id: string,
  tables: readonly Table[],
  sizeOf: ReadonlyMap<string, number>,
): { table: Table; step: Elimination } => {
  const scope = [...new Set(tables.flatMap((t) => t.scope))].filter((s) => s !== id).sort();
  const all = [...scope, id];
  const cells = new Map<string, Cost>();
  const best = new Map<string, number>();
  const places = tables.map((t) => t.scope.map((s) => all.indexOf(s)));
  combinations(
    all.map((s) => sizeOf.get(s)!),
    (values) => {
      let sum: Cost = ZERO_COST;
      for (let i = 0; i < tables.length; i++) {
        const cell = tables[i]!.cells.get(keyOf(places[i]!.map((p) => values[p]!)));
        if (!cell) return;
        sum = addCost(sum, cell);
      }
      const key = keyOf(values.slice(0, -1));
      const held = cells.get(key);
      if (held && compareCost(held, sum) <= 0) return;
      cells.set(key, sum);
      best.set(key, values[values.length - 1]!);
    },
  );
  return { table: { scope, cells }, step: { id, scope, best } };
};

/** The values of all choices with the least total, and that total; null when no combination stands. */
export const leastAssignment = (
  choices: readonly Choice[],
  factors: readonly Factor[],
): { readonly values: ReadonlyMap<string, number>; readonly cost: Cost } | null => {
  const sizeOf = new Map(choices.map((c) => [c.id, c.size]));
  let tables: Table[] = factors.map((f) => {
    const cells = new Map<string, Cost>();
    combinations(
      f.scope.map((s) => sizeOf.get(s)!),
      (values) => {
        const cost = f.cost(values);
        if (cost) cells.set(keyOf(values), cost);
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
    const cell = t.cells.get('');
    if (!cell) return null;
    cost = addCost(cost, cell);
  }
  const values = new Map<string, number>();
  for (const step of [...steps].reverse()) {
    values.set(step.id, step.best.get(keyOf(step.scope.map((s) => values.get(s)!)))!);
  }
  return { values, cost };
};
