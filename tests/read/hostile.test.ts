/**
 * Files made to use up time or memory: small in bytes, endless in what they ask for. Each ends soon in a result that keeps the limits and says so, or in
 * a refusal. Time is the processor's; what grows with the square of these sizes takes minutes.
 */

import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../src/ground/vocabulary.js';
import { readDxf } from '../../src/read/dxf/index.js';
import { codes, dxf, r12 } from './samples.js';

const MOST_SECONDS = 20;

const many = (n: number, pairs: (i: number) => readonly string[]): string[] => {
  const all: string[] = [];
  for (let i = 0; i < n; i++) for (const pair of pairs(i)) all.push(pair);
  return all;
};
const block = (name: string, body: readonly string[]): string[] => [
  ...['0 BLOCK', `2 ${name}`, '70 0', '10 0', '20 0', ...body, '0 ENDBLK'],
];
const insert = (name: string, more: readonly string[] = []): string[] => [
  ...['0 INSERT', '8 0', `2 ${name}`, '10 0', '20 0', ...more],
];
const LINE = ['0 LINE', '8 0', '10 0', '20 0', '11 1', '21 1'];
const EVER = ['70 32767', '71 32767', '44 1', '45 1'];

const withObjects = (text: string, objects: readonly string[]): string =>
  text.replace('  0\nEOF\n', dxf(['0 SECTION', '2 OBJECTS', ...objects, '0 ENDSEC', '0 EOF']));

const LIMITS = { vertices: 50_000, entities: 50_000 };

interface Ended {
  readonly drawing: Drawing | null;
  readonly said: readonly string[];
}

/** Reads within the time, and holds what came of it against the limits. */
const ends = (text: string, limits: Parameters<typeof readDxf>[1] = LIMITS): Ended => {
  const bytes = new TextEncoder().encode(text);
  const start = process.cpuUsage();
  const result = readDxf(bytes, limits);
  const used = process.cpuUsage(start);
  expect((used.user + used.system) / 1e6).toBeLessThan(MOST_SECONDS);
  for (const { message } of result.findings) expect(message.length).toBeLessThan(2_000);
  if (!result.ok) return { drawing: null, said: codes(result.findings) };
  const { paths, texts, dimensions, leaders, inserts } = result.value;
  const most = limits?.entities ?? 2_000_000;
  expect(paths.length + texts.length + dimensions.length + leaders.length + inserts.length).toBeLessThanOrEqual(
    most + 1,
  );
  const vertices = paths.reduce((n, p) => n + p.vertices.length, 0);
  expect(vertices).toBeLessThanOrEqual((limits?.vertices ?? 2_000_000) + 1);
  return { drawing: result.value, said: codes(result.findings) };
};

describe('arrays and nests of blocks', () => {
  const points = ['0 POINT', '8 0', '10 0', '20 0'];
  const hidden = many(300, (i) => ['0 ATTRIB', '10 0', '20 0', `2 T${i}`, '1 x', '70 1']);
  it.each([
    ['a thousand million copies of a line', insert('A', EVER), block('A', LINE)],
    ['of nothing', insert('A', EVER), block('A', [])],
    ['of a point', insert('A', EVER), block('A', points)],
    ['of an array of arrays', insert('A', EVER), [...block('A', insert('B', EVER)), ...block('B', insert('C', EVER)), ...block('C', LINE)]],
    ['of many hidden attributes', insert('A', EVER), [...block('A', [...insert('B', ['66 1']), ...hidden, '0 SEQEND']), ...block('B', LINE)]],
    ['of a missing block', insert('A', EVER), []],
    ['of a text of 2000 letters', insert('A', EVER), block('A', ['0 TEXT', '8 0', '10 0', '20 0', '40 1', `1 ${'x'.repeat(2000)}`])],
    ['of a leader', insert('A', EVER), block('A', ['0 LEADER', '8 0', '10 0', '20 0', '10 1', '20 1'])],
    ['two blocks in each of 64', insert('B0'), many(64, (i) => block(`B${i}`, i < 63 ? [...insert(`B${i + 1}`), ...insert(`B${i + 1}`)] : LINE))],
  ])('%s', (_, entities, blocks) => {
    const { said } = ends(r12(entities, blocks));
    expect(said.some((code) => code === 'read.too-much' || code === 'read.blocks-too-deep')).toBe(true);
  }); // biome-ignore format: one case a line

  it('three hundred blocks that contain each other in all ways', () => {
    const blocks = many(300, (i) => block(`B${i}`, [...LINE, ...many(40, (k) => insert(`B${(7 * i + k) % 300}`))]));
    expect(ends(r12(insert('B0'), blocks)).said).toContain('read.too-much');
  });

  it('a chain of blocks that ends in its beginning', () => {
    const blocks = many(2_000, (i) => block(`B${i}`, insert(`B${(i + 1) % 2_000}`)));
    expect(ends(r12(insert('B0'), blocks)).said).toEqual(['read.blocks-too-deep']);
  });

  it('many clipped copies of a long line, and inserts that share one large dictionary', () => {
    const ring = many(250, (i) => [`10 ${50 + 40 * Math.cos(i / 39.8)}`, `20 ${50 + 40 * Math.sin(i / 39.8)}`]);
    const rows = ['40 1', '40 0', '40 0', '40 0', '40 0', '40 1', '40 0', '40 0', '40 0', '40 0', '40 1', '40 0'];
    const objects = [
      ...['0 DICTIONARY', '5 F1', ...many(20_000, (i) => [`3 K${i}`, '360 F9']), '3 ACAD_FILTER', '360 F2'],
      ...['0 DICTIONARY', '5 F2', '3 SPATIAL', '360 F3', '0 SPATIAL_FILTER', '5 F3', ...ring, '71 1', ...rows, ...rows],
    ];
    const clipped = many(3_000, () => [
      '0 INSERT',
      '102 {ACAD_XDICTIONARY',
      '360 F1',
      '102 }',
      '8 0',
      '2 A',
      '10 0',
      '20 0',
    ]);
    const long = block('A', [
      '0 LWPOLYLINE',
      '8 0',
      ...many(2_000, (i) => [`10 ${(i * 37) % 100}`, `20 ${(i * 17) % 100}`]),
    ]);
    const { said } = ends(withObjects(r12(clipped, long), objects));
    expect(said).toContain('read.too-much');
    expect(said).toContain('read.cut-at-clip');
  });
});

describe('entities that ask for more than the file has', () => {
  const edges = (n: number, edge: (i: number) => readonly string[]): string[] => [
    ...['0 HATCH', '8 0', '10 0', '20 0', '30 0', '2 X', '70 0', '91 1', '92 1', `93 ${n}`, ...many(n, edge), '97 0'],
  ];

  it('counts that no file of this length can hold', () => {
    const huge = '2147483647';
    const { drawing } = ends(
      r12([
        ...['0 HATCH', '10 0', '20 0', `91 ${huge}`, '92 2', '72 0', '73 1', `93 ${huge}`, '10 0', '20 0'],
        ...['0 HATCH', '10 0', '20 0', '91 1', '92 1', `93 ${huge}`, '72 4', '94 3', '73 0', '74 0', `95 ${huge}`, `96 ${huge}`],
        ...['0 SPLINE', '71 3', `72 ${huge}`, `73 ${huge}`, '74 0', '40 0', '10 0', '20 0'],
        ...['0 LWPOLYLINE', `90 ${huge}`, '70 0', '10 0', '20 0', '10 5', '20 5'],
        ...['0 MLINE', `72 ${huge}`, `73 ${huge}`, '11 0', '21 0', `74 ${huge}`, '41 0', `75 ${huge}`, '11 9', '21 9'],
        ...['0 POLYLINE', '70 64', `71 ${huge}`, `72 ${huge}`, '0 SEQEND'],
        ...['0 MULTILEADER', `270 ${huge}`, '300 CONTEXT_DATA{', `90 ${huge}`, '302 LEADER{', '304 LEADER_LINE{'],
      ]),
    );
    expect(drawing!.paths.map((p) => p.entity)).toEqual(['LWPOLYLINE']);
    expect(drawing!.unread).toEqual({ HATCH: 2, MLINE: 1, POLYLINE: 1, SPLINE: 1 });
  }); // biome-ignore format: one entity a line

  it.each([
    ['ellipses of a hatch', edges(2_000, () => ['72 3', '10 0', '20 0', '11 9', '21 0', '40 0.5', '50 0', '51 360', '73 1'])],
    ['splines of the highest degree', many(60, () => ['0 SPLINE', '8 0', '70 8', '71 25', ...many(146, (i) => [`40 ${i}`]), ...many(120, (i) => [`10 ${i}`, `20 ${(i * i) % 17}`])])],
    ['ellipses', many(1_000, () => ['0 ELLIPSE', '8 0', '10 0', '20 0', '11 9', '21 0', '40 0.5'])],
    ['a line of 100,000 vertices', ['0 LWPOLYLINE', '8 0', ...many(100_000, (i) => [`10 ${i}`, '20 0'])]],
    ['an MLINE without parameters, of 5,000 vertices and a style of 5,000 elements', ['0 MLINE', '8 0', '2 S', '70 1', ...many(5_000, (i) => [`11 ${i}`, '21 0', '12 1', '22 0', '13 0', '23 1'])]],
  ])('%s', (_, entities) => {
    const style = ['0 MLINESTYLE', '2 S', '70 0', ...many(5_000, (i) => [`49 ${i}`])];
    expect(ends(withObjects(r12(entities), style)).said).toContain('read.too-much');
  }); // biome-ignore format: one case a line

  it('a hatch of 50,000 loose edges, and an MLINE with as many breaks, closed', () => {
    const loose = edges(50_000, (i) => ['72 1', `10 ${i}`, '20 0', `11 ${i}`, '21 9']);
    expect(ends(r12(loose), { vertices: 500_000 }).drawing!.paths.length).toBe(50_000);
    const broken = many(40_000, (i) => [`11 ${i}`, '21 0', '12 1', '22 0', '13 0', '23 1', '74 2', '41 5', '41 0']);
    broken.splice(9, 0, '41 0.1', '41 0.2');
    const { drawing } = ends(r12(['0 MLINE', '8 0', '71 3', ...broken]), { vertices: 500_000 });
    expect(drawing!.paths.map((p) => p.closed)).toEqual([false]);
  });
});

describe('long and strange lines', () => {
  it.each([
    ['a number of a million digits', r12(['0 LINE', '8 0', `10 ${'1'.repeat(1_000_000)}`, '20 0', '11 1', '21 1'])],
    ['a text of a million signs', r12(['0 TEXT', '8 0', '10 0', '20 0', '40 1', `1 ${'%%c'.repeat(1_000_000)}`])],
    ['braces a million deep', r12(['0 MTEXT', '8 0', '10 0', '20 0', '40 1', `1 ${'{'.repeat(1e6)}x${'}'.repeat(1e6)}`])],
    ['stacks that never end', r12(['0 MTEXT', '8 0', '10 0', '20 0', '40 1', `1 ${'\\S1'.repeat(300_000)}`])],
    ['a layer name of 100,000 letters on 500 lines', r12(many(500, () => ['0 LINE', `8 ${'L'.repeat(100_000)}`, '10 0', '20 0', '11 1', '21 1']))],
    ['a block name of 100,000 letters, missing', r12(many(200, (i) => insert(`${'B'.repeat(100_000)}${i}`)))],
    ['codes that no one knows', r12(many(20_000, (i) => ['0 LINE', `${(i % 40_000) - 5_000} x`, '8 0', '10 0', '20 0', '11 1', '21 1']))],
    ['sections without end', '  0\nSECTION\n  2\nENTITIES\n'.repeat(100_000)],
    ['zeros', '0\n'.repeat(1_000_000)],
    ['no line end at all', 'x'.repeat(3_000_000)],
    ['one record of a million groups', r12(['0 LINE', '8 0', ...many(500_000, () => ['62 7', '370 25'])])],
  ])('%s', (_, text) => {
    ends(text, {});
  }); // biome-ignore format: one case a line

  it('a hundred thousand layers, in the table and in use', () => {
    const table = many(100_000, (i) => ['0 LAYER', `2 L${i}`, '70 0', '62 7', '6 CONTINUOUS']);
    const tables = dxf(['0 SECTION', '2 TABLES', '0 TABLE', '2 LAYER', ...table, '0 ENDTAB', '0 ENDSEC']);
    const points = many(20_000, (i) => ['0 POINT', `8 M${i}`, '10 0', '20 0']);
    const { drawing } = ends(tables + r12([...insert('A', ['70 2', '71 2']), ...points], block('A', points)), {});
    expect(drawing!.layers.length).toBe(120_001);
    expect(drawing!.unreadOn.length).toBe(20_000);
    expect(drawing!.unread.POINT).toBe(100_000);
  });

  it('as many leaders as lines, each with the handle of another', () => {
    const leaders = many(20_000, (i) => [
      '0 LEADER',
      `5 ${(i + 16).toString(16)}`,
      '8 0',
      '10 0',
      '20 0',
      '10 1',
      '20 1',
      `340 ${(i + 17).toString(16)}`,
    ]);
    expect(ends(r12(leaders), {}).drawing!.leaders.every((l) => l.text === null)).toBe(true);
  });

  it('one branch of a multileader after another, none of them closed', () => {
    const text = ['0 MULTILEADER', '8 0', '300 CONTEXT_DATA{', '41 1', '304 x', '12 0', '22 0'];
    const branches = many(20_000, (i) => [
      '302 LEADER{',
      `10 ${i}`,
      '20 0',
      '304 LEADER_LINE{',
      `10 ${i}`,
      '20 1',
      '305 }',
      '303 }',
    ]);
    const { drawing } = ends(r12([...text, ...branches]), {});
    expect(drawing!.leaders.length).toBe(20_000);
    expect(new Set(drawing!.leaders.map((l) => l.source)).size).toBe(20_000);
  });
});
