/** What the two codes ask of a platform's guards, width and brackets. */

import { MM_PER, weightKn } from '../../ground/units.js';
import type { BracketItem, PlankItem, RailHeights } from '../../ground/vocabulary.js';
import type { SiteCode } from '../bracing/options.js';

const INCH_MM = MM_PER.in;

/**
 * Guards as they are laid out, upper edges over the floor. US: 29 CFR 1926.502(b), top 42 in, mid rail half-way, toe board 3 1/2 in. EN 13374, class A:
 * top at least 1000, toe board 150; the mid rail leaves no gap over 470 (that gap from memory).
 */
export const RAILS: Readonly<Record<SiteCode, RailHeights>> = {
  us: { topMm: 42 * INCH_MM, midMm: 21 * INCH_MM, toeMm: 3.5 * INCH_MM },
  en: { topMm: 1000, midMm: 550, toeMm: 150 },
};

/** Least width of a floor: 18 in by 29 CFR 1926.451(b)(2); 0.6 m by EN 12811-1, class W06 (from memory). */
export const LEAST_WIDTH_MM: Readonly<Record<SiteCode, number>> = { us: 18 * INCH_MM, en: 600 };

/** The floor lies this far under the pour line. Common practice, no source. */
export const FLOOR_UNDER_MM: Readonly<Record<SiteCode, number>> = { us: 40 * INCH_MM, en: 1000 };
export const FLOOR_BAND_MM = [900, 1100] as const;

/** Brackets are never further apart. Common practice; 8 ft by 29 CFR 1926, subpart L, appendix A, 2(g), from memory. */
export const BRACKETS_MOST_MM = 2400;
/** Planks reach past the last bracket by at least and at most this: 6 and 12 in, 29 CFR 1926.451(b)(4), (5), for planks up to 10 ft. */
export const OVERHANG_MM = [6 * INCH_MM, 12 * INCH_MM] as const;

/** Depth of a rail. Common practice, no source. */
const RAIL_DEEP_MM = 40;
/** Widest gap of EN 13374, class A, with and without a mid rail; from memory. */
const GAP_WITH_MID_MM = 470;
const GAP_WITHOUT_MM = 250;

/** Clear gaps between toe board, mid rail and top rail, mm. */
export const guardGaps = ({ topMm, midMm, toeMm }: RailHeights): number[] =>
  midMm === null ? [topMm - RAIL_DEEP_MM - toeMm] : [midMm - RAIL_DEEP_MM - toeMm, topMm - RAIL_DEEP_MM - midMm];

const NOISE_MM = 0.01;

/** What a guard lacks by the code, in words; none: it passes. */
export const guardFaults = (code: SiteCode, rails: RailHeights): string[] => {
  const { topMm, midMm, toeMm } = rails;
  const faults: string[] = [];
  if (code === 'us') {
    if (Math.abs(topMm - 42 * INCH_MM) > 3 * INCH_MM + NOISE_MM)
      faults.push('its top rail is not 42 in high, give or take 3');
    if (midMm === null) faults.push('it has no mid rail');
    else if (Math.abs(midMm - topMm / 2) > 3 * INCH_MM) faults.push('its mid rail is not half-way');
    if (toeMm < 3.5 * INCH_MM - NOISE_MM) faults.push('its toe board is lower than 3 1/2 in');
    return faults;
  }
  if (topMm < 1000 - NOISE_MM) faults.push('its top rail is lower than 1000');
  if (toeMm < 150 - NOISE_MM) faults.push('its toe board is lower than 150');
  const most = midMm === null ? GAP_WITHOUT_MM : GAP_WITH_MID_MM;
  const widest = Math.max(...guardGaps(rails));
  if (widest > most + NOISE_MM) faults.push(`its guard leaves a gap of ${Math.round(widest)}, more than ${most}`);
  return faults;
};

/** Intended load, 4 times: 29 CFR 1926.451(a)(1). */
const US_FACTOR = 4;

export interface BracketLoad {
  /** What the code asks of the bracket, and what it has for that, kN. */
  readonly askedKn: number;
  readonly mostKn: number;
}

/**
 * Load of a bracket that carries this length of floor. US: its own weight with that of the floor (kPa) and four times the intended load against the ultimate one. EN 12811-1: the
 * intended load against the rated one.
 */
export const bracketLoad = (
  code: SiteCode,
  bracket: BracketItem,
  kpa: number,
  lengthMm: number,
  floorKpa = 0,
): BracketLoad => {
  const areaM2 = (bracket.widthMm * lengthMm) / 1e6;
  const intendedKn = kpa * areaM2;
  if (code === 'us') {
    const ownKn = weightKn(bracket.massKg) + floorKpa * areaM2;
    return { askedKn: US_FACTOR * intendedKn + ownKn, mostKn: bracket.ultimateKn };
  }
  return { askedKn: intendedKn, mostKn: (bracket.ratedKpa * bracket.widthMm * bracket.spacingMm) / 1e6 };
};

/** Weight of a floor of these planks, kPa. */
export const floorWeight = (planks: readonly PlankItem[]): number =>
  Math.max(0, ...planks.map((p) => (weightKn(p.massKg) / (p.lengthMm * p.widthMm)) * 1e6));

/** The longest stretch of floor that a bracket carries, mm. */
export const floorMost = (code: SiteCode, bracket: BracketItem, kpa: number, floorKpa: number): number => {
  const one = bracketLoad(code, bracket, kpa, 0);
  const perMetre = bracketLoad(code, bracket, kpa, 1000, floorKpa).askedKn - one.askedKn;
  return ((one.mostKn - one.askedKn) / perMetre) * 1000;
};
