/**
 * A result made by hand for tests of the schedule and of the writers: two walls of 200 in an L with corners, two free ends with bulkheads, stiff fillers in
 * the outer end zones, timber, a step in the footing of W2 with a second course and a base gap, ties in rows, findings. No solver made it.
 */

import type { Finding, FindingCode, Severity } from '../../src/ground/findings.js';
import type {
  Catalogue,
  CheckedLayout,
  CheckedTie,
  Cover,
  FacePlan,
  FormUnit,
  Foundation,
  Piece,
  PieceKind,
  Result,
} from '../../src/ground/vocabulary.js';
import { schedule } from '../../src/schedule/index.js';
import { exampleRuns } from './exampleRuns.js';
import { NOTHING_ELSE } from './nothingElse.js';

const EDGE_MM = 50;
const TOP_MM = 2350;

const ROWS: Readonly<Record<number, readonly number[]>> = {
  2400: [300, 900, 1500, 2100],
  1800: [300, 900, 1500],
  600: [300],
};

const unitOf = (
  kind: FormUnit['kind'],
  id: string,
  widthMm: number,
  heightMm: number,
  more: Partial<FormUnit> = {},
): FormUnit => ({
  id,
  kind,
  widthMm,
  heightMm,
  legsMm: null,
  faceWidthMm: 0,
  holes: [],
  turnable: false,
  ratedKpa: 60,
  ratedSpanMm: 0,
  ratingIs: 'strength',
  stiffTo: null,
  momentKnmPerM: 0,
  massKg: (widthMm * heightMm * 32) / 1e6,
  ...more,
});

/** A panel with holes 50 from either edge, left one first, row by row from below. */
const panelUnit = (widthMm: number, heightMm: number): FormUnit =>
  unitOf('panel', `EX-P${widthMm}x${heightMm}`, widthMm, heightMm, {
    turnable: true,
    holes: ROWS[heightMm]!.flatMap((yMm) => [
      { xMm: EDGE_MM, yMm },
      { xMm: widthMm - EDGE_MM, yMm },
    ]),
  });

export const exampleCatalogue: Catalogue = {
  name: 'example yard',
  lengthUnit: 'mm',
  gridMm: 1,
  pitchMm: 25,
  frameDepthMm: 60,
  overhangMm: 150,
  timberLeastMm: 20,
  timberMostMm: 100,
  timberLimitMm: 300,
  units: [
    ...[600, 300, 200].map((w) => panelUnit(w, 2400)),
    panelUnit(600, 1800),
    panelUnit(300, 600),
    unitOf('filler', 'EX-F50x2400', 50, 2400, { stiffTo: 'panel', momentKnmPerM: 0.8 }),
    unitOf('inside-corner', 'EX-IC150x2400', 0, 2400, { legsMm: [150, 150], massKg: 28 }),
    unitOf('outside-corner', 'EX-OC2400', 0, 2400, { massKg: 11.5 }),
    unitOf('bulkhead', 'EX-B200x2400', 200, 2400, { massKg: 14 }),
  ],
  ties: [
    {
      id: 'EX-T200',
      wallMm: [200],
      workingLoadKn: 20,
      ultimateKn: 40,
      diameterMm: 12,
      kind: 'left-in',
      breakBackMm: 12.5,
      massKg: 0.35,
    },
  ],
  stock: { 'EX-P600x2400': 12, 'EX-F50x2400': 4 },
};

/** Footing 0, of W2 310 from station 1450 on; pour line 2350. */
export const examplePlan: FacePlan = {
  gridMm: 1,
  lengthUnit: 'mm',
  walls: [
    {
      id: 'W1',
      start: { x: 0, y: 0 },
      end: { x: 2700, y: 0 },
      lengthMm: 2700,
      thicknessMm: 200,
      base: [{ fromMm: -100, toMm: 2700, levelMm: 0 }],
      top: [{ fromMm: -100, toMm: 2700, levelMm: TOP_MM }],
      sources: ['2A', '2B'],
    },
    {
      id: 'W2',
      start: { x: 0, y: 0 },
      end: { x: 0, y: 1900 },
      lengthMm: 1900,
      thicknessMm: 200,
      base: [
        { fromMm: -100, toMm: 1450, levelMm: 0 },
        { fromMm: 1450, toMm: 1900, levelMm: 310 },
      ],
      top: [{ fromMm: -100, toMm: 1900, levelMm: TOP_MM }],
      sources: ['2C', '2D'],
    },
  ],
  nodes: [
    { id: 'N1', kind: 'corner', at: { x: 0, y: 0 }, angleDeg: 90, walls: ['W1', 'W2'] },
    { id: 'N2', kind: 'end', at: { x: 0, y: 1900 }, angleDeg: 0, walls: ['W2'] },
    { id: 'N3', kind: 'end', at: { x: 2700, y: 0 }, angleDeg: 0, walls: ['W1'] },
  ],
  faces: [
    { id: 'W1-left', wall: 'W1', side: 'left', fromMm: 100, toMm: 2700 },
    { id: 'W1-right', wall: 'W1', side: 'right', fromMm: -100, toMm: 2700 },
    { id: 'W1-end', wall: 'W1', side: 'end', fromMm: 0, toMm: 200 },
    { id: 'W2-left', wall: 'W2', side: 'left', fromMm: -100, toMm: 1900 },
    { id: 'W2-right', wall: 'W2', side: 'right', fromMm: 100, toMm: 1900 },
    { id: 'W2-end', wall: 'W2', side: 'end', fromMm: 0, toMm: 200 },
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
  runs: exampleRuns(TOP_MM),
  openings: [],
  concrete: [
    [
      { x: -100, y: -100 },
      { x: 2700, y: -100 },
      { x: 2700, y: 100 },
      { x: 100, y: 100 },
      { x: 100, y: 1900 },
      { x: -100, y: 1900 },
    ],
  ],
};

interface Column {
  readonly fromMm: number;
  readonly toMm: number;
  readonly kind: PieceKind;
  readonly item: string | null;
  readonly baseMm: number;
  readonly heightMm: number;
  readonly course: number;
  readonly turned?: boolean;
}

const full = (fromMm: number, toMm: number): Column => ({
  fromMm,
  toMm,
  kind: 'panel',
  item: `EX-P${toMm - fromMm}x2400`,
  baseMm: 0,
  heightMm: 2400,
  course: 1,
});
const filler = (fromMm: number, toMm: number): Column => ({
  ...full(fromMm, toMm),
  kind: 'filler',
  item: 'EX-F50x2400',
});
const timber = (fromMm: number, toMm: number, baseMm: number, heightMm: number): Column => ({
  ...full(fromMm, toMm),
  kind: 'timber',
  item: null,
  baseMm,
  heightMm,
});

const W1_COMMON = [
  full(250, 850),
  full(850, 1450),
  timber(1450, 1480, 0, 2400),
  full(1480, 2080),
  full(2080, 2680),
  full(2680, 2880),
];
const W2_COMMON: readonly Column[] = [
  full(250, 850),
  full(850, 1450),
  timber(1450, 2050, 310, 15),
  { fromMm: 1450, toMm: 2050, kind: 'panel', item: 'EX-P600x1800', baseMm: 325, heightMm: 1800, course: 1 },
  {
    fromMm: 1450,
    toMm: 2050,
    kind: 'panel',
    item: 'EX-P300x600',
    baseMm: 2125,
    heightMm: 300,
    course: 2,
    turned: true,
  },
];

const columnsOf: readonly (readonly [string, readonly Column[]])[] = [
  ['W1-left', W1_COMMON],
  ['W1-right', [filler(-100, -50), full(-50, 250), ...W1_COMMON]],
  ['W2-left', [filler(-100, -50), full(-50, 250), ...W2_COMMON]],
  ['W2-right', W2_COMMON],
];

const pieceOf = (face: string, c: Column): Omit<Piece, 'id'> => {
  const cover: Cover = { face, fromMm: c.fromMm, toMm: c.toMm, baseMm: c.baseMm, topMm: c.baseMm + c.heightMm };
  return {
    kind: c.kind,
    item: c.item,
    turned: c.turned ?? false,
    course: c.course,
    covers: [cover],
    baseMm: c.baseMm,
    topMm: c.baseMm + c.heightMm,
  };
};

const corners: readonly Omit<Piece, 'id'>[] = [
  {
    kind: 'outside-corner',
    item: 'EX-OC2400',
    turned: false,
    course: 1,
    covers: [],
    node: 'N1',
    vertex: 'V1',
    baseMm: 0,
    topMm: 2400,
  },
  {
    kind: 'inside-corner',
    item: 'EX-IC150x2400',
    turned: false,
    course: 1,
    covers: ['W1-left', 'W2-right'].map((face) => ({ face, fromMm: 100, toMm: 250, baseMm: 0, topMm: 2400 })),
    node: 'N1',
    vertex: 'V2',
    baseMm: 0,
    topMm: 2400,
  },
];

const bulkheads: readonly Omit<Piece, 'id'>[] = [
  ['W1-end', 'N3'],
  ['W2-end', 'N2'],
].map(([face, node]) => ({
  kind: 'bulkhead' as const,
  item: 'EX-B200x2400',
  turned: false,
  course: 1,
  covers: [{ face: face!, fromMm: 0, toMm: 200, baseMm: 0, topMm: 2400 }],
  node: node!,
  baseMm: 0,
  topMm: 2400,
}));

export const examplePieces: readonly Piece[] = [
  ...columnsOf.flatMap(([face, columns]) => columns.map((c) => pieceOf(face, c))),
  ...corners,
  ...bulkheads,
].map((piece, i) => ({ id: `P${i + 1}`, ...piece }));

/** The piece of a face whose hole stands at that station and level, and the hole's place in the catalogue's list. */
const holeAt = (
  face: string,
  side: 'left' | 'right',
  stationMm: number,
  levelMm: number,
): readonly [string, number] => {
  for (const piece of examplePieces) {
    const cover = piece.covers.find((c) => c.face === face);
    const unit = exampleCatalogue.units.find((u) => u.id === piece.item);
    if (cover === undefined || unit === undefined || piece.turned) continue;
    // Seen from outside the right face's stations run from left to right, the left face's from right to left.
    const xMm = side === 'right' ? stationMm - cover.fromMm : cover.toMm - stationMm;
    const hole = unit.holes.findIndex((h) => h.xMm === xMm && cover.baseMm + h.yMm === levelMm);
    if (hole >= 0) return [piece.id, hole];
  }
  throw new Error(`no hole in ${face} at ${stationMm}/${levelMm}`);
};

const Q_KN_PER_M = [25.78, 20.48, 12.0, 3.56];

/** Tie columns: wall, station, levels, strip in m, outside the concrete. */
const tieColumns: readonly (readonly [string, number, readonly number[], number, boolean])[] = [
  ['W1', 300, [300, 900, 1500, 2100], 0.5, false],
  ['W1', 900, [300, 900, 1500, 2100], 0.55, false],
  ['W1', 1400, [300, 900, 1500, 2100], 0.315, false],
  ['W1', 1530, [300, 900, 1500, 2100], 0.365, false],
  ['W1', 2130, [300, 900, 1500, 2100], 0.55, false],
  ['W1', 2630, [300, 900, 1500, 2100], 0.32, false],
  ['W1', 2830, [300, 900, 1500, 2100], 0.1, true],
  ['W2', 300, [300, 900, 1500, 2100], 0.5, false],
  ['W2', 900, [300, 900, 1500, 2100], 0.6, false],
  ['W2', 1500, [625, 1225, 1825], 0.8, false],
  ['W2', 2000, [625, 1225, 1825], 0.15, true],
];

export const exampleTies: readonly CheckedTie[] = tieColumns
  .flatMap(([wall, stationMm, levels, stripM, outsideConcrete]) =>
    levels.map((levelMm, row) => {
      const left = holeAt(`${wall}-left`, 'left', stationMm, levelMm);
      const right = holeAt(`${wall}-right`, 'right', stationMm, levelMm);
      const stripKn = Q_KN_PER_M[row]! * stripM;
      return {
        item: 'EX-T200',
        wall,
        run: wall,
        row: row + 1,
        stationMm,
        levelMm,
        pieces: [left[0], right[0]] as const,
        holes: [left[1], right[1]] as const,
        outsideConcrete,
        loadKn: stripKn,
        stripKn,
        workingLoadKn: 20,
        governingFace: `${wall}-right`,
      };
    }),
  )
  .map((tie, i) => ({ id: `T${i + 1}`, ...tie }));

const layout: CheckedLayout = {
  pieces: examplePieces,
  ties: exampleTies,
  groups: [
    {
      id: 'G1',
      face: 'W1-right',
      run: 'W1',
      fromMm: -100,
      toMm: 250,
      course: 1,
      pieces: ['P7', 'P8'],
      supports: ['held'],
    },
  ],
  tiers: [
    { name: 'failures', value: 1, bound: 0, optimal: false },
    { name: 'short', value: 0, bound: 0, optimal: true },
    { name: 'places', value: 1, bound: 1, optimal: true },
    { name: 'timberAreaM2', value: 0.1545, bound: 0.141, optimal: false },
    { name: 'steelFillers', value: 2, bound: 2, optimal: true },
    { name: 'tiesAndUnits', value: 69, bound: 60, optimal: false },
    { name: 'runPast', value: 130, bound: null, optimal: false },
    { name: 'kinds', value: 9, bound: null, optimal: false },
  ],
  work: { steps: 12345, cutShort: true },
  clamps: [],
  ratings: [{ piece: 'P1', pressureKpa: 43.1, ratedKpa: 60 }],
  pressure: [
    {
      method: 'aci-347-si',
      designKpa: 43.1,
      rateMPerH: 1.5,
      temperatureC: 15,
      pourHeightMm: TOP_MM,
      inputs: { rateMPerH: 1.5, temperatureC: 15, densityKgPerM3: 2400, chemistryCoefficient: 1, case: 'W1' },
      envelope: { points: [{ depthMm: 1831, kpa: 43.1 }] },
    },
  ],
};

const foundation: Foundation = {
  lengthUnit: 'mm',
  stretches: [],
  faceLines: [],
  ...NOTHING_ELSE,
  levels: { footingMm: 0, topMm: TOP_MM, footingFrom: 'job', topFrom: 'default' },
  levelsAt: [],
};

/** A finding with a code of any stage; tests of writers do not lean on the table of codes. */
export const sampleFinding = (
  code: string,
  severity: Severity,
  rule: string,
  at: Finding['at'],
  subject: string,
  message: string,
  assumed: string | null = null,
): Finding => ({ code: code as FindingCode, severity, rule, at, subject, message, assumed });

export const exampleFindings: readonly Finding[] = [
  sampleFinding(
    'check.tie-overloaded',
    'failure',
    'T11',
    [0, 1500, 625],
    'T37',
    'Tie T37 in W2 carries 20.6 kN and may carry 20.0 kN.',
  ),
  sampleFinding(
    'trace.unit-inferred',
    'attention',
    'input',
    null,
    '',
    'The drawing names no unit; the wall thicknesses fit millimetres.',
    'mm',
  ),
  sampleFinding(
    'trace.top-defaulted',
    'note',
    'T11',
    [2700, 0, 2350],
    'W1',
    'The pour line was not stated.',
    'pour line at 2350',
  ),
];

export const exampleResult: Result = {
  source: { file: 'ell.dxf', sha256: 'a'.repeat(64), kind: 'dxf', lengthUnit: 'mm' },
  foundation,
  plan: examplePlan,
  catalogue: exampleCatalogue,
  layout,
  schedule: schedule({ plan: examplePlan, catalogue: exampleCatalogue, layout }).value,
  findings: exampleFindings,
};
