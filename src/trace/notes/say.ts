/** How findings about notes are worded. */

import { compareFindings, type Finding } from '../../ground/findings.js';
import type { Vec } from '../../ground/plane.js';
import { fromMm, type LengthUnit, plainNumber } from '../../ground/units.js';
import { listed } from '../listed.js';
import { isSheetNote } from './parts.js';

export const levelWords = (mm: number): string => `${plainNumber(mm, 1)} mm`;

/** A note as it is written, on one line; of a whole sheet's notes only the words that were read. */
export const asWritten = (text: string, raw: string): string =>
  (isSheetNote(text) ? raw : text).replace(/\s+/g, ' ').trim();

/** What the drawing says, on one line, cut where it is long. */
export const quoted = (text: string): string => {
  const line = text.replace(/\s+/g, ' ').trim();
  return `"${line.length > 80 ? `${line.slice(0, 77)}…` : line}"`;
};

export const placeOf = (at: Vec, levelMm = 0): readonly [number, number, number] => [at.x, at.y, levelMm];

/** A point as the job file wants it: in drawing units. */
export const jobPoint = (at: Vec, unit: LengthUnit): string =>
  `[${plainNumber(fromMm(at.x, unit), 3)}, ${plainNumber(fromMm(at.y, unit), 3)}]`;

/** The first of each kind by place, and how many more there are. */
export const notesListed = (findings: readonly Finding[]): Finding[] =>
  listed(
    [...findings].sort(compareFindings),
    (count) => `${count} more of this kind are not listed one by one; look through the notes of the drawing.`,
  );
