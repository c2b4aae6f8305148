/** Openings that a drawing notes, at their places. */

import type { Vec } from '../../ground/plane.js';
import { type LengthUnit, roundTo } from '../../ground/units.js';
import type { DrawingLeader, DrawingText } from '../../ground/vocabulary.js';
import { isImperial, levelsMm, type Measure, sizesMm } from './measure.js';
import { type OpeningHeight, readOpening } from './openings.js';
import { isSheetNote } from './parts.js';
import { placeTexts } from './places.js';

export interface OpeningNote {
  /** The leader's tip, or where the text stands; mm. */
  readonly at: Vec;
  readonly kind: 'door' | 'window' | 'opening' | null;
  readonly widthMm: number | null;
  readonly heightMm: number | null;
  /** Underside and top of the opening; `sillIs` and `headIs` tell whether the number is a level or a height above the floor. */
  readonly sillMm: number | null;
  readonly sillIs: 'level' | 'height' | null;
  readonly headMm: number | null;
  readonly headIs: 'level' | 'height' | null;
  /** As it is written. */
  readonly text: string;
  readonly source: string;
}

/** Sizes of openings and heights of sills and heads that are believed, mm. *Practice, no source.* */
const SIZE_LEAST_MM = 150;
const SIZE_MOST_MM = 12000;
const HEIGHT_MOST_MM = 6000;

const sizeOf = (measure: Measure | null, unit: LengthUnit): number | null =>
  measure === null ? null : (sizesMm(measure, unit, SIZE_LEAST_MM, SIZE_MOST_MM)[0] ?? null);

const heightOf = (height: OpeningHeight | null, unit: LengthUnit): number | null => {
  if (height === null) return null;
  const mm =
    height.is === 'level' ? levelsMm(height.measure, unit)[0] : sizesMm(height.measure, unit, 0, HEIGHT_MOST_MM)[0];
  return mm === undefined ? null : roundTo(height.sign * mm, 6);
};

/**
 * The openings noted.
 *
 * @param texts visible ones inside the chosen view, drawing units
 * @param unit of the drawing; bare numbers are read by it. Bare call sizes (2668) count only in a drawing in inches or feet
 * @returns sorted by where the texts stand, then by what they say
 */
export const openingNotes = (
  texts: readonly DrawingText[],
  leaders: readonly DrawingLeader[],
  unit: LengthUnit,
): readonly OpeningNote[] =>
  placeTexts(texts, leaders, unit).flatMap((t) => {
    // A whole sheet's general notes speak of no single opening.
    const reading = isSheetNote(t.text) ? null : readOpening(t.text);
    if (!reading || (reading.call && !isImperial(unit))) return [];
    const widthMm = sizeOf(reading.width, unit);
    const heightMm = sizeOf(reading.height, unit);
    const sillMm = heightOf(reading.sill, unit);
    const headMm = heightOf(reading.head, unit);
    if (widthMm === null && heightMm === null && sillMm === null && headMm === null) return [];
    return t.at.map((at) => ({
      at,
      kind: reading.kind,
      widthMm,
      heightMm,
      sillMm,
      sillIs: sillMm === null ? null : reading.sill!.is,
      headMm,
      headIs: headMm === null ? null : reading.head!.is,
      text: t.text,
      source: t.source,
    }));
  });
