/** The few figures of a result that a person reads first. */

import type { CostTier, Result, Totals } from '../ground/vocabulary.js';

export interface Summary {
  readonly lengthUnit: Result['source']['lengthUnit'];
  readonly catalogue: string;
  readonly footingMm: number;
  readonly topMm: number;
  readonly walls: number;
  readonly pieces: number;
  readonly totals: Totals;
  readonly tiers: readonly CostTier[];
  /** A search met its limit of steps: nothing of the whole is proven. */
  readonly cutShort: boolean;
  /** Methods and highest design pressures, one a pour height. */
  readonly pressure: readonly { readonly method: string; readonly designKpa: number; readonly rateMPerH: number }[];
  /** The tie that comes nearest to its working load; null without ties. */
  readonly worstTie: { readonly id: string; readonly loadKn: number; readonly workingLoadKn: number } | null;
}

export const summaryOf = (result: Result): Summary => {
  let worst: Summary['worstTie'] = null;
  for (const { id, loadKn, workingLoadKn } of result.layout.ties) {
    if (worst === null || loadKn * worst.workingLoadKn > worst.loadKn * workingLoadKn) {
      worst = { id, loadKn, workingLoadKn };
    }
  }
  const { levels } = result.foundation;
  return {
    lengthUnit: result.source.lengthUnit,
    catalogue: result.catalogue.name,
    footingMm: levels.footingMm,
    topMm: levels.topMm,
    walls: result.plan.walls.length,
    pieces: result.layout.pieces.length,
    totals: result.schedule.totals,
    tiers: result.layout.tiers,
    cutShort: result.layout.work.cutShort,
    pressure: result.layout.pressure.map(({ method, designKpa, rateMPerH }) => ({ method, designKpa, rateMPerH })),
    worstTie: worst,
  };
};
