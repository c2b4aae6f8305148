/**
 * Levels as plans note them. T.O. WALL, TOW, TOS, T.O.FTG ELEV, T/FTG, T/PLINTH -1' - 8", T.O.W. EL. and B.O.W. EL. (heads of a schedule of foundation walls), TOP OF
 * FOOTING EL … UNLESS INDICATED OTHERWISE and … U.N.O. are seen in public drawings and in code that reads or draws them, as is the dropping of blanks by exports; the
 * other forms are from memory of the trade. The foot is 304.8 mm.
 */

import { describe, expect, it } from 'vitest';
import { levelCandidatesMm, readLevels } from '../../src/trace/notes/levels.js';

const likeliest = (text: string, unit: 'mm' | 'cm' | 'm' | 'in' | 'ft' = 'mm') =>
  readLevels(text).map((r) => [r.of, levelCandidatesMm(r, unit)[0]]);

describe('levels in notes', () => {
  it.each([
    ['T.O.W. EL. +1.20', 'wall-top', 1200],
    ['TOP OF WALL RL 12.450', 'wall-top', 12450],
    ['TOP OF FOOTING R.L. 9.900', 'footing-top', 9900],
    // A place after '@' is no spacing.
    ['T.O.W. EL. 98\'-6" @ GARAGE', 'wall-top', 98.5 * 304.8],
    ['T.O.W.EL.+1.20', 'wall-top', 1200],
    ['T.O.W.-1.20', 'wall-top', -1200],
    ['TOW +2.400', 'wall-top', 2400],
    ['T/W = 101\'-4 1/2"', 'wall-top', 30899.1],
    ['T/WALL 2.40', 'wall-top', 2400],
    ['TW 101.50', 'wall-top', 101500],
    ['T.O. WALL = +1.20', 'wall-top', 1200],
    ['TOP OF WALL EL. 100\'-0"', 'wall-top', 30480],
    ['TOP OF CONC. WALL ELEV. 104\'-0"', 'wall-top', 31699.2],
    ['T.O.FDN. WALL EL. 8\'-1"', 'wall-top', 2463.8],
    ['T.O.W.\nEL. 98\'-6"', 'wall-top', 30022.8],
    ['98\'-6" T.O.W.', 'wall-top', 30022.8],
    ['OK Wand +2,40 m', 'wall-top', 2400],
    ['Arase sup. mur +2.40', 'wall-top', 2400],
    ['coronación muro +2.50', 'wall-top', 2500],
    ['bovenkant wand +2400', 'wall-top', 2400],
    ['ÖK mur +12,35', 'wall-top', 12350],
    ['T.O.C. +0.15', 'concrete-top', 150],
    ['TOP OF FOUNDATION EL. 99\'-4"', 'concrete-top', 30276.8],
    ['T/FTG -4\'-0"', 'footing-top', -1219.2],
    ['T/FTG (-4\'-0")', 'footing-top', -1219.2],
    ['T/ FTG. ELEV. = -2\'-8"', 'footing-top', -812.8],
    ['T.O.FTG ELEV -1.20', 'footing-top', -1200],
    ['T.O.F. -1.20', 'footing-top', -1200],
    ['TOF -1200', 'footing-top', -1200],
    ['TOPOFFOOTINGEL.-0.30', 'footing-top', -300],
    ["TOP OF FTG. = 95.50'", 'footing-top', 29108.4],
    ['TOP OF WALL FOOTING 96\'-0"', 'footing-top', 29260.8],
    ['OK Fundament -1,25', 'footing-top', -1250],
    ['Fundament OK -0,80', 'footing-top', -800],
    ['OK Bodenplatte -2.80', 'footing-top', -2800],
    ['OK BoPl. -2,60', 'footing-top', -2600],
    // RL, the reduced level of Commonwealth drawings.
    ['TOP OF WALL RL 12.450', 'wall-top', 12450],
    ['TOP OF FOOTING R.L. 9.900', 'footing-top', 9900],
    ['dessus semelle -0.80', 'footing-top', -800],
    ['estradosso fondazione -0.90', 'footing-top', -900],
    ['cota superior zapata -0.60', 'footing-top', -600],
    ['wierzch ławy -0.80', 'footing-top', -800],
    ['верх фундамента -0,300', 'footing-top', -300],
    ['b.k. fundering 800-P', 'footing-top', -800],
    ['TOP OF FOOTING EL -1\'-0" UNLESS INDICATED OTHERWISE', 'footing-top', -304.8],
    ['6. TOP OF FOOTING EL. 97\'-0" U.N.O.', 'footing-top', 29565.6],
    ['B.O.W. EL. -1.20', 'wall-bottom', -1200],
    ['T/PLINTH -1\' - 8"', 'other', -508],
    ['B/FTG -1.50', 'footing-bottom', -1500],
    ['B.O.F. EL. -1.50', 'footing-bottom', -1500],
    ['BOTTOM OF FOOTING = 94\'-8"', 'footing-bottom', 28854.4],
    ['U/S FTG 94.50', 'footing-bottom', 94500],
    ['UK Fundament -1,75', 'footing-bottom', -1750],
    ['arase inf. semelle -1.20', 'footing-bottom', -1200],
    ['N.F.Z. -1.50', 'footing-bottom', -1500],
    ['FFL +0.000', 'floor', 0],
    ['FF EL. 100\'-0"', 'floor', 30480],
    ['SSL 12.350', 'floor', 12350],
    ['SFL -0.15', 'floor', -150],
    ['N.P.T. +0.15', 'floor', 150],
    ['OKFF ±0.00', 'floor', 0],
    ['OKRD +2,75', 'floor', 2750],
    ['EL. 98\'-6"', 'unknown', 30022.8],
    ['+0.000', 'unknown', 0],
    ['±0.00', 'unknown', 0],
    ['-1.250', 'unknown', -1250],
    ['−1.250', 'unknown', -1250],
    ['(-4\'-0")', 'unknown', -1219.2],
    ['NGF 42.35', 'unknown', 42350],
    ['T.O. STEEL EL. 112\'-0"', 'other', 34137.6],
    ['T.O. BRICK LEDGE 99\'-4"', 'other', 30276.8],
    ['INV. EL. 95.20', 'other', 95200],
    ['BW 98.20', 'unknown', 98200],
  ])('%s: %s at %d', (text, of, mm) => {
    const [[gotOf, gotMm] = []] = likeliest(text);
    expect(gotOf).toBe(of);
    expect(gotMm).toBeCloseTo(mm, 6);
    expect(readLevels(text)).toHaveLength(1);
  });

  it.each(['o.k. fundering -800', 'O.K. poer -800', 'onderkant fundering -800'])(
    '%s is Dutch: its bottom, though OK is the top in German',
    (text) => {
      expect(likeliest(text)).toEqual([['footing-bottom', -800]]);
    },
  );

  it('does not choose between the two languages for a wall', () => {
    expect(likeliest('o.k. wand +2.40')).toEqual([['unknown', 2400]]);
    expect(likeliest('OK Wand +2.40')).toEqual([['wall-top', 2400]]);
  });

  it.each([
    'T.O.W. EL. +1.20 / T.O.F. EL. -0.30',
    'T.O.W. EL. +1.20\nT.O.F. EL. -0.30',
    'T.O.W.EL.+1.20T.O.F.EL.-0.30',
    '+1.20 T.O.W.\n-0.30 T.O.F.',
  ])('reads both levels of %j', (text) => {
    expect(likeliest(text)).toEqual([
      ['wall-top', 1200],
      ['footing-top', -300],
    ]);
  });

  it('reads bare numbers by the habits of the drawing, metres first where they have decimals', () => {
    expect(likeliest('T.O.W. 98.50', 'in')[0]![1]).toBeCloseTo(98.5 * 304.8, 6);
    expect(likeliest('T.O.W. 98.50', 'm')[0]![1]).toBe(98500);
    expect(likeliest('T.O.W. +12', 'm')[0]![1]).toBe(12000);
    expect(likeliest('T.O.W. -120', 'cm')[0]![1]).toBe(-1200);
    expect(likeliest('T.O.W. -120', 'mm')[0]![1]).toBe(-120);
    expect(levelCandidatesMm(readLevels('T.O.W. -120')[0]!, 'cm')).toEqual([-1200, -120]);
  });

  it('takes a dash with blanks round it for a minus, or a mere dash', () => {
    expect(levelCandidatesMm(readLevels('T.O.F. - 1.20')[0]!, 'm')).toEqual([-1200, 1200]);
    // No building has its wall's top 98 feet below its datum.
    expect(levelCandidatesMm(readLevels('T.O.W. - 98\'-6"')[0]!, 'in')).toEqual([30022.8]);
  });

  it('tells what is said of all, what is above the sea, and what is measured from something else', () => {
    expect(readLevels('ALL FOOTINGS T.O.F. -1.200 U.N.O.')).toMatchObject([{ of: 'footing-top', general: true }]);
    expect(readLevels('TOP OF ALL FOOTINGS EL. 96\'-0"')).toMatchObject([{ of: 'footing-top', general: true }]);
    expect(readLevels('+123.45 m ü. NN')).toMatchObject([{ survey: true }]);
    expect(readLevels('+1.20')).toMatchObject([{ survey: false, general: false, relative: false }]);
    for (const text of ['B.O.F. 42" BELOW GRADE', 'TOP OF FOOTING 12" BELOW T.O.W.', 'TOP OF WALL 8" MIN. ABOVE GRADE'])
      expect(readLevels(text)).toMatchObject([{ relative: true }]);
  });

  it.each([
    'T.O.W. VARIES',
    'T.O.W. 8"',
    'T.O.W. 2',
    'TOP OF WALL SEE 3/S-201',
    'TOP OF FOOTING 2\'-0" WIDE',
    'DOWEL TO WALL 12',
    'TOWER +1.20',
    'LEVEL 2',
    'ELEVATION 3',
    'ELEVATION A',
    '1/2" NPT',
    '4" CONC. SLAB - 3000 PSI',
    'SLAB - 150 THK',
    '3\'-0"',
    '1200',
    '2.40',
    '200 THK',
    '+5/-5',
    '-01',
    '-2%',
    '-5°',
    'R-12',
    'S-101',
    'A-1.250',
    'B2',
    '1:50',
    '12.05.2024',
    '2024-05-12',
    '+49 89 1234567',
    '#5 @ 12"',
    'STEP DN 2\'-0"',
    '900x2100',
  ])('%s gives none', (text) => {
    expect(readLevels(text)).toEqual([]);
  });

  it('is not slowed down by a text made to slow it', () => {
    for (const text of [
      'T.O.'.repeat(800),
      'TOP OF '.repeat(400),
      '1 - 1/'.repeat(500),
      '('.repeat(3000),
      'K'.repeat(3000),
    ])
      expect(readLevels(text)).toEqual([]);
  }, 5000);
});
