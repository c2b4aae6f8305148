/**
 * Bodies of clamps, aligners, braces and platforms. Own axes as those of units: x along the face from left to right as seen from outside, y into the
 * concrete, z up; the origin lies on the contact face. Simple bodies of true length, width and place: what the catalogue does not tell of a section is taken
 * from ground/siteSizes.ts.
 */

import {
  ALIGNER_OUT_MM,
  CLAMP_JAW_MM,
  FLOOR_OUT_MM,
  FLOOR_THICK_MM,
  FOOT_PLATE_MM,
  TUBE_MM,
} from '../../ground/siteSizes.js';
import { ORIGIN } from '../../ground/space.js';
import type { RailHeights, Vec3 } from '../../ground/vocabulary.js';
import type { AnyBody, Placed } from './shapes.js';

/** A box between two corners. */
const block = (from: Vec3, to: Vec3): Placed => ({
  body: { kind: 'box', widthMm: to.x - from.x, depthMm: to.y - from.y, heightMm: to.z - from.z },
  at: { x: from.x, y: to.y, z: from.z },
});

const ALONG: Vec3 = { x: 1, y: 0, z: 0 };
const OUTWARD: Vec3 = { x: 0, y: -1, z: 0 };

/** Thickness and height of a clamp. */
const CLAMP_MM = [22, 60] as const;

/** Behind the frames across its gap; `isLevel`: over a horizontal joint. Its middle is the origin's. */
export const clampBody = (gapMm: number, depthMm: number, isLevel: boolean): AnyBody => {
  const long = gapMm / 2 + CLAMP_JAW_MM;
  const [thick, wide] = CLAMP_MM;
  const [x, z] = isLevel ? [wide / 2, long] : [long, wide / 2];
  return { kind: 'parts', parts: [block({ x: -x, y: -depthMm - thick, z: -z }, { x, y: -depthMm, z })] };
};

/** A tube along the face from its middle, or upright from its foot. */
export const alignerBody = (lengthMm: number, depthMm: number, isUpright: boolean): AnyBody => {
  const body = { kind: 'rod', radiusMm: TUBE_MM / 2, heightMm: lengthMm } as const;
  const y = -depthMm - ALIGNER_OUT_MM;
  return {
    kind: 'parts',
    parts: [
      isUpright
        ? { body, at: { x: 0, y, z: 0 } }
        : { body, at: { x: -lengthMm / 2, y, z: 0 }, z: ALONG, x: { x: 0, y: 0, z: -1 } },
    ],
  };
};

const PLATE_THICK_MM = 8;

/** A tube from the foot, whose level is the origin's, up to the aligner, and its foot plate. */
export const braceBody = (headOutMm: number, footOutMm: number, riseMm: number): AnyBody => {
  const foot = { x: 0, y: -footOutMm, z: 0 };
  const lengthMm = Math.hypot(footOutMm - headOutMm, riseMm);
  const axis = { x: 0, y: (footOutMm - headOutMm) / lengthMm, z: riseMm / lengthMm };
  const radiusMm = TUBE_MM / 2;
  // So far up its axis that the square end clears the ground.
  const clearMm = (radiusMm * Math.abs(axis.y)) / axis.z;
  const at = { x: 0, y: foot.y + clearMm * axis.y, z: clearMm * axis.z };
  const [halfWide, halfDeep] = FOOT_PLATE_MM;
  return {
    kind: 'parts',
    parts: [
      { body: { kind: 'rod', radiusMm, heightMm: lengthMm - clearMm }, at, z: axis, x: ALONG },
      block({ x: -halfWide, y: foot.y - halfDeep, z: 0 }, { x: halfWide, y: foot.y + halfDeep, z: PLATE_THICK_MM }),
    ],
  };
};

export interface FloorSizes {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly depthMm: number;
  readonly rails: RailHeights;
  /** From its middle. */
  readonly postsMm: readonly number[];
  /** At its left and its right as seen. */
  readonly endRails: readonly [boolean, boolean];
  /** Ends of the guard along the floor, left first. */
  readonly guardMm: readonly [number, number];
}

const innerOf = ({ depthMm }: Pick<FloorSizes, 'depthMm'>): number => depthMm + FLOOR_OUT_MM;

/** From the middle of its length; its upper side lies at the origin's level. */
export const floorBody = (f: FloorSizes): AnyBody => {
  const half = f.lengthMm / 2;
  const inner = innerOf(f);
  return {
    kind: 'parts',
    parts: [block({ x: -half, y: -inner - f.widthMm, z: -FLOOR_THICK_MM }, { x: half, y: -inner, z: 0 })],
  };
};

const BRACKET_THICK_MM = 50;

/** A triangle under the floor, hung on the backs of the frames; the origin's level is the floor's. */
export const bracketBody = (widthMm: number, heightMm: number, depthMm: number): AnyBody => {
  const outer = depthMm + FLOOR_OUT_MM + widthMm;
  const outline = [
    { x: depthMm, y: FLOOR_THICK_MM },
    { x: outer, y: FLOOR_THICK_MM },
    { x: depthMm, y: heightMm },
  ];
  // Own x of the triangle outwards, own y downwards.
  const body = { kind: 'prism', outline, heightMm: BRACKET_THICK_MM } as const;
  return { kind: 'parts', parts: [{ body, at: { ...ORIGIN, x: -BRACKET_THICK_MM / 2 }, z: ALONG, x: OUTWARD }] };
};

const RAIL_MM = [30, 40] as const;
const POST_MM = 40;

/** Toe board, rails and posts along the outer edge of a floor and across its ends. */
export const guardBody = (f: FloorSizes): AnyBody => {
  const half = f.lengthMm / 2;
  const inner = -innerOf(f);
  const outer = inner - f.widthMm;
  const [thick, high] = RAIL_MM;
  const { topMm, midMm, toeMm } = f.rails;
  const bands = [[0, toeMm], ...(midMm === null ? [] : [[midMm - high, midMm]]), [topMm - high, topMm]] as const;
  const ends = [
    { is: f.endRails[0], from: -half - thick, to: -half },
    { is: f.endRails[1], from: half, to: half + thick },
  ].filter((e) => e.is);
  const [left, right] = f.guardMm;
  const posts = f.postsMm
    .filter((x) => x >= left && x <= right)
    .map((x) =>
      block(
        { x: x - POST_MM / 2, y: outer - thick - POST_MM, z: 0 },
        { x: x + POST_MM / 2, y: outer - thick, z: topMm },
      ),
    );
  const rails = bands.flatMap(([low, top]) => [
    ...(right > left ? [block({ x: left, y: outer - thick, z: low! }, { x: right, y: outer, z: top! })] : []),
    ...ends.map((e) => block({ x: e.from, y: outer - thick, z: low! }, { x: e.to, y: inner, z: top! })),
  ]);
  return { kind: 'parts', parts: [...rails, ...posts] };
};

/** Half of the width of a ladder, its stiles, and from rung to rung. EN 131 and 29 CFR 1926.1053 ask for about as much; from memory. */
const LADDER_HALF_MM = 200;
const STILE_MM = [30, 60] as const;
const RUNG_EVERY_MM = 280;

/** Upright, beyond the guard of a floor of this width, from the ground (the origin's level) up. */
export const ladderBody = (heightMm: number, f: Pick<FloorSizes, 'widthMm' | 'depthMm'>): AnyBody => {
  const outer = -innerOf(f) - f.widthMm - RAIL_MM[0] - POST_MM;
  const [wide, deep] = STILE_MM;
  const stiles = [-LADDER_HALF_MM, LADDER_HALF_MM - wide].map((x) =>
    block({ x, y: outer - deep, z: 0 }, { x: x + wide, y: outer, z: heightMm }),
  );
  const count = Math.max(0, Math.floor((heightMm - 1) / RUNG_EVERY_MM));
  const rungs = Array.from({ length: count }, (_, i) => {
    const z = (i + 1) * RUNG_EVERY_MM;
    const half = LADDER_HALF_MM - wide;
    return block({ x: -half, y: outer - deep, z: z - wide / 2 }, { x: half, y: outer - deep / 2, z: z + wide / 2 });
  });
  return { kind: 'parts', parts: [...stiles, ...rungs] };
};
