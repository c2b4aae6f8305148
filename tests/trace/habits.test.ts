/** Walls drawn by their axis come back like walls drawn by their faces: polylines with width, centre lines, drawn well and badly. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath, TraceOptions } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import { expectKnown } from './knownWalls.js';
import {
  arbitraryPlacing,
  arbitraryPlan,
  drawingOf,
  FC,
  knownPlan,
  OPTIONS,
  type Placing,
  type PlanShape,
  pathOf,
  place,
  toleranceOf,
} from './plans.js';

const p = (x: number, y: number): Vec => ({ x, y });
/** A wall's axis as it runs from joint to joint. */
interface KnownAxis {
  readonly from: Vec;
  readonly to: Vec;
  readonly t: number;
  /** Ends that meet another wall, and how thick that is (null: free). */
  readonly meets: readonly [number | null, number | null];
}

/** The axes of a known plan: the four outer walls corner to corner, the partition from axis to axis, the wall alone. */
const axesOf = (s: PlanShape): { outer: KnownAxis[]; others: KnownAxis[] } => {
  const { widthMm: w, depthMm: d, outerMm: t, partition, alone } = s;
  const h = t / 2;
  const corners = [p(h, h), p(w - h, h), p(w - h, d - h), p(h, d - h)];
  const outer = corners.map((from, i): KnownAxis => ({ from, to: corners[(i + 1) % 4]!, t, meets: [t, t] }));
  const others: KnownAxis[] = [];
  if (partition) {
    const x = partition.atMm + partition.thicknessMm / 2;
    const free = partition.stubMm !== null;
    const to = p(x, free ? t + partition.stubMm! : d - h);
    others.push({ from: p(x, h), to, t: partition.thicknessMm, meets: [t, free ? null : t] });
  }
  if (alone) {
    const y = alone.y + alone.thicknessMm / 2;
    others.push({ from: p(alone.x, y), to: p(alone.x + alone.lengthMm, y), t: alone.thicknessMm, meets: [null, null] });
  }
  return { outer, others };
};

const moved = (points: readonly Vec[], m: Placing) => points.map((q) => place(q, m));
const run = (paths: readonly DrawingPath[], options: Partial<TraceOptions> = {}) =>
  trace(drawingOf(paths), { ...OPTIONS, unit: 'mm', ...options });
const stretchesOf = (paths: readonly DrawingPath[], options: Partial<TraceOptions> = {}) =>
  run(paths, options).value.stretches;

/** Each axis with width: the outer walls as one closed polyline. */
const widePaths = (s: PlanShape, m: Placing): DrawingPath[] => {
  const { outer, others } = axesOf(s);
  return [
    pathOf(
      moved(
        outer.map((a) => a.from),
        m,
      ),
      'W',
      { width: s.outerMm },
    ),
    ...others.map((a, i) => pathOf(moved([a.from, a.to], m), `W${i}`, { entity: 'LWPOLYLINE', width: a.t })),
  ];
};

/** How an axis' end misses where it should be, as a share of half the other wall's thickness: -1 stops at its face, 1 ends at its far face. */
const miss = fc.constantFrom(-1, -0.6, 0, 0, 0, 0.5, 1);

const sloppy = fc.record({
  misses: fc.tuple(miss, miss),
  splitAt: fc.option(fc.double({ min: 0.2, max: 0.8, noNaN: true }), { nil: null }),
  gapMm: fc.integer({ min: -80, max: 20 }),
  doubled: fc.boolean(),
});

type Sloppy = typeof sloppy extends fc.Arbitrary<infer T> ? T : never;

/** An axis as a careless hand draws it. */
const sloppyLines = (a: KnownAxis, f: Sloppy): [Vec, Vec][] => {
  const l = Math.hypot(a.to.x - a.from.x, a.to.y - a.from.y);
  const at = (u: number): Vec => p(a.from.x + ((a.to.x - a.from.x) * u) / l, a.from.y + ((a.to.y - a.from.y) * u) / l);
  const off = (i: 0 | 1) => (a.meets[i] === null ? 0 : (f.misses[i] * a.meets[i]!) / 2);
  const [from, to] = [-off(0), l + off(1)];
  const out: [number, number][] = [];
  if (f.splitAt === null || l < 1000) out.push([from, to]);
  else out.push([from, l * f.splitAt - f.gapMm / 2], [l * f.splitAt + f.gapMm / 2, to]);
  if (f.doubled) out.push([l * 0.3, l * 0.6]);
  return out.map(([u, v]) => [at(u), at(v)]);
};

describe('polylines with width', { timeout: 60_000 }, () => {
  it('give the walls that their outlines would give, at any turn and place', () => {
    fc.assert(
      fc.property(arbitraryPlan, arbitraryPlacing, (shape, m) => {
        const plan = knownPlan(shape);
        expectKnown(stretchesOf(widePaths(shape, m)), plan, m, toleranceOf(plan));
      }),
      FC,
    );
  });
});

/** Each axis as polylines of its own width, drawn carelessly. */
const sloppyWide = (s: PlanShape, m: Placing, faults: readonly Sloppy[]): DrawingPath[] => {
  const { outer, others } = axesOf(s);
  return [...outer, ...others].flatMap((a, i) =>
    sloppyLines(a, faults[i % faults.length]!).map((line, k) =>
      pathOf(moved(line, m), `W${i}-${k}`, { entity: 'LWPOLYLINE', width: a.t }),
    ),
  );
};

describe('polylines with width drawn carelessly', { timeout: 60_000 }, () => {
  it('give the same walls, and the same whatever their order', () => {
    fc.assert(
      fc.property(
        arbitraryPlan,
        arbitraryPlacing,
        fc.array(sloppy, { minLength: 5, maxLength: 7 }),
        (shape, m, faults) => {
          const plan = knownPlan(shape);
          const paths = sloppyWide(shape, m, faults);
          expectKnown(stretchesOf(paths), plan, m, toleranceOf(plan));
          expect(JSON.stringify(run([...paths].reverse()))).toBe(JSON.stringify(run(paths)));
        },
      ),
      FC,
    );
  });
});

describe('centre lines', { timeout: 60_000 }, () => {
  const oneThickness = arbitraryPlan.map(
    (s): PlanShape => ({
      ...s,
      partition: s.partition && { ...s.partition, thicknessMm: s.outerMm },
      alone: null,
    }),
  );

  it('drawn carelessly give the same walls, with the thickness of the job file', () => {
    fc.assert(
      fc.property(
        oneThickness,
        arbitraryPlacing,
        fc.array(sloppy, { minLength: 5, maxLength: 7 }),
        (shape, m, faults) => {
          const plan = knownPlan(shape);
          const { outer, others } = axesOf(shape);
          const lines = [...outer, ...others].flatMap((a, i) => sloppyLines(a, faults[i % faults.length]!));
          const paths = lines.map((line, i) => pathOf(moved(line, m), `C${i}`, { layer: 'CL' }));
          const options = { centreLineLayers: ['CL'], thicknessMm: shape.outerMm };
          expectKnown(stretchesOf(paths, options), plan, m, toleranceOf(plan));
          const back = run([...paths].reverse(), options);
          expect(JSON.stringify(back)).toBe(JSON.stringify(run(paths, options)));
        },
      ),
      FC,
    );
  });
});
