/**
 * ACI 347 lateral pressure on walls. The SI and the US edition are two sets of formulas; neither is converted into the other.
 *
 * Sources. Formulas of the US edition: University of Florida, course BCN4423C, "Wall Forms". The two cases and their limits, and fluid pressure
 * above 7 in of slump: Hurd, letter in Concrete Construction. Self-compacting concrete, external vibration, expansive cement, pumping from the
 * base: Peurifoy and Oberlender, Formwork for Concrete Structures, p. 39. From memory of ACI 347-04 and to be compared with a copy: the constants
 * of the SI edition (their conversion agrees), the floors, Cw, and the depth of vibration.
 *
 * Order: raw formula, then up to the floor, then down to the fluid pressure of the pour height.
 */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import { brokenOf, fromMemory, type Limit } from './cases.js';
import type { Placing } from './concrete.js';

export type AciCase = 'W1' | 'W2' | 'fluid';

/** Constants of one edition, in its own units. */
export interface AciEdition {
  readonly name: string;
  /** W1: base + rateW1 R / (T + offset). W2: base + constW2 / (T + offset) + rateW2 R / (T + offset). */
  readonly base: number;
  readonly rateW1: number;
  readonly constW2: number;
  readonly rateW2: number;
  readonly temperatureOffset: number;
  /** Times Cw: no reduced pressure is less. */
  readonly floor: number;
  /** Below it W1 or W2 by height, from it W2. */
  readonly rateBreak: number;
  /** Above it fluid pressure. */
  readonly rateMost: number;
  /** Up to this pour height W1. */
  readonly heightBreak: number;
  readonly densityLight: number;
  readonly densityHeavy: number;
  readonly densityOfOne: number;
  readonly temperatureLeast: number;
  readonly temperatureMost: number;
  readonly formulas: Readonly<Record<Exclude<AciCase, 'fluid'>, string>>;
}

/** kPa, m/h, degrees C, kg/m3, m. */
export const ACI_SI: AciEdition = {
  name: 'ACI 347, SI edition',
  base: 7.2,
  rateW1: 785,
  constW2: 1156,
  rateW2: 244,
  temperatureOffset: 17.8,
  floor: 30,
  rateBreak: 2.1,
  rateMost: 4.5,
  heightBreak: 4.2,
  densityLight: 2240,
  densityHeavy: 2400,
  densityOfOne: 2320,
  temperatureLeast: 4,
  temperatureMost: 38,
  formulas: {
    W1: 'Cw Cc (7.2 + 785 R / (T + 17.8))',
    W2: 'Cw Cc (7.2 + 1156 / (T + 17.8) + 244 R / (T + 17.8))',
  },
};

/** psf, ft/h, degrees F, pcf, ft. */
export const ACI_US: AciEdition = {
  name: 'ACI 347, US edition',
  base: 150,
  rateW1: 9000,
  constW2: 43400,
  rateW2: 2800,
  temperatureOffset: 0,
  floor: 600,
  rateBreak: 7,
  rateMost: 15,
  heightBreak: 14,
  densityLight: 140,
  densityHeavy: 150,
  densityOfOne: 145,
  temperatureLeast: 40,
  temperatureMost: 100,
  formulas: { W1: 'Cw Cc (150 + 9000 R / T)', W2: 'Cw Cc (150 + 43400 / T + 2800 R / T)' },
};

/** Cw by unit weight; between the light and the heavy limit 1. */
export const unitWeightCoefficient = (edition: AciEdition, density: number): number => {
  if (density < edition.densityLight) return Math.max(0.8, 0.5 * (1 + density / edition.densityOfOne));
  return density > edition.densityHeavy ? density / edition.densityOfOne : 1;
};

export const aciCase = (edition: AciEdition, rate: number, height: number): AciCase => {
  if (rate > edition.rateMost) return 'fluid';
  return rate < edition.rateBreak && height <= edition.heightBreak ? 'W1' : 'W2';
};

/** The formula before floor and cap. */
export const aciRaw = (
  edition: AciEdition,
  which: Exclude<AciCase, 'fluid'>,
  cw: number,
  cc: number,
  rate: number,
  temperature: number,
): number => {
  const t = temperature + edition.temperatureOffset;
  const { base, rateW1, constW2, rateW2 } = edition;
  return cw * cc * (which === 'W1' ? base + (rateW1 * rate) / t : base + constW2 / t + (rateW2 * rate) / t);
};

/** Slump above which no reduced formula applies: 7 in, 175 mm. */
const SLUMP_MOST_MM = 175;
/** Internal vibration deeper than this (4 ft) lifts the pressure above the formula. From memory for the present edition. */
const VIBRATION_MOST_MM = 1200;

/** What the reduced formulas presuppose of the placing. */
export const aciLimits = (placing: Placing): Limit[] => {
  const slump = placing.slumpMm;
  const depth = placing.vibrationDepthMm;
  const unless = (is: boolean | undefined) => (is ? false : null);
  return [
    {
      text: `slump not over ${SLUMP_MOST_MM} mm (7 in)`,
      met: slump === null ? null : slump <= SLUMP_MOST_MM,
      broken: `the slump of ${plainNumber(slump ?? 0, 1)} mm is over ${SLUMP_MOST_MM} mm`,
    },
    {
      text: `internal vibration not deeper than ${VIBRATION_MOST_MM} mm (4 ft)`,
      met: depth === undefined ? null : depth <= VIBRATION_MOST_MM,
      broken: `the concrete is vibrated deeper than ${VIBRATION_MOST_MM} mm`,
    },
    {
      text: 'not vibrated from outside',
      met: unless(placing.externalVibration),
      broken: 'it is vibrated from outside',
    },
    { text: 'not self-compacting', met: unless(placing.selfCompacting), broken: 'it is self-compacting' },
    { text: 'cement not expansive', met: unless(placing.expansiveCement), broken: 'its cement is expansive' },
    { text: 'filled from above', met: unless(placing.pumpedFromBase), broken: 'it is pumped in from the base' },
  ];
};

/** Fluid pressure is multiplied by this when the form is filled from its base (at least 25 per cent more; Peurifoy p. 39). */
export const BASE_PUMPING_FACTOR = 1.25;

export interface AciInput {
  readonly edition: AciEdition;
  readonly rate: number;
  readonly temperature: number;
  readonly density: number;
  readonly cc: number;
  readonly height: number;
  /** Unit weight in pressure per length, in the edition's units. */
  readonly unitWeight: number;
  readonly placing: Placing;
}

export interface AciResult {
  readonly which: AciCase;
  readonly cw: number;
  readonly raw: number | null;
  readonly floor: number | null;
  readonly fluid: number;
  readonly design: number;
  /** Pressure per length near the surface, in the edition's units. */
  readonly slope: number;
  readonly findings: readonly Finding[];
}

/** What of an edition is from memory of ACI 347-04. */
export const aciNotConfirmed = (edition: AciEdition): readonly string[] => [
  ...(edition === ACI_SI ? ['constants of the SI edition'] : []),
  edition === ACI_SI ? 'floor of 30 Cw' : 'floor of 600 Cw',
  'Cw by unit weight',
  'Cc by cement and retarder',
  'depth of vibration',
];

const aciRemarks = ({ edition, temperature, placing }: AciInput): Finding[] => {
  const found: Finding[] = [];
  const { temperatureLeast, temperatureMost } = edition;
  if (temperature < temperatureLeast || temperature > temperatureMost) {
    const message = `The concrete temperature ${plainNumber(temperature, 1)} lies outside ${temperatureLeast} to ${temperatureMost} degrees, in which the formula is commonly used (range from memory).`;
    found.push(finding('check.temperature-range', message));
  }
  if (placing.slumpMm === null) {
    const assumed = `slump not over ${SLUMP_MOST_MM} mm`;
    found.push(finding('check.slump-assumed', 'The slump is not given.', { assumed }));
  }
  return [...found, fromMemory(edition.name, aciNotConfirmed(edition))];
};

/** Design pressure by one edition, in its own units. */
export const aciPressure = (input: AciInput): AciResult => {
  const { edition, rate, temperature, density, cc, height, unitWeight, placing } = input;
  const cw = unitWeightCoefficient(edition, density);
  const broken = brokenOf(aciLimits(placing));
  const byRate = aciCase(edition, rate, height);
  if (byRate === 'fluid') broken.push(`the rate of rise ${plainNumber(rate, 3)} is over ${edition.rateMost}`);
  if (broken.length > 0 || byRate === 'fluid') {
    const slope = unitWeight * (placing.pumpedFromBase ? BASE_PUMPING_FACTOR : 1);
    const fluid = slope * height;
    const findings = [finding('check.fluid-pressure', `Full fluid pressure counts, since ${broken.join(' and ')}.`)];
    return { which: 'fluid', cw, raw: null, floor: null, fluid, design: fluid, slope, findings };
  }
  const raw = aciRaw(edition, byRate, cw, cc, rate, temperature);
  const floor = edition.floor * cw;
  const fluid = unitWeight * height;
  const design = Math.min(Math.max(raw, floor), fluid);
  return { which: byRate, cw, raw, floor, fluid, design, slope: unitWeight, findings: aciRemarks(input) };
};
