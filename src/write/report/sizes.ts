/** How numbers are told to the crew: lengths in the gear's own unit, everything else in the units that the tables name. */

import { inchText } from '../../ground/inches.js';
import { KG_PER_LB, M3_PER_YD3, MM_PER, plainNumber } from '../../ground/units.js';
import type { Catalogue, FormUnit } from '../../ground/vocabulary.js';

export type GearUnit = Catalogue['lengthUnit'];

/** A length without its unit: mm to a tenth, or inches to a sixteenth. */
export const lengthText = (valueMm: number, unit: GearUnit): string =>
  unit === 'in' ? inchText(valueMm) : plainNumber(valueMm, 1);

const M_PER_FT = MM_PER.ft / 1000;

/** Amounts of the whole as a crew orders and hauls them: metric, and for inch gear in feet, square feet, cubic yards and pounds. */
const AMOUNTS = {
  mm: { length: ['m', 1], area: ['m²', 1], volume: ['m³', 1], mass: ['kg', 1] },
  in: { length: ['ft', M_PER_FT], area: ['ft²', M_PER_FT ** 2], volume: ['yd³', M3_PER_YD3], mass: ['lb', KG_PER_LB] },
} as const;

const amountsOf = (gear: GearUnit) => (gear === 'in' ? AMOUNTS.in : AMOUNTS.mm);

export type Amount = keyof (typeof AMOUNTS)['mm'];

export const amountUnit = (of: Amount, gear: GearUnit): string => amountsOf(gear)[of][0];
/** In metres, square metres, cubic metres and kg given. */
export const amountNumber = (of: Amount, value: number, gear: GearUnit, places: number): string =>
  plainNumber(value / amountsOf(gear)[of][1], places);

/** Size of a catalogue unit: width x height, legs for inside and hinged corners, height alone for outside corners without a face width. */
export const unitSize = (unit: FormUnit, gear: GearUnit): string => {
  const height = lengthText(unit.heightMm, gear);
  if (unit.legsMm !== null) return `${unit.legsMm.map((l) => lengthText(l, gear)).join(' + ')} x ${height}`;
  const width = unit.kind === 'outside-corner' ? unit.faceWidthMm : unit.widthMm;
  return width === 0 ? height : `${lengthText(width, gear)} x ${height}`;
};

/** Load over capacity, always rounded up to two decimals, so that nothing above 1 prints as 1.00. Null where there is no capacity or no number. */
export const utilisation = (load: number, capacity: number): string | null => {
  const ratio = load / capacity;
  if (!Number.isFinite(ratio) || capacity <= 0) return null;
  // The small step back keeps 0.55 from becoming 0.56 through binary noise; what it could hide is a billionth.
  return (Math.ceil(ratio * 100 - 1e-7) / 100).toFixed(2);
};

export { KIND_WORDS } from '../../ground/kindWords.js';
export { KIND_LETTERS } from '../../ground/marks.js';
