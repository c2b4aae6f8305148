/** The joined stages: what comes out for what goes in. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layOut } from '../../src/pipeline/index.js';
import { fileOf, laidOut, layBytes, layFile, laySheet, sha256, textFileOf } from '../support/lay.js';
import { fixtureFiles } from '../support/makeFixtures.js';
import { cornerHouse, inchCellar, loneWall, noWalls } from '../support/scenes.js';
import { dxfBytes, moved } from '../support/sheet.js';

const JOB = { levels: { footingMm: 0, topMm: 2350 }, concrete: { rateMPerH: 1.5, temperatureC: 15 } };
const codes = (outcome: ReturnType<typeof layBytes>): string[] =>
  (outcome.kind === 'refused' ? outcome.findings : outcome.result.findings).map((f) => f.code);

describe('a drawing that can be laid out', () => {
  const outcome = laySheet(cornerHouse, JOB);

  it('ends in four files, named after it, and exit code 0', () => {
    expect(outcome.exitCode).toBe(0);
    expect(laidOut(outcome).files.map((f) => f.name)).toEqual([
      'plan.forms.dxf',
      'plan.layout.json',
      'plan.schedule.csv',
      'plan.schedule.xlsx',
      'plan.report.html',
    ]);
  });

  it('has its own name and hash in layout.json', () => {
    const layout = JSON.parse(textFileOf(outcome, '.layout.json')) as { source: object; format: string };
    expect(layout.format).toBe('shutterwright-layout');
    expect(layout.source).toEqual({
      file: 'plan.dxf',
      sha256: sha256(dxfBytes(cornerHouse)),
      kind: 'dxf',
      lengthUnit: 'mm',
    });
  });

  it('has walls whose lengths and volume are those of the drawing, worked by hand', () => {
    const { result } = laidOut(outcome);
    // Axis lengths: the ring 2 x (8800 + 7000), the wall that parts the rooms 7000 between the axes, the garden wall 4000.
    expect(result.schedule.totals.wallLengthM).toBeCloseTo(2 * (8.8 + 7) + 7 + 4, 6);
    // Plan area by the outlines: L of 9.0 x 7.2 less 3.6 x 3.0, less the two rooms, plus the garden wall; times 2.35.
    const rooms = 2.8 * 6.8 + (5.6 * 6.8 - 3.6 * 3.0);
    const planM2 = 9 * 7.2 - 3.6 * 3.0 - rooms + 4 * 0.2;
    expect(result.schedule.totals.concreteM3).toBeCloseTo(planM2 * 2.35, 6);
    // Faces by the outlines: ring outside 32.4; rooms inside 19.2 and 24.8; garden wall 2 x 4.0; ends apart.
    expect(result.schedule.totals.contactAreaM2).toBeCloseTo((32.4 + 19.2 + 24.8 + 8) * 2.35, 6);
  });

  it('says each stage as it comes', () => {
    const seen: string[] = [];
    layOut({ fileName: 'plan.dxf', bytes: dxfBytes(loneWall(3000, 200)), sha256: '', job: {} }, (stage) =>
      seen.push(stage),
    );
    expect(seen).toEqual(['read', 'trace', 'shape', 'fit', 'check', 'schedule', 'write']);
  });

  it('keeps findings in order: failures, attention, notes', () => {
    const ranks = laidOut(outcome).result.findings.map((f) => ['failure', 'attention', 'note'].indexOf(f.severity));
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
  });
});

describe('defaults', () => {
  it('that mattered are findings', () => {
    const said = codes(laySheet(loneWall(4000, 200)));
    for (const code of [
      'pipeline.catalogue-defaulted',
      'pipeline.method-defaulted',
      'pipeline.rate-defaulted',
      'pipeline.temperature-defaulted',
      'pipeline.concrete-defaulted',
      'trace.levels-assumed',
    ]) {
      expect(said, code).toContain(code);
    }
  });

  it('that did not matter are none', () => {
    const said = codes(
      laySheet(loneWall(4000, 200), {
        ...JOB,
        concrete: { method: 'hydrostatic', densityKgPerM3: 2400 },
        catalogue: 'demo',
      }),
    );
    expect(said.filter((code) => /defaulted|levels-assumed/.test(code))).toEqual([]);
  });

  it('take the yard in inches for a drawing in inches, and say so', () => {
    const { result } = laidOut(laySheet(inchCellar, JOB));
    expect(result.catalogue.lengthUnit).toBe('in');
    expect(result.findings.find((f) => f.code === 'pipeline.catalogue-defaulted')?.assumed).toBe(
      'catalogue: demo-inch',
    );
    expect(laidOut(laySheet(inchCellar, { ...JOB, catalogue: 'demo' })).result.catalogue.lengthUnit).toBe('mm');
  });
});

describe('the concrete of the job file', () => {
  const pressure = (concrete: object) =>
    laidOut(laySheet(loneWall(4000, 200), { levels: { footingMm: 0, topMm: 3000 }, concrete })).result.layout
      .pressure[0]!;

  // ACI 347 SI, W1 at 1.2 m/h, 20 C, 2400 kg/m3: 7.2 + 785 x 1.2 / 37.8 = 32.12 kPa.
  it('reaches the method', () => {
    expect(pressure({ rateMPerH: 1.2, temperatureC: 20 }).designKpa).toBeCloseTo(32.12, 2);
  });

  it('in feet and Fahrenheit without a method is for the US edition: 150 + 9000 x 4 / 68 = 679.4 psf', () => {
    const us = pressure({ rateFtPerH: 4, temperatureF: 68 });
    expect(us.method).toBe('aci-347-us');
    expect(us.inputs.designPsf).toBeCloseTo(679.41, 2);
  });

  // University of Florida BCN4423C "Wall Forms": h 15 ft, R 10 ft/h, T 80 F, 150 pcf: 1042.5 psf = 49.915 kPa.
  it('in US units reaches the US edition', () => {
    const outcome = laySheet(loneWall(4000, 200), {
      levels: { footingMm: 0, topMm: 15 * 304.8 },
      concrete: { method: 'aci-347-us', rateFtPerH: 10, temperatureF: 80, densityPcf: 150, chemistryCoefficient: 1 },
    });
    expect(laidOut(outcome).result.layout.pressure[0]!.designKpa).toBeCloseTo(49.915, 2);
  });

  // (14 x 3 + 18) x 25/25 = 60 kN/m2, formula of DIN 18218 from memory.
  it('for DIN 18218 takes flow class and end of setting, and its own unit weight where none is given', () => {
    const given = { method: 'din-18218', rateMPerH: 3, temperatureC: 15, consistency: 'F3', settingTimeH: 5 };
    expect(pressure(given).designKpa).toBeCloseTo(60, 4);
  });

  it('that lacks what the method needs gives fluid pressure and a failure', () => {
    const outcome = laySheet(loneWall(4000, 200), { ...JOB, concrete: { ...JOB.concrete, method: 'din-18218' } });
    expect(outcome.exitCode).toBe(1);
    expect(codes(outcome)).toContain('check.method-limit');
    const { designKpa, inputs } = laidOut(outcome).result.layout.pressure[0]!;
    expect(designKpa).toBeCloseTo(25 * 2.35, 3);
    expect(inputs.case).toBe('refused');
  });

  // By the formula with C2 0.3, 25 kN/m3, K (36/26)^2, 1 m/h: 43.9 kPa for a form of 3000 mm (demo: 2400 + 600), 49.9 for one of 4000.
  it('for CIRIA 108 knows the height of the forms that are laid out, and a higher one that is stated', () => {
    const given = { method: 'ciria-108', rateMPerH: 1, temperatureC: 10, c2: 0.3, densityKgPerM3: 25000 / 9.80665 };
    const laid = pressure(given);
    const byHand = (H: number) => 25 * (1 + 0.3 * (36 / 26) ** 2 * Math.sqrt(H - 1));
    expect(laid.formHeightMm).toBeGreaterThanOrEqual(3000);
    expect(laid.designKpa).toBeCloseTo(byHand(laid.formHeightMm! / 1000), 6);
    expect(pressure({ ...given, formHeightMm: 4000 }).designKpa).toBeCloseTo(byHand(4), 6);
  });

  it('for CIRIA 108 is a column where it stands alone and neither side is longer than 2 m', () => {
    const given = { method: 'ciria-108', rateMPerH: 1, temperatureC: 10, c2: 0.45 };
    const c1Of = (lengthMm: number) =>
      laidOut(laySheet(loneWall(lengthMm, 200), { ...JOB, concrete: given })).result.layout.pressure[0]!.inputs.C1;
    expect([1800, 2400].map(c1Of)).toEqual([1.5, 1]);
  });

  it('that the method does not ask for is said', () => {
    const outcome = laySheet(loneWall(4000, 200), { ...JOB, concrete: { ...JOB.concrete, c2: 0.45 } });
    const said = laidOut(outcome).result.findings.filter((f) => f.code === 'pipeline.concrete-not-used');
    expect(said.map((f) => f.subject)).toEqual(['concrete.c2']);
  });

  it('with a lower pour height than the wall is poured in lifts, and says so; in layers of a hand it is not', () => {
    const outcome = laySheet(loneWall(4000, 200), { ...JOB, concrete: { ...JOB.concrete, pourHeightMm: 1000 } });
    const [said] = laidOut(outcome).result.findings.filter((f) => f.code === 'pipeline.lifts');
    expect(said!.message).toMatch(/2350 high.*1000: poured in 3 lifts/);
    expect(laidOut(outcome).result.layout.pressure[0]!.pourHeightMm).toBe(1000);
    const most = Math.max(...laidOut(outcome).result.layout.ties.map((t) => t.loadKn));
    const whole = laidOut(laySheet(loneWall(4000, 200), JOB)).result.layout;
    expect(most).toBeLessThan(Math.max(...whole.ties.map((t) => t.loadKn)));
    const layers = laySheet(loneWall(4000, 200), { ...JOB, concrete: { ...JOB.concrete, pourHeightMm: 20 } });
    expect(laidOut(layers).result.layout.pressure[0]!.pourHeightMm).toBe(2350);
    expect(laidOut(layers).result.findings.find((f) => f.code === 'pipeline.lifts')!.message).toMatch(/layers/);
  });
});

describe('stock and limits of the job file', () => {
  it('count what is short', async () => {
    const job = { ...JOB, stock: { 'tie-100-250': 1 } };
    const outcome = await layFile(dxfBytes(loneWall(4000, 200)), job, 'plan.dxf');
    expect(codes(outcome)).toContain('fit.short-stock');
    expect(codes(outcome)).not.toContain('pipeline.stock-unknown');
  });

  it('name an item that the catalogue does not have: said, since it limits nothing', async () => {
    const job = { ...JOB, stock: { 'panle-600x2400': 1 } };
    const outcome = await layFile(dxfBytes(loneWall(4000, 200)), job, 'plan.dxf');
    const [found] = laidOut(outcome).result.findings.filter((f) => f.code === 'pipeline.stock-unknown');
    expect(found!.message).toContain('panle-600x2400');
    expect(codes(outcome)).not.toContain('fit.short-stock');
  });

  it('allow less overhang silently and more only with a finding', () => {
    const said = (overhangMm: number) => codes(laySheet(loneWall(4000, 200), { ...JOB, limits: { overhangMm } }));
    expect(said(100)).not.toContain('pipeline.overhang-raised');
    expect(said(200)).toContain('pipeline.overhang-raised');
  });
});

describe('a drawing without walls', () => {
  const outcome = laySheet(noWalls, JOB);
  it('still has all files, exit code 1 and a failure that says so', () => {
    expect(outcome.exitCode).toBe(1);
    expect(laidOut(outcome).files).toHaveLength(5);
    expect(laidOut(outcome).result.findings[0]?.severity).toBe('failure');
    expect(codes(outcome)).toContain('trace.no-wall');
  });
});

describe('a drawing with a place that cannot be laid out', () => {
  // A wall 900 thick: beyond every tie of the yard, beside one of 200 that is plain.
  const beside = {
    ...loneWall(4000, 200),
    marks: [...loneWall(4000, 200).marks, ...moved(loneWall(5000, 900), ({ x, y }) => ({ x, y: y + 5000 })).marks],
  };
  const outcome = laySheet(beside, JOB);
  it('keeps the rest', () => {
    const { result } = laidOut(outcome);
    expect(outcome.exitCode).toBe(1);
    expect(laidOut(outcome).files).toHaveLength(5);
    const thin = result.plan.walls.find((w) => w.thicknessMm === 200)!;
    expect(result.layout.ties.some((t) => t.wall === thin.id)).toBe(true);
    expect(result.findings.some((f) => f.severity === 'failure')).toBe(true);
  });
});

describe('bytes that are no drawing', () => {
  for (const name of ['empty', 'cut-in-header', 'zip', 'drawing-of-another-format', 'unknown-bytes']) {
    it(`${name}: refused with one sentence and no files`, () => {
      const outcome = layBytes(fixtureFiles[`03-broken-inputs/${name}.dxf`]!);
      expect(outcome).toMatchObject({ kind: 'refused', exitCode: 2 });
      if (outcome.kind !== 'refused') return;
      expect(outcome.findings.at(-1)!.message).toMatch(/^[A-Z][^\n]*\.$/);
    });
  }

  it('cut among its entities: laid out in part, with a failure that says what is missing', () => {
    const outcome = layBytes(fixtureFiles['03-broken-inputs/cut-in-entities.dxf']!, JOB);
    expect(outcome.exitCode).toBe(1);
    expect(laidOut(outcome).result.findings.some((f) => f.severity === 'failure' && f.code.startsWith('read.'))).toBe(
      true,
    );
  });

  it('never throw, wherever the drawing is cut or a byte is changed', () => {
    const whole = dxfBytes(loneWall(3000, 200));
    fc.assert(
      fc.property(fc.nat(whole.length - 1), fc.nat(255), fc.boolean(), (at, byte, cut) => {
        const bytes = cut ? whole.slice(0, at) : whole.map((b, i) => (i === at ? byte : b));
        const outcome = layBytes(bytes, JOB);
        if (outcome.kind === 'laid-out') fileOf(outcome, '.layout.json');
        return true;
      }),
      { seed: Number(process.env.FC_SEED ?? 77), numRuns: 30 },
    );
  });
});
