/** Areas and volumes against the plan's outline, which another stage makes with another library: two ways that must agree. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance, type Vec } from '../../src/ground/plane.js';
import type { FacePlan, Foundation, WallStretch } from '../../src/ground/vocabulary.js';
import { outlineAreaMm2, volumeByWallsMm3, wallBodyAreaMm2 } from '../../src/schedule/concrete.js';
import { schedule } from '../../src/schedule/index.js';
import { shape } from '../../src/shape/index.js';
import { exampleCatalogue, exampleResult } from '../support/exampleResult.js';
import { NOTHING_ELSE } from '../support/nothingElse.js';

const SEED = Number(process.env.FC_SEED ?? 40501);
const HEIGHT_MM = 2400;

const stretch = (start: Vec, end: Vec, thicknessMm: number): WallStretch => ({
  start,
  end,
  thicknessMm,
  startCapped: true,
  endCapped: true,
  sources: [`${start.x} ${start.y} ${end.x} ${end.y}`],
});

const planOf = (stretches: readonly WallStretch[]): FacePlan => {
  const foundation: Foundation = {
    lengthUnit: 'mm',
    stretches,
    faceLines: [],
    ...NOTHING_ELSE,
    levels: { footingMm: 0, topMm: HEIGHT_MM, footingFrom: 'job', topFrom: 'job' },
    levelsAt: [],
  };
  return shape(foundation, { gridMm: 1 }).value;
};

/** A room of four thicknesses with a wall across it that runs on past one side to a free end: corners, a tee, a cross, an end. */
const room = fc
  .record({
    wide: fc.integer({ min: 3000, max: 9000 }),
    high: fc.integer({ min: 3000, max: 9000 }),
    across: fc.integer({ min: 1000, max: 2000 }),
    beyond: fc.integer({ min: 900, max: 2000 }),
    t: fc.tuple(...Array.from({ length: 5 }, () => fc.integer({ min: 5, max: 15 }).map((n) => n * 20))),
  })
  .map(({ wide, high, across, beyond, t }) =>
    planOf([
      stretch({ x: 0, y: 0 }, { x: wide, y: 0 }, t[0]!),
      stretch({ x: wide, y: 0 }, { x: wide, y: high }, t[1]!),
      stretch({ x: 0, y: high }, { x: wide, y: high }, t[2]!),
      stretch({ x: 0, y: 0 }, { x: 0, y: high }, t[3]!),
      stretch({ x: across, y: 0 }, { x: across, y: high + beyond }, t[4]!),
    ]),
  );

const perimeterMm = (plan: FacePlan): number =>
  plan.concrete.reduce(
    (sum, ring) => sum + ring.reduce((s, p, i) => s + distance(p, ring[(i + 1) % ring.length]!), 0),
    0,
  );

const totalsOf = (plan: FacePlan) =>
  schedule({
    plan,
    catalogue: exampleCatalogue,
    layout: { ...exampleResult.layout, pieces: [], ties: [], groups: [] },
  }).value.totals;

describe('areas and volumes', () => {
  it('has rooms with a tee, a cross or two tees, corners and an end to look at', () => {
    const [plan] = fc.sample(room, { numRuns: 1, seed: SEED });
    const kinds = new Set(plan!.nodes.map((n) => n.kind));
    expect(kinds.has('corner') && kinds.has('end')).toBe(true);
    expect(kinds.has('tee') || kinds.has('cross')).toBe(true);
    expect(plan!.runs.some((r) => r.stems.length > 0)).toBe(true);
  });

  it('the walls’ bodies tile the outline, so that each junction counts once', () => {
    fc.assert(
      fc.property(room, (plan) => {
        const bodies = plan.walls.reduce((sum, wall) => sum + wallBodyAreaMm2(plan, wall), 0);
        expect(Math.abs(bodies - outlineAreaMm2(plan))).toBeLessThan(1);
        expect(volumeByWallsMm3(plan) / HEIGHT_MM).toBeCloseTo(bodies, 3);
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it('contact and end areas together are the outline’s perimeter times the height', () => {
    fc.assert(
      fc.property(room, (plan) => {
        const totals = totalsOf(plan);
        const formed = (totals.contactAreaM2 + totals.endAreaM2) * 1e6;
        expect(Math.abs(formed - perimeterMm(plan) * HEIGHT_MM)).toBeLessThan(HEIGHT_MM);
        expect(totals.concreteM3 * 1e9).toBeCloseTo(outlineAreaMm2(plan) * HEIGHT_MM, 0);
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it('lifting one wall’s footing takes away its body times the lift', () => {
    fc.assert(
      fc.property(room, fc.integer({ min: 1, max: 500 }), fc.nat(), (plan, lift, pick) => {
        const chosen = plan.walls[pick % plan.walls.length]!;
        const walls = plan.walls.map((wall) =>
          wall === chosen ? { ...wall, base: wall.base.map((b) => ({ ...b, levelMm: b.levelMm + lift })) } : wall,
        );
        const lifted = totalsOf({ ...plan, walls }).concreteM3;
        const lost = (wallBodyAreaMm2(plan, chosen) * lift) / 1e9;
        expect(totalsOf(plan).concreteM3 - lifted).toBeCloseTo(lost, 6);
      }),
      { seed: SEED, numRuns: 60 },
    );
  });
});
