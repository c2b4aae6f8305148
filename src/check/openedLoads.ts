/**
 * Ties of a run that has openings. Every level is a chain of forms by itself, on the same columns of ties, since a form is stiff in height and each
 * column holds it by two rows at least; within an opening its level has no load. What a column takes from each level is then shared out to the rows
 * that it has there, by the statics of its courses.
 */

import type { RowLoad, Run, Tie } from '../ground/vocabulary.js';
import { bandsOf, type Void } from '../ground/voids.js';
import type { Context } from './context.js';
import type { Line } from './lines.js';
import type { WallLoad } from './ratings.js';
import { columnLoads } from './rows.js';
import { type SolvedLine, solveLine } from './solveLine.js';

/** Openings of a band as stretches without load, overlapping ones as one. */
const unloaded = (voids: readonly Void[]): [number, number][] => {
  const out: [number, number][] = [];
  for (const v of [...voids].sort((a, b) => a.fromMm - b.fromMm)) {
    const last = out.at(-1);
    if (last && v.fromMm <= last[1]) last[1] = Math.max(last[1], v.toMm);
    else out.push([v.fromMm, v.toMm]);
  }
  return out;
};

export interface OpenedLine {
  /** The line as loaded everywhere: for spans, standing and held edges. */
  readonly whole: SolvedLine;
  /** Load of each row of the column at a station, kN, rows by their levels; a column that the line does not tell of has none. */
  readonly kNAt: (stationMm: number, rows: readonly RowLoad[]) => readonly number[] | null;
}

/** Solves one line of a run with openings on its columns of ties, `ties` being those of all its courses. */
export const openedLine = (
  ctx: Context,
  run: Run,
  line: Line,
  load: WallLoad,
  ties: readonly Tie[],
  pressureKpa: number,
): OpenedLine => {
  const stations = [...new Set(ties.map((t) => t.stationMm))];
  const whole = solveLine(ctx, line, stations, pressureKpa);
  const bands = bandsOf(run, ctx.voids.get(run.id) ?? []).map((band) => ({
    ...band,
    solved: solveLine(ctx, { ...line, unloadedMm: unloaded(band.voids) }, stations, pressureKpa),
  }));
  const kNAt = (stationMm: number, rows: readonly RowLoad[]): number[] | null => {
    const strips = bands.map((b) => b.solved.reactionAt.get(stationMm) ?? b.solved.stripAt.get(stationMm));
    if (strips.some((s) => s === undefined)) return null;
    return columnLoads({
      stack: load.demand.stack,
      rowLevelsMm: rows.map((r) => r.levelMm),
      footingMm: run.footingMm,
      topMm: run.topMm,
      envelope: load.pressure.envelope,
      bands: bands.map((b, i) => ({ fromMm: b.fromMm, toMm: b.toMm, share: strips[i]! / 1000 })),
    });
  };
  return { whole, kNAt };
};
