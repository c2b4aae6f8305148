/** How much is poured at once: plan area and volume of each pour, or of the whole job where it is one. */

import type { FacePlan, Run } from '../ground/vocabulary.js';
import { concreteMm3, outlineAreaMm2, wallBodyAreaMm2, wallVolumeMm3 } from './concrete.js';

export interface PourAmount {
  /** null: the whole job. */
  readonly pour: string | null;
  readonly planAreaM2: number;
  readonly volumeM3: number;
}

const pilastersOf = ({ pilasters = [], topMm, footingMm }: Run): { areaMm2: number; volumeMm3: number } => {
  const areaMm2 = pilasters.reduce((sum, p) => sum + (p.toMm - p.fromMm) * p.projectionMm, 0);
  return { areaMm2, volumeMm3: areaMm2 * Math.max(0, topMm - footingMm) };
};

/** In the order of pouring. Walls are taken with the body between their own faces, which tile the plan. */
export const pourAmounts = (plan: FacePlan): PourAmount[] => {
  if (plan.pours === undefined)
    return [{ pour: null, planAreaM2: outlineAreaMm2(plan) / 1e6, volumeM3: concreteMm3(plan) / 1e9 }];
  return plan.pours.map((pour) => {
    const walls = plan.walls.filter((w) => w.pour === pour);
    const ids = new Set(walls.map((w) => w.id));
    const pilasters = plan.runs.filter((r) => ids.has(r.wall)).map(pilastersOf);
    const areaMm2 = walls.reduce((sum, w) => sum + wallBodyAreaMm2(plan, w), 0);
    const volumeMm3 = walls.reduce((sum, w) => sum + wallVolumeMm3(plan, w), 0);
    return {
      pour,
      planAreaM2: pilasters.reduce((sum, p) => sum + p.areaMm2, areaMm2) / 1e6,
      volumeM3: pilasters.reduce((sum, p) => sum + p.volumeMm3, volumeMm3) / 1e9,
    };
  });
};
