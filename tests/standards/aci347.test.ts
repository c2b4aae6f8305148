/**
 * ACI 347 wall pressure against published worked examples. Each line names where its figure was published; "own" vectors are hand arithmetic on
 * the formulas and say what they are for. Figures are rounded as they were published.
 */

import { describe, expect, it } from 'vitest';
import { ACI_SI, ACI_US, aciRaw, unitWeightCoefficient } from '../../src/check/aci.js';
import { type AciSiInputs, type AciUsInputs, pressureCase } from '../../src/check/index.js';
import { KPA_PER_PSF } from '../../src/ground/units.js';

const MM_PER_FT = 304.8;

const us = (rateFtPerH: number, temperatureF: number, heightFt: number, more: Partial<AciUsInputs> = {}) => {
  const inputs: AciUsInputs = {
    method: 'aci-347-us',
    rateFtPerH,
    temperatureF,
    densityPcf: 150,
    chemistryCoefficient: 1,
    slumpMm: 100,
    ...more,
  };
  const { value, findings } = pressureCase(inputs, heightFt * MM_PER_FT);
  const psf = value.designKpa / KPA_PER_PSF;
  const hsFt = value.envelope.points[0]!.depthMm / MM_PER_FT;
  return { psf, hsFt, case: value.inputs.case, inputs: value.inputs, findings };
};

const si = (rateMPerH: number, temperatureC: number, heightM: number, more: Partial<AciSiInputs> = {}) => {
  const inputs: AciSiInputs = {
    method: 'aci-347-si',
    rateMPerH,
    temperatureC,
    densityKgPerM3: 2400,
    chemistryCoefficient: 1,
    slumpMm: 100,
    ...more,
  };
  const { value, findings } = pressureCase(inputs, heightM * 1000);
  const hsM = value.envelope.points[0]!.depthMm / 1000;
  return { kpa: value.designKpa, hsM, case: value.inputs.case, inputs: value.inputs, findings };
};

describe('published US examples', () => {
  it('A1: University of Florida BCN4423C, "Wall Forms": 15 ft, 10 ft/h, 80 F gives 1,042 psf', () => {
    const a = us(10, 80, 15);
    expect(a.psf).toBeCloseTo(1042.5, 1);
    expect(a.hsFt).toBeCloseTo(6.95, 2);
    expect(a.case).toBe('W2');
  });
  it('A2: inputs of Peurifoy and Oberlender p. 135 (12 ft, 6 ft/h, 80 F); 825 psf is hand arithmetic, the result page was not seen', () => {
    const a = us(6, 80, 12);
    expect(a.psf).toBeCloseTo(825, 6);
    expect(a.hsFt).toBeCloseTo(5.5, 6);
  });
  it('A3: Peurifoy and Oberlender p. 229 print 713 psf: W1 at 5 ft/h, 80 F (inputs inferred)', () => {
    expect(Math.round(us(5, 80, 12).psf)).toBe(713);
  });
  it('A4: US Army Engineer School EN5466A p. 3-13: R = 162/80 ft/h, 70 F; chart 400 psf, formula 410.4, the floor of later editions 600', () => {
    const rate = 162 / 80;
    expect(aciRaw(ACI_US, 'W1', 1, 1, rate, 70)).toBeCloseTo(410.4, 1);
    expect(us(rate, 70, 10).psf).toBeCloseTo(600, 6);
  });
  it('A5: a homework page answers 28,618 psf (pcf times g) for 6 ft, 148 pcf, 3.21 ft/h, 88 F; the formula gives 478.3, floor 600, cap 888', () => {
    const a = us(3.21, 88, 6, { densityPcf: 148 });
    expect(a.inputs.rawPsf).toBeCloseTo(478.3, 1);
    expect(a.inputs.fluidPsf).toBeCloseTo(888, 6);
    expect(a.psf).toBeCloseTo(600, 6);
  });
  it('A6: Concrete Construction, "Form pressure": 8 ft of liquid concrete at 150 pcf press with 1,200 psf = 8.33 psi', () => {
    const { value } = pressureCase(
      { method: 'hydrostatic', densityKgPerM3: 150 * 16.018463374, rateMPerH: 1, temperatureC: 20 },
      8 * MM_PER_FT,
    );
    expect(value.designKpa / KPA_PER_PSF).toBeCloseTo(1200, 3);
    expect(value.designKpa / KPA_PER_PSF / 144).toBeCloseTo(8.33, 2);
    expect(us(16, 70, 8).psf).toBeCloseTo(1200, 6);
  });
  it('A7: published worksheet (h 7.87 ft): 600 psf, hydrostatic to 4.00 ft, constant over 3.87 ft', () => {
    const a = us(1, 70, 7.87);
    expect(a.psf).toBeCloseTo(600, 6);
    expect(a.hsFt).toBeCloseTo(4.0, 2);
    expect(7.87 - a.hsFt).toBeCloseTo(3.87, 2);
  });
  it('A8: Coursera, "Construction cost estimating", tie example: 664 psf is W1 at 4 ft/h, 70 F (inputs inferred)', () => {
    expect(Math.round(us(4, 70, 9.5).psf)).toBe(664);
  });
});

describe('own US vectors', () => {
  it.each<[string, number, number, number, Partial<AciUsInputs>, number, string]>([
    ['T1 W1', 4, 70, 10, {}, 664.3, 'W1'],
    ['T2 W1 at its greatest height', 6.9, 50, 14, {}, 1392.0, 'W1'],
    ['T3 the same above 14 ft', 6.9, 50, 16, {}, 1404.4, 'W2'],
    ['T4 W2 by rate', 8, 60, 12, {}, 1246.7, 'W2'],
    ['T5 chemistry coefficient', 5, 60, 12, { chemistryCoefficient: 1.2 }, 1080.0, 'W1'],
    ['T6 light concrete', 3, 60, 10, { densityPcf: 115 }, 537.9, 'W1'],
    ['T7 heavy concrete', 5, 60, 10, { densityPcf: 160 }, 993.1, 'W1'],
    ['T8 the floor does not lift a low wall above fluid pressure', 2, 90, 3, {}, 450, 'W1'],
    ['T9 fluid by rate', 16, 70, 9, {}, 1350, 'fluid'],
  ])('%s', (_name, r, t, h, more, psf, which) => {
    const a = us(r, t, h, more);
    expect(Math.abs(a.psf - psf)).toBeLessThan(0.06);
    expect(a.case).toBe(which);
  });
  it('Cw by unit weight', () => {
    expect(unitWeightCoefficient(ACI_US, 115)).toBeCloseTo(0.897, 3);
    expect(unitWeightCoefficient(ACI_US, 145)).toBe(1);
    expect(unitWeightCoefficient(ACI_US, 160)).toBeCloseTo(1.103, 3);
    expect(unitWeightCoefficient(ACI_US, 60)).toBe(0.8);
    expect(unitWeightCoefficient(ACI_SI, 1850)).toBeCloseTo(0.899, 3);
  });
});

describe('own SI vectors', () => {
  it.each<[string, number, number, number, Partial<AciSiInputs>, number, string]>([
    ['S1', 1.2, 20, 3, {}, 32.12, 'W1'],
    ['S2 W1 at its greatest height', 2.0, 10, 4.2, {}, 63.67, 'W1'],
    ['S3 the same above 4.2 m', 2.0, 10, 4.5, {}, 66.34, 'W2'],
    ['S4 W2 by rate', 3, 15, 3.6, {}, 64.76, 'W2'],
    ['S5 the same, higher', 3, 15, 6, {}, 64.76, 'W2'],
    ['S6 chemistry coefficient', 1.5, 15, 3, { chemistryCoefficient: 1.2 }, 51.72, 'W1'],
    ['S7 light concrete', 1, 15, 3, { densityKgPerM3: 1850 }, 27.98, 'W1'],
    ['S8 floor', 0.5, 25, 3, {}, 30.0, 'W1'],
    ['S9 the floor does not lift a low wall above fluid pressure', 0.5, 25, 1.0, {}, 23.54, 'W1'],
  ])('%s', (_name, r, t, h, more, kpa, which) => {
    const a = si(r, t, h, more);
    expect(Math.abs(a.kpa - kpa)).toBeLessThan(0.006);
    expect(a.case).toBe(which);
  });
  it('S1 is hydrostatic down to 1.36 m', () => expect(si(1.2, 20, 3).hsM).toBeCloseTo(1.36, 2));
  it('S10: 4 m at 5 m/h are fluid: 94.18 kPa with g = 9.81, 94.14 with the standard gravity that is used here', () => {
    const a = si(5, 15, 4);
    expect(a.case).toBe('fluid');
    expect(a.kpa).toBeCloseTo((2400 * 9.80665 * 4) / 1000, 9);
    expect((a.kpa * 9.81) / 9.80665).toBeCloseTo(94.18, 2);
  });
});

describe('the two editions', () => {
  it('the SI constants are the US ones converted, but for the rounded 1156 and the floor', () => {
    expect(150 * KPA_PER_PSF).toBeCloseTo(7.182, 3);
    expect((9000 / 0.3048 / 1.8) * KPA_PER_PSF).toBeCloseTo(785.4, 1);
    expect((43400 / 1.8) * KPA_PER_PSF).toBeCloseTo(1154.4, 1);
    expect((2800 / 0.3048 / 1.8) * KPA_PER_PSF).toBeCloseTo(244.4, 1);
    expect(600 * KPA_PER_PSF).toBeCloseTo(28.73, 2);
    expect([ACI_SI.constW2, ACI_SI.floor]).toEqual([1156, 30]);
  });
  it('neither is the other converted: the same pour differs', () => {
    const a = us(0.5 / 0.3048, 77, 3 / 0.3048);
    const b = si(0.5, 25, 3);
    expect(a.psf * KPA_PER_PSF).toBeCloseTo(28.73, 2);
    expect(b.kpa).toBeCloseTo(30, 9);
  });
  it('W1 meets W2 at 43400 / 6200 = 7 ft/h exactly; SI at 2.137 m/h, so it jumps up at its case change', () => {
    for (const t of [40, 70, 100])
      expect(aciRaw(ACI_US, 'W1', 1, 1, 7, t)).toBeCloseTo(aciRaw(ACI_US, 'W2', 1, 1, 7, t), 9);
    expect(1156 / (785 - 244)).toBeCloseTo(2.137, 3);
    expect(si(2.0999999, 20, 3).kpa).toBeCloseTo(50.8, 1);
    expect(si(2.1, 20, 3).kpa).toBeCloseTo(51.3, 1);
  });
});

describe('how a result was come to', () => {
  it('names the edition, the case, why the others not, and every condition', () => {
    const { value } = pressureCase(
      {
        method: 'aci-347-si',
        rateMPerH: 2,
        temperatureC: 10,
        densityKgPerM3: 2400,
        chemistryCoefficient: 1,
        slumpMm: null,
      },
      4500,
    );
    const facts = value.facts!;
    expect([facts.edition, facts.chosen]).toEqual(['ACI 347, SI edition', 'W2']);
    expect(facts.why).toContain('higher than 4.2 m');
    expect(facts.notChosen.map((n) => n.name)).toEqual(['W1', 'fluid']);
    expect(facts.conditions.find((c) => c.text.startsWith('slump'))?.met).toBeNull();
    expect(facts.worked.join(' ')).toContain('66.337');
  });
});

describe('conditions and limits', () => {
  const fluidKpa = (2400 * 9.80665 * 3) / 1000;
  it.each<[string, Partial<AciSiInputs>, string]>([
    ['slump over 175 mm (Hurd)', { slumpMm: 176 }, '175'],
    ['self-compacting (Peurifoy p. 39)', { selfCompacting: true }, 'self-compacting'],
    ['external vibration (Peurifoy p. 39)', { externalVibration: true }, 'outside'],
    ['expansive cement (Peurifoy p. 39)', { expansiveCement: true }, 'expansive'],
    ['vibration below 1.2 m', { vibrationDepthMm: 1300 }, '1200'],
  ])('%s: full fluid pressure, and it is said', (_name, more, word) => {
    const a = si(1, 20, 3, more);
    expect(a.kpa).toBeCloseTo(fluidKpa, 9);
    const said = a.findings.find((f) => f.code === 'check.fluid-pressure');
    expect(said?.severity).toBe('attention');
    expect(said?.message).toContain(word);
  });
  it('175 mm of slump is within', () => expect(si(1, 20, 3, { slumpMm: 175 }).case).toBe('W1'));
  it('pumping from the base: a quarter more than fluid (Peurifoy p. 39)', () => {
    expect(si(1, 20, 3, { pumpedFromBase: true }).kpa).toBeCloseTo(1.25 * fluidKpa, 9);
  });
  it('says that the slump was assumed and which coefficients are from memory', () => {
    const codes = si(1, 20, 3, { slumpMm: null }).findings.map((f) => f.code);
    expect(codes).toEqual(['check.slump-assumed', 'check.from-memory']);
    expect(si(1, 20, 3).inputs.notConfirmed).toContain('not confirmed against the standard');
    expect(si(1, 20, 3).inputs.notConfirmed).toContain('Cw');
  });
  it('says that a temperature lies outside the usual range', () => {
    expect(si(1, 1, 3).findings.map((f) => f.code)).toContain('check.temperature-range');
  });
  it.each([
    [0, 20, 3],
    [-1, 20, 3],
    [1, -17.8, 3],
    [Number.NaN, 20, 3],
    [1, 20, 0],
    [1, 20, Number.POSITIVE_INFINITY],
  ])('impossible values (rate %d, %d degrees, %d m) are a failure, not a pressure', (r, t, h) => {
    const { value, findings } = pressureCase(
      {
        method: 'aci-347-si',
        rateMPerH: r,
        temperatureC: t,
        densityKgPerM3: 2400,
        chemistryCoefficient: 1,
        slumpMm: 100,
      },
      h * 1000,
    );
    expect(findings.map((f) => [f.code, f.severity])).toEqual([['check.concrete-invalid', 'failure']]);
    expect(value.envelope.points).toEqual([]);
  });
});
