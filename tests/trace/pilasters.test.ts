/** Pilasters and openings: known plans, worked out by hand. */

import { describe, expect, it } from 'vitest';
import type { DrawingPath, TraceOptions } from '../../src/ground/vocabulary.js';
import { trace } from '../../src/trace/index.js';
import { drawingOf, OPTIONS, pathOf, textOf } from './plans.js';

const p = (x: number, y: number) => ({ x, y });
const ring = (points: readonly (readonly [number, number])[], source: string, more: Partial<DrawingPath> = {}) =>
  pathOf(
    points.map(([x, y]) => p(x, y)),
    source,
    more,
  );
const run = (paths: readonly DrawingPath[], options: Partial<TraceOptions> = {}) =>
  trace(drawingOf(paths), { ...OPTIONS, unit: 'mm', ...options });
const walls = (r: ReturnType<typeof run>) =>
  r.value.stretches.map((s) => [s.start.x, s.start.y, s.end.x, s.end.y, s.thicknessMm]);
const codes = (r: ReturnType<typeof run>) => r.findings.filter((f) => f.severity !== 'note').map((f) => f.code);

const STRAIGHT = [[0, 100, 6000, 100, 200]];

describe('pilasters', () => {
  it('on one face: the wall runs through, the pilaster has its width and depth', () => {
    const outline = [
      [0, 0],
      [6000, 0],
      [6000, 200],
      [3300, 200],
      [3300, 400],
      [2900, 400],
      [2900, 200],
      [0, 200],
    ] as const;
    const r = run([ring(outline, 'A')]);
    expect(walls(r)).toEqual(STRAIGHT);
    expect(r.value.pilasters).toMatchObject([{ at: p(3100, 400), widthMm: 400, projectionMm: 200 }]);
    expect(codes(r)).toEqual([]);
  });

  it('on both faces are two; drawn as a box of its own it is one', () => {
    const both = [
      [0, 0],
      [2900, 0],
      [2900, -150],
      [3300, -150],
      [3300, 0],
      [6000, 0],
      [6000, 200],
      [3300, 200],
      [3300, 350],
      [2900, 350],
      [2900, 200],
      [0, 200],
    ] as const;
    const r = run([ring(both, 'A')]);
    expect(walls(r)).toEqual(STRAIGHT);
    expect(r.value.pilasters.map((x) => [x.at.y, x.projectionMm])).toEqual([
      [-150, 150],
      [350, 150],
    ]);
    const box = [
      [2900, 200],
      [3300, 200],
      [3300, 400],
      [2900, 400],
    ] as const;
    const wall = [
      [0, 0],
      [6000, 0],
      [6000, 200],
      [0, 200],
    ] as const;
    const apart = run([ring(wall, 'A'), ring(box, 'B')]);
    expect(walls(apart)).toEqual(STRAIGHT);
    expect(apart.value.pilasters).toMatchObject([
      { at: p(3100, 400), widthMm: 400, projectionMm: 200, sources: ['B'] },
    ]);
  });

  it('in the inner angle of a corner: both walls run up to the corner', () => {
    const outer = ring(
      [
        [0, 0],
        [6000, 0],
        [6000, 5000],
        [0, 5000],
      ],
      'A',
    );
    const inner = ring(
      [
        [600, 600],
        [600, 200],
        [5800, 200],
        [5800, 4800],
        [200, 4800],
        [200, 600],
      ],
      'B',
    );
    const r = run([outer, inner]);
    expect(walls(r)).toContainEqual([200, 100, 5800, 100, 200]);
    expect(walls(r)).toContainEqual([100, 200, 100, 4800, 200]);
    expect(r.value.pilasters).toMatchObject([{ at: p(600, 600), widthMm: 400, projectionMm: 400 }]);
    expect(codes(r)).toEqual([]);
  });

  it('a stub longer than wide is a wall with a tee, no pilaster', () => {
    const outline = [
      [0, 0],
      [6000, 0],
      [6000, 200],
      [3300, 200],
      [3300, 800],
      [3000, 800],
      [3000, 200],
      [0, 200],
    ] as const;
    const r = run([ring(outline, 'A')]);
    expect(r.value.pilasters).toEqual([]);
    expect(walls(r)).toContainEqual([3150, 200, 3150, 800, 300]);
  });
});

describe('skew ends', () => {
  it('are closed at the longer face, and said', () => {
    const outline = [
      [0, 0],
      [6000, 0],
      [6300, 200],
      [-100, 200],
    ] as const;
    const r = run([ring(outline, 'A')]);
    expect(walls(r)).toEqual([[-100, 100, 6300, 100, 200]]);
    expect(r.value.stretches.map((s) => [s.startCapped, s.endCapped])).toEqual([[true, true]]);
    expect(codes(r)).toEqual(['trace.skew-end', 'trace.skew-end']);
  });
});

describe('thickness against notes', () => {
  // A wall of 10 inches with a brick ledge of 4 drawn as a line along it: the nearest pair is the ledge.
  const nested = [0, 101.6, 254].map((k) =>
    ring(
      [
        [k, k],
        [12000 - k, k],
        [12000 - k, 9000 - k],
        [k, 9000 - k],
      ],
      `R${k}`,
    ),
  );
  const noted = (text: string, x: number, y: number) =>
    trace(drawingOf(nested, { texts: [{ ...textOf(text, 150), at: p(x, y) }] }), { ...OPTIONS, unit: 'mm' });

  it('a wall that no line pair has is a failure at the note, a question where the note stands away from all walls', () => {
    for (const [y, severity] of [
      [600, 'failure'],
      [3000, 'attention'],
    ] as const) {
      const { findings } = noted('10" FDN WALL W/ 4" BRICK LEDGE', 5000, y);
      const [said] = findings.filter((f) => f.code === 'trace.thickness-contradicted');
      expect(said).toMatchObject({ severity, at: [5000, y, 0] });
    }
  });

  it('a note that fits, or of something else, says nothing', () => {
    const thickness = noted('x', 0, 0).value.stretches[0]!.thicknessMm;
    for (const text of [`${Math.round(thickness)} THK WALL`, '150 THK SLAB', 'Bodenplatte d=25cm']) {
      expect(noted(text, 5000, 600).findings.map((f) => f.code)).not.toContain('trace.thickness-contradicted');
    }
  });
});

describe('mitres', () => {
  it('between walls drawn as boxes of their own are no skew ends', () => {
    const quads = [
      [
        [0, 0],
        [6000, 0],
        [5800, 200],
        [200, 200],
      ],
      [
        [6000, 0],
        [6000, 5000],
        [5800, 4800],
        [5800, 200],
      ],
      [
        [6000, 5000],
        [0, 5000],
        [200, 4800],
        [5800, 4800],
      ],
      [
        [0, 5000],
        [0, 0],
        [200, 200],
        [200, 4800],
      ],
    ] as const;
    const r = run(quads.map((q, i) => ring(q, `Q${i}`)));
    expect(walls(r)).toHaveLength(4);
    expect(new Set(walls(r).map((w) => w[4]))).toEqual(new Set([200]));
    expect(codes(r)).toEqual([]);
  });
});

describe('openings', () => {
  const left = ring(
    [
      [0, 0],
      [2500, 0],
      [2500, 200],
      [0, 200],
    ],
    'A',
  );
  const right = ring(
    [
      [3400, 0],
      [6000, 0],
      [6000, 200],
      [3400, 200],
    ],
    'B',
  );
  const swing = pathOf([p(2500, 200), p(2500, 1100), p(3400, 200)], 'D', { layer: 'A-DOOR', closed: false });
  const near = p(3000, 500);

  it('a closed break is asked about; a door in it makes it a door', () => {
    expect(codes(run([left, right]))).toEqual(['trace.gap-in-wall']);
    const r = run([left, right, swing]);
    expect(codes(r)).toEqual(['trace.opening-unclear']);
    expect(r.value.openings).toMatchObject([{ kind: 'door', from: p(2500, 100), to: p(3400, 100), sillMm: null }]);
    expect(walls(r)).toHaveLength(2);
  });

  it('with a head from the job file the wall runs through; with wallEnds nothing is asked', () => {
    const known = run([left, right, swing], {
      openings: [{ near, wallEnds: false, sillMm: null, headMm: 2100, widthMm: null }],
    });
    expect(walls(known)).toEqual(STRAIGHT);
    expect(known.value.openings).toMatchObject([{ kind: 'door', headMm: 2100 }]);
    expect(codes(known)).toEqual([]);
    const faces = known.value.faceLines.filter((f) => f.from.x === f.to.x);
    expect(faces.map((f) => f.from.x)).toEqual([0, 6000]);
    const ends = run([left, right], {
      openings: [{ near, wallEnds: true, sillMm: null, headMm: null, widthMm: null }],
    });
    expect([codes(ends), walls(ends).length, ends.value.openings]).toEqual([[], 2, []]);
  });

  it('with a width the job file makes an opening that is not drawn', () => {
    const wall = ring(
      [
        [0, 0],
        [6000, 0],
        [6000, 200],
        [0, 200],
      ],
      'A',
    );
    const r = run([wall], { openings: [{ near, wallEnds: false, sillMm: 500, headMm: 1100, widthMm: 800 }] });
    expect(r.value.openings).toMatchObject([{ from: p(2600, 100), to: p(3400, 100), sillMm: 500, headMm: 1100 }]);
    expect([codes(r), walls(r)]).toEqual([[], STRAIGHT]);
  });

  it('a place near no opening is said', () => {
    const far = [{ near: p(3000, 9000), wallEnds: true, sillMm: null, headMm: null, widthMm: null }];
    expect(codes(run([left, right], { openings: far }))).toContain('trace.opening-far');
  });

  it('windows over a wall that runs through are one finding, and no opening until the job file says so', () => {
    const wall = [
      [0, 0],
      [6000, 0],
      [6000, 200],
      [0, 200],
    ] as const;
    const panes = [1000, 3000].map((x) => {
      const pane = [
        [x, 0],
        [x + 1200, 0],
        [x + 1200, 200],
        [x, 200],
      ] as const;
      return ring(pane, `G${x}`, { layer: 'A-GLAZ' });
    });
    const r = run([ring(wall, 'A'), ...panes]);
    expect([codes(r), walls(r), r.value.openings]).toEqual([['trace.opening-over-wall'], STRAIGHT, []]);
    const said = run([ring(wall, 'A'), ...panes], {
      openings: [{ near: p(1500, 100), wallEnds: false, sillMm: 900, headMm: 2000, widthMm: null }],
    });
    expect(said.value.openings).toMatchObject([{ kind: 'window', from: p(1000, 100), to: p(2200, 100), sillMm: 900 }]);
  });
});
