/** What the job file says of the concrete, in the terms of its pressure method; what it leaves open is assumed, and said. */

import type { ConcreteInputs } from '../check/index.js';
import { type Finding, type FindingCode, finding, type Staged } from '../ground/findings.js';
import { MM_PER, plainNumber, roundTo } from '../ground/units.js';
import type { Job } from './schema.js';

/**
 * Assumed where the job file says nothing. Rate: a brisk hand-fed pour. Temperature: on the cold side, where concrete presses more. Density: that
 * of plain reinforced concrete. Chemistry: no retarder. *Practice, no source.*
 */
const ASSUMED = { method: 'aci-347-si', rateMPerH: 1.5, temperatureC: 10, densityKgPerM3: 2400, cc: 1 } as const;

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

/**
 * The inputs of the pressure method. A rate, temperature or density in the other system's unit is converted as a quantity; the formulas of the two
 * editions of ACI 347 are never converted into each other.
 */
export const concreteInputs = (job: Job): Staged<ConcreteInputs> => {
  const c = job.concrete ?? {};
  const made = new Assumptions();
  const method = c.method ?? ASSUMED.method;
  if (c.method === undefined) {
    made.say('pipeline.method-defaulted', 'No method for the concrete pressure is named.', method, 'concrete.method');
  }
  const density = made.take(
    either(c.densityKgPerM3, c.densityPcf, (pcf) => pcf * KG_PER_M3_PER_PCF),
    ASSUMED.densityKgPerM3,
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
  if (method === 'din-18218' || method === 'ciria-108') {
    const value = { method, densityKgPerM3: density, rateMPerH: rate, temperatureC: temperature } as const;
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
      ? {
          method,
          rateMPerH: rate,
          temperatureC: temperature,
          densityKgPerM3: density,
          chemistryCoefficient,
          ...placingOf(c),
        }
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
