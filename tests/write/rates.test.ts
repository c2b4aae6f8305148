/** Rates of rise as they are written: layout.json by its schema, the report's section, the line of notes in the drawing. */

import { describe, expect, it } from 'vitest';
import { pressureCase } from '../../src/check/index.js';
import type { Rates, Result } from '../../src/ground/vocabulary.js';
import { writeDxf } from '../../src/write/dxf/index.js';
import { layoutFile, layoutSchema } from '../../src/write/json/index.js';
import { reportHtml } from '../../src/write/report/index.js';
import { exampleResult } from '../support/exampleResult.js';

const item = {
  code: 'check.tie-overload',
  rule: 'T11',
  subject: 'T7',
  wall: 'W2',
  message: 'Tie T7 carries <20.01> kN; its working load is 20 kN.',
};

const SI: Rates = {
  units: 'si',
  method: 'aci-347-si',
  clampsChecked: true,
  jobRate: 1.5,
  jobTemperature: 15,
  atJob: { temperature: 15, bound: 'item', rate: 1.98765, by: 0 },
  table: [
    { temperature: 5, bound: 'none', rate: null, by: 0 },
    { temperature: 15, bound: 'item', rate: 1.98765, by: 0 },
    { temperature: 20, bound: 'range', rate: 4.5, by: 0 },
    { temperature: 25, bound: 'any', rate: null, by: null },
  ],
  carried: [{ pourHeightMm: 2350, walls: ['W1', 'W2'], mostKpa: 54.6409, fluidKpa: 55.3, item }],
  notHeld: [{ ...item, code: 'check.mechanism', wall: 'W3', subject: 'W3' }],
  floor: 0.5,
  supplyM3PerH: 4,
  supplies: [{ pour: null, planAreaM2: 2, volumeM3: 4.7, rate: 2 }],
  underFluid: {
    what: 'full fluid pressure',
    mostKpa: 55.3,
    failing: Array.from({ length: 13 }, (_, i) => ({ ...item, subject: `T${i}`, message: `Tie T${i} is over.` })),
  },
  sensitivity: [{ what: 'rises 0.5 m/h faster', mostKpa: 55, failing: [item] }],
};
const US: Rates = {
  ...SI,
  units: 'us',
  method: 'aci-347-us',
  jobTemperature: 60,
  atJob: { temperature: 60, bound: 'item', rate: 5, by: 0 },
  table: [{ temperature: 60, bound: 'item', rate: 5, by: 0 }],
  floor: 1.64,
};

const of = (rates: Rates): Result => ({
  ...exampleResult,
  layout: {
    ...exampleResult.layout,
    rates,
    pressure: [
      pressureCase(
        {
          method: 'aci-347-si',
          rateMPerH: 1.5,
          temperatureC: 15,
          densityKgPerM3: 2400,
          chemistryCoefficient: 1,
          slumpMm: null,
        },
        2350,
      ).value,
    ],
  },
});

const sectionOf = (rates: Rates): string => {
  const text = reportHtml(of(rates));
  const from = text.indexOf('<section id="rates"');
  return text.slice(from, text.indexOf('</section>', from));
};

describe('layout.json', () => {
  it.each([SI, US])('has the rates by its schema, both units where the method is in US units', (rates) => {
    const file = layoutFile(of(rates));
    expect(layoutSchema.parse(file)).toEqual(file);
    const told = file.rates!;
    expect(told.atJob.rateMPerH).toBe(rates.units === 'us' ? 1.524 : 1.9876);
    expect(told.atJob.rateFtPerH).toBe(rates.units === 'us' ? 5 : undefined);
    expect(told.atJob.temperatureC).toBeCloseTo(rates.units === 'us' ? 15.5556 : 15, 4);
    expect(told.underFluid.failing).toHaveLength(13);
    expect(told.carried[0]!.mostKpa).toBe(54.64);
  });
  it('has none where none were asked for', () => {
    expect(layoutFile(exampleResult).rates).toBeUndefined();
  });
});

describe('the report', () => {
  const section = sectionOf(SI);
  it('tells limit, table, floor and supply, what if, and what fails as a fluid, ten of them', () => {
    expect(section).toContain(
      'may rise at 1.98 m/h at most: faster, tie T7 in wall W2 fails (T11, check.tie-overload)',
    );
    expect(section).toContain('Not for W3');
    for (const words of ['no rate', 'any rate', '4.5', 'all walls at once', 'rises 0.5 m/h faster', '13 checks fail'])
      expect(section).toContain(words);
    // 1.98 m/h on 2 m2, and 0.5 m/h.
    expect(section).toMatch(/<td[^>]*>1<\/td>\s*<td[^>]*>2<\/td>\s*<td[^>]*>4<\/td>/);
    expect(section.match(/is over\./g)).toHaveLength(11);
  });
  it('tells method, case, why the others not, conditions, inputs, numbers, and what is unverified', () => {
    for (const words of [
      'ACI 347, SI edition, case W1',
      'W2 not taken',
      'not stated, taken as met',
      'R = 1.5 m/h',
      'UNVERIFIED, not confirmed against the standard',
      'What the pressure rests on',
      'job file',
    ])
      expect(section).toContain(words);
  });
  it('escapes what it quotes', () => {
    expect(section).toContain('&lt;20.01&gt;');
    expect(section).not.toContain('<20.01>');
  });
  it('is in feet and yards for a job in US units', () => {
    const us = sectionOf(US);
    for (const words of ['5 ft/h', 'degrees F', 'yd³/h']) expect(us).toContain(words);
  });
});

describe('the drawing', () => {
  it('has the allowed rate in its notes', () => {
    const written = writeDxf(of(SI), null, { mode: 'overlay' });
    const text = written.ok ? new TextDecoder().decode(written.value) : '';
    expect(text.replace(/\s+/g, ' ')).toContain('Rate of rise: Concrete of 15 degrees C may rise at 1.98 m/h at most');
  });
});
