/**
 * DIN 18218:2010-01, pressure of fresh concrete on upright forms: characteristic greatest value by flow class, kN/m2, v in m/h.
 *
 * Sources. From memory, every one of them, and to be compared with a copy: formulas, floors, K1, limits of v and H, temperature. A second source has the
 * class SVB as (1.0 m + 0.26 v tE) gamma, not below 30 kPa (article on the 2010 edition in Concrete International), which the 33 v K1 here covers. Flow
 * classes: EN 206 (betontechnische-daten.de). Reference conditions 25 kN/m3, end of setting 5 h, 15 degrees C, internal vibrator, tight form: hausjournal.net.
 *
 * K1 is the formula, not the table that stands beside it: for F2 and F3 the two differ by the table's rounding (F2 at 10 h 1.265 against 1.25, F3 1.385 against 1.40).
 *
 * Order: formula, K1, temperature, unit weight, then up to the floor, then down to the fluid pressure of the pour height. The floor is not lowered for
 * light concrete. Below h_E = v tE the concrete has set and presses no more at the end of the pour; yet each level has borne the whole pressure when the
 * surface was no higher than that over it, so the envelope goes on to the foot.
 */

import { finding, type Staged } from '../ground/findings.js';
import { plainNumber, roundTo, unitWeightKnPerM3 } from '../ground/units.js';
import type { PressureCase } from '../ground/vocabulary.js';
import {
  brokenOf,
  conditionsOf,
  envelopeOf,
  fluidCase,
  fromMemory,
  impossible,
  type Limit,
  noPressure,
  notConfirmedInput,
  refusedCase,
} from './cases.js';
import type { Consistency, DinInputs } from './concrete.js';

const EDITION = 'DIN 18218:2010-01';

/** sigma = (perRate v + base) K1 where K1 takes the whole, else base + perRate v K1; K1 = 1 + perSettingH (tE - 5). */
interface FlowClass {
  readonly perRate: number;
  readonly base: number;
  readonly wholeByK1: boolean;
  readonly floorKpa: number;
  readonly perSettingH: number;
}

const stiff = (perRate: number, base: number, perSettingH: number): FlowClass => ({
  perRate,
  base,
  wholeByK1: true,
  floorKpa: 25,
  perSettingH,
});
/** K1 = tE / 5. */
const flowing = (perRate: number): FlowClass => ({
  perRate,
  base: 25,
  wholeByK1: false,
  floorKpa: 30,
  perSettingH: 0.2,
});

export const FLOW_CLASSES: Readonly<Record<Consistency, FlowClass>> = {
  F1: stiff(5, 21, 0.03),
  F2: stiff(10, 19, 0.053),
  F3: stiff(14, 18, 0.077),
  F4: stiff(17, 17, 0.14),
  F5: flowing(30),
  F6: flowing(38),
  SVB: flowing(33),
};

const RATE_MOST = 7;
const HEIGHT_MOST_M = 10;
const SETTING_LEAST_H = 5;
const SETTING_MOST_H = 20;
const REFERENCE_KN_PER_M3 = 25;
const REFERENCE_C = 15;

/** For the end of setting: 1 at 5 h. */
export const settingFactor = (consistency: Consistency, settingTimeH: number): number =>
  1 + FLOW_CLASSES[consistency].perSettingH * (settingTimeH - SETTING_LEAST_H);

/** F1 to F4: 3 per cent more a kelvin below 15, 3 less above, at most 30. Flowing classes: 5 more a kelvin below, never less. The weakest of what is from memory. */
export const temperatureFactor = (consistency: Consistency, temperatureC: number): number => {
  const colder = REFERENCE_C - temperatureC;
  if (!FLOW_CLASSES[consistency].wholeByK1) return 1 + 0.05 * Math.max(0, colder);
  return Math.max(0.7, 1 + 0.03 * colder);
};

/** The formula with K1, at the reference temperature and unit weight, kN/m2. */
export const dinFormula = (consistency: Consistency, rateMPerH: number, settingTimeH: number): number => {
  const { perRate, base, wholeByK1 } = FLOW_CLASSES[consistency];
  const k1 = settingFactor(consistency, settingTimeH);
  return wholeByK1 ? (perRate * rateMPerH + base) * k1 : base + perRate * rateMPerH * k1;
};

const formulaText = (consistency: Consistency): string => {
  const { perRate, base, wholeByK1 } = FLOW_CLASSES[consistency];
  return wholeByK1 ? `(${perRate} v + ${base}) K1` : `${base} + ${perRate} v K1`;
};

const NOT_CONFIRMED: readonly string[] = [
  'formulas of the flow classes',
  'floors of 25 and 30 kN/m2',
  'K1 by end of setting',
  'limits of 7 m/h and 10 m',
  'unit weight by ratio to 25 kN/m3',
  'temperature correction (weakest)',
];

const limitsOf = (c: DinInputs, pourHeightMm: number): Limit[] => [
  {
    text: 'flow class stated (F1 to F6, SVB)',
    met: c.consistency !== null,
    broken: 'concrete.consistency is not given (F1 to F6, SVB)',
  },
  {
    text: `end of setting tE stated, ${SETTING_LEAST_H} to ${SETTING_MOST_H} h`,
    met: c.settingTimeH !== null && c.settingTimeH >= SETTING_LEAST_H && c.settingTimeH <= SETTING_MOST_H,
    broken:
      c.settingTimeH === null
        ? 'concrete.settingTimeH is not given'
        : `the end of setting of ${plainNumber(c.settingTimeH, 2)} h is outside ${SETTING_LEAST_H} to ${SETTING_MOST_H} h`,
  },
  {
    text: `rate of rise not over ${RATE_MOST} m/h`,
    met: c.rateMPerH <= RATE_MOST,
    broken: `the rate of rise of ${plainNumber(c.rateMPerH, 3)} m/h is over ${RATE_MOST} m/h`,
  },
  {
    text: `pour not higher than ${HEIGHT_MOST_M} m`,
    met: pourHeightMm <= HEIGHT_MOST_M * 1000,
    broken: `the pour of ${plainNumber(pourHeightMm / 1000, 3)} m is higher than ${HEIGHT_MOST_M} m`,
  },
  {
    text: 'compacted by internal vibrator, or self-compacting',
    met: c.externalVibration ? false : null,
    broken: 'the concrete is vibrated from outside',
  },
  {
    text: 'filled from above',
    met: c.pumpedFromBase ? c.consistency === 'SVB' : null,
    broken: 'the concrete is pumped in from the base',
  },
  { text: 'form tight', met: null, broken: '' },
];

/** Pressure of one pour by DIN 18218; outside its limits full fluid pressure and a failure. */
export const dinCase = (c: DinInputs, pourHeightMm: number): Staged<PressureCase> => {
  const why = impossible({
    'the pour height': pourHeightMm,
    'the rate of rise': c.rateMPerH,
    'the density': c.densityKgPerM3,
    'the temperature above -50 degrees C': c.temperatureC + 50,
    ...(c.settingTimeH === null ? {} : { 'the end of setting': c.settingTimeH }),
  });
  if (why) return noPressure(c.method, why);
  const limits = limitsOf(c, pourHeightMm);
  const conditions = conditionsOf(limits);
  const { consistency, settingTimeH } = c;
  const stated = {
    rateMPerH: c.rateMPerH,
    temperatureC: c.temperatureC,
    consistency: consistency ?? 'not given',
    ...(settingTimeH === null ? {} : { settingTimeH }),
  };
  const broken = brokenOf(limits);
  if (broken.length > 0 || consistency === null || settingTimeH === null)
    return refusedCase(c, pourHeightMm, EDITION, broken, { conditions, notConfirmed: [], inputs: stated });
  if (c.pumpedFromBase) {
    const message = 'Full fluid pressure counts, since self-compacting concrete is filled from below.';
    return fluidCase(c, pourHeightMm, {
      edition: EDITION,
      chosen: 'fluid',
      why: 'self-compacting concrete is filled from below',
      conditions,
      notConfirmed: [],
      inputs: stated,
      findings: [finding('check.fluid-pressure', message)],
    });
  }
  const { floorKpa } = FLOW_CLASSES[consistency];
  const unitWeight = unitWeightKnPerM3(c.densityKgPerM3);
  const k1 = settingFactor(consistency, settingTimeH);
  const byTemperature = temperatureFactor(consistency, c.temperatureC);
  const byWeight = unitWeight / REFERENCE_KN_PER_M3;
  const formulaKpa = dinFormula(consistency, c.rateMPerH, settingTimeH);
  const rawKpa = formulaKpa * byTemperature * byWeight;
  const fluidKpa = (unitWeight * pourHeightMm) / 1000;
  const designKpa = Math.min(Math.max(rawKpa, floorKpa), fluidKpa);
  const bandMm = c.rateMPerH * settingTimeH * 1000;
  const formula = formulaText(consistency);
  const figure = (x: number) => plainNumber(x, 3);
  return {
    value: {
      method: c.method,
      designKpa,
      rateMPerH: c.rateMPerH,
      temperatureC: c.temperatureC,
      pourHeightMm,
      inputs: {
        ...stated,
        densityKgPerM3: c.densityKgPerM3,
        pourHeightMm,
        edition: EDITION,
        case: consistency,
        formula,
        K1: roundTo(k1, 6),
        temperatureFactor: roundTo(byTemperature, 6),
        densityFactor: roundTo(byWeight, 6),
        rawKpa: roundTo(rawKpa, 6),
        floorKpa,
        fluidKpa: roundTo(fluidKpa, 6),
        settingDepthMm: roundTo(bandMm, 3),
        ...notConfirmedInput(NOT_CONFIRMED),
      },
      envelope: envelopeOf(designKpa, unitWeight),
      facts: {
        edition: EDITION,
        chosen: consistency,
        why: `flow class ${consistency} is stated`,
        notChosen: [],
        conditions,
        formula,
        worked: [
          `K1 = ${figure(k1)} at an end of setting of ${figure(settingTimeH)} h`,
          `${formula} with v = ${figure(c.rateMPerH)} m/h: ${figure(formulaKpa)} kPa`,
          `x ${figure(byTemperature)} for ${figure(c.temperatureC)} °C x ${figure(byWeight)} for ${figure(unitWeight)} kN/m3: ${figure(rawKpa)} kPa`,
          `not below the floor of ${floorKpa} kPa, not above ${figure(unitWeight)} x ${figure(pourHeightMm / 1000)} m = ${figure(fluidKpa)} kPa: ${figure(designKpa)} kPa`,
          `concrete has set ${figure(bandMm / 1000)} m below the surface; the envelope goes on to the foot, since each level has borne the whole pressure before`,
        ],
        notConfirmed: NOT_CONFIRMED,
      },
    },
    findings: [fromMemory(EDITION, NOT_CONFIRMED)],
  };
};
