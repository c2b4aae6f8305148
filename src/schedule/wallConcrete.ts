/** Concrete wall by wall: the bodies between the walls' own faces, which tile the plan, with the pilasters of each and less its openings. */

import type { FacePlan, Run, Wall, WallConcrete } from '../ground/vocabulary.js';
import { voidsOf } from '../ground/voids.js';
import { wallVolumeMm3 } from './concrete.js';

const pilastersMm3 = ({ pilasters = [], topMm, footingMm }: Run): number =>
  pilasters.reduce((sum, p) => sum + (p.toMm - p.fromMm) * p.projectionMm, 0) * Math.max(0, topMm - footingMm);

const openingsMm3 = (plan: FacePlan, run: Run): number =>
  voidsOf(plan, run).reduce((sum, v) => sum + (v.toMm - v.fromMm) * (v.headMm - v.sillMm) * run.thicknessMm, 0);

const total = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);

/** In the order of the plan's walls. */
export const wallConcrete = (plan: FacePlan): readonly WallConcrete[] => {
  const oneSided = plan.oneSided ?? [];
  return plan.walls.map((wall: Wall): WallConcrete => {
    const runs = plan.runs.filter((r) => r.wall === wall.id);
    const special = oneSided.filter((w) => w.wall === wall.id).flatMap((w) => w.runs);
    return {
      wall: wall.id,
      pour: wall.pour ?? null,
      thicknessMm: wall.thicknessMm,
      lengthMm: wall.lengthMm,
      grossM3: (wallVolumeMm3(plan, wall) + total(runs.map(pilastersMm3))) / 1e9,
      openingsM3: total([...runs, ...special].map((run) => openingsMm3(plan, run))) / 1e9,
    };
  });
};
