/** The document around the sheet: minimal and odd drawings, the blank sheet, the second reader, sameness of bytes. */

import { describe, expect, it } from 'vitest';
import { parseTags, serializeTags, structureOf, type TagDocument } from '../../../src/ground/tags.js';
import type { Result } from '../../../src/ground/vocabulary.js';
import { EMPTY } from '../../../src/write/dxf/bounds.js';
import { compose, NOTHING } from '../../../src/write/dxf/compose.js';
import { drawingExtents } from '../../../src/write/dxf/extents.js';
import { writeDxf } from '../../../src/write/dxf/index.js';
import { layerNames } from '../../../src/write/dxf/layers.js';
import { makeScene } from '../../../src/write/dxf/scene.js';
import { additionsDocument, readBack } from '../../../src/write/dxf/secondReader.js';
import { splice } from '../../../src/write/dxf/splice.js';
import { dxf, r12, readText } from '../../read/samples.js';
import { elbow, straightWall } from './fixtures.js';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const documentOf = (text: string): TagDocument => readText(text).drawing.document;

const parsed = (content: Uint8Array): TagDocument => {
  const result = parseTags(content);
  if (!result.ok) throw new Error('not read');
  return result.value;
};

const merged = (text: string, result: Result = straightWall()): Uint8Array => {
  const written = writeDxf(result, documentOf(text), { mode: 'merged' });
  if (!written.ok) throw new Error(written.findings.map((f) => f.message).join(' '));
  return written.value;
};

const LINE = ['0 LINE', '8 0', '10 0.0', '20 0.0', '11 6000.0', '21 0.0'];

describe('minimal drawings', () => {
  it('nothing but an ENTITIES section: header, tables and blocks are added, in their order', () => {
    const out = parsed(merged(dxf(['0 SECTION', '2 ENTITIES', ...LINE, '0 ENDSEC', '0 EOF'])));
    const { sections, tables, entities } = structureOf(out);
    expect(sections.map((s) => s.name)).toEqual(['HEADER', 'TABLES', 'BLOCKS', 'ENTITIES']);
    expect(tables.map((t) => t.name)).toEqual(['LTYPE', 'LAYER', 'STYLE', 'APPID', 'DIMSTYLE']);
    expect(entities[0]!.type).toBe('LINE');
    // R12 without handles stays without, and has no markers and no light polylines.
    expect(out.tags.some((t) => t.code === 5 || t.code === 100 || t.code === 330)).toBe(false);
    expect(entities.some((e) => e.type === 'LWPOLYLINE')).toBe(false);
  });

  it('a table that is there gets its count raised by what is added', () => {
    const tables = ['0 SECTION', '2 TABLES', '0 TABLE', '2 LAYER', '70      1'];
    const layer = ['0 LAYER', '2 0', '70 0', '62 7', '6 CONTINUOUS', '0 ENDTAB', '0 ENDSEC'];
    const out = parsed(merged(dxf([...tables, ...layer, '0 SECTION', '2 ENTITIES', ...LINE, '0 ENDSEC', '0 EOF'])));
    const table = structureOf(out).tables.find((t) => t.name === 'LAYER')!;
    const count = out.tags.slice(table.head.start, table.head.end).find((t) => t.code === 70)!.value;
    expect(Number(count)).toBe(table.entries.length);
    expect(table.entries.length).toBeGreaterThan(5);
    expect(count.length).toBe('     1'.length);
  });

  it('handles that occur twice do not hinder, and new ones are free', () => {
    const twice = ['0 LINE', '5 A', ...LINE.slice(1), '0 LINE', '5 A', ...LINE.slice(1)];
    const { entities } = structureOf(parsed(merged(r12(twice))));
    const handles = entities.map((e) => e.handle);
    expect(handles.filter((h) => h === 'A')).toHaveLength(2);
    expect(new Set(handles).size).toBe(handles.length - 1);
  });

  it('a dimension whose block is missing does not get one of ours', () => {
    const lost = ['0 DIMENSION', '8 0', '2 *D1', '10 0.0', '20 0.0', '70 1', '13 0.0', '23 0.0', '14 5.0', '24 0.0'];
    const out = parsed(merged(r12([...LINE, ...lost])));
    const names = structureOf(out).blocks.map((b) => b.name);
    expect(names).not.toContain('*D1');
    expect(names).toContain('*D2');
  });

  it('a layer of the drawing under one of our names is used and said', () => {
    const layer = ['0 LAYER', '2 s-form-panl', '70 0', '62 3', '6 CONTINUOUS'];
    const tables = ['0 SECTION', '2 TABLES', '0 TABLE', '2 LAYER', '70 1', ...layer, '0 ENDTAB', '0 ENDSEC'];
    const document = documentOf(dxf([...tables, '0 SECTION', '2 ENTITIES', ...LINE, '0 ENDSEC', '0 EOF']));
    const written = writeDxf(straightWall(), document, { mode: 'merged' });
    expect(written.findings.map((f) => [f.code, f.subject])).toEqual([['write.layer-exists', 'S-FORM-PANL']]);
  });
});

describe('overlay', () => {
  it('is the same bytes twice in one process, whatever was written between', () => {
    const first = writeDxf(straightWall(), null, { mode: 'overlay' });
    writeDxf(elbow(), null, { mode: 'overlay' });
    const second = writeDxf(straightWall(), null, { mode: 'overlay' });
    expect(first.ok && second.ok && Buffer.compare(first.value, second.value)).toBe(0);
  });

  it('merged without a drawing is an overlay, and said', () => {
    const written = writeDxf(straightWall(), null, { mode: 'merged' });
    expect([written.ok, written.findings.map((f) => f.code)]).toEqual([true, ['write.no-drawing']]);
  });

  it('stands clear of the drawing that it belongs to, and has nothing of it', () => {
    const far = ['0 LINE', '8 WALLS', '10 0.0', '20 0.0', '11 90000.0', '21 0.0'];
    const document = documentOf(r12(far));
    const written = writeDxf(straightWall(), document, { mode: 'overlay' });
    if (!written.ok) throw new Error('refused');
    const out = parsed(written.value);
    expect(out.version).toBe('AC1021');
    expect(out.tags.some((t) => t.value === 'WALLS')).toBe(false);
    const model = out.tags.findIndex((t) => t.value === 'ENTITIES');
    const titles = out.tags.flatMap((t, i) => (i > model && t.value.startsWith('FACE W1') ? [i] : []));
    expect(titles.length).toBeGreaterThan(0);
    for (const i of titles) {
      const before = out.tags.slice(0, i).reverse();
      expect(Number(before.find((t) => t.code === 10)!.value)).toBeGreaterThan(90_000);
    }
  });
});

describe('texts and names that try to be something else', () => {
  const nasty = 'a\n  0\nEOF\n%%c^J\u0000 Wände \u{1F3D7} \\U+00C4';
  const result: Result = {
    ...straightWall(),
    source: { ...straightWall().source, file: nasty },
    findings: [
      {
        code: 'write.no-place',
        severity: 'failure',
        rule: nasty,
        at: [0, 0, 0],
        subject: nasty,
        message: nasty,
        assumed: nasty,
      },
    ],
  };
  for (const version of ['AC1009', 'AC1015', 'AC1032']) {
    it(`stay texts in ${version}`, () => {
      const text = r12(LINE).replace('AC1009', version);
      const written = writeDxf(result, documentOf(text), { mode: 'merged', layerNames: { PANL: nasty } });
      if (!written.ok) throw new Error(written.findings.map((f) => f.message).join(' '));
      const out = parsed(written.value);
      expect(out.tags.filter((t) => t.code === 0 && t.value === 'EOF')).toHaveLength(1);
      expect(structureOf(out).sections.every((s) => s.closed)).toBe(true);
      expect(structureOf(out).entities.length).toBe(structureOf(parsed(merged(text, result))).entities.length);
    });
  }
});

describe('the second reader', () => {
  const document = documentOf(r12(LINE).replace('AC1009', 'AC1015'));
  const { names: layers } = layerNames('AC1015', {});
  const { sheet } = compose(makeScene(elbow(), 'AC1015', new Set()), NOTHING);
  const { blocks, entities } = splice(document, sheet, { perMm: 1, layers, extents: EMPTY, isInches: false });
  const meant = { sheet, layers, perMm: 1, version: 'AC1015' };
  const look = (tags: typeof entities): string | null => readBack(additionsDocument(document, blocks, tags), meant);

  it('finds nothing where nothing is wrong', () => {
    expect(look(entities)).toBeNull();
  });

  it('finds a coordinate, a layer, a text, a name and an entity that are not what was meant', () => {
    const change = (code: number, match: (v: string) => boolean, to: string): string | null => {
      const at = entities.findIndex((t) => t.code === code && match(t.value));
      expect(at).toBeGreaterThan(0);
      return look([...entities.slice(0, at), { code, value: to }, ...entities.slice(at + 1)]);
    };
    expect(change(10, (v) => v === '6000', '6000.001')).toContain('another place');
    expect(change(8, (v) => v === 'S-FORM-PANL', 'S-FORM-TIMB')).toContain('layer S-FORM-TIMB');
    expect(change(1, (v) => v === 'SCHEDULE', 'SHEDULE')).toContain('other values');
    expect(change(2, (v) => v.startsWith('SHUTTERWRIGHT-EX-P600'), 'SHUTTERWRIGHT-OTHER')).toContain('another place');
    const line = entities.findIndex((t) => t.code === 0 && t.value === 'LINE');
    const next = entities.findIndex((t, i) => i > line && t.code === 0);
    expect(look([...entities.slice(0, line), ...entities.slice(next)])).toContain('entities where');
  });

  it('finds a block that lacks a line', () => {
    const line = blocks.findIndex((t) => t.code === 0 && t.value === 'LINE');
    const next = blocks.findIndex((t, i) => i > line && t.code === 0);
    const fewer = [...blocks.slice(0, line), ...blocks.slice(next)];
    expect(readBack(additionsDocument(document, fewer, entities), meant)).toContain('block SHUTTERWRIGHT-');
  });
});

describe('extents of the drawing', () => {
  const bounds = (entities: readonly string[], blocks: readonly string[] = []) =>
    drawingExtents(documentOf(r12(entities, blocks))).bounds;
  const block = ['0 BLOCK', '8 0', '2 B', '70 0', '10 1.0', '20 0.0', ...LINE, '0 ENDBLK', '8 0'];

  it('go through inserts, scaled, turned and in rows', () => {
    const insert = ['0 INSERT', '8 0', '2 B', '10 100.0', '20 50.0', '41 2.0', '42 1.0', '50 90.0'];
    const b = bounds(insert, block);
    // The block's line runs from -1 to 5999 from its base; doubled and turned by 90 degrees it stands upright at x = 100.
    expect([b.minX, b.minY, b.maxX, b.maxY].map((v) => Math.round(v * 1e6) / 1e6)).toEqual([100, 48, 100, 12048]);
    const rows = bounds(['0 INSERT', '8 0', '2 B', '10 0.0', '20 0.0', '70 3', '44 10000.0'], block);
    expect(rows.maxX).toBeCloseTo(25_999, 6);
  });

  it('heed arcs, mirrored coordinate systems and sheets', () => {
    const circle = ['0 CIRCLE', '8 0', '10 100.0', '20 0.0', '40 30.0'];
    expect(bounds(circle).maxX).toBe(130);
    expect(bounds([...circle, '210 0.0', '220 0.0', '230 -1.0']).minX).toBe(-130);
    expect(bounds([...LINE, '0 LINE', '67 1', '8 0', '10 0.0', '20 0.0', '11 99999.0', '21 0.0']).maxX).toBe(6000);
  });

  it('leave out what lies absurdly far away, and say so', () => {
    const document = documentOf(r12([...LINE, '0 LINE', '8 0', '10 1e20', '20 0.0', '11 0.0', '21 0.0']));
    expect(drawingExtents(document)).toMatchObject({ farPoints: 1, bounds: { maxX: 6000 } });
    const written = writeDxf(straightWall(), document, { mode: 'merged' });
    expect(written.findings.map((f) => f.code)).toEqual(['write.far-geometry']);
  });

  it('end where blocks contain themselves or are missing', () => {
    const self = [
      '0 BLOCK',
      '8 0',
      '2 B',
      '70 0',
      '10 0.0',
      '20 0.0',
      ...LINE,
      '0 INSERT',
      '8 0',
      '2 B',
      '10 5.0',
      '20 0.0',
      '0 ENDBLK',
      '8 0',
    ];
    expect(bounds(['0 INSERT', '8 0', '2 B', '10 0.0', '20 0.0'], self).maxX).toBe(6000);
    expect(bounds(['0 INSERT', '8 0', '2 GONE', '10 7.0', '20 8.0'])).toEqual({ minX: 7, minY: 8, maxX: 7, maxY: 8 });
  });
});

describe('what is written', () => {
  it('reads back tag for tag', () => {
    const out = merged(r12(LINE));
    expect(Buffer.compare(serializeTags(parsed(out)), out)).toBe(0);
    expect(bytes(r12(LINE)).length).toBeLessThan(out.length);
  });
});
