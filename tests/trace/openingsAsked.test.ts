/** Openings that only the job file knows: nothing that it says of them is passed over. */

import { describe, expect, it } from 'vitest';
import { findOpenings } from '../../src/trace/openings.js';

const wall = {
  start: { x: 0, y: 0 },
  end: { x: 6000, y: 0 },
  thicknessMm: 200,
  startCapped: true,
  endCapped: true,
  sources: ['A'],
};
const asked = (more: {
  readonly widthMm: number | null;
  readonly sillMm: number | null;
  readonly headMm: number | null;
  readonly x?: number;
}) => {
  const { x = 3000, ...levels } = more;
  return findOpenings({
    stretches: [wall],
    faceLines: [],
    signs: [],
    notes: [],
    footingMm: 0,
    settled: [{ near: { x, y: 20 }, wallEnds: false, ...levels }],
  });
};

describe('an opening that is not drawn', () => {
  it('is made where the job file says width and height', () => {
    const { value, findings } = asked({ widthMm: 900, sillMm: 500, headMm: null });
    expect(value.openings).toMatchObject([
      { from: { x: 2550, y: 0 }, to: { x: 3450, y: 0 }, sillMm: 500, headMm: null },
    ]);
    expect(findings).toEqual([]);
  });

  it('without a height is no opening, and is asked about', () => {
    const { value, findings } = asked({ widthMm: 900, sillMm: null, headMm: null });
    expect(value.openings).toEqual([]);
    expect(findings).toMatchObject([
      { code: 'trace.opening-unclear', assumed: 'no opening: the wall is formed in full' },
    ]);
    expect(findings[0]!.message).toContain('without sillMm or headMm');
  });

  it('that is wider than the wall there is long ends with it, and that is said', () => {
    const { value, findings } = asked({ widthMm: 2000, sillMm: 500, headMm: null, x: 5500 });
    expect(value.openings).toMatchObject([{ from: { x: 4500, y: 0 }, to: { x: 6000, y: 0 } }]);
    expect(findings).toMatchObject([{ code: 'trace.opening-unclear', assumed: 'it ends with the wall' }]);
  });
});

describe('two answers about one opening', () => {
  it('the nearer one holds, and the other is said', () => {
    const end = { x: 9000, y: 0 };
    const walls = [wall, { ...wall, start: { x: 7000, y: 0 }, end }];
    const answers = [1000, 2000].map((headMm, i) => ({
      near: { x: 7900 - 1000 * i, y: 0 },
      wallEnds: false,
      widthMm: null,
      sillMm: null,
      headMm,
    }));
    const { value, findings } = findOpenings({
      stretches: walls,
      faceLines: [],
      signs: [],
      notes: [],
      footingMm: 0,
      settled: answers,
    });
    expect(value.openings.map((o) => o.headMm)).toEqual([2000]);
    expect(findings.map((f) => [f.code, f.at])).toEqual([['trace.opening-answered-twice', [7900, 0, 0]]]);
  });
});
