/** Sheets of our own invention, one for each thing that a fixture or a law is to show. All names in them are invented. */

import type { Mark, Point, Sheet } from './sheet.js';

const p = (x: number, y: number): Point => ({ x, y });
const outline = (layer: string, ...points: readonly [number, number][]): Mark => ({
  kind: 'outline',
  layer,
  points: points.map(([x, y]) => p(x, y)),
});
const line = (layer: string, a: readonly [number, number], b: readonly [number, number]): Mark => ({
  kind: 'line',
  layer,
  from: p(...a),
  to: p(...b),
});
const text = (layer: string, x: number, y: number, height: number, words: string): Mark => ({
  kind: 'text',
  layer,
  at: p(x, y),
  height,
  text: words,
});

/** A dimension drawn by hand: a line with ticks and its figure. */
const dimension = (
  layer: string,
  a: readonly [number, number],
  b: readonly [number, number],
  words: string,
): Mark[] => {
  const tick = ([x, y]: readonly [number, number]): Mark => line(layer, [x - 60, y - 60], [x + 60, y + 60]);
  const middle: [number, number] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  return [line(layer, a, b), tick(a), tick(b), text(layer, middle[0] - 250, middle[1] + 60, 180, words)];
};

const WALL = 'S-FNDN-WALL';
const DIMS = 'S-ANNO-DIMS';
const NOTE = 'S-ANNO-NOTE';
const FOOTING = 'S-FNDN-FTNG';

/** An L-shaped house, 200 walls in mm: an outer ring, two rooms parted by a wall with a tee at either end, and a garden wall that stands alone. */
export const cornerHouse: Sheet = {
  version: 'AC1015',
  unitCode: 4,
  layers: [
    { name: WALL, color: 2 },
    { name: FOOTING, color: 8 },
    { name: DIMS, color: 3 },
    { name: NOTE, color: 7 },
  ],
  marks: [
    outline(WALL, [0, 0], [9000, 0], [9000, 4200], [5400, 4200], [5400, 7200], [0, 7200]),
    outline(WALL, [200, 200], [3000, 200], [3000, 7000], [200, 7000]),
    outline(WALL, [3200, 200], [8800, 200], [8800, 4000], [5200, 4000], [5200, 7000], [3200, 7000]),
    outline(WALL, [1000, -2600], [5000, -2600], [5000, -2400], [1000, -2400]),
    outline(FOOTING, [-250, -250], [9250, -250], [9250, 4450], [5650, 4450], [5650, 7450], [-250, 7450]),
    ...dimension(DIMS, [0, -1000], [9000, -1000], '9000'),
    ...dimension(DIMS, [-1000, 0], [-1000, 7200], '7200'),
    ...dimension(DIMS, [0, 8000], [3000, 8000], '3000'),
    text(NOTE, 0, -4000, 350, 'HOUSE AT THE CORNER OF ELDERWICK LANE'),
    text(NOTE, 0, -4600, 250, 'FOUNDATION WALLS, ALL 200 THICK UNLESS NOTED'),
    text(NOTE, 1000, -2200, 180, 'GARDEN WALL'),
  ],
};

/** Two lines a face: a plain rectangular cellar in inches, 8" walls, drawn as single lines that meet at the corners, R12. */
export const inchCellar: Sheet = {
  version: 'AC1009',
  unitCode: 1,
  layers: [
    { name: 'WALL-BELOW', color: 1 },
    { name: 'NOTES', color: 7 },
  ],
  marks: [
    line('WALL-BELOW', [0, 0], [288, 0]),
    line('WALL-BELOW', [288, 0], [288, 192]),
    line('WALL-BELOW', [288, 192], [0, 192]),
    line('WALL-BELOW', [0, 192], [0, 0]),
    line('WALL-BELOW', [8, 8], [280, 8]),
    line('WALL-BELOW', [280, 8], [280, 184]),
    line('WALL-BELOW', [280, 184], [8, 184]),
    line('WALL-BELOW', [8, 184], [8, 8]),
    text('NOTES', 0, -40, 12, 'CELLAR AT MARLOW CORNER'),
    text('NOTES', 0, -60, 8, '24\'-0" x 16\'-0"'),
  ],
};

/** Nothing but notes and furniture: no wall to be found. */
export const noWalls: Sheet = {
  version: 'AC1015',
  unitCode: 4,
  layers: [{ name: NOTE, color: 7 }],
  marks: [
    text(NOTE, 0, 0, 250, 'GENERAL NOTES'),
    text(NOTE, 0, -400, 180, 'ALL CONCRETE AS SPECIFIED'),
    line(NOTE, [0, -100], [4000, -100]),
  ],
};

/** One wall that stands alone, `lengthMm` x `thicknessMm`, as a closed outline in mm. */
export const loneWall = (lengthMm: number, thicknessMm: number): Sheet => ({
  version: 'AC1015',
  unitCode: 4,
  layers: [{ name: WALL, color: 2 }],
  marks: [outline(WALL, [0, 0], [lengthMm, 0], [lengthMm, thicknessMm], [0, thicknessMm])],
});

/** A garden wall and a note: the least drawing that can be laid out. */
export const gardenWall: Sheet = {
  ...loneWall(3000, 200),
  layers: [...loneWall(3000, 200).layers, { name: NOTE, color: 7 }],
  marks: [...loneWall(3000, 200).marks, text(NOTE, 0, -800, 180, 'GARDEN WALL, ELDERWICK LANE')],
};

/** Two walls of 200 that turn into each other by 45 degrees: a corner that takes hinged units. */
export const halfTurn: Sheet = (() => {
  const thick = 200;
  const arm = 4000 * Math.SQRT1_2;
  const side = thick * Math.SQRT1_2;
  return {
    ...loneWall(4000, thick),
    marks: [
      outline(
        WALL,
        [0, 0],
        [4000, 0],
        [4000 + arm, arm],
        [4000 + arm - side, arm + side],
        [4000 - thick * Math.tan(Math.PI / 8), thick],
        [0, thick],
      ),
    ],
  };
})();

/** A pump house of one room with walls of 200: pilasters inside, outside, on both faces of one wall, and one deeper than 250. */
export const pumpHouse: Sheet = {
  ...loneWall(6000, 200),
  marks: [
    outline(
      WALL,
      [0, 0],
      [2800, 0],
      [2800, -120],
      [3200, -120],
      [3200, 0],
      [6000, 0],
      [6000, 1800],
      [6100, 1800],
      [6100, 2200],
      [6000, 2200],
      [6000, 4000],
      [3265, 4000],
      [3265, 4300],
      [2865, 4300],
      [2865, 4000],
      [0, 4000],
    ),
    outline(
      WALL,
      [200, 200],
      [5800, 200],
      [5800, 1800],
      [5700, 1800],
      [5700, 2200],
      [5800, 2200],
      [5800, 3800],
      [200, 3800],
      [200, 2387],
      [293, 2387],
      [293, 2000],
      [200, 2000],
    ),
  ],
};

/** A wall of 200 that goes on as one of 300, flush on one side. */
export const thicker: Sheet = {
  ...loneWall(6000, 200),
  marks: [outline(WALL, [0, 0], [6000, 0], [6000, 300], [3000, 300], [3000, 200], [0, 200])],
};

/** The same where a wall of 200 comes to the change of thickness from the other side, which is not laid out. */
export const thickerAtTee: Sheet = {
  ...loneWall(6000, 200),
  marks: [
    outline(
      WALL,
      [0, 0],
      [2900, 0],
      [2900, -3000],
      [3100, -3000],
      [3100, 0],
      [6000, 0],
      [6000, 300],
      [3000, 300],
      [3000, 200],
      [0, 200],
    ),
  ],
};

/** A cellar of one room with walls of 250 and a break for barrows in one of them; the header names no unit and nothing says what the break is. */
export const weirStore: Sheet = {
  version: 'AC1015',
  unitCode: null,
  layers: [
    { name: WALL, color: 2 },
    { name: NOTE, color: 7 },
  ],
  marks: [
    outline(
      WALL,
      [2400, 0],
      [0, 0],
      [0, 4000],
      [6000, 4000],
      [6000, 0],
      [3500, 0],
      [3500, 250],
      [5750, 250],
      [5750, 3750],
      [250, 3750],
      [250, 250],
      [2400, 250],
    ),
    text(NOTE, 0, -900, 250, 'STORE BY THE WEIR, CELLAR'),
    text(NOTE, 600, 2000, 180, 'BARROWS IN FROM THE YARD'),
  ],
};

/** The corner house with levels, a step, a note of bars and a section beside it. */
export const notedHouse: Sheet = {
  ...cornerHouse,
  marks: [
    ...cornerHouse.marks,
    text(NOTE, 1200, -2900, 180, 'T.O.W. +1.200'),
    text(NOTE, 300, -600, 180, 'T.O.W. +2.350'),
    text(NOTE, 6000, -500, 180, 'T.O.W. +2.350'),
    text(NOTE, 300, 7500, 180, 'T/FTG -0.300'),
    text(NOTE, 9400, 2000, 180, 'STEP FTG 300'),
    text(NOTE, 4000, -500, 180, 'T16-200 EF'),
    text(NOTE, 20000, -500, 250, 'SECTION A-A'),
    line(WALL, [20000, 200], [20000, 2600]),
    line(WALL, [20200, 200], [20200, 2600]),
    line(NOTE, [20000, 0], [22000, 0]),
  ],
};

/** A store of two rooms on a slope and a boundary wall below it: the footing of the long walls rises twice, that of the boundary wall once, and so does its top. */
export const hillsideStore: Sheet = {
  version: 'AC1015',
  unitCode: 4,
  layers: [
    { name: WALL, color: 2 },
    { name: NOTE, color: 7 },
  ],
  marks: [
    outline(WALL, [0, 0], [11250, 0], [11250, 5200], [0, 5200]),
    outline(WALL, [250, 250], [7000, 250], [7000, 4950], [250, 4950]),
    outline(WALL, [7250, 250], [11000, 250], [11000, 4950], [7250, 4950]),
    outline(WALL, [0, -3000], [7400, -3000], [7400, -2800], [0, -2800]),
    text(NOTE, 0, -4400, 350, 'STORE AT QUARRY BANK, WALLS 250, BOUNDARY WALL 200'),
  ],
};

/** A house with a low rear wall and a garage on its frost wall: the garage's walls meet the house's as stems, the rear wall at two corners. */
export const garageHouse: Sheet = {
  version: 'AC1015',
  unitCode: 4,
  layers: [
    { name: WALL, color: 2 },
    { name: NOTE, color: 7 },
  ],
  marks: [
    outline(WALL, [0, 0], [6000, 0], [6000, 800], [9600, 800], [9600, 4300], [6000, 4300], [6000, 5200], [0, 5200]),
    outline(WALL, [250, 250], [5750, 250], [5750, 4950], [250, 4950]),
    outline(WALL, [6000, 1000], [9400, 1000], [9400, 4100], [6000, 4100]),
    text(NOTE, 0, -1200, 350, 'HOUSE WITH GARAGE AT MILL RISE, WALLS 250, FROST WALL 200'),
  ],
};
