/**
 * Linear and integer programs with goals in order, solved by HiGHS (https://highs.dev): the first is made least, held, then the next. Loaded once and
 * handed on, since loading has to wait and the fit does not. The same program gives the same answer: nodes are limited, not time.
 */

import highsModule, { type Model } from 'highs';

export type Terms = readonly (readonly [column: number, factor: number])[];

export interface Program {
  /** Bounds of each column. */
  readonly columns: readonly { readonly low: number; readonly high: number }[];
  readonly rows: readonly { readonly terms: Terms; readonly low: number; readonly high: number }[];
}

export interface Goal {
  readonly terms: Terms;
  /** What the goal is multiplied by for the solver, whose tolerances are for numbers near 1. */
  readonly scale: number;
}

export interface Relaxed {
  /** By goal, by row: how the goal changes with the row's limit, the goals before it held. */
  readonly rowDuals: readonly (readonly number[])[];
  /** By goal, by goal before it: how it changes with what that one is held at. */
  readonly goalDuals: readonly (readonly number[])[];
}

export interface Whole {
  readonly values: readonly number[];
  readonly goals: readonly number[];
}

export interface Programs {
  /** The program with columns of any value; null where nothing satisfies the rows. */
  readonly relaxed: (program: Program, goals: readonly Goal[]) => Relaxed | null;
  /** With every column whole; null where nothing satisfies the rows or the limit of nodes was met before something did. */
  readonly whole: (program: Program, goals: readonly Goal[]) => Whole | null;
}

type Highs = Awaited<ReturnType<typeof highsModule.default>>;

/** Columns of a whole answer are this near to whole numbers, rows this near to their limits. */
const FEASIBILITY = 1e-7;
/** A goal that is held may be passed by this, scaled. */
const HELD = 1e-6;
const NODES_MOST = 20_000;

const merged = (terms: Terms): Map<number, number> => {
  const sums = new Map<number, number>();
  for (const [c, f] of terms) sums.set(c, (sums.get(c) ?? 0) + f);
  for (const [c, f] of sums) if (f === 0) sums.delete(c);
  return sums;
};

const sumOf = (terms: Terms, values: readonly number[]): number =>
  terms.reduce((sum, [c, f]) => sum + f * values[c]!, 0);

const modelOf = (highs: Highs, { columns, rows }: Program, isWhole: boolean): Model => {
  const starts = [0];
  const indices: number[] = [];
  const factors: number[] = [];
  for (const { terms } of rows) {
    for (const [c, f] of merged(terms)) {
      indices.push(c);
      factors.push(f);
    }
    starts.push(indices.length);
  }
  const { integer } = highs.constants.variableType;
  const model = highs.createModel({
    numCols: columns.length,
    numRows: rows.length,
    colCost: columns.map(() => 0),
    colLower: columns.map((c) => c.low),
    colUpper: columns.map((c) => c.high),
    rowLower: rows.map((r) => r.low),
    rowUpper: rows.map((r) => r.high),
    ...(isWhole ? { integrality: columns.map(() => integer) } : {}),
    matrix: { format: 'csr', numRows: rows.length, numCols: columns.length, starts, indices, values: factors },
  });
  model.options.set({
    output_flag: false,
    primal_feasibility_tolerance: FEASIBILITY,
    dual_feasibility_tolerance: FEASIBILITY,
    mip_feasibility_tolerance: FEASIBILITY,
    mip_rel_gap: 0,
    mip_abs_gap: 1e-6,
    mip_max_nodes: NODES_MOST,
  });
  return model;
};

/** Makes the goals least in order; `onGoal` sees each before it is held. False where the solver found no optimum of one. */
const inOrder = (
  highs: Highs,
  model: Model,
  width: number,
  goals: readonly Goal[],
  valuesOf: () => number[],
  onGoal: (values: number[], heldBefore: number[], goal: number) => void,
): boolean => {
  /** Goals that are held by a row each, in the order of those rows. */
  const held: number[] = [];
  let values: number[] = [];
  for (const [k, { terms, scale }] of goals.entries()) {
    const factors = merged(terms);
    if (factors.size === 0 && k > 0) {
      onGoal(values, held, k);
      continue;
    }
    for (let c = 0; c < width; c++) model.changeColCost(c, (factors.get(c) ?? 0) * scale);
    model.run();
    if (model.getModelStatus() !== highs.constants.modelStatus.optimal) return false;
    values = valuesOf();
    onGoal(values, held, k);
    model.addRow(Number.NEGATIVE_INFINITY, sumOf(terms, values) * scale + HELD, {
      indices: [...factors.keys()],
      values: [...factors.values()].map((f) => f * scale),
    });
    held.push(k);
  }
  return true;
};

const programsOf = (highs: Highs): Programs => ({
  relaxed: (program, goals) => {
    const model = modelOf(highs, program, false);
    try {
      const rowDuals: number[][] = [];
      const goalDuals: number[][] = [];
      const solved = inOrder(
        highs,
        model,
        program.columns.length,
        goals,
        () => [...model.getSolution().colValue],
        (_, held, k) => {
          const { scale, terms } = goals[k]!;
          const duals = terms.length === 0 && k > 0 ? [] : [...model.getSolution().rowDual];
          rowDuals.push(program.rows.map((_, r) => (duals[r] ?? 0) / scale));
          const before = goals.slice(0, k).map(() => 0);
          for (const [at, j] of held.entries())
            before[j] = ((duals[program.rows.length + at] ?? 0) * goals[j]!.scale) / scale;
          goalDuals.push(before);
        },
      );
      return solved ? { rowDuals, goalDuals } : null;
    } finally {
      model.dispose();
    }
  },
  whole: (program, goals) => {
    const model = modelOf(highs, program, true);
    try {
      let values: number[] = [];
      const solved = inOrder(
        highs,
        model,
        program.columns.length,
        goals,
        () => [...model.getSolution().colValue].map(Math.round),
        (found) => {
          values = found;
        },
      );
      return solved ? { values, goals: goals.map((g) => sumOf(g.terms, values)) } : null;
    } finally {
      model.dispose();
    }
  },
});

let loaded: Promise<Programs> | null = null;

/** Loads the solver; the same one for every caller. */
export const loadPrograms = (): Promise<Programs> => {
  // The package's types are those of its CommonJS form; what an import gives at run time is the loader itself.
  loaded ??= (highsModule as unknown as typeof highsModule.default)().then(programsOf);
  return loaded;
};
