/** Openings in notes. The call sizes are texts of the house plan among the sample drawings; "UK Sturz 2.10" and "Brüstung 90" in code that draws Swiss plans; the other forms are from memory of the trade. */

import { describe, expect, it } from 'vitest';
import type { LengthUnit } from '../../src/ground/units.js';
import { openingNotes } from '../../src/trace/notes/openingNotes.js';
import { readOpening } from '../../src/trace/notes/openings.js';
import { textOf } from './plans.js';

const noted = (text: string, unit: LengthUnit) => openingNotes([textOf(text, 1)], [], unit);

describe('openings in notes', () => {
  it.each([
    ['OPENING 900x2100', 'mm', 'opening', 900, 2100],
    ['3\'-0" x 6\'-8" DOOR', 'in', 'door', 914.4, 2032],
    ['DOOR 3\'-0"x6\'-8"', 'in', 'door', 914.4, 2032],
    ['R.O. 3\'-2" x 6\'-10"', 'in', 'opening', 965.2, 2082.8],
    ['Tür 88⁵/2.13⁵', 'cm', 'door', 885, 2135],
    ['Fenster 1,01/1,26', 'cm', 'window', 1010, 1260],
    ['2668', 'in', null, 762, 2032],
    ['3068', 'in', null, 914.4, 2032],
    ['5050 XO', 'in', 'window', 1524, 1524],
    ['2050 SH', 'in', 'window', 609.6, 1524],
    ['16070 O.H. DOOR', 'in', 'door', 4876.8, 2133.6],
    ['6068 S.G.D.', 'in', 'door', 1828.8, 2032],
  ] as const)('%s in a drawing in %s', (text, unit, kind, widthMm, heightMm) => {
    const [note] = noted(text, unit);
    expect(note!.kind).toBe(kind);
    expect(note!.widthMm).toBeCloseTo(widthMm, 6);
    expect(note!.heightMm).toBeCloseTo(heightMm, 6);
  });

  it.each([
    ['SILL EL. 1.20', 'm', 1200, 'level', null, null],
    ['SILL HT 900', 'mm', 900, 'height', null, null],
    ['SILL @ 3\'-0" A.F.F.', 'in', 914.4, 'height', null, null],
    ['BRH 90', 'cm', 900, 'height', null, null],
    ['BR.H. 87⁵', 'cm', 875, 'height', null, null],
    ['UK Sturz 2.10', 'm', null, null, 2100, 'height'],
    ['Brüstung 90', 'cm', 900, 'height', null, null],
    ['allège 90', 'cm', 900, 'height', null, null],
    ['HEAD 2.10', 'm', null, null, 2100, 'height'],
    ['UK Sturz +2.26', 'm', null, null, 2260, 'level'],
    ['SILL EL. -0.90 HEAD EL. +0.30', 'm', -900, 'level', 300, 'level'],
  ] as const)('%s in a drawing in %s', (text, unit, sillMm, sillIs, headMm, headIs) => {
    expect(noted(text, unit)).toMatchObject([{ sillMm, sillIs, headMm, headIs }]);
  });

  it('takes a bare call size only in a drawing in inches or feet', () => {
    expect(noted('2668', 'mm')).toEqual([]);
  });

  it.each([
    "10'11 x 12'",
    '22x30 ATTIC ACCESS',
    'MIN. 22"x 30" ATTIC ACCESS',
    'BEAM POCKET 8x10',
    'GRID 3068',
    '2024',
    '1:50',
    'DOOR',
    'DOOR 1',
    'HEADER 2x10',
    '16" x 8" FOOTING',
    'PROVIDE 20 MIN. DOOR\nW/ SELF CLOSING HINGES',
  ])('%s gives none', (text) => {
    expect(readOpening(text)).toBeNull();
  });
});
