/** Several drawings in one model space. Scenes in mm with lettering of 250 (2.5 mm at 1:100) unless a test says otherwise. */

import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { Drawing, DrawingDimension, DrawingPath, DrawingText, TraceOptions } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import { readScale, readTitle } from '../../src/trace/views/titles.js';
import { drawingOf, OPTIONS, pathOf, textOf } from './plans.js';

const ring = (x: number, y: number, w: number, d: number): Vec[] => [
  { x, y },
  { x: x + w, y },
  { x: x + w, y: y + d },
  { x, y: y + d },
];

let n = 0;
const house = (x: number, y: number, w = 9000, d = 6000, layer = 'S-FNDN-WALL', t = 200): DrawingPath[] => [
  pathOf(ring(x, y, w, d), `H${n++}`, { layer }),
  pathOf(ring(x + t, y + t, w - 2 * t, d - 2 * t), `H${n++}`, { layer }),
];
/** A wall on its footing, cut: both wall faces, the footing, the ground. */
const section = (x: number, y: number, k = 1, layer = 'S-FNDN-WALL'): DrawingPath[] => [
  pathOf(ring(x + 400 * k, y + 300 * k, 200 * k, 2400 * k), `S${n++}`, { layer }),
  pathOf(ring(x, y, 1000 * k, 300 * k), `S${n++}`, { layer }),
];
const text = (words: string, x: number, y: number, height = 250): DrawingText => ({
  ...textOf(words, height),
  source: `T${n++}`,
  at: { x, y },
});
const dimension = (x: number, y: number, measured: number, words: string): DrawingDimension => ({
  textHeight: null,
  source: `D${n++}`,
  layer: 'A-DIMS',
  from: { x, y },
  to: { x: x + measured, y },
  measured,
  text: words,
});
const note = (x: number, y: number) => text('TYPICAL NOTE', x, y);

const seen = (paths: DrawingPath[], more: Partial<Drawing> = {}, options: Partial<TraceOptions> = {}) => {
  const { value, findings } = trace(drawingOf(paths, more), { ...OPTIONS, ...options });
  const xs = value.stretches.flatMap((s) => [s.start.x, s.end.x]);
  const ys = value.stretches.flatMap((s) => [s.start.y, s.end.y]);
  return {
    count: value.stretches.length,
    box: xs.length === 0 ? null : [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
    chosen: value.views.filter((v) => v.chosen).length,
    views: value.views,
    said: findings.filter((f) => f.code.startsWith('trace.view')),
  };
};
const HOUSE = [100, 100, 8900, 5900];

describe('titles', () => {
  // MEMORY and SEEN forms of titles in plans; other languages: common words, no source.
  it.each([
    ['FOUNDATION PLAN', 'foundation plan'],
    ['1 FOUNDATION PLAN', 'foundation plan'],
    ['FOUNDATION PLAN\nSCALE: 1/4"=1\'-0"', 'foundation plan'],
    ['BASEMENT & FOUNDATION PLAN', 'foundation plan'],
    ['GRUNDRISS KG', 'foundation plan'],
    ['Fundamentplan M 1:50', 'foundation plan'],
    ['KELLERGESCHOSS', 'foundation plan'],
    ['PLAN DES FONDATIONS', 'foundation plan'],
    ['Plan du sous-sol', 'foundation plan'],
    ['PIANTA FONDAZIONI', 'foundation plan'],
    ['PLANTA DE CIMENTACIÓN', 'foundation plan'],
    ['Funderingsplan', 'foundation plan'],
    ['План фундаментов', 'foundation plan'],
    ['基础平面布置图', 'foundation plan'],
    ['FLOOR PLAN', 'plan'],
    ['GRUNDRISS EG', 'plan'],
    ['ROOF FRAMING PLAN', 'plan'],
    ['SECTION A-A', 'section'],
    ['TYPICAL WALL SECTION', 'detail'],
    ['SCHNITT A-A', 'section'],
    ['COUPE B-B', 'section'],
    ['DETAIL 3', 'detail'],
    ['FOOTING DETAIL', 'detail'],
    ['FRONT ELEVATION', 'elevation'],
    ['SÜDANSICHT', 'elevation'],
    ['FOOTING SCHEDULE', 'schedule'],
    ['GENERAL NOTES', 'schedule'],
  ])('%j is the title of a %s', (words, kind) => {
    expect(readTitle(words)?.kind).toBe(kind);
  });

  it.each([
    'SEE FOUNDATION PLAN',
    'SEE DETAIL 3/S2',
    'TOP OF FOOTING ELEVATION',
    'ELEVATION 98\'-6"',
    'ELEV. 100.00',
    'T.O.W. ELEV. +0.00',
    '8" CONC. WALL',
    'KITCHEN',
    '200 THK',
    'siehe Schnitt A-A',
    'THE CONTRACTOR SHALL VERIFY ALL DIMENSIONS ON THE FOUNDATION PLAN BEFORE WORK BEGINS',
  ])('%j is no title', (words) => {
    expect(readTitle(words)).toBeNull();
  });

  it.each([
    ['SCALE 1:50', 50],
    ['M 1:100', 100],
    ['1:20', 20],
    ['SCALE: 1/4"=1\'-0"', 48],
    ['1 1/2" = 1\'-0"', 8],
    ['3/4"=1\'-0"', 16],
    ['2:1 MAX SLOPE', null],
    ['MIX 1:2:4', null],
    ['8"', null],
  ])('scale of %j', (words, scale) => {
    expect(readScale(words)).toBe(scale);
  });
});

describe('views', () => {
  it('a single plan is one view and nothing is said', () => {
    const found = seen(house(0, 0), { texts: [text('FOUNDATION PLAN', 3000, -900, 500), note(3000, 3000)] });
    expect(found).toMatchObject({ count: 4, chosen: 1, said: [] });
    expect(found.views.length).toBe(1);
    expect(found.views[0]!.title).toBe('FOUNDATION PLAN');
  });

  it('a titled section beside the plan is left out, with its place', () => {
    const paths = [...house(0, 0), ...section(14000, 1000)];
    const texts = [
      text('FOUNDATION PLAN', 3000, -900, 500),
      text('SECTION A-A', 13800, 300, 400),
      note(3000, 3000),
      note(14000, 4500),
    ];
    const found = seen(paths, { texts });
    expect(found).toMatchObject({ count: 4, box: HOUSE, chosen: 1 });
    expect(found.said.map((f) => f.code)).toEqual(['trace.view']);
    expect(found.said[0]!.message).toMatch(/Left out: "SECTION A-A" \[14000, 1000, 15000, 3700\]/);
  });

  it('house and garage in one plan both stay, titled or not', () => {
    const paths = [...house(0, 0), ...house(15000, 0, 6000, 6000)];
    const bare = seen(paths, { texts: [note(3000, 3000)] });
    expect(bare).toMatchObject({ count: 8, said: [] });
    const titled = seen(paths, { texts: [note(3000, 3000), text('FOUNDATION PLAN', 4000, -900, 500)] });
    expect(titled.count).toBe(8);
    expect(titled.said.map((f) => f.code)).toEqual(['trace.view-doubtful']);
  });

  it('a dimension from the house to the garage makes them one view', () => {
    const paths = [...house(0, 0), ...house(15000, 0, 6000, 6000)];
    const texts = [note(3000, 3000), text('FOUNDATION PLAN', 4000, -900, 500)];
    const found = seen(paths, { texts, dimensions: [dimension(9000, 0, 6000, '6000')] });
    expect(found).toMatchObject({ count: 8, chosen: 1, said: [] });
  });

  it.each([
    ['FLOOR PLAN', 'A-WALL'],
    ['ERDGESCHOSS GRUNDRISS', 'S-FNDN-WALL'],
  ])('of a foundation plan and "%s" on %s the foundation is taken', (title, layer) => {
    const paths = [...house(0, 0), ...house(20000, 0, 9000, 6000, layer, 150)];
    const texts = [text('FOUNDATION PLAN', 3000, -900, 500), text(title, 23000, -900, 500), note(3000, 3000)];
    expect(seen(paths, { texts })).toMatchObject({ count: 4, box: HOUSE, chosen: 1 });
  });

  it('works the same on layers without a telling name', () => {
    const paths = [
      ...house(0, 0, 9000, 6000, '0'),
      ...house(20000, 0, 9000, 6000, '0', 150),
      ...section(40000, 0, 1, '0'),
    ];
    const texts = [
      text('GRUNDRISS KG', 3000, -900, 500),
      text('GRUNDRISS EG', 23000, -900, 500),
      text('SCHNITT A-A', 40000, -900, 500),
      note(3000, 3000),
    ];
    expect(seen(paths, { texts })).toMatchObject({ count: 4, box: HOUSE, chosen: 1 });
  });

  it('without a foundation plan the lowest storey is taken, as an assumption', () => {
    const paths = [...house(0, 0, 9000, 6000, 'A-WALL'), ...house(20000, 0, 8000, 6000, 'A-WALL')];
    const texts = [text('GROUND FLOOR PLAN', 3000, -900, 500), text('SECOND FLOOR PLAN', 23000, -900, 500), note(1, 1)];
    const found = seen(paths, { texts });
    expect(found).toMatchObject({ count: 4, box: HOUSE });
    expect(found.said.map((f) => f.code).sort()).toEqual(['trace.view', 'trace.view-doubtful']);
  });

  it('of two untitled plans of one outline the one with footings is taken, and the question asked', () => {
    const inner = (x: number) => [
      pathOf(
        [
          { x: x + 4000, y: 200 },
          { x: x + 4000, y: 5800 },
        ],
        `I${n++}`,
        { layer: 'WALLS' },
      ),
      pathOf(
        [
          { x: x + 4200, y: 200 },
          { x: x + 4200, y: 5800 },
        ],
        `I${n++}`,
        { layer: 'WALLS' },
      ),
    ];
    const upper = [...house(20000, 0, 9000, 6000, 'WALLS'), ...inner(20000)];
    const lower = [
      ...house(0, 0, 9000, 6000, 'WALLS'),
      pathOf(ring(-300, -300, 9600, 6600), 'F1', { layer: 'FOOTINGS' }),
    ];
    const found = seen([...upper, ...lower], { texts: [note(1, 1)] });
    expect(found).toMatchObject({ count: 4, box: HOUSE, chosen: 1 });
    expect(found.said.map((f) => f.code).sort()).toEqual(['trace.view', 'trace.view-doubtful']);
  });

  it('two equal houses both stay, and the question is asked', () => {
    const found = seen([...house(0, 0), ...house(16000, 0)], { texts: [note(1, 1)] });
    expect(found).toMatchObject({ count: 8, chosen: 2 });
    expect(found.said.map((f) => f.code)).toEqual(['trace.view-doubtful']);
  });

  it('a detail drawn ten times larger is known by its dimensions', () => {
    const paths = [...house(0, 0), ...section(15000, 0, 10)];
    const dimensions = [
      dimension(0, 0, 9000, '9.00'),
      dimension(0, 6000, 9000, '9.00'),
      dimension(19000, 3000, 2000, '0.20'),
      dimension(15000, 0, 10000, '1.00'),
    ];
    const found = seen(paths, { texts: [note(3000, 3000)], dimensions });
    expect(found).toMatchObject({ count: 4, box: HOUSE, chosen: 1 });
    expect(found.said[0]!.message).toMatch(/another scale/);
  });

  it('the border and the title block of a sheet are no view of their own', () => {
    const border = pathOf(ring(-4000, -6000, 42000, 29700), 'B1', { layer: '0' });
    const block = [0, 1, 2, 3].map((i) => pathOf(ring(28000, -5500 + i * 800, 9000, 800), `B${2 + i}`, { layer: '0' }));
    const texts = [
      text('FOUNDATION PLAN', 3000, -900, 500),
      text('SECTION A-A', 15800, -900, 500),
      text('FOUNDATION PLAN', 30000, -5200),
      text('DRAWN BY', 28100, -4400),
      text('SCALE', 28100, -3600),
      text('SHEET NO', 35000, -5200),
      text('DATE', 35000, -4400),
      note(3000, 3000),
    ];
    const paths = [border, ...block, ...house(0, 0, 9000, 6000, '0'), ...section(16000, 0, 1, '0')];
    expect(seen(paths, { texts })).toMatchObject({ count: 4, box: HOUSE });
  });

  it('an outer wall round rooms that stand apart is no border', () => {
    const rooms = [1000, 4000, 7000].map((x) => pathOf(ring(x, 2000, 1200, 1600), `R${x}`, { layer: 'S-FNDN-WALL' }));
    const inner = [1000, 4000, 7000].map((x) =>
      pathOf(ring(x + 200, 2200, 800, 1200), `Q${x}`, { layer: 'S-FNDN-WALL' }),
    );
    const texts = [text('FOUNDATION PLAN', 3000, -900, 500), text('CELLAR', 2600, 1000, 250), note(3000, 3000)];
    const found = seen([...house(0, 0), ...rooms, ...inner], { texts });
    expect(found).toMatchObject({ count: 16, chosen: 1, said: [] });
  });

  it('a mark in the plan that names a section does not make the plan a section', () => {
    const texts = [text('SECTION A-A', 4000, 3000, 500), text('DETAIL 3', 5000, 2000, 500), note(3000, 3500)];
    expect(seen([...house(0, 0), ...house(15000, 0, 6000, 6000)], { texts }).count).toBe(8);
  });

  it('where all titles say section the lines still count, with a question', () => {
    const paths = [...house(0, 0), ...house(15000, 0, 6000, 6000)];
    const texts = [text('SECTION A-A', 3000, -600, 500), text('SECTION B-B', 16000, -600, 500), note(1, 1)];
    const found = seen(paths, { texts });
    expect(found.count).toBe(8);
    expect(found.said.map((f) => f.code)).toEqual(['trace.view-doubtful']);
  });

  it('titles above their views are understood when all stand so', () => {
    // The section below the plan has its title between the two, nearer to the plan.
    const paths = [...house(0, 10000, 9000, 6000, '0'), ...section(3000, 5000, 1, '0')];
    const texts = [text('GRUNDRISS KG', 1000, 16900, 400), text('SCHNITT A-A', 3000, 8300, 400), note(2000, 13000)];
    expect(seen(paths, { texts })).toMatchObject({ count: 4, box: [100, 10100, 8900, 15900], chosen: 1 });
  });

  it('axes that run through plan and section join nothing', () => {
    const axis = (x: number) =>
      pathOf(
        [
          { x, y: -7000 },
          { x, y: 8000 },
        ],
        `G${n++}`,
        { layer: 'S-GRID' },
      );
    const paths = [...house(0, 0), ...section(3000, -6000), axis(100), axis(3400), axis(8900)];
    const texts = [text('FOUNDATION PLAN', 3000, -1200, 500), text('SECTION A-A', 3000, -6900, 400), note(3000, 3000)];
    expect(seen(paths, { texts })).toMatchObject({ count: 4, box: HOUSE, chosen: 1 });
  });

  it('titles on layers that are off say nothing', () => {
    const paths = [...house(0, 0), ...house(20000, 0, 7000, 5000)];
    const texts = [{ ...text('SECTION A-A', 22000, -600, 500), layer: 'OFF' }, note(3000, 3000)];
    const layers = [
      { name: 'S-FNDN-WALL', visible: true, lineType: 'CONTINUOUS' },
      { name: 'OFF', visible: false, lineType: 'CONTINUOUS' },
    ];
    expect(seen(paths, { texts, layers })).toMatchObject({ count: 8, said: [] });
  });

  it('the area of the job file overrides', () => {
    const paths = [...house(0, 0), ...house(20000, 0, 9000, 6000, 'A-WALL', 150)];
    const texts = [text('FOUNDATION PLAN', 3000, -900, 500), text('FLOOR PLAN', 23000, -900, 500), note(3000, 3000)];
    const found = seen(paths, { texts }, { area: [19000, -1000, 30000, 7000], wallLayers: ['A-WALL'] });
    expect(found).toMatchObject({ count: 4, chosen: 1, said: [] });
    expect(found.box![0]).toBe(20075);
  });

  it('does not depend on the order of entities, nor on the unit or the place', () => {
    const paths = [...house(0, 0), ...section(14000, 1000), ...house(30000, 0, 9000, 6000, 'A-WALL')];
    const texts = [
      text('FOUNDATION PLAN', 3000, -900, 500),
      text('SECTION A-A', 13800, 300, 400),
      text('PLAN', 33000, -900, 500),
    ];
    const first = seen(paths, { texts });
    expect(seen([...paths].reverse(), { texts: [...texts].reverse() })).toEqual(first);
    const moved = (v: Vec) => ({ x: v.x / 1000 + 3456789, y: v.y / 1000 + 5432100 });
    const far = trace(
      drawingOf(
        paths.map((p) => ({ ...p, vertices: p.vertices.map((v) => ({ ...moved(v), bulge: v.bulge })) })),
        {
          texts: texts.map((t) => ({ ...t, at: moved(t.at), height: t.height / 1000 })),
          declaredUnit: 'm',
          declaredUnitCode: 6,
        },
      ),
      OPTIONS,
    ).value;
    expect(far.views.map((v) => [v.title, v.chosen])).toEqual(first.views.map((v) => [v.title, v.chosen]));
    expect(far.stretches.length).toBe(4);
  });
});
