/**
 * Panels on their side (rule T8): width and height change places, and with them stations and levels of the tie holes.
 *
 * A panel on its side is as strong as upright where every hole of its long side is tied: its rating then holds, since it rests on the same holes. Its
 * rated span along the wall is the spacing of those holes, or twice what stands out beyond the outermost ones, whichever is more (a cantilever of o
 * and a span of 2 o bend alike under one pressure); over a longer span the rating falls as for any unit. That first hole lies far from the end, so
 * it may stand out further than the catalogue's overhang where the pressure is low: by overhang x rated / actual pressure, at most twice the overhang.
 */

import { byNumber, byText, inOrder } from '../ground/order.js';
import type { Catalogue, FormUnit, Hole, Stack } from '../ground/vocabulary.js';

/** Panels of more holes along their long side are not set on their side: none of the trade has them. */
const HOLES_MOST = 12;
/** Least pressure by which an overhang is worked out, kPa. */
const LEAST_KPA = 1e-6;
/** Two lengths that differ by less are equal. */
const SAME_MM = 0.01;

/** Holes as they stand when the unit lies on its side, turned 90 degrees anticlockwise: from its left edge and its foot. */
export const holesOnSide = (unit: FormUnit): Hole[] =>
  unit.holes.map(({ xMm, yMm }) => ({ xMm: unit.heightMm - yMm, yMm: xMm }));

const distinct = (values: readonly number[]): number[] =>
  [...values].sort(byNumber((x) => x)).filter((x, i, all) => i === 0 || x - all[i - 1]! > SAME_MM);

/** Stations of the holes of a unit on its side, from its left edge; rising. */
export const stationsOnSide = (unit: FormUnit): number[] => distinct(holesOnSide(unit).map((h) => h.xMm));

/** Levels of the holes of a unit on its side, from its foot; rising. */
const levelsOnSide = (unit: FormUnit): number[] => distinct(holesOnSide(unit).map((h) => h.yMm));

const has = (values: readonly number[], x: number): boolean => values.some((v) => Math.abs(v - x) <= SAME_MM);

/** Whether ties pass the unit on its side on both faces: its holes are a grid, and lie alike from either end. */
const isPaired = (unit: FormUnit): boolean => {
  const stations = stationsOnSide(unit);
  const levels = levelsOnSide(unit);
  const full = unit.holes.length === stations.length * levels.length;
  return (
    stations.length > 0 &&
    stations.length <= HOLES_MOST &&
    full &&
    stations.every((x) => has(stations, unit.heightMm - x))
  );
};

/**
 * Panels that may lie on their side in a course of this height, longest first, one a length; all with the tie rows of the longest, so that rows go
 * through. A panel that is not longer than it is high gains nothing by it.
 */
export const panelsOnSide = (catalogue: Catalogue, heightMm: number): FormUnit[] => {
  const found = catalogue.units
    .filter((u) => u.kind === 'panel' && u.turnable && Math.abs(u.widthMm - heightMm) <= SAME_MM)
    .filter((u) => u.heightMm > heightMm + SAME_MM && isPaired(u))
    .sort(
      inOrder(
        byNumber((u) => -u.heightMm),
        byText((u) => u.id),
      ),
    )
    .filter((u, i, all) => i === 0 || all[i - 1]!.heightMm - u.heightMm > SAME_MM);
  const rows = found[0] ? levelsOnSide(found[0]) : [];
  return found.filter((u) => {
    const own = levelsOnSide(u);
    return own.length === rows.length && own.every((y) => has(rows, y));
  });
};

/** Tie rows above the foot of a course of panels on their side; none where the yard has no such panel. */
export const rowsOnSide = (catalogue: Catalogue, heightMm: number): number[] => {
  const [first] = panelsOnSide(catalogue, heightMm);
  return first ? levelsOnSide(first) : [];
};

/** Heights that a course of panels on their side can have, lowest first. */
export const heightsOnSide = (catalogue: Catalogue): number[] =>
  distinct(catalogue.units.filter((u) => u.kind === 'panel').map((u) => u.widthMm)).filter(
    (h) => panelsOnSide(catalogue, h).length > 0,
  );

/** Level of the foot of the top course. */
export const topFootMm = ({ baseMm, heightsMm }: Stack): number =>
  heightsMm.slice(0, -1).reduce((sum, h) => sum + h, baseMm);

/** Span along the wall for which a panel on its side has its rating, mm. */
export const spanOnSideMm = (unit: FormUnit): number => {
  const stations = stationsOnSide(unit);
  const gaps = stations.slice(1).map((x, i) => x - stations[i]!);
  const edge = Math.max(stations[0] ?? 0, unit.heightMm - (stations[stations.length - 1] ?? 0));
  return Math.max(2 * edge, ...gaps);
};

/** How far a panel on its side may stand out beyond its outermost tie at this pressure, mm. */
export const overhangOnSideMm = ({ overhangMm }: Catalogue, unit: FormUnit, pressureKpa: number): number =>
  Math.min((overhangMm * unit.ratedKpa) / Math.max(pressureKpa, LEAST_KPA), 2 * overhangMm);

/** Most holes of a panel of which every choice to tie is tried; with more all are tied. */
const CHOSEN_AMONG = 6;

/** Which holes of a panel on its side are tied: what a tie less leaves of its rating is for the search to judge. */
export const tiedOnSide = (holes: readonly number[]): number[][] => {
  if (holes.length > CHOSEN_AMONG) return [[], [...holes]];
  return Array.from({ length: 2 ** holes.length }, (_, mask) => holes.filter((_h, i) => (mask >> i) % 2 === 1));
};
