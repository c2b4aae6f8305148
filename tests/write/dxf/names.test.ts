/** One thing has one name and one count everywhere: in plan, in elevation, in the lists and in layout.json; and every layer can be called otherwise. */

import { describe, expect, it } from 'vitest';
import { APPLICATION_ID, structureOf, type TagDocument, xdataOf } from '../../../src/ground/tags.js';
import type { Result } from '../../../src/ground/vocabulary.js';
import { compose, NOTHING } from '../../../src/write/dxf/compose.js';
import { dimensionShape, overrideOf } from '../../../src/write/dxf/dimension.js';
import { writeDxf } from '../../../src/write/dxf/index.js';
import { LAYER_KEYS } from '../../../src/write/dxf/layers.js';
import { makeScene } from '../../../src/write/dxf/scene.js';
import type { InsertShape } from '../../../src/write/dxf/sheet.js';
import { layoutFile } from '../../../src/write/json/index.js';
import { scheduleCsv } from '../../../src/write/tables/index.js';
import { read } from '../../read/samples.js';
import { exampleResult } from '../../support/exampleResult.js';
import { fixtureFiles } from '../../support/makeFixtures.js';
import { elbow, straightWall } from './fixtures.js';

const value = (insert: InsertShape, tag: string): string | undefined =>
  insert.attributes.find((a) => a.tag === tag)?.text;

const counted = (names: readonly string[]): Record<string, number> => {
  const counts: Record<string, number> = {};
  for (const name of [...names].sort()) counts[name] = (counts[name] ?? 0) + 1;
  return counts;
};

const results: readonly (readonly [string, Result])[] = [
  ['example', exampleResult],
  ['straight wall', straightWall()],
  ['elbow', elbow()],
];

describe.each(results)('%s', (_, result) => {
  const { shapes } = compose(makeScene(result, 'AC1032', new Set()), NOTHING).sheet;
  const inserts = shapes.flatMap((s) => (s.type === 'insert' && s.about[0] === 'piece' ? [s] : []));
  const seen = (view: string): InsertShape[] => inserts.filter((i) => value(i, 'VIEW') === view);

  it('plan, elevation, list and layout.json count the same units', () => {
    const items = (view: string) => counted(seen(view).map((i) => value(i, 'ITEM')!));
    const plan = items('PLAN');
    expect(items('ELEV')).toEqual(plan);
    const file = layoutFile(result);
    expect(counted(file.pieces.map((p) => p.item ?? p.kind))).toEqual(plan);
    const rows = file.schedule.filter((r) => Object.hasOwn(plan, r.item) || Object.hasOwn(plan, r.kind));
    const listed: Record<string, number> = {};
    for (const r of rows) {
      const name = Object.hasOwn(plan, r.item) ? r.item : r.kind;
      listed[name] = (listed[name] ?? 0) + r.count;
    }
    expect(listed).toEqual(plan);
    const head = scheduleCsv(result).split(/\r?\n/)[0]!.split(',');
    const lines = scheduleCsv(result)
      .split(/\r?\n/)
      .filter((l) => l.startsWith('item,'))
      .map((l) => l.split(','));
    const csv: Record<string, number> = {};
    for (const cells of lines) {
      const [item, kind] = [cells[head.indexOf('item')]!, cells[head.indexOf('kind')]!];
      const name = Object.hasOwn(plan, item) ? item : kind;
      if (Object.hasOwn(plan, name)) csv[name] = (csv[name] ?? 0) + Number(cells[head.indexOf('count')]);
    }
    expect(csv).toEqual(plan);
  });

  it('a piece has the same mark in plan, in elevation, beside it and in the schedule', () => {
    const marks = new Map(seen('PLAN').map((i) => [value(i, 'PIECE'), value(i, 'MARK')]));
    expect(marks.size).toBe(result.layout.pieces.length);
    for (const i of seen('ELEV')) expect(value(i, 'MARK')).toBe(marks.get(value(i, 'PIECE')));
    const written = shapes.flatMap((s) =>
      s.type === 'text' && (s.about[0] === 'inside' || s.about[0] === 'mark') ? [s] : [],
    );
    // A corner unit is named on either face that it stands on.
    expect(new Set(written.map((t) => t.about[1])).size).toBe(marks.size);
    for (const t of written) expect(t.text).toBe(marks.get(t.about[1]));
    const listed = new Set(shapes.flatMap((s) => (s.type === 'text' && s.about[0] === 'schedule' ? [s.text] : [])));
    for (const mark of marks.values()) expect(listed).toContain(mark!.replace(/ ON SIDE$/, ''));
    // Timber is not called like a tie.
    const ties = new Set(result.layout.ties.map((t) => t.id));
    expect([...marks.values()].filter((mark) => ties.has(mark!))).toEqual([]);
  });
});

describe('dimensions', () => {
  for (const version of ['AC1009', 'AC1032']) {
    it(`say what they measure, or what is written instead (${version})`, () => {
      const { sheet } = compose(makeScene(straightWall(), version, new Set()), NOTHING);
      const pictures = new Map(sheet.blocks.map((b) => [b.name, b.shapes]));
      const found = sheet.shapes.flatMap((s) => (s.type === 'dimension' ? [s] : []));
      expect(found.filter((d) => d.style === 'elevation').length).toBeGreaterThan(20);
      for (const d of found) {
        // As a CAD program makes the text: to a tenth of a mm, without zeros at the end.
        const measured = String(Math.round(Math.hypot(d.to.x - d.from.x, d.to.y - d.from.y) * 10) / 10);
        const override = overrideOf(d, version);
        expect((override ?? '<>').replace('<>', measured)).toBe(d.says);
        const shown = pictures.get(d.block!)!.flatMap((s) => (s.type === 'text' ? [s.text] : []));
        expect(shown).toEqual([d.says]);
      }
    });
  }

  it('are written out in R12 where the gear is in feet, which its styles do not know', () => {
    const dimension = dimensionShape({
      ends: [
        { x: 0, y: 0 },
        { x: 914.4, y: 0 },
      ],
      points: [
        { x: 0, y: 0 },
        { x: 914.4, y: 0 },
      ],
      textAt: { x: 457.2, y: 75 },
      isTextPlaced: false,
      heightMm: 90,
      style: 'elevation',
      says: `3'-0"`,
      about: [],
    });
    expect([overrideOf(dimension, 'AC1009'), overrideOf(dimension, 'AC1015')]).toEqual([`3'-0"`, null]);
  });
});

describe('hatches', () => {
  it.each([
    ['AC1009', false],
    ['AC1012', false],
    ['AC1014', true],
    ['AC1032', true],
  ])('of steel and timber in %s: %s', (version, has) => {
    const blocks = [straightWall(), exampleResult, elbow()].flatMap(
      (result) => compose(makeScene(result, version, new Set()), NOTHING).sheet.blocks,
    );
    const patterns = new Set(blocks.flatMap((b) => b.shapes.flatMap((s) => (s.type === 'hatch' ? [s.pattern] : []))));
    expect([...patterns].sort()).toEqual(has ? ['steel', 'wood'] : []);
  });
});

const NAMES = Object.fromEntries(LAYER_KEYS.map((key, i) => [key, `OFFICE-${i + 1}`]));

const written = (document: TagDocument): Uint8Array => {
  const out = writeDxf(elbow(), document, { mode: 'merged', layerNames: NAMES });
  if (!out.ok) throw new Error(out.findings.map((f) => f.message).join(' '));
  return out.value;
};

describe('all layers called otherwise', () => {
  const original = fixtureFiles['01-corner-house/corner-house.dxf']!;
  const once = written(read(original).drawing.document);

  it('nothing of ours lies on a layer of the first names, in model space, blocks, sheets or windows', () => {
    const text = new TextDecoder('latin1').decode(once);
    expect(text).not.toContain('S-FORM-');
    // Windows lie on their layer, which is not plotted.
    expect(text).toContain(`OFFICE-${LAYER_KEYS.indexOf('VPRT') + 1}`);
  });

  it('laid out again it is the same, byte for byte', () => {
    const again = written(read(once).drawing.document);
    expect(Buffer.compare(Buffer.from(again), Buffer.from(once))).toBe(0);
  });

  it('what is taken out again is all of it', () => {
    const { document } = read(once).drawing;
    const { entities } = structureOf(document);
    expect(entities.filter((e) => xdataOf(document, e, APPLICATION_ID) !== null)).toEqual([]);
    expect(entities).toHaveLength(structureOf(read(original).drawing.document).entities.length);
  });
});
