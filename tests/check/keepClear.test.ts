/** Where no tie may stand: intervals against the distance formulas, and against trying every station. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keepClear } from '../../src/check/index.js';
import { segmentDistance } from '../../src/ground/space.js';
import type { ModelBar, Obstacle, Wall } from '../../src/ground/vocabulary.js';
import { boxSleeve } from '../support/obstacles.js';

const wall = (end: readonly [number, number]): Wall => ({
  id: 'W1',
  start: { x: 0, y: 0 },
  end: { x: end[0], y: end[1] },
  lengthMm: Math.hypot(...end),
  thicknessMm: 200,
  base: [],
  top: [],
  sources: [],
});
const along = wall([6000, 0]);
const bar = (path: ModelBar['path'], diameterMm = 16): ModelBar => ({ id: 'b', line: 1, name: null, diameterMm, path });
const upright = (x: number, y: number, diameterMm = 16) =>
  bar(
    [0, 2400].map((z) => ({ x, y, z })),
    diameterMm,
  );
const ask = (more: Partial<Parameters<typeof keepClear>[0]>) =>
  keepClear({
    wall: along,
    rowLevelsMm: [300, 900],
    tieDiameterMm: 12,
    clearMm: 20,
    bars: [],
    obstacles: [],
    ...more,
  });

describe('bars', () => {
  it('across the wall keep the distance that the rule states: half of tie and ribbed bar, and the clear distance', () => {
    // Centres at least (12 + 1.1 x 16) / 2 + 20 = 34.8 apart.
    const [only, ...more] = ask({ bars: [upright(1000, 60)] });
    expect(more).toEqual([]);
    expect(only!.fromMm).toBeCloseTo(1000 - 34.8, 0);
    expect(only!.toMm).toBeCloseTo(1000 + 34.8, 0);
  });

  it('in front of the face keep ties away only as far as they reach into it', () => {
    expect(ask({ bars: [upright(1000, 100 + 34)] })).toHaveLength(1);
    expect(ask({ bars: [upright(1000, 100 + 36)] })).toEqual([]);
  });

  it('that end below the lowest row, or run along the wall, leave the stations alone', () => {
    expect(ask({ bars: [bar([0, 200].map((z) => ({ x: 1000, y: 0, z })))] })).toEqual([]);
    expect(ask({ bars: [bar([0, 6000].map((x) => ({ x, y: 60, z: 300 })))] })).toEqual([]);
  });

  it('near each other are one interval', () => {
    expect(ask({ bars: [upright(1000, 60), upright(1050, -60), upright(2000, 60)] })).toHaveLength(2);
  });

  it('anywhere: just outside an interval the tie is clear, inside it is not', () => {
    const coordinate = fc.integer({ min: -200, max: 200 });
    fc.assert(
      fc.property(fc.array(coordinate, { minLength: 6, maxLength: 6 }), (c) => {
        const path = [
          { x: 3000 + c[0]!, y: c[1]!, z: 600 + c[2]! },
          { x: 3000 + c[3]!, y: c[4]!, z: 600 + c[5]! },
        ];
        const intervals = ask({ rowLevelsMm: [600], bars: [bar(path)] });
        for (let s = 2500; s <= 3500; s += 2) {
          const tie = { from: { x: s, y: 100, z: 600 }, to: { x: s, y: -100, z: 600 } };
          const away = segmentDistance(tie, { from: path[0]!, to: path[1]! });
          const blocked = intervals.some((i) => s > i.fromMm && s < i.toMm);
          if (away < 34.8 - 0.2) expect(blocked, `station ${s}, ${away} away`).toBe(true);
          if (away > 34.8 + 0.2) expect(blocked, `station ${s}, ${away} away`).toBe(false);
        }
      }),
      { numRuns: 100 },
    );
  });
});

describe('obstacles', () => {
  const box = (x0: number, x1: number): Obstacle => boxSleeve({ x: x0, y: -150, z: 500 }, { x: x1, y: 150, z: 1500 });

  it('count with their inside, where no skin is near', () => {
    const [only, ...more] = ask({ obstacles: [box(2000, 2500)] });
    expect(more).toEqual([]);
    expect(only!.fromMm).toBeCloseTo(2000 - 26, 0);
    expect(only!.toMm).toBeCloseTo(2500 + 26, 0);
  });

  it('above or below all rows do not', () => {
    expect(ask({ rowLevelsMm: [300, 1700], obstacles: [box(2000, 2500)] })).toEqual([]);
  });
});

it('is the same for a wall that is turned', () => {
  const turned = wall([0, 6000]);
  const plain = ask({ bars: [upright(1000, 60)] });
  const [only] = ask({ wall: turned, bars: [upright(-60, 1000)] });
  expect(only!.fromMm).toBeCloseTo(plain[0]!.fromMm, 6);
  expect(only!.toMm).toBeCloseTo(plain[0]!.toMm, 6);
});
