/** Curves, one habit or trap of drawing each: what is a curved wall, what is none, where it ends, and what is said. Places are worked out by hand. */

import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import { arc, bent, circle, id, line, n, QUARTER, run, spoke } from './curveAsked.js';
import { chordPaths, linePath, polar, rad, STILL } from './curveScenes.js';

describe('pairs of arcs', () => {
  it('takes two circles as a ring, and says what it measured', () => {
    const { curves, said, found } = run([circle(3000), circle(3200)]);
    expect(curves).toEqual(['0,0 r3100 t200 0..360 00']);
    expect(said).toEqual(['A curved wall 200 mm thick: inner radius 3000 mm, a full ring.']);
    expect(found.curveFindings[0]).toMatchObject({ code: 'trace.curved', severity: 'attention' });
  });

  it('gives a place on the axis', () => {
    const { found } = run([arc(3000, 0, 180), arc(3200, 0, 180)]);
    const [x, y] = found.curveFindings[0]!.at!;
    expect(Math.hypot(x, y - 3100)).toBeLessThan(0.001);
  });

  it('never takes a single arc', () => {
    const { curves, codes } = run([arc(3000, 0, 90), circle(2000, { x: 20000, y: 0 })]);
    expect(curves).toEqual([]);
    expect(codes).toEqual(['trace.curve-alone']);
  });

  it('takes no wall from arcs 60 mm or 1500 mm apart', () => {
    expect(run([arc(3000, 0, 90), arc(3060, 0, 90)]).curves).toEqual([]);
    expect(run([arc(3000, 0, 90), arc(4500, 0, 90)]).curves).toEqual([]);
  });

  it('of three rings pairs the thinner two', () => {
    const { curves, said } = run([circle(3000), circle(3200), circle(3500)]);
    expect(curves).toEqual(['0,0 r3100 t200 0..360 00']);
    expect(said[1]).toContain(
      'radius 3500 mm, 21991 mm long on layer S-FNDN-WALL, is part of no wall: it faces another wall',
    );
  });

  it('of three arcs pairs the two that are closed at both ends, thicker though they are', () => {
    const arcs = [3000, 3200, 3500].map((r) => arc(r, 0, 90));
    expect(run([...arcs, spoke(3200, 3500, 0), spoke(3200, 3500, 90)]).curves).toEqual(['0,0 r3350 t300 0..90 11']);
  });

  it('of three arcs pairs the two that go on as a straight wall, thicker though they are', () => {
    const arcs = [3000, 3200, 3500].map((r) => arc(r, 0, 90));
    const straight = [line(3200, 0, 3200, -4000), line(3500, 0, 3500, -4000), line(3200, -4000, 3500, -4000)];
    const { curves, walls } = run([...arcs, ...straight]);
    expect(curves).toEqual(['0,0 r3350 t300 0..90 00']);
    expect(walls).toEqual(['3350,-4000 3350,0 t300']);
  });

  it('makes two walls of four arcs, though the air between them is thinner', () => {
    const { curves } = run([3000, 3200, 3300, 3500].map((r) => arc(r, 0, 180)));
    expect(curves).toEqual(['0,0 r3100 t200 0..180 00', '0,0 r3400 t200 0..180 00']);
  });

  it('ends a wall where either face ends, and says how far the other runs on', () => {
    const { curves, codes, said } = run([arc(3000, 0, 120), arc(3200, 20, 60)]);
    expect(curves).toEqual(['0,0 r3100 t200 20..80 00']);
    expect(codes).toEqual(['trace.curve-alone', 'trace.curved']);
    expect(said.some((s) => s.includes('radius 3000 mm, 2094 mm long'))).toBe(true);
  });

  it('parts walls at an opening with jambs', () => {
    const arcs = [4000, 4200].flatMap((r) => [arc(r, 0, 60), arc(r, 75, 60)]);
    const jambs = [0, 60, 75, 135].map((a) => spoke(4000, 4200, a));
    expect(run([...arcs, ...jambs]).curves).toEqual(['0,0 r4100 t200 0..60 11', '0,0 r4100 t200 75..135 11']);
  });

  it('parts walls where the thickness changes', () => {
    const arcs = [arc(3000, 0, 120), arc(3200, 0, 60), arc(3300, 60, 60)];
    const ends = [spoke(3200, 3300, 60), spoke(3000, 3200, 0), spoke(3000, 3300, 120)];
    const { curves, left } = run([...arcs, ...ends]);
    expect(curves).toEqual(['0,0 r3100 t200 0..60 10', '0,0 r3150 t300 60..120 01']);
    expect(left).toEqual([]);
  });

  it('takes an S of two arcs as two walls', () => {
    const up = { x: 0, y: 4200 };
    const arcs = [arc(2000, 0, 90), arc(2200, 0, 90), arc(2000, 180, 90, up), arc(2200, 180, 90, up)];
    const { curves } = run([...arcs, spoke(2000, 2200, 0), spoke(2000, 2200, 180, up)]);
    expect(curves).toEqual(['0,0 r2100 t200 0..90 10', '0,4200 r2100 t200 180..270 10']);
  });

  it('takes faces whose centres lie 3 mm apart and says so', () => {
    const { curves, codes, said } = run([arc(3000, 0, 120), arc(3200, 0, 120, { x: 3, y: 0 })]);
    expect(curves.length).toBe(1);
    expect(codes).toContain('trace.curve-centred');
    // Along a ray at angle a the gap is 200 + 3 cos a: from 203 down to 198.5.
    expect(said.some((s) => s.includes('their distance varies by 4.5'))).toBe(true);
  });

  it('does not take faces whose centres lie 50 mm apart', () => {
    const { curves, said } = run([arc(3000, 0, 120), arc(3200, 0, 120, { x: 50, y: 0 })]);
    expect(curves).toEqual([]);
    expect(said.every((s) => s.endsWith('the arc beside it is not concentric.'))).toBe(true);
  });
});

describe('what is short', () => {
  const pair = (degrees: number) => [
    arc(3000, 0, degrees),
    arc(3200, 0, degrees),
    spoke(3000, 3200, 0),
    spoke(3000, 3200, degrees),
  ];

  it('asks for twice the thickness', () => {
    // 3100 mm x 7.3 degrees = 395 mm; 7.5 degrees = 406 mm.
    expect(run(pair(7.3)).curves).toEqual([]);
    expect(run(pair(7.5)).curves.length).toBe(1);
    expect(run(pair(7.3)).codes).toEqual(['trace.curve-alone']);
  });

  it('asks for five times the thickness where no layer name tells', () => {
    expect(run(pair(18), true).curves).toEqual([]);
    expect(run(pair(19), true).curves.length).toBe(1);
  });
});

describe('what is no wall', () => {
  const wall = [line(9000, 0, 15000, 0), line(9000, 200, 15000, 200)];

  it('a door swing', () => {
    const { curves, codes, said } = run([...wall, line(0, 0, 0, 900), arc(900, 0, 90)]);
    expect(curves).toEqual([]);
    expect(codes).toEqual(['trace.curve-left-out']);
    expect(said[0]).toContain('a door swing');
  });

  it('the swings of two leaves on one hinge, 100 mm apart', () => {
    const swings = [line(0, 0, 0, 900), arc(900, 0, 90), line(0, 0, 0, 800), arc(800, 0, 90)];
    expect(run([...wall, ...swings]).curves).toEqual([]);
  });

  it('a leaf that is drawn with its thickness', () => {
    const leaf = bent(
      [
        [0, 0],
        [40, 0],
        [40, 900],
        [0, 900],
      ],
      true,
    );
    expect(run([...wall, leaf, arc(900, 0, 90), arc(1000, 0, 90)]).left.some((l) => l.includes('swing'))).toBe(false);
    expect(run([...wall, leaf, arc(900, 0, 90), arc(1000, 0, 90)]).curves).toEqual([]);
  });

  it('circles of columns and bubbles, also double ones', () => {
    const { curves, said } = run([
      ...wall,
      circle(250),
      circle(300, { x: 5000, y: 0 }),
      circle(400, { x: 5000, y: 0 }),
    ]);
    expect(curves).toEqual([]);
    expect(said.filter((s) => s.includes('the ring is too small to form')).length).toBe(2);
    expect(said.filter((s) => s.includes('a circle with no second one about it')).length).toBe(1);
  });

  it('a corner rounded on its outer face alone', () => {
    const { curves, walls } = run([
      arc(100, 180, 90, { x: 100, y: 100 }),
      ...[line(100, 0, 5000, 0), line(200, 200, 5000, 200), line(5000, 0, 5000, 200)],
      ...[line(0, 100, 0, 4000), line(200, 200, 200, 4000), line(0, 4000, 200, 4000)],
    ]);
    expect(curves).toEqual([]);
    expect(walls).toEqual(['100,200 100,4000 t200', '200,100 5000,100 t200']);
  });

  it('a polygon of long sides: its sides are straight walls', () => {
    const ring = (r: number) =>
      bent(
        Array.from({ length: 16 }, (_, i) => [polar(r, i * 22.5).x, polar(r, i * 22.5).y]),
        true,
      );
    const { curves, walls } = run([ring(3000), ring(3200)]);
    expect(curves).toEqual([]);
    expect(walls.length).toBe(16);
  });

  it('chords that look like a face and have no partner stay lines', () => {
    const { curves, found } = run([...wall, ...chordPaths(3000, 0, 90, 30, 'C', STILL, true)]);
    expect(curves).toEqual([]);
    // Each chord of 157 mm is a line of its own, named as such.
    expect(found.leftOver.filter((l) => l.sources.includes('C')).length).toBe(30);
  });
});

describe('chords that turn out to be no wall', () => {
  it('are given back to the straight tracing, which names each of them', () => {
    // 395 mm along the axis, less than twice 200 mm.
    const faces = [3000, 3200].flatMap((r) => chordPaths(r, 0, 7.3, 4, id(), STILL, true));
    const { curves, found } = run([...faces, line(9000, 0, 15000, 0), line(9000, 200, 15000, 200)]);
    expect(curves).toEqual([]);
    const named = [...found.leftOver, ...found.curveFindings.filter((f) => f.code === 'trace.curve-alone')];
    expect(named.length).toBe(8);
  });
});

describe('corners', () => {
  const fillet = (r: number, t: number) => [
    ...[arc(r, 180, 90, { x: r + t, y: r + t }), arc(r + t, 180, 90, { x: r + t, y: r + t })],
    ...[line(r + t, 0, 5000, 0), line(r + t, t, 5000, t), line(5000, 0, 5000, t)],
    ...[line(0, r + t, 0, 4000), line(t, r + t, t, 4000), line(0, 4000, t, 4000)],
  ];

  it('rounded on both faces: a curve between two walls, however short', () => {
    const { curves, walls, left, found } = run(fillet(300, 200));
    expect(curves).toEqual(['500,500 r400 t200 180..270 00']);
    expect(walls).toEqual(['100,500 100,4000 t200', '500,100 5000,100 t200']);
    expect(left).toEqual([]);
    expect(found.repairs).toEqual([]);
  });

  it('rounded by less than a repair: the lines are not drawn out to a sharp corner', () => {
    const { curves, walls, found } = run(fillet(20, 200));
    expect(curves).toEqual(['220,220 r120 t200 180..270 00']);
    expect(walls).toEqual(['100,220 100,4000 t200', '220,100 5000,100 t200']);
    expect(found.repairs).toEqual([]);
  });

  for (const [what, mm, code] of [
    ['stop short of the arcs', 15, 'trace.gap-closed'],
    ['run past the start of the arcs', -15, 'trace.overrun-cut'],
  ] as const) {
    it(`rounded, with lines that ${what} by 15 mm: the straight wall ends where the curve does`, () => {
      const lines = [line(500 + mm, 0, 5000, 0), line(500 + mm, 200, 5000, 200), line(5000, 0, 5000, 200)];
      const { curves, walls, codes, left } = run([
        ...fillet(300, 200).slice(0, 2),
        ...lines,
        ...fillet(300, 200).slice(5),
      ]);
      expect(curves).toEqual(['500,500 r400 t200 180..270 00']);
      expect(walls).toEqual(['100,500 100,4000 t200', '500,100 5000,100 t200']);
      expect(codes).toEqual(['trace.curved', code].sort());
      expect(left).toEqual([]);
    });
  }

  it('rounded in a room drawn as two outlines', () => {
    const { curves, walls, left } = run([
      bent(
        [
          [1700, 0],
          [8000, 0],
          [8000, 6000],
          [0, 6000],
          [0, 1700, QUARTER],
        ],
        true,
      ),
      bent(
        [
          [1700, 200],
          [7800, 200],
          [7800, 5800],
          [200, 5800],
          [200, 1700, QUARTER],
        ],
        true,
      ),
    ]);
    expect(curves).toEqual(['1700,1700 r1600 t200 180..270 00']);
    expect(walls.length).toBe(4);
    expect(left).toEqual([]);
  });

  for (const turn of [20, 45, -20, -45]) {
    it(`meeting a straight wall at ${turn} degrees: ends where the inner of both faces ends`, () => {
      // A straight wall from the axis' end at (0, 3100), turned off the tangent; each face ends where its line meets its circle.
      const u = polar(1, 180 + turn);
      const parts = [
        { r: 3000, off: 100 },
        { r: 3200, off: -100 },
      ].map(({ r, off }) => {
        const p = { x: -u.y * off, y: 3100 + u.x * off };
        const b = p.x * u.x + p.y * u.y;
        const root = Math.sqrt(b * b - (p.x * p.x + p.y * p.y - r * r));
        const s = Math.abs(-b + root) < Math.abs(-b - root) ? -b + root : -b - root;
        const q = { x: p.x + s * u.x, y: p.y + s * u.y };
        return {
          r,
          q,
          angle: (Math.atan2(q.y, q.x) * 180) / Math.PI,
          end: { x: p.x + 4000 * u.x, y: p.y + 4000 * u.y },
        };
      });
      const [inner, outer] = parts as [(typeof parts)[0], (typeof parts)[0]];
      const paths = parts.flatMap((p) => [arc(p.r, 0, p.angle), linePath(p.q, p.end, id(), STILL)]);
      const { found, left } = run([...paths, linePath(inner.end, outer.end, id(), STILL), spoke(3000, 3200, 0)]);
      expect(found.curves.length).toBe(1);
      expect(found.curves[0]!.toRad).toBeCloseTo(rad(Math.min(inner.angle, outer.angle)), 6);
      expect(found.stretches.length).toBe(1);
      expect(left).toEqual([]);
      expect(found.curveFindings.map((f) => f.code)).toEqual(['trace.curved']);
    });
  }
});

describe('meeting a straight wall', () => {
  /** Its near face is y = 0. */
  const through = [
    line(-6000, -300, 6000, -300),
    line(-6000, 0, 6000, 0),
    line(-6000, -300, -6000, 0),
    line(6000, -300, 6000, 0),
  ];
  const stem = (degrees: number) => [
    arc(2000, degrees, 90 - degrees),
    arc(2200, degrees, 90 - degrees),
    spoke(2000, 2200, 90),
  ];
  const at = (mm: number) => (mm / 2000) * (180 / Math.PI);

  it('short of it by 15 mm: taken as meeting it', () => {
    const { curves, codes } = run([...through, ...stem(at(15))]);
    expect(curves).toEqual(['0,0 r2100 t200 0..90 01']);
    expect(codes).toEqual(['trace.curved', 'trace.gap-closed']);
  });

  it('past its face by 15 mm, or through to its far face: cut at the face', () => {
    for (const mm of [15, 290]) {
      const { curves, codes } = run([...through, ...stem(-at(mm))]);
      expect(curves).toEqual(['0,0 r2100 t200 0..90 01']);
      expect(codes).toEqual(['trace.curved', 'trace.overrun-cut']);
    }
  });

  it('short of it by 300 mm: a free end', () => {
    const { curves, codes } = run([...through, ...stem(at(300))]);
    expect(curves).toEqual([`0,0 r2100 t200 ${n(at(300))}..90 01`]);
    expect(codes).toEqual(['trace.curved']);
  });

  for (const y of [0, -800, 800]) {
    it(`a bay about y = ${y} on a broken face: the axis ends on the face, and no line is left over`, () => {
      const half = (r: number) => Math.sqrt(r * r - y * y);
      const angle = (r: number) => (Math.asin(-y / r) * 180) / Math.PI;
      const c = { x: 0, y };
      const [a, b] = [half(2000), half(2200)];
      const arcs = [2000, 2200].map((r) => arc(r, angle(r), 180 - 2 * angle(r), c));
      const faces = [line(-6000, -300, 6000, -300), line(-6000, 0, -b, 0), line(-a, 0, a, 0), line(b, 0, 6000, 0)];
      const { found, left } = run([...arcs, ...faces, line(-6000, -300, -6000, 0), line(6000, -300, 6000, 0)]);
      expect(found.curves.length).toBe(1);
      const [k] = found.curves;
      // Where the axis' circle of 2100 mm meets the face y = 0.
      const from = Math.asin(-y / 2100);
      expect(Math.cos(k!.fromRad)).toBeCloseTo(Math.cos(from), 6);
      expect(Math.sin(k!.fromRad)).toBeCloseTo(Math.sin(from), 6);
      expect(k!.toRad - k!.fromRad).toBeCloseTo(Math.PI - 2 * from, 6);
      expect(left).toEqual([]);
      expect(found.curveFindings.map((f) => f.code)).toEqual(['trace.curved']);
    });
  }

  it('a straight wall on its inner face: the face is broken there, the outer one is not left over', () => {
    const u = polar(1, 60);
    const side = (off: number, along: number): Vec => ({ x: u.x * along - u.y * off, y: u.y * along + u.x * off });
    const root = Math.sqrt(5000 ** 2 - 100 ** 2);
    const d = (Math.asin(100 / 5000) * 180) / Math.PI;
    const { curves, walls, left, codes } = run([
      ...[arc(5000, 0, 60 - d), arc(5000, 60 + d, 120 - d), arc(5300, 0, 180)],
      ...[spoke(5000, 5300, 0), spoke(5000, 5300, 180)],
      ...[100, -100].map((off) => linePath(side(off, 2000), side(off, root), id(), STILL)),
      linePath(side(100, 2000), side(-100, 2000), id(), STILL),
    ]);
    expect(curves).toEqual([`0,0 r5150 t300 0..${n(60 - d)} 10`, `0,0 r5150 t300 ${n(60 + d)}..180 01`]);
    expect(walls.length).toBe(1);
    expect(left).toEqual([]);
    expect(codes).toEqual(['trace.curved']);
  });
});
