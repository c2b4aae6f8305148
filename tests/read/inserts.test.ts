/** Placing blocks: nesting, turning, mirroring, arrays, and files that would never end. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PathVertex } from '../../src/ground/vocabulary.js';
import { readDxf } from '../../src/read/dxf/index.js';
import { codes, r12, readText } from './samples.js';

const seed = { seed: Number(process.env.FC_SEED ?? 20240501) };

const block = (name: string, body: readonly string[], base: readonly [number, number] = [0, 0]): string[] => [
  '0 BLOCK',
  `2 ${name}`,
  '70 0',
  `10 ${base[0]}`,
  `20 ${base[1]}`,
  ...body,
  '0 ENDBLK',
];

interface Placing {
  readonly x: number;
  readonly y: number;
  readonly turnDeg: number;
  readonly sx: number;
  readonly sy: number;
  readonly below: boolean;
}

const insert = (name: string, p: Partial<Placing>, more: readonly string[] = []): string[] => [
  '0 INSERT',
  '8 0',
  `2 ${name}`,
  `10 ${p.x ?? 0}`,
  `20 ${p.y ?? 0}`,
  `41 ${p.sx ?? 1}`,
  `42 ${p.sy ?? 1}`,
  `50 ${p.turnDeg ?? 0}`,
  ...(p.below ? ['210 0', '220 0', '230 -1'] : []),
  ...more,
];

/** Insertion worked by hand, independently of the reader: scale, turn, move, and mirror x when seen from below. */
const placed = (p: Placing, x: number, y: number): [number, number] => {
  const a = (p.turnDeg * Math.PI) / 180;
  const u = x * p.sx;
  const v = y * p.sy;
  const px = p.x + u * Math.cos(a) - v * Math.sin(a);
  return [p.below ? -px : px, p.y + u * Math.sin(a) + v * Math.cos(a)];
};

const LINE = ['0 LINE', '8 0', '10 0', '20 0', '11 100', '21 30'];
const OUTLINE = [
  '0 LWPOLYLINE',
  '8 0',
  '90 3',
  '70 1',
  '10 0',
  '20 0',
  '42 0.5',
  '10 50',
  '20 0',
  '10 50',
  '20 20',
  '42 -0.25',
];

const number = fc.double({ min: -1e4, max: 1e4, noNaN: true });
const scale = fc.constantFrom(-2, -1, -0.5, 0.25, 1, 3);
const placing: fc.Arbitrary<Placing> = fc.record({
  x: number,
  y: number,
  turnDeg: fc.double({ min: -360, max: 360, noNaN: true }),
  sx: scale,
  sy: scale,
  below: fc.boolean(),
});

describe('nested inserts', () => {
  it('ends of lines come where two insertions by hand put them', () => {
    fc.assert(
      fc.property(placing, placing, number, number, (inner, outer, baseX, baseY) => {
        const blocks = [...block('IN', LINE, [baseX, baseY]), ...block('OUT', insert('IN', inner))];
        const { drawing } = readText(r12(insert('OUT', outer), blocks));
        const ends = [
          [0, 0],
          [100, 30],
        ].map(([x, y]) => placed(outer, ...placed(inner, x! - baseX, y! - baseY)));
        drawing.paths[0]!.vertices.forEach((v, i) => {
          expect(v.x).toBeCloseTo(ends[i]![0], 6);
          expect(v.y).toBeCloseTo(ends[i]![1], 6);
        });
        expect(drawing.paths[0]!.blocks).toEqual(['OUT', 'IN']);
      }),
      seed,
    );
  });

  /** A point of the arc from a to b: its middle lies off the chord's middle by bulge × half the chord, to the right of a → b. */
  const middle = (a: PathVertex, b: PathVertex): [number, number] => [
    (a.x + b.x) / 2 + (a.bulge * (b.y - a.y)) / 2,
    (a.y + b.y) / 2 - (a.bulge * (b.x - a.x)) / 2,
  ];

  it('arcs pass through the image of their middle, however often mirrored', () => {
    fc.assert(
      fc.property(placing, placing, (p, q) => {
        const even = { ...p, sy: p.sx * Math.sign(p.sy) };
        const alsoEven = { ...q, sy: q.sx * Math.sign(q.sy) };
        const blocks = [...block('IN', OUTLINE), ...block('OUT', insert('IN', even))];
        const { drawing, findings } = readText(r12(insert('OUT', alsoEven), blocks));
        expect(codes(findings)).toEqual([]);
        const [a, b, c] = drawing.paths[0]!.vertices;
        const own = middle({ x: 0, y: 0, bulge: 0.5 }, { x: 50, y: 0, bulge: 0 });
        const last = middle({ x: 50, y: 20, bulge: -0.25 }, { x: 0, y: 0, bulge: 0 });
        for (const [seen, hand] of [
          [middle(a!, b!), own],
          [middle(c!, a!), last],
        ] as const) {
          const image = placed(alsoEven, ...placed(even, ...hand));
          expect(seen[0]).toBeCloseTo(image[0], 5);
          expect(seen[1]).toBeCloseTo(image[1], 5);
        }
      }),
      seed,
    );
  });

  it('arcs that are stretched become chords on the ellipse, and it is said', () => {
    const blocks = block('R', ['0 CIRCLE', '8 0', '10 0', '20 0', '40 1']);
    const { drawing, findings } = readText(r12(insert('R', { sx: 3, sy: -2, turnDeg: 30 }), blocks));
    expect(codes(findings)).toEqual(['read.chords']);
    const c = Math.cos(Math.PI / 6);
    const s = Math.sin(Math.PI / 6);
    for (const v of drawing.paths[0]!.vertices) {
      expect(v.bulge).toBe(0);
      expect(((v.x * c + v.y * s) / 3) ** 2 + ((-v.x * s + v.y * c) / 2) ** 2).toBeCloseTo(1, 9);
    }
  });

  it('the order of entities in the file does not matter', () => {
    const entities = [
      ['0 LINE', '8 A', '10 0', '20 0', '11 5', '21 5'],
      ['0 LINE', '8 A', '10 0', '20 0', '11 5', '21 6'],
      ['0 CIRCLE', '5 20', '8 B', '10 1', '20 1', '40 3'],
      ['0 CIRCLE', '5 20', '8 B', '10 1', '20 1', '40 4'],
      insert('IN', { x: 7 }),
      insert('IN', { x: 8 }, ['5 30']),
      ['0 TEXT', '5 40', '8 C', '10 1', '20 1', '40 1', '1 t'],
    ];
    const blocks = block('IN', [...LINE, ...OUTLINE]);
    const ordered = readText(r12(entities.flat(), blocks));
    fc.assert(
      fc.property(fc.shuffledSubarray(entities, { minLength: entities.length }), (shuffled) => {
        const other = readText(r12(shuffled.flat(), blocks));
        expect({ ...other.drawing, document: null }).toEqual({ ...ordered.drawing, document: null });
        expect(other.findings).toEqual(ordered.findings);
      }),
      seed,
    );
    const sources = ordered.drawing.paths.map((p) => p.source);
    expect(new Set(sources).size).toBe(sources.length);
    expect(sources).toContain('20~2');
  });
});

describe('arrays and attributes', () => {
  it('copies stand in turned rows and columns, their spacing not scaled', () => {
    const array = ['70 3', '71 2', '44 10', '45 100'];
    const { drawing } = readText(
      r12(insert('IN', { turnDeg: 90, sx: 2, sy: 2, x: 1 }, ['5 9', ...array]), block('IN', LINE)),
    );
    const starts = drawing.paths.map((p) => [p.source, Math.round(p.vertices[0]!.x), Math.round(p.vertices[0]!.y)]);
    expect(starts).toEqual([
      ['9[1,1]/#1', 1, 0],
      ['9[1,2]/#1', -99, 0],
      ['9[2,1]/#1', 1, 10],
      ['9[2,2]/#1', -99, 10],
      ['9[3,1]/#1', 1, 20],
      ['9[3,2]/#1', -99, 20],
    ]);
  });

  it('attributes are texts of their insert; invisible ones are not seen', () => {
    const attribute = (value: string, flags: number) => [
      '0 ATTRIB',
      '8 0',
      '10 3',
      '20 4',
      '40 2',
      `1 ${value}`,
      '2 TAG',
      `70 ${flags}`,
    ];
    const entities = [
      ...insert('IN', { x: 100 }, ['5 9', '66 1']),
      ...attribute('seen', 0),
      ...attribute('unseen', 1),
      '0 SEQEND',
    ];
    const { drawing, findings } = readText(r12(entities, block('IN', LINE)));
    expect(drawing.texts).toMatchObject([{ text: 'seen', at: { x: 3, y: 4 }, blocks: ['IN'] }]);
    expect(drawing.texts[0]!.source.startsWith('9/')).toBe(true);
    expect(codes(findings)).toEqual(['read.invisible']);
  });

  it('constant attributes show in the insert, others do not', () => {
    const definition = (value: string, flags: number) => [
      '0 ATTDEF',
      '10 0',
      '20 0',
      '40 2',
      `1 ${value}`,
      '2 TAG',
      `70 ${flags}`,
    ];
    const blocks = block('IN', [...definition('fixed', 2), ...definition('asked', 0)]);
    expect(readText(r12(insert('IN', {}), blocks)).drawing.texts.map((t) => t.text)).toEqual(['fixed']);
  });
});

describe('blocks that are not there, or never end', () => {
  it('missing and outside blocks are named', () => {
    const outside = ['0 BLOCK', '2 SITE', '70 4', '10 0', '20 0', '1 ..\\site.dwg', '0 ENDBLK'];
    const { findings } = readText(r12([...insert('NONE', {}), ...insert('SITE', {})], outside));
    expect(codes(findings)).toEqual(['read.block-missing', 'read.reference-missing']);
    expect(findings.find((f) => f.code === 'read.reference-missing')!.message).toContain('SITE ("..\\site.dwg")');
  });

  it('a block within itself, directly or round a corner, shows once', () => {
    const blocks = [...block('A', [...LINE, ...insert('B', {})]), ...block('B', [...LINE, ...insert('A', {})])];
    const { drawing, findings } = readText(r12(insert('A', {}), blocks));
    expect(drawing.paths.length).toBe(2);
    expect(codes(findings)).toEqual(['read.block-in-itself']);
  });

  it('nesting beyond the limit stops', () => {
    const blocks = Array.from({ length: 50 }, (_, i) => block(`B${i}`, i < 49 ? insert(`B${i + 1}`, {}) : LINE)).flat();
    const { drawing, findings } = readText(r12(insert('B0', {}), blocks));
    expect(drawing.paths).toEqual([]);
    expect(codes(findings)).toEqual(['read.blocks-too-deep']);
  });

  /** Ten inserts in each of twelve blocks: 10^12 lines, or nothing at all, 10^12 times. */
  const bomb = (heart: readonly string[]) =>
    r12(
      insert('B0', {}),
      Array.from({ length: 12 }, (_, i) =>
        block(`B${i}`, i < 11 ? Array.from({ length: 10 }, () => insert(`B${i + 1}`, {})).flat() : heart),
      ).flat(),
    );

  it.each([
    ['lines', bomb(LINE)],
    ['nothing', bomb([])],
    [
      'an array of arrays',
      r12(insert('A', {}, ['70 32767', '71 32767']), block('A', insert('B', {}, ['70 32767', '71 32767']))),
    ],
  ])('a bomb of %s ends with a failure', (_, text) => {
    const result = readDxf(new TextEncoder().encode(text), { vertices: 20_000, entities: 40_000 });
    expect(result.ok && codes(result.findings)).toContain('read.too-much');
    expect(result.ok && result.value.paths.length).toBeLessThanOrEqual(20_001);
  });
});
