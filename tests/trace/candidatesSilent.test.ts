/** What is taken where no layer tells. Scenes in mm, everything on layer 0; sizes of stairs, benches and furniture are common ones. */

import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import { drawingOf, OPTIONS, pathOf } from './plans.js';

let n = 0;
const box = (x: number, y: number, w: number, d: number, more: Partial<DrawingPath> = {}): DrawingPath => {
  const points: Vec[] = [
    { x, y },
    { x: x + w, y },
    { x: x + w, y: y + d },
    { x, y: y + d },
  ];
  return pathOf(points, `P${n++}`, { layer: '0', ...more });
};
const line = (x0: number, y0: number, x1: number, y1: number): DrawingPath =>
  pathOf(
    [
      { x: x0, y: y0 },
      { x: x1, y: y1 },
    ],
    `L${n++}`,
    { layer: '0' },
  );
const house = () => [box(0, 0, 9000, 6000), box(200, 200, 8600, 5600)];
/** Tiles of a floor, so that walls are a small part of all lines. */
const tiles = () =>
  Array.from({ length: 24 }, (_, i) => [
    line(12000 + 900 * i, 0, 12000 + 900 * i, 18000),
    line(12000, 750 * i, 33000, 750 * i),
  ]).flat();

const seen = (paths: readonly DrawingPath[]) => {
  const { value, findings } = trace(drawingOf(paths), OPTIONS);
  return {
    walls: value.stretches.map((s) => Math.round(s.thicknessMm)).sort((a, b) => a - b),
    codes: [...new Set(findings.map((f) => f.code))],
    apart: findings.filter((f) => f.code === 'trace.apart').map((f) => f.at),
  };
};

describe('with no telling layer', () => {
  it('a house is found among the tiles of a floor', () => {
    expect(seen([...house(), ...tiles()]).walls).toEqual([200, 200, 200, 200]);
  });

  it('a bench and the treads of a stair stand apart and are named at their places', () => {
    const treads = [0, 1, 2, 3].map((i) => box(12000, 20000 + 700 * i, 3000, 350));
    const found = seen([...house(), ...tiles(), box(12000, 25000, 8000, 500), ...treads]);
    expect(found.walls).toEqual([200, 200, 200, 200]);
    expect(found.apart.length).toBe(5);
    expect(found.apart).toContainEqual([16000, 25250, 0]);
  });

  it('a free-standing wall of the thickness of the others is a wall', () => {
    expect(seen([...house(), ...tiles(), box(12000, 25000, 8000, 200)]).walls).toEqual([200, 200, 200, 200, 200]);
  });

  it('where nearly all lines are walls, one alone is a wall whatever its thickness', () => {
    expect(seen([...house(), box(12000, 2000, 8000, 300)]).walls).toEqual([200, 200, 200, 200, 300]);
    expect(seen([box(0, 0, 8000, 300)]).walls).toEqual([300]);
  });

  it('a row of walls in line across openings stays, though no other wall meets it', () => {
    const row = [0, 1, 2, 3].map((i) => box(12000 + 3000 * i, 25000, 2000, 200));
    expect(seen([...house(), ...tiles(), ...row]).walls.length).toBe(8);
  });

  it('the border of a sheet that is drawn double is no wall when it holds nothing that meets', () => {
    const found = seen([line(0, 0, 9000, 0), line(0, 150, 9000, 150), ...tiles()]);
    expect(found.walls).toEqual([]);
    expect(found.codes).toContain('trace.apart');
    expect(found.codes).toContain('trace.no-wall');
  });

  it('blocks named for furniture and doors hold no walls, a block as large as a house does', () => {
    const bed = box(3000, 2000, 2000, 900, { blocks: ['BED_DOUBLE'], source: 'B1/1' });
    const head = box(3000, 2900, 2000, 100, { blocks: ['BED_DOUBLE'], source: 'B1/2' });
    const found = seen([...house(), bed, head]);
    expect(found.walls).toEqual([200, 200, 200, 200]);
    expect(found.codes).toContain('trace.things');
    const whole = house().map((p, i) => ({ ...p, blocks: ['Bath house'], source: `W/${i}` }));
    expect(seen(whole).walls).toEqual([200, 200, 200, 200]);
  });
});
