/**
 * A mixed-integer linear program as it is written down: columns, rows, goals in order. Solved by HiGHS (https://highs.dev), which knows nothing of
 * this project; its answers are rounded where a column is whole.
 */

import highsModule, { type Model } from 'highs';

// The package's types are those of its CommonJS form; what an import gives at run time is the loader itself.
const highs = await (highsModule as unknown as typeof highsModule.default)();

export type Terms = readonly (readonly [column: number, factor: number])[];

export interface Solved {
  /** Goals at their least, in the order given. */
  readonly goals: readonly number[];
  readonly values: readonly number[];
}

/** Rows are held to this by the solver. */
const FEASIBILITY = 1e-7;

const WEIGHT_MOST = 100_000;

export interface Goal {
  readonly terms: Terms;
  /** The most that it is at its least, where that is known. */
  readonly most?: number;
}

const merge = (terms: Terms): Map<number, number> => {
  const merged = new Map<number, number>();
  for (const [c, f] of terms) merged.set(c, (merged.get(c) ?? 0) + f);
  for (const [c, f] of merged) if (f === 0) merged.delete(c);
  return merged;
};

const reached = (terms: Terms, values: readonly number[]): number =>
  terms.reduce((sum, [c, f]) => sum + f * values[c]!, 0);

export class IntegerProgram {
  private readonly lower: number[] = [];
  private readonly upper: number[] = [];
  private readonly whole: boolean[] = [];
  private readonly rows: { readonly terms: Terms; readonly low: number; readonly high: number }[] = [];

  column(low: number, high: number, whole: boolean): number {
    this.lower.push(low);
    this.upper.push(high);
    this.whole.push(whole);
    return this.lower.length - 1;
  }

  row(terms: Terms, low: number, high: number): void {
    this.rows.push({ terms, low, high });
  }

  get size(): { readonly columns: number; readonly rows: number } {
    return { columns: this.lower.length, rows: this.rows.length };
  }

  /**
   * Makes the goals least one after the other, each held at its least for the next. Goals take whole values on whole columns alone. Goals given
   * with the most that they can be are weighed into one objective with those before them. Null where nothing satisfies the rows; throws where the
   * solver stops for another reason.
   */
  solve(goals: readonly Goal[], nodeLimit = 200_000): Solved | null {
    const model = this.model();
    try {
      model.options.set({
        output_flag: false,
        mip_rel_gap: 0,
        mip_abs_gap: 0.5,
        mip_feasibility_tolerance: FEASIBILITY,
        primal_feasibility_tolerance: FEASIBILITY,
        mip_max_nodes: nodeLimit,
      });
      let values: number[] = [];
      for (const together of this.bundles(goals)) {
        const costs = new Map<number, number>();
        let weight = 1;
        for (const { terms, most } of [...together].reverse()) {
          for (const [c, f] of terms) costs.set(c, (costs.get(c) ?? 0) + weight * f);
          weight *= (most ?? 0) + 1;
        }
        for (let c = 0; c < this.lower.length; c++) model.changeColCost(c, costs.get(c) ?? 0);
        model.run();
        const status = model.getModelStatus();
        if (status === highs.constants.modelStatus.infeasible) return null;
        if (status !== highs.constants.modelStatus.optimal) throw new Error(`the solver stopped with status ${status}`);
        values = [...model.getSolution().colValue].map((v, i) => (this.whole[i] ? Math.round(v) : v));
        for (const { terms } of together) {
          const merged = merge(terms);
          if (merged.size === 0) continue;
          model.addRow(Number.NEGATIVE_INFINITY, reached(terms, values) + 1e-6, {
            indices: [...merged.keys()],
            values: [...merged.values()],
          });
        }
      }
      return { goals: goals.map((g) => reached(g.terms, values)), values };
    } finally {
      model.dispose();
    }
  }

  /** Goals that go into one objective: as long as the weight of the first stays far from what the solver's tolerances can blur. */
  private bundles(goals: readonly Goal[]): Goal[][] {
    const bundles: Goal[][] = [];
    let weight = Number.POSITIVE_INFINITY;
    for (const goal of goals) {
      if (goal.terms.length === 0) continue;
      weight *= (goal.most ?? Number.POSITIVE_INFINITY) + 1;
      if (weight <= WEIGHT_MOST) bundles[bundles.length - 1]!.push(goal);
      else {
        bundles.push([goal]);
        weight = 1;
      }
    }
    return bundles;
  }

  private model(): Model {
    const starts = [0];
    const indices: number[] = [];
    const values: number[] = [];
    for (const { terms } of this.rows) {
      for (const [c, f] of merge(terms)) {
        indices.push(c);
        values.push(f);
      }
      starts.push(indices.length);
    }
    const { integer, continuous } = highs.constants.variableType;
    return highs.createModel({
      numCols: this.lower.length,
      numRows: this.rows.length,
      colCost: this.lower.map(() => 0),
      colLower: this.lower,
      colUpper: this.upper,
      rowLower: this.rows.map((r) => r.low),
      rowUpper: this.rows.map((r) => r.high),
      integrality: this.whole.map((w) => (w ? integer : continuous)),
      matrix: { format: 'csr', numRows: this.rows.length, numCols: this.lower.length, starts, indices, values },
    });
  }
}
