/**
 * Where two walls in one line end against each other with faces out of line: a change of thickness, or a wall that jogs sideways. On each side the
 * face that stands out ends in a salient edge, and a return runs back from it to the other face.
 */

import { dot, type Vec } from '../ground/plane.js';
import type { Side, WallSide } from '../ground/vocabulary.js';
import type { JointShape } from './corners.js';
import { bySense, pointOf } from './model.js';
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

/** One arm of a vertex at a jog, by segment. */
export interface JogArm {
  readonly segment: number;
  readonly side: WallSide;
  /** null: the station at which the segment's face on this side stops; else across from the left. */
  readonly acrossMm: number | null;
  readonly direction: 1 | -1;
  /** Ending of the return's id; null on the long faces. */
  readonly ending: string | null;
}

export interface JogVertex {
  readonly at: Vec;
  readonly kind: 're-entrant' | 'salient';
  /** The long face first, then the return. */
  readonly arms: readonly [JogArm, JogArm];
}

/** The two vertices of each return at a joint: its salient edge, and the corner that it makes with the face that stands back. */
export const jogVertices = (cut: Cut, joint: JointShape): JogVertex[] =>
  joint.ends.flatMap(({ segment, end }): JogVertex[] => {
    const jog = jogAt(cut, joint, segment);
    const { bar } = cut.segments[segment]!;
    return returnsOf(jog, bar.thicknessMm, end).flatMap((r): JogVertex[] => {
      const other = joint.ends.find((e) => e.segment === jog!.other)!;
      const beside = cut.segments[other.segment]!.bar;
      const alongMm = dot(joint.at, bar.direction.u);
      const sign = r.side === 'left' ? 1 : -1;
      const side: WallSide = end === 'lo' ? 'start' : 'end';
      const outerFirst = r.side === 'left';
      const across = (acrossMm: number, direction: 1 | -1): JogArm => ({
        segment,
        side,
        acrossMm,
        direction,
        ending: r.ending,
      });
      const face = (of: number, ofEnd: 'lo' | 'hi'): JogArm => ({
        segment: of,
        side: r.side,
        acrossMm: null,
        direction: bySense(ofEnd) === 1 ? -1 : 1,
        ending: null,
      });
      const [outer, inner] = outerFirst ? [r.fromMm, r.toMm] : [r.toMm, r.fromMm];
      return [
        {
          at: pointOf(bar, alongMm, (sign * bar.thicknessMm) / 2),
          kind: 'salient',
          arms: [face(segment, end), across(outer, outerFirst ? 1 : -1)],
        },
        {
          at: pointOf(beside, alongMm, (sign * beside.thicknessMm) / 2),
          kind: 're-entrant',
          arms: [face(other.segment, other.end), across(inner, outerFirst ? -1 : 1)],
        },
      ];
    });
  });
