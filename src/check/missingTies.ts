/**
 * What comes of one tie that is left out or not locked. Its load has two ways to go: along its row, if the hinged chain of that row stands without it (with
 * just enough supports it is a mechanism then), and up and down its column, if the courses stand on the rows that are left there. Statics of either way;
 * what the neighbours carry in the better one counts, since the forms stand when one way of carrying is found.
 */

import { listsBy } from '../ground/groups.js';
import { roundTo } from '../ground/units.js';
import type { CheckedTie, MissingTie, MissingTies, Run } from '../ground/vocabulary.js';
import { isFixed } from './chain.js';
import type { Context } from './context.js';
import type { Line } from './lines.js';
import { isMixed } from './mixedColumns.js';
import type { WallLoad } from './ratings.js';
import { columnLoads, needsFoot, type RowsQuestion } from './rows.js';
import { springReactions } from './springs.js';

const ROW_MM = 1;
/** A pull less than this below 0, mm of strip or kN/m, is rounding. */
const NO_PUSH = 0.01;

interface Way {
  /** Load over working load of the neighbour that gets most; null: it does not stand that way. */
  readonly use: number | null;
  readonly neighbour: string | null;
}

const NO_WAY: Way = { use: null, neighbour: null };

const worse = (a: Way, b: Way): Way => (a.use === null || b.use === null ? NO_WAY : b.use > a.use ? b : a);

/** What the ties of a row carry along a line without the one at a station. */
const alongLine = (line: Line, row: readonly CheckedTie[], without: number, kNPerM: number): Way => {
  const { jointsMm, heldMm, startShearMm, endShearMm, loadedMm, unloadedMm = [] } = line;
  const [first, last] = [jointsMm[0]!, jointsMm[jointsMm.length - 1]!];
  const ties = row.filter((t) => t.stationMm >= first && t.stationMm <= last && t.stationMm !== without);
  const supportsMm = [...new Set([...ties.map((t) => t.stationMm), ...heldMm])].sort((a, b) => a - b);
  const found = springReactions({ jointsMm, supportsMm, startShearMm, endShearMm, loadedMm, unloadedMm });
  if (!found || found.some((r) => r < -NO_PUSH)) return NO_WAY;
  const reactionAt = new Map(supportsMm.map((s, i) => [s, found[i]!]));
  return ties.reduce<Way>(
    (most, t) => {
      const use = ((reactionAt.get(t.stationMm) ?? 0) * kNPerM) / 1000 / t.workingLoadKn;
      return most.use !== null && use <= most.use ? most : { use, neighbour: t.id };
    },
    { use: 0, neighbour: null },
  );
};

/**
 * Loads of the rows that are left in a column, by level; null: the courses do not stand on them. A row that would be pushed lets go, since a lock holds one
 * way only, and the others are asked again. The foot counts where the whole column needs it too.
 */
const rowsLeft = (
  load: WallLoad,
  levels: readonly number[],
  isFootHeld: boolean,
): ReadonlyMap<number, number> | null => {
  let left = [...levels].sort((a, b) => a - b);
  while (left.length > 0) {
    const { exact } = columnLoads(questionOf(load, left), isFootHeld);
    if (!exact) return null;
    const least = Math.min(...exact);
    if (least >= -NO_PUSH) return new Map(left.map((z, i) => [z, exact[i]!]));
    left = left.filter((_, i) => exact[i] !== least);
  }
  return null;
};

const questionOf = (load: WallLoad, rowLevelsMm: readonly number[]): RowsQuestion => ({
  stack: load.demand.stack,
  rowLevelsMm,
  footingMm: load.footingMm,
  topMm: load.topMm,
  envelope: load.pressure.envelope,
});

/** What the ties that are left in a column carry: the courses as a beam on the rows left, each with the strip of the column. */
const upColumn = (load: WallLoad, column: readonly CheckedTie[], tie: CheckedTie): Way => {
  const { rows } = load.demand;
  const left = column.filter((t) => t !== tie && t.levelMm < load.topMm);
  const isFootHeld = needsFoot(
    questionOf(
      load,
      rows.map((r) => r.levelMm),
    ),
  );
  const found = rowsLeft(
    load,
    left.map((t) => t.levelMm),
    isFootHeld,
  );
  if (!found) return NO_WAY;
  // The widest strip that a tie of the column has.
  const stripM = Math.max(
    ...column.map((t) => {
      const row = rows.find((r) => Math.abs(r.levelMm - t.levelMm) <= ROW_MM);
      return row && row.kNPerM > 0 ? t.loadKn / row.kNPerM : 0;
    }),
  );
  return left.reduce<Way>(
    (most, t) => {
      const use = ((found.get(t.levelMm) ?? 0) * stripM) / t.workingLoadKn;
      return most.use !== null && use <= most.use ? most : { use, neighbour: t.id };
    },
    { use: 0, neighbour: null },
  );
};

const missingIn = (ctx: Context, run: Run, load: WallLoad, lines: readonly Line[], own: readonly CheckedTie[]) => {
  if (isMixed(ctx, run) || ctx.voids.has(run.id)) return [];
  const tops: number[] = [];
  let level = load.demand.stack.baseMm;
  for (const h of load.demand.stack.heightsMm) {
    level += h;
    tops.push(level);
  }
  const columns = listsBy(own, (t) => String(t.stationMm));
  const rows = listsBy(own, (t) => String(Math.round(t.levelMm)));
  return own.map((tie): MissingTie => {
    const row = rows.get(String(Math.round(tie.levelMm)))!;
    const course = tops.findIndex((top) => tie.levelMm < top) + 1;
    const kNPerM = load.demand.rows.find((r) => Math.abs(r.levelMm - tie.levelMm) <= ROW_MM)?.kNPerM ?? 0;
    const held = lines.filter(
      (l) =>
        l.course === course && tie.stationMm >= l.jointsMm[0]! && tie.stationMm <= l.jointsMm[l.jointsMm.length - 1]!,
    );
    const along = held.reduce<Way>(
      (way, line) => (way.use === null ? way : worse(way, alongLine(line, row, tie.stationMm, kNPerM))),
      held.length === 0 ? NO_WAY : { use: 0, neighbour: null },
    );
    const up = upColumn(load, columns.get(String(tie.stationMm))!, tie);
    const better = up.use === null || (along.use !== null && along.use <= up.use) ? along : up;
    const round = (use: number | null) => (use === null ? null : roundTo(use, 6));
    return {
      tie: tie.id,
      along: round(along.use),
      up: round(up.use),
      use: round(better.use),
      neighbour: better.neighbour,
    };
  });
};

/** A column of ties that is left out whole: does the chain of its course stand without it? */
const columnsNeeded = (lines: readonly Line[], own: readonly CheckedTie[]): { needed: number; spare: number } => {
  const stations = [...new Set(own.map((t) => t.stationMm))].sort((a, b) => a - b);
  const needs = (station: number) =>
    lines.some(({ jointsMm, heldMm }) => {
      const [first, last] = [jointsMm[0]!, jointsMm[jointsMm.length - 1]!];
      if (station < first || station > last) return false;
      const left = stations.filter((s) => s !== station && s >= first && s <= last);
      return !isFixed(jointsMm, [...left, ...heldMm]);
    });
  const needed = stations.filter(needs).length;
  return { needed, spare: stations.length - needed };
};

export interface RunWithLines {
  readonly run: Run;
  readonly load: WallLoad;
  readonly lines: readonly Line[];
  readonly ties: readonly CheckedTie[];
}

/** All ties, worst first: those that may not be missing, then by what their neighbours carry. */
export const missingTies = (ctx: Context, runs: readonly RunWithLines[]): MissingTies => {
  const ties = runs
    .flatMap(({ run, load, lines, ties: own }) => missingIn(ctx, run, load, lines, own))
    .map((m, i) => ({ m, i }))
    .sort((a, b) => (b.m.use ?? Number.POSITIVE_INFINITY) - (a.m.use ?? Number.POSITIVE_INFINITY) || a.i - b.i)
    .map(({ m }) => m);
  const columns = runs.map(({ lines, ties: own }) => columnsNeeded(lines, own));
  const total = runs.reduce((n, r) => n + r.ties.length, 0);
  return {
    ties,
    notLooked: total - ties.length,
    columnsNeeded: columns.reduce((n, c) => n + c.needed, 0),
    columnsSpare: columns.reduce((n, c) => n + c.spare, 0),
  };
};
