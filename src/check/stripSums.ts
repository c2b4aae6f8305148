/** That nothing of the pressure is lost between rows: the strips of a run's rows against the area of the pressure diagram, run by run and column by column. */

import { listsBy } from '../ground/groups.js';
import { roundTo } from '../ground/units.js';
import type { CheckedTie, Envelope, Run, StripSum } from '../ground/vocabulary.js';
import type { WallLoad } from './ratings.js';

/** Area of the diagram down to a depth, kN per m: trapezia between its points, apart from how the strips are integrated. */
export const diagramArea = ({ points }: Envelope, depthMm: number): number => {
  let area = 0;
  let [z, p] = [0, 0];
  for (const point of points) {
    const to = Math.min(point.depthMm, depthMm);
    if (to <= z) break;
    const at = p + ((point.kpa - p) * (to - z)) / (point.depthMm - z);
    area += (((p + at) / 2) * (to - z)) / 1000;
    [z, p] = [to, at];
  }
  return area + (p * Math.max(0, depthMm - z)) / 1000;
};

const LEVEL_MM = 1;
/** Strips that differ by less are one, m. */
const SAME_STRIP_M = 1e-4;

/** null: a wall poured in lifts, whose strips are those of whichever lift presses most and add up to nothing. */
export const stripSum = (run: Run, load: WallLoad, ties: readonly CheckedTie[]): StripSum | null => {
  if (load.pressure.pourHeightMm < load.topMm - load.footingMm - LEVEL_MM) return null;
  const { rows } = load.demand;
  const areaKnPerM = diagramArea(load.pressure.envelope, load.topMm - load.footingMm);
  const columns = [...listsBy(ties, (t) => String(t.stationMm)).values()];
  const offs = columns.flatMap((column) => {
    const strips = rows.map((row) => {
      const tie = column.find((t) => Math.abs(t.levelMm - row.levelMm) <= LEVEL_MM);
      return tie && row.stripKnPerM > 0 ? tie.stripKn / row.stripKnPerM : null;
    });
    const [strip] = strips;
    if (strip === null || strip === undefined) return [];
    if (!strips.every((s) => s !== null && Math.abs(s - strip) <= SAME_STRIP_M)) return [];
    return [Math.abs(column.reduce((sum, t) => sum + t.stripKn, 0) - areaKnPerM * strip)];
  });
  return {
    run: run.id,
    rowsKnPerM: rows.map((r) => roundTo(r.stripKnPerM, 6)),
    areaKnPerM: roundTo(areaKnPerM, 6),
    columns: offs.length,
    offKn: roundTo(Math.max(0, ...offs), 6),
    otherColumns: columns.length - offs.length,
  };
};
