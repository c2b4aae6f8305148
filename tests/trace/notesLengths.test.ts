/** Lengths as they stand in notes. 7-5/8", 1'-4", 3'-0 1/2" and 8" are forms seen in public drawings, 13'4 stands in the house plan of the samples; the inch is 25.4 mm. */

import { describe, expect, it } from 'vitest';
import { plainMarks, readLength } from '../../src/trace/lengthText.js';
import { bareLevelMm, measureOf, sizesMm } from '../../src/trace/notes/measure.js';

describe('written lengths', () => {
  it.each([
    ['7-5/8"', 7.625],
    ['1\'-4"', 16],
    ['3\'-0 1/2"', 36.5],
    ['3\'-0½"', 36.5],
    ['8⅝"', 8.625],
    ['¾"', 0.75],
    ['3’–0½”', 36.5],
    ["3'-0''", 36],
    ["13'4", 160],
    ["98.5'", 1182],
    ['2 FT. 6 IN.', 30],
    ['8IN', 8],
    ['8 INCHES', 8],
    ['6\'-101/2"', 82.5],
  ])('%s', (text, inches) => {
    const read = readLength(text)!;
    expect(read.unit).toBe('mm');
    expect(read.values[0]).toBeCloseTo(inches * 25.4, 6);
  });

  it.each([
    ['200mm', 200],
    ['25 cm', 250],
    ['1,20 m', 1200],
    ['1.2M', 1200],
  ])('%s', (text, mm) => {
    expect(readLength(text)!.values[0]).toBeCloseTo(mm, 6);
  });

  it.each(['4x4', 'A6', '1:50', '12.05.2024', '8" CONC', '#5', '1/0"', '(-4\'-0")', '°', ''])('%j is none', (text) => {
    expect(readLength(text)).toBeNull();
  });

  it('have one spelling for each mark', () => {
    expect(plainMarks('⌀12 × 8″ − 3′')).toBe('Ø12 x 8" - 3\'');
    // The reader leaves a stacked fraction as a/b after a blank.
    expect(plainMarks('10 1⁄2"')).toBe('10 1/2"');
  });
});

describe('numbers without a unit', () => {
  it('are levels in metres where they have decimals, in feet in a drawing in inches or feet, else in its unit', () => {
    expect(bareLevelMm(1.2, 2, 'mm')[0]).toBe(1200);
    expect(bareLevelMm(98.5, 2, 'ft')[0]).toBeCloseTo(98.5 * 304.8, 6);
    expect(bareLevelMm(-1200, 0, 'mm')[0]).toBe(-1200);
    expect(bareLevelMm(-1200, 0, 'm')[0]).toBe(-1200);
    expect(bareLevelMm(12, 0, 'm')[0]).toBe(12000);
    expect(bareLevelMm(0, 3, 'ft')).toEqual([0]);
  });

  it('are sizes in what is plausible, the drawing’s unit first', () => {
    const size = (text: string, unit: 'mm' | 'cm' | 'm' | 'in') => sizesMm(measureOf(text)!, unit, 75, 1200);
    expect(size('200', 'mm')).toEqual([200]);
    expect(size('24', 'mm')).toEqual([240]);
    expect(size('24', 'cm')).toEqual([240]);
    expect(size('0.25', 'mm')).toEqual([250]);
    expect(size('36,5', 'cm')).toEqual([365]);
    expect(size('8', 'in')).toEqual([203.2, 80]);
    expect(size('5000', 'mm')).toEqual([]);
  });
});
