/** What the job says of bracing and access, and the numbers of rules T13 and T14. */

import type { GangOptions } from '../gangs/options.js';

/** Whose loads and heights count: those of the United States, or European ones. */
export type SiteCode = 'us' | 'en';
export type SideWish = 'inside' | 'outside' | 'left' | 'right';

export interface SiteOptions {
  readonly code: SiteCode;
  /** Side of the horizontal aligners and the braces; null: outside, and the other one where braces have no room there. */
  readonly aligners: SideWish | null;
  /** Side of the platforms; null: the one without braces. */
  readonly platforms: SideWish | null;
  /** Peak velocity pressure of the wind, kPa, and the net coefficient of a wall standing free; null: not said. */
  readonly windKpa: number | null;
  readonly windCoefficient: number | null;
  /** Between the outer faces and the edge of the excavation, mm; null: not known. */
  readonly freeOutsideMm: number | null;
  /** Platforms are needed where walls are higher than this. */
  readonly dropMm: number;
  /** Intended load on the platforms. */
  readonly platformKpa: number;
  /** Absent: nothing is ganged. */
  readonly gangs?: GangOptions;
}

/**
 * The least that bracing is designed for: a line load at the top of the form, and wind on its whole height, either way. ACI 347, in SI and in US units
 * (100 lb/ft, 15 psf), quoted by A. Hanna, Concrete Formwork Systems, p. 191, and by Spiegel and Limbrunner, p. 338.
 */
export const LEAST: Readonly<Record<SiteCode, { readonly lineKnPerM: number; readonly windKpa: number }>> = {
  en: { lineKnPerM: 1.5, windKpa: 0.72 },
  us: { lineKnPerM: 1.45939, windKpa: 0.718206 },
};

/** Horizontal rows by the height of the forms. Common practice, no source. */
export const rowsAtLeast = (heightMm: number): number => (heightMm <= 1800 ? 1 : heightMm <= 3000 ? 2 : 3);

/** All of these: common practice, no source; lengths in mm. */
export const RULES = {
  /** The top row of aligners lies this near to the top of the forms. */
  topRowMm: 300,
  /** Vertical aligners over stacks: their spacing, how near the ends, and how far past a horizontal joint. */
  uprightSpacingMm: 1800,
  uprightEndMm: 300,
  uprightLapMm: 600,
  /** Horizontal aligners begin and end this near to the ends of the forms. */
  alignerEndMm: 300,
  /** Their splices stay this far from joints of the forms. */
  spliceMm: 300,
  /** From a row of ties to the middle of an aligner: half of a plate and half of a tube. */
  tieClearMm: 60,
  /** Head of a brace over the height of the forms. */
  headLow: 2 / 3,
  headHigh: 3 / 4,
  angleLeastDeg: 30,
  angleMostDeg: 60,
  braceSpacingMm: 2400,
  braceEndMm: 1200,
  /** Shorter stretches between two corners are held by the forms that cross there. */
  shortMm: 1200,
  /** From the backs of the frames to the middle of an aligner, where braces take hold. */
  offFrameMm: 50,
  /** Half of the width that a brace and its foot take, and between the middles of two braces. */
  footHalfMm: 100,
  bracesApartMm: 150,
} as const;

/** What rounding may leave. */
export const SLACK_MM = 0.5;
