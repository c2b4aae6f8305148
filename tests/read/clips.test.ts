/** Clipped inserts: what is seen of a block inside a boundary. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Boundary, cutAt, isInside, isSimple, type Outlined } from '../../src/read/dxf/clip.js';
import { codes, dxf, r12, readText } from './samples.js';

const seed = { seed: Number(process.env.FC_SEED ?? 20240501) };

/** Places along a path, its arcs by their angle. */
const places = ({ vertices, closed }: Outlined, each: number): { x: number; y: number }[] =>
  vertices.flatMap((a, i) => {
    const b = vertices[i + 1] ?? (closed ? vertices[0] : undefined);
    if (!b || (a.x === b.x && a.y === b.y)) return [];
    return Array.from({ length: each }, (_, n) => {
      const t = (n + 0.5) / each;
      if (a.bulge === 0) return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
      const angle = 4 * Math.atan(a.bulge);
      const k = (1 - a.bulge * a.bulge) / (4 * a.bulge);
      const c = { x: (a.x + b.x) / 2 - k * (b.y - a.y), y: (a.y + b.y) / 2 + k * (b.x - a.x) };
      const [cos, sin] = [Math.cos(angle * t), Math.sin(angle * t)];
      const [dx, dy] = [a.x - c.x, a.y - c.y];
      return { x: c.x + dx * cos - dy * sin, y: c.y + dx * sin + dy * cos };
    });
  });

const lengthOf = (path: Outlined): number =>
  path.vertices.reduce((sum, a, i) => {
    const b = path.vertices[i + 1] ?? (path.closed ? path.vertices[0] : undefined);
    if (!b) return sum;
    const chord = Math.hypot(b.x - a.x, b.y - a.y);
    const angle = 4 * Math.atan(Math.abs(a.bulge));
    return sum + (a.bulge === 0 ? chord : (chord / 2 / Math.sin(angle / 2)) * angle);
  }, 0);

/** Simple polygons: corners at falling radii round a middle. */
const boundary: fc.Arbitrary<Boundary> = fc
  .array(fc.double({ min: 10, max: 100, noNaN: true }), { minLength: 3, maxLength: 12 })
  .map((radii) =>
    radii.map((r, i) => ({
      x: r * Math.cos((2 * Math.PI * i) / radii.length),
      y: r * Math.sin((2 * Math.PI * i) / radii.length),
    })),
  );

const coordinate = fc.integer({ min: -15_000, max: 15_000 }).map((n) => n / 100);
const path: fc.Arbitrary<Outlined> = fc.record({
  vertices: fc.array(
    fc.record({
      x: coordinate,
      y: coordinate,
      bulge: fc.oneof(
        fc.constant(0),
        fc.double({ min: 0.05, max: 3, noNaN: true }).chain((b) => fc.constantFrom(b, -b)),
      ),
    }),
    { minLength: 2, maxLength: 6 },
  ),
  closed: fc.boolean(),
});

describe('cutting at a boundary', () => {
  it('keeps what is inside and drops what is outside', () => {
    fc.assert(
      fc.property(boundary, path, (clip, whole) => {
        const parts = cutAt(whole, clip);
        const [near, far] = [0.999, 1.001].map((k) => clip.map((p) => ({ x: p.x * k, y: p.y * k })));
        for (const part of parts) for (const p of places(part, 20)) expect(isInside(far!, p)).toBe(true);
        // The share of the path that lies inside, by places along it, is the share that is kept.
        const all = places(whole, 400);
        const kept = parts.reduce((sum, part) => sum + lengthOf(part), 0);
        const steps = whole.vertices.map((a, i) => {
          const b = whole.vertices[i + 1] ?? (whole.closed ? whole.vertices[0] : undefined);
          return b ? lengthOf({ vertices: [a, b], closed: false }) / 400 : 0;
        });
        let [least, most] = [0, 0];
        all.forEach((p, n) => {
          const step = steps.filter((s) => s > 0)[Math.floor(n / 400)]!;
          if (isInside(near!, p)) least += step;
          if (isInside(far!, p)) most += step;
        });
        // Each crossing may lie anywhere in its step.
        const slack = 1e-6 + 8 * Math.max(...steps) * (1 + clip.length);
        expect(kept).toBeGreaterThan(least - slack);
        expect(kept).toBeLessThan(most + slack);
      }),
      { ...seed, numRuns: 300 },
    );
  });

  it('joins a closed path again where its first corner is inside, and leaves one that is inside as it is', () => {
    const clip = [
      { x: -5, y: -5 },
      { x: 5, y: -5 },
      { x: 5, y: 5 },
      { x: -5, y: 5 },
    ];
    const at = (x: number, y: number) => ({ x, y, bulge: 0 });
    const inside = { vertices: [at(0, 0), at(2, 0), at(2, 2)], closed: true };
    expect(cutAt(inside, clip)).toEqual([inside]);
    expect(cutAt(inside, clip)[0]).toBe(inside);
    const across = { vertices: [at(0, 0), at(9, 0), at(9, 3), at(0, 3)], closed: true };
    expect(cutAt(across, clip)).toEqual([{ vertices: [at(5, 3), at(0, 3), at(0, 0), at(5, 0)], closed: false }]);
    expect(cutAt({ vertices: [at(9, 0), at(9, 9)], closed: false }, clip)).toEqual([]);
    // Along the boundary is inside.
    const along = { vertices: [at(-5, -5), at(5, -5)], closed: false };
    expect(cutAt(along, clip)).toEqual([along]);
  });

  it('takes simple polygons alone for boundaries', () => {
    const p = (x: number, y: number) => ({ x, y });
    expect(isSimple([p(0, 0), p(4, 0), p(4, 4), p(0, 4)])).toBe(true);
    expect(isSimple([p(0, 0), p(4, 4), p(4, 0), p(0, 4)])).toBe(false);
    expect(isSimple([p(0, 0), p(4, 0), p(8, 0)])).toBe(false);
    expect(isSimple([p(0, 0), p(4, 0), p(4, 4), p(2, -1)])).toBe(false);
    expect(isSimple(Array.from({ length: 300 }, (_, i) => p(Math.cos(i / 50), Math.sin(i / 50))))).toBe(false);
  });
});

const ROWS = ['1', '0', '0', '0', '0', '1', '0', '0', '0', '0', '1', '0'];
/** The inverse of an insert that stands at x = 1000. */
const MOVED = ROWS.map((n, i) => (i === 3 ? '-1000' : n));

const filter = (
  corners: readonly (readonly [number, number])[],
  more: readonly string[] = [],
  rows = MOVED,
): string[] => [
  ...[
    '0 DICTIONARY',
    '5 F1',
    '330 AA',
    '3 ACAD_FILTER',
    '360 F2',
    '0 DICTIONARY',
    '5 F2',
    '330 F1',
    '3 SPATIAL',
    '360 F3',
  ],
  ...['0 SPATIAL_FILTER', '5 F3', '330 F2', '100 AcDbFilter', '100 AcDbSpatialFilter', `70 ${corners.length}`],
  ...corners.flatMap(([x, y]) => [`10 ${x}`, `20 ${y}`]),
  ...['210 0', '220 0', '230 1', '11 0', '21 0', '31 0', '71 1', '72 0', '73 0'],
  ...more,
  ...rows.map((n) => `40 ${n}`),
  ...ROWS.map((n) => `40 ${n}`),
];

const line = (x0: number, y0: number, x1: number, y1: number): string[] => [
  ...['0 LINE', '8 W', `10 ${x0}`, `20 ${y0}`, `11 ${x1}`, `21 ${y1}`],
];
const text = (x: number, y: number, what: string): string[] => [
  ...['0 TEXT', '8 N', `10 ${x}`, `20 ${y}`, '40 1', `1 ${what}`],
];
const BLOCK = [
  ...['0 BLOCK', '2 B', '70 0', '10 0', '20 0', ...line(0, 0, 100, 0), ...line(200, 0, 300, 0), ...line(0, 5, 20, 5)],
  ...[...text(10, 10, 'in'), ...text(90, 10, 'out')],
  ...['0 ENDBLK'],
];
const insertAt = (x: number, more: readonly string[] = []): string[] => [
  ...['0 INSERT', '5 AA', '102 {ACAD_XDICTIONARY', '360 F1', '102 }', '8 0', '2 B', `10 ${x}`, '20 0', ...more],
];
const clipped = (insert: readonly string[], objects: readonly string[]) =>
  readText(r12(insert, BLOCK).replace('  0\nEOF\n', dxf(['0 SECTION', '2 OBJECTS', ...objects, '0 ENDSEC', '0 EOF'])));
const xs = (drawing: { readonly paths: readonly { readonly vertices: readonly { readonly x: number }[] }[] }) =>
  drawing.paths.map((p) => p.vertices.map((v) => Math.round(v.x * 1e6) / 1e6)).sort((a, b) => b[1]! - a[1]!);

describe('a clipped insert', () => {
  const RECTANGLE = [
    [1000, -10],
    [1050, 20],
  ] as const;

  it('shows what is inside its boundary, and says what was left out and cut', () => {
    const { drawing, findings } = clipped(insertAt(1000), filter(RECTANGLE));
    expect(xs(drawing)).toEqual([
      [1000, 1050],
      [1000, 1020],
    ]);
    expect(drawing.texts.map((t) => t.text)).toEqual(['in']);
    expect(codes(findings)).toEqual(['read.cut-at-clip']);
    expect(findings[0]!.message).toContain('2 entities (LINE 1, TEXT 1), cut at them 1 (LINE 1)');
    expect(drawing.inserts.map((i) => i.source)).toEqual(['AA']);
  });

  it('takes its boundary along when it was moved and turned since', () => {
    const { drawing } = clipped(insertAt(3000, ['50 90']), filter(RECTANGLE));
    expect(drawing.paths.map((p) => p.vertices.map((v) => Math.round(v.y))).sort()).toEqual([
      [0, 20],
      [0, 50],
    ]);
  });

  it('clips within a clipped insert to both boundaries', () => {
    const outer = ['0 BLOCK', '2 C', '70 0', '10 0', '20 0', ...insertAt(1000), '0 ENDBLK'];
    const second = filter(
      [
        [0, -10],
        [1030, 2],
      ],
      [],
      ROWS,
    ).map((tag) => tag.replace(/ F(\d)$/, ' E$1'));
    const insert = ['0 INSERT', '5 BB', '102 {ACAD_XDICTIONARY', '360 E1', '102 }', '8 0', '2 C', '10 0', '20 0'];
    const { drawing } = readText(
      r12(insert, [...BLOCK, ...outer]).replace(
        '  0\nEOF\n',
        dxf(['0 SECTION', '2 OBJECTS', ...filter(RECTANGLE), ...second, '0 ENDSEC', '0 EOF']),
      ),
    );
    expect(xs(drawing)).toEqual([[1000, 1030]]);
    expect(drawing.inserts.map((i) => i.source)).toEqual(['BB', 'BB/AA']);
  });

  it('is read whole, and it is said, where the boundary cannot be told', () => {
    const whole = [
      filter([
        [1000, 0],
        [1050, 20],
        [1050, 0],
        [1000, 20],
      ]),
      filter(RECTANGLE).map((tag) => (tag === '72 0' ? '72 1' : tag)),
      filter(RECTANGLE).map((tag) => (tag === '230 1' ? '230 -1' : tag)),
      filter(RECTANGLE).slice(0, -1),
      filter([[1000, 0]]),
      [...filter(RECTANGLE).slice(0, -2), '40 2', '40 0'],
      filter(RECTANGLE).flatMap((tag) => (tag === '5 F3' ? [tag, '102 {ACAD_XDICTIONARY', '360 99', '102 }'] : [tag])),
      filter(RECTANGLE).map((tag) => (tag === '360 F3' ? '360 F9' : tag)),
    ];
    for (const objects of whole) {
      const { drawing, findings } = clipped(insertAt(1000), objects);
      expect(drawing.paths.length).toBe(3);
      expect(codes(findings)).toEqual(['read.clipped']);
    }
    const off = filter(RECTANGLE).map((tag) => (tag === '71 1' ? '71 0' : tag));
    expect(codes(clipped(insertAt(1000), off).findings)).toEqual([]);
  });
});
