/**
 * Bodies of the walls, and the outline of the concrete as their union.
 *
 * Clipper works on integers: local coordinates times UNITS_PER_MM. Intake has refused what is not finite or too large for that.
 */

import ClipperLib from 'clipper-lib';
import { byNumber, inOrder } from '../ground/order.js';
import { add, cross, dot, fromLowest, scale, sub, type Vec } from '../ground/plane.js';
import type { Side } from '../ground/vocabulary.js';
import { faceKey, type JointShape } from './corners.js';
import { type BarEnd, pointOf } from './model.js';
import type { Cut } from './segments.js';

/** 0.0001 mm: whole for every grid of 1 mm and 1/16 in. */
const UNITS_PER_MM = 10_000;
/** Vertices nearer than this to the line of their neighbours are rounding, not shape (units). */
const CLEAN_UNITS = 100;

type Ring = readonly Vec[];

const toPath = (ring: Ring): ClipperLib.Path =>
  ring.map((p) => ({ X: Math.round(p.x * UNITS_PER_MM), Y: Math.round(p.y * UNITS_PER_MM) }));
const fromPath = (path: ClipperLib.Path): Vec[] => path.map((p) => ({ x: p.X / UNITS_PER_MM, y: p.Y / UNITS_PER_MM }));

/** Twice the area would be the cross sum; positive when the ring runs anticlockwise, mm2. */
export const areaOf = (ring: Ring): number =>
  ring.reduce((sum, p, i) => sum + cross(sub(p, ring[0]!), sub(ring[(i + 1) % ring.length]!, ring[0]!)), 0) / 2;

const stopPoint = (cut: Cut, joint: JointShape, segment: number, end: BarEnd, side: Side): Vec => {
  const { bar } = cut.segments[segment]!;
  const half = (side === 'left' ? 1 : -1) * (bar.thicknessMm / 2);
  return pointOf(bar, joint.stops.get(faceKey(segment, end, side))!, half);
};

export interface Body {
  readonly segment: number;
  /** Anticlockwise, from vertex to vertex: bodies of one plan share no area. */
  readonly ring: Ring;
  /** The same, reaching into the joints so that the union has no cracks. */
  readonly reaching: Ring;
}

/** One body for each segment. */
export const bodiesOf = (cut: Cut, joints: readonly JointShape[]): Body[] =>
  cut.segments.map((s, segment) => {
    const [lo, hi] = [joints[s.lo]!, joints[s.hi]!];
    const point = (end: BarEnd, side: Side) => stopPoint(cut, end === 'lo' ? lo : hi, segment, end, side);
    const middle = (joint: JointShape): Vec[] => {
      if (joint.through === null && joint.ends.length < 3) return [];
      const along = dot(joint.at, s.bar.direction.u);
      return [pointOf(s.bar, along)];
    };
    const before = [point('lo', 'right'), point('hi', 'right')];
    const after = [point('hi', 'left'), point('lo', 'left')];
    return { segment, ring: [...before, ...after], reaching: [...before, ...middle(hi), ...after, ...middle(lo)] };
  });

/** Leaves out vertices on the straight line between their neighbours. */
const withoutFlats = (ring: Vec[]): Vec[] =>
  ring.filter((p, i) => {
    const before = sub(p, ring[(i + ring.length - 1) % ring.length]!);
    const after = sub(ring[(i + 1) % ring.length]!, p);
    const off = Math.abs(cross(before, after)) / Math.hypot(before.x + after.x, before.y + after.y);
    return !(off <= CLEAN_UNITS / UNITS_PER_MM && dot(before, after) > 0);
  });

/** Union of rings (mm, local): outer rings anticlockwise, holes clockwise, each from its lowest vertex; sorted by that. */
export const unionOf = (rings: readonly Ring[]): Vec[][] => {
  const clipper = new ClipperLib.Clipper();
  const paths = rings.map((ring) => toPath(areaOf(ring) < 0 ? [...ring].reverse() : ring));
  clipper.AddPaths(paths, ClipperLib.PolyType.ptSubject, true);
  const solution: ClipperLib.Paths = [];
  const { pftNonZero } = ClipperLib.PolyFillType;
  clipper.Execute(ClipperLib.ClipType.ctUnion, solution, pftNonZero, pftNonZero);
  return ClipperLib.Clipper.CleanPolygons(solution, CLEAN_UNITS)
    .filter((path) => path.length >= 3)
    .map((path) => fromLowest(withoutFlats(fromPath(path))))
    .filter((ring) => ring.length >= 3)
    .sort(
      inOrder(
        byNumber((r) => r[0]!.x),
        byNumber((r) => r[0]!.y),
        byNumber((r) => -Math.abs(areaOf(r))),
      ),
    );
};

/** Area and middle of what two rings share, mm2. */
export const shared = (a: Ring, b: Ring): { readonly areaMm2: number; readonly middle: Vec } => {
  const clipper = new ClipperLib.Clipper();
  clipper.AddPath(toPath(a), ClipperLib.PolyType.ptSubject, true);
  clipper.AddPath(toPath(b), ClipperLib.PolyType.ptClip, true);
  const solution: ClipperLib.Paths = [];
  const { pftNonZero } = ClipperLib.PolyFillType;
  clipper.Execute(ClipperLib.ClipType.ctIntersection, solution, pftNonZero, pftNonZero);
  const rings = solution.map(fromPath);
  const points = rings.flat();
  const middle = points.length === 0 ? a[0]! : scale(points.reduce(add), 1 / points.length);
  return { areaMm2: rings.reduce((sum, r) => sum + areaOf(r), 0), middle };
};
