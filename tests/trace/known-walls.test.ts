/** Walls drawn from known measures come back: whatever the drawing style, the faults, the order, the turn and the place. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath, WallStretch } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import {
  arbitraryFaults,
  arbitraryPlacing,
  arbitraryPlan,
  drawingOf,
  type Faults,
  FC,
  faultySide,
  type KnownPlan,
  type KnownStretch,
  knownPlan,
  OPTIONS,
  optionsIn,
  type Placing,
  pathOf,
  place,
  toleranceOf,
} from './plans.js';

const near = (a: Vec, b: Vec, mm: number) => Math.hypot(a.x - b.x, a.y - b.y) <= mm;

/** The stretch that was meant: ends in either order within `mm`, and the same thickness. */
const find = (found: readonly WallStretch[], known: KnownStretch, m: Placing, mm: number): WallStretch | undefined => {
  const [a, b] = [place(known.start, m), place(known.end, m)];
  return found.find(
    (s) =>
      Math.abs(s.thicknessMm - known.thicknessMm) <= mm &&
      ((near(s.start, a, mm) && near(s.end, b, mm)) || (near(s.start, b, mm) && near(s.end, a, mm))),
  );
};

const expectKnown = (found: readonly WallStretch[], plan: KnownPlan, m: Placing, mm: number) => {
  for (const known of plan.stretches) {
    const s = find(found, known, m, mm);
    expect(s, `stretch ${JSON.stringify(known)} among ${JSON.stringify(found)}`).toBeDefined();
    expect(Number(s!.startCapped) + Number(s!.endCapped)).toBe(known.caps);
  }
  expect(found.length).toBe(plan.stretches.length);
};

const closedPaths = (plan: KnownPlan, m: Placing): DrawingPath[] =>
  plan.rings.map((ring, i) =>
    pathOf(
      ring.map((q) => place(q, m)),
      `R${i}`,
    ),
  );

const loosePaths = (plan: KnownPlan, m: Placing, faults: readonly Faults[]): DrawingPath[] => {
  const out: DrawingPath[] = [];
  let k = 0;
  for (const ring of plan.rings) {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      for (const [u, v] of faultySide(a, b, faults[k++ % faults.length]!)) {
        out.push(pathOf([place(u, m), place(v, m)], `L${out.length}`));
      }
    });
  }
  return out;
};

describe('known walls come back', { timeout: 60_000 }, () => {
  it('drawn as closed outlines, at any of the turns and places', () => {
    fc.assert(
      fc.property(arbitraryPlan, arbitraryPlacing, (shape, m) => {
        const plan = knownPlan(shape);
        const { value } = trace(drawingOf(closedPaths(plan, m)), OPTIONS);
        expectKnown(value.stretches, plan, m, toleranceOf(plan));
      }),
      FC,
    );
  });

  it('drawn as loose lines with splits, laps, small gaps, doubles, overruns, in any order', () => {
    fc.assert(
      fc.property(
        arbitraryPlan,
        arbitraryPlacing,
        fc.array(arbitraryFaults, { minLength: 7, maxLength: 20 }),
        fc.infiniteStream(fc.nat()),
        (shape, m, faults, keys) => {
          const plan = knownPlan(shape);
          const paths = loosePaths(plan, m, faults)
            .map((path) => ({ path, key: keys.next().value as number }))
            .sort((a, b) => a.key - b.key)
            .map(({ path }) => path);
          const { value } = trace(drawingOf(paths), OPTIONS);
          expectKnown(value.stretches, plan, m, toleranceOf(plan));
        },
      ),
      FC,
    );
  });

  it('gives the same result whatever the order of the entities', () => {
    fc.assert(
      fc.property(
        arbitraryPlan,
        arbitraryPlacing,
        fc.array(arbitraryFaults, { minLength: 5, maxLength: 9 }),
        (shape, m, faults) => {
          const paths = loosePaths(knownPlan(shape), m, faults);
          const first = trace(drawingOf(paths), OPTIONS);
          const second = trace(drawingOf([...paths].reverse()), OPTIONS);
          expect(JSON.stringify(second)).toBe(JSON.stringify(first));
        },
      ),
      { ...FC, numRuns: Math.ceil(FC.numRuns / 3) },
    );
  });

  it('in every unit of the drawing, when the job file names it', () => {
    const plan = knownPlan({ widthMm: 7620, depthMm: 5080, outerMm: 254, partition: null, alone: null });
    const m = { mirrored: false, turnRad: 0, dx: 0, dy: 0 };
    for (const [unit, size] of [
      ['mm', 1],
      ['cm', 10],
      ['m', 1000],
      ['in', 25.4],
      ['ft', 304.8],
    ] as const) {
      const paths = closedPaths(plan, m).map((path) => ({
        ...path,
        vertices: path.vertices.map((v) => ({ x: v.x / size, y: v.y / size, bulge: 0 })),
      }));
      const { value } = trace(drawingOf(paths), optionsIn(unit));
      expect(value.lengthUnit).toBe(unit);
      expectKnown(value.stretches, plan, m, 0.001);
    }
  });
});

describe('the known plan itself', () => {
  it('has the concrete area of its outlines in its stretches, corners and junctions', () => {
    // An independent check of the test's own arithmetic: area between the rings = stretches + square joints.
    const plan = knownPlan({
      widthMm: 10000,
      depthMm: 6000,
      outerMm: 200,
      partition: { atMm: 4000, thicknessMm: 150, stubMm: null },
      alone: null,
    });
    const area = (ring: readonly Vec[]) =>
      ring.reduce((s, a, i) => {
        const b = ring[(i + 1) % ring.length]!;
        return s + (a.x * b.y - b.x * a.y) / 2;
      }, 0);
    const [outer, ...inner] = plan.rings.map(area);
    const concrete = outer! - inner.reduce((s, a) => s + a, 0);
    const stretches = plan.stretches.reduce(
      (s, k) => s + Math.hypot(k.end.x - k.start.x, k.end.y - k.start.y) * k.thicknessMm,
      0,
    );
    expect(concrete - stretches).toBeCloseTo(4 * 200 * 200 + 2 * 150 * 200, 6);
  });
});
