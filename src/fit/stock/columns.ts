/** Layouts of single zones as the choice under a limited stock sees them: for which legs and picks, what they cost, what they take of the yard. */

import { type Bound, groupUses, type RunContext, tiedUses, tieUses } from '../bound.js';
import type { Cost, Uses } from '../cost.js';
import type { StemBound } from '../pilasters.js';
import type { ZoneTable } from '../search.js';
import type { ZoneSolution } from '../zones.js';

export interface ZoneColumn {
  /** Id of the zone's table. */
  readonly zone: string;
  /** Values of the table's scope. */
  readonly values: readonly number[];
  readonly cost: Cost;
  readonly uses: Uses;
  /** With its cost as it is, not as it was priced. */
  readonly solution: ZoneSolution;
}

/** Sums by item, in the order of their names. */
export const summed = (uses: Uses): Uses => {
  const sums = new Map<string, number>();
  for (const [item, count] of uses) sums.set(item, (sums.get(item) ?? 0) + count);
  return [...sums].sort(([a], [b]) => (a < b ? -1 : 1));
};

/** The rigid groups of an end zone or a place of stems; a tie between them is told by the left one, as both have it. */
const boundUses = (ctx: RunContext, { left, right }: Bound | StemBound): Uses => [
  ...[left, right].flatMap(({ group }) => (group ? groupUses(ctx.gear, group.group, 1) : [])),
  ...tieUses(ctx, (left.group?.tiesGu?.length ?? 0) * ctx.rows),
];

export const stemUses = (ctx: RunContext, bound: StemBound): Uses => summed(boundUses(ctx, bound));

/** What a zone takes: what stands in it, and what stands at the ends of its run. */
export const zoneUses = ({ run: { ctx } }: ZoneTable, solution: ZoneSolution): Uses => {
  const placed = solution.answer?.placed ?? [];
  const ends = [solution.start, solution.end].filter((b): b is Bound => !('before' in b));
  return summed([
    ...placed.flatMap(({ tied, fromGu }) => (tied ? tiedUses(ctx, tied, fromGu) : [])),
    ...ends.flatMap((b) => boundUses(ctx, b)),
  ]);
};

export const columnOf = (
  table: ZoneTable,
  values: readonly number[],
  solution: ZoneSolution,
  costOf: (priced: Cost, uses: Uses) => Cost,
): ZoneColumn => {
  const uses = zoneUses(table, solution);
  const cost = costOf(solution.cost, uses);
  return { zone: table.id, values, cost, uses, solution: { ...solution, cost, bound: cost } };
};

/** Equal for columns of which one is enough. */
export const columnKey = (c: ZoneColumn): string =>
  JSON.stringify([c.zone, c.values, c.cost.slice(0, -1), c.uses, c.solution.level]);
