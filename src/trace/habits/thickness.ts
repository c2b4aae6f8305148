/** How thick is a wall that is drawn by its axis? From the job file, from a text at it, from its layer's name, from its line's width. */

import { scale, sub, toSegment } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { MM_PER } from '../../ground/units.js';
import { withoutXref } from '../layers.js';
import { USUAL_LEAST_MM, USUAL_MOST_MM } from '../limits.js';
import { layerThicknessesMm } from '../notes/thickness.js';
import type { ThicknessNote } from '../notes/thicknessNotes.js';
import type { LocalFrame } from '../segments.js';
import { isWallThickness } from '../strips.js';
import type { StraightPart } from './parts.js';

export type ThicknessFrom = 'job' | 'text' | 'texts' | 'layer' | 'width';

export interface Thickness {
  readonly thicknessMm: number;
  readonly from: ThicknessFrom;
}

/** A text farther than this from a line does not speak of it. *Practice, no source.* */
const NOTE_REACH_MM = 1500;

/** A mere size or mark, without a word on thickness, counts no farther than this. *Practice, no source.* */
const MERE_REACH_MM = 600;

/**
 * The thickness in a layer's name, mm: "S-WALL-200", "WALL-8IN", "CL_250". Of a number that can be inches or centimetres the drawing's own
 * system decides. Null when the name gives none for certain.
 */
export const thicknessInName = (layer: string, mmPer: number): number | null => {
  const inches = mmPer === MM_PER.in || mmPer === MM_PER.ft;
  const readings = layerThicknessesMm(layer);
  const isInches = (mm: number) => Math.abs(mm / MM_PER.in - Math.round(mm / MM_PER.in)) < 1e-6;
  if (readings.length > 0) return readings.find((mm) => isInches(mm) === inches) ?? readings[0]!;
  // A layer of centre lines need not be named for walls: a number of three digits in mm is plain there too.
  const numbers = [...withoutXref(layer).matchAll(/(?<![\p{L}\d.,])(\d{3})(?:\s*mm)?(?![\p{L}\d.,])/giu)].map((m) =>
    Number(m[1]),
  );
  const [only, ...more] = numbers.filter((mm) => !inches && mm >= USUAL_LEAST_MM && mm <= USUAL_MOST_MM);
  return only !== undefined && more.length === 0 ? only : null;
};

/** The note that speaks of each part: every note speaks of the part nearest to it, and of several the nearest to the part counts. */
export const notesOf = (
  parts: readonly StraightPart[],
  notes: readonly ThicknessNote[],
  frame: LocalFrame,
): Map<StraightPart, ThicknessNote> => {
  const out = new Map<StraightPart, { note: ThicknessNote; mm: number }>();
  for (const note of notes) {
    const p = sub(note.at, scale(frame.origin, frame.mmPer));
    let nearest: StraightPart | null = null;
    let mm = note.sure ? NOTE_REACH_MM : MERE_REACH_MM;
    for (const part of parts) {
      const here = toSegment(p, part.a, part.b);
      if (here < mm) {
        mm = here;
        nearest = part;
      }
    }
    if (nearest && mm < (out.get(nearest)?.mm ?? Infinity)) out.set(nearest, { note, mm });
  }
  return new Map([...out].map(([part, { note }]) => [part, note]));
};

/** What all notes that speak of thickness agree on, mm; null when they differ or there are none. */
export const agreedMm = (notes: readonly ThicknessNote[]): number | null => {
  const sure = notes.filter((n) => n.sure);
  const first = sure[0]?.thicknessMm;
  return first !== undefined && sure.every((n) => Math.abs(n.thicknessMm - first) <= SAME_POINT_MM) ? first : null;
};

export interface ThicknessSources {
  readonly jobMm: number | null;
  readonly ownNotes: ReadonlyMap<StraightPart, ThicknessNote>;
  readonly agreedMm: number | null;
  readonly mmPer: number;
}

/** The first that speaks, in the order of the heading; null when none does or it is no wall's thickness. */
export const thicknessOfPart = (part: StraightPart, from: ThicknessSources): Thickness | null => {
  const own = from.ownNotes.get(part)?.thicknessMm ?? null;
  const width = part.path.width * from.mmPer;
  const readings: [ThicknessFrom, number | null][] = [
    ['job', from.jobMm],
    ['text', own],
    ['layer', thicknessInName(part.layer, from.mmPer)],
    ['width', width > 0 ? width : null],
    ['texts', from.agreedMm],
  ];
  for (const [name, mm] of readings) if (mm !== null && isWallThickness(mm)) return { thicknessMm: mm, from: name };
  return null;
};
