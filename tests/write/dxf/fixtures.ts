/**
 * Results made by hand for the drawing's tests: a straight wall with two free ends, and an L of two walls of 6 m. Cover, joints and holes follow the layout
 * rules; loads and masses stand for themselves. The whole plan can be turned and shifted, and told in any unit.
 */

import type { Finding } from '../../../src/ground/findings.js';
import type { Vec } from '../../../src/ground/plane.js';
import type { LengthUnit } from '../../../src/ground/units.js';
import type {
  CheckedTie,
  Cover,
  Face,
  FacePlan,
  Piece,
  PieceKind,
  PlanNode,
  Result,
  Run,
  Vertex,
  Wall,
} from '../../../src/ground/vocabulary.js';
import { schedule } from '../../../src/schedule/index.js';
import { exampleCatalogue, exampleResult } from '../../support/exampleResult.js';

export interface FixtureOptions {
  readonly unit?: LengthUnit;
  readonly turnDeg?: number;
  readonly shift?: Vec;
  readonly findings?: readonly Finding[];
}

const T = 200;
const TOP = 2350;
const HEIGHT = 2400;
const ROWS = [300, 900, 1500, 2100];

const WIDTHS: Readonly<Record<number, { readonly kind: PieceKind; readonly item: string | null }>> = {
  600: { kind: 'panel', item: 'EX-P600x2400' },
  300: { kind: 'panel', item: 'EX-P300x2400' },
  200: { kind: 'panel', item: 'EX-P200x2400' },
  50: { kind: 'filler', item: 'EX-F50x2400' },
  30: { kind: 'timber', item: null },
};

/** Pieces of one face from a station on, one a width. */
const column = (face: string, fromMm: number, widths: readonly number[]): Omit<Piece, 'id'>[] => {
  let at = fromMm;
  return widths.map((w) => {
    const cover: Cover = { face, fromMm: at, toMm: at + w, baseMm: 0, topMm: HEIGHT };
    at += w;
    return { ...WIDTHS[w]!, turned: false, course: 1, covers: [cover], baseMm: 0, topMm: HEIGHT };
  });
};

const bulkhead = (face: string, node: string): Omit<Piece, 'id'> => ({
  kind: 'bulkhead',
  item: 'EX-B200x2400',
  turned: false,
  course: 1,
  covers: [{ face, fromMm: 0, toMm: T, baseMm: 0, topMm: HEIGHT }],
  node,
  baseMm: 0,
  topMm: HEIGHT,
});

/** Ties through both faces 50 behind each of the joints given. */
const tieRows = (wall: string, pieces: readonly Piece[], stations: readonly number[], endMm: number): CheckedTie[] =>
  stations.flatMap((stationMm) => {
    const at = (side: string): string =>
      pieces.find((p) =>
        p.covers.some((c) => c.face === `${wall}-${side}` && c.fromMm < stationMm && c.toMm > stationMm),
      )!.id;
    return ROWS.map((levelMm, i) => ({
      id: '',
      item: 'EX-T200',
      wall,
      run: wall,
      row: i + 1,
      stationMm,
      levelMm,
      pieces: [at('left'), at('right')] as const,
      holes: [0, 0] as const,
      outsideConcrete: stationMm < 0 || stationMm > endMm,
      loadKn: 10,
      stripKn: 10,
      workingLoadKn: 20,
      governingFace: `${wall}-right`,
    }));
  });

interface Parts {
  readonly walls: readonly Wall[];
  readonly nodes: readonly PlanNode[];
  readonly faces: readonly Face[];
  readonly vertices: readonly Vertex[];
  readonly runs: readonly Run[];
  readonly concrete: FacePlan['concrete'];
  readonly pieces: readonly Omit<Piece, 'id'>[];
  readonly ties: (pieces: readonly Piece[]) => CheckedTie[];
}

const turnedBy =
  ({ turnDeg = 0, shift = { x: 0, y: 0 } }: FixtureOptions) =>
  (p: Vec): Vec => {
    const a = (turnDeg * Math.PI) / 180;
    return {
      x: shift.x + p.x * Math.cos(a) - p.y * Math.sin(a),
      y: shift.y + p.x * Math.sin(a) + p.y * Math.cos(a),
    };
  };

const assemble = (parts: Parts, options: FixtureOptions): Result => {
  const place = turnedBy(options);
  const plan: FacePlan = {
    gridMm: 1,
    lengthUnit: options.unit ?? 'mm',
    walls: parts.walls.map((w) => ({ ...w, start: place(w.start), end: place(w.end) })),
    nodes: parts.nodes.map((n) => ({ ...n, at: place(n.at) })),
    faces: parts.faces,
    vertices: parts.vertices.map((v) => ({ ...v, at: place(v.at) })),
    runs: parts.runs,
    openings: [],
    concrete: parts.concrete.map((ring) => ring.map(place)),
  };
  const pieces = parts.pieces.map((p, i) => ({ id: `P${i + 1}`, ...p }));
  const ties = parts.ties(pieces).map((t, i) => ({ ...t, id: `T${i + 1}` }));
  const layout = { ...exampleResult.layout, pieces, ties, groups: [], ratings: [] };
  return {
    ...exampleResult,
    source: { ...exampleResult.source, lengthUnit: options.unit ?? 'mm' },
    plan,
    catalogue: exampleCatalogue,
    layout,
    schedule: schedule({ plan, catalogue: exampleCatalogue, layout }).value,
    findings: options.findings ?? [],
  };
};

const band = (fromMm: number, toMm: number, levelMm: number) => [{ fromMm, toMm, levelMm }];

const wall = (id: string, start: Vec, end: Vec, fromMm: number): Wall => ({
  id,
  start,
  end,
  lengthMm: Math.hypot(end.x - start.x, end.y - start.y),
  thicknessMm: T,
  base: band(fromMm, 6000, 0),
  top: band(fromMm, 6000, TOP),
  sources: [],
});

const face = (wallId: string, side: Face['side'], fromMm: number, toMm: number): Face => ({
  id: `${wallId}-${side}`,
  wall: wallId,
  side,
  fromMm,
  toMm,
});

const run = (wallId: string, start: Run['start'], node: string): Run => ({
  id: wallId,
  wall: wallId,
  thicknessMm: T,
  footingMm: 0,
  topMm: TOP,
  start,
  end: { kind: 'free', node, leftMm: 6000, rightMm: 6000 },
  stems: [],
});

/** One wall of 6 m along x, free at both ends: panels run past by 150 and 180, one place of timber. */
export const straightWall = (options: FixtureOptions = {}): Result => {
  const widths = [600, 600, 600, 600, 600, 30, 600, 600, 600, 600, 600, 300];
  const joints = [-100, 500, 1100, 1700, 2300, 2930, 3530, 4130, 4730, 5330, 6130];
  return assemble(
    {
      walls: [wall('W1', { x: 0, y: 0 }, { x: 6000, y: 0 }, 0)],
      nodes: [
        { id: 'N1', kind: 'end', at: { x: 0, y: 0 }, angleDeg: 0, walls: ['W1'] },
        { id: 'N2', kind: 'end', at: { x: 6000, y: 0 }, angleDeg: 0, walls: ['W1'] },
      ],
      faces: [
        face('W1', 'left', 0, 6000),
        face('W1', 'right', 0, 6000),
        face('W1', 'start', 0, T),
        face('W1', 'end', 0, T),
      ],
      vertices: [],
      runs: [run('W1', { kind: 'free', node: 'N1', leftMm: 0, rightMm: 0 }, 'N2')],
      concrete: [
        [
          { x: 0, y: -100 },
          { x: 6000, y: -100 },
          { x: 6000, y: 100 },
          { x: 0, y: 100 },
        ],
      ],
      pieces: [
        ...column('W1-left', -150, widths),
        ...column('W1-right', -150, widths),
        bulkhead('W1-start', 'N1'),
        bulkhead('W1-end', 'N2'),
      ],
      ties: (pieces) => tieRows('W1', pieces, joints, 6000),
    },
    options,
  );
};

const cornerRun = (wallId: string, other: string, inner: 'left' | 'right', node: string): Run =>
  run(
    wallId,
    {
      kind: 'corner',
      node: 'N1',
      inner,
      other,
      otherThicknessMm: T,
      deflectionDeg: 90,
      leftMm: inner === 'left' ? 100 : -100,
      rightMm: inner === 'right' ? 100 : -100,
      leftVertex: inner === 'left' ? 'V2' : 'V1',
      rightVertex: inner === 'right' ? 'V2' : 'V1',
    },
    node,
  );

const corner = (kind: PieceKind, item: string, vertex: string, covers: readonly Cover[]): Omit<Piece, 'id'> => ({
  kind,
  item,
  turned: false,
  course: 1,
  covers,
  node: 'N1',
  vertex,
  baseMm: 0,
  topMm: HEIGHT,
});

/** An L of two walls of 6 m round (0, 0): inside and outside corner, stiff fillers in the outer end zones, both ends free. */
export const elbow = (options: FixtureOptions = {}): Result => {
  const common = [600, 600, 600, 600, 600, 600, 600, 600, 600, 300, 300];
  const outer = [50, 300, ...common];
  const joints = [300, 900, 1500, 2100, 2700, 3300, 3900, 4500, 5100, 5900, 6200];
  const leg = (f: string): Cover => ({ face: f, fromMm: 100, toMm: 250, baseMm: 0, topMm: HEIGHT });
  return assemble(
    {
      walls: [wall('W1', { x: 0, y: 0 }, { x: 6000, y: 0 }, -100), wall('W2', { x: 0, y: 0 }, { x: 0, y: 6000 }, -100)],
      nodes: [
        { id: 'N1', kind: 'corner', at: { x: 0, y: 0 }, angleDeg: 90, walls: ['W1', 'W2'] },
        { id: 'N2', kind: 'end', at: { x: 0, y: 6000 }, angleDeg: 0, walls: ['W2'] },
        { id: 'N3', kind: 'end', at: { x: 6000, y: 0 }, angleDeg: 0, walls: ['W1'] },
      ],
      faces: [
        face('W1', 'left', 100, 6000),
        face('W1', 'right', -100, 6000),
        face('W1', 'end', 0, T),
        face('W2', 'left', -100, 6000),
        face('W2', 'right', 100, 6000),
        face('W2', 'end', 0, T),
      ],
      vertices: [
        {
          id: 'V1',
          node: 'N1',
          kind: 'salient',
          at: { x: -100, y: -100 },
          deflectionDeg: 90,
          arms: [
            { wall: 'W1', side: 'right', stationMm: -100, direction: 1 },
            { wall: 'W2', side: 'left', stationMm: -100, direction: 1 },
          ],
        },
        {
          id: 'V2',
          node: 'N1',
          kind: 're-entrant',
          at: { x: 100, y: 100 },
          deflectionDeg: 90,
          arms: [
            { wall: 'W1', side: 'left', stationMm: 100, direction: 1 },
            { wall: 'W2', side: 'right', stationMm: 100, direction: 1 },
          ],
        },
      ],
      runs: [cornerRun('W1', 'W2', 'left', 'N3'), cornerRun('W2', 'W1', 'right', 'N2')],
      concrete: [
        [
          { x: -100, y: -100 },
          { x: 6000, y: -100 },
          { x: 6000, y: 100 },
          { x: 100, y: 100 },
          { x: 100, y: 6000 },
          { x: -100, y: 6000 },
        ],
      ],
      pieces: [
        ...column('W1-left', 250, common),
        ...column('W1-right', -100, outer),
        ...column('W2-left', -100, outer),
        ...column('W2-right', 250, common),
        corner('inside-corner', 'EX-IC150x2400', 'V2', [leg('W1-left'), leg('W2-right')]),
        corner('outside-corner', 'EX-OC2400', 'V1', []),
        bulkhead('W1-end', 'N3'),
        bulkhead('W2-end', 'N2'),
      ],
      ties: (pieces) => [...tieRows('W1', pieces, joints, 6000), ...tieRows('W2', pieces, joints, 6000)],
    },
    options,
  );
};
