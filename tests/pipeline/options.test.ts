/** The job file: what is taken, what is refused and how that is said. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_FIT_OPTIONS } from '../../src/fit/index.js';
import { filesNamed, jobJsonSchema, parseJob, parseStock } from '../../src/pipeline/options.js';
import { fitOptions, notUsedYet, traceOptions } from '../../src/pipeline/settings.js';

const refusal = (value: unknown): string => {
  const parsed = parseJob(value);
  if (parsed.ok) throw new Error('was not refused');
  return parsed.findings.at(-1)!.message;
};
const job = (value: unknown) => {
  const parsed = parseJob(value);
  if (!parsed.ok) throw new Error(parsed.findings.at(-1)!.message);
  return parsed.value;
};

describe('a job file', () => {
  it('may be empty: everything has a default', () => {
    for (const empty of [undefined, null, {}]) {
      expect(job(empty)).toEqual({});
      expect(fitOptions(job(empty))).toEqual(DEFAULT_FIT_OPTIONS);
    }
  });

  it('is refused for an unknown key, which is named by its path with the keys that are known there', () => {
    expect(refusal({ levels: { footing: 0 } })).toBe(
      'The job file cannot be used: levels.footing is not known (known there: footingMm, topMm, at, steps).',
    );
    expect(refusal({ levels: { at: [{ near: [0, 0], topMm: 1, tpoMm: 2 }] } })).toContain(
      'levels.at[0].tpoMm is not known',
    );
    expect(refusal({ colour: 'red' })).toContain('colour is not known (known there: drawing, levels, concrete');
  });

  it('is refused for values of the wrong kind or out of range, each named', () => {
    expect(refusal({ levels: { topMm: '2400' } })).toContain('levels.topMm must be a number, but is a text');
    expect(refusal({ drawing: { unit: 'furlong' } })).toContain('drawing.unit must be one of mm, cm, m, in, ft');
    expect(refusal({ concrete: { rateMPerH: 0 } })).toContain(
      'concrete.rateMPerH must lie between 0.1 and 50 m/h, but is 0',
    );
    expect(refusal({ drawing: { wallLayers: 'WALL' } })).toContain('drawing.wallLayers must be a list, but is a text');
    expect(refusal({ levels: { topMm: Number.NaN } })).toContain('levels.topMm must be a number');
    expect(refusal({ levels: { topMm: Number.POSITIVE_INFINITY } })).toContain('levels.topMm');
    expect(refusal('levels')).toContain('the file must be a group of keys, but is a text');
    expect(refusal({ costOrder: ['places', 'places'] })).toContain('costOrder: names a cost twice');
  });

  it('may hold a group or a list of places with nothing under it: as if it were not there', () => {
    const empty = traceOptions(job({}));
    expect(traceOptions(job({ drawing: null, levels: null }))).toEqual(empty);
    expect(traceOptions(job({ drawing: { openings: null }, levels: { at: null, steps: null } }))).toEqual(empty);
  });

  it('is refused where an opening or a step contradicts itself', () => {
    const opening = (more: object) => refusal({ drawing: { openings: [{ near: [0, 0], ...more }] } });
    expect(opening({ wallEnds: true, sillMm: 900 })).toContain('wallEnds says that there is no opening');
    expect(opening({ sillMm: 900, headMm: 900 })).toContain('headMm must lie above sillMm');
    expect(opening({ sill: 900 })).toContain('drawing.openings[0].sill is not known (known there: near, wallEnds');
    expect(refusal({ levels: { steps: [{ at: [0, 0], kind: 'roof' }] } })).toContain('must be one of footing, top');
    expect(refusal({ drawing: { thicknessMm: 0 } })).toContain('drawing.thicknessMm must be more than 0');
  });

  it('is refused when the wall would have no height', () => {
    expect(refusal({ levels: { footingMm: 0, topMm: 0 } })).toContain('topMm must lie above footingMm');
  });

  it('is refused when no bulkhead has room', () => {
    expect(refusal({ limits: { runPastMm: 80 } })).toContain('limits: runPastMm leaves no room for the bulkhead');
    expect(job({ limits: { runPastMm: 80, bulkheadMm: 30 } }).limits?.runPastMm).toBe(80);
    expect(refusal({ limits: { bulkheadMm: 580 } })).toContain('leaves no room');
  });

  it('names all that is wrong at once', () => {
    const said = refusal({ a: 1, levels: { b: 2 }, drawing: { unit: 1 } });
    for (const part of ['a is not known', 'levels.b is not known', 'drawing.unit']) expect(said).toContain(part);
  });

  it('never throws, whatever it holds', () => {
    fc.assert(
      fc.property(fc.anything(), (value) => {
        const parsed = parseJob(value);
        return parsed.ok || parsed.findings.length === 1;
      }),
      { seed: Number(process.env.FC_SEED ?? 1), numRuns: 500 },
    );
    for (const key of ['drawing', 'levels', 'concrete', 'limits', 'output', 'stock', 'catalogue', 'costOrder']) {
      fc.assert(
        fc.property(fc.anything(), (value) => parseJob({ [key]: value }).findings.length <= 1),
        { seed: Number(process.env.FC_SEED ?? 1), numRuns: 100 },
      );
    }
  });
});

describe('the concrete of the job file', () => {
  it.each<[string, object, string]>([
    [
      'degrees F as degrees C',
      { temperatureC: 50 },
      'concrete.temperatureC must lie between 0 and 38 degrees C, but is 50',
    ],
    ['degrees C as degrees F', { temperatureF: 20 }, 'concrete.temperatureF must lie between 40 and 100 degrees F'],
    [
      't/m3 as kg/m3',
      { densityKgPerM3: 2.4 },
      'concrete.densityKgPerM3 must lie between 800 and 6000 kg/m3, but is 2.4',
    ],
    ['kg/m3 as pcf', { densityPcf: 2400 }, 'concrete.densityPcf must lie between 50 and 375 lb/ft3'],
    [
      'a negative pour height',
      { pourHeightMm: -1 },
      'concrete.pourHeightMm must lie between 1 and 50000 mm, but is -1',
    ],
    ['a negative form height', { formHeightMm: -3000 }, 'concrete.formHeightMm must lie between'],
    ['a rate that no pump has', { rateMPerH: 60 }, 'concrete.rateMPerH must lie between 0.1 and 50 m/h, but is 60'],
    ['a rate that is a text', { rateMPerH: '2' }, 'concrete.rateMPerH must lie between 0.1 and 50 m/h, but is a text'],
    ['an unknown C2', { c2: 0.5 }, 'concrete.c2 must be one of 0.3, 0.45, 0.6'],
    ['an unknown flow class', { consistency: 'F7' }, 'concrete.consistency must be one of F1'],
    ['no setting', { settingTimeH: 0 }, 'concrete.settingTimeH must lie between 1 and 72 h'],
    [
      'two systems of units',
      { rateMPerH: 1, temperatureF: 60 },
      'concrete.temperatureF: is in US units and rateMPerH is not',
    ],
    ['two rates', { rateMPerH: 1, rateFtPerH: 3 }, 'concrete.rateFtPerH: is in US units and rateMPerH is not'],
    ['SI keys for the US edition', { method: 'aci-347-us', rateMPerH: 1 }, 'concrete.rateMPerH: is in SI units'],
    ['US keys for an SI method', { method: 'din-18218', rateFtPerH: 3 }, 'concrete.rateFtPerH: is in US units'],
    ['self-compacting of class F3', { selfCompacting: true, consistency: 'F3' }, 'concrete.consistency: is F3'],
  ])('refused: %s', (_name, concrete, words) => {
    expect(refusal({ concrete })).toContain(words);
  });
});

describe('what the job file says', () => {
  it('reaches tracing, with the corners of an area in order and nothing made up', () => {
    const said = job({
      drawing: {
        unit: 'in',
        wallLayers: ['S-*'],
        area: [100, 50, -3, 2],
        centreLineLayers: ['S-CNTR'],
        thicknessMm: 203.2,
        openings: [{ near: [4, 5], sillMm: 900 }, { near: [6, 7], wallEnds: true }, { near: [8, 9] }],
      },
      levels: {
        topMm: 2400,
        at: [{ near: [1, 2], footingMm: -300 }],
        steps: [{ at: [3, 4], kind: 'footing' }],
      },
    });
    expect(traceOptions(said)).toEqual({
      unit: 'in',
      wallLayers: ['S-*'],
      ignoreLayers: [],
      area: [-3, 2, 100, 50],
      levels: { footingMm: null, topMm: 2400 },
      levelsAt: [{ near: { x: 1, y: 2 }, footingMm: -300, topMm: null }],
      centreLineLayers: ['S-CNTR'],
      thicknessMm: 203.2,
      openings: [
        { near: { x: 4, y: 5 }, wallEnds: false, sillMm: 900, headMm: null, widthMm: null },
        { near: { x: 6, y: 7 }, wallEnds: true, sillMm: null, headMm: null, widthMm: null },
        { near: { x: 8, y: 9 }, wallEnds: false, sillMm: null, headMm: null, widthMm: null },
      ],
      steps: [{ at: { x: 3, y: 4 }, kind: 'footing' }],
    });
  });

  it('reaches the fit; a cost that is not named follows in its usual order', () => {
    const options = fitOptions(
      job({ limits: { runPastMm: 400, stickUpMm: 25 }, costOrder: ['tiesAndUnits', 'kinds'] }),
    );
    expect(options.runPastMostMm).toBe(400);
    expect(options.stickUpLeastMm).toBe(25);
    expect(options.costOrder).toEqual(['tiesAndUnits', 'places', 'timberAreaM2', 'steelFillers', 'runPast']);
  });

  it('is said to be unused where this version takes no heed of it', () => {
    const later = {
      costOrder: ['kinds'],
      rates: {},
    };
    const subjects = notUsedYet(job(later)).map((f) => f.subject);
    expect(subjects.sort()).toEqual(['costOrder', 'rates']);
    expect(notUsedYet(job({}))).toEqual([]);
  });

  it('marks in the published schema exactly the keys that findings call unused', () => {
    const marked: string[] = [];
    const look = (schema: unknown, path: string): void => {
      const { properties, description, anyOf } = schema as {
        properties?: Record<string, unknown>;
        description?: string;
        anyOf?: readonly unknown[];
      };
      if (description?.startsWith('accepted, but not used')) marked.push(path);
      for (const form of anyOf ?? []) look(form, path);
      for (const [key, inner] of Object.entries(properties ?? {})) look(inner, path === '' ? key : `${path}.${key}`);
    };
    look(jobJsonSchema(), '');
    const given: Record<string, Record<string, unknown>> = {};
    for (const path of marked) {
      const [group, key] = path.split('.') as [string, string?];
      given[group] ??= {};
      if (key !== undefined) given[group][key] = 1;
    }
    expect(marked.length).toBeGreaterThan(0);
    expect(
      notUsedYet(job(given))
        .map((f) => f.subject)
        .sort(),
    ).toEqual([...marked].sort());
  });

  it('names the files that have to be read for it', () => {
    expect(filesNamed(job({}))).toEqual({ catalogue: null, stock: null, survey: null });
    expect(filesNamed(job({ catalogue: 'demo-inch', stock: { a: 1 }, survey: [] }))).toEqual({
      catalogue: null,
      stock: null,
      survey: null,
    });
    expect(filesNamed(job({ catalogue: 'yard.yaml', stock: 'stock.yaml', survey: 'survey.csv' }))).toEqual({
      catalogue: 'yard.yaml',
      stock: 'stock.yaml',
      survey: 'survey.csv',
    });
  });
});

describe('a stock list', () => {
  it('takes whole counts only', () => {
    expect(parseStock({ 'panel-600x2400': 12 })).toMatchObject({ ok: true, value: { 'panel-600x2400': 12 } });
    const wrong = parseStock({ a: 1.5, b: -1 });
    expect(wrong.ok).toBe(false);
    expect(wrong.findings[0]!.message).toMatch(/a must be .*; b must be at least 0/);
  });
});
