/** What each kind of entity becomes. Group codes and meanings: DXF reference, 'Entities'. */

import { describe, expect, it } from 'vitest';
import { codes, dxf, r12, readText } from './samples.js';

const paths = (entities: readonly string[], blocks: readonly string[] = []) =>
  readText(r12(entities, blocks)).drawing.paths;

const vertices = (entities: readonly string[]): number[][] =>
  paths(entities).flatMap((p) => p.vertices.map((v) => [v.x, v.y, v.bulge].map((n) => Math.round(n * 1e9) / 1e9 + 0)));

const MIRRORED = ['210 0', '220 0', '230 -1'];

describe('linework', () => {
  it('LINE keeps its ends and level', () => {
    const [line] = paths(['0 LINE', '5 2a', '8 WALL', '10 1', '20 2', '30 7', '11 3', '21 4', '31 9']);
    expect(line).toMatchObject({
      source: '2A',
      entity: 'LINE',
      layer: 'WALL',
      blocks: [],
      vertices: [
        { x: 1, y: 2, bulge: 0 },
        { x: 3, y: 4, bulge: 0 },
      ],
      closed: false,
      elevation: 7,
    });
  });

  it('ARC of a quarter turn has the bulge tan(90/4), anticlockwise', () => {
    const arc = ['0 ARC', '10 0', '20 0', '40 10', '50 0', '51 90'];
    expect(vertices(arc)).toEqual([
      [10, 0, 0.414213562],
      [0, 10, 0],
    ]);
    // Seen from below (extrusion 0, 0, -1) x is mirrored and the arc runs clockwise.
    expect(vertices([...arc, ...MIRRORED])).toEqual([
      [-10, 0, -0.414213562],
      [0, 10, 0],
    ]);
  });

  it('ARC over 0 degrees and of more than half a turn', () => {
    expect(vertices(['0 ARC', '10 0', '20 0', '40 1', '50 270', '51 90'])).toEqual([
      [0, -1, 1],
      [0, 1, 0],
    ]);
    const half = Math.round(Math.SQRT1_2 * 1e9) / 1e9;
    expect(vertices(['0 ARC', '10 0', '20 0', '40 1', '50 0', '51 270'])).toEqual([
      [1, 0, 0.668178638],
      [-half, half, 0.668178638],
      [0, -1, 0],
    ]);
  });

  it('CIRCLE is two half turns', () => {
    expect(vertices(['0 CIRCLE', '10 5', '20 1', '40 2'])).toEqual([
      [7, 1, 1],
      [3, 1, 1],
    ]);
  });

  it('LWPOLYLINE with widths, ids, a comment and a late constant width keeps all vertices and bulges', () => {
    const line = [
      '0 LWPOLYLINE',
      '90 3',
      '70 1',
      '38 4',
      '10 0',
      '20 0',
      '40 0',
      '41 0',
      '42 1',
      '91 7',
      '10 2',
      '20 0',
    ];
    const [path] = paths([...line, '999 a comment', '43 0', '10 2', '20 5', '42 -0.5', '91 9']);
    expect(path).toMatchObject({ closed: true, elevation: 4 });
    expect(path!.vertices).toEqual([
      { x: 0, y: 0, bulge: 1 },
      { x: 2, y: 0, bulge: 0 },
      { x: 2, y: 5, bulge: -0.5 },
    ]);
  });

  const vertex = (x: number, y: number, ...more: string[]) => ['0 VERTEX', '8 0', `10 ${x}`, `20 ${y}`, ...more];

  it('POLYLINE with bulge; control points of a spline frame left out', () => {
    const line = ['0 POLYLINE', '5 7', '66 1', '10 0', '20 0', '30 3', '70 4'];
    const [path] = paths([
      ...line,
      ...vertex(9, 9, '70 16'),
      ...vertex(0, 0, '42 0.5', '70 8'),
      ...vertex(4, 0),
      '0 SEQEND',
    ]);
    expect(path).toMatchObject({ source: '7', closed: false, elevation: 3 });
    expect(path!.vertices).toEqual([
      { x: 0, y: 0, bulge: 0.5 },
      { x: 4, y: 0, bulge: 0 },
    ]);
  });

  it('a POLYLINE in space keeps its own levels and does not heed the extrusion', () => {
    const line = ['0 POLYLINE', '66 1', '70 9', ...MIRRORED];
    const [path] = paths([...line, ...vertex(1, 0, '30 5', '42 1'), ...vertex(4, 0, '30 6'), '0 SEQEND']);
    expect(path).toMatchObject({ closed: true, elevation: 5 });
    expect(path!.vertices.map((v) => [v.x, v.bulge])).toEqual([
      [1, 0],
      [4, 0],
    ]);
  });

  it('meshes are counted and not read', () => {
    const { drawing } = readText(r12(['0 POLYLINE', '66 1', '70 64', ...vertex(1, 1), '0 SEQEND']));
    expect([drawing.paths, drawing.unread]).toEqual([[], { POLYLINE: 1 }]);
  });

  it('SOLID runs round its corners', () => {
    const solid = ['0 SOLID', '10 0', '20 0', '11 4', '21 0', '12 0', '22 3', '13 4', '23 3'];
    expect(vertices(solid).map(([x, y]) => [x, y])).toEqual([
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ]);
  });

  it('an ELLIPSE of equal axes is an arc; others are chords on the curve, and said', () => {
    expect(vertices(['0 ELLIPSE', '10 0', '20 0', '11 2', '21 0', '40 1', '41 0', '42 3.141592653589793'])).toEqual([
      [2, 0, 1],
      [-2, 0, 0],
    ]);
    const { drawing, findings } = readText(r12(['0 ELLIPSE', '10 0', '20 0', '11 2', '21 0', '40 0.5']));
    expect(drawing.paths[0]!.closed).toBe(true);
    for (const v of drawing.paths[0]!.vertices) expect((v.x / 2) ** 2 + v.y ** 2).toBeCloseTo(1, 12);
    expect(codes(findings)).toEqual(['read.chords']);
  });

  it('a SPLINE that is a quarter circle (rational, degree 2) stays on the circle', () => {
    const w = Math.SQRT1_2;
    const spline = ['0 SPLINE', '70 4', '71 2', '72 6', '73 3', '40 0', '40 0', '40 0', '40 1', '40 1', '40 1'];
    const [path] = paths([...spline, '41 1', `41 ${w}`, '41 1', '10 1', '20 0', '10 1', '20 1', '10 0', '20 1']);
    expect(path!.vertices.length).toBe(17);
    for (const v of path!.vertices) expect(Math.hypot(v.x, v.y)).toBeCloseTo(1, 12);
  });

  it('an MLINE is one line for each element, at its offsets', () => {
    const at = (x: number, y: number, mx: number, my: number) => [
      `11 ${x}`, `21 ${y}`, '12 1', '22 0', `13 ${mx}`, `23 ${my}`, '74 1', '41 5', '75 0', '74 2', '41 -5', '41 0', '75 0',
    ]; // biome-ignore format: one vertex
    const lines = paths(['0 MLINE', '5 B', '71 1', '72 2', ...at(0, 0, 0, 1), ...at(10, 0, 0, 1)]);
    expect(lines.map((l) => [l.source, l.vertices.map((v) => v.y)])).toEqual([
      ['B', [5, 5]],
      ['B.2', [-5, -5]],
    ]);
  });

  it('edges of a HATCH that run against each other are joined, arcs turned about with them', () => {
    const line = (x0: number, y0: number, x1: number, y1: number) => [
      '72 1',
      `10 ${x0}`,
      `20 ${y0}`,
      `11 ${x1}`,
      `21 ${y1}`,
    ];
    // A half disc: its arc is given anticlockwise from (1, 0) to (-1, 0), its chord also from (1, 0).
    const arc = ['72 2', '10 0', '20 0', '40 1', '50 0', '51 180', '73 1'];
    const hatch = (...edges: string[][]) => ['0 HATCH', '91 1', '92 1', `93 ${edges.length}`, ...edges.flat(), '97 0'];
    expect(vertices(hatch(line(1, 0, -1, 0), arc))).toEqual([
      [1, 0, 0],
      [-1, 0, -1],
    ]);
    expect(paths(hatch(line(1, 0, -1, 0), arc))[0]!.closed).toBe(true);
    // A gap begins another outline.
    expect(paths(hatch(line(0, 0, 1, 0), line(5, 0, 6, 0))).map((p) => [p.source, p.closed])).toEqual([
      ['#1', false],
      ['#1.2', false],
    ]);
  });

  it('what has no length in plan is left out and said', () => {
    const upright = ['0 LINE', '10 1', '20 1', '30 0', '11 1', '21 1', '31 5'];
    const { drawing, findings } = readText(r12(upright));
    expect(drawing.paths).toEqual([]);
    expect(codes(findings)).toEqual(['read.no-extent']);
  });
});

describe('layers and visibility', () => {
  const table = (layers: readonly string[]): string =>
    dxf([
      '0 SECTION', '2 TABLES', '0 TABLE', '2 LAYER', '70 9', ...layers, '0 ENDTAB', '0 ENDSEC',
      '0 SECTION', '2 BLOCKS', '0 BLOCK', '2 B', '10 0', '20 0', '0 LINE', '8 0', '10 0', '20 0', '11 1', '21 0',
      '0 LINE', '8 own', '10 0', '20 5', '11 1', '21 5', '0 ENDBLK', '0 ENDSEC',
      '0 SECTION', '2 ENTITIES', '0 INSERT', '8 walls', '2 b', '10 0', '20 0', '0 INSERT', '8 Ice', '2 B', '10 0', '20 0',
      '0 LINE', '8 Walls', '60 1', '10 0', '20 0', '11 1', '21 0',
      '0 LINE', '8 Walls', '67 1', '10 0', '20 0', '11 1', '21 0', '0 ENDSEC', '0 EOF',
    ]); // biome-ignore format: one record a line
  const layer = (name: string, flags: number, colour: number) => [
    '0 LAYER',
    `2 ${name}`,
    `70 ${flags}`,
    `62 ${colour}`,
    '6 DASHED',
  ];
  const { drawing, findings } = readText(
    table([...layer('WALLS', 0, 7), ...layer('Ice', 1, 7), ...layer('OFF', 0, -7)]),
  );

  it('layer 0 in a block is the layer of the insert; names do not heed case', () => {
    expect(drawing.paths.map((p) => [p.layer, p.blocks])).toEqual([
      ['WALLS', ['B']],
      ['own', ['B']],
    ]);
  });

  it('frozen and off layers are not visible; unlisted ones are taken up', () => {
    expect(drawing.layers).toEqual([
      { name: '0', visible: true, lineType: 'CONTINUOUS' },
      { name: 'Ice', visible: false, lineType: 'DASHED' },
      { name: 'OFF', visible: false, lineType: 'DASHED' },
      { name: 'WALLS', visible: true, lineType: 'DASHED' },
      { name: 'own', visible: true, lineType: 'CONTINUOUS' },
    ]);
  });

  it('inserts on frozen layers, invisible and paper-space entities are left out and said', () => {
    expect(codes(findings)).toEqual(['read.invisible', 'read.paper-space']);
    expect(findings.find((f) => f.code === 'read.invisible')!.message).toContain('INSERT 1, LINE 1');
  });
});

describe('texts and dimensions', () => {
  it('TEXT stands at its second point when justified, and resolves its escapes', () => {
    const text = ['0 TEXT', '5 1', '40 2', '50 90', '1 T/W %%p0\\U+00B1', '10 1', '20 1', '72 1', '11 5', '21 6'];
    const [seen] = readText(r12(text)).drawing.texts;
    expect(seen).toMatchObject({ at: { x: 5, y: 6 }, height: 2, text: 'T/W ±0±' });
    expect(seen!.rotationRad).toBeCloseTo(Math.PI / 2, 12);
  });

  it('MTEXT joins its parts before it is decoded', () => {
    const [seen] = readText(
      r12(['0 MTEXT', '40 3', '10 1', '20 2', '3 {\\fA;one \\U+00', '1 B0}\\Ptwo', '11 0', '21 2']),
    ).drawing.texts;
    expect(seen).toMatchObject({ at: { x: 1, y: 2 }, text: 'one °\ntwo' });
    expect(seen!.rotationRad).toBeCloseTo(Math.PI / 2, 12);
  });

  const dimension = (...more: string[]) => ['0 DIMENSION', '2 *D1', '13 0', '23 0', '14 30', '24 40', ...more];
  const blocks = [
    '0 BLOCK',
    '2 *D1',
    '10 0',
    '20 0',
    '0 TEXT',
    '1 seen',
    '10 0',
    '20 0',
    '0 LINE',
    '10 0',
    '20 0',
    '11 9',
    '21 9',
    '0 ENDBLK',
  ];
  const dimensions = (more: readonly string[]) => readText(r12(dimension(...more), blocks)).drawing;

  it('measures along its own direction when rotated, straight when aligned', () => {
    const of = (...more: string[]) => dimensions(more).dimensions[0]!.measured;
    expect([of('70 0', '50 0'), of('70 32', '50 90'), of('70 1'), of('70 160', '50 180')]).toEqual([30, 40, 50, 30]);
  });

  it('the text is that of group 1, else what its block shows; a lone blank hides it', () => {
    const of = (...more: string[]) => dimensions(['70 1', ...more]).dimensions[0]!.text;
    expect([of('1 8'), of('1 '), of('1 <>'), of('1 <> TYP'), of(), of('1  ')]).toEqual([
      '8',
      'seen',
      'seen',
      'seen',
      'seen',
      null,
    ]);
  });

  it('the lines of its block are no linework; angles and radii are counted', () => {
    const drawing = dimensions(['70 4']);
    expect([drawing.paths, drawing.dimensions, drawing.unread]).toEqual([[], [], { DIMENSION: 1 }]);
  });
});

describe('numbers that are none', () => {
  it.each([
    ['a missing end', ['0 LINE', '10 0', '20 0']],
    ['NaN', ['0 LINE', '10 NaN', '20 0', '11 1', '21 1']],
    ['infinite', ['0 LINE', '10 1e999', '20 0', '11 1', '21 1']],
    ['beyond computing', ['0 LINE', '10 1e200', '20 0', '11 1', '21 1']],
    ['a radius of nothing', ['0 CIRCLE', '10 0', '20 0', '40 0']],
    ['a spline whose knots fall', ['0 SPLINE', '71 1', '40 0', '40 2', '40 1', '40 3', '10 0', '20 0', '10 1', '20 1']],
    ['a polyline without vertices', ['0 LWPOLYLINE', '90 20000000']],
    ['a hatch that promises more than it has', ['0 HATCH', '91 1', '92 2', '72 0', '73 1', '93 900', '10 0', '20 0']],
  ])('%s: left out, named and counted', (_, entity) => {
    const { drawing, findings } = readText(r12([...entity, '0 LINE', '10 0', '20 0', '11 1', '21 1']));
    expect(drawing.paths.length).toBe(1);
    expect(codes(findings)).toEqual(['read.bad-numbers']);
    expect(Object.keys(drawing.unread)).toEqual([entity[0]!.slice(2)]);
  });
});
