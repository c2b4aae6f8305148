/** Smaller signs of the unit: noted thicknesses, door swings, lengths in twelfths. */

import { distance } from '../ground/plane.js';
import { type LengthUnit, MM_PER } from '../ground/units.js';
import type { DrawingPath, DrawingText } from '../ground/vocabulary.js';
import { readThickness, thicknessesMm } from './notes/thickness.js';

/** A noted thickness agrees with a drawn one within this; notes of 8" for 203 mm are rounded by less. */
const NOTED_WITHIN_MM = 3;
/** Texts that are looked at, and lines. */
const TEXTS_MOST = 2000;
const LINES_MOST = 5000;

/**
 * Share of the thickness notes that agree with a distance at which lines stand, and the first of those; null when none does. Bare numbers
 * ("200 THK") are read as the unit's users write them.
 */
export const notedMatch = (
  texts: readonly DrawingText[],
  commonMm: readonly number[],
  unit: LengthUnit,
): { share: number; text: string } | null => {
  if (commonMm.length === 0) return null;
  const words = [...new Set(texts.map((t) => t.text))].filter((t) => t.length <= 80 && /\d/.test(t)).sort();
  let notes = 0;
  const agreeing: string[] = [];
  for (const text of words.slice(0, TEXTS_MOST)) {
    for (const reading of readThickness(text)) {
      if (!reading.sure) continue;
      notes++;
      const fits = thicknessesMm(reading, unit).some((mm) => commonMm.some((c) => Math.abs(c - mm) <= NOTED_WITHIN_MM));
      if (fits) agreeing.push(reading.raw);
    }
  }
  return agreeing.length > 0 ? { share: agreeing.length / notes, text: agreeing[0]! } : null;
};

/** tan(90 degrees / 4): the bulge of a quarter circle, as a door swings. */
const QUARTER_BULGE = Math.tan(Math.PI / 8);

/** Commonest radius of quarter circles, drawing units: of door swings, if there are at least two; null else. */
export const doorWidth = (paths: readonly DrawingPath[]): number | null => {
  const radii: number[] = [];
  for (const p of paths) {
    const [a, b] = p.vertices;
    if (p.entity !== 'ARC' || p.vertices.length !== 2 || !a || !b) continue;
    if (Math.abs(Math.abs(a.bulge) - QUARTER_BULGE) > 0.02) continue;
    const radius = distance(a, b) / Math.SQRT2;
    if (radius > 0 && Number.isFinite(radius)) radii.push(radius);
  }
  radii.sort((a, b) => a - b);
  return radii.length < 2 ? null : radii[Math.floor(radii.length / 2)]!;
};

/** How near to a whole number of steps a length is, as a share of the step. */
const isWhole = (steps: number): boolean => Math.abs(steps - Math.round(steps)) < 0.002;

/**
 * Share of the lines whose lengths are whole inches but no round decimal numbers: 12.6667 feet, and nothing that anyone draws in metres. Only
 * feet have this sign; 0 for all other units.
 */
export const twelfthsShare = (paths: readonly DrawingPath[], unit: LengthUnit): number => {
  if (unit !== 'ft') return 0;
  let lines = 0;
  let twelfths = 0;
  for (const p of paths) {
    for (let i = 0; i + 1 < p.vertices.length && lines < LINES_MOST; i++) {
      const length = distance(p.vertices[i]!, p.vertices[i + 1]!);
      if (!(length * MM_PER.ft > 50)) continue;
      lines++;
      if (isWhole(length * 12) && !isWhole(length * 200)) twelfths++;
    }
  }
  return lines > 0 ? twelfths / lines : 0;
};
