/** Hand cases with every number written out. Lengths of the worked examples; k by the formula of the layout rules, section T3. */

import { describe, expect, it } from 'vitest';
import { facePoint } from '../../src/ground/arcs.js';
import type { FacePlan, RunEnd } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { drawn, foundation, room, stretch } from './draw.js';

const GRID = { gridMm: 1 };
const faceLength = (plan: FacePlan, id: string): number => {
  const face = plan.faces.find((f) => f.id === id)!;
  return face.toMm - face.fromMm;
};
const codes = (r: ReturnType<typeof shape>) => r.findings.map((f) => f.code);
const runOf = (plan: FacePlan, wall: string) => plan.runs.find((r) => r.wall === wall)!;

describe('worked example 1: a room of 6,350 by 4,000 inside, walls 200', () => {
  const result = shape(drawn(room(6350, 4000, 200)), GRID);
  const plan = result.value;

  it('has four walls on axes that end where they cross', () => {
    expect(plan.walls.map((w) => [w.id, w.start, w.end, w.lengthMm, w.thicknessMm])).toEqual([
      ['W1', { x: -100, y: -100 }, { x: -100, y: 4100 }, 4200, 200],
      ['W2', { x: -100, y: -100 }, { x: 6450, y: -100 }, 6550, 200],
      ['W3', { x: -100, y: 4100 }, { x: 6450, y: 4100 }, 6550, 200],
      ['W4', { x: 6450, y: -100 }, { x: 6450, y: 4100 }, 4200, 200],
    ]);
  });

  it('has 6,350 inside and 6,750 outside, counted from the axis: 100 to 6,450 and -100 to 6,650', () => {
    expect(plan.faces.filter((f) => f.wall === 'W2')).toEqual([
      { id: 'W2-L', wall: 'W2', side: 'left', fromMm: 100, toMm: 6450 },
      { id: 'W2-R', wall: 'W2', side: 'right', fromMm: -100, toMm: 6650 },
    ]);
    expect([faceLength(plan, 'W2-L'), faceLength(plan, 'W2-R')]).toEqual([6350, 6750]);
    expect([faceLength(plan, 'W1-R'), faceLength(plan, 'W1-L')]).toEqual([4000, 4400]);
  });

  it('closes each run at corners: inner side, vertices, stations', () => {
    const start: RunEnd = {
      kind: 'corner',
      node: 'N1',
      inner: 'left',
      other: 'W1',
      otherThicknessMm: 200,
      deflectionDeg: 90,
      leftMm: 100,
      rightMm: -100,
      leftVertex: 'V3',
      rightVertex: 'V1',
    };
    expect(runOf(plan, 'W2').start).toEqual(start);
    const end: RunEnd = {
      kind: 'corner',
      node: 'N3',
      inner: 'left',
      other: 'W4',
      otherThicknessMm: 200,
      deflectionDeg: 90,
      leftMm: 6450,
      rightMm: 6650,
      leftVertex: 'V5',
      rightVertex: 'V7',
    };
    expect(runOf(plan, 'W2').end).toEqual(end);
  });

  it('has a re-entrant and a salient vertex at each corner, with the two faces that meet there', () => {
    expect(plan.vertices.map((v) => [v.id, v.node, v.kind, v.at.x, v.at.y])).toEqual([
      ['V1', 'N1', 'salient', -200, -200],
      ['V2', 'N2', 'salient', -200, 4200],
      ['V3', 'N1', 're-entrant', 0, 0],
      ['V4', 'N2', 're-entrant', 0, 4000],
      ['V5', 'N3', 're-entrant', 6350, 0],
      ['V6', 'N4', 're-entrant', 6350, 4000],
      ['V7', 'N3', 'salient', 6550, -200],
      ['V8', 'N4', 'salient', 6550, 4200],
    ]);
    expect(plan.vertices[4]!.arms).toEqual([
      { wall: 'W2', side: 'left', stationMm: 6450, direction: -1 },
      { wall: 'W4', side: 'left', stationMm: 100, direction: 1 },
    ]);
  });

  it('outlines the concrete: outer ring anticlockwise, hole clockwise', () => {
    expect(plan.concrete).toEqual([
      [
        { x: -200, y: -200 },
        { x: 6550, y: -200 },
        { x: 6550, y: 4200 },
        { x: -200, y: 4200 },
      ],
      [
        { x: 0, y: 0 },
        { x: 0, y: 4000 },
        { x: 6350, y: 4000 },
        { x: 6350, y: 0 },
      ],
    ]);
  });

  it('lays bands from salient edge to salient edge and says nothing', () => {
    expect(plan.walls[1]!.base).toEqual([{ fromMm: -100, toMm: 6650, levelMm: 0 }]);
    expect(plan.walls[1]!.top).toEqual([{ fromMm: -100, toMm: 6650, levelMm: 2350 }]);
    expect(codes(result)).toEqual([]);
  });
});

describe('worked example 3: a corner and a free end, inner 4,280 to the concrete end, t 250', () => {
  const bodies = [
    { along: 'x', axis: -125, from: -250, to: 4280, t: 250 },
    { along: 'y', axis: -125, from: -250, to: 3000, t: 250 },
  ] as const;
  const result = shape(drawn(bodies), GRID);
  const plan = result.value;

  it('ends square: the end face runs 0 to 250 across, both faces stop at station 4,405 of the axis', () => {
    const run = runOf(plan, 'W2');
    expect(run.end).toEqual({ kind: 'free', node: 'N3', leftMm: 4405, rightMm: 4405 });
    expect(run.start.kind).toBe('corner');
    expect([faceLength(plan, 'W2-L'), faceLength(plan, 'W2-R')]).toEqual([4280, 4530]);
    expect(plan.faces.find((f) => f.id === 'W2-E')).toEqual({
      id: 'W2-E',
      wall: 'W2',
      side: 'end',
      fromMm: 0,
      toMm: 250,
    });
    expect(plan.faces.some((f) => f.id === 'W2-S')).toBe(false);
    expect(codes(result)).toEqual([]);
  });
});

describe('worked example 4: a tee; through wall 9,000 outside, t 250; stem 200 at 3,600 to 3,800 of the inner face', () => {
  const bodies = [
    { along: 'x', axis: -125, from: -250, to: 8750, t: 250 },
    { along: 'y', axis: -125, from: -250, to: 3000, t: 250 },
    { along: 'y', axis: 8625, from: -250, to: 3000, t: 250 },
    { along: 'y', axis: 3700, from: 0, to: 3000, t: 200 },
  ] as const;
  const result = shape(drawn(bodies), GRID);
  const plan = result.value;
  const through = plan.walls.find((w) => w.lengthMm === 8750)!;
  const stem = plan.walls.find((w) => w.thicknessMm === 200)!;

  it('runs 9,000 outside and 8,500 inside', () => {
    expect(through.id).toBe('W2');
    expect([faceLength(plan, 'W2-R'), faceLength(plan, 'W2-L')]).toEqual([9000, 8500]);
  });

  it('is interrupted by the stem from 3,725 to 3,925 of the axis: 3,600 and 4,700 are left of the inner face', () => {
    const [s] = runOf(plan, 'W2').stems;
    expect(runOf(plan, 'W2').stems).toHaveLength(1);
    expect(s).toMatchObject({ side: 'left', wall: stem.id, thicknessMm: 200, angleDeg: 90, fromMm: 3725, toMm: 3925 });
    expect([s!.fromMm - 125, 8625 - s!.toMm]).toEqual([3600, 4700]);
  });

  it('starts the stem on the axis and its faces at the through face, 125 on', () => {
    expect(stem.start).toEqual({ x: 3700, y: -125 });
    expect(stem.lengthMm).toBe(3125);
    expect(runOf(plan, stem.id).start).toMatchObject({
      kind: 'stem',
      through: 'W2',
      throughThicknessMm: 250,
      angleDeg: 90,
      leftMm: 125,
      rightMm: 125,
    });
    expect(plan.nodes.find((n) => n.kind === 'tee')).toMatchObject({ at: { x: 3700, y: -125 }, angleDeg: 90 });
  });

  it('has two re-entrant vertices at the tee, named by stem and through wall', () => {
    const run = runOf(plan, 'W2').stems[0]!;
    const node = plan.nodes.find((n) => n.kind === 'tee')!;
    const own = plan.vertices.filter((v) => v.node === node.id);
    expect(own.map((v) => [v.kind, v.at.x, v.at.y])).toEqual([
      ['re-entrant', 3600, 0],
      ['re-entrant', 3800, 0],
    ]);
    expect([run.fromVertex, run.toVertex]).toEqual(own.map((v) => v.id));
    const end = runOf(plan, stem.id).start as Extract<RunEnd, { kind: 'stem' }>;
    expect([end.leftVertex, end.rightVertex]).toEqual(own.map((v) => v.id));
    expect(codes(result)).toEqual([]);
  });
});

describe('a cross of 300 and 200', () => {
  const bodies = [
    { along: 'x', axis: 0, from: -3000, to: 4000, t: 200 },
    { along: 'y', axis: 0, from: -2000, to: 2500, t: 300 },
  ] as const;
  const plan = shape(drawn(bodies), GRID).value;

  it('runs the thicker wall through although it is shorter; the other is two stems', () => {
    expect(plan.walls.map((w) => [w.id, w.start.x, w.start.y, w.end.x, w.end.y, w.thicknessMm])).toEqual([
      ['W1', -3000, 0, 0, 0, 200],
      ['W2', 0, -2000, 0, 2500, 300],
      ['W3', 0, 0, 4000, 0, 200],
    ]);
    const node = plan.nodes.find((n) => n.kind === 'cross')!;
    expect(node).toMatchObject({ at: { x: 0, y: 0 }, angleDeg: 90, walls: ['W1', 'W2', 'W3'] });
    expect(plan.vertices.filter((v) => v.node === node.id).map((v) => [v.kind, v.at.x, v.at.y])).toEqual([
      ['re-entrant', -150, -100],
      ['re-entrant', -150, 100],
      ['re-entrant', 150, -100],
      ['re-entrant', 150, 100],
    ]);
    expect(runOf(plan, 'W2').stems.map((s) => [s.side, s.wall, s.fromMm, s.toMm])).toEqual([
      ['left', 'W1', 1900, 2100],
      ['right', 'W3', 1900, 2100],
    ]);
    expect(runOf(plan, 'W1').end).toMatchObject({ kind: 'stem', through: 'W2', leftMm: 2850, rightMm: 2850 });
    expect(runOf(plan, 'W3').start).toMatchObject({ kind: 'stem', through: 'W2', leftMm: 150, rightMm: 150 });
  });

  it('gives each stem the sources of its own side only', () => {
    const f = foundation([
      stretch([-3000, 0], [-150, 0], 200, [true, false], 'west'),
      stretch([150, 0], [4000, 0], 200, [false, true], 'east'),
      stretch([0, -2000], [0, -100], 300, [true, false], 'south'),
      stretch([0, 100], [0, 2500], 300, [false, true], 'north'),
    ]);
    expect(shape(f, GRID).value.walls.map((w) => w.sources)).toEqual([['west'], ['north', 'south'], ['east']]);
  });

  it('of equal thickness runs the longer wall through', () => {
    const equal = bodies.map((b) => ({ ...b, t: 200 }));
    const walls = shape(drawn(equal), GRID).value.walls;
    expect(walls.map((w) => w.lengthMm).sort((a, b) => a - b)).toEqual([2000, 2500, 7000]);
  });
});

describe('worked example 7: a change of thickness from 300 to 200 at 3,000, one face straight', () => {
  const result = shape(
    drawn([
      { along: 'x', axis: 150, from: 0, to: 3000, t: 300 },
      { along: 'x', axis: 100, from: 3000, to: 7000, t: 200 },
    ]),
    GRID,
  );
  const plan = result.value;

  it('is two walls, each on its own axis, and a node midway', () => {
    expect(plan.walls.map((w) => [w.start, w.end, w.thicknessMm])).toEqual([
      [{ x: 0, y: 150 }, { x: 3000, y: 150 }, 300],
      [{ x: 3000, y: 100 }, { x: 7000, y: 100 }, 200],
    ]);
    expect(plan.nodes[1]).toEqual({
      id: 'N2',
      kind: 'thickness-change',
      at: { x: 3000, y: 125 },
      angleDeg: 0,
      walls: ['W1', 'W2'],
    });
  });

  it('says at both ends how far the faces are out of line, and where the return is', () => {
    const jog = { kind: 'jog', node: 'N2', rightOutMm: 0, leftReturn: 'W1-E', rightReturn: null };
    expect(plan.runs[0]!.end).toEqual({ ...jog, other: 'W2', leftMm: 3000, rightMm: 3000, leftOutMm: 100 });
    expect(plan.runs[1]!.start).toEqual({ ...jog, other: 'W1', leftMm: 0, rightMm: 0, leftOutMm: -100 });
    expect(plan.faces.find((f) => f.id === 'W1-E')).toEqual({
      id: 'W1-E',
      wall: 'W1',
      side: 'end',
      fromMm: 0,
      toMm: 100,
    });
    expect(result.findings).toEqual([]);
    expect(plan.concrete).toEqual([
      [
        { x: 0, y: 0 },
        { x: 7000, y: 0 },
        { x: 7000, y: 200 },
        { x: 3000, y: 200 },
        { x: 3000, y: 300 },
        { x: 0, y: 300 },
      ],
    ]);
  });
});

describe('worked examples 8 and 9: corners at other angles, k = (t_B - t_A cos d)/sin d', () => {
  /** Wall A comes along x to (0, 0); wall B leaves it, turned by `deflectionDeg` to the left. Stretches end at the shorter face. */
  const corner = (tA: number, tB: number, deflectionDeg: number) => {
    const d = (deflectionDeg * Math.PI) / 180;
    const half = (t: number, o: number) => Math.abs((o - t * Math.cos(d)) / Math.sin(d)) / 2;
    const [endA, startB] = [half(tA, tB), half(tB, tA)];
    return shape(
      foundation([
        stretch([-5000, 0], [-endA, 0], tA, [true, false]),
        stretch([startB * Math.cos(d), startB * Math.sin(d)], [4000 * Math.cos(d), 4000 * Math.sin(d)], tB, [
          false,
          true,
        ]),
      ]),
      GRID,
    );
  };

  // EX9's table, to 0.01; 45 degrees is EX8's offset 250 tan 22.5 = 103.55.
  it.each([
    [300, 200, 60, 57.74, 230.94],
    [300, 200, 90, 200, 300],
    [250, 250, 45, 103.55, 103.55],
    [300, 200, 30, -119.62, 253.59],
    [200, 200, 135, 482.84, 482.84],
  ])('t %d and %d turning by %d: k %f and %f', (tA, tB, deflectionDeg, kA, kB) => {
    const result = corner(tA, tB, deflectionDeg);
    const plan = result.value;
    expect(plan.nodes.filter((n) => n.kind === 'corner')).toMatchObject([{ angleDeg: deflectionDeg }]);
    const [inner, outer] = (['re-entrant', 'salient'] as const).map(
      (kind) => plan.vertices.find((v) => v.kind === kind)!,
    );
    const a = plan.walls.find((w) => w.lengthMm === 5000)!;
    const b = plan.walls.find((w) => w !== a)!;
    // Exact positions: from inner to outer vertex along each wall, away from it.
    const u = (w: typeof a) => ({ x: (w.end.x - w.start.x) / w.lengthMm, y: (w.end.y - w.start.y) / w.lengthMm });
    const step = { x: outer!.at.x - inner!.at.x, y: outer!.at.y - inner!.at.y };
    const along = (w: typeof a, sense: number) => sense * (step.x * u(w).x + step.y * u(w).y);
    expect(along(a, 1)).toBeCloseTo(kA, 2);
    const leavesStart = Math.hypot(b.start.x, b.start.y) < 1;
    expect(along(b, leavesStart ? -1 : 1)).toBeCloseTo(kB, 2);
    // Stations are those positions on the grid.
    for (const v of [inner!, outer!])
      for (const arm of v.arms) {
        if (arm.side === 'start' || arm.side === 'end') continue;
        const p = facePoint(plan.walls.find((w) => w.id === arm.wall)!, arm.side, arm.stationMm);
        expect(Math.hypot(p.x - v.at.x, p.y - v.at.y)).toBeLessThanOrEqual(0.75);
        expect(Number.isInteger(arm.stationMm)).toBe(true);
      }
    expect(codes(result)).toEqual([]);
  });

  it('an oblique tee: stem 200 at 60 degrees takes 230.94 of the through face; its faces start 115.47 apart', () => {
    const c = Math.cos(Math.PI / 3);
    const s = Math.sin(Math.PI / 3);
    // Through wall 200 on the x axis; near face at y = 100. The face is open over 230.94 round its crossing with the stem's axis.
    const middle = 100 / Math.tan(Math.PI / 3);
    const from = middle - 115.47;
    const to = middle + 115.47;
    // The stem's shorter face starts where its far edge crosses y = 100.
    const startStem = 100 / s + 100 / Math.tan(Math.PI / 3);
    const result = shape(
      foundation([
        stretch([-4000, 0], [from, 0], 200, [true, false]),
        stretch([to, 0], [4000, 0], 200, [false, true]),
        stretch([startStem * c, startStem * s], [3000 * c, 3000 * s], 200, [false, true]),
      ]),
      GRID,
    );
    const plan = result.value;
    const node = plan.nodes.find((n) => n.kind === 'tee')!;
    expect(node).toMatchObject({ angleDeg: 60 });
    expect(plan.walls.find((w) => w.lengthMm === 8000)).toBeDefined();
    const vertices = plan.vertices.filter((v) => v.node === node.id);
    expect(vertices.map((v) => v.deflectionDeg).sort((a, b) => a - b)).toEqual([60, 120]);
    expect(vertices[1]!.at.x - vertices[0]!.at.x).toBeCloseTo(230.94, 2);
    const stemId = plan.runs.find((r) => r.stems.length === 1)!.stems[0]!.wall;
    const end = plan.runs.find((r) => r.wall === stemId)!.start as Extract<RunEnd, { kind: 'stem' }>;
    expect(Math.abs(Math.abs(end.leftMm - end.rightMm) - 115.47)).toBeLessThanOrEqual(1);
    expect(codes(result)).toEqual([]);
  });
});
