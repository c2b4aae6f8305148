/**
 * Networks of walls on a grid, outlined by an independent polygon union (clipper-lib), traced back. The stretches have to fill the concrete but
 * for the squares where walls cross, and nothing beside it. Rooms may be hardly wider than the walls are thick.
 */

import ClipperLib from 'clipper-lib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import { drawingOf, FC, OPTIONS, pathOf } from './plans.js';

type Rings = ClipperLib.Paths;
/** Clipper works in integers: hundredths of a mm. */
const FINE = 100;

const rect = (x0: number, y0: number, x1: number, y1: number): ClipperLib.Path =>
  [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ].map(([x, y]) => ({ X: Math.round(x! * FINE), Y: Math.round(y! * FINE) }));

const combine = (type: ClipperLib.ClipType, subject: Rings, clip: Rings): Rings => {
  const clipper = new ClipperLib.Clipper();
  clipper.AddPaths(subject, ClipperLib.PolyType.ptSubject, true);
  clipper.AddPaths(clip, ClipperLib.PolyType.ptClip, true);
  const out: Rings = [];
  const filled = ClipperLib.PolyFillType.pftNonZero;
  clipper.Execute(type, out, filled, filled);
  return out;
};
const union = (rings: Rings): Rings => combine(ClipperLib.ClipType.ctUnion, rings, []);
const areaMm2 = (rings: Rings): number => rings.reduce((s, r) => s + ClipperLib.Clipper.Area(r), 0) / FINE ** 2;

interface Network {
  /** Positions and thicknesses of the grid lines each way. */
  readonly xs: readonly { readonly at: number; readonly t: number }[];
  readonly ys: readonly { readonly at: number; readonly t: number }[];
  /** For each grid edge whether a wall stands on it: along x first, then along y. */
  readonly alongX: readonly boolean[];
  readonly alongY: readonly boolean[];
}

const gridLines = (leastGap: number) =>
  fc
    .array(fc.record({ gap: fc.integer({ min: leastGap, max: 4500 }), t: fc.integer({ min: 100, max: 300 }) }), {
      minLength: 2,
      maxLength: 4,
    })
    .map((list) => {
      let at = 0;
      return list.map(({ gap, t }) => {
        at += gap + 150;
        return { at, t };
      });
    });

const network = (leastGap: number): fc.Arbitrary<Network> =>
  fc.record({
    xs: gridLines(leastGap),
    ys: gridLines(leastGap),
    alongX: fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }),
    alongY: fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }),
  });

/** Concrete of a network and the squares at its nodes. Walls run half the crossing thickness past their nodes. */
const build = (n: Network): { concrete: Rings; squares: Rings; walls: number } => {
  const rects: Rings = [];
  const squares: Rings = [];
  const { xs, ys } = n;
  let k = 0;
  for (const y of ys) {
    for (let i = 0; i + 1 < xs.length; i++) {
      if (!n.alongX[k++ % n.alongX.length]) continue;
      const [a, b] = [xs[i]!, xs[i + 1]!];
      rects.push(rect(a.at - a.t / 2, y.at - y.t / 2, b.at + b.t / 2, y.at + y.t / 2));
    }
  }
  k = 0;
  for (const x of xs) {
    for (let j = 0; j + 1 < ys.length; j++) {
      if (!n.alongY[k++ % n.alongY.length]) continue;
      const [a, b] = [ys[j]!, ys[j + 1]!];
      rects.push(rect(x.at - x.t / 2, a.at - a.t / 2, x.at + x.t / 2, b.at + b.t / 2));
    }
  }
  for (const x of xs) {
    for (const y of ys) squares.push(rect(x.at - x.t / 2, y.at - y.t / 2, x.at + x.t / 2, y.at + y.t / 2));
  }
  return { concrete: union(rects), squares, walls: rects.length };
};

const rings = (concrete: Rings): Vec[][] => concrete.map((r) => r.map((q) => ({ x: q.X / FINE, y: q.Y / FINE })));

const asOutlines = (concrete: Rings): DrawingPath[] => rings(concrete).map((r, i) => pathOf(r, `R${i}`));

const asLines = (concrete: Rings, keys: readonly number[]): DrawingPath[] =>
  rings(concrete)
    .flatMap((r) => r.map((a, i) => [a, r[(i + 1) % r.length]!] as const))
    .map(([a, b], i) => ({ path: pathOf(i % 2 ? [a, b] : [b, a], `L${i}`), key: keys[i % keys.length]! }))
    .sort((p, q) => p.key - q.key)
    .map(({ path }) => path);

/** Areas in mm2 that were taken for wall wrongly, and that were missed. */
const compare = (n: Network, draw: (concrete: Rings) => DrawingPath[]): { wrong: number; missed: number } => {
  const { concrete, squares } = build(n);
  const { value } = trace(drawingOf(draw(concrete)), OPTIONS);
  const found = union(
    value.stretches.map((s) => {
      const half = s.thicknessMm / 2;
      const flat = Math.abs(s.start.y - s.end.y) < 1e-6;
      expect(flat || Math.abs(s.start.x - s.end.x) < 1e-6).toBe(true);
      return flat
        ? rect(s.start.x, s.start.y - half, s.end.x, s.end.y + half)
        : rect(s.start.x - half, s.start.y, s.end.x + half, s.end.y);
    }),
  );
  const D = ClipperLib.ClipType.ctDifference;
  return { wrong: areaMm2(combine(D, found, concrete)), missed: areaMm2(combine(D, concrete, [...found, ...squares])) };
};

describe('networks of walls', { timeout: 60_000 }, () => {
  it('come back whole when drawn as outlines', () => {
    fc.assert(
      fc.property(network(1300), (n) => {
        fc.pre(build(n).walls > 0);
        const { wrong, missed } = compare(n, asOutlines);
        expect(wrong).toBeLessThan(1);
        expect(missed).toBeLessThan(1);
      }),
      FC,
    );
  });

  it('come back whole when drawn as single lines in any order', () => {
    fc.assert(
      fc.property(network(1300), fc.array(fc.nat(), { minLength: 7, maxLength: 30 }), (n, keys) => {
        fc.pre(build(n).walls > 0);
        const { wrong, missed } = compare(n, (c) => asLines(c, keys));
        expect(wrong).toBeLessThan(1);
        expect(missed).toBeLessThan(1);
      }),
      FC,
    );
  });

  it('come back whole with rooms hardly wider than walls are thick', () => {
    fc.assert(
      fc.property(network(700), (n) => {
        fc.pre(build(n).walls > 0);
        const { wrong, missed } = compare(n, asOutlines);
        expect(wrong).toBeLessThan(1);
        expect(missed).toBeLessThan(1);
      }),
      FC,
    );
  });
});
