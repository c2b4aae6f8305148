/** Rows of a column of ties. */

import type { RowLoad, RunDemand } from './vocabulary.js';

/** Rows of a run's column at a station: those of the run, or what an opening leaves of them. */
export const rowsAt = ({ rows, voidColumns = [] }: RunDemand, stationMm: number): readonly RowLoad[] =>
  voidColumns.find((c) => stationMm > c.fromMm && stationMm < c.toMm)?.rows ?? rows;
