/** Thicknesses in notes and names of layers. Seen forms are from public drawings, the others from memory of the trade. */

import { describe, expect, it } from 'vitest';
import { layerThicknessesMm, readThickness, thicknessesMm } from '../../src/trace/notes/thickness.js';
import { thicknessNotes } from '../../src/trace/notes/thicknessNotes.js';
import { textOf } from './plans.js';

const readIn = (unit: 'mm' | 'in') => (text: string) =>
  readThickness(text).flatMap((r) => [[thicknessesMm(r, unit)[0], r.of, r.sure]]);

describe('thickness notes', () => {
  // The inch is 25.4 mm; 8" and 7-5/8" are written so in public drawings (zero feet are left out).
  it.each([
    ['200 THK', 200, 'unknown', true],
    ['8" THK. CONC. WALL', 203.2, 'wall', true],
    ['8" CONC. WALL', 203.2, 'wall', true],
    ['8"CONC.WALL', 203.2, 'wall', true],
    ['8” WALL', 203.2, 'wall', true],
    ['8½" CONC WALL', 215.9, 'wall', true],
    ['7-5/8" CONC. FDN. WALL', 193.675, 'wall', true],
    ['1\'-0" CONC WALL', 304.8, 'wall', true],
    ['t=250', 250, 'unknown', true],
    ['t = 25 cm', 250, 'unknown', true],
    ['d=24', 240, 'unknown', true],
    ['d = 24 cm', 240, 'unknown', true],
    ['W200', 200, 'wall', false],
    ['200mm RC WALL', 200, 'wall', true],
    ['200MMTHKRCWALL', 200, 'wall', true],
    ['CONC. WALL 200', 200, 'wall', true],
    ['250 THICK REINFORCED CONCRETE RETAINING WALL', 250, 'wall', true],
    ['Kellerwand 30 cm', 300, 'wall', true],
    ['Stb.-Wand 24 cm', 240, 'wall', true],
    ['mur ép. 20', 200, 'wall', true],
    ['voile BA 20 cm', 200, 'wall', true],
    ['muro de hormigón e=0.25', 250, 'wall', true],
    ['parete sp. 30', 300, 'wall', true],
    ['ściana gr. 24 cm', 240, 'wall', true],
    ['25cm', 250, 'unknown', false],
    ['8"', 203.2, 'unknown', false],
    ['10" FDN WALL ON 20"x10" FTG', 254, 'wall', true],
    ['200 THK RC WALL ON 300 THK RAFT', 200, 'wall', true],
  ])('%s is %d', (text, mm, of, sure) => {
    expect(readIn('mm')(text)).toEqual([[mm, of, sure]]);
  });

  it('reads a bare number in inches in a drawing in inches', () => {
    expect(readIn('in')('8 THK CONC WALL')).toEqual([[203.2, 'wall', true]]);
  });

  it.each([
    '8" CMU WALL',
    '4" THK SLAB',
    '10" THK. FOOTING',
    '6" THICKENED SLAB',
    '3/8" THK PLATE',
    '5/8" DRYWALL',
    '100mm INSULATION',
    "8' HIGH WALL",
    "8' WALL",
    '200 x 300',
    'W200x46',
    'W101',
    'W12',
    '1:50',
    'M 1:100',
    'DOOR 8"',
    '12" x 24" CONC. FTG',
    '2x4 WALL',
    'WALL 1',
    'WALL TYPE 200',
    'WALL 1/S3',
    '10.03.2024',
    'R-12',
    'S-201',
    'A6',
    '#5 @ 12" O.C. IN WALL',
    'HA12 e=20',
    'ø10 s=150',
    // Texts of the house plan (data of others).
    'SHEAR PANELS, 3/8" OSB MIN. W/ 6" EDGE & 12" FIELD NAILING OR DIAG. WALL BRACING 1x4 @ 45° TO 60° LET IN BRACING',
    '5/8" TYPE "X" GYP. BD. ON CEILING',
    'INTERIOR WALL STUDS @ 16" O.C. INTERIOR NON BEARING HEADERS TO BE DBL. 2"x4" FLAT.',
    "10'11 x 12'",
    '18" MIN. RAISED',
  ])('%s gives none', (text) => {
    expect(readThickness(text)).toEqual([]);
  });
});

describe('thickness in the name of a layer', () => {
  it.each([
    ['A-WALL-200', [200]],
    ['S-WALL-8IN', [203.2]],
    ['8IN-WALL', [203.2]],
    ['S-FNDN-WALL-250', [250]],
    ['WALL200', [200]],
    ['plan$0$200mm WALL', [200]],
    ['WAND_24CM', [240]],
    ['Wand d=24', [240]],
    ['MUR20', [200]],
    ['S-WALL-0.25', [250]],
    ['S-WALL-12', [304.8, 120]],
    ['plan-08$0$A-WALL', []],
    ['WALL-01', []],
    ['A-WALL-2', []],
    ['A-WALL-1HR', []],
    ['C-WALL-2019', []],
    ['A-WALL-FULL-DIMS-N', []],
    ['S-FNDN-FTNG-200', []],
    ['S-WALL-200-250', []],
  ])('%s: %j', (name, mm) => {
    expect(layerThicknessesMm(name)).toEqual(mm);
  });
});

describe('thickness notes at their places', () => {
  const note = { ...textOf('200 THK RC WALL', 0.2), at: { x: 5, y: 7 } };
  const leader = {
    source: 'L',
    layer: 'A',
    points: [
      { x: 1, y: 2 },
      { x: 4.9, y: 7 },
    ],
    text: null,
  };

  it('stand at the tip of their leader, else where they are written, in mm', () => {
    expect(thicknessNotes([note], [leader], 'm')).toMatchObject([
      { at: { x: 1000, y: 2000 }, thicknessMm: 200, text: '200 THK RC WALL', source: 'T', sure: true, orMm: [] },
    ]);
    expect(thicknessNotes([note], [], 'm')).toMatchObject([{ at: { x: 5000, y: 7000 } }]);
  });

  it('do not depend on the order of the texts', () => {
    const other = { ...textOf('250 THK', 0.2), source: 'U', at: { x: 4.8, y: 6.5 } };
    expect(thicknessNotes([other, note], [leader], 'm')).toEqual(thicknessNotes([note, other], [leader], 'm'));
    expect(thicknessNotes([note, other], [leader], 'm').map((n) => n.at)).toEqual([
      { x: 4800, y: 6500 },
      { x: 1000, y: 2000 },
    ]);
  });

  it('follow the text that a leader names', () => {
    const other = { ...textOf('250 THK', 0.2), source: 'U', at: { x: 50, y: 50 } };
    const named = { ...leader, text: 'U' };
    expect(thicknessNotes([note, other], [named], 'm').map((n) => [n.text, n.at.x])).toEqual([
      ['200 THK RC WALL', 5000],
      ['250 THK', 1000],
    ]);
  });
});
