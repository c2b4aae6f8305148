/**
 * Two yards of gear that exist nowhere: a metric one and one made to inches, so that the program can be tried without a catalogue of one's
 * own. Their numbers are invented and stand for no maker's gear; they are plausible, and nothing may be built by them.
 */

import type { Catalogue } from '../ground/vocabulary.js';
import { siteGear } from './demoSite.js';
import { loadCatalogue } from './load.js';

type UnitValue = Record<string, unknown>;

interface YardSizes {
  /** Suffix of the length keys: 'Mm' or 'In'. */
  readonly unit: 'Mm' | 'In';
  readonly widths: readonly number[];
  readonly fillers: readonly number[];
  readonly legs: readonly number[];
  /** Leg of the hinged inside corner. */
  readonly hingedLeg: number;
  /** Height → levels of its tie rows: the same in every panel of that height. */
  readonly rows: ReadonlyMap<number, readonly number[]>;
  readonly holeFromEdge: number;
  readonly ratedSpan: number;
  /** Square metres in one square unit. */
  readonly squareM2: number;
}

/** Rated pressure of every unit, kPa. */
const RATED_KPA = 60;
/** Mass of panels and corners, kg per m2 of face. */
const KG_PER_M2 = 32;
/** The steel of an outside corner, as a width of face. */
const OUTSIDE_CORNER_SHARE = 0.15;

/** What the hinged corners take: interior angles from 170 down to 60 degrees, where the frames of two legs of 200 still clear each other. */
const HINGED_DEG = { least: 10, most: 120 };

const massKg = (sizes: YardSizes, width: number, height: number): number =>
  Math.round(width * height * sizes.squareM2 * KG_PER_M2 * 10) / 10;

const yardUnits = (sizes: YardSizes): UnitValue[] => {
  const { unit, widths, fillers, legs, hingedLeg, rows, holeFromEdge, ratedSpan } = sizes;
  const key = (name: string) => `${name}${unit}`;
  return [...rows].flatMap(([height, levels]) => {
    const base = { [key('height')]: height, ratedKpa: RATED_KPA };
    const panels = widths.map((w) => ({
      ...base,
      id: `panel-${w}x${height}`,
      kind: 'panel',
      [key('width')]: w,
      [key('ratedSpan')]: ratedSpan,
      holes: levels.flatMap((y) => [holeFromEdge, w - holeFromEdge].map((x) => ({ [key('x')]: x, [key('y')]: y }))),
      turnable: true,
      massKg: massKg(sizes, w, height),
    }));
    const stiff = fillers.map((w) => ({
      ...base,
      id: `filler-${w}x${height}`,
      kind: 'filler',
      [key('width')]: w,
      stiffTo: 'panel',
      momentKnmPerM: 1,
      massKg: massKg(sizes, w * 1.5, height),
    }));
    const inside = legs.map((a) => ({
      ...base,
      id: `inside-corner-${a}x${height}`,
      kind: 'inside-corner',
      [key('legs')]: [a, a],
      massKg: massKg(sizes, 2 * a, height),
    }));
    const outside = {
      ...base,
      id: `outside-corner-${height}`,
      kind: 'outside-corner',
      massKg: massKg(sizes, ratedSpan * OUTSIDE_CORNER_SHARE, height),
    };
    const hinged = {
      ...base,
      id: `hinged-corner-${hingedLeg}x${height}`,
      kind: 'hinged-corner',
      [key('legs')]: [hingedLeg, hingedLeg],
      deflectionDeg: HINGED_DEG,
      massKg: massKg(sizes, 2 * hingedLeg, height),
    };
    const hingedOutside = {
      ...outside,
      id: `hinged-outside-corner-${height}`,
      deflectionDeg: HINGED_DEG,
    };
    return [...panels, ...stiff, ...inside, outside, hinged, hingedOutside];
  });
};

/** Clamps of the demo yards: of one touching frames, of the other those with fill between them. */
const yardClamps = (unit: 'Mm' | 'In', short: number, long: number): UnitValue[] =>
  [['clamp', 0, short, 18, 24, 3.2] as const, ['clamp-long', 0, long, 15, 15, 5.8] as const].map(
    ([id, from, to, pullKn, shearKn, massKg]) => ({ id, [`closes${unit}`]: { from, to }, pullKn, shearKn, massKg }),
  );

/** The metric demo yard, as a catalogue file. */
export const demoCatalogueFile: Record<string, unknown> = {
  name: 'demo yard',
  lengthUnit: 'mm',
  pitchMm: 25,
  frameDepthMm: 110,
  overhangMm: 150,
  timberLeastMm: 20,
  timberMostMm: 100,
  timberLimitMm: 300,
  timber: { thicknessMm: 27, bendingMpa: 8, shearMpa: 0.9 },
  units: yardUnits({
    unit: 'Mm',
    widths: [600, 500, 450, 400, 300, 250, 200],
    fillers: [50, 25],
    legs: [150, 200],
    hingedLeg: 200,
    rows: new Map([
      [2700, [300, 900, 1500, 2100, 2550]],
      [2400, [300, 900, 1500, 2100]],
      [1200, [300, 900]],
      [900, [250, 650]],
      [600, [150, 450]],
    ]),
    holeFromEdge: 50,
    ratedSpan: 600,
    squareM2: 1e-6,
  }),
  ties: [
    [100, 250],
    [250, 400],
    [400, 600],
  ].map(([from, to]) => ({
    id: `tie-${from}-${to}`,
    wallMm: { from, to },
    workingLoadKn: 24,
    ultimateKn: 48,
    diameterMm: 14,
    kind: 'removable',
    holeMm: 22,
    lock: { id: 'tie-lock', massKg: 0.9 },
    massKg: Math.round((to! + 350) * 0.012) / 10,
  })),
  clamps: yardClamps('Mm', 10, 320),
  ...siteGear({
    unit: 'Mm',
    aligners: [6000, 4800, 3600, 2400, 1800, 1200, 600],
    lap: 600,
    fixingEvery: 1200,
    braces: [
      ['fixed', [800, 1100], [600, 1200], 12, 12, 9],
      ['fixed', [1600, 2000], [1200, 1800], 12, 12, 12],
      ['fixed', [2100, 2600], [1800, 2400], 12, 12, 15],
      ['telescopic', [2000, 3600], [1800, 3600], 14, 12, 26],
      ['telescopic', [3200, 5600], [3000, 6000], 20, 16, 48],
    ],
    bracket: { width: 800, height: 900, spacing: 2000 },
    planks: [4000, 3000, 2000, 1500],
    plankWidth: 200,
    rails: [4000, 3000, 2000, 1000],
    unitM: 1e-3,
  }),
};

/** The demo yard made to inches, as a catalogue file with its lengths in inches. */
export const demoInchCatalogueFile: Record<string, unknown> = {
  name: 'demo yard, inches',
  lengthUnit: 'in',
  pitchIn: 1,
  frameDepthIn: 4,
  overhangIn: 6,
  timberLeastIn: 0.75,
  timberMostIn: 4,
  timberLimitIn: 12,
  timber: { thicknessIn: 1, bendingMpa: 8, shearMpa: 0.9 },
  units: yardUnits({
    unit: 'In',
    widths: [24, 20, 18, 16, 12, 10, 8],
    fillers: [2, 1],
    legs: [6, 8],
    hingedLeg: 8,
    rows: new Map([
      [108, [12, 36, 60, 84, 102]],
      [96, [12, 36, 60, 84]],
      [48, [12, 36]],
      [36, [10, 26]],
      [24, [6, 18]],
    ]),
    holeFromEdge: 2,
    ratedSpan: 24,
    squareM2: 0.0254 * 0.0254,
  }),
  ties: [
    [4, 10],
    [10, 16],
    [16, 24],
  ].map(([from, to]) => ({
    id: `tie-${from}-${to}`,
    wallIn: { from, to },
    workingLoadKn: 24,
    ultimateKn: 48,
    diameterIn: 0.5,
    kind: 'removable',
    holeIn: 0.875,
    lock: { id: 'tie-lock', massKg: 0.9 },
    massKg: Math.round((to! + 14) * 0.3) / 10,
  })),
  clamps: yardClamps('In', 0.5, 13),
  ...siteGear({
    unit: 'In',
    aligners: [240, 192, 144, 96, 72, 48, 24],
    lap: 24,
    fixingEvery: 48,
    braces: [
      ['fixed', [32, 44], [24, 48], 12, 12, 9],
      ['fixed', [64, 80], [48, 72], 12, 12, 12],
      ['fixed', [84, 104], [72, 96], 12, 12, 15],
      ['telescopic', [80, 144], [72, 144], 14, 12, 26],
      ['telescopic', [128, 224], [120, 240], 20, 16, 48],
    ],
    bracket: { width: 32, height: 36, spacing: 80 },
    planks: [160, 120, 80, 60],
    plankWidth: 8,
    rails: [160, 120, 80, 40],
    unitM: 0.0254,
  }),
};

/** Our own data: a fault in it is a fault of the program. */
const loaded = (file: Record<string, unknown>): Catalogue => {
  const result = loadCatalogue(file);
  if (!result.ok) throw new Error(`demo catalogue: ${result.findings.map((f) => f.message).join(' ')}`);
  return result.value;
};

export const demoCatalogue: Catalogue = loaded(demoCatalogueFile);
export const demoInchCatalogue: Catalogue = loaded(demoInchCatalogueFile);
