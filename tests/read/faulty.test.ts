/** Files that are cut, lack their ends, or are damaged: read as far as they go, said, and never endless. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseTags, serializeTags, structureOf } from '../../src/ground/tags.js';
import { readDxf } from '../../src/read/dxf/index.js';
import { codes, dxf, itWithSamples, r12, read, readText, SAMPLES, sample } from './samples.js';

const seed = { seed: Number(process.env.FC_SEED ?? 20240501) };

const LINE = ['0 LINE', '8 0', '10 0', '20 0', '11 1', '21 1'];
const VERTEX = ['0 VERTEX', '8 W', '10 0', '20 0', '0 VERTEX', '8 W', '10 1', '20 5'];

/** The document as it is handed on, as pairs. */
const documentOf = (text: string): string[] =>
  readText(text).drawing.document.tags.map((tag) => `${tag.code} ${tag.value}`);

describe('ends that are missing are put in', () => {
  it('SEQEND of a POLYLINE, with the layer of its polyline', () => {
    const text = r12(['0 POLYLINE', '8 W', '66 1', ...VERTEX, ...LINE]);
    const { drawing, findings } = readText(text);
    expect(drawing.paths.map((p) => [p.entity, p.vertices.length])).toEqual(
      [
        ['POLYLINE', 2],
        ['LINE', 2],
      ].sort(),
    );
    expect(codes(findings)).toEqual(['read.mended']);
    const pairs = documentOf(text);
    expect(pairs.slice(pairs.indexOf('0 SEQEND'), pairs.indexOf('0 LINE'))).toEqual(['0 SEQEND', '8 W']);
  });

  it('SEQEND at the end of a section or block, and with a handle from R13 on', () => {
    const text = r12(['0 POLYLINE', '5 3F', '8 W', '66 1', ...VERTEX]).replace('AC1009', 'AC1015');
    const pairs = documentOf(text);
    const at = pairs.indexOf('0 SEQEND');
    expect(pairs.slice(at, at + 5)).toEqual(['0 SEQEND', '5 40', '100 AcDbEntity', '8 W', '0 ENDSEC']);
  });

  it('an INSERT that announces attributes and has none needs no SEQEND', () => {
    const text = r12(['0 INSERT', '8 0', '66 1', '2 B', '10 0', '20 0', ...LINE], ['0 BLOCK', '2 B', '0 ENDBLK']);
    expect(codes(readText(text).findings)).toEqual([]);
  });

  it('ENDBLK, ENDTAB and ENDSEC', () => {
    const text = dxf([
      '0 SECTION', '2 TABLES', '0 TABLE', '2 LAYER', '70 1', '0 LAYER', '2 W', '70 0', '62 7',
      '0 TABLE', '2 STYLE', '70 0', '0 ENDTAB',
      '0 SECTION', '2 BLOCKS', '0 BLOCK', '2 A', ...LINE, '0 BLOCK', '2 B', '0 ENDBLK', '0 ENDSEC',
      '0 SECTION', '2 ENTITIES', '0 INSERT', '8 W', '2 A', '10 0', '20 0', '0 ENDSEC', '0 ENDSEC', '0 EOF',
    ]); // biome-ignore format: one section a line
    const { drawing, findings } = readText(text);
    expect(drawing.paths.map((p) => [p.layer, p.blocks])).toEqual([['W', ['A']]]);
    expect(findings.map((f) => [f.code, f.assumed])).toEqual([
      ['read.mended', 'put in: 1 ENDBLK, 1 ENDSEC, 1 ENDTAB'],
      ['read.mended', 'left out: 1 ENDSEC'],
    ]);
    const structure = structureOf(drawing.document);
    expect(structure.sections.every((s) => s.closed)).toBe(true);
    expect(structure.tables.map((t) => [t.name, t.closed])).toEqual([
      ['LAYER', true],
      ['STYLE', true],
    ]);
    expect(structure.blocks.map((b) => [b.name, b.tail !== null])).toEqual([
      ['A', true],
      ['B', true],
    ]);
  });

  it('a second ENTITIES section is read too', () => {
    const text = r12(LINE).replace('  0\nEOF\n', dxf(['0 SECTION', '2 ENTITIES', ...LINE, '0 ENDSEC', '0 EOF']));
    expect(readText(text).drawing.paths.length).toBe(2);
  });

  it('what was put in reads the same again, without a finding', () => {
    const { drawing } = readText(r12(['0 POLYLINE', '8 W', '66 1', ...VERTEX]));
    const again = read(serializeTags(drawing.document));
    expect(again.findings).toEqual([]);
    expect(again.drawing.paths).toEqual(drawing.paths);
  });
});

describe('a file that is cut', () => {
  const whole = r12([...LINE, ...LINE, ...LINE]);

  it('without its end mark alone: all is read, and it is said', () => {
    const { drawing, findings } = readText(whole.replace('  0\nEOF\n', ''));
    expect(drawing.paths.length).toBe(3);
    expect(codes(findings)).toEqual(['read.cut']);
    expect(findings[0]!.message).toContain('end-of-file mark is missing');
  });

  it('within an entity: that one is left out, from the document too', () => {
    const at = whole.lastIndexOf(' 21\n');
    const { drawing, findings } = readText(whole.slice(0, at));
    expect(drawing.paths.length).toBe(2);
    expect(codes(findings)).toEqual(['read.cut']);
    expect(findings[0]!.message).toContain('section ENTITIES is not closed; its last record (LINE) may be cut');
    expect(documentOf(whole.slice(0, at))).toEqual(documentOf(r12([...LINE, ...LINE])));
  });

  it('within the header: refused with one sentence', () => {
    const at = whole.indexOf('AC1009') + 7;
    const result = readDxf(new TextEncoder().encode(whole.slice(0, at)));
    expect(result.ok).toBe(false);
    expect(result.findings.map((f) => f.message)).toEqual([
      'The DXF is cut within its header: there is no drawing in it. Get the file again.',
    ]);
  });

  itWithSamples('cut anywhere, a sample is refused or has a failure, and gives no more than the whole', () => {
    const bytes = sample('unclosed_loop_r14.dxf');
    const all = read(bytes).drawing.paths.length;
    for (let n = 0; n < bytes.length - 8; n += 61) {
      const result = readDxf(bytes.slice(0, n));
      const said = result.findings.filter((f) => f.severity === 'failure').map((f) => f.code);
      expect(said.length, `cut at ${n}`).toBeGreaterThan(0);
      if (result.ok) expect(result.value.paths.length).toBeLessThanOrEqual(all);
    }
  });
});

describe('damaged files', () => {
  /** Small samples whole, large ones their beginning and end, so that many damages can be tried. */
  const excerpt = (bytes: Uint8Array): Uint8Array => {
    if (bytes.length <= 100_000) return bytes;
    const joined = new Uint8Array(100_000);
    joined.set(bytes.subarray(0, 50_000));
    joined.set(bytes.subarray(bytes.length - 50_000), 50_000);
    return joined;
  };

  const damage = fc.record({
    file: fc.nat(),
    flips: fc.array(fc.record({ at: fc.nat(), to: fc.integer({ min: 0, max: 255 }) }), { minLength: 1, maxLength: 12 }),
    cut: fc.option(fc.nat(), { freq: 3 }),
    hole: fc.option(fc.record({ at: fc.nat(), size: fc.nat(400) }), { freq: 2 }),
  });

  itWithSamples('end in a result or a refusal, and the document handed on can be written', () => {
    const files = SAMPLES.map((file) => excerpt(sample(file)));
    let results = 0;
    fc.assert(
      fc.property(damage, ({ file, flips, cut, hole }) => {
        let bytes = files[file % files.length]!.slice();
        for (const { at, to } of flips) bytes[at % bytes.length] = to;
        if (hole) {
          const from = hole.at % bytes.length;
          bytes = Uint8Array.from([...bytes.subarray(0, from), ...bytes.subarray(from + hole.size)]);
        }
        if (cut !== null) bytes = bytes.slice(0, cut % bytes.length);
        const result = readDxf(bytes, { vertices: 200_000, entities: 200_000 });
        if (!result.ok) {
          expect(result.findings[result.findings.length - 1]!.severity).toBe('failure');
          return;
        }
        results++;
        for (const path of result.value.paths) {
          for (const v of path.vertices) expect(Number.isFinite(v.x + v.y + v.bulge)).toBe(true);
        }
        const again = parseTags(serializeTags(result.value.document));
        expect(again.ok).toBe(true);
      }),
      { ...seed, numRuns: 300 },
    );
    expect(results).toBeGreaterThan(100);
  });

  it('tags in any order end in a result or a refusal', () => {
    const types = [
      'SECTION',
      'ENDSEC',
      'TABLE',
      'ENDTAB',
      'BLOCK',
      'ENDBLK',
      'LINE',
      'POLYLINE',
      'VERTEX',
      'SEQEND',
      'INSERT',
      'ATTRIB',
      'HATCH',
      'SPLINE',
      'MLINE',
      'DIMENSION',
      'EOF',
      'LAYER',
      'LWPOLYLINE',
      'MTEXT',
    ];
    const names = ['ENTITIES', 'BLOCKS', 'TABLES', 'HEADER', 'OBJECTS', 'A', 'B', '*D1', 'LAYER', 'SHUTTERWRIGHT-X'];
    const tag = fc.oneof(
      fc.constantFrom(...types).map((type) => `0 ${type}`),
      fc.constantFrom(...names).map((name) => `2 ${name}`),
      fc.constantFrom('5 1', '5 2', '330 1', '102 {X', '102 }', '1001 SHUTTERWRIGHT', '101 Embedded Object', '66 1'),
      fc
        .tuple(
          fc.constantFrom(10, 20, 11, 21, 40, 42, 50, 70, 71, 72, 73, 91, 92, 93, 94, 95, 96, 97),
          fc.integer({ min: -3, max: 9 }),
        )
        .map(([code, n]) => `${code} ${n}`),
    );
    fc.assert(
      fc.property(fc.array(tag, { maxLength: 120 }), (pairs) => {
        const text = dxf(['0 SECTION', '2 BLOCKS', ...pairs, '0 SECTION', '2 ENTITIES', ...pairs, '0 EOF']);
        const result = readDxf(new TextEncoder().encode(text), { entities: 20_000 });
        if (!result.ok) return;
        const { document } = result.value;
        const again = readDxf(serializeTags(document), { entities: 20_000 });
        // What was mended and cleared once needs neither again.
        expect(codes(again.findings)).not.toContain('read.mended');
        expect(codes(again.findings)).not.toContain('read.own-entities');
        expect(again.ok && again.value.paths).toEqual(result.value.paths);
      }),
      { ...seed, numRuns: 400 },
    );
  });
});

describe('files made to take for ever', () => {
  const within = (ms: number, text: string, limits = {}) => {
    const start = performance.now();
    const result = readDxf(new TextEncoder().encode(text), limits);
    expect(performance.now() - start).toBeLessThan(ms);
    return result;
  };
  const many = (n: number, pairs: (i: number) => readonly string[]): string[] => {
    const all: string[] = [];
    for (let i = 0; i < n; i++) all.push(...pairs(i));
    return all;
  };

  // Each takes well under two seconds on a slow machine; what grows with the square of these sizes takes minutes.
  it('objects of ours that own each other in a long chain, named from its end', () => {
    const chain = many(20_000, (i) => ['0 XRECORD', `5 ${(i + 2).toString(16)}`, `330 ${(i + 3).toString(16)}`]);
    const ours = ['0 GROUP', `5 ${(20_002).toString(16)}`, '1001 SHUTTERWRIGHT'];
    const text = r12([]).replace('  0\nEOF\n', dxf(['0 SECTION', '2 OBJECTS', ...chain, ...ours, '0 ENDSEC', '0 EOF']));
    const result = within(20_000, text);
    expect(result.findings.map((f) => f.message).join()).toContain('20001 entities');
  });

  it('a text of a million stacks, and dimensions that all show one large block', () => {
    within(20_000, r12(['0 MTEXT', '10 0', '20 0', ...many(4_000, () => [`3 ${'1\\S1/2;'.repeat(35)}`])]));
    const block = ['0 BLOCK', '2 *D1', ...many(3_000, (i) => ['0 TEXT', '10 0', `20 ${i}`, '1 x']), '0 ENDBLK'];
    within(
      20_000,
      r12(
        many(3_000, () => ['0 DIMENSION', '2 *D1', '70 1', '13 0', '23 0', '14 1', '24 1']),
        block,
      ),
    );
  });

  it('many empty tables with entries of ours among many entities', () => {
    const table = ['0 TABLE', '2 LAYER', '70 1', '0 LAYER', '2 X', '1001 SHUTTERWRIGHT', '0 ENDTAB'];
    const tables = dxf(['0 SECTION', '2 TABLES', ...many(3_000, () => table), '0 ENDSEC']);
    within(20_000, tables + r12(many(20_000, () => LINE)));
  });

  it('curves that would be far more vertices than the file has bytes', () => {
    const ellipses = many(3_000, () => ['0 ELLIPSE', '10 0', '20 0', '11 9', '21 0', '40 0.5']);
    const curved = ['0 LWPOLYLINE', '8 0', ...many(3_000, (i) => [`10 ${i}`, '20 0', '42 1'])];
    const block = ['0 BLOCK', '2 B', '10 0', '20 0', ...curved, '0 ENDBLK'];
    const stretched = ['0 INSERT', '2 B', '10 0', '20 0', '41 2', '42 1'];
    for (const text of [
      r12(ellipses),
      r12(
        many(50, () => stretched),
        block,
      ),
    ]) {
      const result = within(20_000, text, { vertices: 50_000 });
      expect(codes(result.findings)).toContain('read.too-much');
      expect(result.ok && result.value.paths.reduce((n, p) => n + p.vertices.length, 0)).toBeLessThanOrEqual(50_144);
    }
  });

  it('attributes and outlines in inserts count towards the limit', () => {
    const attributes = many(200, () => ['0 ATTRIB', '10 0', '20 0', '1 x']);
    const block = [
      '0 BLOCK',
      '2 A',
      '0 INSERT',
      '2 NONE',
      '10 0',
      '20 0',
      '66 1',
      ...attributes,
      '0 SEQEND',
      '0 ENDBLK',
    ];
    const result = within(20_000, r12(['0 INSERT', '2 A', '10 0', '20 0', '70 300', '71 300'], block), {
      entities: 5_000,
    });
    expect(codes(result.findings)).toContain('read.too-much');
    expect(result.ok && result.value.texts.length).toBeLessThanOrEqual(5_000);
  });

  it('a clipped insert is said', () => {
    const objects = dxf([
      '0 SECTION',
      '2 OBJECTS',
      '0 SPATIAL_FILTER',
      '5 9',
      '71 1',
      '0 SPATIAL_FILTER',
      '5 A',
      '71 0',
      '0 ENDSEC',
      '0 EOF',
    ]);
    const { findings } = readText(r12(LINE).replace('  0\nEOF\n', objects));
    expect(findings.map((f) => [f.code, f.message.slice(0, 12)])).toEqual([['read.clipped', '1 insert(s) ']]);
  });
});
