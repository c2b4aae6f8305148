/** Sizes of units as bare numbers, in the unit of the gear: for marks and for the sizes beside them. */

import { plainNumber } from './units.js';
import type { Catalogue } from './vocabulary.js';

type GearUnit = 'mm' | 'in';

/** A width or height of a unit as a bare number: mm, or inches. */
export const sizeNumber = (unit: GearUnit, valueMm: number): string =>
  unit === 'mm' ? plainNumber(valueMm, 1) : plainNumber(valueMm / 25.4, 3);

/** 'W x H' without blanks: 600x2400. */
export const sizeText = (unit: GearUnit, widthMm: number, heightMm: number): string =>
  `${sizeNumber(unit, widthMm)}x${sizeNumber(unit, heightMm)}`;

/** What is cut on site is called by its kind and size in mm ('strip 50.8 x 2438.4'): the same name for readers of inch gear ('strip 2 x 96'). Other items keep theirs. */
export const itemText = ({ lengthUnit, units }: Catalogue, kind: string, item: string): string =>
  lengthUnit === 'mm' || !item.startsWith(`${kind} `) || units.some((u) => u.id === item)
    ? item
    : item.replace(/\d+(\.\d+)?/g, (mm) => sizeNumber('in', Number(mm)));
