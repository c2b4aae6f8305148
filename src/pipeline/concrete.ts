/** What the job file says of the concrete, in the terms of its pressure method; what it leaves open is assumed, and said. */

import type { ConcreteInputs } from '../check/index.js';
import { type Finding, type FindingCode, finding, type Staged } from '../ground/findings.js';
import { MM_PER, plainNumber, roundTo, unitWeightKnPerM3 } from '../ground/units.js';
import type { Job } from './schema.js';

/**
 * Assumed where the job file says nothing. Rate: a brisk hand-fed pour. Temperature: on the cold side, where concrete presses more. Density: that
 * of plain reinforced concrete, or the reference of the method. Chemistry: no retarder; C2 of CIRIA 108: the largest. *Practice, no source.*
 */
const ASSUMED = {
  method: 'aci-347-si',
  rateMPerH: 1.5,
  temperatureC: 10,
  densityKgPerM3: 2400,
  cc: 1,
  c2: 0.6,
} as const;

/** Pounds per cubic foot in kg/m3: 0.45359237 kg on 0.3048^3 m3 (both exact by definition). */
const KG_PER_M3_PER_PCF = 0.45359237 / 0.3048 ** 3;
const M_PER_FT = MM_PER.ft / 1000;

/** A value in either of two units; null where neither is given. */
const either = (si: number | undefined, us: number | undefined, toSi: (value: number) => number): number | null =>
  si ?? (us === undefined ? null : toSi(us));

/** Collects an assumption as it is made. */
class Assumptions {
  readonly findings: Finding[] = [];

  take(given: number | null, assumed: number, code: FindingCode, what: string, unit: string): number {
    if (given !== null) return given;
    this.say(code, `${what} is not given.`, `${plainNumber(assumed)}${unit}`, what);
    return assumed;
  }

  say(code: FindingCode, message: string, assumed: string, subject: string): void {
    this.findings.push(finding(code, message, { assumed, subject }));
  }
}

const placingOf = (c: NonNullable<Job['concrete']>) => ({
  slumpMm: c.slumpMm ?? null,
  ...(c.vibrationDepthMm === undefined ? {} : { vibrationDepthMm: c.vibrationDepthMm }),
  ...(c.externalVibration === undefined ? {} : { externalVibration: c.externalVibration }),
  ...(c.selfCompacting === undefined ? {} : { selfCompacting: c.selfCompacting }),
  ...(c.expansiveCement === undefined ? {} : { expansiveCement: c.expansiveCement }),
  ...(c.pumpedFromBase === undefined ? {} : { pumpedFromBase: c.pumpedFromBase }),
});

type Concrete = NonNullable<Job['concrete']>;
type Method = NonNullable<Concrete['method']>;

const OF_EVERY_METHOD = ['method', 'densityKgPerM3', 'densityPcf', 'pourHeightMm', 'supplyM3PerH', 'supplyYd3PerH'];
const RATES = ['rateMPerH', 'rateFtPerH', 'temperatureC', 'temperatureF'];
const ACI_KEYS = [
  ...RATES,
  'chemistryCoefficient',
  'slumpMm',
  'vibrationDepthMm',
  'externalVibration',
  'selfCompacting',
  'expansiveCement',
  'pumpedFromBase',
];

/** What each method asks for. Rate and temperature are recorded by all of them. */
const USED: Readonly<Record<Method, readonly string[]>> = {
  'aci-347-si': ACI_KEYS,
  'aci-347-us': ACI_KEYS,
  'din-18218': [...RATES, 'consistency', 'settingTimeH', 'externalVibration', 'selfCompacting', 'pumpedFromBase'],
  'ciria-108': [...RATES, 'c2', 'formHeightMm', 'externalVibration', 'selfCompacting', 'underwater', 'pumpedFromBase'],
  hydrostatic: RATES,
};

/** Keys of the job file that its method has no use for. */
const notUsed = (c: Concrete, method: Method): Finding[] =>
  Object.keys(c)
    .filter((key) => c[key as keyof Concrete] !== undefined)
    .filter((key) => !OF_EVERY_METHOD.includes(key) && !USED[method].includes(key))
    .map((key) => {
      const subject = `concrete.${key}`;
      const more =
        key === 'pumpedFromBase' ? ' Pumping in from the base presses with a quarter more than a fluid at least.' : '';
      return finding('pipeline.concrete-not-used', `${subject} is not used by ${method}.${more}`, { subject });
    });

const US_KEYS = ['rateFtPerH', 'temperatureF', 'densityPcf', 'supplyYd3PerH'] as const;

/** What the job file gives in the units of its method. */
const methodOf = (c: Concrete): Method =>
  c.method ?? (US_KEYS.some((k) => c[k] !== undefined) ? 'aci-347-us' : ASSUMED.method);

/** Unit weight of reinforced concrete in DIN 18218 and in the tables of CIRIA 108: 25 kN/m3. */
const REFERENCE_DENSITY = roundTo(25 / unitWeightKnPerM3(1), 3);

const placedHow = (c: Concrete) => ({
  ...(c.externalVibration === undefined ? {} : { externalVibration: c.externalVibration }),
  ...(c.pumpedFromBase === undefined ? {} : { pumpedFromBase: c.pumpedFromBase }),
});

/** The inputs of the pressure method. The formulas of the two editions of ACI 347 are never converted into each other. */
export const concreteInputs = (job: Job): Staged<ConcreteInputs> => {
  const c = job.concrete ?? {};
  const made = new Assumptions();
  const method = methodOf(c);
  if (c.method === undefined) {
    made.say('pipeline.method-defaulted', 'No method for the concrete pressure is named.', method, 'concrete.method');
  }
  made.findings.push(...notUsed(c, method));
  const density = made.take(
    either(c.densityKgPerM3, c.densityPcf, (pcf) => pcf * KG_PER_M3_PER_PCF),
    method === 'din-18218' || method === 'ciria-108' ? REFERENCE_DENSITY : ASSUMED.densityKgPerM3,
    'pipeline.concrete-defaulted',
    'concrete.densityKgPerM3',
    ' kg/m3',
  );
  const givenRate = either(c.rateMPerH, c.rateFtPerH, (ft) => ft * M_PER_FT);
  const givenTemperature = either(c.temperatureC, c.temperatureF, (f) => ((f - 32) * 5) / 9);
  if (method === 'hydrostatic') {
    // The method knows neither rate nor temperature: they are recorded, and an assumption about them matters to nothing.
    const rateMPerH = givenRate ?? ASSUMED.rateMPerH;
    const temperatureC = givenTemperature ?? ASSUMED.temperatureC;
    return { value: { method, densityKgPerM3: density, rateMPerH, temperatureC }, findings: made.findings };
  }
  const rate = made.take(givenRate, ASSUMED.rateMPerH, 'pipeline.rate-defaulted', 'concrete.rateMPerH', ' m/h');
  const temperature = made.take(
    givenTemperature,
    ASSUMED.temperatureC,
    'pipeline.temperature-defaulted',
    'concrete.temperatureC',
    ' degrees C',
  );
  const si = { rateMPerH: rate, temperatureC: temperature, densityKgPerM3: density };
  if (method === 'din-18218') {
    const consistency = c.consistency ?? (c.selfCompacting ? 'SVB' : null);
    const value = { method, ...si, consistency, settingTimeH: c.settingTimeH ?? null, ...placedHow(c) } as const;
    return { value, findings: made.findings };
  }
  if (method === 'ciria-108') {
    const c2 = made.take(c.c2 ?? null, ASSUMED.c2, 'pipeline.concrete-defaulted', 'concrete.c2', ', the largest');
    const { selfCompacting, underwater } = c;
    const value = {
      method,
      ...si,
      c2,
      ...placedHow(c),
      ...(selfCompacting === undefined ? {} : { selfCompacting }),
      ...(underwater === undefined ? {} : { underwater }),
    } as const;
    return { value, findings: made.findings };
  }
  const chemistryCoefficient = made.take(
    c.chemistryCoefficient ?? null,
    ASSUMED.cc,
    'pipeline.concrete-defaulted',
    'concrete.chemistryCoefficient',
    ', no retarder',
  );
  const value: ConcreteInputs =
    method === 'aci-347-si'
      ? { method, ...si, chemistryCoefficient, ...placingOf(c) }
      : {
          method,
          rateFtPerH: c.rateFtPerH ?? roundTo(rate / M_PER_FT, 9),
          temperatureF: c.temperatureF ?? roundTo((temperature * 9) / 5 + 32, 9),
          densityPcf: c.densityPcf ?? roundTo(density / KG_PER_M3_PER_PCF, 9),
          chemistryCoefficient,
          ...placingOf(c),
        };
  return { value, findings: made.findings };
};
