/** Marks in elevations: of a low unit in it or close over it; rows of holes without ties crossed out and told. */

import { describe, expect, it } from 'vitest';
import { holesLeftOut } from '../../../src/ground/rowsLeftOut.js';
import type { Cover, Piece, Result } from '../../../src/ground/vocabulary.js';
import { boundsOf } from '../../../src/write/dxf/bounds.js';
import { drawElevation } from '../../../src/write/dxf/elevation.js';
import { markInside, topLabels } from '../../../src/write/dxf/elevationMarks.js';
import { type OnFace, viewOf } from '../../../src/write/dxf/elevationView.js';
import { makeScene, USUAL_SIZES } from '../../../src/write/dxf/scene.js';
import { straightWall } from './fixtures.js';

const sceneOf = (result: Result) => makeScene(result, 'AC1032', new Set());

describe('a mark in its unit', () => {
  it('is set smaller, but not smaller than dimensions, where only that keeps clear of rows and ties', () => {
    // A unit of 600 x 1150 with two rows of ties at its edges and three lines through its upper third, as of a frost wall with aligners.
    const obstacles = {
      ties: [300, 900].flatMap((y) => [50, 550].map((x) => ({ x, y }))),
      uprights: [],
      levels: [825, 1000, 1150],
    };
    const pose = markInside(USUAL_SIZES, '600/1200', { x: 0, y: 0 }, { x: 600, y: 1150 }, obstacles);
    expect(pose).not.toBeNull();
    expect(pose!.heightMm).toBeGreaterThanOrEqual(USUAL_SIZES.least);
    expect(pose!.heightMm).toBeLessThan(USUAL_SIZES.mark);
  });
});

describe('a mark over its unit', () => {
  const frame = sceneOf(straightWall()).frameOf('W1-right');
  const item = (fromMm: number, toMm: number, topMm: number): OnFace => {
    const cover: Cover = { face: 'W1-right', fromMm, toMm, baseMm: 0, topMm };
    const piece = { id: `P${fromMm}`, covers: [cover], baseMm: 0, topMm } as unknown as Piece;
    return { piece, cover, isInsert: true };
  };
  const standing = [item(0, 400, 2700), item(400, 2000, 1150), item(2000, 2050, 1150), item(2050, 4000, 1150)];
  const view = viewOf(sceneOf(straightWall()), frame, standing);
  const textOver = (o: OnFace): number =>
    boundsOf(topLabels(view, standing, [{ item: o, mark: 'F50/1200' }]).filter((s) => s.type === 'text')).minY;

  it('stands close over a low unit, whatever stands high elsewhere', () => {
    expect(textOver(standing[2]!)).toBeGreaterThan(1150);
    expect(textOver(standing[2]!)).toBeLessThan(1150 + 200);
  });

  it('stands clear of a high unit that reaches beside it', () => {
    const narrow = item(400, 450, 1150);
    const over = topLabels(view, [...standing, narrow], [{ item: narrow, mark: 'F50/1200' }]);
    expect(boundsOf(over.filter((s) => s.type === 'text')).minY).toBeGreaterThan(2700);
  });
});

describe('a row of holes without ties', () => {
  const without = (levelMm: number): Result => {
    const whole = straightWall();
    return { ...whole, layout: { ...whole.layout, ties: whole.layout.ties.filter((t) => t.levelMm !== levelMm) } };
  };
  const drawn = (result: Result, face: string) => {
    const scene = sceneOf(result);
    return drawElevation(scene, scene.frameOf(face))!.shapes;
  };
  const said = (result: Result, face: string): string[] =>
    drawn(result, face).flatMap((s) => (s.type === 'text' && s.text.startsWith('LEFT OUT') ? [s.text] : []));
  const crosses = (result: Result, face: string): number =>
    drawn(result, face).filter((s) => s.about[0] === 'left-out').length / 2;

  it('is told beside the elevation, and each of its holes against concrete crossed out', () => {
    for (const face of ['W1-left', 'W1-right']) {
      const result = without(900);
      const holes = holesLeftOut(result, sceneOf(result).frameOf(face));
      expect(new Set(holes.map((h) => h.levelMm))).toEqual(new Set([900]));
      expect(said(result, face)).toEqual(['LEFT OUT +900']);
      expect(crosses(result, face)).toBe(holes.length);
      // Where ties stand in the other rows of this face a hole is crossed out in this one.
      const stations = new Set(result.layout.ties.filter((t) => !t.outsideConcrete).map((t) => t.stationMm));
      for (const s of stations)
        expect(
          holes.some((h) => Math.abs(h.stationMm - s) < 0.5),
          `${face} ${s}`,
        ).toBe(true);
    }
  });

  it('is none where every row is tied, nor where a wall has no ties at all', () => {
    expect(said(straightWall(), 'W1-right')).toEqual([]);
    expect(crosses(straightWall(), 'W1-right')).toBe(0);
    const untied = straightWall();
    const bare = { ...untied, layout: { ...untied.layout, ties: [] } };
    expect(crosses(bare, 'W1-right')).toBe(0);
  });
});
