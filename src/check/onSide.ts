/**
 * What a panel on its side bears. It rests on the same holes as upright, so its rating holds where those of its long side are tied: its span along the
 * wall is then their spacing, or what stands out beyond the outermost ones taken twice (a cantilever of o has the moment of a span of 2 o). How far
 * it may stand out beyond a tie: the catalogue's overhang is for the rated pressure and grows as pressure falls, to twice itself at most. The latter is
 * the worked examples' rule, common practice, no source.
 */

import type { Catalogue, FormUnit } from '../ground/vocabulary.js';

/** Span along the wall for which a unit has its rating, upright or on its side, mm. */
export const spanAsSet = (unit: FormUnit, turned: boolean): number => {
  if (!turned) return unit.ratedSpanMm > 0 ? unit.ratedSpanMm : unit.widthMm;
  const levels = unit.holes.map((h) => h.yMm).sort((a, b) => a - b);
  if (levels.length === 0) return unit.heightMm;
  const spans = levels.slice(1).map((y, i) => y - levels[i]!);
  return Math.max(2 * levels[0]!, 2 * (unit.heightMm - levels[levels.length - 1]!), ...spans);
};

/** The catalogue's overhang as it counts at a pressure, mm. */
export const overhangAsSet = (catalogue: Catalogue, unit: FormUnit, turned: boolean, pressureKpa: number): number => {
  const { overhangMm } = catalogue;
  if (!turned) return overhangMm;
  return pressureKpa <= 0 ? 2 * overhangMm : Math.min(2 * overhangMm, (overhangMm * unit.ratedKpa) / pressureKpa);
};
