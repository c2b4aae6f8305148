/**
 * CIRIA Report 108 (Clear and Harrison 1985): P = D [C1 sqrt(R) + C2 K sqrt(H - C1 sqrt(R))], or D h where that is less; D h too where C1 sqrt(R) > H.
 * D in kN/m3, R in m/h, H the height of the form and h that of the pour, m; K = (36 / (T + 16))^2, T in degrees C.
 *
 * Sources. Formula, K, C1 and C2: a worksheet in the forum of engineersedge.com, a sheet at idoc.tips/download/279791453, and
 * gist.github.com/jsb2505/317f82dee2b5eafd1cac3ebc5eddba72; all of second hand. From memory: which cements and admixtures have which C2, and the ranges of
 * temperature and rate. The report's own tables round to 5 kN/m2; nothing is rounded here.
 */

import type { Staged } from '../ground/findings.js';
import { plainNumber, roundTo, unitWeightKnPerM3 } from '../ground/units.js';
import type { PressureCase } from '../ground/vocabulary.js';
import {
  brokenOf,
  conditionsOf,
  envelopeOf,
  fromMemory,
  impossible,
  type Limit,
  noPressure,
  notConfirmedInput,
  refusedCase,
} from './cases.js';
import type { CiriaInputs, PourShape } from './concrete.js';

const EDITION = 'CIRIA Report 108 (1985)';

const TEMPERATURE_LEAST = 5;
const TEMPERATURE_MOST = 30;
/** Tabulated from here; a slower rise is taken as this. */
const RATE_LEAST = 0.5;
const RATE_MOST = 10;

export const ciriaTemperatureFactor = (temperatureC: number): number => (36 / (temperatureC + 16)) ** 2;

/** C1: walls, and columns no wider than 2 m either way. */
export const shapeCoefficient = (isColumn: boolean): number => (isColumn ? 1.5 : 1);

export interface CiriaQuestion {
  readonly c1: number;
  readonly c2: number;
  readonly rateMPerH: number;
  readonly temperatureC: number;
  readonly unitWeightKnPerM3: number;
  /** H, the height of the form. */
  readonly formM: number;
}

/** The formula alone, kN/m2; null where the rise is so fast that it is fluid pressure over the whole form. */
export const ciriaFormula = (q: CiriaQuestion): number | null => {
  const rise = q.c1 * Math.sqrt(q.rateMPerH);
  if (rise > q.formM) return null;
  return (
    q.unitWeightKnPerM3 *
    (rise + q.c2 * ciriaTemperatureFactor(q.temperatureC) * Math.sqrt(Math.max(0, q.formM - rise)))
  );
};

const NOT_CONFIRMED: readonly string[] = [
  'which cements and admixtures have which C2',
  'range of 5 to 30 degrees C',
  'range of 0.5 to 10 m/h',
  'formula, K and C1 seen at second hand only',
];

const limitsOf = (c: CiriaInputs): Limit[] => [
  {
    text: `concrete temperature ${TEMPERATURE_LEAST} to ${TEMPERATURE_MOST} °C`,
    met: c.temperatureC >= TEMPERATURE_LEAST && c.temperatureC <= TEMPERATURE_MOST,
    broken: `the concrete temperature of ${plainNumber(c.temperatureC, 1)} degrees C is outside ${TEMPERATURE_LEAST} to ${TEMPERATURE_MOST}`,
  },
  {
    text: `rate of rise not over ${RATE_MOST} m/h`,
    met: c.rateMPerH <= RATE_MOST,
    broken: `the rate of rise of ${plainNumber(c.rateMPerH, 3)} m/h is over ${RATE_MOST} m/h`,
  },
  {
    text: 'not self-compacting',
    met: c.selfCompacting ? false : null,
    broken: 'the concrete is self-compacting',
  },
  {
    text: 'not placed under water',
    met: c.underwater ? false : null,
    broken: 'the concrete is placed under water',
  },
  {
    text: 'compacted by internal vibrator',
    met: c.externalVibration ? false : null,
    broken: 'the concrete is vibrated from outside',
  },
  {
    text: 'filled from above',
    met: c.pumpedFromBase ? false : null,
    broken: 'the concrete is pumped in from the base',
  },
];

/** Pressure of one pour by CIRIA 108; outside its limits full fluid pressure and a failure. */
export const ciriaCase = (c: CiriaInputs, pourHeightMm: number, shape: PourShape): Staged<PressureCase> => {
  const formHeightMm = Math.max(pourHeightMm, shape.formHeightMm ?? 0);
  const why = impossible({
    'the pour height': pourHeightMm,
    'the height of the form': formHeightMm,
    'the rate of rise': c.rateMPerH,
    'the density': c.densityKgPerM3,
    C2: c.c2,
    'the temperature above -16 degrees C': c.temperatureC + 16,
  });
  if (why) return noPressure(c.method, why);
  const limits = limitsOf(c);
  const conditions = conditionsOf(limits);
  const c1 = shapeCoefficient(shape.isColumn === true);
  const stated = { rateMPerH: c.rateMPerH, temperatureC: c.temperatureC, C2: c.c2, C1: c1, formHeightMm };
  const broken = brokenOf(limits);
  const ofShape = { formHeightMm, isColumn: shape.isColumn === true };
  if (broken.length > 0) {
    const refused = refusedCase(c, pourHeightMm, EDITION, broken, { conditions, notConfirmed: [], inputs: stated });
    return { ...refused, value: { ...refused.value, ...ofShape } };
  }
  const unitWeight = unitWeightKnPerM3(c.densityKgPerM3);
  const rate = Math.max(c.rateMPerH, RATE_LEAST);
  const [formM, pourM] = [formHeightMm / 1000, pourHeightMm / 1000];
  const rawKpa = ciriaFormula({
    c1,
    c2: c.c2,
    rateMPerH: rate,
    temperatureC: c.temperatureC,
    unitWeightKnPerM3: unitWeight,
    formM,
  });
  const fluidKpa = unitWeight * pourM;
  const designKpa = Math.min(rawKpa ?? fluidKpa, fluidKpa);
  const isFluid = rawKpa === null || rawKpa >= fluidKpa;
  const K = ciriaTemperatureFactor(c.temperatureC);
  const figure = (x: number) => plainNumber(x, 3);
  const formula = 'D [C1 sqrt(R) + C2 K sqrt(H - C1 sqrt(R))]';
  const worked = [
    `K = (36 / (${figure(c.temperatureC)} + 16))^2 = ${figure(K)}`,
    ...(rate > c.rateMPerH ? [`R = ${RATE_LEAST} m/h, the slowest that the report has`] : []),
    rawKpa === null
      ? `C1 sqrt(R) = ${figure(c1 * Math.sqrt(rate))} is more than H = ${figure(formM)}: D h`
      : `${figure(unitWeight)} [${figure(c1)} sqrt(${figure(rate)}) + ${figure(c.c2)} x ${figure(K)} sqrt(${figure(formM)} - ${figure(c1)} sqrt(${figure(rate)}))] = ${figure(rawKpa)} kPa`,
    `not above D h = ${figure(unitWeight)} x ${figure(pourM)} m = ${figure(fluidKpa)} kPa: ${figure(designKpa)} kPa`,
  ];
  return {
    value: {
      method: c.method,
      designKpa,
      rateMPerH: c.rateMPerH,
      temperatureC: c.temperatureC,
      pourHeightMm,
      ...ofShape,
      inputs: {
        ...stated,
        densityKgPerM3: c.densityKgPerM3,
        pourHeightMm,
        edition: EDITION,
        case: isFluid ? 'D h' : 'formula',
        formula,
        K: roundTo(K, 6),
        ...(rawKpa === null ? {} : { rawKpa: roundTo(rawKpa, 6) }),
        fluidKpa: roundTo(fluidKpa, 6),
        ...notConfirmedInput(NOT_CONFIRMED),
      },
      envelope: envelopeOf(designKpa, unitWeight),
      facts: {
        edition: EDITION,
        chosen: `C1 = ${figure(c1)}, ${isFluid ? 'D h' : 'formula'}`,
        why: `${shape.isColumn ? 'a column: neither side is longer than 2 m' : 'a wall: a side is longer than 2 m'}; ${isFluid ? 'fluid pressure is not more than the formula' : 'the formula is less than fluid pressure'}`,
        notChosen: [
          isFluid
            ? { name: 'formula', why: 'not less than D h' }
            : { name: 'D h', why: `more than the formula: ${figure(fluidKpa)} kPa` },
        ],
        conditions,
        formula,
        worked,
        notConfirmed: NOT_CONFIRMED,
      },
    },
    findings: [fromMemory(EDITION, NOT_CONFIRMED)],
  };
};
