/** Pressure of fresh concrete on a wall: from the concrete and its placing to the design pressure and its envelope. */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { MM_PER, plainNumber, roundTo, unitWeightKnPerM3 } from '../ground/units.js';
import type { Envelope, PressureCase } from '../ground/vocabulary.js';
import { ACI_SI, ACI_US, type AciEdition, type AciResult, aciPressure } from './aci.js';
import type { AciSiInputs, AciUsInputs, ConcreteInputs } from './concrete.js';

/** One pound-force per square foot in kPa: 4.4482216152605 N on 0.3048^2 m2 (both exact by definition). */
export const KPA_PER_PSF = 4.4482216152605 / (0.3048 * 0.3048) / 1000;

/** Steepest envelope that a fluid can have: from 0 at the surface, constant below the depth at which the design pressure is reached. */
const envelopeOf = (designKpa: number, slopeKpaPerM: number): Envelope =>
  designKpa > 0 && slopeKpaPerM > 0
    ? { points: [{ depthMm: (designKpa / slopeKpaPerM) * 1000, kpa: designKpa }] }
    : { points: [] };

/** Why no formula can be used, or null. */
const impossible = (values: Readonly<Record<string, number>>): string | null => {
  for (const [name, value] of Object.entries(values)) {
    if (!Number.isFinite(value)) return `${name} is no number`;
    if (!(value > 0)) return `${name} is ${plainNumber(value)}, which must be more than 0`;
  }
  return null;
};

const noPressure = (method: string, why: string): Staged<PressureCase> => ({
  value: {
    method,
    designKpa: 0,
    rateMPerH: 0,
    temperatureC: 0,
    pourHeightMm: 0,
    inputs: { refused: why },
    envelope: { points: [] },
  },
  findings: [finding('check.concrete-invalid', `No pressure can be formed: ${why}.`)],
});

/** What went into an ACI result, as it is printed; `unit` is the edition's unit of pressure. */
const aciInputs = (edition: AciEdition, r: AciResult, unit: 'Kpa' | 'Psf'): Record<string, number | string> => ({
  edition: edition.name,
  case: r.which,
  formula: r.which === 'fluid' ? 'unit weight x depth' : edition.formulas[r.which],
  Cw: roundTo(r.cw, 6),
  ...(r.raw === null ? {} : { [`raw${unit}`]: roundTo(r.raw, 6) }),
  ...(r.floor === null ? {} : { [`floor${unit}`]: roundTo(r.floor, 6) }),
  [`fluid${unit}`]: roundTo(r.fluid, 6),
  fromMemory: edition === ACI_SI ? 'constants, floor, Cw' : 'floor, Cw',
});

/** What of the placing was given, as it is printed. */
const placingInputs = (c: AciSiInputs | AciUsInputs): Record<string, number | string> => {
  const yes = (['externalVibration', 'selfCompacting', 'expansiveCement', 'pumpedFromBase'] as const).filter(
    (k) => c[k],
  );
  return {
    Cc: c.chemistryCoefficient,
    slumpMm: c.slumpMm ?? 'not given',
    ...(c.vibrationDepthMm === undefined ? {} : { vibrationDepthMm: c.vibrationDepthMm }),
    ...(yes.length === 0 ? {} : { placing: yes.join(', ') }),
  };
};

const aciSi = (c: AciSiInputs, pourHeightMm: number): Staged<PressureCase> => {
  const why = impossible({
    'the pour height': pourHeightMm,
    'the rate of rise': c.rateMPerH,
    'the density': c.densityKgPerM3,
    'the chemistry coefficient': c.chemistryCoefficient,
    'the temperature above -17.8 degrees C': c.temperatureC + ACI_SI.temperatureOffset,
  });
  if (why) return noPressure(c.method, why);
  const result = aciPressure({
    edition: ACI_SI,
    rate: c.rateMPerH,
    temperature: c.temperatureC,
    density: c.densityKgPerM3,
    cc: c.chemistryCoefficient,
    height: pourHeightMm / 1000,
    unitWeight: unitWeightKnPerM3(c.densityKgPerM3),
    placing: c,
  });
  return {
    value: {
      method: c.method,
      designKpa: result.design,
      rateMPerH: c.rateMPerH,
      temperatureC: c.temperatureC,
      pourHeightMm,
      inputs: {
        rateMPerH: c.rateMPerH,
        temperatureC: c.temperatureC,
        densityKgPerM3: c.densityKgPerM3,
        pourHeightMm,
        ...placingInputs(c),
        ...aciInputs(ACI_SI, result, 'Kpa'),
      },
      envelope: envelopeOf(result.design, result.slope),
    },
    findings: result.findings,
  };
};

const aciUs = (c: AciUsInputs, pourHeightMm: number): Staged<PressureCase> => {
  const why = impossible({
    'the pour height': pourHeightMm,
    'the rate of rise': c.rateFtPerH,
    'the density': c.densityPcf,
    'the chemistry coefficient': c.chemistryCoefficient,
    'the temperature in degrees F': c.temperatureF,
  });
  if (why) return noPressure(c.method, why);
  const heightFt = pourHeightMm / MM_PER.ft;
  const result = aciPressure({
    edition: ACI_US,
    rate: c.rateFtPerH,
    temperature: c.temperatureF,
    density: c.densityPcf,
    cc: c.chemistryCoefficient,
    height: heightFt,
    // A pound-mass weighs a pound-force, so pcf is psf per foot.
    unitWeight: c.densityPcf,
    placing: c,
  });
  const designKpa = result.design * KPA_PER_PSF;
  const slopeKpaPerM = (result.slope * KPA_PER_PSF) / (MM_PER.ft / 1000);
  return {
    value: {
      method: c.method,
      designKpa,
      rateMPerH: roundTo((c.rateFtPerH * MM_PER.ft) / 1000, 6),
      temperatureC: roundTo(((c.temperatureF - 32) * 5) / 9, 6),
      pourHeightMm,
      inputs: {
        rateFtPerH: c.rateFtPerH,
        temperatureF: c.temperatureF,
        densityPcf: c.densityPcf,
        pourHeightFt: roundTo(heightFt, 6),
        designPsf: roundTo(result.design, 6),
        ...placingInputs(c),
        ...aciInputs(ACI_US, result, 'Psf'),
      },
      envelope: envelopeOf(designKpa, slopeKpaPerM),
    },
    findings: result.findings,
  };
};

/** Full fluid pressure: unit weight times depth. */
const fluid = (
  c: { method: string; densityKgPerM3: number; rateMPerH: number; temperatureC: number },
  pourHeightMm: number,
  findings: readonly Finding[],
): Staged<PressureCase> => {
  const why = impossible({ 'the pour height': pourHeightMm, 'the density': c.densityKgPerM3 });
  if (why) return noPressure(c.method, why);
  const slope = unitWeightKnPerM3(c.densityKgPerM3);
  const designKpa = (slope * pourHeightMm) / 1000;
  return {
    value: {
      method: c.method,
      designKpa,
      rateMPerH: c.rateMPerH,
      temperatureC: c.temperatureC,
      pourHeightMm,
      inputs: { densityKgPerM3: c.densityKgPerM3, pourHeightMm, case: 'fluid', formula: 'unit weight x depth' },
      envelope: envelopeOf(designKpa, slope),
    },
    findings,
  };
};

/**
 * Design pressure and envelope of one pour. `pourHeightMm` is the height of fresh concrete poured at once: it chooses the formula's case and
 * caps the pressure at that of a fluid.
 *
 * Methods: `aci-347-si` and `aci-347-us` (aci.ts has formulas and sources), `hydrostatic` (unit weight times depth). Other methods of the job
 * file give full fluid pressure, the upper bound of them all, and a failure. Impossible values give no pressure and a failure.
 */
export const pressureCase = (concrete: ConcreteInputs, pourHeightMm: number): Staged<PressureCase> => {
  switch (concrete.method) {
    case 'aci-347-si':
      return aciSi(concrete, pourHeightMm);
    case 'aci-347-us':
      return aciUs(concrete, pourHeightMm);
    case 'hydrostatic':
      return fluid(concrete, pourHeightMm, []);
    default: {
      const message = `The method ${concrete.method} is not built in yet.`;
      return fluid(concrete, pourHeightMm, [
        finding('check.method-not-yet', message, { assumed: 'full fluid pressure' }),
      ]);
    }
  }
};
