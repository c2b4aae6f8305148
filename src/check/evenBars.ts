/** Bars that the job file states by diameter and spacing, set out in every wall as lines, so that they are looked at as those of a model are. */

import { stationRadiusMm, wallPoint } from '../ground/arcs.js';
import { finding, type Staged } from '../ground/findings.js';
import type { BarSpacing, FacePlan, ModelBar, Vec3, Wall } from '../ground/vocabulary.js';
import { RIBS } from './keepClear.js';

export interface BarSpec {
  readonly diameterMm: number;
  readonly spacingMm: number;
  /** Of verticals: station of the first on the wall's axis. Of horizontals: its height above the footing. */
  readonly firstMm: number;
  /** Concrete over the bar at the face. */
  readonly coverMm: number;
  readonly faces: 'both' | 'left' | 'right';
}

export interface EvenBars {
  readonly verticals: BarSpec | null;
  readonly horizontals: BarSpec | null;
}

/** More places of bars in one wall and direction than this are a slip of the pen, not reinforcement. */
const PLACES_MOST = 20_000;

const sidesOf = ({ faces }: BarSpec): readonly ('left' | 'right')[] => (faces === 'both' ? ['left', 'right'] : [faces]);

/** Offset of a bar's centre line to the left of the axis. */
const offset = (wall: Wall, side: 'left' | 'right', { coverMm, diameterMm }: BarSpec): number =>
  (side === 'left' ? 1 : -1) * Math.max(0, wall.thicknessMm / 2 - coverMm - diameterMm / 2);

/** Places of bars between two bounds, and whether there are more than are set out. */
const placesOf = (from: number, to: number, { firstMm, spacingMm }: BarSpec): { at: number[]; isCut: boolean } => {
  const first = firstMm + Math.ceil((from - firstMm) / spacingMm) * spacingMm;
  const count = Math.max(0, Math.floor((to - first) / spacingMm) + 1);
  const at = Array.from({ length: Math.min(count, PLACES_MOST) }, (_, i) => first + i * spacingMm);
  return { at, isCut: count > PLACES_MOST };
};

/** On a curved wall a bar is taken in straight pieces that stay this near to its arc: s^2 / (8 R) for a piece s. */
const OFF_ARC_MM = 0.5;

/** Stations between which a bar along the wall is straight. */
const alongMm = (wall: Wall, from: number, to: number): number[] => {
  if (!wall.arc) return [from, to];
  const pieces = Math.ceil((to - from) / Math.sqrt(8 * stationRadiusMm(wall.arc, wall.thicknessMm) * OFF_ARC_MM));
  return Array.from({ length: pieces + 1 }, (_, i) => from + ((to - from) * i) / pieces);
};

type Direction = 'vertical' | 'horizontal';

/** Level from which the heights of a wall's horizontal bars count: its lowest footing. */
export const barsFromMm = (wall: Wall): number => Math.min(...wall.base.map((b) => b.levelMm));
const highestMm = (wall: Wall): number => Math.max(...wall.top.map((b) => b.levelMm));

const heightsOf = (wall: Wall, spec: BarSpec) => placesOf(0, highestMm(wall) - barsFromMm(wall), spec);

/** Levels of the horizontal bars that are set out in a wall, rising. */
export const horizontalLevels = (wall: Wall, spec: BarSpec): readonly number[] =>
  heightsOf(wall, spec).at.map((place) => barsFromMm(wall) + place);

const barsIn = (wall: Wall, direction: Direction, spec: BarSpec): Staged<readonly ModelBar[]> => {
  const [low, high] = [barsFromMm(wall), highestMm(wall)];
  const [from, to] = [wall.base[0]!.fromMm, wall.base.at(-1)!.toMm];
  const isUpright = direction === 'vertical';
  const places = isUpright ? placesOf(from, to, spec) : heightsOf(wall, spec);
  const value = places.at.flatMap((place) =>
    sidesOf(spec).map((side): ModelBar => {
      const at = (stationMm: number, z: number): Vec3 => ({
        ...wallPoint(wall, stationMm, offset(wall, side, spec)),
        z,
      });
      const path = isUpright
        ? [at(place, low), at(place, high)]
        : alongMm(wall, from, to).map((s) => at(s, low + place));
      const where = isUpright ? `at ${Math.round(place)}` : `at level ${Math.round(low + place)}`;
      const id = `${direction} ${where}, ${side} face of ${wall.id}`;
      return { id, line: 0, name: 'job file', diameterMm: spec.diameterMm, path };
    }),
  );
  if (!places.isCut) return { value, findings: [] };
  const text = `Wall ${wall.id} has more ${direction} bars than are set out (${PLACES_MOST}): ties beyond these were not held against any.`;
  return { value, findings: [finding('check.bars-cut', text, { subject: wall.id })] };
};

/** All bars of the job file in all walls, by wall, direction, place and side. */
export const evenBars = ({ walls }: FacePlan, { verticals, horizontals }: EvenBars): Staged<readonly ModelBar[]> => {
  const all = walls.flatMap((wall) => [
    ...(verticals ? [barsIn(wall, 'vertical', verticals)] : []),
    ...(horizontals ? [barsIn(wall, 'horizontal', horizontals)] : []),
  ]);
  return { value: all.flatMap((s) => s.value), findings: all.flatMap((s) => s.findings) };
};

/** The verticals as the fit takes them. */
export const barSpacing = (
  { firstMm, spacingMm, diameterMm }: BarSpec,
  tieDiameterMm: number,
  clearMm: number,
): BarSpacing => ({
  firstMm,
  spacingMm,
  reachMm: (tieDiameterMm + RIBS * diameterMm) / 2 + clearMm,
});
