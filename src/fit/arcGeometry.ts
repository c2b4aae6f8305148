/**
 * Plane geometry of forms on a curved wall, mm and radians. Every form is a chord of the inner face's arc and stands alone in a sector between two radial
 * planes; what is between two forms is tapered fill. The outer form of a sector has the same width and is parallel, the wall's thickness away.
 *
 * A sector is at least as wide as keeps the inner frames, of depth d, out of their neighbours': with b = chord radius - d, its half is atan(w / (2 b)). That
 * leaves w d / R between the contact edges of the inner forms, and w t / R more between those of the outer ones (rules of layout, section 5).
 */

import { chordRadiusMm } from '../ground/arcs.js';
import type { Taper } from '../ground/vocabulary.js';

export interface ArcSize {
  readonly innerRadiusMm: number;
  readonly thicknessMm: number;
  readonly depthMm: number;
}

/** Half of the least sector of a form; null where its frame would reach the centre. */
export const halfSectorRad = ({ innerRadiusMm, depthMm }: ArcSize, widthMm: number): number | null => {
  if (widthMm >= 2 * innerRadiusMm) return null;
  const back = chordRadiusMm(innerRadiusMm, widthMm) - depthMm;
  return back > 0 ? Math.atan2(widthMm / 2, back) : null;
};

/** A point by its distance along and square to a form's own radius, which stands at `rad`. */
const point = (rad: number, radiusMm: number, xMm: number): readonly [number, number] => [
  radiusMm * Math.cos(rad) - xMm * Math.sin(rad),
  radiusMm * Math.sin(rad) + xMm * Math.cos(rad),
];

/** The gap between two forms whose radii stand `rad` apart, at one distance from their contact faces (positive: away from the centre). */
const gapMm = ({ innerRadiusMm }: ArcSize, aMm: number, bMm: number, rad: number, outMm: number): number => {
  const [ax, ay] = point(0, chordRadiusMm(innerRadiusMm, aMm) + outMm, aMm / 2);
  const [bx, by] = point(rad, chordRadiusMm(innerRadiusMm, bMm) + outMm, -bMm / 2);
  // Along the bisector of the two forms: overlaps count as less than nothing.
  return (bx - ax) * -Math.sin(rad / 2) + (by - ay) * Math.cos(rad / 2);
};

/** What fills the joint between the radial plane at which a straight wall's forms end and a form whose radius stands `rad` beyond it. */
export const endTapers = (
  size: ArcSize,
  widthMm: number,
  rad: number,
): { readonly inner: Taper; readonly outer: Taper } => {
  const at = (outMm: number): number => {
    const [x, y] = point(rad, chordRadiusMm(size.innerRadiusMm, widthMm) + outMm, -widthMm / 2);
    const plane = size.innerRadiusMm + outMm;
    return Math.max(0, (x - plane) * -Math.sin(rad / 2) + y * Math.cos(rad / 2));
  };
  const { thicknessMm, depthMm } = size;
  return {
    inner: { faceMm: at(0), backMm: at(-depthMm) },
    outer: { faceMm: at(thicknessMm), backMm: at(thicknessMm + depthMm) },
  };
};

/** What fills the joint between two forms, on the inner and on the outer face. */
export const tapersOf = (
  size: ArcSize,
  aMm: number,
  bMm: number,
  rad: number,
): { readonly inner: Taper; readonly outer: Taper } => {
  const { thicknessMm, depthMm } = size;
  const at = (outMm: number) => Math.max(0, gapMm(size, aMm, bMm, rad, outMm));
  return {
    inner: { faceMm: at(0), backMm: at(-depthMm) },
    outer: { faceMm: at(thicknessMm), backMm: at(thicknessMm + depthMm) },
  };
};
