/** The seat of the forms (rule T23): the footing projects by the frame's depth and 25 on both sides. The 25 are common practice, no source. */

import { describe, expect, it } from 'vitest';
import type { FootingLine, FootingSaid } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { laidOut, laySheet } from '../support/lay.js';
import { NOTHING_ELSE } from '../support/nothingElse.js';
import { loneWall } from '../support/scenes.js';
import type { Mark, Sheet } from '../support/sheet.js';
import { stretch } from './support.js';

const box = (x0: number, y0: number, x1: number, y1: number): FootingLine[] => {
  const corners = [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
  return corners.map((from, i) => ({ from, to: corners[(i + 1) % 4]! }));
};

type Ring = readonly { readonly x: number; readonly y: number }[];

/** A wall of 200 from (0, 0) to (4000, 0), turned by `turnDeg` with its footing. */
const seatsOf = (
  footings: readonly FootingLine[],
  footingSaid?: FootingSaid,
  turnDeg = 0,
  rings: readonly Ring[] = [],
) => {
  const [c, s] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const turn = (p: { x: number; y: number }) => ({ x: p.x * c - p.y * s, y: p.x * s + p.y * c });
  const wall = stretch(0, 0, 4000, 0, 200, [true, true]);
  const foundation = {
    lengthUnit: 'mm' as const,
    stretches: [{ ...wall, start: turn(wall.start), end: turn(wall.end) }],
    faceLines: [],
    ...NOTHING_ELSE,
    levels: { footingMm: 0, topMm: 2350, footingFrom: 'job' as const, topFrom: 'job' as const },
    levelsAt: [],
    footings: {
      lines: footings.map(({ from, to }) => ({ from: turn(from), to: turn(to) })),
      rings: rings.map((r) => r.map(turn)),
    },
    ...(footingSaid ? { footingSaid } : {}),
  };
  const { seats } = shape(foundation, { gridMm: 1 }).value;
  return seats?.map((x) => [x.side, Math.round(x.fromMm), Math.round(x.toMm), Math.round(x.projectionMm)]);
};

describe('what a footing projects', () => {
  it.each([0, 30, 90, 135])('is read from its outline, wall turned by %d degrees', (turnDeg) => {
    const seats = seatsOf(box(-150, -250, 4150, 200), undefined, turnDeg)!;
    // A wall that is turned beyond upright starts at its other end.
    const [left, right] = turnDeg > 90 ? [150, 100] : [100, 150];
    expect(seats).toEqual([
      ['left', 0, 4000, left],
      ['right', 0, 4000, right],
    ]);
  });

  it('by stretches where the footing widens, and 0 where it is flush', () => {
    const seats = seatsOf([...box(-150, -250, 2000, 100), ...box(2000, -250, 4150, 300)])!;
    expect(seats.filter(([side]) => side === 'left')).toEqual([
      ['left', 0, 2000, 0],
      ['left', 2000, 4000, 200],
    ]);
  });

  it('goes on where two outlines meet or lie over each other: their lines within each other are no edges', () => {
    // A strip under the wall, and one across its end as wide as another wall's: its edge beside the first one's end is none.
    const [strip, across] = [box(-100, -250, 4100, 250), box(-400, -900, 400, 900)];
    const rings = [strip, across].map((b) => b.map((l) => l.from));
    const seats = seatsOf([...strip, ...across], undefined, 0, rings)!;
    expect(seats.filter(([side]) => side === 'left')).toEqual([
      ['left', 0, 400, 800],
      ['left', 400, 4000, 150],
    ]);
    const flush = [...box(-100, -250, 4100, 250), ...box(1000, 100, 1500, 900)];
    const both = [flush.slice(0, 4), flush.slice(4)].map((b) => b.map((l) => l.from));
    expect(
      seatsOf(flush, undefined, 0, both)!
        .filter(([side]) => side === 'left')
        .map(([, , , p]) => p),
    ).toEqual([150, 800, 150]);
  });

  it.each<[string, FootingLine[]]>([
    ['a line on one side alone', [{ from: { x: 0, y: 300 }, to: { x: 4000, y: 300 } }]],
    ['lines across the wall', [...box(1000, -900, 1001, 900)]],
    ['lines within the wall', box(0, -60, 4000, 60)],
    ['lines too far off', box(0, -1200, 4000, 1200)],
  ])('is not told by %s', (_, lines) => {
    expect(seatsOf(lines)).toEqual([]);
  });

  it('is taken from the job file: of a single wall before the drawing, for all where none is drawn', () => {
    const at = [{ near: { x: 2000, y: 300 }, leftMm: 90, rightMm: null }];
    expect(seatsOf([], { projectionMm: 300, at: [] })!.map(([side, , , p]) => [side, p])).toEqual([
      ['left', 300],
      ['right', 300],
    ]);
    expect(seatsOf(box(-150, -250, 4150, 250), { projectionMm: 300, at })!.map(([side, , , p]) => [side, p])).toEqual([
      ['left', 90],
      ['right', 150],
    ]);
  });

  it('is not known where nothing is drawn or told', () => {
    expect(seatsOf([])).toEqual([]);
  });
});

/** The lone wall, its linework moved nowhere, with a footing of these projections below and above it. */
const withFooting = (layer: string, belowMm: number, aboveMm: number): Sheet => {
  const wall = loneWall(4000, 200);
  const points = wall.marks.flatMap((m) => (m.kind === 'outline' ? m.points : []));
  const [xs, ys] = [points.map((p) => p.x), points.map((p) => p.y)];
  const [x0, x1] = [Math.min(...xs) - 150, Math.max(...xs) + 150];
  const [y0, y1] = [Math.min(...ys) - belowMm, Math.max(...ys) + aboveMm];
  const outline: Mark = {
    kind: 'outline',
    layer,
    points: [
      { x: x0, y: y0 },
      { x: x1, y: y0 },
      { x: x1, y: y1 },
      { x: x0, y: y1 },
    ],
  };
  return { ...wall, layers: [...wall.layers, { name: layer, color: 3 }], marks: [...wall.marks, outline] };
};

const seatFindings = (sheet: Sheet, job: object = {}) => {
  const { result } = laidOut(laySheet(sheet, { levels: { topMm: 2350 }, catalogue: 'demo', ...job }));
  const told = result.findings.filter((f) => /seat/.test(f.code));
  return { told, depthMm: result.catalogue.frameDepthMm, layout: result.layout };
};

describe('the check of the seat', () => {
  const plain = seatFindings(loneWall(4000, 200));
  const need = plain.depthMm + 25;

  it.each(['S-FTNG', 'FOOTING', 'FNDN-FTG', 'Streifenfundament'])(
    'reads layer %s and says what is missing',
    (layer) => {
      const { told, layout } = seatFindings(withFooting(layer, need, need - 20));
      expect(told).toHaveLength(1);
      expect(told[0]).toMatchObject({ code: 'check.no-seat', severity: 'attention', rule: 'T23', subject: 'W1-L' });
      expect(told[0]!.message).toContain(': 20 mm of seat are missing');
      // The walls and their forms are what they are without it.
      expect(layout.pieces).toEqual(plain.layout.pieces);
      expect(layout.ties).toEqual(plain.layout.ties);
    },
  );

  it('is content with exactly the depth of the frame and 25', () => {
    expect(seatFindings(withFooting('S-FTNG', need, need)).told).toEqual([]);
  });

  it('takes layers that the job file names', () => {
    const sheet = withFooting('UNTERBAU', need - 1, need);
    expect(seatFindings(sheet, { drawing: { wallLayers: ['*WALL*'], footingLayers: ['UNTER*'] } }).told).toHaveLength(
      1,
    );
  });

  it('takes what the job file tells, on both sides', () => {
    expect(seatFindings(loneWall(4000, 200), { footing: { projectionMm: need - 5 } }).told).toHaveLength(2);
    expect(plain.told).toEqual([]);
  });

  it('says once of which walls nothing is known where something is of others', () => {
    const { told } = seatFindings(loneWall(4000, 200), { footing: { at: [{ near: [2000, 300], leftMm: 300 }] } });
    expect(told.map((f) => f.code)).toEqual(['check.seat-unknown']);
  });

  it('holds for gear in inches', () => {
    const { told, depthMm } = seatFindings(withFooting('S-FTNG', 101.6, 101.6), { catalogue: 'demo-inch' });
    expect(told).toHaveLength(101.6 < depthMm + 25 - 0.5 ? 2 : 0);
    expect(told).not.toHaveLength(0);
  });
});
