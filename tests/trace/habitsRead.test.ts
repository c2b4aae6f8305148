/**
 * Habits of drawing from DXF text to walls: polylines with width, hatches, solids, multilines, centre lines with notes, walls in blocks and on
 * layers of bound references. Group codes: DXF reference, 'Entities'. Each case has its walls worked out by hand.
 */

import { describe, expect, it } from 'vitest';
import type { TraceOptions } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { trace } from '../../src/trace/index.js';
import { r12, readText } from '../read/samples.js';
import { OPTIONS } from './plans.js';

const WALL = 'S-FNDN-WALL';
type Place = readonly [number, number];

const run = (entities: readonly string[], options: Partial<TraceOptions> = {}, blocks: readonly string[] = []) => {
  const { drawing } = readText(r12(entities, blocks));
  const { value, findings } = trace(drawing, { ...OPTIONS, unit: 'mm', ...options });
  const walls = value.stretches.map((s) => {
    const [x0, y0, x1, y1] = [s.start.x, s.start.y, s.end.x, s.end.y].map((n) => Math.round(n * 10) / 10 + 0);
    return `${x0},${y0} ${x1},${y1} t${s.thicknessMm} ${Number(s.startCapped)}${Number(s.endCapped)}`;
  });
  const plan = shape(value, { gridMm: 1 });
  const nodes = plan.value.nodes.map((n) => n.kind).sort();
  return {
    walls,
    findings,
    codes: findings.map((f) => f.code),
    nodes,
    failures: plan.findings.filter((f) => f.severity === 'failure'),
  };
};

const line = (a: Place, b: Place, layer = WALL): string[] => [
  '0 LINE', `8 ${layer}`, `10 ${a[0]}`, `20 ${a[1]}`, `11 ${b[0]}`, `21 ${b[1]}`,
]; // biome-ignore format: one record
const lightPolyline = (points: readonly Place[], closed: boolean, more: readonly string[], layer = WALL): string[] => [
  '0 LWPOLYLINE', `8 ${layer}`, `90 ${points.length}`, `70 ${closed ? 1 : 0}`, ...more,
  ...points.flatMap(([x, y]) => [`10 ${x}`, `20 ${y}`]),
]; // biome-ignore format: one record
const box = (x0: number, y0: number, x1: number, y1: number): Place[] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];
const outline = (points: readonly Place[], layer = WALL) => lightPolyline(points, true, [], layer);
/** Polyline boundaries: external or not does not matter to what is filled. */
const hatch = (rings: readonly (readonly Place[])[], layer: string, pattern = 'ANSI31'): string[] => [
  '0 HATCH', `8 ${layer}`, '10 0', '20 0', '30 0', `2 ${pattern}`, '70 0', '71 0', `91 ${rings.length}`,
  ...rings.flatMap((ring) => [
    '92 2', '72 0', '73 1', `93 ${ring.length}`, ...ring.flatMap(([x, y]) => [`10 ${x}`, `20 ${y}`]), '97 0',
  ]),
  '75 0', '76 1',
]; // biome-ignore format: one record
const solid = ([a, b, c, d]: readonly Place[], layer = WALL): string[] => [
  '0 SOLID', `8 ${layer}`,
  // The third and fourth corner of a SOLID stand crosswise.
  ...[a!, b!, d!, c!].flatMap(([x, y], i) => [`${10 + i} ${x}`, `${20 + i} ${y}`]),
]; // biome-ignore format: one record
const text = (at: Place, words: string): string[] => [
  '0 TEXT', '8 S-ANNO', `10 ${at[0]}`, `20 ${at[1]}`, '40 180', `1 ${words}`,
]; // biome-ignore format: one record

/** A MLINE on an axis with elements at these offsets (left positive): each parameter is measured along the vertex' mitre. */
const mline = (axis: readonly Place[], closed: boolean, offsets: readonly number[]): string[] => {
  const n = axis.length;
  const unit = (a: Place, b: Place): Place => {
    const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
    return [(b[0] - a[0]) / l, (b[1] - a[1]) / l];
  };
  const vertices = axis.flatMap((at, i) => {
    const into = closed || i > 0 ? unit(axis[(i + n - 1) % n]!, at) : unit(at, axis[1]!);
    const out = closed || i + 1 < n ? unit(at, axis[(i + 1) % n]!) : into;
    // The mitre halves the angle between the two normals; along it an offset is longer by 1 / cos of half the turn.
    const sum: Place = [-into[1] - out[1], into[0] + out[0]];
    const size = Math.hypot(sum[0], sum[1]);
    const longer = 2 / size;
    return [
      `11 ${at[0]}`, `21 ${at[1]}`, '31 0', `12 ${out[0]}`, `22 ${out[1]}`, '32 0',
      `13 ${sum[0] / size}`, `23 ${sum[1] / size}`, '33 0',
      ...offsets.flatMap((o) => ['74 2', `41 ${o * longer}`, '41 0', '75 0']),
    ]; // biome-ignore format: one vertex
  });
  return [
    '0 MLINE', `8 ${WALL}`, '2 WALL', '40 1', '70 1', `71 ${closed ? 3 : 1}`, `72 ${n}`, `73 ${offsets.length}`, '10 0', '20 0', '30 0', ...vertices,
  ]; // biome-ignore format: one record
};

const RECTANGLE: Place[] = box(100, 100, 7900, 4900);
const RECTANGLE_WALLS = [
  '100,200 100,4800 t200 00',
  '200,100 7800,100 t200 00',
  '200,4900 7800,4900 t200 00',
  '7900,200 7900,4800 t200 00',
];
const FOUR_CORNERS = ['corner', 'corner', 'corner', 'corner'];

describe('polylines with width', () => {
  it('LWPOLYLINE with a constant width (43), closed', () => {
    const r = run(lightPolyline(RECTANGLE, true, ['43 200']));
    expect(r.walls).toEqual(RECTANGLE_WALLS);
    expect(r.nodes).toEqual(FOUR_CORNERS);
    expect(r.failures).toEqual([]);
    expect(r.codes).toContain('trace.width-walls');
  });

  it('POLYLINE of R12 with default widths (40, 41), an open U', () => {
    const points: Place[] = [
      [0, 3000],
      [0, 0],
      [5000, 0],
      [5000, 3000],
    ];
    const vertices = points.flatMap(([x, y]) => ['0 VERTEX', `8 ${WALL}`, `10 ${x}`, `20 ${y}`]);
    const r = run(['0 POLYLINE', `8 ${WALL}`, '66 1', '40 250', '41 250', ...vertices, '0 SEQEND']);
    expect(r.walls).toEqual(['0,125 0,3000 t250 01', '125,0 4875,0 t250 00', '5000,125 5000,3000 t250 01']);
    expect(r.nodes).toEqual(['corner', 'corner', 'end', 'end']);
  });
});

describe('hatches and solids', () => {
  it('one HATCH with an island on the layer for patterns', () => {
    const r = run(hatch([box(0, 0, 8000, 5000), box(200, 200, 7800, 4800)], `${WALL}-PATT`));
    expect(r.walls).toEqual(RECTANGLE_WALLS);
    expect(r.nodes).toEqual(FOUR_CORNERS);
  });

  it('SOLIDs that butt', () => {
    const r = run([
      ...solid(box(0, 0, 8000, 200)),
      ...solid(box(0, 200, 200, 5000)),
      ...solid(box(3000, 200, 3150, 4000)),
    ]);
    expect(r.walls).toEqual([
      '100,200 100,5000 t200 01',
      '200,100 3000,100 t200 00',
      '3075,200 3075,4000 t150 01',
      '3150,100 8000,100 t200 01',
    ]);
    expect(r.nodes).toEqual(['corner', 'end', 'end', 'end', 'tee']);
  });

  it('outlines with their hatch: the hatch adds nothing', () => {
    const rings = [box(0, 0, 8000, 5000), box(200, 200, 7800, 4800)];
    const r = run([...rings.flatMap((ring) => outline(ring)), ...hatch(rings, `${WALL}-PATT`)]);
    expect(r.walls).toEqual(RECTANGLE_WALLS);
    expect(r.codes).toContain('trace.fill-drawn');
    expect(r.codes).not.toContain('trace.duplicate');
  });

  it('two walls nearer than they are thick: the hatch tells concrete from air', () => {
    // Without the hatch the lines at 200 and 300 make a thin wall of the air between them.
    const faces = [0, 200, 300, 500].flatMap((y) => line([0, y], [5000, y]));
    const fills = [...hatch([box(0, 0, 5000, 200)], WALL), ...hatch([box(0, 300, 5000, 500)], WALL)];
    expect(run([...faces, ...fills]).walls).toEqual(['0,100 5000,100 t200 00', '0,400 5000,400 t200 00']);
    const between = hatch([box(0, 200, 5000, 300)], WALL);
    expect(run([...faces, ...between]).walls).toEqual(['0,250 5000,250 t100 00']);
  });
});

describe('centre lines', () => {
  it('a layer of the job file with notes of thickness at the lines', () => {
    const r = run(
      [
        ...line([0, 0], [8000, 0], 'CL'),
        ...line([4000, 0], [4000, 5000], 'CL'),
        ...text([1000, 200], '300 THK'),
        ...text([4200, 2500], '200 THK'),
      ],
      { centreLineLayers: ['CL'] },
    );
    expect(r.walls).toEqual(['0,0 3900,0 t300 10', '4000,150 4000,5000 t200 01', '4100,0 8000,0 t300 01']);
    expect(r.nodes).toEqual(['end', 'end', 'end', 'tee']);
    expect(r.codes.filter((c) => c === 'trace.centre-walls')).toHaveLength(2);
  });
});

describe('multilines', () => {
  it('two elements, open, round a corner', () => {
    const axis: Place[] = [
      [0, 0],
      [5000, 0],
      [5000, 4000],
    ];
    const r = run(mline(axis, false, [100, -100]));
    expect(r.walls).toEqual(['0,0 4900,0 t200 00', '5000,100 5000,4000 t200 00']);
    expect(r.nodes).toEqual(['corner', 'end', 'end']);
  });

  it('closed, and at any corner angle', () => {
    expect(run(mline(RECTANGLE, true, [100, -100])).walls).toEqual(RECTANGLE_WALLS);
    const triangle: Place[] = [
      [0, 0],
      [6000, 0],
      [0, 8000],
    ];
    const r = run(mline(triangle, true, [100, -100]));
    expect(r.walls).toHaveLength(3);
    expect(r.nodes).toEqual(['corner', 'corner', 'corner']);
  });

  it('three elements: the middle one is the centre line', () => {
    const r = run(mline(RECTANGLE, true, [100, 0, -100]));
    expect(r.walls).toEqual(RECTANGLE_WALLS);
    expect(r.codes).toContain('trace.centre-line');
  });

  it('justified to one face: no element on the axis', () => {
    const r = run(mline(box(0, 0, 8000, 5000), true, [0, 200]));
    expect(r.walls).toEqual(RECTANGLE_WALLS);
  });

  it('two that meet in a tee, the stem up to the face of the other', () => {
    const through: Place[] = [
      [0, 0],
      [8000, 0],
    ];
    const stem: Place[] = [
      [4000, 100],
      [4000, 3000],
    ];
    const r = run([...mline(through, false, [100, -100]), ...mline(stem, false, [75, -75])]);
    expect(r.nodes).toEqual(['end', 'end', 'end', 'tee']);
  });
});

describe('walls in blocks', () => {
  const block = (name: string, entities: readonly string[]): string[] => [
    '0 BLOCK', `2 ${name}`, '8 0', '70 0', '10 0', '20 0', ...entities, '0 ENDBLK',
  ]; // biome-ignore format: one record
  const insert = (name: string, layer: string, ...more: readonly string[]): string[] => [
    '0 INSERT',
    `8 ${layer}`,
    `2 ${name}`,
    ...more,
  ];
  const house = (layer: string) => [
    ...outline(box(0, 0, 8000, 5000), layer),
    ...outline(box(200, 200, 7800, 4800), layer),
  ];

  it('on layer 0 take the layer of the insert, in any nesting', () => {
    const blocks = [...block('HOUSE', house('0')), ...block('SITE', insert('HOUSE', '0', '10 1000', '20 500'))];
    const r = run(insert('SITE', WALL, '10 -1000', '20 -500'), {}, blocks);
    expect(r.walls).toEqual(RECTANGLE_WALLS);
  });

  it('mirrored, turned and scaled', () => {
    const blocks = [
      ...block('HALF', lightPolyline(box(50, 50, 3950, 2450), true, ['43 100'], WALL)),
      ...block('OUT', house(WALL)),
    ];
    // Twice as large and mirrored in x about 8000.
    expect(run(insert('HALF', '0', '10 8000', '20 0', '41 -2', '42 2'), {}, blocks).walls).toEqual(RECTANGLE_WALLS);
    // A quarter turn: what ran along x runs along y.
    const turned = run(insert('OUT', '0', '10 5000', '20 0', '50 90'), {}, blocks);
    expect(turned.walls).toEqual([
      '100,200 100,7800 t200 00',
      '200,100 4800,100 t200 00',
      '200,7900 4800,7900 t200 00',
      '4900,200 4900,7800 t200 00',
    ]);
  });

  it('a wide polyline scaled unevenly has no one width: it is no wall, and the reader says so', () => {
    const blocks = block(
      'WIDE',
      lightPolyline(
        [
          [0, 0],
          [4000, 0],
        ],
        false,
        ['43 200'],
      ),
    );
    const { drawing, findings } = readText(r12(insert('WIDE', '0', '10 0', '20 0', '41 2', '42 1'), blocks));
    expect(drawing.paths.map((p) => p.width)).toEqual([0]);
    expect(findings.map((f) => f.code)).toContain('read.width-differs');
    expect(trace(drawing, { ...OPTIONS, unit: 'mm' }).value.stretches).toEqual([]);
  });

  it('on layers of a bound reference: wall layers, hatch layers and centre lines are known with their prefix', () => {
    const prefixed = (entities: readonly string[]) =>
      entities.map((e) => (e.startsWith('8 ') ? `8 found$0$${e.slice(2)}` : e));
    expect(run(prefixed(house(WALL))).walls).toEqual(RECTANGLE_WALLS);
    const fill = hatch([box(0, 0, 8000, 5000), box(200, 200, 7800, 4800)], `${WALL}-PATT`);
    expect(run(prefixed(fill)).walls).toEqual(RECTANGLE_WALLS);
    const axes = outline(RECTANGLE, 'CL');
    expect(run(prefixed(axes), { centreLineLayers: ['CL'], thicknessMm: 200 }).walls).toEqual(RECTANGLE_WALLS);
  });
});
