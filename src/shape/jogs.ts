/**
 * Where two walls in one line end against each other with faces out of line: a change of thickness, or a wall that jogs sideways. On each side the
 * face that stands out ends in a salient edge, and a return runs back from it to the other face.
 */

import type { Side } from '../ground/vocabulary.js';
import type { JointShape } from './corners.js';
import type { Cut } from './segments.js';

export interface Jog {
  /** The other segment. */
  readonly other: number;
  /** How far this wall's face stands out beyond the other's, mm; negative: stands back. */
  readonly leftOutMm: number;
  readonly rightOutMm: number;
}

/** The jog at which a segment ends; null at any other joint. */
export const jogAt = (cut: Cut, joint: JointShape, segment: number): Jog | null => {
  const own = joint.ends.find((e) => e.segment === segment);
  const other = joint.ends.find((e) => e.segment !== segment);
  if (own?.role !== 'jog' || !other) return null;
  const [a, b] = [cut.segments[segment]!.bar, cut.segments[other.segment]!.bar];
  const apartMm = a.offsetMm - b.offsetMm;
  const thickerMm = (a.thicknessMm - b.thicknessMm) / 2;
  const clean = (mm: number): number => Math.round(mm * 1e6) / 1e6 + 0;
  return { other: other.segment, leftOutMm: clean(thickerMm + apartMm), rightOutMm: clean(thickerMm - apartMm) };
};

/** A return as a face across the wall that stands out. */
export interface Return {
  readonly side: Side;
  /** Ending of its id: 'S' or 'E', with a letter for the side where there are two. */
  readonly ending: string;
  /** Across the wall from the left. */
  readonly fromMm: number;
  readonly toMm: number;
}

export const returnsOf = (jog: Jog | null, thicknessMm: number, end: 'lo' | 'hi'): Return[] => {
  if (!jog) return [];
  const letter = end === 'lo' ? 'S' : 'E';
  const two = jog.leftOutMm > 0 && jog.rightOutMm > 0;
  const left: Return = { side: 'left', ending: `${letter}${two ? 'L' : ''}`, fromMm: 0, toMm: jog.leftOutMm };
  const right: Return = {
    side: 'right',
    ending: `${letter}${two ? 'R' : ''}`,
    fromMm: thicknessMm - jog.rightOutMm,
    toMm: thicknessMm,
  };
  return [left, right].filter((r) => r.toMm > r.fromMm);
};
