/**
 * Holes of forms that lie against concrete in a row that has no ties: rows that give way to bars along the wall, and rows that nothing needs. They stay closed,
 * and who sets the ties has to see it. Single holes beside a tie of their row are none of these: of two at a joint one is used.
 */

import { layoutIndex } from './layoutIndex.js';
import { byNumber } from './order.js';
import type { FaceFrame } from './places.js';
import { runFinder } from './runs.js';
import type { Cover, FormUnit, LevelBand, PlanOpening, Result, Run } from './vocabulary.js';

export interface HoleLeftOut {
  readonly stationMm: number;
  readonly levelMm: number;
}

const SAME_MM = 0.5;

/** A face may go on beyond the ends of its wall's axis: there the first and the last level count. */
const levelAt = (bands: readonly LevelBand[], stationMm: number): number | null =>
  (bands.findLast((b) => stationMm >= b.fromMm) ?? bands[0])?.levelMm ?? null;

const isOpen = (openings: readonly PlanOpening[], { stationMm, levelMm }: HoleLeftOut): boolean =>
  openings.some((o) => stationMm > o.fromMm && stationMm < o.toMm && levelMm > o.sillMm && levelMm < o.headMm);

/** Where the holes of an upright unit lie; they are counted from its left edge as seen from before the face. */
const holesOf = ({ seen }: FaceFrame, { holes }: FormUnit, cover: Cover): HoleLeftOut[] =>
  holes.map(({ xMm, yMm }) => ({
    stationMm: seen > 0 ? cover.fromMm + xMm : cover.toMm - xMm,
    levelMm: cover.baseMm + yMm,
  }));

/** By level, then station. None where a wall has no ties at all: what is formed on one side is told otherwise. */
export const holesLeftOut = ({ plan, catalogue, layout }: Result, frame: FaceFrame): HoleLeftOut[] => {
  const { face, wall } = frame;
  const { tiesOf, onFace } = layoutIndex(layout);
  const ties = tiesOf(wall.id);
  if ((face.side !== 'left' && face.side !== 'right') || ties.length === 0) return [];
  const runAt = runFinder(plan.runs);
  const tied = new Map<Run, Set<number>>();
  for (const tie of ties) {
    const run = runAt(wall.id, tie.stationMm);
    if (run) tied.set(run, (tied.get(run) ?? new Set()).add(tie.levelMm));
  }
  const units = new Map(catalogue.units.map((u) => [u.id, u]));
  const openings = plan.openings.filter((o) => o.wall === wall.id);
  return onFace(face.id)
    .flatMap(({ piece, cover }) => {
      const unit = piece.item === null ? undefined : units.get(piece.item);
      if (!unit || piece.turned || (unit.kind !== 'panel' && unit.kind !== 'filler')) return [];
      return holesOf(frame, unit, cover);
    })
    .filter((hole) => {
      const { stationMm, levelMm } = hole;
      if (stationMm <= face.fromMm || stationMm >= face.toMm || isOpen(openings, hole)) return false;
      const [low, high] = [levelAt(wall.base, stationMm), levelAt(wall.top, stationMm)];
      if (low === null || high === null || levelMm <= low || levelMm >= high) return false;
      const run = runAt(wall.id, stationMm);
      const levels = run && tied.get(run);
      return !!levels && ![...levels].some((z) => Math.abs(z - levelMm) < SAME_MM);
    })
    .sort((a, b) => byNumber((h: HoleLeftOut) => h.levelMm)(a, b) || a.stationMm - b.stationMm);
};
