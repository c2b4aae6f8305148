/** One drawing habit each: what is a wall, what is not, and what is said about it. */

import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { Drawing, DrawingPath, TraceOptions } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import { drawingOf, OPTIONS, pathOf } from './plans.js';

const p = (x: number, y: number): Vec => ({ x, y });
let count = 0;
const line = (x0: number, y0: number, x1: number, y1: number, layer = 'S-FNDN-WALL') =>
  pathOf([p(x0, y0), p(x1, y1)], `L${count++}`, { layer });
const ring = (points: readonly (readonly [number, number])[], layer = 'S-FNDN-WALL') =>
  pathOf(
    points.map(([x, y]) => p(x, y)),
    `R${count++}`,
    { layer },
  );
const box = (x0: number, y0: number, x1: number, y1: number, layer = 'S-FNDN-WALL') =>
  ring(
    [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ],
    layer,
  );

const run = (paths: readonly DrawingPath[], options: Partial<TraceOptions> = {}, more: Partial<Drawing> = {}) => {
  const { value, findings } = trace(drawingOf(paths, more), { ...OPTIONS, ...options });
  const walls = value.stretches.map(
    (s) =>
      `${s.start.x},${s.start.y} ${s.end.x},${s.end.y} t${s.thicknessMm} ${Number(s.startCapped)}${Number(s.endCapped)}`,
  );
  return { value, findings, walls, codes: [...new Set(findings.map((f) => f.code))].sort() };
};

describe('pairs of faces', () => {
  it('takes two loose lines as one wall, without caps', () => {
    expect(run([line(0, 0, 5000, 0), line(0, 200, 5000, 200)]).walls).toEqual(['0,100 5000,100 t200 00']);
  });

  it('ends a stretch where either face ends', () => {
    expect(run([line(0, 0, 5000, 0), line(700, 200, 4000, 200)]).walls).toEqual(['700,100 4000,100 t200 00']);
  });

  it('makes two walls of four loose lines though the gap between them is narrower than the walls', () => {
    const lines = [0, 300, 500, 800].map((y) => line(0, y, 5000, y));
    expect(run(lines).walls).toEqual(['0,150 5000,150 t300 00', '0,650 5000,650 t300 00']);
  });

  it('makes four walls of eight such lines', () => {
    const lines = [0, 300, 500, 800, 1000, 1300, 1500, 1800].map((y) => line(0, y, 5000, y));
    expect(run(lines).walls.map((w) => w.split(' ')[0])).toEqual(['0,150', '0,650', '0,1150', '0,1650']);
  });

  it('takes no wall from faces 3 m apart', () => {
    const { walls, codes } = run([line(0, 0, 9000, 0), line(0, 3000, 9000, 3000)]);
    expect(walls).toEqual([]);
    expect(codes).toContain('trace.no-wall');
  });

  it('does not join through a face that lies between', () => {
    // Two boxes 100 thick, side by side 400 apart: never one wall of 600.
    const { walls } = run([box(0, 0, 4000, 100), box(0, 500, 4000, 600)]);
    expect(walls).toEqual(['0,50 4000,50 t100 11', '0,550 4000,550 t100 11']);
  });

  it('leaves tapered walls alone and says so', () => {
    const { walls, findings } = run([
      line(0, 0, 8000, 0),
      line(0, 200, 8000, 260),
      line(0, 3000, 5000, 3000),
      line(0, 3200, 5000, 3200),
    ]);
    expect(walls).toEqual(['0,3100 5000,3100 t200 00']);
    expect(findings.filter((f) => f.code === 'trace.line-alone').length).toBe(2);
  });

  it('straightens what is a little off and says so', () => {
    const { walls, codes } = run([line(0, 0, 8000, 0), line(0, 200, 8000, 203)]);
    expect(walls).toEqual(['0,100.75 8000,100.75 t201.5 00']);
    expect(codes).toContain('trace.straightened');
  });
});

describe('corners and junctions', () => {
  it('takes walls drawn as boxes that butt at a corner and at a tee', () => {
    const { walls } = run([box(0, 0, 6000, 200), box(0, 200, 200, 4000), box(3000, 200, 3150, 3000)]);
    expect(walls).toEqual(['0,100 6000,100 t200 11', '100,200 100,4000 t200 11', '3075,200 3075,3000 t150 11']);
  });

  it('takes two walls drawn right across each other', () => {
    const { walls } = run([
      line(0, 0, 6000, 0),
      line(0, 200, 6000, 200),
      line(3000, -3000, 3000, 3000),
      line(3240, -3000, 3240, 3000),
    ]);
    expect(walls).toEqual(['0,100 6000,100 t200 00', '3120,-3000 3120,3000 t240 00']);
  });

  it('keeps a jog that is shorter than thick as the joint of two walls', () => {
    // Outer faces jog by 300, the wall is 200 thick: 100 of the jog has both faces.
    const outline: [number, number][] = [
      [0, 0],
      [3000, 0],
      [3000, 300],
      [6000, 300],
      [6000, 500],
      [2800, 500],
      [2800, 200],
      [0, 200],
    ];
    expect(run([ring(outline)]).walls).toEqual([
      '0,100 2800,100 t200 10',
      '2900,200 2900,300 t200 00',
      '3000,400 6000,400 t200 01',
    ]);
  });

  it('makes no wall of the leftover between two walls that are shifted', () => {
    // The bump of a long front: its outer face and the front's inner face run side by side for a wall's thickness only.
    const outer: [number, number][] = [
      [0, 0],
      [2000, 0],
      [2000, -600],
      [5000, -600],
      [5000, 0],
      [8000, 0],
      [8000, 5000],
      [0, 5000],
    ];
    const inner: [number, number][] = [
      [200, 200],
      [2200, 200],
      [2200, -400],
      [4800, -400],
      [4800, 200],
      [7800, 200],
      [7800, 4800],
      [200, 4800],
    ];
    const { value } = run([ring(outer), ring(inner)]);
    expect(new Set(value.stretches.map((s) => s.thicknessMm))).toEqual(new Set([200]));
    const length = value.stretches.reduce((s, w) => s + Math.hypot(w.end.x - w.start.x, w.end.y - w.start.y), 0);
    // By hand: left and right 4600 each, top 7600, front 1800 + 2600 + 2800, two jogs of 400.
    expect(length).toBeCloseTo(4600 * 2 + 7600 + 1800 + 2600 + 2800 + 400 * 2, 6);
  });

  it('closes the ends at the jambs of a door', () => {
    const { walls } = run([box(0, 0, 2000, 200), box(2900, 0, 6000, 200)]);
    expect(walls).toEqual(['0,100 2000,100 t200 11', '2900,100 6000,100 t200 11']);
  });

  it('keeps a short return at the end of a wall', () => {
    const c: [number, number][] = [
      [0, 2000],
      [250, 2000],
      [250, 1850],
      [150, 1850],
      [150, 0],
      [0, 0],
    ];
    expect(run([ring(c)]).walls).toEqual(['75,0 75,1850 t150 10', '150,1925 250,1925 t150 01']);
  });

  it('joins boxes that follow each other without a gap, and says what lies across', () => {
    const { walls, findings } = run([box(0, 0, 2000, 200), box(2000, 0, 5000, 200)]);
    expect(walls).toEqual(['0,100 5000,100 t200 11']);
    expect(findings.find((f) => f.code === 'trace.left-out')?.message).toMatch(/inside a wall/);
  });
});

describe('repairs', () => {
  it('keeps an expansion joint: a gap whose ends are closed', () => {
    const { walls, codes } = run([box(0, 0, 2000, 200), box(2020, 0, 5000, 200)]);
    expect(walls).toEqual(['0,100 2000,100 t200 11', '2020,100 5000,100 t200 11']);
    expect(codes).not.toContain('trace.gap-closed');
  });

  it('closes a gap in one face with loose ends, at its place', () => {
    const { walls, findings } = run([line(0, 0, 5000, 0), line(0, 200, 2000, 200), line(2020, 200, 5000, 200)]);
    expect(walls).toEqual(['0,100 5000,100 t200 00']);
    const gap = findings.filter((f) => f.code === 'trace.gap-closed');
    expect(gap.map((f) => [f.at, f.message])).toEqual([[[2020, 200, 0], 'A gap of 20 mm in the linework was closed.']]);
  });

  it('leaves a gap beyond the tolerance open', () => {
    const { walls } = run([line(0, 0, 5000, 0), line(0, 200, 2000, 200), line(2060, 200, 5000, 200)]);
    expect(walls).toEqual(['0,100 2000,100 t200 00', '2060,100 5000,100 t200 00']);
  });

  it('counts lines of no length and lines that lie on others', () => {
    const { walls, codes } = run([
      line(0, 0, 5000, 0),
      line(5000, 0, 0, 0),
      line(0, 200, 5000, 200),
      line(5, 5, 5, 5),
      line(500, 0.4, 900, 0.4),
    ]);
    expect(walls).toEqual(['0,100 5000,100 t200 00']);
    expect(codes).toEqual(expect.arrayContaining(['trace.duplicate', 'trace.zero-length']));
  });
});

describe('what is no wall', () => {
  it('lists pads and columns at their places', () => {
    const wall = box(0, 0, 4000, 200);
    const { walls, findings } = run([
      wall,
      box(6000, 0, 6300, 300),
      box(6100, 100, 6200, 200),
      box(8000, 0, 8300, 450),
    ]);
    expect(walls).toEqual(['0,100 4000,100 t200 11']);
    expect(findings.filter((f) => f.code === 'trace.pad').map((f) => f.at)).toEqual([
      [6150, 150, 0],
      [6150, 150, 0],
      [8150, 225, 0],
    ]);
  });

  it('takes a small shaft as walls, not as a pad', () => {
    const { value } = run([box(0, 0, 1400, 1400), box(200, 200, 1200, 1200)]);
    expect(value.stretches.map((s) => s.thicknessMm)).toEqual([200, 200, 200, 200]);
  });

  it('does not pair a wall with the footing outline on its own layer', () => {
    const paths = [
      line(0, 0, 5000, 0),
      line(0, 200, 5000, 200),
      line(0, -150, 5000, -150, 'S-FNDN-FTNG'),
      line(0, 350, 5000, 350, 'S-FNDN-FTNG'),
    ];
    const { walls, findings } = run(paths);
    expect(walls).toEqual(['0,100 5000,100 t200 00']);
    expect(findings.find((f) => f.code === 'trace.layers')?.message).toMatch(/Left out: S-FNDN-FTNG \(2\)/);
  });

  it('tells the footing from the wall on one layer for the whole foundation', () => {
    const rings = [0, 150, 350, 500].map((d) => box(d, d, 9000 - d, 7000 - d, 'Fundament'));
    const { value, findings } = run(rings);
    expect(value.stretches.map((s) => [s.start.x, s.start.y, s.end.x, s.end.y, s.thicknessMm])).toEqual([
      [250, 350, 250, 6650, 200],
      [350, 250, 8650, 250, 200],
      [350, 6750, 8650, 6750, 200],
      [8750, 350, 8750, 6650, 200],
    ]);
    expect(findings.filter((f) => f.code === 'trace.footing-outline').length).toBe(8);
  });

  it('takes a line midway between two faces as the centre line', () => {
    const { walls, codes } = run([0, 120, 240].map((y) => line(0, y, 5000, y)));
    expect(walls).toEqual(['0,120 5000,120 t240 00']);
    expect(codes).toContain('trace.centre-line');
  });

  it('names curves on a wall layer with their place', () => {
    const arc: DrawingPath = {
      ...pathOf([p(6000, 0), p(7000, 1000)], 'A1', { entity: 'ARC' }),
      vertices: [
        { x: 6000, y: 0, bulge: Math.SQRT2 - 1 },
        { x: 7000, y: 1000, bulge: 0 },
      ],
    };
    const bulged: DrawingPath = {
      ...ring([
        [0, 3000],
        [4000, 3000],
        [4000, 3200],
        [0, 3200],
      ]),
      vertices: [
        { x: 0, y: 3000, bulge: 0 },
        { x: 4000, y: 3000, bulge: 1 },
        { x: 4000, y: 3200, bulge: 0 },
        { x: 0, y: 3200, bulge: 0 },
      ],
    };
    const { walls, findings } = run([box(0, 0, 5000, 200), arc, bulged]);
    expect(walls).toEqual(['0,100 5000,100 t200 11', '0,3100 4000,3100 t200 10']);
    // A quarter circle of radius 1000 about (6000, 1000) and half a circle of radius 100: both longer than 300 mm.
    const alone = findings.filter((f) => f.code === 'trace.curve-alone');
    expect(alone.map((f) => [f.severity, f.subject])).toEqual([
      ['attention', 'R72'],
      ['attention', 'A1'],
    ]);
    const [x, y] = alone[1]!.at!;
    expect(Math.hypot(x - 6000, y - 1000)).toBeCloseTo(1000, 3);
  });

  it('names each long line that is part of no wall, and the reason', () => {
    const { findings } = run([
      line(0, 0, 5000, 0),
      line(0, 200, 5000, 200),
      line(0, 2000, 900, 2000),
      line(0, 2040, 900, 2040),
    ]);
    const alone = findings.filter((f) => f.code === 'trace.line-alone');
    expect(alone.map((f) => [f.at, /too thin/.test(f.message)])).toEqual([
      [[450, 2000, 0], true],
      [[450, 2040, 0], true],
    ]);
  });
});

describe('layers', () => {
  const wall = (layer: string, y: number) => box(0, y, 5000, y + 200, layer);

  it('prefers foundation walls to the walls of the floor plan, also behind an xref prefix', () => {
    const { walls } = run([wall('xref-House$0$S-STEM-WALL', 0), wall('xref-House$0$A-WALL', 3000)]);
    expect(walls).toEqual(['0,100 5000,100 t200 11']);
  });

  it('takes the next rank when a better name holds no walls', () => {
    const { walls } = run([line(0, 0, 5000, 0, 'S-WALL'), wall('A-WALL', 3000)]);
    expect(walls).toEqual(['0,3100 5000,3100 t200 11']);
  });

  it('obeys the job file, and says when a pattern matches nothing', () => {
    const paths = [wall('S-WALL', 0), wall('a$0$Beton', 3000), wall('BETON-ALT', 6000)];
    const { walls, codes } = run(paths, { wallLayers: ['beton*', 'nothing*'], ignoreLayers: ['*alt'] });
    expect(walls).toEqual(['0,3100 5000,3100 t200 11']);
    expect(codes).toContain('trace.pattern-unmatched');
  });

  it('leaves invisible layers out and lists them', () => {
    const layers = [
      { name: 'S-WALL', visible: true, lineType: 'CONTINUOUS' },
      { name: 'S-WALL-OLD', visible: false, lineType: 'CONTINUOUS' },
    ];
    const { walls, findings } = run([wall('S-WALL', 0), wall('S-WALL-OLD', 3000)], {}, { layers });
    expect(walls).toEqual(['0,100 5000,100 t200 11']);
    expect(findings.find((f) => f.code === 'trace.invisible')?.message).toBe(
      'Layers that are off or frozen were left out: S-WALL-OLD (1).',
    );
  });

  it('goes by geometry alone when no name tells, and says so', () => {
    const { walls, codes } = run([wall('0', 0), line(0, 9000, 9000, 9000, '0')]);
    expect(walls).toEqual(['0,100 5000,100 t200 11']);
    expect(codes).toEqual(expect.arrayContaining(['trace.layers-guessed', 'trace.line-alone']));
  });

  it('takes only what is wholly inside the area', () => {
    const { walls, findings } = run([wall('S-WALL', 0), wall('S-WALL', 3000)], { area: [-10, -10, 6000, 3100] });
    expect(walls).toEqual(['0,100 5000,100 t200 11']);
    expect(findings.map((f) => f.code)).toContain('trace.area');
  });
});

describe('levels', () => {
  const wall = [box(0, 0, 5000, 200)];
  it('come from the job file', () => {
    const { value, codes } = run(wall, { levels: { footingMm: -1200, topMm: 150 } });
    expect(value.levels).toEqual({ footingMm: -1200, topMm: 150, footingFrom: 'job', topFrom: 'job' });
    expect(codes).not.toContain('trace.levels-assumed');
  });
  it('are assumed and said otherwise', () => {
    const { value, findings } = run(wall, { levels: { footingMm: null, topMm: null } });
    expect(value.levels).toEqual({ footingMm: 0, topMm: 2400, footingFrom: 'default', topFrom: 'default' });
    expect(findings.find((f) => f.code === 'trace.levels-assumed')?.severity).toBe('attention');
  });
  it('near a place are passed on in mm', () => {
    const inMetres = wall.map((w) => ({
      ...w,
      vertices: w.vertices.map((v) => ({ x: v.x / 1000, y: v.y / 1000, bulge: 0 })),
    }));
    const { value } = run(inMetres, { unit: 'm', levelsAt: [{ near: p(2.5, 0.1), footingMm: -300, topMm: null }] });
    expect(value.levelsAt).toEqual([{ near: p(2500, 100), footingMm: -300, topMm: null, from: 'job', text: null }]);
  });
});

describe('odd input', { timeout: 60_000 }, () => {
  it('an empty drawing has no wall', () => {
    expect(run([]).codes).toContain('trace.no-wall');
  });

  it('numbers that are none are left out and named', () => {
    const { walls, codes } = run([
      box(0, 0, 5000, 200),
      line(Number.NaN, 0, 1, 1),
      line(0, 0, Number.POSITIVE_INFINITY, 3),
      line(0, 0, 1e300, 3),
    ]);
    expect(walls).toEqual(['0,100 5000,100 t200 11']);
    expect(codes).toContain('trace.unusable');
  });

  it('refuses with a finding what is more than it works through', () => {
    const many = Array.from({ length: 12001 }, (_, i) => line(i, 0, i, 1000));
    const hatch = Array.from({ length: 3000 }, (_, i) => line(i, i * 10, i + 90000, i * 10));
    for (const paths of [many, hatch]) {
      const { codes } = run(paths);
      expect(codes).toEqual(expect.arrayContaining(['trace.too-much', 'trace.no-wall']));
    }
  });

  it('stands a star of lines in every direction', () => {
    const star = Array.from({ length: 700 }, (_, i) => line(0, 0, 5000 * Math.cos(i / 111), 5000 * Math.sin(i / 111)));
    const { walls, codes } = run([...star, box(20000, 0, 25000, 200)]);
    expect(walls).toEqual(['20000,100 25000,100 t200 11']);
    expect(codes).toContain('trace.left-out');
  });
});
