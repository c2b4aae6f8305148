/**
 * The choice among layouts of zones under the yard's counts: one for each zone, legs and picks alike on both sides, and what is taken beyond the stock
 * counted as short. A linear program gives the prices, the integer program the layout.
 */

import { type Cost, SHORT, TIERS, type Uses } from '../cost.js';
import type { StemBound } from '../pilasters.js';
import { NO_LEG_GU } from '../plan.js';
import { type PartSearch, pickName, type StemTable, type ZoneTable } from '../search.js';
import { stepCost } from '../steps.js';
import { stemUses, type ZoneColumn } from './columns.js';
import type { Goal, Program, Terms } from './programs.js';

type Term = Terms[number];

/** Areas are large numbers; every other tier counts places, units, millimetres. */
const scaleOf = (largest: number): number => (largest > 1000 ? 1 / largest : 1);

export interface Master {
  readonly program: Program;
  readonly goals: readonly Goal[];
  /** A last goal for whole answers alone: wide units first, as the search has it. */
  readonly widest: Goal;
  /** The program's row of each limited item. */
  readonly stockRows: ReadonlyMap<string, number>;
  readonly chosen: (values: readonly number[]) => {
    readonly columns: ReadonlyMap<string, ZoneColumn>;
    readonly valueAt: ReadonlyMap<string, number>;
  };
}

/** All values of a scope, one list a combination. */
export const combinationsOf = (sizes: readonly number[]): number[][] =>
  sizes.reduce<number[][]>((all, size) => all.flatMap((v) => Array.from({ length: size }, (_, i) => [...v, i])), [[]]);

class Builder {
  readonly columns: { low: number; high: number }[] = [];
  readonly rows: { terms: Term[]; low: number; high: number }[] = [];
  readonly tiers: Term[][] = Array.from({ length: TIERS }, () => []);
  readonly squares: Term[] = [];
  readonly taken = new Map<string, Term[]>();

  column(high: number): number {
    this.columns.push({ low: 0, high });
    return this.columns.length - 1;
  }

  row(terms: Term[], low: number, high: number): number {
    this.rows.push({ terms, low, high });
    return this.rows.length - 1;
  }

  carries(column: number, cost: Cost, uses: Uses): void {
    cost.forEach((x, k) => {
      if (x !== 0) (k < TIERS ? this.tiers[k]! : this.squares).push([column, x]);
    });
    for (const [item, count] of uses) {
      const terms = this.taken.get(item) ?? [];
      terms.push([column, count]);
      this.taken.set(item, terms);
    }
  }

  goal(terms: Terms): Goal {
    return { terms, scale: scaleOf(terms.reduce((most, [, f]) => Math.max(most, Math.abs(f)), 0)) };
  }
}

/** `stock`: what there is of each limited item; `columns` by zone. */
export const masterOf = (
  parts: readonly PartSearch[],
  columns: ReadonlyMap<string, readonly ZoneColumn[]>,
  stock: Uses,
): Master => {
  const b = new Builder();
  const choice = new Map<string, number[]>();
  const zoneColumns: { column: ZoneColumn; at: number }[] = [];

  /** Ties what is chosen of a table to the values of its scope. */
  const linked = (scope: readonly string[], options: readonly { values: readonly number[]; at: number }[]) => {
    if (scope.length === 0)
      b.row(
        options.map(({ at }): Term => [at, 1]),
        1,
        1,
      );
    scope.forEach((id, i) => {
      choice.get(id)!.forEach((x, value) => {
        b.row([...options.filter((o) => o.values[i] === value).map(({ at }): Term => [at, 1]), [x, -1]], 0, 0);
      });
    });
  };
  const zoneOf = (t: ZoneTable) =>
    linked(
      t.scope,
      (columns.get(t.id) ?? []).map((column) => {
        const at = b.column(1);
        b.carries(at, column.cost, column.uses);
        zoneColumns.push({ column, at });
        return { values: column.values, at };
      }),
    );
  const stemOf = (part: PartSearch, s: StemTable) =>
    linked(
      s.scope,
      combinationsOf(s.scope.map((id) => choice.get(id)!.length)).flatMap((values) => {
        const bound: StemBound | null = part.stemOf(s, values);
        if (!bound) return [];
        const at = b.column(1);
        b.carries(at, bound.cost, stemUses(s.run.ctx, bound));
        return [{ values, at }];
      }),
    );

  for (const part of parts) {
    for (const { id, size } of part.choices) {
      const values = Array.from({ length: size }, () => b.column(1));
      choice.set(id, values);
      b.row(
        values.map((x): Term => [x, 1]),
        1,
        1,
      );
    }
    part.tables.forEach(zoneOf);
    for (const s of part.stems) stemOf(part, s);
    for (const step of part.model.steps)
      choice.get(pickName(step.id))!.forEach((x, pick) => {
        b.carries(x, stepCost(step, pick), []);
      });
    for (const jog of part.model.jogs)
      choice.get(pickName(jog.id))!.forEach((x, pick) => {
        const { cost, uses } = jog.options[pick]!;
        b.carries(x, cost, uses);
      });
    for (const { places, cost } of part.model.strips) {
      // One place is chosen, or the direction goes without or has one too many.
      const [none, more] = [b.column(1), b.column(Number.POSITIVE_INFINITY)];
      b.carries(none, cost(0), []);
      b.carries(more, cost(2), []);
      b.row([...places.map((id): Term => [choice.get(id)![1]!, 1]), [none, 1], [more, -1]], 1, 1);
    }
    for (const corner of part.model.corners)
      part.legsOf(corner.vertex).forEach((legGu, i) => {
        b.carries(choice.get(corner.vertex)![i]!, [], corner.uses(legGu));
      });
  }
  const stockRows = new Map(
    stock.map(([item, owned]): [string, number] => {
      const short = b.column(Number.POSITIVE_INFINITY);
      b.tiers[SHORT]!.push([short, 1]);
      return [item, b.row([...(b.taken.get(item) ?? []), [short, -1]], Number.NEGATIVE_INFINITY, owned)];
    }),
  );
  return {
    program: { columns: b.columns, rows: b.rows },
    goals: b.tiers.map((terms) => b.goal(terms)),
    widest: b.goal(b.squares),
    stockRows,
    chosen: (values) => ({
      columns: new Map(zoneColumns.filter(({ at }) => values[at]! > 0.5).map(({ column }) => [column.zone, column])),
      valueAt: new Map([...choice].map(([id, xs]) => [id, xs.findIndex((x) => values[x]! > 0.5)])),
    }),
  };
};

/** What stands whatever is chosen: outside corners, and inside ones at which no end is laid out. */
export const fixedUses = (parts: readonly PartSearch[]): Uses =>
  parts.flatMap((p) => p.model.corners.flatMap((c) => (p.legsOf(c.vertex).length === 0 ? c.uses(NO_LEG_GU) : [])));
