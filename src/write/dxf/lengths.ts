/** Lengths and levels as they are written into the drawing: in the unit of the gear, never mixed. */

import { inchesOf, SIXTEENTHS_PER_INCH } from '../../ground/inches.js';
import { plainNumber } from '../../ground/units.js';
import type { Catalogue } from '../../ground/vocabulary.js';

export type GearUnit = Catalogue['lengthUnit'];

/** Feet and inches to the nearest sixteenth: 8", 1'-4", 3'-0 1/2". Form: usual on US drawings; zero feet are left out. */
const feetAndInches = (valueMm: number): string => {
  const sixteenths = Math.round((Math.abs(valueMm) / 25.4) * SIXTEENTHS_PER_INCH);
  const sign = valueMm < 0 && sixteenths > 0 ? '-' : '';
  const feet = Math.floor(sixteenths / (12 * SIXTEENTHS_PER_INCH));
  const rest = inchesOf(sixteenths % (12 * SIXTEENTHS_PER_INCH), feet > 0);
  return `${sign}${feet > 0 ? `${feet}'-` : ''}${rest}"`;
};

/** A length in plan or on a face: mm to one decimal, or feet and inches for inch gear. */
export const lengthText = (unit: GearUnit, valueMm: number): string =>
  unit === 'mm' ? plainNumber(valueMm, 1) : feetAndInches(valueMm);

/** A level in the drawing's datum, with its sign. */
export const levelText = (unit: GearUnit, valueMm: number): string => {
  const plain = lengthText(unit, valueMm);
  return plain.startsWith('-') ? plain : `+${plain}`;
};
