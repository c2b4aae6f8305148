/** Steps, openings, pilasters and curves as shape hands them on. */

import { describe, expect, it } from 'vitest';
import type { Foundation, LevelsAt } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { codes, only } from './asked.js';
import { drawn } from './draw.js';

const GRID = { gridMm: 1 };
const L = [
  { along: 'x', axis: 0, from: -100, to: 6000, t: 200 },
  { along: 'y', axis: 0, from: -100, to: 4000, t: 200 },
] as const;
const note = (x: number, y: number, footingMm: number | null, topMm: number | null = null): LevelsAt => ({
  near: { x, y },
  footingMm,
  topMm,
  from: 'drawing',
  text: 'T.O.F.',
});
const made = (more: Partial<Foundation>) => shape({ ...drawn(L), ...more }, GRID);
const step = (x: number, y: number, kind: 'footing' | 'top' = 'footing') => ({
  kind,
  at: { x, y },
  riseMm: null,
  text: null,
  sources: [],
});

describe('steps', () => {
  it('part a wall into bands, each with the level noted beside it, and into a run for each band', () => {
    const r = made({ steps: [step(2500, 90)], levelsAt: [note(1000, 300, -600), note(4000, 300, -200)] });
    const wall = r.value.walls.find((w) => w.end.x === 6000)!;
    expect(wall.base).toEqual([
      { fromMm: -100, toMm: 2500, levelMm: -600 },
      { fromMm: 2500, toMm: 6000, levelMm: -200 },
    ]);
    expect(wall.top).toHaveLength(1);
    const runs = r.value.runs.filter((x) => x.wall === wall.id);
    expect(runs.map((x) => [x.id, x.footingMm])).toEqual([
      [`${wall.id}.1`, -600],
      [`${wall.id}.2`, -200],
    ]);
    expect(runs[0]!.end).toMatchObject({ kind: 'step', leftMm: 2500, beyond: runs[1]!.id, beyondFootingMm: -200 });
    expect(runs[1]!.start).toMatchObject({ kind: 'step', leftMm: 2500, beyond: runs[0]!.id, beyondFootingMm: -600 });
    expect(only(r, 'shape.step')).toMatchObject([{ severity: 'note', subject: wall.id, at: [2500, 90, 0] }]);
    // The corner sees the level at its own end of the wall.
    expect(only(r, 'shape.levels-differ')).toHaveLength(1);
  });

  it('of the top stand apart from those of the footing', () => {
    const r = made({ steps: [step(3000, 0, 'top')], levelsAt: [note(4000, 300, null, 1800)] });
    const wall = r.value.walls.find((w) => w.end.x === 6000)!;
    expect(wall.base).toHaveLength(1);
    expect(wall.top.map((b) => [b.fromMm, b.toMm, b.levelMm])).toEqual([
      [-100, 3000, 2350],
      [3000, 6000, 1800],
    ]);
  });

  it('with one level on both sides are said to be flat, at a wall’s end or far off to be unused', () => {
    expect(codes(made({ steps: [step(2500, 0)] }))).toContain('shape.step-flat');
    const r = made({ steps: [step(6000, 0), step(3000, 9000)] });
    expect(only(r, 'shape.step-unused')).toHaveLength(2);
    expect(codes(r)).not.toContain('shape.step');
  });

  it('two notes on one side of a step conflict, one on each side do not; the job file beats the drawing', () => {
    const notes = [note(1000, 300, -600), note(2000, 300, -500), note(4000, 300, -200)];
    expect(codes(made({ steps: [step(2500, 0)], levelsAt: notes }))).toContain('shape.levels-conflict');
    const job = { ...note(1500, 600, -450), from: 'job' as const };
    const r = made({ steps: [step(2500, 0)], levelsAt: [notes[0]!, notes[2]!, job] });
    expect(codes(r)).not.toContain('shape.levels-conflict');
    expect(r.value.walls.find((w) => w.end.x === 6000)!.base[0]!.levelMm).toBe(-450);
  });
});

describe('openings', () => {
  const opening = {
    from: { x: 2000.2, y: 0 },
    to: { x: 3000, y: 0 },
    thicknessMm: 200,
    kind: 'window' as const,
    sillMm: 900,
    headMm: null,
    sources: ['A1'],
  };

  it('get their wall, stations on the grid and levels', () => {
    const r = made({ openings: [opening] });
    const wall = r.value.walls.find((w) => w.end.x === 6000)!;
    expect(r.value.openings).toEqual([
      { id: 'O1', wall: wall.id, fromMm: 2000, toMm: 3000, sillMm: 900, headMm: 2350 },
    ]);
    expect(only(r, 'shape.box-out')).toMatchObject([{ severity: 'note', subject: wall.id }]);
  });

  it('without concrete over and under them part the wall at their jambs; between jambs closer than 300 forms run through', () => {
    const tall = { ...opening, sillMm: -1000, headMm: 9000 };
    const gap = made({ openings: [tall] });
    expect(gap.value.openings).toEqual([]);
    // Of the wall from 0 to 6000 remain 0 to 2000 and 3000 to 6000, a free end at either jamb and no question about the gap.
    const ends = gap.value.nodes.filter((n) => n.kind === 'end').map((n) => Math.round(n.at.x));
    expect(ends).toEqual(expect.arrayContaining([2000, 3000]));
    expect(only(gap, 'shape.parted')).toMatchObject([{ severity: 'note' }]);
    expect(codes(gap)).not.toContain('shape.gap-in-line');
    expect(codes(gap)).not.toContain('shape.opening');
    const narrow = made({ openings: [{ ...tall, to: { x: 2250, y: 0 } }] });
    expect(narrow.value.openings).toHaveLength(1);
    expect(only(narrow, 'shape.box-out')[0]!.message).toContain('too narrow for two bulkheads');
  });

  it('without sill and head are breaks between walls; off every wall they are said and dropped', () => {
    expect(made({ openings: [{ ...opening, sillMm: null }] }).value.openings).toEqual([]);
    const off = { ...opening, from: { x: 2000, y: 2000 }, to: { x: 3000, y: 2000 } };
    const r = made({ openings: [off] });
    expect(r.value.openings).toEqual([]);
    expect(codes(r)).toContain('shape.opening');
  });
});

describe('walls side by side', () => {
  const pair = (gap: number) =>
    shape(
      drawn([
        { along: 'x', axis: 0, from: 0, to: 6000, t: 200 },
        { along: 'x', axis: 200 + gap, from: 0, to: 6000, t: 200 },
      ]),
      GRID,
    );

  it('with a joint of 20 mm between them are a failure at its middle; with room for forms they are not', () => {
    expect(only(pair(20), 'shape.no-room')).toMatchObject([
      { severity: 'failure', subject: 'W1 W2', at: [3000, 0, 0] },
    ]);
    expect(codes(pair(600))).not.toContain('shape.no-room');
  });
});

describe('curves that go on from a wall', () => {
  it('leave its end open: no free end, no bulkhead, no end face', () => {
    const curve = {
      centre: { x: 6000, y: 3000 },
      radiusMm: 3000,
      fromRad: 1.5 * Math.PI,
      toRad: 2 * Math.PI,
      thicknessMm: 200,
      startCapped: false,
      endCapped: true,
      sources: ['C'],
    };
    // A curve of another thickness does not go on in line.
    const r = made({ curves: [{ ...curve, thicknessMm: 250 }] });
    const wall = r.value.walls.find((w) => w.end.x === 6000)!;
    expect(r.value.runs.find((x) => x.wall === wall.id)!.end).toMatchObject({ kind: 'open' });
    expect(codes(r)).toContain('shape.curved');
    const inLine = made({ curves: [curve] });
    const arc = inLine.value.walls.find((w) => w.arc)!;
    expect(inLine.value.runs.find((x) => x.wall === wall.id)!.end).toMatchObject({ kind: 'tangent', other: arc.id });
    expect(inLine.value.runs.find((x) => x.wall === arc.id)).toMatchObject({
      start: { kind: 'tangent', other: wall.id, leftMm: 0 },
      end: { kind: 'free' },
    });
    expect(codes(inLine)).not.toContain('shape.curved');
    expect(codes(inLine)).not.toContain('shape.junction-not-laid-out');
    expect(inLine.value.faces.map((f) => f.id)).not.toContain(`${wall.id}-E`);
    expect(r.value.faces.map((f) => f.id)).not.toContain(`${wall.id}-E`);
    expect(r.value.nodes.find((x) => x.at.x === 6000)).toMatchObject({ kind: 'bend' });
    expect(made({}).value.runs.find((x) => x.wall === wall.id)!.end).toMatchObject({ kind: 'free' });
  });
});

describe('pilasters and curves', () => {
  it('are failures at their places where they are not laid out: a block in a corner, a curve', () => {
    const r = made({
      pilasters: [
        { at: { x: 500, y: 400 }, widthMm: 400, projectionMm: 300, inCorner: true, sources: ['P'] },
        { at: { x: 3000, y: 300 }, widthMm: 400, projectionMm: 200, sources: ['Q'] },
      ],
      curves: [
        {
          centre: { x: 3000, y: 1000 },
          radiusMm: 1000,
          fromRad: Math.PI,
          toRad: 2 * Math.PI,
          thicknessMm: 200,
          startCapped: true,
          endCapped: true,
          sources: ['C'],
        },
      ],
    });
    expect(only(r, 'shape.pilaster')).toMatchObject([{ severity: 'failure', at: [500, 400, 0] }]);
    expect(r.value.runs.flatMap((run) => run.pilasters ?? [])).toMatchObject([
      { side: 'left', fromMm: 2800, toMm: 3200, projectionMm: 200 },
    ]);
    const [curve] = only(r, 'shape.curved');
    expect(curve).toMatchObject({ severity: 'failure' });
    expect(curve!.message).toContain('meets it, and not in line');
    expect(curve!.at![1]).toBeCloseTo(0, 6);
  });

  it('are walls where a curve stands by itself', () => {
    const curve = {
      centre: { x: 0, y: 9000 },
      radiusMm: 1000,
      fromRad: 0,
      toRad: Math.PI,
      thicknessMm: 200,
      startCapped: true,
      endCapped: true,
      sources: ['C'],
    };
    const r = made({ curves: [curve] });
    expect(only(r, 'shape.curved')).toEqual([]);
    const wall = r.value.walls.find((w) => w.arc)!;
    expect(wall).toMatchObject({ thicknessMm: 200, arc: { innerRadiusMm: 900, sweepRad: Math.PI } });
    const faces = r.value.faces.filter((f) => f.wall === wall.id);
    expect(faces.map((f) => f.side)).toEqual(['left', 'right', 'start', 'end']);
    // Stations go along the outer face.
    expect(faces[0]!.toMm).toBeCloseTo(1100 * Math.PI, 6);
    expect(r.value.runs.find((x) => x.wall === wall.id)).toMatchObject({
      start: { kind: 'free', leftMm: 0 },
      end: { kind: 'free' },
    });
    const [x0, x1] = [
      Math.min(...r.value.concrete.flat().map((p) => p.x)),
      Math.max(...r.value.concrete.flat().map((p) => p.y)),
    ];
    expect(x0).toBeLessThan(-1099);
    expect(x1).toBeCloseTo(10100, 0);
  });
});
