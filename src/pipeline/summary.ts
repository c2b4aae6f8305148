/** The few figures of a result that a person reads first. */

import { byNumber } from '../ground/order.js';
import type { CostTier, Result, Totals } from '../ground/vocabulary.js';

export interface Summary {
  readonly lengthUnit: Result['source']['lengthUnit'];
  readonly catalogue: string;
  /** Lowest foot and highest top of all walls; without walls those of the drawing. */
  readonly footingMm: number;
  readonly topMm: number;
  /** All walls stand and end at one level each. */
  readonly isLevel: boolean;
  readonly walls: number;
  readonly pieces: number;
  readonly totals: Totals;
  readonly tiers: readonly CostTier[];
  /** A search met its limit of steps: nothing of the whole is proven. */
  readonly cutShort: boolean;
  /** Highest design pressures of each method and rate: the greatest first, those that read alike once. */
  readonly pressure: readonly PressureLine[];
  /** The tie that comes nearest to its working load; null without ties. */
  readonly worstTie: { readonly id: string; readonly loadKn: number; readonly workingLoadKn: number } | null;
}

/** Highest design pressures of the pours of one method and rate of rise. */
export interface PressureLine {
  readonly method: string;
  readonly rateMPerH: number;
  /** Falling, to 0.1 kPa; none twice. */
  readonly designKpa: readonly number[];
}

const pressureLines = (cases: Result['layout']['pressure']): PressureLine[] => {
  const lines = new Map<string, PressureLine>();
  for (const { method, rateMPerH, designKpa } of cases) {
    const key = `${method} ${rateMPerH}`;
    const all = new Set(lines.get(key)?.designKpa).add(Math.round(designKpa * 10) / 10);
    lines.set(key, { method, rateMPerH, designKpa: [...all].sort(byNumber((kpa) => -kpa)) });
  }
  return [...lines.values()];
};

export const summaryOf = (result: Result): Summary => {
  let worst: Summary['worstTie'] = null;
  for (const { id, loadKn, workingLoadKn } of result.layout.ties) {
    if (worst === null || loadKn * worst.workingLoadKn > worst.loadKn * workingLoadKn) {
      worst = { id, loadKn, workingLoadKn };
    }
  }
  const { levels } = result.foundation;
  const { walls } = result.plan;
  const feet = walls.length > 0 ? walls.flatMap((w) => w.base.map((b) => b.levelMm)) : [levels.footingMm];
  const tops = walls.length > 0 ? walls.flatMap((w) => w.top.map((b) => b.levelMm)) : [levels.topMm];
  return {
    lengthUnit: result.source.lengthUnit,
    catalogue: result.catalogue.name,
    footingMm: Math.min(...feet),
    topMm: Math.max(...tops),
    isLevel: new Set(feet).size === 1 && new Set(tops).size === 1,
    walls: result.plan.walls.length,
    pieces: result.layout.pieces.length,
    totals: result.schedule.totals,
    tiers: result.layout.tiers,
    cutShort: result.layout.work.cutShort,
    pressure: pressureLines(result.layout.pressure),
    worstTie: worst,
  };
};
