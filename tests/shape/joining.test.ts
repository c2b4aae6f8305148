/** Rectangles laid against each other, stretches on one line: what becomes one wall and what does not. */

import { describe, expect, it } from 'vitest';
import { shape } from '../../src/shape/index.js';
import { codes, GRID, kinds, only } from './asked.js';
import { drawn, foundation, stretch } from './draw.js';

const free = [true, true] as const;

describe('walls that are drawn as rectangles', () => {
  it('laid against each other at a corner and at a tee, they join as if drawn in one outline', () => {
    const butt = shape(
      foundation([
        stretch([0, 0], [6000, 0], 200, free), // runs to the outer face of the corner
        stretch([5900, 100], [5900, 3000], 200, free), // stands against its inner face
        stretch([2000, 100], [2000, 3000], 200, free),
      ]),
      GRID,
    );
    expect(kinds(butt)).toEqual(['corner', 'end', 'end', 'end', 'tee']);
    expect(butt.value.walls.map((w) => w.lengthMm).sort((a, b) => a - b)).toEqual([3000, 3000, 5900]);
    expect(codes(butt)).toEqual([]);
  });

  it('drawn through each other they are a cross, with a note', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([2000, -2000], [2000, 3000], 200, free)]),
      GRID,
    );
    expect(kinds(r)).toEqual(['cross', 'end', 'end', 'end', 'end']);
    expect(r.value.walls).toHaveLength(3);
    expect(r.findings).toMatchObject([{ code: 'shape.drawn-through', at: [2000, 0, 0] }]);
  });

  it('overlapping on one axis they are one wall; a doubled one too', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free, 'A'), stretch([5500, 0.4], [9000, 0.4], 200, free, 'B')]),
      GRID,
    );
    expect(r.value.walls).toMatchObject([{ lengthMm: 9000, sources: ['A', 'B'] }]);
    expect(r.findings).toMatchObject([{ code: 'shape.duplicate', subject: 'A B' }]);
    const twice = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([6000, 0], [0, 0], 200, free)]),
      GRID,
    );
    expect(twice.value.walls).toHaveLength(1);
    expect(codes(twice)).toEqual(['shape.duplicate']);
  });
});

describe('collinear stretches', () => {
  it('parted by less than the tolerance are one wall', () => {
    const r = shape(
      foundation([stretch([0, 0], [3000, 0], 200, [true, false]), stretch([3007, 0], [8000, 0], 200, [false, true])]),
      GRID,
    );
    expect(r.value.walls).toMatchObject([{ lengthMm: 8000 }]);
    expect(r.findings).toMatchObject([{ code: 'shape.gap-closed' }]);
    expect(r.findings[0]!.message).toContain('7 mm');
  });

  it('with one face running on over the gap are one wall, and the missing face is said', () => {
    const lines = [
      { from: { x: 0, y: -100 }, to: { x: 8000, y: -100 }, source: 'L1' },
      { from: { x: 0, y: 100 }, to: { x: 3000, y: 100 }, source: 'L2' },
      { from: { x: 3400, y: 100 }, to: { x: 8000, y: 100 }, source: 'L3' },
      { from: { x: 0, y: -100 }, to: { x: 0, y: 100 }, source: 'L4' },
      { from: { x: 8000, y: -100 }, to: { x: 8000, y: 100 }, source: 'L5' },
    ];
    const stretches = [
      stretch([0, 0], [3000, 0], 200, [true, false]),
      stretch([3400, 0], [8000, 0], 200, [false, true]),
    ];
    const r = shape(foundation(stretches, lines), GRID);
    expect(r.value.walls).toMatchObject([{ lengthMm: 8000 }]);
    expect(codes(r)).toEqual(['shape.face-missing', 'shape.outline-added']);
    expect(only(r, 'shape.outline-added')[0]!.message).toContain('400 mm');
    // Without the running face they stay two.
    expect(shape(foundation(stretches), GRID).value.walls).toHaveLength(2);
  });

  it('stems on both sides that overlap along the wall leave it one wall', () => {
    const r = shape(
      drawn([
        { along: 'x', axis: 0, from: 0, to: 8000, t: 200 },
        { along: 'y', axis: 3000, from: 0, to: 3000, t: 200 },
        { along: 'y', axis: 3150, from: -3000, to: 0, t: 200 },
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'end', 'tee', 'tee']);
    const run = r.value.runs.find((x) => x.stems.length > 0)!;
    expect(run.stems.map((s) => [s.side, s.fromMm, s.toMm])).toEqual([
      ['left', 2900, 3100],
      ['right', 3050, 3250],
    ]);
    expect(codes(r)).toEqual([]);
  });

  it('a door way beside a stem does not close', () => {
    const r = shape(
      drawn([
        { along: 'x', axis: 0, from: 0, to: 3100, t: 200 },
        { along: 'y', axis: 3000, from: 0, to: 3000, t: 200 },
        { along: 'x', axis: 0, from: 4000, to: 8000, t: 200 },
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['corner', 'end', 'end', 'end', 'end']);
  });
});
