/** Sizes of units as bare numbers, in the unit of the gear: for marks and for the sizes beside them. */

import { plainNumber } from './units.js';

type GearUnit = 'mm' | 'in';

/** A width or height of a unit as a bare number: mm, or inches. */
export const sizeNumber = (unit: GearUnit, valueMm: number): string =>
  unit === 'mm' ? plainNumber(valueMm, 1) : plainNumber(valueMm / 25.4, 3);

/** 'W x H' without blanks: 600x2400. */
export const sizeText = (unit: GearUnit, widthMm: number, heightMm: number): string =>
  `${sizeNumber(unit, widthMm)}x${sizeNumber(unit, heightMm)}`;
