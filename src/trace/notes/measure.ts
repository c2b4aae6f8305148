/** Lengths inside a note: how they are found among other words, and what a number without a unit can mean. */

import { type LengthUnit, MM_PER, roundTo } from '../../ground/units.js';
import { readLength } from '../lengthText.js';

/** A length as written: in mm when its unit is written (several where it can be read in several ways), else the bare number and its decimals. */
export type Measure =
  | { readonly bare: null; readonly mm: readonly number[] }
  | { readonly bare: number; readonly decimals: number; readonly mm: null };

const FOOT = String.raw`(?:'|\s?(?:FT\.?|FEET|FOOT)(?!\p{L}))`;
const INCH = String.raw`(?:"|\s?IN(?:CH(?:ES)?)?\.?(?!\p{L}))`;
const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
const INCHES = String.raw`(?:\d+(?:\s+|\s*-\s*)\d+\/\d+|\d+\/\d+|\d+(?:\.\d+)?)`;

/** Sources of regular expressions without groups of their own, for flags `iu`. */
export const FEET_TEXT = String.raw`(?:${NUMBER}\s*${FOOT}(?:\s*-?\s*${INCHES}\s*${INCH}|-?\d{1,2}(?![\d"/.,]))?)`;
export const INCH_TEXT = String.raw`(?:${INCHES}\s*${INCH})`;
export const METRIC_TEXT = String.raw`(?:${NUMBER}\s*(?:mm|cm|dm|m)(?:(?=TH(?:IC)?K|R\.?C|CONC|WALL|WAND)|(?![\p{L}²³/])))`;
export const BARE_TEXT = `(?:${NUMBER})`;
/** A length with its unit. */
export const UNIT_TEXT = `(?:${FEET_TEXT}|${INCH_TEXT}|${METRIC_TEXT})`;
/** Any length. */
export const LENGTH_TEXT = `(?:${UNIT_TEXT}|${BARE_TEXT})`;
/** Stands before a length: it is not the end of a longer number, mark or name. */
export const NUMBER_STARTS = String.raw`(?<![\p{L}\d.,/:#Ø'"])`;
/** Stands after a length: it does not go on, is no size, slope, angle, ratio or date. */
export const NUMBER_ENDS = String.raw`(?![\d/:%°]|[.,]\d|\s*[xX]\s*\d)`;

/** What a piece of text that matched LENGTH_TEXT says. */
export const measureOf = (text: string): Measure | null => {
  const read = readLength(text);
  if (!read) return null;
  if (read.unit === 'mm') return { bare: null, mm: read.values };
  return { bare: read.values[0]!, decimals: /(?<=[.,])\d+/.exec(text)?.[0].length ?? 0, mm: null };
};

export const isImperial = (unit: LengthUnit): boolean => unit === 'in' || unit === 'ft';

/** 24 x 25.4 is 609.6, not a hair less. */
const clean = (mm: number): number => roundTo(mm, 6);

const unique = (values: readonly number[]): number[] => [...new Set(values)];

/**
 * What a bare level can be in mm, likeliest first. Two or more decimals are metres, or feet in a drawing in inches or feet; whole
 * numbers are the drawing's unit or mm. *Practice, no source.*
 */
export const bareLevelMm = (value: number, decimals: number, unit: LengthUnit): number[] => {
  if (value === 0) return [0];
  const m = value * 1000;
  const ft = value * MM_PER.ft;
  if (isImperial(unit)) return decimals > 0 ? [ft, m] : Math.abs(value) >= 1000 ? [value] : [ft, value * MM_PER.in];
  if (decimals > 1) return [m];
  if (decimals === 1) return unit === 'cm' ? [value * 10, m] : [m];
  if (Math.abs(value) >= 1000) return [value];
  if (unit === 'cm') return [value * 10, value];
  if (unit === 'm') return Math.abs(value) < 20 ? [m, value] : [value, m];
  return [value, value * 10];
};

/** Levels that a measure can mean, mm, likeliest first. */
export const levelsMm = (measure: Measure, unit: LengthUnit): readonly number[] =>
  (measure.bare === null ? measure.mm : bareLevelMm(measure.bare, measure.decimals, unit)).map(clean);

/**
 * What a bare size of a wall, an opening or a footing can be in mm, within limits, likeliest first: metres with decimals (0.25), inches in a drawing in inches
 * or feet, the drawing's unit, then cm and mm by what is plausible.
 */
export const sizesMm = (measure: Measure, unit: LengthUnit, leastMm: number, mostMm: number): number[] => {
  const within = (mm: number): boolean => mm >= leastMm && mm <= mostMm;
  if (measure.bare === null) return measure.mm.map(clean).filter(within);
  const { bare, decimals } = measure;
  const order: readonly LengthUnit[] = isImperial(unit)
    ? decimals > 1
      ? ['m', 'in', 'ft']
      : ['in', 'mm', 'cm']
    : decimals > 0
      ? ['m', 'cm']
      : unit === 'cm'
        ? ['cm', 'mm']
        : ['mm', 'cm', 'm'];
  return unique(order.map((u) => clean(bare * MM_PER[u])).filter(within));
};
