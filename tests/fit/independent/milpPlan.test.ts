/**
 * Rooms with limited stock, worked by hand. Walls of 250, legs of 150: an outer end zone is one panel of 400. Common zones of 900 take 2 x 450 and
 * nothing else of {450, 400} without timber, so that a wall is 4 units between the corners, 2 outer panels, 3 ties: 9. Each corner is two units more.
 */

import { describe, expect, it } from 'vitest';
import { bruteForce } from './bruteForce.js';
import { milpPlan, type RoomWall } from './milpPlan.js';
import { ANY_FILLERS } from './problem.js';
import { roomByTheFit, roomWalls } from './room.js';
import { referenceZone } from './wall.js';
import { type Yard, yardOf } from './yards.js';

const SWEEP = process.env.SWEEP !== undefined;

const corner = { kind: 'corner', otherMm: 250 } as const;

/** Walls round a room: wall i leads from corner i to corner i + 1. */
const room = (yard: Yard, innerMm: readonly number[]): RoomWall[] =>
  innerMm.map((length, i) => ({
    startNode: `${i}`,
    endNode: `${(i + 1) % innerMm.length}`,
    zone: referenceZone(
      {
        catalogue: yardOf(yard),
        innerMm: length,
        thicknessMm: 250,
        start: corner,
        end: corner,
        designKpa: 43.1,
        tieStripMm: 776,
      },
      ANY_FILLERS,
      { everyOuter: true },
    ),
  }));

const two: Yard = { widths: [450, 400], fillers: [] };

describe('square room of 1200 with few 450', () => {
  const walls = room(two, [1200, 1200, 1200, 1200]);
  const solve = (stock: Record<string, number>) => {
    const { short, cost } = milpPlan({ walls, stock })!;
    return [short, ...cost];
  };

  it('with stock enough costs what its walls cost one by one', () => {
    const alone = bruteForce(walls[0]!.zone)!.cost;
    expect(alone).toEqual([0, 0, 0, 9, 0]);
    expect(solve({ 'panel-450': 16, 'panel-400': 8 })).toEqual([0, 0, 0, 0, 44, 0]);
  });

  // Stock of 450 → tiers. Between two 400 stands a strip of 100, between 450 and 400 one of 50 (two faces, and one tie more). With 15 it is a strip
  // of 50 beside one leg (one face; outer 450, between the corners 450 and 400, 9 in all): that one takes the solver 10 s.
  const ladder: [number, number[]][] = [
    [14, [0, 1, 100, 0, 45, 0]],
    [12, [0, 1, 200, 0, 45, 0]],
    [13, [0, 1, 200, 0, 45, 0]],
    [15, [0, 1, 50, 0, 44, 0]],
  ];
  it.each(SWEEP ? ladder : ladder.slice(0, 1))('with %i panels of 450', (owned, expected) => {
    expect(solve({ 'panel-450': owned })).toEqual(expected);
  });

  it('does not go short to save timber, and goes short where nothing else stands', () => {
    // Each wall takes two panels on each face between the corners and two beyond them, 24 in all: one alone would leave 900 - 450 - 2 x 50, and a
    // strip stands between two panels only.
    expect(solve({ 'panel-450': 12, 'panel-400': 12 })).toEqual([0, 1, 200, 0, 45, 0]);
    expect(solve({ 'panel-450': 12, 'panel-400': 11 })![0]).toBe(1);
  });
});

describe('room of 1250 by 1200 with legs of 150 and 200', () => {
  // Without timber a wall of 1250 needs 900 (one leg of each) or 850 (two of 200); a wall of 1200 takes any two legs.
  const walls = room({ ...two, legs: [150, 200] }, [1250, 1200, 1250, 1200]);

  it('takes a leg of 200 at one end of either long wall at least', () => {
    const found = milpPlan({ walls, stock: {} })!;
    expect([found.short, ...found.cost]).toEqual([0, 0, 0, 0, 44, 0]);
    const { 0: a, 1: b, 2: c, 3: d } = found.legsMm;
    expect(Math.max(a!, b!)).toBe(200);
    expect(Math.max(c!, d!)).toBe(200);
  });

  it('does with two corners of 200, and with one takes a strip of 50 beside a leg of the other long wall', () => {
    expect(milpPlan({ walls, stock: { 'inside-200': 2 } })!.cost).toEqual([0, 0, 0, 44, 0]);
    const found = milpPlan({ walls, stock: { 'inside-200': 1 } })!;
    expect([found.short, ...found.cost]).toEqual([0, 1, 50, 0, 44, 0]);
    expect(found.taken['inside-200']).toBe(1);
  });
});

describe('rooms with stock enough', () => {
  const LIKE_THE_FIT = { mostPerPanel: 2, bothEdges: true };
  const yards: [string, Yard, [number, number][]][] = [
    [
      '450, 400, legs 150 and 200',
      { ...two, legs: [150, 200] },
      [
        [1200, 1250],
        [1250, 1275],
        [950, 1330],
      ],
    ],
    ['600, 400, a filler, legs 150 and 200', { widths: [600, 400], fillers: [50], legs: [150, 200] }, [[1400, 1150]]],
    [
      '500, 350, legs 100 and 150',
      { widths: [500, 350], fillers: [], legs: [100, 150] },
      [
        [1250, 1275],
        [950, 1330],
        [1500, 1000],
      ],
    ],
  ];
  it.each(yards)('cost what the fit finds: %s', (_, yard, rooms) => {
    for (const insideMm of rooms) {
      const room = { catalogue: yardOf(yard), insideMm, thicknessMm: 250, designKpa: 43.1, tieStripMm: 776 };
      const found = milpPlan({ walls: roomWalls(room, LIKE_THE_FIT), stock: {} });
      expect(roomByTheFit(room).cost, insideMm.join()).toEqual(found?.cost ?? null);
    }
  });
});
