/**
 * Layouts with more ties than statics settles: what the fit calls sound must be sound under the check, whose reactions of such chains are those of equal
 * elastic ties by a dense matrix of its own.
 */

import { describe, expect, it } from 'vitest';
import type { Catalogue } from '../../src/ground/vocabulary.js';
import { checked, planOf, roomStretches, sceneOf } from '../check/support.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';

const withTies = (workingLoadKn: number): Catalogue => ({
  ...workedExampleCatalogue,
  ties: workedExampleCatalogue.ties.map((t) => ({ ...t, workingLoadKn, ultimateKn: 2 * workingLoadKn })),
});

const overloads = (x: number, y: number, kN: number) => {
  const scene = sceneOf(planOf(roomStretches(x, y, 250), 2350), withTies(kN));
  const failed = scene.fitFindings.some((f) => f.severity === 'failure');
  const over = checked(scene).findings.filter((f) => f.code === 'check.tie-overload' || f.code === 'check.tie-pushed');
  return { failed, over: over.map((f) => f.message) };
};

describe('ties near their limit', () => {
  it.each([
    [2250, 2600, 10],
    [2250, 2600, 9.5],
    [2250, 2600, 10.5],
    [3150, 2250, 10],
  ])('in a room of %d x %d with ties of %d kN: what the fit does not fail, the check does not', (x, y, kN) => {
    const { failed, over } = overloads(x, y, kN);
    expect(failed ? 'failed' : over).toEqual([]);
  });
});
