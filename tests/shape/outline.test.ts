/** The outline of the concrete against the lines of the drawing, and the union behind it. */

import { describe, expect, it } from 'vitest';
import { facePoint } from '../../src/ground/arcs.js';
import type { FaceLine } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { areaOf, shared, unionOf } from '../../src/shape/outline.js';
import { codes, GRID, only } from './asked.js';
import { drawn, foundation, room, stretch } from './draw.js';

const line = (x0: number, y0: number, x1: number, y1: number, source = 'X'): FaceLine => ({
  from: { x: x0, y: y0 },
  to: { x: x1, y: y1 },
  source,
});
const square = (x: number, y: number, size: number) => [
  { x, y },
  { x: x + size, y },
  { x: x + size, y: y + size },
  { x, y: y + size },
];

describe('outline against drawing', () => {
  const clean = drawn(room(5000, 3000, 200));

  it('a face line that no wall explains is said, with its length and middle', () => {
    const r = shape({ ...clean, faceLines: [...clean.faceLines, line(1000, 1500, 2200, 1500)] }, GRID);
    expect(r.findings).toMatchObject([
      { code: 'shape.outline-differs', severity: 'attention', subject: 'X', at: [1600, 1500, 0] },
    ]);
    expect(r.findings[0]!.message).toContain('1200 mm');
  });

  it('a face line is on the outline within 2 mm and off it beyond', () => {
    const face = clean.faceLines.findIndex((l) => l.from.y === 0 && l.to.y === 0);
    const shifted = (by: number) => ({
      ...clean,
      faceLines: clean.faceLines.map((l, i) =>
        i === face ? line(l.from.x, l.from.y + by, l.to.x, l.to.y + by, l.source) : l,
      ),
    });
    expect(codes(shape(shifted(1.9), GRID))).toEqual([]);
    expect(codes(shape(shifted(2.1), GRID))).toEqual(['shape.outline-differs']);
    // Farther than 20 it counts as another line, and the face as one that nobody drew.
    expect(codes(shape(shifted(25), GRID))).toEqual(['shape.outline-added', 'shape.outline-differs']);
  });

  it('a line drawn twice is said once, with both sources', () => {
    const twice = [line(1000, 1500, 2200, 1500, 'B'), line(2200, 1500, 1000, 1500, 'A')];
    const r = shape({ ...clean, faceLines: [...clean.faceLines, ...twice] }, GRID);
    expect(r.findings).toMatchObject([{ code: 'shape.outline-differs', subject: 'A B' }]);
  });

  it('an edge without a line is said: a wall of which one face is half missing', () => {
    const stretches = [stretch([0, 0], [4000, 0], 200, [true, true])];
    const lines = [
      line(0, -100, 4000, -100),
      line(0, 100, 2500, 100),
      line(0, -100, 0, 100),
      line(4000, -100, 4000, 100),
    ];
    const r = shape(foundation(stretches, lines), GRID);
    expect(r.findings).toMatchObject([{ code: 'shape.outline-added', at: [3250, 100, 0] }]);
    expect(r.findings[0]!.message).toContain('1500 mm');
  });

  it("lines inside a junction pass: rectangles laid against each other show the other wall's face and their own ends", () => {
    const stretches = [
      stretch([0, 0], [3000, 0], 200, [true, true]),
      stretch([3000, 0], [6000, 0], 200, [true, true]),
      stretch([2000, 100], [2000, 3000], 200, [true, true]),
    ];
    const rectangle = (x0: number, y0: number, x1: number, y1: number) => [
      line(x0, y0, x1, y0),
      line(x1, y0, x1, y1),
      line(x1, y1, x0, y1),
      line(x0, y1, x0, y0),
    ];
    const lines = [
      ...rectangle(0, -100, 3000, 100),
      ...rectangle(3000, -100, 6000, 100),
      ...rectangle(1900, 100, 2100, 3000),
    ];
    expect(codes(shape(foundation(stretches, lines), GRID))).toEqual([]);
  });

  it("a corner in which each wall's inner face is drawn on to the other's outer face passes", () => {
    const stretches = [
      stretch([0, 0], [5800, 0], 200, [true, false]),
      stretch([5900, 100], [5900, 3000], 200, [false, true]),
    ];
    const lines = [
      line(0, -100, 6000, -100),
      line(0, 100, 6000, 100),
      line(0, -100, 0, 100),
      line(5800, -100, 5800, 3000),
      line(6000, -100, 6000, 3000),
      line(5800, 3000, 6000, 3000),
    ];
    expect(codes(shape(foundation(stretches, lines), GRID))).toEqual([]);
  });

  it('an oblique stem drawn through to the far face passes', () => {
    const [c, sn] = [Math.cos(Math.PI / 3), Math.sin(Math.PI / 3)];
    /** Where the line beside the stem's axis (`side` to its left) stands at a height. */
    const at = (y: number, side: number) => (y * c - side) / sn;
    const tip = (side: number) => ({ x: 3000 * c - side * sn, y: 3000 * sn + side * c });
    const face = (side: number): FaceLine => ({ from: { x: at(-100, side), y: -100 }, to: tip(side), source: 'S' });
    const lines = [
      line(-3000, -100, 3000, -100),
      line(-3000, 100, 3000, 100),
      line(-3000, -100, -3000, 100),
      line(3000, -100, 3000, 100),
      face(100),
      face(-100),
      { from: tip(100), to: tip(-100), source: 'S' },
    ];
    const start = 100 / sn + 100 / Math.tan(Math.PI / 3);
    const stretches = [
      stretch([-3000, 0], [3000, 0], 200, [true, true]),
      stretch([start * c, start * sn], [3000 * c, 3000 * sn], 200, [false, true]),
    ];
    expect(codes(shape(foundation(stretches, lines), GRID))).toEqual([]);
  });

  it('a stray line 10,000 km long ends in a finding and not in a long wait', () => {
    const r = shape({ ...clean, faceLines: [...clean.faceLines, line(0, 20000, 1e13, 20000)] }, GRID);
    expect(only(r, 'shape.outline-differs')).toHaveLength(1);
  });
});

describe('union and intersection', () => {
  it('two squares that overlap by 100 by 100 cover 1.99e6 of their 2e6', () => {
    const rings = unionOf([square(0, 0, 1000), square(900, 900, 1000)]);
    expect(rings).toHaveLength(1);
    expect(areaOf(rings[0]!)).toBeCloseTo(1.99e6, 3);
    expect(shared(square(0, 0, 1000), square(900, 900, 1000)).areaMm2).toBeCloseTo(1e4, 3);
  });

  it('squares side by side have no vertices on the common edge; a ring of them has a hole the other way round', () => {
    expect(unionOf([square(0, 0, 1000), square(1000, 0, 1000)])[0]).toHaveLength(4);
    const ring = [0, 1, 2].flatMap((i) =>
      [0, 1, 2].flatMap((j) => (i === 1 && j === 1 ? [] : [square(i * 500, j * 500, 500)])),
    );
    const areas = unionOf(ring).map(areaOf);
    expect(areas).toEqual([1500 ** 2, -(500 ** 2)]);
  });
});

describe('facePoint', () => {
  it('stands half the thickness beside the axis', () => {
    const wall = { start: { x: 10, y: 20 }, end: { x: 10, y: 520 }, thicknessMm: 200 };
    expect(facePoint(wall, 'left', 100)).toEqual({ x: -90, y: 120 });
    expect(facePoint(wall, 'right', -50)).toEqual({ x: 110, y: -30 });
    expect(facePoint(wall, 'axis', 500)).toEqual({ x: 10, y: 520 });
  });
});
