/** Curved walls in the ways in which they are drawn, with any input, in any order, and in drawings by others. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DrawingPath } from '../../src/ground/vocabulary.js';
import { traceGroupWithCurves } from '../../src/trace/curves/withCurves.js';
import { itWithSamples, read, sample } from '../read/samples.js';
import { arc, bent, circle, id, line, O, QUARTER, run } from './curveAsked.js';
import { boundary, chordPaths, drawn, linePath, polar, rad, STILL, traced } from './curveScenes.js';
import { FC, pathOf } from './plans.js';

describe('ways of drawing', () => {
  it('takes arcs that rise by less than 1 mm as straight lines', () => {
    // 2 x 0.0002 x 2500 mm = 0.5 mm over 5 m.
    expect(
      run([
        bent(
          [
            [0, 0, 0.0002],
            [5000, 0],
          ],
          false,
        ),
        line(0, 200, 5000, 200),
      ]).walls,
    ).toEqual(['0,100 5000,100 t200']);
  });

  it('takes a spline whose points lie in a row as a straight line', () => {
    const spline = bent(
      Array.from({ length: 17 }, (_, i) => [i * 200, 0] as const),
      false,
      'SPLINE',
    );
    expect(run([spline, line(0, 200, 3200, 200)]).walls).toEqual(['0,100 3200,100 t200']);
  });

  it('takes splines that lie on circles as arcs', () => {
    const spline = (r: number) => ({ ...chordPaths(r, 0, 90, 32, id(), STILL, true)[0]!, entity: 'SPLINE' });
    const { curves, codes } = run([spline(4000), spline(4250)]);
    expect(curves).toEqual(['0,0 r4125 t250 0..90 00']);
    expect(codes).toEqual(['trace.curve-fitted', 'trace.curved']);
  });

  it('takes an ellipse in arcs within millimetres, without a break', () => {
    const ellipse = (a: number, b: number) =>
      bent(
        Array.from({ length: 73 }, (_, i) => [a * Math.cos(rad(i * 2.5)), b * Math.sin(rad(i * 2.5))] as const),
        false,
        'ELLIPSE',
      );
    const { found } = run([ellipse(6000, 4000), ellipse(6200, 4200)]);
    const length = found.curves.reduce((s, c) => s + (c.toRad - c.fromRad) * c.radiusMm, 0);
    // Half the circumference by Ramanujan's first approximation, semi-axes 6100 and 4100.
    const half = (Math.PI / 2) * (3 * 10200 - Math.sqrt((3 * 6100 + 4100) * (6100 + 3 * 4100)));
    expect(length / half).toBeGreaterThan(0.9);
    for (const c of found.curves) expect(Math.abs(c.thicknessMm - 200)).toBeLessThan(6);
  });

  it('says that a curve which is no arc is no wall', () => {
    const wave = bent(
      Array.from({ length: 40 }, (_, i) => [i * 100, 900 * Math.sin(i) + i * 7] as const),
      false,
      'SPLINE',
    );
    const { curves, said } = run([wave, line(0, 5000, 6000, 5000), line(0, 5200, 6000, 5200)]);
    expect(curves).toEqual([]);
    expect(said.some((s) => s.startsWith('A curve (SPLINE)') && s.includes('it is no arc of a circle'))).toBe(true);
  });

  it('takes chords whose ends are rounded to whole mm', () => {
    const rough = (r: number) =>
      bent(
        Array.from({ length: 61 }, (_, i) => [Math.round(polar(r, i * 2).x), Math.round(polar(r, i * 2).y)] as const),
        false,
      );
    const { found } = run([rough(3000), rough(3200)]);
    expect(found.curves.length).toBe(1);
    const [c] = found.curves;
    expect(Math.abs(c!.thicknessMm - 200)).toBeLessThan(1);
    expect(Math.abs((c!.toRad - c!.fromRad) * 3100 - rad(120) * 3100)).toBeLessThan(3);
  });

  it('counts in inches', () => {
    const k = { innerMm: 120, thicknessMm: 8, from: 0, by: 90, before: 0, after: 0 };
    const paths = drawn(k, 'outline', STILL);
    const found = traceGroupWithCurves(paths, {
      frame: { origin: O, mmPer: 25.4 },
      area: null,
      footings: 'possible',
      cautious: false,
    });
    expect(found.curves[0]).toMatchObject({
      radiusMm: 124 * 25.4,
      thicknessMm: 203.2,
      startCapped: true,
      endCapped: true,
    });
  });

  it('leaves out and counts what is not wholly inside the area', () => {
    const paths = [arc(3000, 0, 90), arc(3200, 0, 90), line(8000, 0, 9000, 0)];
    const found = traceGroupWithCurves(paths, {
      frame: { origin: O, mmPer: 1 },
      area: [-100, -100, 3100, 3100],
      footings: 'possible',
      cautious: false,
    });
    expect(found.curves).toEqual([]);
    expect(found.segmentSet.outsideArea).toEqual([paths[1]!.source, paths[2]!.source].sort());
  });

  it('says so when there is more than it works through, and still leaves nothing unsaid', () => {
    const many = Array.from({ length: 8100 }, (_, i) => arc(100 + i, 0, 90));
    const { curves, codes } = run(many);
    expect(curves).toEqual([]);
    expect(codes).toEqual(['trace.curve-too-much']);
  });
});

describe('any input', () => {
  const number = fc.oneof(
    { weight: 6, arbitrary: fc.integer({ min: -5000, max: 5000 }) },
    { weight: 1, arbitrary: fc.constantFrom(NaN, Infinity, -Infinity, 1e300, 1e-300, 0, 1e12, -0) },
  );
  const bulge = fc.oneof(
    fc.constantFrom(0, 0, 0, 1, -1, QUARTER, 1e-9, 1e9, NaN, Infinity),
    fc.double({ min: -3, max: 3, noNaN: true }),
  );
  const anyPath = fc
    .record({
      vertices: fc.array(fc.record({ x: number, y: number, bulge }), { maxLength: 12 }),
      closed: fc.boolean(),
      entity: fc.constantFrom('LINE', 'LWPOLYLINE', 'ARC', 'CIRCLE', 'SPLINE', 'HATCH'),
    })
    .map((p) => ({ ...pathOf([], id()), ...p }));

  it('ends in finite numbers, without a fault of ours', () => {
    fc.assert(
      fc.property(fc.array(anyPath, { maxLength: 12 }), (paths) => {
        for (const c of traced(paths).curves) {
          const numbers = [c.centre.x, c.centre.y, c.radiusMm, c.fromRad, c.toRad, c.thicknessMm];
          expect(numbers.every(Number.isFinite)).toBe(true);
          expect(c.toRad).toBeGreaterThan(c.fromRad);
          expect(c.toRad - c.fromRad).toBeLessThanOrEqual(2 * Math.PI + 1e-9);
        }
      }),
      { ...FC, numRuns: 4 * FC.numRuns },
    );
  });
});

describe('nothing depends on the order', { timeout: 60_000 }, () => {
  const scene: DrawingPath[] = [
    ...drawn({ innerMm: 3000, thicknessMm: 200, from: 30, by: 120, before: 1500, after: 0 }, 'pieces', STILL),
    ...boundary({ innerMm: 1500, thicknessMm: 250, from: 0, by: 90, before: 0, after: 0 }).flatMap((p) =>
      p.kind === 'line' ? [linePath(p.a, p.b, id(), STILL)] : chordPaths(p.r, p.from, p.by, 24, id(), STILL, false),
    ),
    ...[3500, 3650, 3900].map((r) => arc(r, 200, 100)),
    ...[arc(900, 0, 90, { x: 9000, y: 0 }), line(9000, 0, 9900, 0), circle(300, { x: 9000, y: 4000 })],
    arc(4000, 200, 100, { x: 2, y: 1 }),
  ];
  const plain = (paths: readonly DrawingPath[]) => {
    const { curves, curveFindings, stretches, leftOver } = traced(paths);
    return { curves, curveFindings, stretches, leftOver };
  };
  const expected = plain(scene);

  it('of the entities', () => {
    expect(expected.curves.length).toBeGreaterThan(2);
    fc.assert(
      fc.property(fc.shuffledSubarray(scene, { minLength: scene.length }), (paths) => {
        expect(plain(paths)).toEqual(expected);
      }),
      { ...FC, numRuns: Math.min(FC.numRuns, 60) },
    );
  });

  it('and of the direction in which a line or arc was drawn', () => {
    const reversed = (p: DrawingPath): DrawingPath => {
      if (p.closed) return p;
      const v = [...p.vertices].reverse();
      return { ...p, vertices: v.map((x, i) => ({ x: x.x, y: x.y, bulge: -(v[i + 1]?.bulge ?? 0) })) };
    };
    const rounded = (c: ReturnType<typeof plain>) =>
      c.curves.map((x) =>
        [x.centre.x, x.centre.y, x.radiusMm, x.fromRad, x.toRad, x.thicknessMm].map((y) => Math.round(y * 1000) / 1000),
      );
    expect(rounded(plain(scene.map(reversed)))).toEqual(rounded(expected));
  });
});

describe('drawings by others', () => {
  itWithSamples('an outline with three bulges of different centres holds no curved wall', () => {
    const { drawing } = read(sample('bulge_outline_not_closed.dxf'));
    const { curves, said, walls } = run(drawing.paths);
    expect(curves).toEqual([]);
    expect(walls).toEqual([]);
    expect(said.length).toBe(3);
    expect(said.every((s) => s.includes('no concentric arc at a wall thickness beside it'))).toBe(true);
  });

  itWithSamples('outlines of straight lines in mirrored planes are not taken for curves', () => {
    const { drawing } = read(sample('ocs_negative_extrusion_lwpolyline.dxf'));
    expect(run(drawing.paths).curves).toEqual([]);
  });
});
