/** Where a special form is drawn in plan: a hatched band along the face, with room for its words beside it. */

import { facePoint, wallDirection } from './arcs.js';
import { add, leftOf, scale, type Vec } from './plane.js';
import { plainNumber } from './units.js';
import type { FacePlan, SpecialForm } from './vocabulary.js';

/** Depth of the band, and spacing of its strokes: both are signs, no size of a frame. */
const DEPTH_MM = 300;
const STROKE_MM = 300;
/** The words stand this far from the face. */
const WORDS_MM = 520;
/** Curves are drawn as this many chords. */
const CHORDS = 24;

export interface SpecialOutline {
  readonly ring: readonly Vec[];
  readonly strokes: readonly (readonly [Vec, Vec])[];
  /** Middle of the words and the direction in which they are read, along the wall; the middle of each line. */
  readonly at: Vec;
  readonly along: Vec;
  readonly lines: readonly { readonly words: string; readonly at: Vec }[];
}

/** Along the wall, from left to right or upwards. */
const readingAlong = (along: Vec): Vec => {
  const isTurned = Math.abs(along.x) < 1e-9 ? along.y < 0 : along.x < 0;
  return isTurned ? scale(along, -1) : along;
};

/** Null where the plan has no such face. `textMm`: height of the words. */
export const specialOutline = (plan: FacePlan, form: SpecialForm, textMm: number): SpecialOutline | null => {
  const wall = plan.walls.find((w) => w.id === form.wall);
  const side = plan.faces.find((f) => f.id === form.face)?.side;
  if (!wall || (side !== 'left' && side !== 'right') || form.toMm <= form.fromMm) return null;
  const { fromMm, toMm } = form;
  const lengthMm = toMm - fromMm;
  const pieces = wall.arc ? CHORDS : 1;
  const stations = Array.from({ length: pieces + 1 }, (_, i) => fromMm + (lengthMm * i) / pieces);
  const at = (stationMm: number, beyondMm: number) => facePoint(wall, side, stationMm, beyondMm);
  const inner = stations.map((s) => at(s, 0));
  const outer = stations.map((s) => at(s, DEPTH_MM)).reverse();
  const count = Math.max(1, Math.floor(lengthMm / STROKE_MM));
  const pitch = lengthMm / count;
  const strokes = Array.from(
    { length: count },
    (_, i) => [at(fromMm + pitch * i, 0), at(fromMm + pitch * (i + 1), DEPTH_MM)] as const,
  );
  const middle = (fromMm + toMm) / 2;
  const force = `${plainNumber(form.forceKnPerM, 1)} kN/m AT ${plainNumber(form.armM, 2)} m`;
  const along = readingAlong(wallDirection(wall, middle));
  const centre = at(middle, WORDS_MM);
  const lines = [`SPECIAL FORM ${form.face}, BY DESIGN`, `NO TIES, ${force}`].map((words, i) => ({
    words,
    at: add(centre, scale(leftOf(along), (0.5 - i) * 1.5 * textMm)),
  }));
  return { ring: [...inner, ...outer], strokes, at: centre, along, lines };
};
