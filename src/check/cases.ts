/** What the pressure methods have in common: envelope, refusals of impossible values, and full fluid pressure where a method does not hold. */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { plainNumber, unitWeightKnPerM3 } from '../ground/units.js';
import type { Envelope, PressureCase, PressureCondition, PressureFacts } from '../ground/vocabulary.js';

/** Steepest envelope that a fluid can have: from 0 at the surface, constant below the depth at which the design pressure is reached. */
export const envelopeOf = (designKpa: number, slopeKpaPerM: number): Envelope =>
  designKpa > 0 && slopeKpaPerM > 0
    ? { points: [{ depthMm: (designKpa / slopeKpaPerM) * 1000, kpa: designKpa }] }
    : { points: [] };

/** Why no formula can be used, or null. */
export const impossible = (values: Readonly<Record<string, number>>): string | null => {
  for (const [name, value] of Object.entries(values)) {
    if (!Number.isFinite(value)) return `${name} is no number`;
    if (!(value > 0)) return `${name} is ${plainNumber(value)}, which must be more than 0`;
  }
  return null;
};

export const noPressure = (method: string, why: string): Staged<PressureCase> => ({
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

/** Words that stand beside every coefficient which was not compared with its standard. */
export const NOT_CONFIRMED = 'not confirmed against the standard';

/** What is printed of such coefficients. */
export const notConfirmedInput = (what: readonly string[]): Record<string, string> =>
  what.length === 0 ? {} : { notConfirmed: `${NOT_CONFIRMED}: ${what.join('; ')}` };

export const fromMemory = (edition: string, what: readonly string[]): Finding =>
  finding('check.from-memory', `${edition}, ${NOT_CONFIRMED}: ${what.join('; ')}.`, { subject: 'concrete.method' });

/** Quantities that every method in SI units records. */
export interface SiQuantities {
  readonly method: string;
  readonly rateMPerH: number;
  readonly temperatureC: number;
  readonly densityKgPerM3: number;
}

export interface FluidWords {
  readonly edition: string;
  /** 'fluid' where the method itself says so, 'refused' where it does not hold. */
  readonly chosen: 'fluid' | 'refused';
  readonly why: string;
  readonly conditions: readonly PressureCondition[];
  readonly notConfirmed: readonly string[];
  /** Further inputs to be printed. */
  readonly inputs?: Readonly<Record<string, number | string>>;
  readonly findings: readonly Finding[];
}

/** Full fluid pressure: unit weight times depth; the upper bound of every method. */
export const fluidCase = (c: SiQuantities, pourHeightMm: number, words: FluidWords): Staged<PressureCase> => {
  const why = impossible({ 'the pour height': pourHeightMm, 'the density': c.densityKgPerM3 });
  if (why) return noPressure(c.method, why);
  const slope = unitWeightKnPerM3(c.densityKgPerM3);
  const designKpa = (slope * pourHeightMm) / 1000;
  const facts: PressureFacts = {
    edition: words.edition,
    chosen: words.chosen,
    why: words.why,
    notChosen: [],
    conditions: words.conditions,
    formula: 'unit weight x depth',
    worked: [
      `${plainNumber(slope, 3)} kN/m3 x ${plainNumber(pourHeightMm / 1000, 3)} m = ${plainNumber(designKpa, 2)} kPa`,
    ],
    notConfirmed: words.notConfirmed,
  };
  return {
    value: {
      method: c.method,
      designKpa,
      rateMPerH: c.rateMPerH,
      temperatureC: c.temperatureC,
      pourHeightMm,
      inputs: {
        densityKgPerM3: c.densityKgPerM3,
        pourHeightMm,
        ...words.inputs,
        case: words.chosen,
        formula: 'unit weight x depth',
        ...notConfirmedInput(words.notConfirmed),
      },
      envelope: envelopeOf(designKpa, slope),
      facts,
    },
    findings: words.findings,
  };
};

/** A condition or limit of a method that is not met: full fluid pressure, and a failure that names it. */
export const refusedCase = (
  c: SiQuantities,
  pourHeightMm: number,
  edition: string,
  broken: readonly string[],
  rest: Pick<FluidWords, 'conditions' | 'notConfirmed' | 'inputs'>,
): Staged<PressureCase> => {
  const why = broken.join(' and ');
  const message = `${edition} does not hold here: ${why}.`;
  const limit = finding('check.method-limit', message, {
    subject: 'concrete.method',
    assumed: 'full fluid pressure',
  });
  return fluidCase(c, pourHeightMm, { ...rest, edition, chosen: 'refused', why, findings: [limit] });
};

/** A limit that is met or not, with the words of a refusal. */
export interface Limit {
  readonly text: string;
  /** null: not stated, taken as met. */
  readonly met: boolean | null;
  /** What a refusal says: 'the rate of rise of 8 m/h is over 7 m/h'. */
  readonly broken: string;
}

export const brokenOf = (limits: readonly Limit[]): string[] =>
  limits.filter((l) => l.met === false).map((l) => l.broken);
export const conditionsOf = (limits: readonly Limit[]): PressureCondition[] =>
  limits.map(({ text, met }) => ({ text, met }));
