/**
 * The blocks of aligners, braces and platforms, told apart by their lines. In plan x runs along the face from left to right as seen from outside, y into the
 * concrete; insertion point on the contact face. Aligner: a narrow bar behind the frames. Brace: a bar from the aligner to a crossed foot plate. Platform:
 * the edges of its floor, a line for each bracket, a double edge where a guard stands, rungs where the ladder leads up.
 */

import type { Vec } from '../../ground/plane.js';
import { ALIGNER_OUT_MM, FLOOR_OUT_MM, FLOOR_THICK_MM, FOOT_PLATE_MM, TUBE_MM } from '../../ground/siteSizes.js';
import { line, rectangle, type Shape } from './sheet.js';

const at = (x: number, y: number): Vec => ({ x, y });

/** Width of an aligner as drawn in plan. */
export const ALIGNER_MM = 24;
const GUARD_MM = 35;
const LADDER_MM = [200, 400] as const;

/** A horizontal aligner as long as it is. */
export const alignerShapes = (lengthMm: number, depthMm: number): Shape[] => {
  const [low, high] = [-depthMm - ALIGNER_OUT_MM - ALIGNER_MM / 2, -depthMm - ALIGNER_OUT_MM + ALIGNER_MM / 2];
  return [rectangle(null, -lengthMm / 2, low, lengthMm / 2, high)];
};

/** A vertical one from above: a crossed square. */
export const uprightShapes = (depthMm: number): Shape[] => {
  const half = ALIGNER_MM;
  const y = -depthMm - ALIGNER_OUT_MM;
  return [
    rectangle(null, -half, y - half, half, y + half),
    line(null, at(-half, y - half), at(half, y + half)),
    line(null, at(-half, y + half), at(half, y - half)),
  ];
};

const SHAFT_MM = 22;

/** From the aligner to the foot. */
export const braceShapes = (headMm: number, footMm: number): Shape[] => {
  const [w, d] = FOOT_PLATE_MM;
  return [
    ...[-SHAFT_MM, SHAFT_MM].map((x) => line(null, at(x, -headMm), at(x, -footMm + d))),
    rectangle(null, -w, -footMm - d, w, -footMm + d),
    line(null, at(-w, -footMm - d), at(w, -footMm + d)),
    line(null, at(-w, -footMm + d), at(w, -footMm - d)),
  ];
};

/** Two places, the left one first. */
export const inOrderSeen = (places: readonly number[]): readonly [number, number] => [
  Math.min(...places),
  Math.max(...places),
];

export interface PlatformDrawing {
  readonly lengthMm: number;
  readonly depthMm: number;
  readonly widthMm: number;
  /** From its middle, left to right as seen. */
  readonly bracketsMm: readonly number[];
  /** Left and right as seen. */
  readonly endRails: readonly [boolean, boolean];
  /** Ends of the guard along the floor, from the floor's middle, left first as seen. */
  readonly guardMm: readonly [number, number];
  readonly ladderMm: number | null;
}

export const platformShapes = (p: PlatformDrawing): Shape[] => {
  const half = p.lengthMm / 2;
  const inner = -p.depthMm - FLOOR_OUT_MM;
  const outer = inner - p.widthMm;
  const guard = outer - GUARD_MM;
  const ends = p.endRails.flatMap((is, i) => {
    const x = i === 0 ? -half : half;
    const beyond = i === 0 ? x - GUARD_MM : x + GUARD_MM;
    return is ? [line(null, at(beyond, inner), at(beyond, guard))] : [];
  });
  const [l, r] = [p.endRails[0] ? -half - GUARD_MM : p.guardMm[0], p.endRails[1] ? half + GUARD_MM : p.guardMm[1]];
  return [
    rectangle(null, -half, outer, half, inner),
    ...p.bracketsMm.map((x) => line(null, at(x, -p.depthMm), at(x, outer))),
    line(null, at(l, guard), at(r, guard)),
    ...ends,
    ...(p.ladderMm === null ? [] : ladder(p.ladderMm, guard)),
  ];
};

const ladder = (x: number, fromMm: number): Shape[] => {
  const [w, d] = LADDER_MM;
  return [
    rectangle(null, x - w, fromMm - d, x + w, fromMm),
    ...[1, 2, 3].map((k) => line(null, at(x - w, fromMm - (k * d) / 4), at(x + w, fromMm - (k * d) / 4))),
  ];
};

/** As an aligner is drawn in elevation. */
const BAR_MM = TUBE_MM;

/** A tube in elevation from its middle (lying) or its foot (standing): two lines and its ends. */
export const barShapes = (lengthMm: number, isUpright: boolean): Shape[] =>
  isUpright
    ? [rectangle(null, -BAR_MM / 2, 0, BAR_MM / 2, lengthMm)]
    : [rectangle(null, -lengthMm / 2, -BAR_MM / 2, lengthMm / 2, BAR_MM / 2)];

/** Height of a brace's head in elevation. */
export const HEAD_MM = 70;

/** Head of a brace in elevation: a filled triangle under the aligner, its tip at the middle of that. */
export const headShapes = (): Shape[] => [
  { type: 'solid', layer: null, about: [], corners: [at(0, 0), at(-HEAD_MM / 2, -HEAD_MM), at(HEAD_MM / 2, -HEAD_MM)] },
];

export interface PlatformElevation {
  readonly lengthMm: number;
  readonly bracketsMm: readonly number[];
  /** How far brackets reach down. */
  readonly deepMm: number;
  readonly rails: { readonly topMm: number; readonly midMm: number | null; readonly toeMm: number };
  readonly endRails: readonly [boolean, boolean];
  /** As in plan. */
  readonly guardMm: readonly [number, number];
  readonly ladderMm: number | null;
}

const FLOOR_MM = FLOOR_THICK_MM;

/** A platform in elevation from the middle of its floor: floor, brackets down, posts and rails up. */
export const platformElevationShapes = (p: PlatformElevation): Shape[] => {
  const half = p.lengthMm / 2;
  const { topMm, midMm, toeMm } = p.rails;
  const rails = [toeMm, ...(midMm === null ? [] : [midMm]), topMm];
  return [
    rectangle(null, -half, -FLOOR_MM, half, 0),
    ...rails.map((y) => line(null, at(p.guardMm[0], y), at(p.guardMm[1], y))),
    ...p.bracketsMm.map((x) => line(null, at(x, -p.deepMm), at(x, topMm))),
    ...p.endRails.flatMap((is, i) =>
      is ? [line(null, at(i === 0 ? -half : half, 0), at(i === 0 ? -half : half, topMm))] : [],
    ),
    ...(p.ladderMm === null ? [] : [rectangle(null, p.ladderMm - 200, -p.deepMm, p.ladderMm + 200, topMm)]),
  ];
};
