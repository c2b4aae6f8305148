/**
 * The least cost of a closed room as one mixed-integer program: all its walls together, with the inside corner that two walls share and with the
 * yard's stock, one course of forms and one pour. Nothing is left to an order of solving: legs and stock are chosen with everything else.
 *
 * Tiers: units short of the stock, then those of one run summed over the walls (docs/reference/rules.md).
 */

import { type Goal, IntegerProgram } from './integerProgram.js';
import type { Cost, Zone } from './problem.js';
import { addRun, type RunColumns } from './runColumns.js';

/** A wall between two corners, named by their nodes. */
export interface RoomWall {
  readonly zone: Zone;
  readonly startNode: string;
  readonly endNode: string;
}

export interface RoomProblem {
  readonly walls: readonly RoomWall[];
  /** 'panel-600', 'filler-50', 'inside-150', 'outside', 'tie' → how many the yard owns; what is not named is not limited. */
  readonly stock: Readonly<Record<string, number>>;
}

export interface RoomFound {
  readonly short: number;
  readonly cost: Cost;
  /** Leg of the inside corner at each node. */
  readonly legsMm: Readonly<Record<string, number>>;
  /** What is taken, by item. */
  readonly taken: Readonly<Record<string, number>>;
}

type Term = readonly [number, number];

/** Place in `Cost`. */
const TIES_AND_UNITS = 3;

const legsOf = (runs: readonly RunColumns[]): number[] =>
  [...new Set(runs.flatMap((r) => [...r.start, ...r.end].map((e) => e.choice.legMm)))].sort((a, b) => a - b);

/** Null where the room cannot be laid out. */
export const milpPlan = ({ walls, stock }: RoomProblem): RoomFound | null => {
  const program = new IntegerProgram();
  const runs: RunColumns[] = [];
  for (const { zone } of walls) {
    const run = addRun(program, zone, true);
    if (!run) return null;
    runs.push(run);
  }
  const taken = new Map<string, Term[]>();
  const take = (item: string, terms: readonly Term[]) => taken.set(item, [...(taken.get(item) ?? []), ...terms]);
  for (const { items } of runs) for (const [item, terms] of items) take(item, terms);

  const nodes = [...new Set(walls.flatMap((w) => [w.startNode, w.endNode]))];
  const corners = nodes.map((node) => {
    const sides = walls.flatMap((w, i) => [
      ...(w.startNode === node ? [runs[i]!.start] : []),
      ...(w.endNode === node ? [runs[i]!.end] : []),
    ]);
    const columns = legsOf(runs).map((legMm) => {
      const column = program.column(0, 1, true);
      for (const side of sides) {
        const chosen = side.filter((e) => e.choice.legMm === legMm).map((e): Term => [e.column, 1]);
        program.row([...chosen, [column, -1]], 0, 0);
      }
      take(`inside-${legMm}`, [[column, 1]]);
      take('outside', [[column, 1]]);
      return { legMm, column };
    });
    program.row(
      columns.map(({ column }): Term => [column, 1]),
      1,
      1,
    );
    return { node, columns };
  });

  // An inside and an outside corner are two units, whichever the leg.
  const cornerUnits = corners.flatMap(({ columns }) => columns.map(({ column }): Term => [column, 2]));

  const short = Object.entries(stock).map(([item, owned]): Term => {
    const column = program.column(0, Number.POSITIVE_INFINITY, true);
    program.row([...(taken.get(item) ?? []), [column, -1]], Number.NEGATIVE_INFINITY, owned);
    return [column, 1];
  });
  const summed = runs[0]!.goals.map(
    (_, tier): Goal => ({
      terms: [...runs.flatMap((r) => r.goals[tier]!.terms), ...(tier === TIES_AND_UNITS ? cornerUnits : [])],
      most: runs.reduce((sum, r) => sum + r.goals[tier]!.most!, 2 * corners.length),
    }),
  );
  const solved = program.solve([{ terms: short }, ...summed]);
  if (!solved) return null;
  const [shortOf, ...cost] = solved.goals.map((g) => Math.round(g));
  const count = (terms: readonly Term[]) => terms.reduce((sum, [c, f]) => sum + f * solved.values[c]!, 0);
  return {
    short: shortOf!,
    cost: cost as unknown as Cost,
    legsMm: Object.fromEntries(
      corners.map(({ node, columns }) => [node, columns.find(({ column }) => solved.values[column]! > 0.5)!.legMm]),
    ),
    taken: Object.fromEntries([...taken].map(([item, terms]) => [item, count(terms)])),
  };
};
