/**
 * Hatches that tell materials apart in black and white: HATCH entities that carry the lines of their pattern with them, so that every program shows the same.
 * Group codes: DXF reference, HATCH, boundary path data and pattern data.
 */

import type { Vec } from '../../ground/plane.js';
import type { HatchShape, Shape } from './sheet.js';

export type HatchPattern = HatchShape['pattern'];

/** HATCH came with R14; before that the other lines of a sign must do. */
export const hasHatches = (version: string): boolean => version >= 'AC1014';

export const forVersion = (version: string, shapes: readonly Shape[]): readonly Shape[] =>
  hasHatches(version) ? shapes : shapes.filter((s) => s.type !== 'hatch');

/** One family of parallel lines of a pattern; lengths in terms of the hatch's spacing. */
export interface PatternLine {
  readonly angleDeg: number;
  /** From one line to the next. */
  readonly offset: Vec;
  /** Strokes (positive) and gaps (negative); none: unbroken. */
  readonly dashes: readonly number[];
}

const HALF = Math.SQRT1_2;

/** Steel: close lines at 45 degrees. Wood: broken lines upright, as its grain runs. */
export const PATTERNS: Readonly<
  Record<HatchPattern, { readonly name: string; readonly lines: readonly PatternLine[] }>
> = {
  steel: {
    name: 'SHUTTERWRIGHT-STEEL',
    lines: [{ angleDeg: 45, offset: { x: -HALF, y: HALF }, dashes: [] }],
  },
  wood: {
    name: 'SHUTTERWRIGHT-WOOD',
    lines: [{ angleDeg: 90, offset: { x: -1, y: 2.5 }, dashes: [4, -1] }],
  },
};

/** Thinnest of what is plotted, 1/100 mm: the outline and what is written over it stay clear. */
export const HATCH_WEIGHT = 13;

export const hatched = (pattern: HatchPattern, paths: readonly (readonly Vec[])[], spacingMm: number): HatchShape => ({
  type: 'hatch',
  layer: null,
  about: [],
  pattern,
  paths,
  spacingMm,
});
