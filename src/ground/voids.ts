/** Openings of a wall as one run sees them: cut to the run, between its footing and its top. */

import { reachOf } from './runs.js';
import type { FacePlan, PlanOpening, Run } from './vocabulary.js';

/** An opening across which forms run: with concrete below or above it, or too narrow for two ends; levels cut to the run's. */
export interface Void {
  readonly opening: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly sillMm: number;
  readonly headMm: number;
}

/** Less than this of concrete over or under an opening is none. */
const SLIVER_MM = 1;

/** Between jambs closer than this no two bulkheads can be set and struck: the forms run through. Common practice, no source. */
export const GAP_LEAST_MM = 300;

/** Has an opening no concrete over and under it? */
export const isFullHeight = (
  o: Pick<PlanOpening, 'sillMm' | 'headMm'>,
  run: Pick<Run, 'footingMm' | 'topMm'>,
): boolean => o.sillMm <= run.footingMm + SLIVER_MM && o.headMm >= run.topMm - SLIVER_MM;

/** Does the wall end at the jambs of an opening? */
export const isGap = (o: Omit<PlanOpening, 'id' | 'wall'>, run: Pick<Run, 'footingMm' | 'topMm'>): boolean =>
  o.toMm - o.fromMm >= GAP_LEAST_MM && isFullHeight(o, run);

/** In order of station, then sill. */
export const voidsOf = (plan: FacePlan, run: Run): readonly Void[] => {
  const [low, high] = reachOf(run);
  return plan.openings
    .filter((o) => o.wall === run.wall && o.toMm > low && o.fromMm < high && !isGap(o, run))
    .map(({ id, fromMm, toMm, sillMm, headMm }) => ({
      opening: id,
      fromMm: Math.max(fromMm, low),
      toMm: Math.min(toMm, high),
      sillMm: Math.max(sillMm, run.footingMm),
      headMm: Math.min(headMm, run.topMm),
    }))
    .filter((v) => v.headMm > v.sillMm && v.toMm > v.fromMm);
};

/** A band of levels in which the same openings lie. */
export interface VoidBand {
  readonly fromMm: number;
  readonly toMm: number;
  readonly voids: readonly Void[];
}

/** The run's height cut at sills and heads. */
export const bandsOf = (run: Run, voids: readonly Void[]): VoidBand[] => {
  const inner = voids.flatMap((v) => [v.sillMm, v.headMm]).filter((z) => z > run.footingMm && z < run.topMm);
  const cuts = [...new Set([run.footingMm, ...inner, run.topMm])].sort((a, b) => a - b);
  return cuts.slice(1).map((toMm, i) => {
    const fromMm = cuts[i]!;
    return { fromMm, toMm, voids: voids.filter((v) => v.sillMm < toMm && v.headMm > fromMm) };
  });
};
