/**
 * Ties of a run that has openings. Every level is a chain of forms by itself, on the same columns of ties, since a form is stiff in height and each
 * column holds it by two rows at least; within an opening its level has no load. What a column takes from each level is then shared out to the rows
 * that it has there, by the statics of its courses.
 */

import { columnAt } from '../ground/rows.js';
import type { Run, Tie } from '../ground/vocabulary.js';
import { bandsOf, type Void } from '../ground/voids.js';
import type { Context } from './context.js';
import { mergedIntervals } from './keepClear.js';
import type { Line } from './lines.js';
import type { WallLoad } from './ratings.js';
import { columnLoads, needsFoot } from './rows.js';
import { type SolvedLine, solveLine } from './solveLine.js';

/** Openings of a band as stretches without load, overlapping ones as one. */
const unloaded = (voids: readonly Void[]): (readonly [number, number])[] =>
  mergedIntervals(voids).map(({ fromMm, toMm }) => [fromMm, toMm]);

/** Levels within this are one row. */
const ROW_MM = 1;

export interface OpenedLine {
  /** The line as loaded everywhere: for spans, standing and held edges. */
  readonly whole: SolvedLine;
  /** Load of a tie, kN; null where the line does not tell of its column. */
  readonly kNOf: (tie: Tie) => number | null;
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
  const { stack } = load.demand;
  const { envelope } = load.pressure;
  const { footingMm, topMm } = run;
  const plain = { stack, footingMm, topMm, envelope };
  const loadsOf = (
    stationMm: number,
    rowLevelsMm: readonly number[],
    isFootHeld: boolean,
  ): readonly number[] | null => {
    const strips = bands.map((b) => b.solved.reactionAt.get(stationMm) ?? b.solved.stripAt.get(stationMm));
    if (strips.some((s) => s === undefined)) return null;
    const shares = bands.map((b, i) => ({ fromMm: b.fromMm, toMm: b.toMm, share: strips[i]! / 1000 }));
    const loads = columnLoads({ ...plain, rowLevelsMm, bands: shares }, isFootHeld);
    return loads.strips.map((s, i) => Math.max(loads.exact?.[i] ?? 0, s));
  };
  const columns = new Map(
    stations.map((s) => {
      const { rows, isFootHeld } = columnAt(load.demand, s);
      const levels = rows.map((r) => r.levelMm);
      const held = isFootHeld ?? needsFoot({ ...plain, rowLevelsMm: levels });
      return [s, { rows, kN: loadsOf(s, levels, held) }] as const;
    }),
  );
  const kNOf = (tie: Tie): number | null => {
    const { rows, kN } = columns.get(tie.stationMm)!;
    return kN?.[rows.findIndex((r) => Math.abs(r.levelMm - tie.levelMm) <= ROW_MM)] ?? null;
  };
  return { whole, kNOf };
};
