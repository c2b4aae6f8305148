/**
 * The catalogue of the hand-worked layouts that the tests check against. Its numbers were invented for those examples and stand for
 * no real gear: panels 600 … 200 wide in five heights, tie holes 50 from each vertical edge, fillers 25 and 50, one inside corner of
 * 150 x 150, a hinged one of 200 x 200, ties of 20 kN, units rated 60 kPa.
 */

import type { Catalogue, FormUnit, Hole, TieItem } from '../../src/ground/vocabulary.js';

const WIDTHS = [600, 500, 450, 400, 300, 250, 200] as const;

/** Levels of the tie rows above a unit's foot, by the unit's height. */
const ROWS: Readonly<Record<number, readonly number[]>> = {
  2400: [300, 900, 1500, 2100],
  1800: [300, 900, 1500],
  1200: [300, 900],
  900: [300, 600],
  600: [300],
};
const HEIGHTS = [2400, 1800, 1200, 900, 600] as const;
const EDGE_MM = 50;

const base = {
  legsMm: null,
  faceWidthMm: 0,
  holes: [] as readonly Hole[],
  turnable: false,
  ratedKpa: 60,
  ratedSpanMm: 600,
  ratingIs: 'deflection',
  stiffTo: null,
  momentKnmPerM: 0,
} as const;

/** 32 kg per square metre of face. */
const mass = (widthMm: number, heightMm: number): number => Math.round(widthMm * heightMm * 32e-5) / 10;

const holes = (widthMm: number, heightMm: number): Hole[] =>
  ROWS[heightMm]!.flatMap((yMm) => [
    { xMm: EDGE_MM, yMm },
    { xMm: widthMm - EDGE_MM, yMm },
  ]);

const panel = (widthMm: number, heightMm: number): FormUnit => ({
  ...base,
  id: `panel-${widthMm}x${heightMm}`,
  kind: 'panel',
  widthMm,
  heightMm,
  holes: holes(widthMm, heightMm),
  turnable: true,
  massKg: mass(widthMm, heightMm),
});

const filler = (widthMm: number, heightMm: number): FormUnit => ({
  ...base,
  id: `filler-${widthMm}x${heightMm}`,
  kind: 'filler',
  widthMm,
  heightMm,
  stiffTo: 'panel',
  momentKnmPerM: 0.8,
  massKg: mass(widthMm, heightMm),
});

const insideCorner = (heightMm: number): FormUnit => ({
  ...base,
  id: `inside-corner-150x${heightMm}`,
  kind: 'inside-corner',
  widthMm: 0,
  heightMm,
  legsMm: [150, 150],
  massKg: mass(300, heightMm),
});

const HINGED_DEG = { least: 10, most: 150 };

const hingedCorner = (heightMm: number): FormUnit => ({
  ...base,
  id: `hinged-corner-200x${heightMm}`,
  kind: 'hinged-corner',
  widthMm: 0,
  heightMm,
  legsMm: [200, 200],
  deflectionDeg: HINGED_DEG,
  massKg: mass(400, heightMm),
});

const hingedOutside = (heightMm: number): FormUnit => ({
  ...outsideCorner(heightMm),
  id: `hinged-outside-corner-${heightMm}`,
  deflectionDeg: HINGED_DEG,
});

const outsideCorner = (heightMm: number): FormUnit => ({
  ...base,
  id: `outside-corner-${heightMm}`,
  kind: 'outside-corner',
  widthMm: 0,
  heightMm,
  massKg: mass(100, heightMm),
});

const tie = (id: string, fromMm: number, toMm: number): TieItem => ({
  id,
  wallMm: { fromMm, toMm },
  workingLoadKn: 20,
  ultimateKn: 40,
  diameterMm: 12,
  kind: 'removable',
  breakBackMm: 0,
  removedBefore: false,
  holeMm: null,
  isSealed: false,
  lock: null,
  massKg: 1,
});

export const workedExampleCatalogue: Catalogue = {
  name: 'worked examples',
  lengthUnit: 'mm',
  gridMm: 1,
  pitchMm: 25,
  frameDepthMm: 100,
  overhangMm: 150,
  timberLeastMm: 20,
  timberMostMm: 100,
  timberLimitMm: 300,
  units: HEIGHTS.flatMap((h) => [
    ...WIDTHS.map((w) => panel(w, h)),
    filler(25, h),
    filler(50, h),
    insideCorner(h),
    outsideCorner(h),
    hingedCorner(h),
    hingedOutside(h),
  ]),
  ties: [tie('tie-short', 100, 349), tie('tie-long', 350, 600)],
  clamps: [],
  timber: null,
  stock: {},
};
