/** What a viewport shows: tags of its view, from R2000 on its own, before that as extended data. */

import type { Tag } from '../../ground/tags.js';
import { plainNumber } from '../../ground/units.js';

const DECIMALS = 10;

const tag = (code: number, value: string | number): Tag => ({ code, value: String(value) });

/** Bits of group 90 of a viewport: always on, fast zoom, UCS icon shown and at its origin; the scale is locked. */
const VIEW_FLAGS = 32768 + 128 + 64 + 32 + 16384;

/** What a viewport shows, from R2000 on: the plan, seen from above. Group codes and their order: DXF reference, VIEWPORT. */
export const viewTags = (x: number, y: number, height: number): Tag[] => {
  const pair = (code: number, a: number, b: number): Tag[] => [
    tag(code, plainNumber(a, DECIMALS)),
    tag(code + 10, plainNumber(b, DECIMALS)),
  ];
  const triple = (code: number, a: number, b: number, c: number): Tag[] => [...pair(code, a, b), tag(code + 20, c)];
  return [
    ...pair(12, x, y),
    ...pair(13, 0, 0),
    ...pair(14, 10, 10),
    ...pair(15, 10, 10),
    ...triple(16, 0, 0, 1),
    ...triple(17, 0, 0, 0),
    tag(42, 50),
    tag(43, 0),
    tag(44, 0),
    tag(45, plainNumber(height, DECIMALS)),
    tag(50, 0),
    tag(51, 0),
    tag(72, 1000),
    tag(90, VIEW_FLAGS),
    tag(1, ''),
    tag(281, 0),
    tag(71, 1),
    tag(74, 0),
    ...triple(110, 0, 0, 0),
    ...triple(111, 1, 0, 0),
    ...triple(112, 0, 1, 0),
    tag(79, 0),
    tag(146, 0),
  ];
};

/** The same before R2000: as extended data of the program that made the format (DXF reference of R12 to R14, VIEWPORT). */
export const viewData = (x: number, y: number, height: number): Tag[] => {
  const vector = (a: number, b: number, c: number): Tag[] => [tag(1010, a), tag(1020, b), tag(1030, c)];
  const reals = (...values: number[]): Tag[] => values.map((v) => tag(1040, plainNumber(v, DECIMALS)));
  const integers = (...values: number[]): Tag[] => values.map((v) => tag(1070, v));
  return [
    tag(1001, 'ACAD'),
    tag(1000, 'MVIEW'),
    tag(1002, '{'),
    ...integers(16),
    ...vector(0, 0, 0),
    ...vector(0, 0, 1),
    // Twist, height, centre, lens, clipping planes before and behind.
    ...reals(0, height, x, y, 50, 0, 0),
    // View mode, circle zoom, fast zoom, UCS icon, snap, grid, style and pair of the snap.
    ...integers(0, 1000, 1, 1, 0, 0, 0, 0),
    // Snap: angle, base, spacing; grid: spacing.
    ...reals(0, 0, 0, 10, 10, 10, 10),
    ...integers(0),
    tag(1002, '{'),
    tag(1002, '}'),
    tag(1002, '}'),
  ];
};
