/** Hatches and solids: walls that are drawn by nothing else, evidence beside lines, and what is no wall. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath, TraceOptions } from '../../src/ground/vocabulary.js';
import { hatchBase, isHatchLayerOf } from '../../src/trace/habits/fills.js';
import { trace } from '../../src/trace/index.js';
import { expectKnown } from './knownWalls.js';
import {
  arbitraryPlacing,
  arbitraryPlan,
  drawingOf,
  FC,
  type KnownPlan,
  knownPlan,
  OPTIONS,
  type Placing,
  pathOf,
  place,
  toleranceOf,
} from './plans.js';

const PATT = 'S-FNDN-WALL-PATT';
const p = (x: number, y: number): Vec => ({ x, y });
const box = (x0: number, y0: number, x1: number, y1: number) => [p(x0, y0), p(x1, y0), p(x1, y1), p(x0, y1)];
const fill = (points: readonly Vec[], source: string, more: Partial<DrawingPath> = {}) =>
  pathOf(points, source, { entity: 'HATCH', fill: 'ANSI31', layer: PATT, ...more });
const run = (paths: readonly DrawingPath[], options: Partial<TraceOptions> = {}) => {
  const { value, findings } = trace(drawingOf(paths), { ...OPTIONS, unit: 'mm', ...options });
  const walls = value.stretches.map(
    (s) =>
      `${s.start.x},${s.start.y} ${s.end.x},${s.end.y} t${s.thicknessMm} ${Number(s.startCapped)}${Number(s.endCapped)}`,
  );
  return { value, findings, walls, codes: [...new Set(findings.map((f) => f.code))].sort() };
};

const moved = (points: readonly Vec[], m: Placing) => points.map((q) => place(q, m));

/** One hatch over all walls that hang together: its rings, outer and holes, are those of the outline. */
const oneHatch = (plan: KnownPlan, m: Placing, alone: boolean): DrawingPath[] => {
  const rings = plan.rings.map((r) => r.map((q) => place(q, m)));
  const own = alone ? rings.slice(-1) : [];
  const whole = alone ? rings.slice(0, -1) : rings;
  return [...whole.map((r, i) => fill(r, i === 0 ? 'H' : `H.${i + 1}`)), ...own.map((r) => fill(r, 'K'))];
};

/** A rectangle for each stretch: at corners and junctions they leave squares free. */
const rectangles = (plan: KnownPlan): Vec[][] =>
  plan.stretches.map(({ start, end, thicknessMm }) => {
    const [dx, dy] = [Math.sign(end.x - start.x), Math.sign(end.y - start.y)];
    const h = thicknessMm / 2;
    return [
      p(start.x + dy * h, start.y - dx * h),
      p(end.x + dy * h, end.y - dx * h),
      p(end.x - dy * h, end.y + dx * h),
      p(start.x - dy * h, start.y + dx * h),
    ];
  });

describe('walls drawn as hatches alone', { timeout: 60_000 }, () => {
  it('one hatch with islands gives the walls that its outline gives', () => {
    fc.assert(
      fc.property(arbitraryPlan, arbitraryPlacing, (shape, m) => {
        const plan = knownPlan(shape);
        const { value } = run(oneHatch(plan, m, shape.alone !== null));
        expectKnown(value.stretches, plan, m, toleranceOf(plan));
      }),
      FC,
    );
  });

  it('rectangles that butt at corners and tees, each a hatch of its own: seams are no faces', () => {
    fc.assert(
      fc.property(arbitraryPlan, arbitraryPlacing, fc.boolean(), (shape, m, pieces) => {
        const plan = knownPlan(shape);
        const { widthMm: w, depthMm: d, outerMm: t } = shape;
        const joints = [
          ...[0, w - t].flatMap((x) => [0, d - t].map((y) => box(x, y, x + t, y + t))),
          ...(shape.partition
            ? [
                box(shape.partition.atMm, 0, shape.partition.atMm + shape.partition.thicknessMm, t),
                ...(shape.partition.stubMm === null
                  ? [box(shape.partition.atMm, d - t, shape.partition.atMm + shape.partition.thicknessMm, d)]
                  : []),
              ]
            : []),
        ];
        const rings = [...rectangles(plan), ...joints].map((r) => r.map((q) => place(q, m)));
        const paths = rings.flatMap((r, i) =>
          // Two solids of three corners each, as TRACE and SOLID often are, or one hatch.
          pieces
            ? [
                fill([r[0]!, r[1]!, r[2]!], `A${i}`, { entity: 'SOLID', fill: 'SOLID' }),
                fill([r[0]!, r[2]!, r[3]!], `B${i}`, { entity: 'SOLID', fill: 'SOLID' }),
              ]
            : [fill(r, `H${i}`)],
        );
        const { value } = run(paths);
        expectKnown(value.stretches, plan, m, toleranceOf(plan));
      }),
      FC,
    );
  });
});

describe('walls drawn as lines with hatches in them', { timeout: 60_000 }, () => {
  const shift = fc.integer({ min: -8, max: 8 });

  it('are those of the lines, though the hatches miss these by some millimetres', () => {
    fc.assert(
      fc.property(
        arbitraryPlan,
        arbitraryPlacing,
        fc.array(fc.tuple(shift, shift), { minLength: 3, maxLength: 9 }),
        (shape, m, shifts) => {
          const plan = knownPlan(shape);
          const lines = plan.rings.map((r, i) => pathOf(moved(r, m), `R${i}`));
          const hatches = rectangles(plan).map((r, i) => {
            const [dx, dy] = shifts[i % shifts.length]!;
            return fill(
              moved(
                r.map((q) => p(q.x + dx, q.y + dy)),
                m,
              ),
              `H${i}`,
            );
          });
          const { value, codes } = run([...lines, ...hatches]);
          expectKnown(value.stretches, plan, m, toleranceOf(plan));
          expect(codes).not.toContain('trace.fill-walls');
        },
      ),
      FC,
    );
  });

  it('two by two nearer than they are thick stay what the hatch shows', () => {
    const gap = fc.integer({ min: 80, max: 500 });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 100, max: 400 }), gap), { minLength: 2, maxLength: 6 }),
        (walls) => {
          let y = 0;
          const found: string[] = [];
          const paths = walls.flatMap(([t, air], i) => {
            const [low, high] = [y, y + t];
            y = high + air;
            found.push(`0,${(low + high) / 2} 6000,${(low + high) / 2} t${t} 00`);
            const face = (at: number, k: number) => pathOf([p(0, at), p(6000, at)], `L${i}${k}`);
            return [face(low, 0), face(high, 1), fill(box(100, low, 5900, high), `H${i}`)];
          });
          expect(run(paths).walls).toEqual(
            found.sort((a, b) => Number(a.split(/[ ,]/)[1]) - Number(b.split(/[ ,]/)[1])),
          );
        },
      ),
      FC,
    );
  });
});

describe('names of hatch layers', () => {
  it('belong to the layer that they are named after', () => {
    expect(hatchBase('S-FNDN-WALL-PATT')).toBe('S-FNDN-WALL');
    expect(hatchBase('x$0$WAND_Schraffur')).toBe('WAND');
    expect(hatchBase('S-FNDN-WALL')).toBeNull();
    expect(hatchBase('HATCH')).toBeNull();
    expect(isHatchLayerOf('A-WALL-PATT', ['A-WALL'])).toBe(true);
    expect(isHatchLayerOf('A-FLOR-PATT', ['A-WALL'])).toBe(false);
  });
});
