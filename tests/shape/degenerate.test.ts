/** Odd and broken input: what is said, what is assumed, and that nothing throws. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { facePoint } from '../../src/ground/plane.js';
import type { WallStretch } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { drawn, foundation, room, stretch } from './draw.js';

const GRID = { gridMm: 1 };
type Shaped = ReturnType<typeof shape>;
const codes = (r: Shaped) => r.findings.map((f) => f.code);
const only = (r: Shaped, code: string) => r.findings.filter((f) => f.code === code);
const kinds = (r: Shaped) => r.value.nodes.map((n) => n.kind).sort();
const free = [true, true] as const;

describe('input that is no wall', () => {
  it('no stretches: an empty plan and a failure that says so', () => {
    const r = shape(foundation([]), GRID);
    expect(r.value).toEqual({
      gridMm: 1,
      lengthUnit: 'mm',
      walls: [],
      nodes: [],
      faces: [],
      vertices: [],
      runs: [],
      concrete: [],
    });
    expect(r.findings).toMatchObject([{ code: 'shape.no-walls', severity: 'failure' }]);
  });

  it.each([
    ['NaN', stretch([Number.NaN, 0], [1000, 0], 200)],
    ['infinite', stretch([0, 0], [Number.POSITIVE_INFINITY, 0], 200)],
    ['beyond any place', stretch([0, 0], [1e16, 0], 200)],
    ['no thickness', stretch([0, 0], [1000, 0], 0)],
    ['negative thickness', stretch([0, 0], [1000, 0], -200)],
    ['NaN thickness', stretch([0, 0], [1000, 0], Number.NaN)],
  ])('%s is refused by name; the rest is laid out', (_, bad) => {
    const r = shape(foundation([bad, stretch([0, 5000], [4000, 5000], 200, free, 'B7')]), GRID);
    expect(r.value.walls).toHaveLength(1);
    expect(r.findings).toMatchObject([{ code: 'shape.stretch-refused', severity: 'failure', subject: 'A1' }]);
  });

  it('a stretch of no length is left out with its place', () => {
    const r = shape(foundation([stretch([7, 9], [7.5, 9], 200), stretch([0, 5000], [4000, 5000], 200, free)]), GRID);
    expect(r.value.walls).toHaveLength(1);
    expect(r.findings).toMatchObject([{ code: 'shape.stretch-dropped', at: [7, 9, 0] }]);
  });

  it('face lines that are no numbers do no harm', () => {
    const f = foundation(
      [stretch([0, 0], [4000, 0], 200, free)],
      [{ from: { x: Number.NaN, y: 0 }, to: { x: 1, y: 1 }, source: 'X' }],
    );
    expect(codes(shape(f, GRID))).toEqual([]);
  });

  it('a grid that is none is our own fault', () => {
    for (const gridMm of [0, -1, Number.NaN]) expect(() => shape(foundation([]), { gridMm })).toThrow(RangeError);
  });
});

describe('ends', () => {
  it('an isolated stretch has two free ends, closed faces at both, no vertices', () => {
    const r = shape(foundation([stretch([100, 50], [4100, 50], 200, free)]), GRID);
    expect(kinds(r)).toEqual(['end', 'end']);
    expect(r.value.faces.map((f) => [f.id, f.fromMm, f.toMm])).toEqual([
      ['W1-L', 0, 4000],
      ['W1-R', 0, 4000],
      ['W1-S', 0, 200],
      ['W1-E', 0, 200],
    ]);
    expect(r.value.vertices).toEqual([]);
    expect(codes(r)).toEqual([]);
  });

  it('an end without a cap is taken as free, and said with its place', () => {
    const r = shape(foundation([stretch([0, 0], [4000, 0], 200, [true, false])]), GRID);
    expect(r.value.runs[0]!.end).toEqual({ kind: 'free', node: 'N2', leftMm: 4000, rightMm: 4000 });
    expect(r.findings).toMatchObject([
      { code: 'shape.open-end', severity: 'attention', at: [4000, 0, 0], subject: 'W1' },
    ]);
  });

  it('a door way between two free ends is said with its length and middle', () => {
    const r = shape(
      foundation([stretch([0, 0], [4000, 0], 200, free), stretch([4900, 0], [9000, 0], 200, free)]),
      GRID,
    );
    expect(r.value.walls).toHaveLength(2);
    expect(r.findings).toMatchObject([{ code: 'shape.gap-in-line', at: [4450, 0, 0], subject: 'W1 W2' }]);
    expect(r.findings[0]!.message).toContain('900 mm');
  });

  it('an end 40 short of a wall stays free and is said', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([3000, 140], [3000, 3000], 200, free)]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'end']);
    expect(r.findings).toMatchObject([{ code: 'shape.near-miss', subject: 'W2', at: [3000, 140, 0] }]);
    expect(r.findings[0]!.message).toBe('Wall W2 stops 40 mm short of wall W1.');
  });

  it('an end 6 short of a wall meets it, with a note of the 6', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([3000, 106], [3000, 3000], 200, free)]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'tee']);
    expect(r.findings).toMatchObject([{ code: 'shape.end-moved', severity: 'note' }]);
    expect(r.findings[0]!.message).toContain('6 mm');
  });

  it('two closed ends that touch corner to corner are no corner, unless the outer vertex is drawn', () => {
    const stretches = [stretch([0, 0], [4000, 0], 200, free), stretch([4100, 100], [4100, 3000], 200, free)];
    expect(kinds(shape(foundation(stretches), GRID))).toEqual(['end', 'end', 'end', 'end']);
    const outer = { from: { x: 0, y: -100 }, to: { x: 4200, y: -100 }, source: 'L' };
    expect(kinds(shape(foundation(stretches, [outer]), GRID))).toEqual(['corner', 'end', 'end']);
  });
});

describe('walls that are drawn as rectangles', () => {
  it('laid against each other at a corner and at a tee, they join as if drawn in one outline', () => {
    const butt = shape(
      foundation([
        stretch([0, 0], [6000, 0], 200, free), // runs to the outer face of the corner
        stretch([5900, 100], [5900, 3000], 200, free), // stands against its inner face
        stretch([2000, 100], [2000, 3000], 200, free),
      ]),
      GRID,
    );
    expect(kinds(butt)).toEqual(['corner', 'end', 'end', 'end', 'tee']);
    expect(butt.value.walls.map((w) => w.lengthMm).sort((a, b) => a - b)).toEqual([3000, 3000, 5900]);
    expect(codes(butt)).toEqual([]);
  });

  it('drawn through each other they are a cross, with a note', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([2000, -2000], [2000, 3000], 200, free)]),
      GRID,
    );
    expect(kinds(r)).toEqual(['cross', 'end', 'end', 'end', 'end']);
    expect(r.value.walls).toHaveLength(3);
    expect(r.findings).toMatchObject([{ code: 'shape.drawn-through', at: [2000, 0, 0] }]);
  });

  it('overlapping on one axis they are one wall; a doubled one too', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free, 'A'), stretch([5500, 0.4], [9000, 0.4], 200, free, 'B')]),
      GRID,
    );
    expect(r.value.walls).toMatchObject([{ lengthMm: 9000, sources: ['A', 'B'] }]);
    expect(r.findings).toMatchObject([{ code: 'shape.duplicate', subject: 'A B' }]);
    const twice = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([6000, 0], [0, 0], 200, free)]),
      GRID,
    );
    expect(twice.value.walls).toHaveLength(1);
    expect(codes(twice)).toEqual(['shape.duplicate']);
  });
});

describe('collinear stretches', () => {
  it('parted by less than the tolerance are one wall', () => {
    const r = shape(
      foundation([stretch([0, 0], [3000, 0], 200, [true, false]), stretch([3007, 0], [8000, 0], 200, [false, true])]),
      GRID,
    );
    expect(r.value.walls).toMatchObject([{ lengthMm: 8000 }]);
    expect(r.findings).toMatchObject([{ code: 'shape.gap-closed' }]);
    expect(r.findings[0]!.message).toContain('7 mm');
  });

  it('with one face running on over the gap are one wall, and the missing face is said', () => {
    const lines = [
      { from: { x: 0, y: -100 }, to: { x: 8000, y: -100 }, source: 'L1' },
      { from: { x: 0, y: 100 }, to: { x: 3000, y: 100 }, source: 'L2' },
      { from: { x: 3400, y: 100 }, to: { x: 8000, y: 100 }, source: 'L3' },
      { from: { x: 0, y: -100 }, to: { x: 0, y: 100 }, source: 'L4' },
      { from: { x: 8000, y: -100 }, to: { x: 8000, y: 100 }, source: 'L5' },
    ];
    const stretches = [
      stretch([0, 0], [3000, 0], 200, [true, false]),
      stretch([3400, 0], [8000, 0], 200, [false, true]),
    ];
    const r = shape(foundation(stretches, lines), GRID);
    expect(r.value.walls).toMatchObject([{ lengthMm: 8000 }]);
    expect(codes(r)).toEqual(['shape.face-missing', 'shape.outline-added']);
    expect(only(r, 'shape.outline-added')[0]!.message).toContain('400 mm');
    // Without the running face they stay two.
    expect(shape(foundation(stretches), GRID).value.walls).toHaveLength(2);
  });

  it('stems on both sides that overlap along the wall leave it one wall', () => {
    const r = shape(
      drawn([
        { along: 'x', axis: 0, from: 0, to: 8000, t: 200 },
        { along: 'y', axis: 3000, from: 0, to: 3000, t: 200 },
        { along: 'y', axis: 3150, from: -3000, to: 0, t: 200 },
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'end', 'tee', 'tee']);
    const run = r.value.runs.find((x) => x.stems.length > 0)!;
    expect(run.stems.map((s) => [s.side, s.fromMm, s.toMm])).toEqual([
      ['left', 2900, 3100],
      ['right', 3050, 3250],
    ]);
    expect(codes(r)).toEqual([]);
  });

  it('a door way beside a stem does not close', () => {
    const r = shape(
      drawn([
        { along: 'x', axis: 0, from: 0, to: 3100, t: 200 },
        { along: 'y', axis: 3000, from: 0, to: 3000, t: 200 },
        { along: 'x', axis: 0, from: 4000, to: 8000, t: 200 },
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['corner', 'end', 'end', 'end', 'end']);
  });
});

describe('changes of thickness and junctions that are not laid out', () => {
  it('a jog of equal thickness is open on both sides, a failure with its size', () => {
    const r = shape(
      foundation([stretch([0, 0], [3000, 0], 200, [true, false]), stretch([3000, 60], [7000, 60], 200, [false, true])]),
      GRID,
    );
    expect(only(r, 'shape.thickness-change')).toMatchObject([{ severity: 'failure', at: [3000, 30, 0] }]);
    expect(only(r, 'shape.thickness-change')[0]!.message).toContain('jogs sideways by 60 mm');
    expect(r.value.runs.map((x) => [x.start.kind, x.end.kind])).toEqual([
      ['free', 'open'],
      ['open', 'free'],
    ]);
  });

  it('three walls at a corner, two of them in line with different thickness: all open', () => {
    const r = shape(
      drawn([
        { along: 'x', axis: 0, from: 0, to: 3000, t: 300 },
        { along: 'x', axis: 0, from: 3000, to: 7000, t: 200 },
        { along: 'y', axis: 3000, from: -150, to: 4000, t: 200 },
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'thickness-change']);
    const node = r.value.nodes.find((n) => n.kind === 'thickness-change')!;
    expect(node.walls).toEqual(['W1', 'W2', 'W3']);
    expect(only(r, 'shape.thickness-change')).toHaveLength(1);
    const ends = r.value.runs.flatMap((x) => [x.start, x.end]).filter((e) => e.kind === 'open');
    expect(ends).toHaveLength(3);
    expect(r.value.vertices).toEqual([]);
  });

  it('three walls in a Y: open, and the outline still whole', () => {
    const arm = (deg: number): WallStretch => {
      const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
      // The faces of two arms at 120 degrees meet t/2 tan 30 = 57.7 from the crossing, along either.
      return stretch([57.735 * c, 57.735 * s], [3000 * c, 3000 * s], 200, [false, true]);
    };
    const r = shape(foundation([arm(90), arm(210), arm(330)]), GRID);
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'tee']);
    expect(only(r, 'shape.junction-not-laid-out')).toMatchObject([{ severity: 'failure', at: [0, 0, 0] }]);
    expect(r.value.concrete).toHaveLength(1);
    const ring = r.value.concrete[0]!;
    const area = ring.reduce((sum, p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      return sum + (p.x * q.y - q.x * p.y) / 2;
    }, 0);
    // Three arms of 2,942.3 by 200 and the triangle between their ends, whose sides are 200.
    expect(Math.abs(area - (3 * 200 * (3000 - 57.735) + (Math.sqrt(3) / 4) * 200 ** 2))).toBeLessThan(3 * 200);
  });

  it('two stems on one side of one place: both open, the through wall interrupted once', () => {
    const [c, s] = [Math.cos(Math.PI / 4), Math.sin(Math.PI / 4)];
    const from = 100 / s + 100; // a stem's shorter face starts there, measured along its axis
    const r = shape(
      foundation([
        stretch([-4000, 0], [4000, 0], 200, free),
        stretch([from * c, from * s], [3000 * c, 3000 * s], 200, [false, true]),
        stretch([-from * c, from * s], [-3000 * c, 3000 * s], 200, [false, true]),
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['cross', 'end', 'end', 'end', 'end']);
    expect(only(r, 'shape.junction-not-laid-out')).toHaveLength(1);
    const through = r.value.runs.find((x) => x.stems.length > 0)!;
    expect(through.stems).toHaveLength(1);
    // Each stem's far face meets the through face 100 + 200/sin 45/2 = 241.4 from the middle.
    expect([through.stems[0]!.fromMm, through.stems[0]!.toMm]).toEqual([3759, 4241]);
  });

  it('a bend of 6 degrees is a bend', () => {
    const d = (6 * Math.PI) / 180;
    const half = 100 * Math.tan(d / 2);
    const r = shape(
      foundation([
        stretch([-4000, 0], [-half, 0], 200, [true, false]),
        stretch([half * Math.cos(d), half * Math.sin(d)], [4000 * Math.cos(d), 4000 * Math.sin(d)], 200, [false, true]),
      ]),
      GRID,
    );
    expect(r.value.nodes.filter((n) => n.kind === 'bend')).toMatchObject([{ angleDeg: 6 }]);
    expect(codes(r)).toEqual([]);
  });
});

describe('walls that clash', () => {
  it('lying over each other out of line: a failure with the area', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([1000, 150], [5000, 150], 200, free)]),
      GRID,
    );
    expect(only(r, 'shape.bodies-overlap')).toMatchObject([{ severity: 'failure', subject: 'W1 W2' }]);
    expect(only(r, 'shape.bodies-overlap')[0]!.message).toContain('0.2 m2'); // 4,000 by 50
  });

  it('face against face (a wall doubled): a failure', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([1000, 200], [5000, 200], 200, free)]),
      GRID,
    );
    expect(r.findings).toMatchObject([{ code: 'shape.walls-touching', severity: 'failure', at: [3000, 100, 0] }]);
  });

  it('a stretch inside the body of another is left out', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 400, free), stretch([1000, 50], [5000, 50], 150, free)]),
      GRID,
    );
    expect(r.value.walls).toHaveLength(1);
    expect(r.findings).toMatchObject([{ code: 'shape.stretch-dropped' }]);
  });

  it('two walls 150 apart on the axis, joined at the end, leave no face between them', () => {
    const r = shape(
      foundation([
        stretch([0, 0], [4000, 0], 200, [true, false]),
        stretch([4100, 20], [4100, 130], 200),
        stretch([0, 150], [4000, 150], 200, [true, false]),
      ]),
      GRID,
    );
    expect(r.findings.filter((f) => f.severity === 'failure').map((f) => f.code)).toContain('shape.wall-too-short');
    for (const f of r.value.faces) expect(f.toMm).toBeGreaterThanOrEqual(f.fromMm);
  });

  it('a Z shorter than its thickness is laid out: its two faces are 150 long', () => {
    const r = shape(
      drawn([
        { along: 'x', axis: 0, from: -4000, to: 100, t: 200 },
        { along: 'y', axis: 0, from: -100, to: 250 + 100, t: 200 },
        { along: 'x', axis: 250, from: -100, to: 4000, t: 200 },
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['corner', 'corner', 'end', 'end']);
    const short = r.value.walls.find((w) => w.lengthMm === 250)!;
    expect(r.value.faces.filter((f) => f.wall === short.id).map((f) => f.toMm - f.fromMm)).toEqual([250, 250]);
    expect(codes(r)).toEqual([]);
  });
});

describe('squaring and rounding', () => {
  it('a closed ring of four with misfits of a few tenths closes exactly, on the grid', () => {
    const r = shape(
      foundation([
        stretch([0.3, -100.2], [6349.6, -99.9], 200.1),
        stretch([0.1, 4099.8], [6350.2, 4100.3], 199.8),
        stretch([-100.3, 0.2], [-99.8, 3999.7], 200.2),
        stretch([6450.2, -0.3], [6449.9, 4000.4], 200),
      ]),
      GRID,
    );
    expect(r.value.walls.map((w) => [w.lengthMm, w.thicknessMm])).toEqual([
      [4200, 200],
      [6550, 200],
      [6550, 200],
      [4200, 200],
    ]);
    for (const v of r.value.vertices)
      for (const arm of v.arms) {
        const p = facePoint(r.value.walls.find((w) => w.id === arm.wall)!, arm.side, arm.stationMm);
        expect(Math.hypot(p.x - v.at.x, p.y - v.at.y)).toBeLessThan(1e-5);
      }
    expect(r.findings).toMatchObject([{ code: 'shape.squared', severity: 'note' }]);
  });

  it('a wall 0.2 degrees off is squared, with the amount', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([0, 3000], [5000, 3016], 200, free)]),
      GRID,
    );
    const skew = r.value.walls[1]!;
    expect(skew.start.y).toBe(skew.end.y);
    expect(r.findings).toMatchObject([{ code: 'shape.squared', severity: 'attention', subject: 'W2' }]);
    expect(r.findings[0]!.message).toContain('up to 8 mm'); // half of the 16
  });

  it('a wall at 1 degree keeps its angle', () => {
    const d = Math.PI / 180;
    const r = shape(
      foundation([
        stretch([0, 0], [6000, 0], 200, free),
        stretch([0, 3000], [5000 * Math.cos(d), 3000 + 5000 * Math.sin(d)], 200, free),
      ]),
      GRID,
    );
    const w = r.value.walls[1]!;
    expect(Math.atan2(w.end.y - w.start.y, w.end.x - w.start.x)).toBeCloseTo(d, 6);
    expect(codes(r)).toEqual([]);
  });

  it('stretches of one wall 3 mm out of line are aligned, and said', () => {
    const r = shape(
      foundation([
        stretch([0, 0], [5000, 0], 200, [true, false]),
        stretch([5200, 3], [7000, 3], 200, [false, true]),
        stretch([5100, 100], [5100, 3000], 200, [false, true]),
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'tee']);
    expect(only(r, 'shape.rounded')[0]!.message).toContain('3 mm');
  });

  it('an odd thickness: faces true, axes end within half a millimetre of the crossing, stations whole', () => {
    const r = shape(drawn(room(5000, 3000, 175)), GRID);
    const low = r.value.walls.find((w) => w.start.y === -87.5 && w.end.y === -87.5)!;
    expect([low.lengthMm, low.thicknessMm, low.start.x, low.end.x]).toEqual([5175, 175, -88, 5087]);
    expect(r.value.faces.filter((f) => f.wall === low.id).map((f) => f.toMm - f.fromMm)).toEqual([5000, 5350]);
    for (const node of r.value.nodes)
      for (const id of node.walls) {
        const w = r.value.walls.find((x) => x.id === id)!;
        const away = Math.min(...[w.start, w.end].map((p) => Math.hypot(p.x - node.at.x, p.y - node.at.y)));
        expect(away).toBeCloseTo(0.5, 6);
      }
    for (const v of r.value.vertices)
      for (const arm of v.arms) {
        expect(Number.isInteger(arm.stationMm)).toBe(true);
        const p = facePoint(r.value.walls.find((w) => w.id === arm.wall)!, arm.side, arm.stationMm);
        expect(Math.hypot(p.x - v.at.x, p.y - v.at.y)).toBeLessThan(1e-5);
      }
    expect(r.findings).toMatchObject([{ code: 'shape.half-grid', severity: 'note' }]);
  });
});

describe('levels', () => {
  const at = (x: number, y: number, footingMm: number | null, topMm: number | null) => ({
    near: { x, y },
    footingMm,
    topMm,
  });
  const three = [
    { along: 'x', axis: 0, from: -100, to: 6000, t: 200 },
    { along: 'y', axis: 0, from: -100, to: 4000, t: 200 },
  ] as const;

  it('the nearest wall takes a note; what it leaves out stays general; the node is named', () => {
    const r = shape(drawn(three, [at(3000, 300, -600, null)]), GRID);
    expect(r.value.runs.map((x) => [x.wall, x.footingMm, x.topMm])).toEqual([
      ['W1', 0, 2350],
      ['W2', -600, 2350],
    ]);
    expect(r.value.walls[1]!.base).toEqual([{ fromMm: -100, toMm: 6000, levelMm: -600 }]);
    expect(r.findings).toMatchObject([{ code: 'shape.levels-differ', severity: 'attention', at: [0, 0, 0] }]);
  });

  it('two notes of one wall: the nearer counts, and both are said; order does not matter', () => {
    const notes = [at(3000, 150, -300, null), at(2000, 400, -500, null)];
    const r = shape(drawn(three, notes), GRID);
    expect(r.value.runs[1]!.footingMm).toBe(-300);
    expect(codes(r)).toContain('shape.levels-conflict');
    expect(shape(drawn(three, [...notes].reverse()), GRID)).toEqual(r);
  });

  it('a far note is taken and said; one that is no number is refused', () => {
    expect(codes(shape(drawn(three, [at(3000, 9000, -300, null)]), GRID))).toContain('shape.levels-far');
    const r = shape(drawn(three, [at(Number.NaN, 0, -300, null), at(3000, 0, Number.NaN, null)]), GRID);
    expect(only(r, 'shape.levels-refused')).toHaveLength(2);
    expect(r.value.runs.map((x) => x.footingMm)).toEqual([0, 0]);
  });

  it('a top below the footing is a failure of each wall', () => {
    const levels = { footingMm: 500, topMm: 400, footingFrom: 'job', topFrom: 'job' } as const;
    const r = shape({ ...drawn(three), levels }, GRID);
    expect(only(r, 'shape.levels-refused').map((f) => f.subject)).toEqual(['W1', 'W2']);
  });
});

describe('anything at all', () => {
  const coordinate = fc.oneof(
    fc.integer({ min: 0, max: 12 }).map((n) => n * 100),
    fc.double({ min: 0, max: 3000, noNaN: true }),
  );
  const any = fc.record({
    start: fc.record({ x: coordinate, y: coordinate }),
    end: fc.record({ x: coordinate, y: coordinate }),
    thicknessMm: fc.oneof(fc.constantFrom(100, 200, 300), fc.double({ min: 0.01, max: 900, noNaN: true })),
    startCapped: fc.boolean(),
    endCapped: fc.boolean(),
    sources: fc.array(fc.constantFrom('A', 'B', 'C'), { maxLength: 2 }),
  });

  it('ends in a plan that holds together', () => {
    fc.assert(
      fc.property(fc.array(any, { maxLength: 9 }), (stretches) => {
        const { value } = shape(foundation(stretches), GRID);
        const ids = new Set(value.vertices.map((v) => v.id));
        expect(value.runs.map((r) => r.wall)).toEqual(value.walls.map((w) => w.id));
        for (const w of value.walls)
          expect(Number.isFinite(w.start.x + w.start.y + w.end.x + w.end.y + w.lengthMm)).toBe(true);
        for (const f of value.faces) {
          expect(Number.isInteger(f.fromMm) && Number.isInteger(f.toMm)).toBe(true);
          expect(f.toMm).toBeGreaterThanOrEqual(f.fromMm);
        }
        for (const r of value.runs) {
          for (const e of [r.start, r.end])
            if (e.kind === 'corner' || e.kind === 'stem')
              expect(ids.has(e.leftVertex) && ids.has(e.rightVertex)).toBe(true);
          for (const s of r.stems) {
            expect(s.toMm).toBeGreaterThan(s.fromMm);
            expect(ids.has(s.fromVertex) && ids.has(s.toVertex)).toBe(true);
          }
        }
        for (const node of value.nodes)
          for (const w of node.walls) expect(value.walls.some((x) => x.id === w)).toBe(true);
      }),
      { seed: Number(process.env.FC_SEED ?? 7), numRuns: 300 },
    );
  });

  it('in any order gives the same plan', () => {
    fc.assert(
      fc.property(
        fc.array(any, { maxLength: 8 }),
        fc.array(fc.nat(99), { minLength: 8, maxLength: 8 }),
        (stretches, keys) => {
          const mixed = stretches
            .map((s, i) => ({ s, k: keys[i]! * 10 + i }))
            .sort((a, b) => a.k - b.k)
            .map((x) => x.s);
          expect(shape(foundation(mixed), GRID)).toEqual(shape(foundation(stretches), GRID));
        },
      ),
      { seed: Number(process.env.FC_SEED ?? 7), numRuns: 150 },
    );
  });
});
