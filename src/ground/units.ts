/** Length units of drawings and gear, and their size in mm. The one place where lengths are converted. */

export type LengthUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft';

/** Size of one unit in mm. The inch is 25.4 mm exactly (international inch, 1959). */
export const MM_PER: Readonly<Record<LengthUnit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 };

/** A cubic yard in m3: 0.9144^3 (exact by definition). */
export const M3_PER_YD3 = 0.9144 ** 3;

/** International avoirdupois pound, kg (exact by definition, 1959). */
export const KG_PER_LB = 0.45359237;

export const toMm = (value: number, unit: LengthUnit): number => value * MM_PER[unit];
export const fromMm = (valueMm: number, unit: LengthUnit): number => valueMm / MM_PER[unit];

/** Remainder that is never negative. */
export const modulo = (a: number, n: number): number => ((a % n) + n) % n;

/** m/s2 (ISO 80000-3). */
const STANDARD_GRAVITY = 9.80665;

/** Weight of a mass, kN. */
export const weightKn = (massKg: number): number => (massKg * STANDARD_GRAVITY) / 1000;

/** Fresh-concrete unit weight from density: gamma = rho g, kN/m3. */
export const unitWeightKnPerM3 = (densityKgPerM3: number): number => weightKn(densityKgPerM3);

/** One pound-force per square foot in kPa: 4.4482216152605 N on 0.3048^2 m2 (both exact by definition). */
export const KPA_PER_PSF = 4.4482216152605 / (0.3048 * 0.3048) / 1000;

/** One number format for everything that is printed: at most `places` decimals, no trailing zeros, never -0. */
export const plainNumber = (value: number, places = 4): string => {
  const text = value.toFixed(places);
  const trimmed = text.includes('.') ? text.replace(/0+$/, '').replace(/\.$/, '') : text;
  return trimmed === '-0' ? '0' : trimmed;
};

/** Rounds to `places` decimals and never gives -0: for values that leave in JSON. */
export const roundTo = (value: number, places: number): number => {
  const k = 10 ** places;
  const rounded = Math.round(value * k) / k;
  return rounded === 0 ? 0 : rounded;
};
