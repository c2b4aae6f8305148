/** Rows of a column of ties. */

import type { RowLoad, RunDemand, VoidColumn } from './vocabulary.js';

/** What a run's column at a station has: all rows of the run, or what an opening leaves of them. */
export const columnAt = (
  { rows, voidColumns = [] }: RunDemand,
  stationMm: number,
): Pick<VoidColumn, 'rows'> & Partial<VoidColumn> =>
  voidColumns.find((c) => stationMm > c.fromMm && stationMm < c.toMm) ?? { rows };

/** Rows of a run's column at a station. */
export const rowsAt = (demand: RunDemand, stationMm: number): readonly RowLoad[] => columnAt(demand, stationMm).rows;
