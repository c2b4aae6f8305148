/** The least cost of one run as a mixed-integer program. */

import { IntegerProgram } from './integerProgram.js';
import type { Cost, Group, Zone } from './problem.js';
import { addRun } from './runColumns.js';

export interface MilpFound {
  readonly cost: Cost;
  readonly placed: readonly { readonly group: Group; readonly fromMm: number; readonly tiesMm: readonly number[] }[];
}

const solveWith = (zone: Zone, timber: boolean): MilpFound | null => {
  const program = new IntegerProgram();
  const run = addRun(program, zone, timber);
  const solved = run && program.solve(run.goals);
  if (!solved) return null;
  return {
    cost: solved.goals.map((g) => Math.round(g)) as unknown as Cost,
    placed: run.arcs
      .filter((_, i) => run.stands[i]!.some((c) => solved.values[c]! > 0.5))
      .map((a) => ({ group: a.group, fromMm: a.fromMm, tiesMm: a.ties }))
      .sort((a, b) => a.fromMm - b.fromMm),
  };
};

/** Least cost; null where nothing stands. Without timber first: no place at all is the least there is. */
export const milp = (zone: Zone): MilpFound | null => solveWith(zone, false) ?? solveWith(zone, true);
