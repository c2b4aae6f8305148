/** With what a line is drawn: line type, width, extrusion and fill, and what is counted as not read. */

import { describe, expect, it } from 'vitest';
import { codes, dxf, readText } from './samples.js';

const layer = (name: string, lineType: string): string[] => ['0 LAYER', `2 ${name}`, '70 0', '62 7', `6 ${lineType}`];

/** R12 with line types, layers, blocks and entities. */
const drawingOf = (entities: readonly string[], blocks: readonly string[] = []) =>
  readText(
    dxf([
      ...['0 SECTION', '2 TABLES', '0 TABLE', '2 LTYPE', '70 3'],
      ...['Continuous', 'Dashed', 'Center'].flatMap((name) => ['0 LTYPE', `2 ${name}`, '70 0', '3 x']),
      ...['0 ENDTAB', '0 TABLE', '2 LAYER', '70 3'],
      ...layer('0', 'CONTINUOUS'),
      ...layer('GRID', 'CENTER'),
      ...layer('DOORS', 'dashed'),
      ...['0 ENDTAB', '0 ENDSEC', '0 SECTION', '2 BLOCKS', ...blocks, '0 ENDSEC'],
      ...['0 SECTION', '2 ENTITIES', ...entities, '0 ENDSEC', '0 EOF'],
    ]),
  );

const line = (on: string, more: readonly string[] = []): string[] => [
  ...['0 LINE', `8 ${on}`, '10 0', '20 0', '11 9', '21 9', ...more],
];
const block = (name: string, body: readonly string[]): string[] => [
  ...['0 BLOCK', `2 ${name}`, '70 0', '10 0', '20 0', ...body, '0 ENDBLK'],
];
const insert = (name: string, on: string, more: readonly string[] = []): string[] => [
  ...['0 INSERT', `8 ${on}`, `2 ${name}`, '10 0', '20 0', ...more],
];

describe('line types', () => {
  it.each([
    ['its own, as the table spells it', line('GRID', ['6 DASHED']), [], 'Dashed'],
    ['one that the table lacks', line('GRID', ['6 Phantom2']), [], 'Phantom2'],
    ['none: that of the layer', line('GRID'), [], 'Center'],
    ['BYLAYER on a layer that no table has', line('NEW', ['6 ByLayer']), [], 'Continuous'],
    ['BYBLOCK outside of blocks', line('GRID', ['6 BYBLOCK']), [], 'Continuous'],
    ['layer 0 in a block: that of the insert’s layer', insert('A', 'DOORS'), block('A', line('0')), 'Dashed'],
    ['another layer in a block', insert('A', 'DOORS'), block('A', line('GRID')), 'Center'],
    ['BYBLOCK: that of the insert', insert('A', 'DOORS', ['6 CENTER']), block('A', line('0', ['6 BYBLOCK'])), 'Center'],
    ['BYBLOCK, insert by layer', insert('A', 'DOORS'), block('A', line('GRID', ['6 byblock'])), 'Dashed'],
    [
      'BYBLOCK through two inserts',
      insert('B', 'GRID', ['6 Dashed']),
      [...block('B', insert('A', '0', ['6 BYBLOCK'])), ...block('A', line('0', ['6 BYBLOCK']))],
      'Dashed',
    ],
    [
      'layer 0 through two inserts',
      insert('B', 'GRID'),
      [...block('B', insert('A', '0')), ...block('A', line('0'))],
      'Center',
    ],
  ])('%s', (_, entities, blocks, wanted) => {
    expect(drawingOf(entities, blocks).drawing.paths.map((p) => p.lineType)).toEqual([wanted]);
  });

  it('of layers are spelled as their table does', () => {
    expect(drawingOf([]).drawing.layers.map((l) => [l.name, l.lineType])).toEqual([
      ['0', 'Continuous'],
      ['DOORS', 'Dashed'],
      ['GRID', 'Center'],
    ]);
  });
});

const light = (more: readonly string[], vertices: readonly (readonly string[])[], flags = 0): string[] => [
  ...['0 LWPOLYLINE', '8 0', `90 ${vertices.length}`, `70 ${flags}`, ...more],
  ...vertices.flatMap((own, i) => [`10 ${i * 10}`, `20 ${i * i}`, ...own]),
];
const heavy = (own: readonly string[], vertices: readonly (readonly string[])[], flags = 0): string[] => [
  ...['0 POLYLINE', '8 0', '66 1', `70 ${flags}`, ...own],
  ...vertices.flatMap((v, i) => ['0 VERTEX', '8 0', `10 ${i * 10}`, `20 ${i * i}`, ...v]),
  ...['0 SEQEND', '8 0'],
];
const wide = ['40 200', '41 200'];

describe('widths', () => {
  it.each([
    ['constant', light(['43 200'], [[], [], []]), 200],
    ['the same at each vertex', light([], [wide, wide, wide]), 200],
    ['the last vertex of an open one begins no piece', light([], [wide, wide, []]), 200],
    ['constant, with zeros at the vertices', light(['43 150'], [['40 0', '41 0'], [], []]), 150],
    ['none', light([], [[], [], []]), 0],
    ['default of a heavy one', heavy(['40 80', '41 80'], [[], [], []]), 80],
    ['of the vertices of a heavy one', heavy([], [wide, wide, wide], 1), 200],
    ['a vertex overrides the default by the same', heavy(wide, [wide, [], []]), 200],
  ])('%s', (_, entities, width) => {
    const { drawing, findings } = drawingOf(entities);
    expect(drawing.paths.map((p) => p.width)).toEqual([width]);
    expect(codes(findings)).toEqual([]);
  });

  it.each([
    ['tapering', light([], [['40 200', '41 100'], wide, wide])],
    ['mixed', light([], [wide, ['40 100', '41 100'], wide])],
    ['a closed one whose last piece is thin', light([], [wide, wide, []], 1)],
    ['a heavy one with one thin piece', heavy(wide, [[], ['40 0', '41 0'], []])],
    ['in a block of uneven scale', insert('A', '0', ['41 2', '42 3']), block('A', light(['43 200'], [[], []]))],
  ])('%s: 0, and it is said', (_, entities, blocks: readonly string[] = []) => {
    const { drawing, findings } = drawingOf(entities, blocks);
    expect(drawing.paths.map((p) => p.width)).toEqual([0]);
    expect(codes(findings)).toEqual(['read.width-differs']);
  });

  it('grow with the scale of blocks, mirrored or turned', () => {
    const blocks = [
      ...block('A', light(['43 200'], [[], []])),
      ...block('B', insert('A', '0', ['41 -2', '42 2', '50 33'])),
    ];
    const { drawing } = drawingOf(insert('B', '0', ['41 0.5', '42 0.5', '43 0.5', '50 12', '230 -1']), blocks);
    expect(drawing.paths[0]!.width).toBeCloseTo(200, 9);
  });
});

describe('extrusions', () => {
  it('are along z, signed, scaled with the block', () => {
    const of = (entities: readonly string[], blocks: readonly string[] = []) =>
      drawingOf(entities, blocks).drawing.paths.map((p) => [p.elevation, p.extrusion]);
    expect(of(line('0', ['30 100', '31 100', '39 2400']))).toEqual([[100, 2400]]);
    expect(of(light(['39 2400', '38 -5'], [[], []]))).toEqual([[-5, 2400]]);
    expect(of(light(['39 2400', '38 -5', '210 0', '220 0', '230 -1'], [[], []]))).toEqual([[5, -2400]]);
    expect(of(insert('A', '0', ['43 2', '30 7']), block('A', line('0', ['39 10'])))).toEqual([[7, 20]]);
    expect(of(line('0'))).toEqual([[0, 0]]);
  });
});

describe('fills', () => {
  const hatch = (name: string, solid: number): string[] => [
    ...['0 HATCH', '8 0', '10 0', '20 0', '30 0', `2 ${name}`, `70 ${solid}`, '71 0', '91 1', '92 2', '72 0', '73 1'],
    ...['93 3', '10 0', '20 0', '10 5', '20 0', '10 5', '20 5', '97 0', '75 0', '76 1'],
  ];
  it.each([
    ['a pattern', hatch('Ansi31', 0), 'ANSI31'],
    ['solid', hatch('SOLID', 1), 'SOLID'],
    ['solid under another name', hatch('ansi31', 1), 'SOLID'],
    ['SOLID', ['0 SOLID', '8 0', '10 0', '20 0', '11 5', '21 0', '12 0', '22 5', '13 5', '23 5'], 'SOLID'],
    ['TRACE', ['0 TRACE', '8 0', '10 0', '20 0', '11 5', '21 0', '12 0', '22 5', '13 5', '23 5'], 'SOLID'],
    ['a line', line('0'), null],
  ])('%s', (_, entities, fill) => {
    expect(drawingOf(entities).drawing.paths.map((p) => p.fill)).toEqual([fill]);
  });
});

describe('what is not read', () => {
  it('is counted by effective layer and type, each time that it is placed', () => {
    const point = (on: string): string[] => ['0 POINT', `8 ${on}`, '10 0', '20 0'];
    const radial = ['0 DIMENSION', '8 DOORS', '70 4', '10 0', '20 0', '15 1', '25 1'];
    const bad = ['0 CIRCLE', '8 0', '10 0', '20 0', '40 -1'];
    const blocks = block('A', [...point('0'), ...point('0'), ...point('GRID'), ...bad]);
    const { drawing } = drawingOf([...point('0'), ...radial, ...insert('A', 'DOORS'), ...insert('A', 'GRID')], blocks);
    expect(drawing.unreadOn).toEqual([
      { entity: 'POINT', layer: '0', count: 1 },
      { entity: 'CIRCLE', layer: 'DOORS', count: 1 },
      { entity: 'DIMENSION', layer: 'DOORS', count: 1 },
      { entity: 'POINT', layer: 'DOORS', count: 2 },
      { entity: 'CIRCLE', layer: 'GRID', count: 1 },
      { entity: 'POINT', layer: 'GRID', count: 4 },
    ]);
    expect(drawing.unread).toEqual({ CIRCLE: 2, DIMENSION: 1, POINT: 7 });
  });
});
