/** Odd and broken input: what is said, what is assumed, and that nothing throws. */

import { describe, expect, it } from 'vitest';
import { shape } from '../../src/shape/index.js';
import { codes, GRID, kinds } from './asked.js';
import { foundation, stretch } from './draw.js';

const free = [true, true] as const;

describe('input that is no wall', () => {
  it('no stretches: an empty plan and a failure that says so', () => {
    const r = shape(foundation([]), GRID);
    expect(r.value).toEqual({
      gridMm: 1,
      lengthUnit: 'mm',
      walls: [],
      nodes: [],
      faces: [],
      vertices: [],
      runs: [],
      openings: [],
      concrete: [],
    });
    expect(r.findings).toMatchObject([{ code: 'shape.no-walls', severity: 'failure' }]);
  });

  it.each([
    ['NaN', stretch([Number.NaN, 0], [1000, 0], 200)],
    ['infinite', stretch([0, 0], [Number.POSITIVE_INFINITY, 0], 200)],
    ['beyond any place', stretch([0, 0], [1e16, 0], 200)],
    ['no thickness', stretch([0, 0], [1000, 0], 0)],
    ['negative thickness', stretch([0, 0], [1000, 0], -200)],
    ['NaN thickness', stretch([0, 0], [1000, 0], Number.NaN)],
  ])('%s is refused by name; the rest is laid out', (_, bad) => {
    const r = shape(foundation([bad, stretch([0, 5000], [4000, 5000], 200, free, 'B7')]), GRID);
    expect(r.value.walls).toHaveLength(1);
    expect(r.findings).toMatchObject([{ code: 'shape.stretch-refused', severity: 'failure', subject: 'A1' }]);
  });

  it('a stretch of no length is left out with its place', () => {
    const r = shape(foundation([stretch([7, 9], [7.5, 9], 200), stretch([0, 5000], [4000, 5000], 200, free)]), GRID);
    expect(r.value.walls).toHaveLength(1);
    expect(r.findings).toMatchObject([{ code: 'shape.stretch-dropped', at: [7, 9, 0] }]);
  });

  it('a face line that is no number is refused by name and does no harm', () => {
    const f = foundation(
      [stretch([0, 0], [4000, 0], 200, free)],
      [{ from: { x: Number.NaN, y: 0 }, to: { x: 1, y: 1 }, source: 'X' }],
    );
    expect(shape(f, GRID).findings).toMatchObject([{ code: 'shape.line-refused', subject: 'X' }]);
  });

  it('a grid that is none is our own fault', () => {
    for (const gridMm of [0, -1, Number.NaN]) expect(() => shape(foundation([]), { gridMm })).toThrow(RangeError);
  });
});

describe('ends', () => {
  it('an isolated stretch has two free ends, closed faces at both, no vertices', () => {
    const r = shape(foundation([stretch([100, 50], [4100, 50], 200, free)]), GRID);
    expect(kinds(r)).toEqual(['end', 'end']);
    expect(r.value.faces.map((f) => [f.id, f.fromMm, f.toMm])).toEqual([
      ['W1-L', 0, 4000],
      ['W1-R', 0, 4000],
      ['W1-S', 0, 200],
      ['W1-E', 0, 200],
    ]);
    expect(r.value.vertices).toEqual([]);
    expect(codes(r)).toEqual([]);
  });

  it('an end without a cap is taken as free, and said with its place', () => {
    const r = shape(foundation([stretch([0, 0], [4000, 0], 200, [true, false])]), GRID);
    expect(r.value.runs[0]!.end).toEqual({ kind: 'free', node: 'N2', leftMm: 4000, rightMm: 4000 });
    expect(r.findings).toMatchObject([
      { code: 'shape.open-end', severity: 'attention', at: [4000, 0, 0], subject: 'W1' },
    ]);
  });

  it('a door way between two free ends is said with its length and middle', () => {
    const r = shape(
      foundation([stretch([0, 0], [4000, 0], 200, free), stretch([4900, 0], [9000, 0], 200, free)]),
      GRID,
    );
    expect(r.value.walls).toHaveLength(2);
    expect(r.findings).toMatchObject([{ code: 'shape.gap-in-line', at: [4450, 0, 0], subject: 'W1 W2' }]);
    expect(r.findings[0]!.message).toContain('900 mm');
  });

  it('an end against the side of two walls that turn a corner is a failure: forms of both would stand in concrete', () => {
    const r = shape(
      foundation([
        stretch([0, 100], [4000, 100], 200, [true, false]),
        stretch([4100, 400], [4100, 3000], 200, [false, true]),
        stretch([4200, 200], [8000, 200], 400, [false, true]),
      ]),
      GRID,
    );
    const [said, ...more] = r.findings.filter((f) => f.severity === 'failure');
    expect(more).toEqual([]);
    expect(said).toMatchObject({ code: 'shape.junction-not-laid-out', subject: 'W1', at: [4000, 100, 0] });
    expect(said!.message).toContain('wall W1 ends against the concrete of wall W2');
    expect(codes(r)).not.toContain('shape.near-miss');
  });

  it('an end 40 short of a wall stays free and is said', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([3000, 140], [3000, 3000], 200, free)]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'end']);
    expect(r.findings).toMatchObject([{ code: 'shape.near-miss', subject: 'W2', at: [3000, 140, 0] }]);
    expect(r.findings[0]!.message).toBe('Wall W2 stops 40 mm short of wall W1.');
  });

  it('an end 6 short of a wall meets it, with a note of the 6', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([3000, 106], [3000, 3000], 200, free)]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'tee']);
    expect(r.findings).toMatchObject([{ code: 'shape.end-moved', severity: 'note' }]);
    expect(r.findings[0]!.message).toContain('6 mm');
  });

  it('two closed ends that touch corner to corner are no corner, unless the outer vertex is drawn', () => {
    const stretches = [stretch([0, 0], [4000, 0], 200, free), stretch([4100, 100], [4100, 3000], 200, free)];
    expect(kinds(shape(foundation(stretches), GRID))).toEqual(['end', 'end', 'end', 'end']);
    const outer = { from: { x: 0, y: -100 }, to: { x: 4200, y: -100 }, source: 'L' };
    expect(kinds(shape(foundation(stretches, [outer]), GRID))).toEqual(['corner', 'end', 'end']);
  });
});
