/** Levels of walls from the plan and from notes. */

import { describe, expect, it } from 'vitest';
import { shape } from '../../src/shape/index.js';
import { codes, GRID, only } from './asked.js';
import { drawn } from './draw.js';

describe('levels', () => {
  const at = (x: number, y: number, footingMm: number | null, topMm: number | null) => ({
    near: { x, y },
    footingMm,
    topMm,
    from: 'job' as const,
    text: null,
  });
  const three = [
    { along: 'x', axis: 0, from: -100, to: 6000, t: 200 },
    { along: 'y', axis: 0, from: -100, to: 4000, t: 200 },
  ] as const;

  it('the nearest wall takes a note; what it leaves out stays general; the node is named', () => {
    const r = shape(drawn(three, [at(3000, 300, -600, null)]), GRID);
    expect(r.value.runs.map((x) => [x.wall, x.footingMm, x.topMm])).toEqual([
      ['W1', 0, 2350],
      ['W2', -600, 2350],
    ]);
    expect(r.value.walls[1]!.base).toEqual([{ fromMm: -100, toMm: 6000, levelMm: -600 }]);
    expect(r.findings).toMatchObject([{ code: 'shape.levels-differ', severity: 'attention', at: [0, 0, 0] }]);
  });

  it('two notes of one wall: the nearer counts, and both are said; order does not matter', () => {
    const notes = [at(3000, 150, -300, null), at(2000, 400, -500, null)];
    const r = shape(drawn(three, notes), GRID);
    expect(r.value.runs[1]!.footingMm).toBe(-300);
    expect(codes(r)).toContain('shape.levels-conflict');
    expect(shape(drawn(three, [...notes].reverse()), GRID)).toEqual(r);
  });

  it('a far note is taken and said; one that is no number is refused', () => {
    expect(codes(shape(drawn(three, [at(3000, 9000, -300, null)]), GRID))).toContain('shape.levels-far');
    const r = shape(drawn(three, [at(Number.NaN, 0, -300, null), at(3000, 0, Number.NaN, null)]), GRID);
    expect(only(r, 'shape.levels-refused')).toHaveLength(2);
    expect(r.value.runs.map((x) => x.footingMm)).toEqual([0, 0]);
  });

  it('a top below the footing is a failure of each wall', () => {
    const levels = { footingMm: 500, topMm: 400, footingFrom: 'job', topFrom: 'job' } as const;
    const r = shape({ ...drawn(three), levels }, GRID);
    expect(only(r, 'shape.levels-refused').map((f) => f.subject)).toEqual(['W1', 'W2']);
  });
});
