/** What an entity looks like before it is placed: outlines in the entity's own coordinates. */

import type { Knot } from '../curves.js';
import type { Matrix } from '../matrix.js';

export interface Outline {
  readonly knots: readonly Knot[];
  readonly closed: boolean;
  /** From the entity's coordinates to those in which it stands. */
  readonly frame: Matrix;
  /** The curve was turned into chords (ELLIPSE, SPLINE): the true curve is not in the outline. */
  readonly chords: boolean;
  /** The one width in which it is drawn; 0 for a thin line, null where it tapers or has several widths. */
  readonly width: number | null;
  /** Line type where it is not the entity's (elements of an MLINE). */
  readonly lineType: string | null;
}

export const outline = (
  knots: readonly Knot[],
  closed: boolean,
  frame: Matrix,
  more: Partial<Pick<Outline, 'chords' | 'width' | 'lineType'>> = {},
): Outline => ({
  knots,
  closed,
  frame,
  chords: more.chords ?? false,
  width: more.width === undefined ? 0 : more.width,
  lineType: more.lineType ?? null,
});

/** Two places that differ by less than this part of their size are the same: beyond what written decimals lose. *Practice, no source.* */
const SAME = 1e-9;

export const samePlace = (a: Knot, b: Knot): boolean =>
  Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z) <=
  SAME * Math.max(1, Math.abs(a.x), Math.abs(a.y), Math.abs(b.x), Math.abs(b.y));

export const radians = (degrees: number): number => (degrees * Math.PI) / 180;
