/** Cells and columns that the sheets share: lengths in the gear's unit, counts, masses. */

import { fromMm, roundTo } from '../../../ground/units.js';
import type { Catalogue, Result } from '../../../ground/vocabulary.js';
import type { Cell, Column } from './sheet.js';

export type GearUnit = Catalogue['lengthUnit'];

/** Sixteenths of an inch: the grid of inch gear. */
const SIXTEENTHS = 16;

export const count = (value: number): Cell => ({ number: value, format: 'whole' });
export const kg = (value: number): Cell => ({ number: value, format: 'two' });

/** A length in the gear's unit: mm to a tenth, inches to a sixteenth. */
export const length = (valueMm: number, gear: GearUnit): Cell =>
  gear === 'in'
    ? { number: Math.round(fromMm(valueMm, 'in') * SIXTEENTHS) / SIXTEENTHS, format: 'fraction' }
    : { number: roundTo(valueMm, 1), format: Number.isInteger(roundTo(valueMm, 1)) ? 'whole' : 'one' };

/** Nothing rather than nought: a tie has no width. */
export const lengthOrNone = (valueMm: number, gear: GearUnit): Cell => (valueMm === 0 ? null : length(valueMm, gear));

export { KIND_WORDS } from '../../../ground/kindWords.js';

/** 'mm' or 'in' behind what is measured. */
export const lengthHead = (what: string, { catalogue }: Pick<Result, 'catalogue'>, width = 10): Column => ({
  head: `${what}, ${catalogue.lengthUnit}`,
  width,
});
