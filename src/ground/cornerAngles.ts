/**
 * Angles of corners, by the deflection: how far one face turns into the other, 0 for a straight wall, 90 for a square corner; 180 less the interior
 * angle. Which corner units take an angle, and where the rules of the trade change with it (docs/reference/rules.md, T3).
 */

import type { FormUnit } from './vocabulary.js';

/** Corners within this of 90 degrees are square: drawings are not more exact. */
const SQUARE_SLACK_DEG = 0.5;
/** Below this a corner takes no hinge but tapered fill. *Practice, no source.* */
export const BEND_MOST_DEG = 10;
/**
 * Below this the edge of a salient corner counts as held by nothing: the pull in the two lines that would hold it, S cot(d/2) for equal walls, grows
 * without limit as the corner gets flatter.
 */
export const HELD_LEAST_DEG = 45;
/** Beyond this (an interior angle under 60) the strip at the corner is out of a tie's reach. *Practice, no source.* */
export const ACUTE_BEYOND_DEG = 120;

/** Angles that were worked out, not read, agree to this. */
const SAME_DEG = 1e-3;

/** Do walls that turn by this meet in a bend: without a hinge, with tapered fill? */
export const isBend = (deflectionDeg: number): boolean => deflectionDeg < BEND_MOST_DEG;

export const isSquare = (deflectionDeg: number): boolean => Math.abs(deflectionDeg - 90) <= SQUARE_SLACK_DEG;

/** Is a salient edge that turns by this held by the outside corner that stands at it? */
export const holdsEdge = (deflectionDeg: number): boolean => deflectionDeg >= HELD_LEAST_DEG - SAME_DEG;

/** Does a corner unit take this deflection? One without a range is square. */
export const takesDeflection = (unit: FormUnit, deflectionDeg: number): boolean => {
  const range = unit.deflectionDeg;
  if (!range) return unit.kind !== 'hinged-corner' && isSquare(deflectionDeg);
  return deflectionDeg >= range.least - SAME_DEG && deflectionDeg <= range.most + SAME_DEG;
};
