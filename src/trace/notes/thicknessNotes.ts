/** Thicknesses that a drawing notes, at their places: for walls that are drawn as centre lines. */

import type { Vec } from '../../ground/plane.js';
import type { LengthUnit } from '../../ground/units.js';
import type { DrawingLeader, DrawingText } from '../../ground/vocabulary.js';
import { readAll } from './parts.js';
import { placeTexts } from './places.js';
import { readThickness, thicknessesMm } from './thickness.js';

export interface ThicknessNote {
  /** The leader's tip, or where the text stands; mm. */
  readonly at: Vec;
  readonly thicknessMm: number;
  /** As it is written. */
  readonly text: string;
  readonly source: string;
  /** It says that it is a thickness; else it is a mere size or mark, that counts only beside a line that wants one. */
  readonly sure: boolean;
  /** Other thicknesses that a number without a unit could mean, mm. */
  readonly orMm: readonly number[];
}

/**
 * The thicknesses noted.
 *
 * @param texts visible ones inside the chosen view, drawing units
 * @param unit of the drawing; bare numbers are read by it
 * @returns sorted by where the texts stand, then by what they say
 */
export const thicknessNotes = (
  texts: readonly DrawingText[],
  leaders: readonly DrawingLeader[],
  unit: LengthUnit,
): readonly ThicknessNote[] =>
  placeTexts(texts, leaders, unit).flatMap((t) =>
    readAll(t.text, readThickness).flatMap((reading) => {
      const [thicknessMm, ...orMm] = thicknessesMm(reading, unit);
      if (thicknessMm === undefined) return [];
      return t.at.map((at) => ({ at, thicknessMm, text: t.text, source: t.source, sure: reading.sure, orMm }));
    }),
  );
