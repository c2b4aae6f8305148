/**
 * The least cost of a closed room as one mixed-integer program: all its walls together, with the inside corner that two walls share and with the
 * yard's stock, one course of forms and one pour. Nothing is left to an order of solving: legs and stock are chosen with everything else.
 *
 * Tiers: units short of the stock, then those of one run summed over the walls (docs/reference/rules.md).
 */

import { type Goal, IntegerProgram } from './integerProgram.js';
import type { Cost, Zone } from './problem.js';
import { addRun, type RunColumns } from './runColumns.js';

/** Walls in order round the room: each ends at the corner where the next starts, the last where the first starts. */
export interface RoomProblem {
  readonly zones: readonly Zone[];
  /** 'panel 600', 'filler 50', 'inside 150', 'outside', 'tie' → how many the yard owns; what is not named is not limited. */
  readonly stock: Readonly<Record<string, number>>;
}

export interface RoomFound {
  readonly short: number;
  readonly cost: Cost;
  /** Leg of each corner, the first at the start of the first wall. */
  readonly legsMm: readonly number[];
  /** What is taken, by item. */
  readonly taken: Readonly<Record<string, number>>;
}

type Term = readonly [number, number];

const legsOf = (runs: readonly RunColumns[]): number[] =>
  [...new Set(runs.flatMap((r) => [...r.start, ...r.end].map((e) => e.choice.legMm)))].sort((a, b) => a - b);

/** Null where the room cannot be laid out. */
export const milpPlan = ({ zones, stock }: RoomProblem): RoomFound | null => {
  const program = new IntegerProgram();
  const runs: RunColumns[] = [];
  for (const zone of zones) {
    const run = addRun(program, zone, true);
    if (!run) return null;
    runs.push(run);
  }
  const taken = new Map<string, Term[]>();
  const take = (item: string, terms: readonly Term[]) => taken.set(item, [...(taken.get(item) ?? []), ...terms]);
  for (const { items } of runs) for (const [item, terms] of items) take(item, terms);

  // The corner before each wall: its leg is that of the wall before and of this one.
  const corners = runs.map((run, i) => {
    const before = runs[(i + runs.length - 1) % runs.length]!;
    const columns = legsOf(runs).map((legMm) => {
      const column = program.column(0, 1, true);
      for (const side of [before.end, run.start]) {
        const chosen = side.filter((e) => e.choice.legMm === legMm).map((e): Term => [e.column, 1]);
        program.row([...chosen, [column, -1]], 0, 0);
      }
      take(`inside ${legMm}`, [[column, 1]]);
      take('outside', [[column, 1]]);
      return { legMm, column };
    });
    program.row(
      columns.map(({ column }): Term => [column, 1]),
      1,
      1,
    );
    return columns;
  });

  const short = Object.entries(stock).map(([item, owned]): Term => {
    const column = program.column(0, Number.POSITIVE_INFINITY, true);
    program.row([...(taken.get(item) ?? []), [column, -1]], Number.NEGATIVE_INFINITY, owned);
    return [column, 1];
  });
  const summed = runs[0]!.goals.map(
    (_, tier): Goal => ({
      terms: runs.flatMap((r) => r.goals[tier]!.terms),
      most: runs.reduce((sum, r) => sum + r.goals[tier]!.most!, 0),
    }),
  );
  const solved = program.solve([{ terms: short }, ...summed]);
  if (!solved) return null;
  const [shortOf, ...cost] = solved.goals.map((g) => Math.round(g));
  const count = (terms: readonly Term[]) => terms.reduce((sum, [c, f]) => sum + f * solved.values[c]!, 0);
  return {
    short: shortOf!,
    cost: cost as unknown as Cost,
    legsMm: corners.map((c) => c.find(({ column }) => solved.values[column]! > 0.5)!.legMm),
    taken: Object.fromEntries([...taken].map(([item, terms]) => [item, count(terms)])),
  };
};
