/** Bars of the job file set out in a wall: where they stand, and that none is left out without a word. */

import { describe, expect, it } from 'vitest';
import { type BarSpec, evenBars } from '../../src/check/index.js';
import { planOf, stretch } from './support.js';

const spec: BarSpec = { diameterMm: 16, spacingMm: 200, firstMm: 100, coverMm: 40, faces: 'both' };
const wall = (lengthMm: number) => planOf([stretch(0, 0, lengthMm, 0, 200, [true, true])], 2400);

describe('bars of the job file', () => {
  it('stand at their spacing on both faces, under their cover, from foot to top', () => {
    const { value, findings } = evenBars(wall(1000), { verticals: spec, horizontals: null });
    expect(findings).toEqual([]);
    expect(value.map((b) => b.path[0]!.x)).toEqual([100, 100, 300, 300, 500, 500, 700, 700, 900, 900]);
    expect(value.slice(0, 2).map((b) => b.path.map((p) => [p.y, p.z]))).toEqual([
      [
        [52, 0],
        [52, 2400],
      ],
      [
        [-52, 0],
        [-52, 2400],
      ],
    ]);
  });

  it('lie at their heights above the footing along the whole wall', () => {
    const horizontals = { ...spec, spacingMm: 1000, faces: 'left' as const };
    const { value } = evenBars(wall(1000), { verticals: null, horizontals });
    expect(value.map((b) => b.path.map((p) => [p.x, p.z]))).toEqual(
      [100, 1100, 2100].map((z) => [
        [0, z],
        [1000, z],
      ]),
    );
  });

  it('that are too many to be set out are said', () => {
    const many = { ...spec, spacingMm: 25 };
    const { value, findings } = evenBars(wall(600_000), { verticals: many, horizontals: null });
    expect(value.length).toBe(40_000);
    expect(findings).toMatchObject([{ code: 'check.bars-cut', severity: 'failure' }]);
  });
});
