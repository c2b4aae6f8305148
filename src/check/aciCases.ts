/** Pressure cases by the two editions of ACI 347: what goes in, what comes out, and how, in each edition's own units. */

import type { Staged } from '../ground/findings.js';
import { KPA_PER_PSF, MM_PER, plainNumber, roundTo, unitWeightKnPerM3 } from '../ground/units.js';
import type { PressureCase, PressureFacts } from '../ground/vocabulary.js';
import {
  ACI_SI,
  ACI_US,
  type AciEdition,
  type AciInput,
  type AciResult,
  aciLimits,
  aciNotConfirmed,
  aciPressure,
} from './aci.js';
import { brokenOf, conditionsOf, envelopeOf, impossible, noPressure, notConfirmedInput } from './cases.js';
import type { AciSiInputs, AciUsInputs } from './concrete.js';

/** Unit names of an edition, as they are printed. */
const UNITS = {
  si: { rate: 'm/h', height: 'm', pressure: 'kPa', weight: 'kN/m3', temperature: '°C' },
  us: { rate: 'ft/h', height: 'ft', pressure: 'lb/ft2', weight: 'lb/ft3', temperature: '°F' },
} as const;

const figure = (x: number): string => plainNumber(x, 3);

/** Why a result is of its case. */
const whyCase = (q: AciInput, r: AciResult, units: (typeof UNITS)['si' | 'us']): string => {
  const { rateBreak, rateMost, heightBreak } = q.edition;
  const broken = brokenOf(aciLimits(q.placing));
  if (broken.length > 0) return broken.join(' and ');
  if (r.which === 'fluid') return `the rate is over ${rateMost} ${units.rate}`;
  if (r.which === 'W1')
    return `the rate is below ${rateBreak} ${units.rate} and the pour not higher than ${heightBreak} ${units.height}`;
  return q.rate < rateBreak
    ? `the rate is below ${rateBreak} ${units.rate} and the pour higher than ${heightBreak} ${units.height}`
    : `the rate is from ${rateBreak} to ${rateMost} ${units.rate}`;
};

const factsOf = (q: AciInput, r: AciResult, units: (typeof UNITS)['si' | 'us']): PressureFacts => {
  const { edition, rate, temperature, cc, height, unitWeight } = q;
  const { rateBreak, rateMost, heightBreak, formulas } = edition;
  const others = {
    W1: `only below ${rateBreak} ${units.rate} and up to ${heightBreak} ${units.height}`,
    W2: `only up to ${rateMost} ${units.rate}, with the conditions met, where W1 does not hold`,
    fluid: `only above ${rateMost} ${units.rate}, or with a condition not met; it is the upper bound all the same`,
  };
  const p = units.pressure;
  const fluidText = `${figure(unitWeight)} ${units.weight} x ${figure(height)} ${units.height}`;
  const worked =
    r.which === 'fluid'
      ? [`${fluidText}${r.slope > unitWeight ? ` x ${figure(r.slope / unitWeight)}` : ''} = ${figure(r.fluid)} ${p}`]
      : [
          `${formulas[r.which]} with Cw = ${figure(r.cw)}, Cc = ${figure(cc)}, R = ${figure(rate)} ${units.rate}, T = ${figure(temperature)} ${units.temperature}: ${figure(r.raw ?? 0)} ${p}`,
          `not below the floor ${edition.floor} Cw = ${figure(r.floor ?? 0)} ${p}`,
          `not above ${fluidText} = ${figure(r.fluid)} ${p}: ${figure(r.design)} ${p}`,
        ];
  return {
    edition: edition.name,
    chosen: r.which,
    why: whyCase(q, r, units),
    notChosen: (['W1', 'W2', 'fluid'] as const).flatMap((name) =>
      name === r.which ? [] : [{ name, why: others[name] }],
    ),
    conditions: conditionsOf(aciLimits(q.placing)),
    formula: r.which === 'fluid' ? 'unit weight x depth' : formulas[r.which],
    worked,
    notConfirmed: r.which === 'fluid' ? [] : aciNotConfirmed(edition),
  };
};

/** What went into an ACI result, as it is printed; `unit` is the edition's unit of pressure. */
const aciInputs = (edition: AciEdition, r: AciResult, unit: 'Kpa' | 'Psf'): Record<string, number | string> => ({
  edition: edition.name,
  case: r.which,
  formula: r.which === 'fluid' ? 'unit weight x depth' : edition.formulas[r.which],
  Cw: roundTo(r.cw, 6),
  ...(r.raw === null ? {} : { [`raw${unit}`]: roundTo(r.raw, 6) }),
  ...(r.floor === null ? {} : { [`floor${unit}`]: roundTo(r.floor, 6) }),
  [`fluid${unit}`]: roundTo(r.fluid, 6),
  ...notConfirmedInput(r.which === 'fluid' ? [] : aciNotConfirmed(edition)),
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

export const aciSi = (c: AciSiInputs, pourHeightMm: number): Staged<PressureCase> => {
  const why = impossible({
    'the pour height': pourHeightMm,
    'the rate of rise': c.rateMPerH,
    'the density': c.densityKgPerM3,
    'the chemistry coefficient': c.chemistryCoefficient,
    'the temperature above -17.8 degrees C': c.temperatureC + ACI_SI.temperatureOffset,
  });
  if (why) return noPressure(c.method, why);
  const question: AciInput = {
    edition: ACI_SI,
    rate: c.rateMPerH,
    temperature: c.temperatureC,
    density: c.densityKgPerM3,
    cc: c.chemistryCoefficient,
    height: pourHeightMm / 1000,
    unitWeight: unitWeightKnPerM3(c.densityKgPerM3),
    placing: c,
  };
  const result = aciPressure(question);
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
      facts: factsOf(question, result, UNITS.si),
    },
    findings: result.findings,
  };
};

export const aciUs = (c: AciUsInputs, pourHeightMm: number): Staged<PressureCase> => {
  const why = impossible({
    'the pour height': pourHeightMm,
    'the rate of rise': c.rateFtPerH,
    'the density': c.densityPcf,
    'the chemistry coefficient': c.chemistryCoefficient,
    'the temperature in degrees F': c.temperatureF,
  });
  if (why) return noPressure(c.method, why);
  const heightFt = pourHeightMm / MM_PER.ft;
  const question: AciInput = {
    edition: ACI_US,
    rate: c.rateFtPerH,
    temperature: c.temperatureF,
    density: c.densityPcf,
    cc: c.chemistryCoefficient,
    height: heightFt,
    // A pound-mass weighs a pound-force, so pcf is psf per foot.
    unitWeight: c.densityPcf,
    placing: c,
  };
  const result = aciPressure(question);
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
      facts: factsOf(question, result, UNITS.us),
    },
    findings: result.findings,
  };
};
