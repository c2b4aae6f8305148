/**
 * The blocks: what a unit looks like in plan and in elevation. Kinds differ by their lines, not by colour: a panel is an open frame with its tie holes
 * ticked, a steel filler has one diagonal over a close hatch, timber is solid in plan, crossed over broken lines in elevation, corners are drawn by their legs (hinged ones with their pin), a bulkhead is crossed.
 * Insertion points: middle of the width on the contact face (plan) and middle of the foot (elevation); corner units: the vertex.
 */

import type { Vec } from '../../ground/plane.js';
import { CLAMP_JAW_MM } from '../../ground/siteSizes.js';
import type { FormUnit, PieceKind, Taper } from '../../ground/vocabulary.js';
import { hatched } from './hatch.js';
import { line, polyline, rectangle, type Shape } from './sheet.js';

const RAD_PER_DEG = Math.PI / 180;

/** Size of the half-square by which a tie's plate shows outside the forms, and of its mark in elevation. */
export const TIE_HEAD_MM = 30;
/** How far a tie's head stands out behind the frames. */
export const TIE_PAST_MM = 40;

const at = (x: number, y: number): Vec => ({ x, y });

/** Stations of a unit's tie holes from its left edge, as it stands. */
const holeStations = (unit: FormUnit | null, turned: boolean): number[] => {
  const xs = (unit?.holes ?? []).map((h) => (turned ? unit!.heightMm - h.yMm : h.xMm));
  return [...new Set(xs)].sort((a, b) => a - b);
};

export interface UnitDrawing {
  readonly kind: PieceKind;
  readonly unit: FormUnit | null;
  readonly turned: boolean;
  readonly widthMm: number;
  readonly depthMm: number;
  /** Timber that lies under a unit: hatched, so that the unit shows. */
  readonly isUnder: boolean;
  /** Between the lines of a hatch: 1 mm of paper. */
  readonly hatchMm: number;
  /** Of tapered fill: its width at the contact face and at the back. */
  readonly taper?: Taper | undefined;
}

/** Slanting strokes over a frame in plan, as far apart as the frame is deep. */
const hatch = (widthMm: number, depthMm: number): Shape[] => {
  const strokes = Math.floor(widthMm / depthMm);
  return Array.from({ length: strokes }, (_, i) => {
    const x = -widthMm / 2 + i * depthMm;
    return line(null, at(x, -depthMm), at(x + depthMm, 0));
  });
};

/** Tapered fill in plan, solid unless it lies under a unit. */
const taperShapes = ({ faceMm, backMm }: Taper, depthMm: number, isUnder: boolean): Shape[] => {
  const ring: [Vec, Vec, Vec, Vec] = [
    at(-faceMm / 2, 0),
    at(faceMm / 2, 0),
    at(backMm / 2, -depthMm),
    at(-backMm / 2, -depthMm),
  ];
  const edge = polyline(null, ring, true);
  return isUnder ? [edge] : [edge, { type: 'solid', layer: null, about: [], corners: ring }];
};

/** A unit on a straight face in plan: x along the face from left to right as seen, y into the concrete; the frame lies at y < 0. */
export const planShapes = ({ kind, unit, turned, widthMm, depthMm, isUnder, hatchMm, taper }: UnitDrawing): Shape[] => {
  if (taper) return taperShapes(taper, depthMm, isUnder);
  const half = widthMm / 2;
  const frame = rectangle(null, -half, -depthMm, half, 0);
  if (kind === 'timber' && isUnder) return [frame, ...hatch(widthMm, depthMm)];
  if (kind === 'strip') {
    // Broad at the concrete, pointed where it is drawn out.
    const corners: [Vec, Vec, Vec, Vec] = [at(-half, 0), at(half, 0), at(0, -depthMm), at(0, -depthMm)];
    return [frame, { type: 'solid', layer: null, about: [], corners }];
  }
  if (kind === 'timber') {
    return [
      frame,
      {
        type: 'solid',
        layer: null,
        about: [],
        corners: [at(-half, -depthMm), at(half, -depthMm), at(half, 0), at(-half, 0)],
      },
    ];
  }
  if (kind === 'filler') {
    const outline = [at(-half, -depthMm), at(half, -depthMm), at(half, 0), at(-half, 0)];
    return [frame, hatched('steel', [outline], hatchMm), line(null, at(-half, 0), at(half, -depthMm))];
  }
  if (kind === 'bulkhead' || kind === 'box-out') {
    return [frame, line(null, at(-half, 0), at(half, -depthMm)), line(null, at(-half, -depthMm), at(half, 0))];
  }
  const ticks = holeStations(unit, turned).map((x) => line(null, at(x - half, 0), at(x - half, -depthMm * 0.45)));
  return [frame, ...ticks];
};

/** Corner units have a second line inside each upright edge in elevation. */
const CORNER_INSET_MM = 15;

/** A strip that is struck first has rungs across it in elevation, about this far apart. */
const RUNG_MM = 200;

const rungs = (widthMm: number, heightMm: number): Shape[] => {
  const count = Math.max(2, Math.round(heightMm / RUNG_MM));
  return Array.from({ length: count - 1 }, (_, i) => {
    const y = ((i + 1) * heightMm) / count;
    return line(null, at(-widthMm / 2, y), at(widthMm / 2, y));
  });
};

/** A rectangle that stays clear of hatch and diagonals: what is written there is to be read. */
export interface Clear {
  readonly low: Vec;
  readonly high: Vec;
}

/** The parts of a stroke outside of a rectangle (Liang and Barsky's clipping, turned round). */
const strokesRound = (from: Vec, to: Vec, clear: Clear | undefined): Shape[] => {
  if (!clear) return [line(null, from, to)];
  let [enter, leave] = [0, 1];
  for (const axis of ['x', 'y'] as const) {
    const run = to[axis] - from[axis];
    const [a, b] = [(clear.low[axis] - from[axis]) / run, (clear.high[axis] - from[axis]) / run];
    enter = Math.max(enter, Math.min(a, b));
    leave = Math.min(leave, Math.max(a, b));
  }
  if (!(enter < leave)) return [line(null, from, to)];
  const along = (t: number): Vec => at(from.x + (to.x - from.x) * t, from.y + (to.y - from.y) * t);
  return [...(enter > 0 ? [line(null, from, along(enter))] : []), ...(leave < 1 ? [line(null, along(leave), to)] : [])];
};

/** A unit in elevation, foot at y = 0, middle at x = 0. `hatchMm`: between the lines of a hatch; `clear`: where its mark stands, if it does so within it. */
export const elevationShapes = (
  kind: PieceKind,
  widthMm: number,
  heightMm: number,
  hatchMm: number,
  clear?: Clear,
): Shape[] => {
  const half = widthMm / 2;
  const frame = rectangle(null, -half, 0, half, heightMm);
  const inset = Math.min(CORNER_INSET_MM, widthMm / 4);
  const rising = strokesRound(at(-half, 0), at(half, heightMm), clear);
  const falling = strokesRound(at(-half, heightMm), at(half, 0), clear);
  const outline = [at(-half, 0), at(half, 0), at(half, heightMm), at(-half, heightMm)];
  const hole = clear && [clear.low, at(clear.low.x, clear.high.y), clear.high, at(clear.high.x, clear.low.y)];
  const paths = hole ? [outline, hole] : [outline];
  switch (kind) {
    case 'filler':
      return [frame, hatched('steel', paths, hatchMm), ...rising];
    case 'strip':
      return [frame, ...rungs(widthMm, heightMm)];
    case 'timber':
      return [frame, hatched('wood', paths, hatchMm), ...rising, ...falling];
    case 'bulkhead':
    case 'box-out':
      return [frame, ...rising, ...falling];
    case 'inside-corner':
    case 'hinged-corner':
    case 'outside-corner':
      return [frame, ...[-half + inset, half - inset].map((x) => line(null, at(x, 0), at(x, heightMm)))];
    default:
      return [frame];
  }
};

const polar = (lengthMm: number, deg: number): Vec =>
  at(lengthMm * Math.cos(deg * RAD_PER_DEG), lengthMm * Math.sin(deg * RAD_PER_DEG));
const sum = (a: Vec, b: Vec): Vec => at(a.x + b.x, a.y + b.y);

/** Legs of an inside corner: the first along x, the second at `openingDeg`; the frames stand between them. */
export const insideCornerShapes = (legsMm: readonly [number, number], depthMm: number, openingDeg: number): Shape[] => {
  const [a, b] = legsMm;
  const inner = polar(depthMm / Math.sin((openingDeg / 2) * RAD_PER_DEG), openingDeg / 2);
  const tipA = polar(a, 0);
  const tipB = polar(b, openingDeg);
  const outline = [
    at(0, 0),
    tipA,
    sum(tipA, polar(depthMm, 90)),
    inner,
    sum(tipB, polar(depthMm, openingDeg - 90)),
    tipB,
  ];
  return [polyline(null, outline, true), line(null, at(0, 0), inner)];
};

/** An outside corner: an angle round the salient vertex, outside the concrete that lies between x and `openingDeg`. */
export const outsideCornerShapes = (faceWidthMm: number, depthMm: number, openingDeg: number): Shape[] => {
  const outer = polar(depthMm / Math.sin((openingDeg / 2) * RAD_PER_DEG), openingDeg / 2 + 180);
  const tipA = polar(faceWidthMm, 0);
  const tipB = polar(faceWidthMm, openingDeg);
  const outline = [
    ...(faceWidthMm > 0 ? [at(0, 0), tipA] : [at(0, 0)]),
    sum(tipA, polar(depthMm, -90)),
    outer,
    sum(tipB, polar(depthMm, openingDeg + 90)),
    ...(faceWidthMm > 0 ? [tipB] : []),
  ];
  return [polyline(null, outline, true), line(null, at(0, 0), outer)];
};

/** A strip of timber round a bend, solid: on the forms' side of the vertex between the ends of the frames, its faces on both faces of the concrete. */
export const bendStripShapes = (
  [a, b]: readonly [number, number],
  depthMm: number,
  openingDeg: number,
  isSalient: boolean,
): Shape[] => {
  const out = isSalient ? -1 : 1;
  const middle = polar((out * depthMm) / Math.sin((openingDeg / 2) * RAD_PER_DEG), openingDeg / 2);
  const halves: [Vec, Vec, Vec, Vec][] = [
    [at(0, 0), polar(a, 0), sum(polar(a, 0), polar(out * depthMm, 90)), middle],
    [at(0, 0), polar(b, openingDeg), sum(polar(b, openingDeg), polar(out * depthMm, openingDeg - 90)), middle],
  ];
  const [first, second] = halves as [(typeof halves)[0], (typeof halves)[0]];
  return [
    polyline(null, [first[0], first[1], first[2], middle, second[2], second[1]], true),
    ...halves.map((corners): Shape => ({ type: 'solid', layer: null, about: [], corners })),
  ];
};

const HINGE_RADIUS_MM = 12;
const HINGE_SIDES = 8;

/** The pin of a hinged corner, on the forms' side of the vertex. */
export const hingeShape = (openingDeg: number, isSalient: boolean): Shape => {
  const centre = polar(2 * HINGE_RADIUS_MM, openingDeg / 2 + (isSalient ? 180 : 0));
  const ring = Array.from({ length: HINGE_SIDES }, (_, i) =>
    sum(centre, polar(HINGE_RADIUS_MM, (360 * i) / HINGE_SIDES)),
  );
  return polyline(null, ring, true);
};

/** A tie across the wall: x square to the wall, from head to head, middle at the wall's axis. */
export const tieShapes = (thicknessMm: number, depthMm: number): Shape[] => {
  const end = thicknessMm / 2 + depthMm + TIE_PAST_MM;
  const plate = thicknessMm / 2 + depthMm;
  return [
    line(null, at(-end, 0), at(end, 0)),
    rectangle(null, plate, -TIE_HEAD_MM, plate + TIE_PAST_MM / 2, TIE_HEAD_MM),
    rectangle(null, -plate - TIE_PAST_MM / 2, -TIE_HEAD_MM, -plate, TIE_HEAD_MM),
  ];
};

/** Half of a clamp's jaw behind the frames, beyond the gap that it closes. */
/** How far a clamp's bar shows behind the frames. */
const CLAMP_DEEP_MM = 22;

/** Clamps of a joint in plan: a bar behind the two frames, open over the gap, with a jaw into either frame. x along the face, y < 0 away from the concrete. */
export const clampShapes = (gapMm: number, depthMm: number): Shape[] => {
  const half = gapMm / 2 + CLAMP_JAW_MM;
  const back = -depthMm - CLAMP_DEEP_MM;
  const jaw = (x: number) => line(null, at(x, back), at(x, -depthMm + CLAMP_DEEP_MM));
  return [rectangle(null, -half, back, half, -depthMm), jaw(-half), jaw(half)];
};

/** A clamp in elevation: a short bar across its joint, `lengthMm` the gap. */
export const clampMark = (gapMm: number): { readonly halfMm: number; readonly thickMm: number } => ({
  halfMm: gapMm / 2 + CLAMP_JAW_MM,
  thickMm: CLAMP_DEEP_MM,
});
