/** Leaders with their texts, and placed blocks with their attributes. */

import { describe, expect, it } from 'vitest';
import { codes, dxf, r12, readText } from './samples.js';

const LEADER = ['0 LEADER', '5 A1', '8 NOTES', '73 0', '76 3', '10 0', '20 0', '10 30', '20 40', '10 60', '20 40'];
const TEXT = ['0 MTEXT', '5 A2', '8 NOTES', '10 65', '20 40', '40 5', '1 T.O.W. +0.150'];

const block = (name: string, body: readonly string[]): string[] => [
  '0 BLOCK',
  `2 ${name}`,
  '70 0',
  '10 0',
  '20 0',
  ...body,
  '0 ENDBLK',
];

describe('LEADER', () => {
  it('gives its points from the tip on, and the text that its handle names', () => {
    const { drawing, findings } = readText(r12([...LEADER, '340 A2', ...TEXT]));
    const points = [
      { x: 0, y: 0 },
      { x: 30, y: 40 },
      { x: 60, y: 40 },
    ];
    expect(drawing.leaders).toEqual([{ source: 'A1', layer: 'NOTES', points, text: 'A2' }]);
    expect(drawing.texts[0]!.source).toBe('A2');
    expect(drawing.unread).toEqual({});
    expect(codes(findings)).toEqual([]);
  });

  it('in a placed block names the text of the same copy', () => {
    const array = ['0 INSERT', '5 B1', '8 L', '2 N', '10 100', '20 0', '50 90', '70 2', '44 1000'];
    const { drawing } = readText(r12(array, block('N', [...LEADER, '340 A2', ...TEXT])));
    expect(drawing.leaders.map((l) => [l.source, l.text])).toEqual([
      ['B1[1,1]/A1', 'B1[1,1]/A2'],
      ['B1[2,1]/A1', 'B1[2,1]/A2'],
    ]);
    expect(drawing.leaders[1]!.points[1]!.x).toBeCloseTo(60, 9);
    expect(drawing.leaders[1]!.points[1]!.y).toBeCloseTo(1030, 9);
  });

  it.each([
    ['is not in the drawing', ['340 FF']],
    ['is hidden', ['340 A3', '0 TEXT', '5 A3', '60 1', '8 N', '10 0', '20 0', '40 1', '1 x']],
    ['is empty', ['340 A3', '0 TEXT', '5 A3', '8 N', '10 0', '20 0', '40 1', '1  ']],
    [
      'is two texts',
      ['340 A3', ...['a', 'b'].flatMap((t) => ['0 TEXT', '5 A3', '8 N', '10 0', '20 0', '40 1', `1 ${t}`])],
    ],
  ])('names no text where the one it hangs on %s', (_, more) => {
    expect(readText(r12([...LEADER, ...more])).drawing.leaders[0]!.text).toBe(null);
  });

  it('names the one attribute of a block at its end', () => {
    const bubble = [
      ...['0 INSERT', '5 C1', '66 1', '8 N', '2 B', '10 60', '20 40'],
      ...['0 ATTRIB', '5 C2', '8 N', '10 60', '20 40', '40 3', '1 W1', '2 MARK', '0 SEQEND'],
    ];
    const { drawing } = readText(r12([...LEADER, '340 C1', ...bubble], block('B', [])));
    expect(drawing.leaders[0]!.text).toBe('C1/C2');
    expect(drawing.texts.map((t) => t.source)).toContain('C1/C2');
  });

  it('of one point is counted as unusable', () => {
    const { drawing, findings } = readText(r12(['0 LEADER', '8 N', '10 0', '20 0']));
    expect(drawing.leaders).toEqual([]);
    expect(drawing.unreadOn).toEqual([{ entity: 'LEADER', layer: 'N', count: 1 }]);
    expect(codes(findings)).toEqual(['read.bad-numbers']);
  });
});

const multi = (context: readonly string[], own: readonly string[] = ['170 1', '172 2', '290 1', '291 1']): string[] => [
  ...['0 MULTILEADER', '5 D1', '8 NOTES', '270 2', '300 CONTEXT_DATA{'],
  ...['40 1', '10 0', '20 0', '41 2.5', '140 2'],
  ...context,
  '301 }',
  ...own,
];
const CONTENT = ['290 1', '304 STEP\\P{\\fArial;-1.200}', '11 0', '21 0', '31 1', '12 70', '22 50', '32 0', '42 0'];
const branch = (lines: readonly (readonly string[])[]): string[] => [
  ...['302 LEADER{', '290 1', '291 1', '10 60', '20 50', '11 1', '21 0', '90 0', '40 8'],
  ...lines.flatMap((points) => ['304 LEADER_LINE{', ...points, '91 0', '305 }']),
  ...['271 0', '303 }'],
];

describe('MULTILEADER', () => {
  it('gives each line down to the landing, and its text', () => {
    const lines = [
      ['10 0', '20 0', '30 0', '10 20', '20 30', '30 0'],
      ['10 5', '20 -9', '30 0'],
    ];
    const { drawing } = readText(r12(multi([...CONTENT, ...branch(lines)])));
    const end = [
      { x: 60, y: 50 },
      { x: 68, y: 50 },
    ];
    expect(drawing.leaders.map((l) => [l.source, l.text, l.points])).toEqual([
      ['D1', 'D1.text', [{ x: 0, y: 0 }, { x: 20, y: 30 }, ...end]],
      ['D1.2', 'D1.text', [{ x: 5, y: -9 }, ...end]],
    ]);
    expect(drawing.texts).toMatchObject([
      { source: 'D1.text', layer: 'NOTES', at: { x: 70, y: 50 }, height: 2.5, text: 'STEP\n-1.200' },
    ]);
    expect(drawing.unread).toEqual({});
  });

  it('without lines is a text, with a block in the text’s place the attributes of that block', () => {
    const off = readText(r12(multi([...CONTENT, ...branch([['10 0', '20 0']])], ['170 0', '172 2', '290 1', '291 1'])));
    expect(off.drawing.leaders).toEqual([]);
    expect(off.drawing.texts.map((t) => t.text)).toEqual(['STEP\n-1.200']);
    const bubble = ['290 0', '296 1', '341 20', '15 70', '25 50', '35 0', '16 1', '26 1', '36 1', '46 0'];
    const own = ['170 1', '172 1', '290 1', '291 1', '330 30', '177 1', '44 3', '302 W7'];
    const on = readText(r12(multi([...bubble, ...branch([['10 0', '20 0']])], own)));
    expect(on.drawing.texts).toMatchObject([{ source: 'D1.text', at: { x: 70, y: 50 }, text: 'W7' }]);
    expect(on.drawing.leaders[0]!.text).toBe('D1.text');
  });

  it('cut anywhere ends in a result', () => {
    const whole = multi([...CONTENT, ...branch([['10 0', '20 0', '10 20', '20 30']])]);
    for (let n = 1; n <= whole.length; n++) {
      const { drawing } = readText(r12(whole.slice(0, n)));
      for (const leader of drawing.leaders) expect(leader.points.length).toBeGreaterThanOrEqual(2);
    }
  });
});

describe('placed blocks', () => {
  const attribute = (tag: string, value: string, flags: number): string[] => [
    ...['0 ATTRIB', '8 0', '10 3', '20 4', '40 2', `1 ${value}`, `2 ${tag}`, `70 ${flags}`],
  ];
  const door = (more: readonly string[]): string[] => ['0 INSERT', '5 9', '8 DOORS', '2 door', '10 5', '20 7', ...more];
  const fixed = ['0 ATTDEF', '8 0', '10 0', '20 0', '40 1', '1 35', '2 SILL', '70 3'];

  it('are listed with where they stand and all their attributes, hidden and constant ones too', () => {
    const entities = [
      ...door(['50 30', '41 -1', '66 1']),
      ...attribute('WIDTH', '900', 1),
      ...attribute('MARK', 'D1', 0),
      '0 SEQEND',
    ];
    const { drawing } = readText(r12(entities, block('Door', fixed)));
    expect(drawing.inserts).toMatchObject([
      {
        source: '9',
        block: 'Door',
        layer: 'DOORS',
        blocks: [],
        at: { x: 5, y: 7 },
        attributes: [
          { tag: 'MARK', text: 'D1' },
          { tag: 'SILL', text: '35' },
          { tag: 'WIDTH', text: '900' },
        ],
      },
    ]);
    expect(drawing.inserts[0]!.rotationRad).toBeCloseTo(Math.PI / 6, 12);
    expect(drawing.texts.map((t) => t.text)).toEqual(['D1']);
  });

  it('are listed copy by copy and through other blocks; what is in them has their source before its own', () => {
    const line = ['0 LINE', '5 L', '8 0', '10 0', '20 0', '11 1', '21 0'];
    const outer = ['0 INSERT', '5 1', '8 OUT', '2 OUTER', '10 100', '20 0', '50 90'];
    const blocks = [
      ...block('OUTER', ['0 INSERT', '5 2', '8 0', '2 DOOR', '10 5', '20 0', '70 2', '44 10']),
      ...block('DOOR', line),
    ];
    const { drawing } = readText(r12(outer, blocks));
    const seen = drawing.inserts.map((i) => [i.source, i.block, i.layer, i.blocks, i.at.x, i.at.y, i.rotationRad]);
    expect(seen).toEqual([
      ['1', 'OUTER', 'OUT', [], 100, 0, Math.PI / 2],
      ['1/2[1,1]', 'DOOR', 'OUT', ['OUTER'], 100, 5, Math.PI / 2],
      ['1/2[2,1]', 'DOOR', 'OUT', ['OUTER'], 100, 15, Math.PI / 2],
    ]);
    for (const path of drawing.paths) {
      expect(drawing.inserts.some((i) => i.block === 'DOOR' && path.source.startsWith(`${i.source}/`))).toBe(true);
    }
    expect(drawing.paths.length).toBe(2);
  });

  it('have attributes of several lines whole', () => {
    const lines = ['101 Embedded Object', '10 0', '20 0', '40 2.5', '1 T.O.W.\\P{\\fArial;+0.150}', '1001 X', '1000 y'];
    const entities = [...door(['66 1']), ...attribute('LEVEL', 'T.O.W.', 0), ...lines, '0 SEQEND'];
    const { drawing } = readText(r12(entities, block('Door', [])));
    expect(drawing.inserts[0]!.attributes).toEqual([{ tag: 'LEVEL', text: 'T.O.W.\n+0.150' }]);
    expect(drawing.texts.map((t) => [t.text, t.at, t.height])).toEqual([['T.O.W.\n+0.150', { x: 3, y: 4 }, 2]]);
  });

  it('are not scaled by the units of their block', () => {
    const record = ['0 BLOCK_RECORD', '5 77', '2 DOOR', '70 1', '280 1', '281 0'];
    const tables = dxf(['0 SECTION', '2 TABLES', '0 TABLE', '2 BLOCK_RECORD', ...record, '0 ENDTAB', '0 ENDSEC']);
    const line = ['0 LINE', '8 0', '10 0', '20 0', '11 10', '21 0'];
    const { drawing } = readText(tables + r12(door([]), block('Door', line), ['9 $INSUNITS', '70 4']));
    expect(drawing.paths[0]!.vertices.map((v) => v.x)).toEqual([5, 15]);
  });

  it('whose block is missing are listed all the same', () => {
    expect(readText(r12(door([]))).drawing.inserts).toMatchObject([{ block: 'door', at: { x: 5, y: 7 } }]);
  });
});
