/**
 * Least sum of factors over shared choices: which leg stands in which corner.
 *
 * Source: bucket elimination (Dechter 1999), i.e. dynamic programming over the wall graph. Costs are vectors compared lexicographically;
 * their order is kept under addition, so the method is exact. Elimination takes the choice with the fewest neighbours first, then the
 * first by id. Complexity: exponential only in the width of the graph, which is small for rooms and rows of rooms.
 *
 * Where a table would get too large (many rooms side by side in both directions) its parts are eliminated one by one instead (mini-buckets, Dechter and
 * Rish 2003): that is a lower bound, and the values read back from it, improved one choice at a time, need not be the least. `bound` then lies below `cost`.
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

/** A value for each choice, what they cost together, and what any values cost at least. */
export interface Assignment {
  readonly values: ReadonlyMap<string, number>;
  readonly cost: Cost;
  readonly bound: Cost;
}

/** No table has more cells than this. */
const CELLS_MOST = 60_000;
/** Times that all choices are gone through to improve values that need not be the least. */
const SWEEPS_MOST = 8;

/** A table over choices by number: one cell for each combination of their values, the last choice fastest; undefined where that cannot stand. */
interface Table {
  readonly scope: readonly number[];
  readonly strides: readonly number[];
  readonly cells: readonly (Cost | undefined)[];
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

const cellOf = (t: Table, values: readonly number[]): Cost | undefined => {
  let at = 0;
  for (let i = 0; i < t.scope.length; i++) at += values[t.scope[i]!]! * t.strides[i]!;
  return t.cells[at];
};

/** The order of elimination: fewest neighbours first, then the lowest number; with what is joined to each by then. */
const orderOf = (sizes: readonly number[], scopes: readonly (readonly number[])[]): number[] => {
  const neighbours = sizes.map(() => new Set<number>());
  for (const scope of scopes) for (const a of scope) for (const b of scope) if (a !== b) neighbours[a]!.add(b);
  // Choices by number of neighbours; stale entries are passed over.
  const byDegree: number[][] = [];
  const put = (c: number) => {
    const degree = neighbours[c]!.size;
    while (byDegree.length <= degree) byDegree.push([]);
    byDegree[degree]!.push(c);
  };
  for (let c = sizes.length - 1; c >= 0; c--) put(c);
  const gone = sizes.map(() => false);
  const order: number[] = [];
  let degree = 0;
  while (order.length < sizes.length) {
    const c = byDegree[degree]?.pop();
    if (c === undefined) {
      degree++;
      continue;
    }
    if (gone[c] || neighbours[c]!.size !== degree) continue;
    gone[c] = true;
    order.push(c);
    const beside = [...neighbours[c]!];
    for (const a of beside) {
      neighbours[a]!.delete(c);
      for (const b of beside) if (a !== b) neighbours[a]!.add(b);
    }
    for (const a of beside) {
      put(a);
      degree = Math.min(degree, neighbours[a]!.size);
    }
  }
  return order;
};

/** Tables that are joined at once: few enough cells, else one group more. */
const groupsOf = (tables: readonly Table[], sizes: readonly number[]): Table[][] => {
  const groups: { tables: Table[]; scope: Set<number>; cells: number }[] = [];
  const widest = [...tables].sort((a, b) => b.scope.length - a.scope.length);
  for (const t of widest) {
    const cellsWith = (scope: ReadonlySet<number>, cells: number) =>
      t.scope.reduce((n, c) => (scope.has(c) ? n : n * sizes[c]!), cells);
    const into = groups.find((g) => cellsWith(g.scope, g.cells) <= CELLS_MOST);
    if (into) {
      into.cells = cellsWith(into.scope, into.cells);
      into.tables.push(t);
      for (const c of t.scope) into.scope.add(c);
    } else groups.push({ tables: [t], scope: new Set(t.scope), cells: cellsWith(new Set(), 1) });
  }
  return groups.map((g) => g.tables);
};

/** Joins tables that mention `id` and keeps the least over its values. */
const eliminate = (id: number, tables: readonly Table[], sizes: readonly number[]): Table => {
  const scope = [...new Set(tables.flatMap((t) => t.scope))].filter((s) => s !== id).sort((a, b) => a - b);
  const all = [...scope, id];
  const size = sizes[id]!;
  const cells: (Cost | undefined)[] = [];
  // For each choice of `all`, how far it moves in each table.
  const moves = tables.map((t) => all.map((s) => t.strides[t.scope.indexOf(s)] ?? 0));
  combinations(
    all.map((s) => sizes[s]!),
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
      if (!held || compareCost(sum, held) < 0) cells[row] = sum;
    },
  );
  return { scope, strides: stridesOf(scope.map((s) => sizes[s]!)), cells };
};

/** The value of a choice with the least sum over these tables, the first of several; null where none can stand. */
const bestValue = (
  id: number,
  size: number,
  tables: readonly Table[],
  values: number[],
): { value: number; cost: Cost } | null => {
  let best: { value: number; cost: Cost } | null = null;
  const before = values[id]!;
  for (let value = 0; value < size; value++) {
    values[id] = value;
    let sum: Cost | null = ZERO_COST;
    for (const t of tables) {
      const part = cellOf(t, values);
      if (!part) {
        sum = null;
        break;
      }
      sum = addCost(sum, part);
    }
    if (sum && (best === null || compareCost(sum, best.cost) < 0)) best = { value, cost: sum };
  }
  values[id] = before;
  return best;
};

const byChoice = (tables: readonly Table[], count: number): Table[][] => {
  const touching: Table[][] = Array.from({ length: count }, () => []);
  for (const t of tables) for (const c of t.scope) touching[c]!.push(t);
  return touching;
};

/** Changes one choice after the other while that makes the whole less. */
const improve = (values: number[], sizes: readonly number[], touching: readonly Table[][]): void => {
  for (let sweep = 0; sweep < SWEEPS_MOST; sweep++) {
    let changed = false;
    for (const [id, size] of sizes.entries()) {
      const best = bestValue(id, size, touching[id]!, values);
      if (!best || best.value === values[id]) continue;
      const own = touching[id]!.map((t) => cellOf(t, values));
      const now = own.every((c) => c !== undefined) ? own.reduce<Cost>((sum, c) => addCost(sum, c), ZERO_COST) : null;
      if (now && compareCost(best.cost, now) >= 0) continue;
      values[id] = best.value;
      changed = true;
    }
    if (!changed) return;
  }
};

const totalAt = (tables: readonly Table[], values: readonly number[]): Cost | null => {
  let sum: Cost = ZERO_COST;
  for (const t of tables) {
    const cell = cellOf(t, values);
    if (!cell) return null;
    sum = addCost(sum, cell);
  }
  return sum;
};

/** The values of all choices with the least total, and that total; null when no combination stands, or none was found. */
export const leastAssignment = (choices: readonly Choice[], factors: readonly Factor[]): Assignment | null => {
  const sizes = choices.map((c) => c.size);
  const numberOf = new Map(choices.map((c, i) => [c.id, i]));
  const given = factors.map((f): Table => {
    const scope = f.scope.map((s) => numberOf.get(s)!);
    const own = scope.map((c) => sizes[c]!);
    const cells: (Cost | undefined)[] = [];
    combinations(own, (values, cell) => {
      cells[cell] = f.cost(values) ?? undefined;
    });
    return { scope, strides: stridesOf(own), cells };
  });

  const left: Set<Table>[] = sizes.map(() => new Set());
  for (const t of given) for (const c of t.scope) left[c]!.add(t);
  const steps: { id: number; tables: readonly Table[] }[] = [];
  let bound: Cost = ZERO_COST;
  let isExact = true;
  for (const t of given) if (t.scope.length === 0) bound = addCost(bound, t.cells[0] ?? ZERO_COST);
  if (given.some((t) => t.scope.length === 0 && !t.cells[0])) return null;
  const order = orderOf(
    sizes,
    given.map((t) => t.scope),
  );
  for (const id of order) {
    const tables = [...left[id]!];
    steps.push({ id, tables });
    const groups = groupsOf(tables, sizes);
    if (groups.length > 1) isExact = false;
    for (const t of tables) for (const c of t.scope) left[c]!.delete(t);
    for (const group of groups) {
      const table = eliminate(id, group, sizes);
      if (table.scope.length > 0) {
        for (const c of table.scope) left[c]!.add(table);
        continue;
      }
      if (!table.cells[0]) return null;
      bound = addCost(bound, table.cells[0]);
    }
  }

  const values = sizes.map(() => 0);
  for (const { id, tables } of [...steps].reverse()) values[id] = bestValue(id, sizes[id]!, tables, values)?.value ?? 0;
  if (!isExact) improve(values, sizes, byChoice(given, sizes.length));
  const cost = totalAt(given, values);
  return cost && { values: new Map(choices.map((c, i) => [c.id, values[i]!])), cost, bound: isExact ? cost : bound };
};
