/** Levels along a wall: what stands between the footing and the pour line, by station. */

import { sideShare } from '../ground/arcs.js';
import type { Cover, Face, FacePlan, LevelBand, Wall } from '../ground/vocabulary.js';

/** Level at a station; before the first band and after the last their level holds. A wall without bands has no level: our own mistake. */
export const levelAt = (bands: readonly LevelBand[], stationMm: number): number => {
  const band = bands.find((b) => stationMm < b.toMm) ?? bands.at(-1);
  if (band === undefined) throw new Error('a wall without level bands');
  return band.levelMm;
};

/** A stretch of stations over which neither footing nor pour line changes. */
export interface LevelStretch {
  readonly fromMm: number;
  readonly toMm: number;
  readonly footingMm: number;
  readonly topMm: number;
}

/** Cuts `fromMm`-`toMm` at every change of the wall's levels; in order of station, without empty stretches. */
export const levelStretches = (wall: Wall, fromMm: number, toMm: number): readonly LevelStretch[] => {
  const cuts = [...wall.base, ...wall.top]
    .flatMap((band) => [band.fromMm, band.toMm])
    .filter((s) => s > fromMm && s < toMm);
  const stations = [...new Set([fromMm, ...cuts, toMm])].sort((a, b) => a - b);
  return stations.slice(1).map((to, i) => {
    const from = stations[i]!;
    const middle = (from + to) / 2;
    return { fromMm: from, toMm: to, footingMm: levelAt(wall.base, middle), topMm: levelAt(wall.top, middle) };
  });
};

/** Stations of a face where a stem's or a pilaster's concrete goes on and no form stands, cut to the face; in order of station. */
export const mouths = (plan: FacePlan, face: Face): readonly { readonly fromMm: number; readonly toMm: number }[] =>
  plan.runs
    .filter((run) => run.wall === face.wall)
    .flatMap((run) => [...run.stems, ...(run.pilasters ?? [])].filter((s) => s.side === face.side))
    .map((stem) => ({ fromMm: Math.max(stem.fromMm, face.fromMm), toMm: Math.min(stem.toMm, face.toMm) }))
    .filter((mouth) => mouth.toMm > mouth.fromMm)
    .sort((x, y) => x.fromMm - y.fromMm);

const heightAreaMm2 = (wall: Wall, fromMm: number, toMm: number): number =>
  levelStretches(wall, fromMm, toMm).reduce(
    (sum, s) => sum + (s.toMm - s.fromMm) * Math.max(0, s.topMm - s.footingMm),
    0,
  );

/** Concrete area of a left or right face or of one of a pilaster, mm2: footing to pour line, vertex to vertex, without the mouths of stems. */
export const faceAreaMm2 = (plan: FacePlan, wall: Wall, face: Face): number => {
  const { stands } = face;
  if (stands) {
    const { stationMm } = stands;
    const heightMm = levelAt(wall.top, stationMm) - levelAt(wall.base, stationMm);
    return (face.toMm - face.fromMm) * Math.max(0, heightMm);
  }
  return (
    sideShare(wall, face.side) *
    mouths(plan, face).reduce(
      (area, mouth) => area - heightAreaMm2(wall, mouth.fromMm, mouth.toMm),
      heightAreaMm2(wall, face.fromMm, face.toMm),
    )
  );
};

/** Area of a cover that touches concrete, mm2: cut at the face's vertices, at the footing and at the pour line. */
export const coveredConcreteMm2 = (wall: Wall, face: Face, cover: Cover): number => {
  const from = Math.max(cover.fromMm, face.fromMm);
  const to = Math.min(cover.toMm, face.toMm);
  if (to <= from) return 0;
  return levelStretches(wall, from, to).reduce(
    (sum, s) =>
      sum + (s.toMm - s.fromMm) * Math.max(0, Math.min(cover.topMm, s.topMm) - Math.max(cover.baseMm, s.footingMm)),
    0,
  );
};
