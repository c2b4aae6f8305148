/** One habit or fault each: what becomes a wall, what does not, and what a person is asked. */

import ClipperLib from 'clipper-lib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { Drawing, DrawingPath, DrawingText, TraceOptions } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { trace } from '../../src/trace/index.js';
import { drawingOf, FC, OPTIONS, pathOf, textOf } from './plans.js';

const p = (x: number, y: number): Vec => ({ x, y });
const WALL = 'S-FNDN-WALL';
let count = 0;
const name = (letter: string) => `${letter}${String(count++).padStart(4, '0')}`;
const line = (x0: number, y0: number, x1: number, y1: number, layer = WALL) =>
  pathOf([p(x0, y0), p(x1, y1)], name('L'), { layer });
const axis = (x0: number, y0: number, x1: number, y1: number) => line(x0, y0, x1, y1, 'CL');
const box = (x0: number, y0: number, x1: number, y1: number, more: Partial<DrawingPath> = {}) =>
  pathOf([p(x0, y0), p(x1, y0), p(x1, y1), p(x0, y1)], name('B'), more);
const wide = (points: readonly (readonly [number, number])[], width: number, closed = false) =>
  pathOf(
    points.map(([x, y]) => p(x, y)),
    name('W'),
    { entity: 'LWPOLYLINE', width, closed },
  );
const fill = (points: readonly (readonly [number, number])[], more: Partial<DrawingPath> = {}) =>
  pathOf(
    points.map(([x, y]) => p(x, y)),
    name('H'),
    { entity: 'HATCH', fill: 'ANSI31', closed: true, ...more },
  );
const rect = (x0: number, y0: number, x1: number, y1: number): [number, number][] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];
const note = (text: string, x: number, y: number): DrawingText => ({
  ...textOf(text, 180),
  source: name('T'),
  at: p(x, y),
});

const run = (paths: readonly DrawingPath[], options: Partial<TraceOptions> = {}, more: Partial<Drawing> = {}) => {
  const { value, findings } = trace(drawingOf(paths, more), { ...OPTIONS, unit: 'mm', ...options });
  const walls = value.stretches.map(
    (s) =>
      `${s.start.x},${s.start.y} ${s.end.x},${s.end.y} t${s.thicknessMm} ${Number(s.startCapped)}${Number(s.endCapped)}`,
  );
  const plan = shape(value, { gridMm: 1 }).value;
  const ofCode = (code: string) => findings.filter((f) => f.code === code);
  return {
    value,
    findings,
    walls,
    ofCode,
    codes: findings.map((f) => f.code),
    nodes: plan.nodes.map((n) => n.kind).sort(),
    plan,
  };
};

const CENTRES = { centreLineLayers: ['CL'], thicknessMm: 200 };
const house = () => [box(0, 0, 9000, 6000), box(300, 300, 8700, 5700)];
const HOUSE_WALLS = run(house()).walls;
const singles = () => [line(0, 0, 9000, 0), line(9000, 0, 9000, 6000), line(9000, 6000, 0, 6000), line(0, 6000, 0, 0)];

describe('single lines', () => {
  it('in a plan of double ones are no walls though a thickness is given; the question is asked at the line', () => {
    const r = run([...house(), line(3000, 300, 3000, 5700)], { thicknessMm: 200 });
    expect(r.walls).toEqual(HOUSE_WALLS);
    expect(r.ofCode('trace.single-lines')).toMatchObject([{ at: [3000, 3000, 0], severity: 'attention' }]);
    expect(r.codes).toContain('trace.line-alone');
  });

  it('make up a whole plan: with a thickness they are walls, without one a question', () => {
    const given = run(singles(), { thicknessMm: 250 });
    expect(given.walls).toEqual([
      '0,125 0,5875 t250 00',
      '125,0 8875,0 t250 00',
      '125,6000 8875,6000 t250 00',
      '9000,125 9000,5875 t250 00',
    ]);
    expect(given.nodes).toEqual(['corner', 'corner', 'corner', 'corner']);
    const asked = run(singles());
    expect(asked.walls).toEqual([]);
    expect(asked.ofCode('trace.single-lines')).toHaveLength(1);
  });

  it('on layers whose names say nothing are never walls', () => {
    const r = run(
      singles().map((l) => ({ ...l, layer: 'X1' })),
      { thicknessMm: 250 },
    );
    expect(r.walls).toEqual([]);
  });

  it('take the thickness of a text at them, of all texts, or of the name of their layer', () => {
    const own = [
      note('200 THK', 4500, 200),
      note('150 THK', 8800, 3000),
      note('200 THK', 4500, 6200),
      note('300 THK', -200, 3000),
    ];
    const thick = run(singles(), {}, { texts: own }).value.stretches.map((s) => s.thicknessMm);
    expect(thick.sort()).toEqual([150, 200, 200, 300]);
    const all = run(singles(), {}, { texts: [note('ALL WALLS 200 THK', 20000, 0)] });
    expect(all.value.stretches.map((s) => s.thicknessMm)).toEqual([200, 200, 200, 200]);
    const named = run(singles().map((l) => ({ ...l, layer: 'S-FNDN-WALL-250' })));
    expect(named.value.stretches.map((s) => s.thicknessMm)).toEqual([250, 250, 250, 250]);
    for (const r of [all, named]) expect(r.ofCode('trace.centre-walls')[0]!.severity).toBe('attention');
  });

  it('of which only some have a thickness: each of the others is a failure at its place', () => {
    const r = run(singles(), {}, { texts: [note('200 THK', 4500, 200), note('150 THK', 8800, 3000)] });
    expect(r.value.stretches.map((s) => s.thicknessMm)).toEqual([200, 150]);
    expect(r.ofCode('trace.centre-thickness').map((f) => f.at?.slice(0, 2))).toEqual([
      [0, 3000],
      [4500, 6000],
    ]);
  });
});

describe('centre lines', () => {
  it('of which nothing says how thick: a failure that asks', () => {
    const r = run([axis(0, 0, 8000, 0)], { centreLineLayers: ['CL'] });
    expect(r.walls).toEqual([]);
    expect(r.ofCode('trace.centre-thickness')).toMatchObject([{ severity: 'failure', at: [4000, 0, 0] }]);
  });

  it('the job file goes before a text, and the conflict is said', () => {
    const r = run([axis(0, 0, 8000, 0)], CENTRES, { texts: [note('300 THK', 4000, 200)] });
    expect(r.walls).toEqual(['0,0 8000,0 t200 11']);
    expect(r.ofCode('trace.thickness-differs')).toHaveLength(1);
  });

  it('cross, and meet in tees at any angle', () => {
    expect(run([axis(0, 0, 8000, 0), axis(4000, -3000, 4000, 3000)], CENTRES).nodes).toEqual([
      'cross',
      'end',
      'end',
      'end',
      'end',
    ]);
    expect(run([axis(0, 0, 8000, 0), axis(4000, 0, 6000, 2384)], CENTRES).nodes).toEqual(['end', 'end', 'end', 'tee']);
  });

  it('closer than a wall is thick stay two walls with air between', () => {
    const r = run([axis(0, 0, 8000, 0), axis(0, 300, 8000, 300), axis(0, 600, 8000, 600)], CENTRES);
    expect(r.walls).toEqual(['0,0 8000,0 t200 11', '0,300 8000,300 t200 11', '0,600 8000,600 t200 11']);
  });

  it('whose walls lie in one another are said', () => {
    expect(run([axis(0, 0, 8000, 0), axis(0, 120, 8000, 120)], CENTRES).ofCode('trace.axes-alongside')).toHaveLength(1);
  });

  it('go on as one wall over a step aside that nobody builds', () => {
    const r = run([axis(0, 0, 4000, 0), axis(4000, 12, 8000, 12)], CENTRES);
    expect(r.walls).toEqual(['0,0 8000,0 t200 11']);
    expect(r.ofCode('trace.axis-moved')).toHaveLength(1);
    // At a change of thickness the axes may part by half of it: the faces on one side are flush.
    const flush = run([wide([[0, 0], [4000, 0]], 200), wide([[4000, 25], [8000, 25]], 250)]); // biome-ignore format: one row
    expect(flush.walls).toEqual(['0,0 4000,0 t200 10', '4000,25 8000,25 t250 01']);
  });

  it('drawn twice, a little apart, are one wall', () => {
    const r = run([axis(0, 0, 8000, 0), axis(0, 10, 7900, 10)], CENTRES);
    expect(r.walls).toEqual(['0,0 8000,0 t200 11']);
    expect(r.codes).not.toContain('trace.axes-alongside');
  });

  it.each([
    ['at its face', 300, 5700],
    ['at its axis', 150, 5850],
    ['at its far face', 0, 6000],
    ['a little off', 310, 5860],
  ])('end at the faces of walls drawn by two lines, drawn to stop %s', (_, from, to) => {
    const r = run([...house(), axis(4000, from, 4000, to)], CENTRES);
    expect(r.walls).toEqual([...HOUSE_WALLS, '4000,300 4000,5700 t200 11'].sort());
    expect(r.nodes).toEqual(['corner', 'corner', 'corner', 'corner', 'tee', 'tee']);
  });

  it('within walls that are drawn by two lines add nothing', () => {
    const r = run([...house(), axis(150, 150, 8850, 150), axis(8850, 150, 8850, 5850)], {
      ...CENTRES,
      thicknessMm: 300,
    });
    expect(r.walls).toEqual(HOUSE_WALLS);
  });
});

describe('polylines with width', () => {
  it('drawn with a heavy pen in pairs are faces', () => {
    const r = run(house().map((b) => ({ ...b, width: 100 })));
    expect(r.walls).toEqual(HOUSE_WALLS);
    expect(r.ofCode('trace.width-no-wall')).toMatchObject([{ severity: 'attention' }]);
  });

  it('too thin or too broad for a wall are plain lines, and it is said', () => {
    const r = run([...house(), wide([[0, 9000], [5000, 9000]], 20), wide([[0, 12000], [5000, 12000]], 2000)]); // biome-ignore format: one row
    expect(r.walls).toEqual(HOUSE_WALLS);
    expect(r.ofCode('trace.width-no-wall')).toHaveLength(2);
    expect(r.ofCode('trace.line-alone')).toHaveLength(2);
  });

  it('of different widths meet in corners and tees', () => {
    const r = run([
      wide([[0, 0], [6000, 0]], 300),
      wide([[6000, 0], [6000, 5000]], 150),
      wide([[3000, 0], [3000, 4000]], 100),
    ]); // biome-ignore format: one row
    expect(r.walls).toEqual([
      '0,0 2950,0 t300 10',
      '3000,150 3000,4000 t100 01',
      '3050,0 5925,0 t300 00',
      '6000,150 6000,5000 t150 01',
    ]);
    expect(r.nodes).toEqual(['corner', 'end', 'end', 'end', 'tee']);
  });

  it('one over another: the thinner is the wall, the thicker its footing, and a person is asked to look', () => {
    const r = run([wide([[0, 0], [8000, 0]], 200), wide([[-200, 0], [8200, 0]], 600)]); // biome-ignore format: one row
    expect(r.walls).toEqual(['0,0 8000,0 t200 11']);
    expect(r.ofCode('trace.thickness-differs')).toHaveLength(1);
  });

  it('on layers whose names say nothing are only lines', () => {
    const border = { ...wide([[0, 0], [30000, 0], [30000, 20000], [0, 20000]], 100, true), layer: 'X1' }; // biome-ignore format: one row
    expect(run([border]).walls).toEqual([]);
  });

  it('with an arc give a curved wall between the straight ones', () => {
    const path = wide([[0, 0], [5000, 0], [8000, 3000], [8000, 8000]], 200); // biome-ignore format: one row
    const bent = path.vertices.map((v, i) => ({ ...v, bulge: i === 1 ? Math.tan(Math.PI / 8) : 0 }));
    const r = run([{ ...path, vertices: bent }]);
    expect(r.walls).toEqual(['0,0 5000,0 t200 10', '8000,3000 8000,8000 t200 01']);
    expect(r.value.curves).toMatchObject([{ radiusMm: 3000, thicknessMm: 200, startCapped: false, endCapped: false }]);
  });

  it('at any angles enclose the concrete of a mitred stroke', () => {
    const turns = fc.array(fc.tuple(fc.integer({ min: -100, max: 100 }), fc.integer({ min: 2500, max: 6000 })), {
      minLength: 2,
      maxLength: 5,
    });
    fc.assert(
      fc.property(turns, fc.integer({ min: 100, max: 400 }), (legs, t) => {
        let angle = 0;
        const points: [number, number][] = [[0, 0]];
        for (const [turn, length] of legs) {
          angle += (turn * Math.PI) / 180;
          const [x, y] = points.at(-1)!;
          points.push([x + length * Math.cos(angle), y + length * Math.sin(angle)]);
        }
        const stroke = strokeOf(points, t);
        // What runs into itself, or turns so little that it is one wall, is no matter here.
        fc.pre(stroke.rings === 1 && legs.slice(1).every(([turn]) => Math.abs(turn) > 3));
        const { plan, value } = run([wide(points, t)]);
        expect(value.stretches.length).toBe(points.length - 1);
        const area = plan.concrete.reduce((sum, ring) => sum + areaOf(ring), 0);
        // Shape puts faces on whole millimetres: up to 1 mm along either face.
        expect(Math.abs(area - stroke.areaMm2)).toBeLessThan((2 * stroke.areaMm2) / t + 1000);
      }),
      { ...FC, numRuns: Math.ceil(FC.numRuns / 2) },
    );
  });
});

const areaOf = (ring: readonly Vec[]): number =>
  ring.reduce((sum, a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    return sum + (a.x * b.y - b.x * a.y) / 2;
  }, 0);

/** The stroke by another's hand: clipper's offset of an open path with butt ends and mitred joints. */
const strokeOf = (points: readonly (readonly [number, number])[], t: number): { areaMm2: number; rings: number } => {
  const k = 1000;
  const offset = new ClipperLib.ClipperOffset(20, 0.25 * k);
  offset.AddPath(
    points.map(([x, y]) => ({ X: Math.round(x * k), Y: Math.round(y * k) })),
    ClipperLib.JoinType.jtMiter,
    ClipperLib.EndType.etOpenButt,
  );
  const out: ClipperLib.Paths = [];
  offset.Execute(out, (t / 2) * k);
  return { areaMm2: out.reduce((sum, r) => sum + ClipperLib.Clipper.Area(r), 0) / (k * k), rings: out.length };
};

describe('fills', () => {
  it('of slabs, soil, insulation and large pads are no walls', () => {
    const r = run([
      ...house(),
      fill(rect(300, 300, 8700, 5700)),
      fill(rect(0, 6000, 9000, 6200), { fill: 'EARTH' }),
      fill(rect(0, -60, 9000, 0)),
      fill(rect(3000, 3000, 4000, 4000)),
    ]);
    expect(r.walls).toEqual(HOUSE_WALLS);
    expect(r.ofCode('trace.fill-no-wall')).toHaveLength(3);
  });

  it('of columns are pads', () => {
    const r = run([...house(), fill(rect(3000, 3000, 3400, 3400)), fill(rect(5000, 3000, 5300, 3300))]);
    expect(r.walls).toEqual(HOUSE_WALLS);
    expect(r.ofCode('trace.pad')).toHaveLength(2);
  });

  it('that only mark the material within drawn faces change nothing', () => {
    const r = run([
      ...house(),
      fill(rect(1000, 0, 1500, 300)),
      fill(rect(0, 2000, 300, 2600)),
      fill(rect(4000, 0, 4300, 300)),
    ]);
    expect(r.codes).not.toContain('trace.fill-walls');
    expect(r.walls).toEqual(HOUSE_WALLS);
  });

  it('that stop at an opening leave it open', () => {
    const r = run([fill(rect(0, 0, 3000, 200)), fill(rect(3900, 0, 8000, 200))]);
    expect(r.walls).toEqual(['0,100 3000,100 t200 11', '3900,100 8000,100 t200 11']);
  });

  it('that stop short of each other are one wall, and it is said', () => {
    const r = run([fill(rect(0, 0, 3000, 200)), fill(rect(3005, 0, 8000, 200)), fill(rect(4000, 220, 4200, 3000))]);
    expect(r.nodes).toEqual(['end', 'end', 'end', 'tee']);
    expect(r.ofCode('trace.fill-seam')).toHaveLength(2);
  });

  it('that run on beyond the lines: the wall goes on and a person is asked to look', () => {
    const r = run([line(0, 0, 5000, 0), line(0, 200, 5000, 200), fill(rect(0, 0, 6500, 200))]);
    expect(r.value.stretches.map((s) => [s.start.x, s.end.x])).toEqual([[0, 6500]]);
    expect(r.ofCode('trace.fill-edge')).toHaveLength(2);
  });

  it('over walls drawn by polylines with width are evidence only', () => {
    const axes = wide(rect(100, 100, 8900, 5900), 200, true);
    const outer = fill(rect(0, 0, 9000, 6000));
    const hole = fill(rect(200, 200, 8800, 5800), { source: `${outer.source}.2` });
    expect(run([axes, outer, hole]).walls).toEqual(run([axes]).walls);
  });

  it('on layers named for the foundation as a whole may be footings: a person is asked to look', () => {
    const on = (layer: string) => [fill(rect(0, 0, 8000, 600), { layer }), { ...wide([[0, 3000], [8000, 3000]], 500), layer }]; // biome-ignore format: one row
    const said = (layer: string) => {
      const r = run(on(layer));
      return [...r.ofCode('trace.fill-walls'), ...r.ofCode('trace.width-walls')].map((f) => f.severity);
    };
    expect(said('S-FNDN')).toEqual(['attention', 'attention']);
    expect(said('S-FNDN-WALL')).toEqual(['note', 'note']);
  });

  it('do not depend on the order of the entities', () => {
    const paths = [
      ...house(),
      axis(4000, 150, 4000, 5850),
      fill(rect(0, 0, 9000, 300)),
      fill(rect(9000, 100, 12000, 300)),
      wide([[0, 9000], [5000, 9000]], 250), // biome-ignore format: one row
      line(0, 12000, 3000, 12000),
    ];
    const said = (list: readonly DrawingPath[]) => {
      const { value, findings } = run(list, CENTRES);
      return JSON.stringify([value, findings]);
    };
    expect(said([...paths].reverse())).toBe(said(paths));
  });
});
