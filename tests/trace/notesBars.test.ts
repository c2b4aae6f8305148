/** Reinforcement as plans note it. "#4 BARS @ 12" OC EA WAY T&B" is seen in public drawings, the other forms are from memory of the trade. */

import { describe, expect, it } from 'vitest';
import { US_BAR_MM } from '../../src/trace/notes/barSizes.js';
import { readBars } from '../../src/trace/notes/bars.js';

describe('bars in notes', () => {
  // Diameters: ASTM A615 (#3 to #8 in eighths of an inch), CSA for 10M …; spacings in inches of 25.4 mm.
  it.each([
    ['#5 @ 12" O.C.', 15.875, 304.8, null, null],
    ['#5@12"O.C.', 15.875, 304.8, null, null],
    ['#5@12 EW', 15.875, 304.8, 'both', null],
    ['#4 @ 1\'-4"', 12.7, 406.4, null, null],
    ['#5 VERT @ 16"', 15.875, 406.4, 'vertical', null],
    ['VERT. #5 @ 12" I.F.', 15.875, 304.8, 'vertical', 'inside'],
    ['#4 HORIZ. @ 12" O.C. O.F.', 12.7, 304.8, 'horizontal', 'outside'],
    ['NO. 5 BARS @ 12" EACH FACE', 15.875, 304.8, null, 'each'],
    ['(2) #5 CONT', 15.875, null, 'horizontal', null],
    ['#16 @ 300', 15.875, 300, null, null],
    ['15M @ 300', 16, 300, null, null],
    ['10M@12" VERT', 11.3, 304.8, 'vertical', null],
    ['2-15M CONT', 16, null, 'horizontal', null],
    ['T16-200', 16, 200, null, null],
    ['T12-200 EF', 12, 200, null, 'each'],
    ['12T16-01-200', 16, 200, null, null],
    ['H12@150', 12, 150, null, null],
    ['N16-200', 16, 200, null, null],
    ['Y12-300', 12, 300, null, null],
    ['D13@200', 13, 200, null, null],
    ['K12c150', 12, 150, null, null],
    ['Ø12/15', 12, 150, null, null],
    ['Ø12/150', 12, 150, null, null],
    ['ø10 s=150', 10, 150, null, null],
    ['⌀12 c150', 12, 150, null, null],
    ['Ø12 c/20', 12, 200, null, null],
    ['HA12 e=20', 12, 200, null, null],
    ['#12 co 15 cm', 12, 150, null, null],
    ['ø12 A500C шаг 200', 12, 200, null, null],
    ['4Ø12', 12, null, null, null],
  ])('%s', (text, diameterMm, spacingMm, direction, faces) => {
    expect(readBars(text)).toMatchObject([{ diameterMm, spacingMm, direction, faces }]);
  });

  it('reads several, each with its own words', () => {
    expect(readBars('#5 VERT. @ 16" O.C. E.F.\n#4 HORIZ. @ 12" O.C.')).toMatchObject([
      { diameterMm: 15.875, spacingMm: 406.4, direction: 'vertical', faces: 'each' },
      { diameterMm: 12.7, spacingMm: 304.8, direction: 'horizontal', faces: null },
    ]);
  });

  it.each(['#4 BARS @ 12" OC EA WAY T&B', '#4 BARS@12"OCEA WAYT&B'])(
    '%s lies in no wall: it has a top and a bottom',
    (text) => {
      expect(readBars(text)).toMatchObject([{ diameterMm: 12.7, spacingMm: 304.8, direction: 'both', of: 'other' }]);
    },
  );

  it('says what the bars lie in, and how many', () => {
    expect(readBars('CONT. FTG W/ (2) #5 CONT')).toMatchObject([{ count: 2, of: 'other' }]);
    expect(readBars('8" CONC. WALL W/ #5 @ 12"')).toMatchObject([{ count: null, of: 'wall' }]);
  });

  it('has the sizes of ASTM A615: eighths of an inch up to #8', () => {
    for (const size of [3, 4, 5, 6, 7, 8]) expect(US_BAR_MM[size]).toBeCloseTo((size * 25.4) / 8, 9);
  });

  it.each([
    'R-12',
    'S-101',
    'B12-203',
    'A12-200',
    'T1-200',
    'GRID B12',
    'Ø100',
    'Ø16',
    'M16 @ 600',
    '15 M',
    '3.15M',
    '#4',
    'NO. 5',
    '#57 STONE',
    '#8 SCREWS @ 12" O.C.',
    '(2) #10 SCREWS',
    '#8 x 3" SCREWS',
    '5/8" A.B. @ 4\'-0" O.C.',
    '(2) 1/2"x10" A-B BETWEEN',
    '1x4 @ 45° TO 60°',
    'INTERIOR WALL STUDS @ 16" O.C.',
    'C25/30',
    '1:50',
    '12.05.2024',
    '200 THK',
    '+0.000',
  ])('%s gives none', (text) => {
    expect(readBars(text)).toEqual([]);
  });
});
