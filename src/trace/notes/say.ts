/** How findings about notes are worded. */

import type { Vec } from '../../ground/plane.js';
import { fromMm, type LengthUnit, plainNumber } from '../../ground/units.js';

export const levelWords = (mm: number): string => `${plainNumber(mm, 1)} mm`;

/** What the drawing says, on one line, cut where it is long. */
export const quoted = (text: string): string => {
  const line = text.replace(/\s+/g, ' ').trim();
  return `"${line.length > 80 ? `${line.slice(0, 77)}…` : line}"`;
};

export const placeOf = (at: Vec, levelMm = 0): readonly [number, number, number] => [at.x, at.y, levelMm];

/** A point as the job file wants it: in drawing units. */
export const jobPoint = (at: Vec, unit: LengthUnit): string =>
  `[${plainNumber(fromMm(at.x, unit), 3)}, ${plainNumber(fromMm(at.y, unit), 3)}]`;
