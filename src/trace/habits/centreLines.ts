/** Lines that are axes of walls: those on the layers that the job file names, and single lines of a plan that is drawn in single lines. */

import { distance } from '../../ground/plane.js';
import type { DrawingPath } from '../../ground/vocabulary.js';
import { USUAL_MOST_MM } from '../limits.js';
import { buildLines } from '../lines.js';
import type { ThicknessNote } from '../notes/thicknessNotes.js';
import type { LocalFrame } from '../segments.js';
import { partnersOf, withoutPartner } from './partners.js';
import type { StraightPart } from './parts.js';
import { agreedMm, notesOf, type Thickness, type ThicknessSources, thicknessOfPart } from './thickness.js';

export interface ThickPart {
  readonly part: StraightPart;
  readonly thickness: Thickness;
  /** A text at the line that says something else than what was taken. */
  readonly against: ThicknessNote | null;
}

export interface CentreParts {
  readonly thick: readonly ThickPart[];
  /** Axes whose thickness nothing tells. */
  readonly unknown: readonly StraightPart[];
}

export const thicknessSources = (
  parts: readonly StraightPart[],
  jobMm: number | null,
  notes: readonly ThicknessNote[],
  frame: LocalFrame,
): ThicknessSources => ({
  jobMm,
  ownNotes: notesOf(parts, notes, frame),
  agreedMm: agreedMm(notes),
  mmPer: frame.mmPer,
});

/** Gives each axis its thickness; a piece that nothing speaks of takes that of the nearest other piece of its line. */
export const giveThickness = (parts: readonly StraightPart[], sources: ThicknessSources): CentreParts => {
  const known = new Map<StraightPart, Thickness>();
  for (const part of parts) {
    const t = thicknessOfPart(part, sources);
    if (t) known.set(part, t);
  }
  if (known.size > 0 && known.size < parts.length) {
    for (const line of buildLines(parts).lines) {
      const pieces = line.pieces.map((p) => ({ ...p, part: p.segment as StraightPart }));
      const told = pieces.filter((p) => known.has(p.part));
      for (const p of pieces) {
        if (known.has(p.part) || told.length === 0) continue;
        const away = (q: (typeof told)[number]) => Math.max(q.a - p.b, p.a - q.b);
        const nearest = told.reduce((best, q) => (away(q) < away(best) ? q : best));
        known.set(p.part, known.get(nearest.part)!);
      }
    }
  }
  const thick = parts.flatMap((part): ThickPart[] => {
    const thickness = known.get(part);
    if (!thickness) return [];
    const own = sources.ownNotes.get(part);
    const against = own && Math.abs(own.thicknessMm - thickness.thicknessMm) > 1 ? own : null;
    return [{ part, thickness, against }];
  });
  return { thick, unknown: parts.filter((p) => !known.has(p)) };
};

export interface SingleLines {
  /** Lines without another beside them. */
  readonly single: readonly StraightPart[];
  /** They make up nearly all of the linework: the plan is drawn in single lines. */
  readonly rule: boolean;
}

/** In a plan of single lines no more than this share of the length has another line beside it. *Practice, no source.* */
const PAIRED_MOST = 0.25;

export const findSingles = (parts: readonly StraightPart[]): SingleLines => {
  const found = parts.length === 0 ? null : partnersOf(parts, USUAL_MOST_MM);
  if (found === null) return { single: [], rule: false };
  const alone = withoutPartner(found);
  const single = parts.filter((p) => alone.has(p));
  const lengthOf = (list: readonly StraightPart[]) => list.reduce((sum, p) => sum + distance(p.a, p.b), 0);
  return { single, rule: lengthOf(single) >= (1 - PAIRED_MOST) * lengthOf(parts) };
};

/** Paths of the parts, each path once. */
export const pathsOf = (parts: readonly StraightPart[]): Set<DrawingPath> => new Set(parts.map((p) => p.path));
