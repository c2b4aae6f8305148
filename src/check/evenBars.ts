/** Bars that the job file states by diameter and spacing, set out in every wall as lines, so that they are looked at as those of a model are. */

import { pointAlong } from '../ground/plane.js';
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

/** More bars in one wall than this are a slip of the pen, not reinforcement. */
export const BARS_MOST = 20_000;

const sidesOf = ({ faces }: BarSpec): readonly ('left' | 'right')[] => (faces === 'both' ? ['left', 'right'] : [faces]);

const ends = (bands: Wall['base'], pick: (...levels: number[]) => number): number =>
  pick(...bands.map((b) => b.levelMm));

/** Offset of a bar's centre line to the left of the axis. */
const offset = (wall: Wall, side: 'left' | 'right', { coverMm, diameterMm }: BarSpec): number =>
  (side === 'left' ? 1 : -1) * Math.max(0, wall.thicknessMm / 2 - coverMm - diameterMm / 2);

const first = (from: number, { firstMm, spacingMm }: BarSpec): number =>
  firstMm + Math.ceil((from - firstMm) / spacingMm) * spacingMm;

const bar = (id: string, name: string, { diameterMm }: BarSpec, path: readonly Vec3[]): ModelBar => ({
  id,
  line: 0,
  name,
  diameterMm,
  path,
});

const verticalsOf = (wall: Wall, spec: BarSpec): ModelBar[] => {
  const [low, high] = [ends(wall.base, Math.min), ends(wall.top, Math.max)];
  const [from, to] = [wall.base[0]!.fromMm, wall.base.at(-1)!.toMm];
  const out: ModelBar[] = [];
  for (let s = first(from, spec); s <= to && out.length < BARS_MOST; s += spec.spacingMm) {
    for (const side of sidesOf(spec)) {
      const p = pointAlong(wall.start, wall.end, s, offset(wall, side, spec));
      const path = [low, high].map((z) => ({ ...p, z }));
      out.push(bar(`vertical at ${Math.round(s)}, ${side} face of ${wall.id}`, 'job file', spec, path));
    }
  }
  return out;
};

const horizontalsOf = (wall: Wall, spec: BarSpec): ModelBar[] => {
  const [low, high] = [ends(wall.base, Math.min), ends(wall.top, Math.max)];
  const [from, to] = [wall.base[0]!.fromMm, wall.base.at(-1)!.toMm];
  const out: ModelBar[] = [];
  for (let z = low + Math.max(0, first(0, spec)); z <= high && out.length < BARS_MOST; z += spec.spacingMm) {
    for (const side of sidesOf(spec)) {
      const path = [from, to].map((s) => ({ ...pointAlong(wall.start, wall.end, s, offset(wall, side, spec)), z }));
      out.push(bar(`horizontal at level ${Math.round(z)}, ${side} face of ${wall.id}`, 'job file', spec, path));
    }
  }
  return out;
};

/** All bars of the job file in all walls, by wall, direction, place and side. */
export const evenBars = ({ walls }: FacePlan, { verticals, horizontals }: EvenBars): ModelBar[] =>
  walls.flatMap((wall) => [
    ...(verticals ? verticalsOf(wall, verticals) : []),
    ...(horizontals ? horizontalsOf(wall, horizontals) : []),
  ]);

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
