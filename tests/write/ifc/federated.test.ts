/**
 * Models by others and the forms for them, both read by web-ifc: laid over each other, the contact faces of the forms lie on the faces of the
 * architect's walls, and the forms' feet and tops reach over their heights.
 */

import { describe, expect, it } from 'vitest';
import { cross, dot, sub, unit } from '../../../src/ground/plane.js';
import type { Result, Wall } from '../../../src/ground/vocabulary.js';
import { itWithSamples, sample } from '../../read/samples.js';
import { fileOf, laidOut, layFile } from '../../support/lay.js';
import { type Reread, reread, type Seen } from './reread.js';

/** Walls are told on a grid of 1 mm; inches on one of 1/16 in. */
const NEAR_MM = 1;

interface Laid {
  readonly result: Result;
  readonly source: Reread;
  readonly forms: Reread;
}

const laid = async (name: string): Promise<Laid> => {
  const bytes = sample(name);
  const outcome = await layFile(bytes, {}, name);
  return {
    result: laidOut(outcome).result,
    source: await reread(bytes),
    forms: await reread(fileOf(outcome, '.forms.ifc')),
  };
};

/** How far a thing reaches across a wall, to the left of its axis, and between which levels. */
const across = (wall: Wall, things: readonly Seen[]) => {
  const along = unit(sub(wall.end, wall.start));
  const points = things.flatMap((t) => t.points);
  const offsets = points.map((p) => cross(along, sub({ x: p[0], y: p[1] }, wall.start)));
  const stations = points.map((p) => dot(along, sub({ x: p[0], y: p[1] }, wall.start)));
  const levels = points.map((p) => p[2]);
  const range = (v: readonly number[]) => [Math.min(...v), Math.max(...v)] as const;
  return { offsets: range(offsets), stations: range(stations), levels: range(levels) };
};

const expectContact = ({ result, source, forms }: Laid): number => {
  let held = 0;
  for (const wall of result.plan.walls) {
    const theirs = source.things.filter((t) => wall.sources.includes(t.globalId));
    const ours = (side: string) =>
      forms.things.filter((t) => {
        const set = t.sets.Shutterwright_Piece;
        return set?.Wall === wall.id && set.Side === side && set.Kind === 'panel';
      });
    if (theirs.length === 0 || ours('left').length === 0 || ours('right').length === 0) continue;
    const concrete = across(wall, theirs);
    const [left, right] = [across(wall, ours('left')), across(wall, ours('right'))];
    expect(Math.abs(left.offsets[0] - concrete.offsets[1]), `${wall.id} left`).toBeLessThanOrEqual(NEAR_MM);
    expect(Math.abs(right.offsets[1] - concrete.offsets[0]), `${wall.id} right`).toBeLessThanOrEqual(NEAR_MM);
    for (const form of [left, right]) {
      expect(form.levels[1], `${wall.id} top`).toBeGreaterThanOrEqual(concrete.levels[1] - NEAR_MM);
      expect(form.stations[1]).toBeGreaterThan(concrete.stations[0]);
      expect(form.stations[0]).toBeLessThan(concrete.stations[1]);
    }
    held++;
  }
  return held;
};

describe('forms over the model', () => {
  for (const [name, walls] of [
    ['wall_join_butt_feet_2x3.ifc', 2],
    ['rc_frame_core_walls_ifc4.ifc', 3],
    ['duplex_foundation_2x3.ifc', 7],
  ] as const) {
    itWithSamples(`lie on the faces of the walls of ${name}`, async () => {
      const all = await laid(name);
      expect(expectContact(all)).toBe(walls);
    });
  }

  itWithSamples('have the map conversion of house_on_footing_4x3_georef.ifc digit for digit', async () => {
    const name = 'house_on_footing_4x3_georef.ifc';
    const forms = fileOf(await layFile(sample(name), {}, name), '.forms.ifc');
    const [theirs, ours] = [sample(name), forms].map((bytes) => {
      const text = new TextDecoder('latin1').decode(bytes);
      const map = /IFCMAPCONVERSION\(#\d+,#\d+,(.*)\);/.exec(text)?.[1];
      return [map, /IFCPROJECTEDCRS\((.*),#\d+\);/.exec(text)?.[1]];
    });
    expect(theirs![0]).toContain('729013348.8297004');
    expect(ours).toEqual(theirs);
  });

  it('has a check that can fail', () => {
    const square = (x: number, id: string, sets: Seen['sets']): Seen => ({
      type: 'IFCWALL',
      globalId: id,
      name: null,
      tag: null,
      colour: [0, 0, 0],
      sets,
      points: [0, 1000].flatMap((y) => [0, 2000].flatMap((z) => [[y, x, z] as const, [y, x + 100, z] as const])),
    });
    const wall = { id: 'W1', start: { x: 0, y: 0 }, end: { x: 1000, y: 0 }, sources: ['A'] } as unknown as Wall;
    const form = (x: number, Side: string): Seen =>
      square(x, Side, { Shutterwright_Piece: { Wall: 'W1', Side, Kind: 'panel' } });
    const pair = (leftMm: number): Laid => ({
      result: { plan: { walls: [wall] } } as unknown as Result,
      source: { things: [square(-50, 'A', {})], count: () => 0 },
      forms: { things: [form(leftMm, 'left'), form(-150, 'right')], count: () => 0 },
    });
    expect(expectContact(pair(50))).toBe(1);
    expect(() => expectContact(pair(52))).toThrow();
  });
});
