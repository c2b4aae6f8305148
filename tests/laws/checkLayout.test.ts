/** What the fit calls laid out, the check must pass, from pieces, ties and groups alone; where the fit fails, so does the check. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { demoCatalogue } from '../../src/catalogue/index.js';
import { checked, faults, planOf, roomStretches, sceneOf, stretch, WORKED_CONCRETE } from '../check/support.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';

const SEED = Number(process.env.FC_SEED ?? 20263);

const anyWalls = fc
  .record({
    kind: fc.constantFrom('room', 'corner', 'tee', 'wall'),
    x: fc.integer({ min: 2000, max: 4500 }),
    y: fc.integer({ min: 2000, max: 3500 }),
    t: fc.constantFrom(150, 200, 250, 300),
    other: fc.constantFrom(150, 200, 250),
  })
  .map(({ kind, x, y, t, other }) => {
    if (kind === 'room') return roomStretches(x, y, t);
    if (kind === 'corner') return [stretch(0, 0, x, 0, t, [false, true]), stretch(0, 0, 0, y, other, [false, true])];
    if (kind === 'wall') return [stretch(0, 0, x, 0, t, [true, true])];
    const at = Math.round(x * 0.45);
    return [stretch(0, 0, x, 0, t, [true, true]), stretch(at, 0, at, y, other, [false, true])];
  });

describe('fit and check', () => {
  it('agree whether a layout holds', () => {
    const seen = { good: 0, bad: 0 };
    fc.assert(
      fc.property(
        anyWalls,
        fc.constantFrom(1150, 2350, 2650),
        fc.boolean(),
        fc.double({ min: 0.8, max: 1.6, noNaN: true }),
        (walls, topMm, demo, rateMPerH) => {
          const catalogue = demo ? demoCatalogue : workedExampleCatalogue;
          const scene = sceneOf(planOf(walls, topMm), catalogue, { ...WORKED_CONCRETE, rateMPerH });
          const { value, findings } = checked(scene);
          const failures = faults(findings).filter((f) => f.severity === 'failure');
          const laidOut = scene.fitFindings.every((f) => f.severity !== 'failure');
          seen[laidOut ? 'good' : 'bad']++;
          expect(failures.length === 0).toBe(laidOut);
          if (laidOut) for (const t of value.ties) expect(t.loadKn).toBeLessThanOrEqual(t.workingLoadKn + 1e-6);
        },
      ),
      { seed: SEED, numRuns: 12 },
    );
    expect(seen.good).toBeGreaterThan(6);
  });
});
