/** Where a brace can stand: clear of other walls and their forms, of other braces, and within the excavation. Plane geometry. */

import { endStationMm, facePoint, wallDirection, wallPoint } from '../../ground/arcs.js';
import { add, dot, leftOf, scale, sub, type Vec } from '../../ground/plane.js';
import { type Segment3, segmentDistance } from '../../ground/space.js';
import type { Side, Wall } from '../../ground/vocabulary.js';
import type { Context } from '../context.js';
import type { FormLine } from './formLines.js';
import { RULES } from './options.js';

/** A rectangle on the ground: middle, unit vector along it, half sizes. */
interface Ground {
  readonly centre: Vec;
  readonly along: Vec;
  readonly halfMm: readonly [number, number];
}

/** How far the heads of ties stand out behind the frames. */
const TIE_HEAD_MM = 60;
/** A curved wall is taken in this many straight pieces. */
const ARC_PIECES = 24;

const axesOf = ({ along }: Ground): readonly [Vec, Vec] => [along, leftOf(along)];

const reachAlong = (g: Ground, axis: Vec): number => {
  const [x, y] = axesOf(g);
  return Math.abs(dot(x, axis)) * g.halfMm[0] + Math.abs(dot(y, axis)) * g.halfMm[1];
};

/** Whether two rectangles overlap: separating axes. */
const overlaps = (a: Ground, b: Ground): boolean =>
  [...axesOf(a), ...axesOf(b)].every(
    (axis) => Math.abs(dot(sub(b.centre, a.centre), axis)) < reachAlong(a, axis) + reachAlong(b, axis) - 1,
  );

/** The stations between which a wall's concrete lies. */
const extentOf = (ctx: Context, wall: Wall): readonly [number, number] => {
  const long = ctx.plan.faces.filter((f) => f.wall === wall.id && (f.side === 'left' || f.side === 'right'));
  if (long.length === 0) return [0, endStationMm(wall)];
  return [Math.min(...long.map((f) => f.fromMm)), Math.max(...long.map((f) => f.toMm))];
};

/** What a wall with its forms takes on the ground. */
const wallGround = (ctx: Context, wall: Wall): Ground[] => {
  const [from, to] = extentOf(ctx, wall);
  const deep = wall.thicknessMm / 2 + ctx.catalogue.frameDepthMm + TIE_HEAD_MM;
  const pieces = wall.arc ? ARC_PIECES : 1;
  return Array.from({ length: pieces }, (_, i): Ground => {
    const middle = from + ((to - from) * (i + 0.5)) / pieces;
    return {
      centre: wallPoint(wall, middle),
      along: wallDirection(wall, middle),
      halfMm: [(to - from) / pieces / 2, deep],
    };
  });
};

/** A brace as it stands, of whatever line. */
export interface Standing {
  readonly side: Side;
  readonly wall: Wall;
  readonly stationMm: number;
  readonly headMm: number;
  readonly footMm: number;
  /** From the face of the concrete. */
  readonly headOffsetMm: number;
  readonly footOffsetMm: number;
}

const groundOf = (s: Standing): Ground => {
  const head = facePoint(s.wall, s.side, s.stationMm, s.headOffsetMm);
  const foot = facePoint(s.wall, s.side, s.stationMm, s.footOffsetMm + RULES.footHalfMm);
  const way = sub(foot, head);
  const size = Math.hypot(way.x, way.y);
  return {
    centre: scale(add(head, foot), 0.5),
    along: scale(way, 1 / size),
    halfMm: [size / 2, RULES.footHalfMm],
  };
};

const axisOf = (s: Standing): Segment3 => ({
  from: { ...facePoint(s.wall, s.side, s.stationMm, s.headOffsetMm), z: s.headMm },
  to: { ...facePoint(s.wall, s.side, s.stationMm, s.footOffsetMm), z: s.footMm },
});

/** Why a brace cannot stand where it does. */
export type InTheWayOfBrace =
  | { readonly kind: 'wall'; readonly wall: string }
  | { readonly kind: 'excavation' }
  | { readonly kind: 'brace'; readonly other: Standing };

export interface FreeSpace {
  /** The first thing in the way of a brace among these others; null: none. */
  readonly inTheWay: (s: Standing, others: readonly Standing[], isOutside: boolean) => InTheWayOfBrace | null;
}

export const freeSpace = (ctx: Context, freeOutsideMm: number | null): FreeSpace => {
  const walls = ctx.plan.walls.map((wall) => ({ id: wall.id, grounds: wallGround(ctx, wall) }));
  return {
    inTheWay: (s, others, isOutside) => {
      if (isOutside && freeOutsideMm !== null && s.footOffsetMm + RULES.footHalfMm > freeOutsideMm)
        return { kind: 'excavation' };
      const own = groundOf(s);
      const hit = walls.find((w) => w.id !== s.wall.id && w.grounds.some((g) => overlaps(own, g)));
      if (hit) return { kind: 'wall', wall: hit.id };
      const axis = axisOf(s);
      const other = others.find((o) => segmentDistance(axis, axisOf(o)) < RULES.bracesApartMm - 1e-6);
      return other ? { kind: 'brace', other } : null;
    },
  };
};

/** Distance of the middle of an aligner, where braces take hold, from the face of the concrete. */
export const headOffsetMm = (frameDepthMm: number): number => frameDepthMm + RULES.offFrameMm;

/** The brace of a line as it stands. */
export const standingOn = (
  line: Pick<FormLine, 'wall' | 'side'>,
  brace: {
    readonly stationMm: number;
    readonly headMm: number;
    readonly footMm: number;
    readonly footOffsetMm: number;
  },
  frameDepthMm: number,
): Standing => ({
  side: line.side,
  wall: line.wall,
  stationMm: brace.stationMm,
  headMm: brace.headMm,
  footMm: brace.footMm,
  footOffsetMm: brace.footOffsetMm,
  headOffsetMm: headOffsetMm(frameDepthMm),
});
