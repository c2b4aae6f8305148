/** Levels of the rows of aligners on a line of forms: one near the top, one where the heads of the braces go, one below on high forms (rules T13, T14). */

import type { Catalogue } from '../../ground/vocabulary.js';
import { type FormLine, heightOf } from './formLines.js';
import { RULES, rowsAtLeast } from './options.js';

export interface RowLevels {
  /** Rising. */
  readonly levelsMm: readonly number[];
  /** Of the row at which the braces take hold; null: none lies where their heads may be. */
  readonly headMm: number | null;
}

/** Levels are whole steps over the foot of the forms. */
const stepOf = ({ lengthUnit }: Catalogue): number => (lengthUnit === 'in' ? 25.4 : 25);

/** A tube keeps this from the upper edge of the forms. Common practice, no source. */
const UNDER_TOP_MM = 75;

/**
 * The level between two that is nearest to a wanted one and clear of the rows of ties; where none is clear the one that is farthest from them; null
 * where there is no step between the two at all.
 */
const levelIn = (
  line: FormLine,
  [low, high]: readonly [number, number],
  wantedMm: number,
  ties: readonly number[],
  stepMm: number,
): number | null => {
  let best: { readonly z: number; readonly clear: number } | null = null;
  const first = Math.ceil((low - line.baseMm) / stepMm - 1e-6);
  for (let k = first; line.baseMm + k * stepMm <= high + 1e-6; k++) {
    const z = line.baseMm + k * stepMm;
    const clear = Math.min(RULES.tieClearMm, ...ties.map((t) => Math.abs(t - z)));
    const isNearer = best !== null && clear === best.clear && Math.abs(z - wantedMm) < Math.abs(best.z - wantedMm);
    if (best === null || clear > best.clear || isNearer) best = { z, clear };
  }
  return best?.z ?? null;
};

/** The band in which the heads of braces lie, as levels. */
export const headBand = (line: FormLine): readonly [number, number] => {
  const heightMm = heightOf(line);
  return [line.groundMm + heightMm * RULES.headLow, line.groundMm + heightMm * RULES.headHigh];
};

/** Chooses the levels; ties: levels of the run's rows. */
export const alignerRows = (line: FormLine, ties: readonly number[], catalogue: Catalogue): RowLevels => {
  const stepMm = stepOf(catalogue);
  const heightMm = heightOf(line);
  const head = headBand(line);
  const top = [line.topMm - RULES.topRowMm, line.topMm - UNDER_TOP_MM] as const;
  const middleOf = ([a, b]: readonly [number, number]) => (a + b) / 2;
  const count = rowsAtLeast(heightMm);
  const both = [Math.max(head[0], top[0]), Math.min(head[1], top[1])] as const;
  const single = count === 1 ? levelIn(line, both, middleOf(both), ties, stepMm) : null;
  if (single !== null && ties.every((t) => Math.abs(t - single) >= RULES.tieClearMm))
    return { levelsMm: [single], headMm: single };
  const topMm = levelIn(line, top, middleOf(top), ties, stepMm);
  // Clear of the top row, so that two tubes never lie on each other.
  const headHigh = Math.min(head[1], (topMm ?? line.topMm) - 2 * RULES.tieClearMm);
  const headMm = levelIn(line, [head[0], headHigh], middleOf(head), ties, stepMm);
  const low = [line.groundMm + heightMm * 0.2, line.groundMm + heightMm * 0.45] as const;
  const lowMm = count > 2 ? levelIn(line, low, line.groundMm + heightMm / 3, ties, stepMm) : null;
  const levels = [lowMm, headMm, topMm].filter((z): z is number => z !== null);
  return { levelsMm: levels, headMm };
};
