/**
 * Corners and junctions of any angle: worked layouts 8 and 9 by hand, number for number; offsets against clipper's own offsetting of a line and
 * against the intersection of lines (Cramer's rule in tests/support/bentPlan.ts); the pulls by the statics of the corner.
 */

import ClipperLib from 'clipper-lib';
import { describe, expect, it } from 'vitest';
import type { Catalogue, FacePlan, Foundation } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { foundation, stretch } from '../shape/draw.js';
import { type BentLine, bentFaces, bentFoundation, mirrored, turned } from '../support/bentPlan.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { layOutByHand, P } from './handLoads.js';

const layOut = (found: Foundation, share = 1, catalogue: Catalogue = workedExampleCatalogue) =>
  layOutByHand(found, catalogue, share);

const vee = (
  deflectionDeg: number,
  first: number,
  second: number,
  lengths: readonly [number, number] = [4000, 3500],
) => {
  const d = (deflectionDeg * Math.PI) / 180;
  const [a, b] = lengths;
  const line: BentLine = {
    points: [
      [0, 0],
      [a, 0],
      [a + b * Math.cos(d), b * Math.sin(d)],
    ],
    thicknesses: [first, second],
    closed: false,
  };
  return line;
};

const polygon = (n: number, sideMm: number, thicknessMm: number): BentLine => {
  const points: [number, number][] = [];
  let at: [number, number] = [0, 0];
  for (let i = 0; i < n; i++) {
    points.push(at);
    const a = (2 * Math.PI * i) / n;
    at = [at[0] + sideMm * Math.cos(a), at[1] + sideMm * Math.sin(a)];
  }
  return { points, thicknesses: Array<number>(n).fill(thicknessMm), closed: true };
};

/** [kind, width] of the lowest course on a face, start to end. */
const along = ({ layout }: ReturnType<typeof layOut>, face: string): [string, number][] =>
  layout.pieces
    .filter((p) => p.course === 1)
    .flatMap((p) => p.covers.filter((c) => c.face === face).map((c) => ({ kind: p.kind, c })))
    .sort((a, b) => a.c.fromMm - b.c.fromMm)
    .map(({ kind, c }) => [kind, c.toMm - c.fromMm]);

const tiers = (laid: ReturnType<typeof layOut>) => laid.layout.tiers.map((t) => t.value);

describe('worked layout 8: a corner turning 45 degrees, t 250', () => {
  const laid = layOut(bentFoundation(vee(45, 250, 250)));

  it('stands timber of 21.45 beside the leg of 200, opposite 300 with a filler of 25 bolted to it: the least', () => {
    expect(laid.failures).toEqual([]);
    const inner = along(laid, 'W2-L').slice(0, 2);
    expect(inner.map(([kind]) => kind)).toEqual(['hinged-corner', 'timber']);
    expect(inner[0]![1]).toBe(200);
    expect(Math.abs(inner[1]![1] - 21.45)).toBeLessThan(1);
    expect(along(laid, 'W2-R').slice(0, 2)).toEqual([
      ['panel', 300],
      ['filler', 25],
    ]);
    expect(laid.layout.pieces.filter((p) => p.kind === 'outside-corner').map((p) => p.item)).toEqual([
      'hinged-outside-corner-2400',
    ]);
  });

  it('holds the edge: pull N = S cot(d/2) in the outer line, the rest of p t in the inner one', () => {
    // S is the held edge's reaction: half of k + a + x.
    const strip = (103.55 + 200 + 21.45) / 2;
    const outer = (P * strip) / Math.tan(Math.PI / 8) / 1000;
    const said = laid.checked.find((f) => f.code === 'check.in-plane' && f.message.includes('N2'))!.message;
    const [a, b] = said
      .match(/-?[\d.]+ and -?[\d.]+/)![0]
      .split(' and ')
      .map(Number);
    expect(a).toBeCloseTo(outer, 0);
    expect(a! + b!).toBeCloseTo((P * 250) / 1000, 0);
  });
});

describe('worked layout 9: unequal thickness and oblique junctions', () => {
  it.each([
    [300, 200, 60, 57.74, 230.94],
    [300, 200, 90, 200, 300],
    [250, 250, 45, 103.55, 103.55],
    [300, 200, 30, -119.62, 253.59],
    [200, 200, 135, 482.84, 482.84],
  ])('t %i and %i, deflection %i: the vertices lie %f and %f apart along the walls', (a, b, d, kA, kB) => {
    const { value: plan } = shape(bentFoundation(vee(d, a, b)), { gridMm: 1 });
    for (const run of plan.runs) {
      const [end, sign] = run.start.kind === 'corner' ? ([run.start, 1] as const) : ([run.end, -1] as const);
      if (end.kind !== 'corner') throw new Error('no corner');
      const [inner, outer] = end.inner === 'left' ? [end.leftMm, end.rightMm] : [end.rightMm, end.leftMm];
      const k = sign * (inner - outer);
      const expected = a === b ? kA : run.thicknessMm === a ? kA : kB;
      expect(Math.abs(k - expected)).toBeLessThanOrEqual(0.5);
    }
  });

  it('a stem of 200 at 60 degrees takes 230.94 of the through face, and its faces start 115.47 apart', () => {
    const laid = layOut(tee(60, 250, 200), 0.7);
    const through = laid.plan.runs.find((r) => r.stems.length > 0)!;
    const [stem] = through.stems;
    expect(Math.abs(stem!.toMm - stem!.fromMm - 230.94)).toBeLessThan(1);
    const own = laid.plan.runs.find((r) => r.start.kind === 'stem')!.start;
    expect(Math.abs(Math.abs(own.leftMm - own.rightMm) - 115.47)).toBeLessThanOrEqual(0.5);
    expect(laid.failures).toEqual([]);
    // One hinged corner stands in the sharp angle, one in the blunt one.
    const hinged = laid.layout.pieces.filter((p) => p.kind === 'hinged-corner' && p.course === 1);
    const turns = hinged.map((p) => laid.plan.vertices.find((v) => v.id === p.vertex)!.deflectionDeg);
    expect(turns.map(Math.round).sort((a, b) => a - b)).toEqual([60, 120]);
    // Opposite the stem one rigid group, and no tie runs down the stem.
    const group = laid.layout.groups.find(
      (g) => g.face.endsWith(stem!.side === 'left' ? 'R' : 'L') && g.fromMm < stem!.fromMm && g.toMm > stem!.toMm,
    )!;
    expect(group.fromMm).toBeLessThanOrEqual(stem!.fromMm - 200);
    expect(group.toMm).toBeGreaterThanOrEqual(stem!.toMm + 200);
    const down = laid.layout.ties.filter(
      (t) => t.wall === through.wall && t.stationMm > stem!.fromMm && t.stationMm < stem!.toMm,
    );
    expect(down).toEqual([]);
  });
});

/** A wall along x and a stem on it; a stretch of the stem is where both of its faces are seen. */
const tee = (angleDeg: number, throughMm: number, stemMm: number): Foundation => {
  const q = (angleDeg * Math.PI) / 180;
  const point = (s: number): [number, number] => [4000 + s * Math.cos(q), s * Math.sin(q)];
  const from = (throughMm / 2 + (stemMm / 2) * Math.abs(Math.cos(q))) / Math.sin(q);
  return foundation([
    stretch([0, 0], [8000, 0], throughMm, [true, true], 'A'),
    stretch(point(from), point(3000), stemMm, [false, true], 'B'),
  ]);
};

describe('vertices against clipper', () => {
  it.each([30, 45, 60, 90, 120, 135])('turning %i degrees: the outline is the line of axes, offset', (d) => {
    const line = vee(d, 200, 200);
    const plan = shape(bentFoundation(line), { gridMm: 1 }).value;
    const scale = 1000;
    const offset = new ClipperLib.ClipperOffset(20, 0.25);
    const path = line.points.map(([x, y]) => ({ X: Math.round(x * scale), Y: Math.round(y * scale) }));
    offset.AddPath(path, ClipperLib.JoinType.jtMiter, ClipperLib.EndType.etOpenButt);
    const solution: ClipperLib.Paths = [];
    offset.Execute(solution, 100 * scale);
    const corners = solution.flat().map((p) => ({ x: p.X / scale, y: p.Y / scale }));
    expect(plan.vertices).toHaveLength(2);
    for (const v of plan.vertices) {
      const near = Math.min(...corners.map((c) => Math.hypot(c.x - v.at.x, c.y - v.at.y)));
      expect(near).toBeLessThan(1);
    }
  });

  it.each([
    [20, 300, 200],
    [70, 200, 300],
    [110, 250, 200],
  ])('turning %i degrees with %i and %i: faces as lines that cross', (d, a, b) => {
    const line = vee(d, a, b);
    const plan = shape(bentFoundation(line), { gridMm: 1 }).value;
    const crossings = bentFaces(line)
      .filter((f) => f.wall === 0)
      .map((f) => f.to);
    for (const v of plan.vertices) {
      const near = Math.min(...crossings.map(([x, y]) => Math.hypot(x - v.at.x, y - v.at.y)));
      // Faces are brought onto the grid: half a step each, more along where they meet at a flat angle.
      expect(near).toBeLessThan(1 / Math.sin((d * Math.PI) / 180) + 0.5);
    }
  });
});

describe('closed convex rooms', () => {
  it.each([
    [6, 200],
    [8, 200],
    [5, 250],
    [8, 300],
  ])('%i sides, t %i: outer less inner length is the sum of 2 t tan(d/2), and all is laid out', (n, t) => {
    const laid = layOut(bentFoundation(polygon(n, 3000, t)));
    expect(laid.failures).toEqual([]);
    const length = (pick: (run: FacePlan['runs'][number]) => 'left' | 'right') =>
      laid.plan.runs.reduce((sum, run) => {
        const face = laid.plan.faces.find((f) => f.wall === run.wall && f.side === pick(run))!;
        return sum + face.toMm - face.fromMm;
      }, 0);
    const inner = (run: FacePlan['runs'][number]) => (run.start.kind === 'corner' ? run.start.inner : 'left');
    const outer = (run: FacePlan['runs'][number]) => (inner(run) === 'left' ? 'right' : 'left');
    const expected = n * 2 * t * Math.tan(Math.PI / n);
    // Each of the 2 n distances between vertices is rounded to 1 mm.
    expect(Math.abs(length(outer) - length(inner) - expected)).toBeLessThanOrEqual(n);
  });
});

describe('corners that hold no edge', () => {
  it('under 45 degrees both walls are tied within the overhang of the edge, without a hinged inside corner', () => {
    const laid = layOut(bentFoundation(vee(30, 200, 200)));
    expect(laid.failures).toEqual([]);
    expect(laid.findings.map((f) => f.code)).toContain('fit.tapered-strip');
    expect(laid.layout.groups.filter((g) => g.supports.includes('held'))).toEqual([]);
    for (const run of laid.plan.runs) {
      const end = run.start.kind === 'corner' ? run.start : run.end;
      if (end.kind !== 'corner') throw new Error('no corner');
      const edge = end.inner === 'left' ? end.rightMm : end.leftMm;
      const nearest = Math.min(
        ...laid.layout.ties.filter((t) => t.wall === run.wall).map((t) => Math.abs(t.stationMm - edge)),
      );
      expect(nearest).toBeLessThanOrEqual(workedExampleCatalogue.overhangMm);
    }
    const strip = laid.layout.pieces.find((p) => p.kind === 'timber' && p.vertex !== undefined)!;
    expect(strip.covers).toHaveLength(2);
    // The frames behind it clear each other: depth tan(d/2) on each side.
    const least = workedExampleCatalogue.frameDepthMm * Math.tan(Math.PI / 12);
    for (const c of strip.covers) expect(c.toMm - c.fromMm).toBeGreaterThanOrEqual(least);
  });

  it('where the salient edge is out of reach of a tie it says so', () => {
    const laid = layOut(bentFoundation(vee(30, 300, 300)));
    expect(laid.findings.filter((f) => f.code === 'fit.special-form')).toHaveLength(2);
  });

  it('a yard without hinged corners says so at each end', () => {
    const square = workedExampleCatalogue.units.filter((u) => !u.deflectionDeg);
    const laid = layOut(bentFoundation(vee(60, 200, 200)), 1, { ...workedExampleCatalogue, units: square });
    expect(laid.findings.filter((f) => f.code === 'fit.no-corner-unit')).toHaveLength(2);
  });

  it('an interior angle under 60 is flagged', () => {
    const laid = layOut(bentFoundation(vee(130, 150, 150)), 0.6);
    expect(laid.findings.map((f) => f.code)).toContain('fit.sharp-corner');
  });
});

describe('laws', () => {
  const lines: [string, BentLine][] = [
    ['45', vee(45, 250, 250)],
    ['60, 300 and 200', vee(60, 300, 200)],
    ['30', vee(30, 200, 200)],
    ['hexagon', polygon(6, 2400, 200)],
  ];
  it.each(lines)('%s: turning or mirroring the plan leaves the cost', (_, line) => {
    const plain = tiers(layOut(bentFoundation(line)));
    for (const deg of [17, 90, 143, 200, 331]) expect(tiers(layOut(bentFoundation(turned(line, deg))))).toEqual(plain);
    expect(tiers(layOut(bentFoundation(mirrored(line))))).toEqual(plain);
  });
});
