/** Arcs, and parts of arcs, that are no face of a curved wall, each with the reason. */

import { byNumber, byText, comparePoints, inOrder } from '../../ground/order.js';
import { cross, distance, dot, sub, unit, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM, WALL_LEAST_MM, WALL_MOST_MM } from '../../ground/tolerance.js';
import { subtract, union } from '../intervals.js';
import { LONG_MM } from '../limits.js';
import { isFull, lengthOf, middleOf, onCircle, type Sweep, TURN, turned } from './circle.js';
import type { Straight } from './ends.js';
import { INNER_RADIUS_LEAST_MM } from './limits.js';
import type { Arc } from './merge.js';
import { isCurve } from './prepare.js';
import { gapBetween, type Strip, seenFrom, sharedParts } from './strips.js';

export type CurveReason =
  | 'a door swing'
  | 'a circle with no second one about it'
  | 'no concentric arc at a wall thickness beside it'
  | 'the arc beside it is not concentric'
  | 'it faces another wall'
  | 'it runs on beyond the other face'
  | 'shorter than a wall of its thickness'
  | 'the ring is too small to form'
  | 'it is no arc of a circle';

/** A curve, or part of one, that is no wall. */
export interface CurveLeftOver {
  readonly layer: string;
  readonly entity: string;
  readonly reason: CurveReason;
  readonly sources: readonly string[];
  readonly lengthMm: number;
  /** 0 when it is no arc of a circle. */
  readonly radiusMm: number;
  /** Middle, local mm. */
  readonly at: Vec;
}

export const leftOrder = inOrder<CurveLeftOver>(
  byText((l) => l.layer),
  byText((l) => l.reason),
  (p, q) => comparePoints(p.at, q.at),
  byNumber((l) => l.lengthMm),
  byText((l) => l.sources[0]!),
);

export interface Judged {
  readonly arcs: readonly Arc[];
  readonly strips: readonly Strip[];
  /** What became of each strip. */
  readonly verdicts: readonly ('wall' | 'air' | 'short' | 'small ring')[];
  readonly swings: ReadonlySet<number>;
  readonly walls: readonly Straight[];
}

/** Parts of an arc that its walls do not cover, in its own angles. */
const restOf = (arc: Arc, used: readonly Sweep[]): Sweep[] => {
  const whole = { a: 0, b: arc.by };
  const holes = used.flatMap((s) => {
    const a = isFull(arc) ? turned(s.from) : turned(s.from - arc.from);
    return [a, a - TURN].map((x) => ({ a: x, b: x + s.by }));
  });
  const slack = SAME_POINT_MM / arc.radius;
  const rest = subtract([whole], union(holes, slack)).filter((p) => p.b - p.a > slack);
  const sweeps = rest.map((p) => ({ from: turned((isFull(arc) ? 0 : arc.from) + p.a), by: p.b - p.a }));
  const [first, last] = [sweeps[0], sweeps.at(-1)];
  // Of a ring the rest may run on over the angle 0.
  if (!isFull(arc) || !first || !last || first === last || rest[0]!.a > slack || rest.at(-1)!.b < TURN - slack)
    return sweeps;
  return [{ from: last.from, by: last.by + first.by }, ...sweeps.slice(1, -1)];
};

const distanceTo = (w: Straight, p: Vec): number => {
  const u = unit(sub(w.end, w.start));
  const along = dot(u, sub(p, w.start));
  const length = distance(w.start, w.end);
  return Math.max(Math.abs(cross(u, sub(p, w.start))) - w.thicknessMm / 2, -along, along - length);
};

interface Used {
  readonly sweep: Sweep;
  readonly thicknessMm: number;
}

/** The walls along an arc that end where the part begins, and that begin where it ends. */
const besides = (arc: Arc, part: Sweep, used: readonly Used[]): { before: Used[]; after: Used[] } => {
  const slack = (2 * SAME_POINT_MM) / arc.radius;
  const near = (angle: number, other: number) => turned(angle - other + slack) <= 2 * slack;
  return {
    before: used.filter((u) => near(part.from, u.sweep.from + u.sweep.by)),
    after: used.filter((u) => near(part.from + part.by, u.sweep.from)),
  };
};

/** Does a part go on from a wall, no longer than that wall is thick? */
const touchesWall = (arc: Arc, part: Sweep, used: readonly Used[]): boolean => {
  const { before, after } = besides(arc, part, used);
  return [...before, ...after].some((u) => part.by * arc.radius <= u.thicknessMm);
};

/**
 * Does a part bound the concrete of a junction? It lies between two walls of the same arc no farther apart than walls are thick, or
 * between the end of one and a straight wall.
 */
const isJoint = (j: Judged, arc: Arc, part: Sweep, used: readonly Used[]): boolean => {
  const { before, after } = besides(arc, part, used);
  if (before.length + after.length === 0) return false;
  const own = Math.max(...[...before, ...after].map((u) => u.thicknessMm));
  const points = [0, 0.5, 1].map((k) => onCircle(arc, part.from + part.by * k));
  const byWall = j.walls.some((w) => {
    const reach = Math.max(own, w.thicknessMm);
    return part.by * arc.radius <= 3 * reach && points.every((p) => distanceTo(w, p) <= reach + SAME_POINT_MM);
  });
  return byWall || (before.length > 0 && after.length > 0 && part.by * arc.radius <= 2 * own);
};

/** Does an arc stand at a wall's distance over most of this one, without keeping that distance? */
const hasNeighbourOffCentre = (arcs: readonly Arc[], arc: Arc): boolean => {
  const middle = middleOf(arc);
  const start = onCircle(arc, arc.from);
  return arcs.some((other) => {
    if (other === arc || Math.abs(distance(middle, other.centre) - other.radius) > 2 * WALL_MOST_MM) return false;
    if (dot(sub(start, arc.centre), sub(start, other.centre)) <= 0) return false;
    const parts = sharedParts({ from: arc.from, by: arc.by }, seenFrom(arc.centre, other));
    const near = parts.every((p) => {
      const gap = Math.abs(distance(onCircle(arc, p.from + p.by / 2), other.centre) - other.radius);
      return gap >= WALL_LEAST_MM && gap <= WALL_MOST_MM && p.by > 0.5 * arc.by;
    });
    return parts.length > 0 && near && gapBetween(arc, other, parts) === null;
  });
};

const reasonFor = (j: Judged, index: number, isEnd: boolean): CurveReason => {
  const arc = j.arcs[index]!;
  if (j.swings.has(index)) return 'a door swing';
  if (isEnd) return 'it runs on beyond the other face';
  const mine = j.strips.flatMap((s, i) => (s.low === index || s.high === index ? [j.verdicts[i]!] : []));
  if (mine.includes('small ring')) return 'the ring is too small to form';
  if (mine.includes('air')) return 'it faces another wall';
  if (mine.includes('short')) return 'shorter than a wall of its thickness';
  if (isFull(arc) && arc.radius < 3 * INNER_RADIUS_LEAST_MM) return 'a circle with no second one about it';
  // Only what is listed by itself is looked at this closely.
  return lengthOf(arc) > LONG_MM && hasNeighbourOffCentre(j.arcs, arc)
    ? 'the arc beside it is not concentric'
    : 'no concentric arc at a wall thickness beside it';
};

/** What no wall used. Arcs of chords of which no part was used are left to the straight tracing and are not named here. */
export const leftOvers = (j: Judged): CurveLeftOver[] =>
  j.arcs.flatMap((arc, index) => {
    const used = j.strips.flatMap((s, i) => {
      if (j.verdicts[i] !== 'wall' || (s.low !== index && s.high !== index)) return [];
      const sweep = isFull(s) ? { from: 0, by: TURN } : seenFrom(arc.centre, { ...s.axis, from: s.from, by: s.by });
      return [{ sweep, thicknessMm: s.thicknessMm }];
    });
    if (used.length === 0 && !arc.pieces.every(isCurve)) return [];
    const rest = restOf(
      arc,
      used.map((u) => u.sweep),
    );
    return rest.flatMap((part): CurveLeftOver[] => {
      if (isJoint(j, arc, part, used)) return [];
      const lengthMm = lengthOf({ ...arc, ...part });
      return [
        {
          layer: arc.pieces.map((p) => p.layer).sort()[0]!,
          entity: arc.pieces.map((p) => p.entity).sort()[0]!,
          reason: reasonFor(j, index, touchesWall(arc, part, used)),
          sources: [...new Set(arc.pieces.flatMap((p) => p.sources))].sort(),
          lengthMm,
          radiusMm: arc.radius,
          at: onCircle(arc, part.from + part.by / 2),
        },
      ];
    });
  });
