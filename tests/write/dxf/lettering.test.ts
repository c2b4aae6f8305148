/** Marks and dimensions as high as the drawing's own: what follows them, what the sheets make of it, and what happens where there is no room. */

import { beforeAll, describe, expect, it } from 'vitest';
import { MM_PER } from '../../../src/ground/units.js';
import type { Lettering, Result } from '../../../src/ground/vocabulary.js';
import { compose, NOTHING, type Surroundings } from '../../../src/write/dxf/compose.js';
import { composeFitting, marksAside, textsOverTexts } from '../../../src/write/dxf/composeFitting.js';
import { drawingExtents } from '../../../src/write/dxf/extents.js';
import { makeScene, textSizes } from '../../../src/write/dxf/scene.js';
import type { Sheet } from '../../../src/write/dxf/sheet.js';
import { paperScaleOf } from '../../../src/write/dxf/sheets/paper.js';
import { read } from '../../read/samples.js';
import { textsOf } from '../../support/clashes.js';
import { jobBeside, laidOut, layBytes } from '../../support/lay.js';
import { FIXTURES, fixtureFiles } from '../../support/makeFixtures.js';

const laid = (name: string): { result: Result; around: Surroundings } => {
  const bytes = fixtureFiles[name]!;
  const { result } = laidOut(layBytes(bytes, jobBeside(FIXTURES + name)));
  const mm = MM_PER[result.source.lengthUnit];
  const { bounds: b, texts } = drawingExtents(read(bytes).drawing.document);
  const inMm = (t: typeof b) => ({ minX: t.minX * mm, minY: t.minY * mm, maxX: t.maxX * mm, maxY: t.maxY * mm });
  return { result, around: { bounds: inMm(b), texts: texts.map(inMm) } };
};

const lettering = (heightMm: number, from: Lettering['from'] = 'dimensions', statedMm = heightMm): Lettering => ({
  heightMm,
  from,
  statedMm,
  count: 7,
});

const said = (result: Result, more: Lettering, around: Surroundings = NOTHING): string[] =>
  composeFitting({ ...result, lettering: more }, 'AC1032', new Set(), around, false)
    .findings.filter((f) => f.code === 'write.text-height')
    .map((f) => f.message);

/** Of each text of the model space that a sheet of this kind shows: its height on paper in the window that shows it largest, mm. */
const onPaper = (sheet: Sheet, kind: string): number[] => {
  const windows = (sheet.papers ?? []).filter((p) => p.name.endsWith(kind)).flatMap((p) => p.viewports);
  return textsOf(sheet.shapes, sheet).flatMap(({ pose: { at, heightMm } }) => {
    const shown = windows.filter(
      ({ lookAt, widthMm, heightMm: high, scale }) =>
        Math.abs(at.x - lookAt.x) < (widthMm * scale) / 2 && Math.abs(at.y - lookAt.y) < (high * scale) / 2,
    );
    return shown.length === 0 ? [] : [heightMm / Math.min(...shown.map((w) => w.scale))];
  });
};

describe('sizes and scales', () => {
  it('all texts keep their ratio to the marks', () => {
    const usual = textSizes(125);
    expect(usual).toEqual({ table: 125, title: 175, mark: 125, dimension: 90, least: 90, factor: 1 });
    const twice = textSizes(250);
    for (const key of Object.keys(usual) as (keyof typeof usual)[]) expect(twice[key]).toBe(2 * usual[key]);
  });

  it('sheets stand at the smallest scale at which marks are 5 mm and no text less than 3.5', () => {
    const scales = [100, 120, 125, 180, 249, 250].map((mm) => paperScaleOf('mm', mm / 125));
    expect(scales).toEqual([20, 20, 25, 25, 25, 50]);
    expect([120, 125, 180, 250].map((mm) => paperScaleOf('in', mm / 125))).toEqual([24, 24, 24, 48]);
    for (let mm = 100; mm <= 250; mm++) {
      const { mark, dimension } = textSizes(mm);
      const scale = paperScaleOf('mm', mm / 125);
      expect(mark / scale).toBeGreaterThanOrEqual(5 - 1e-9);
      expect(dimension / scale).toBeGreaterThanOrEqual(3.5);
    }
  });
});

describe('a house laid out', () => {
  let house: ReturnType<typeof laid>;
  beforeAll(() => {
    house = laid('01-corner-house/corner-house.dxf');
  }, 60_000);

  it('keeps the usual height where marks as high as the drawing’s own would stand aside of their units, and says so', () => {
    expect(house.result.lettering).toMatchObject({ heightMm: 180, from: 'texts' });
    const messages = house.result.findings.filter((f) => f.code === 'write.text-height').map((f) => f.message);
    expect(messages).toEqual([
      'Marks and dimensions in plan are 125 mm high, not 180 mm, as most of the 6 texts of the drawing: higher ones would lie over each other, or stand aside of their units at leaders.',
    ]);
    const aside = (mm: number) =>
      marksAside(compose(makeScene(house.result, 'AC1032', new Set(), mm), house.around).sheet);
    expect(aside(180)).toBeGreaterThan(aside(125) + 0.05 * house.result.layout.pieces.length);
  });

  it('takes the height of the drawing’s own texts where the plan has room, and says so', () => {
    const { result, around } = laid('12-pilasters/pump-house.dxf');
    const [message] = said(result, lettering(130), around);
    expect(message).toBe('Marks and dimensions in plan are 130 mm high, as most of the 7 dimensions of the drawing.');
  });

  it.each([100, 125, 180, 250])('can be read on its sheets with marks of %i mm', (mm) => {
    const { sheet } = compose(makeScene(house.result, 'AC1032', new Set(), mm), house.around, true);
    for (const kind of ['PLAN', 'ELEVATIONS']) {
      const heights = onPaper(sheet, kind);
      expect(heights.length).toBeGreaterThan(100);
      expect(Math.min(...heights)).toBeGreaterThanOrEqual(3.5);
    }
    const scales = new Set(sheet.papers!.flatMap((p) => p.viewports.map((v) => v.scale)));
    expect(scales).toContain(paperScaleOf('mm', mm / 125));
  });

  it('steps down where texts would lie over each other, until none does', () => {
    const { result, around } = house;
    const over = (mm: number) =>
      textsOverTexts(compose(makeScene(result, 'AC1032', new Set(), mm), around).sheet, around.texts);
    expect(over(250)).toBeGreaterThan(0);
    const fitted = composeFitting({ ...result, lettering: lettering(250) }, 'AC1032', new Set(), around, false);
    expect(textsOverTexts(fitted.sheet, around.texts)).toBe(0);
    const [message] = fitted.findings.filter((f) => f.code === 'write.text-height').map((f) => f.message);
    expect(message).toMatch(
      /are (200|160|125) mm high, not 250 mm, .*: higher ones would lie over each other, or stand aside/,
    );
  });

  it('takes what the job file states as it is, and says what lies over what', () => {
    const [message] = said(house.result, lettering(250, 'job'), house.around);
    expect(message).toMatch(/are 250 mm high, as the job file says; \d+ texts lie over others at this height\.$/);
  });

  it('tells the limit, and nothing where nothing was found', () => {
    expect(said(house.result, lettering(100, 'dimensions', 50), house.around)).toEqual([
      'Marks and dimensions in plan are 100 mm high, not 50 mm, as most of the 7 dimensions of the drawing: that is the limit at which they fit their units and can be read on the sheets.',
    ]);
    expect(said(house.result, { heightMm: 125, from: 'usual', statedMm: null, count: 0 })).toEqual([]);
  });
});
