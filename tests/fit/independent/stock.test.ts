/**
 * Rooms under a limited stock: the fit against one integer program of the whole room, written apart from it (milpPlan.ts), tier by tier. Where the fit says
 * that a tier is least it must be; the program is slow where many widths are short, so the rooms are small.
 */

import { describe, expect, it } from 'vitest';
import { loadPrograms } from '../../../src/fit/index.js';
import { milpPlan } from './milpPlan.js';
import { roomByTheFit, roomWalls } from './room.js';
import { type Yard, yardOf } from './yards.js';

const SWEEP = process.env.SWEEP !== undefined;
const LIKE_THE_FIT = { mostPerPanel: 2, bothEdges: true };
const programs = await loadPrograms();

const compare = (yard: Yard, insideMm: readonly [number, number], stock: Readonly<Record<string, number>>) => {
  const room = { catalogue: yardOf(yard), insideMm, thicknessMm: 250, designKpa: 43.1, tieStripMm: 776 };
  const { cost, short, layout } = roomByTheFit({ ...room, catalogue: { ...room.catalogue, stock } }, programs);
  const found = milpPlan({ walls: roomWalls(room, LIKE_THE_FIT), stock });
  return { fit: cost && [short, ...cost], program: found && [found.short, ...found.cost], layout };
};

const two: Yard = { widths: [450, 400], fillers: [] };
const legs: Yard = { ...two, legs: [150, 200] };
const filled: Yard = { widths: [600, 400, 300], fillers: [50], legs: [150, 200] };

const CASES: [string, Yard, [number, number], Record<string, number>, 'quick' | 'slow'][] = [
  ['one strip of 100', two, [1200, 1200], { 'panel-450': 14 }, 'quick'],
  ['short where nothing else stands', two, [1200, 1200], { 'panel-450': 12, 'panel-400': 11 }, 'quick'],
  ['one corner of 200 for two', legs, [1250, 1200], { 'inside-200': 1 }, 'quick'],
  ['no corner of 200', legs, [1250, 1200], { 'inside-200': 0 }, 'quick'],
  ['few ties', two, [1200, 1200], { tie: 11 }, 'quick'],
  ['few fillers', filled, [1400, 1150], { 'filler-50': 2 }, 'quick'],
  ['few of the widest', filled, [1400, 1400], { 'panel-600': 3 }, 'slow'],
  ['one strip of 50', two, [1200, 1200], { 'panel-450': 15 }, 'slow'],
  ['two strips', two, [1200, 1200], { 'panel-450': 12 }, 'slow'],
  ['few panels, few corners', filled, [1400, 1150], { 'panel-400': 8, 'inside-150': 2 }, 'slow'],
];

describe('a room under the yard’s counts costs what one program of the whole room says', () => {
  it.each(CASES.filter((c) => SWEEP || c[4] === 'quick'))('%s', (_, yard, insideMm, stock) => {
    const { fit: byTheFit, program, layout } = compare(yard, insideMm, stock);
    expect(byTheFit).toEqual(program);
    expect(layout.tiers.filter((t) => t.name !== 'kinds').every((t) => t.optimal)).toBe(true);
  });
});
