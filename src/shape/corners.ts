/**
 * At each joint: what kind of node it is, where its faces meet, and whether that can be laid out.
 *
 * The arms of a joint (ends of walls, and both halves of one that runs through) are put in order round it, anticlockwise. Between one
 * arm and the next lies a wedge of free space; its two faces, the left one of the first arm and the right one of the next, meet in a
 * vertex: re-entrant where the wedge is less than a half turn, salient where it is more. That holds for corners, tees and crosses at
 * any angle and with any thicknesses; at a corner the inner and outer vertex lie k = (t_other - t_own cos d)/sin d apart along a wall.
 */

import { byNumber, inOrder } from '../ground/order.js';
import { add, angleOf, cross, distance, dot, meet, scale, type Vec } from '../ground/plane.js';
import { roundTo } from '../ground/units.js';
import type { NodeKind, Side } from '../ground/vocabulary.js';
import { bySense, crossingOf, endOf, isParallel, pointOf } from './model.js';
import type { Cut, Meeting, Segment, SegmentEnd } from './segments.js';
import { BEND_MOST_DEG, SPIKE_THICKNESSES } from './tolerances.js';

/** One face of one arm at a joint. */
export interface ArmFace {
  readonly segment: number;
  readonly side: Side;
  /** Which way along the segment's direction the arm leads, away from the joint. */
  readonly sense: 1 | -1;
}

export interface Corner {
  readonly at: Vec;
  readonly kind: 're-entrant' | 'salient';
  /** Angle by which one face turns into the other. */
  readonly deflectionDeg: number;
  /** Clockwise one first. */
  readonly faces: readonly [ArmFace, ArmFace];
}

/** How a segment's end is closed there. */
export type EndRole = 'free' | 'corner' | 'stem' | 'jog' | 'open';

export interface JointShape {
  readonly kind: NodeKind;
  readonly at: Vec;
  readonly angleDeg: number;
  readonly through: number | null;
  readonly ends: readonly (SegmentEnd & { readonly role: EndRole })[];
  /** Only those that get forms: none at a joint that is not laid out. */
  readonly corners: readonly Corner[];
  /** Why something is not laid out here, or null. */
  readonly why: string | null;
  /** Where each face of each end stops, along its segment's direction, unrounded: keys from `faceKey`. */
  readonly stops: ReadonlyMap<string, number>;
}

interface Arm {
  readonly segment: number;
  readonly sense: 1 | -1;
  readonly out: Vec;
}

export const faceKey = (segment: number, end: 'lo' | 'hi', side: Side): string => `${segment} ${end} ${side}`;

const DEG = 180 / Math.PI;
const degrees = (rad: number): number => roundTo(rad * DEG, 6);
/** Unsigned angle between two directions, 0 to pi; exact at a right angle. */
const between = (a: Vec, b: Vec): number => Math.atan2(Math.abs(cross(a, b)), dot(a, b));

const armsOf = (meeting: Meeting, segments: readonly Segment[]): Arm[] => {
  const arm = (segment: number, sense: 1 | -1): Arm => ({
    segment,
    sense,
    out: scale(segments[segment]!.bar.direction.u, sense),
  });
  const ends = meeting.ends.map((e) => arm(e.segment, bySense(e.end) === 1 ? -1 : 1));
  const through = meeting.through === null ? [] : [arm(meeting.through, 1), arm(meeting.through, -1)];
  return [...ends, ...through].sort(
    inOrder(
      byNumber((a) => roundTo(angleOf(a.out), 9)),
      byNumber((a) => a.segment),
      byNumber((a) => a.sense),
    ),
  );
};

/** The face of an arm on its left or right as one goes away from the joint. */
const faceOf = (arm: Arm, hand: Side): ArmFace => ({
  segment: arm.segment,
  sense: arm.sense,
  side: arm.sense === 1 ? hand : hand === 'left' ? 'right' : 'left',
});

const sideSign = (side: Side): 1 | -1 => (side === 'left' ? 1 : -1);

const faceLine = (face: ArmFace, segments: readonly Segment[]): { readonly p: Vec; readonly u: Vec } => {
  const { bar } = segments[face.segment]!;
  return { p: pointOf(bar, 0, (sideSign(face.side) * bar.thicknessMm) / 2), u: bar.direction.u };
};

interface Wedge {
  readonly faces: readonly [ArmFace, ArmFace];
  /** Free angle from the first arm to the second, anticlockwise. */
  readonly freeRad: number;
  /** Where the two faces meet; null when they are parallel or meet too far away. */
  readonly at: Vec | null;
}

const wedgesOf = (arms: readonly Arm[], segments: readonly Segment[], near: Vec): Wedge[] => {
  if (arms.length < 2) return [];
  return arms.flatMap((a, i): Wedge[] => {
    const b = arms[(i + 1) % arms.length]!;
    const turn = Math.atan2(cross(a.out, b.out), dot(a.out, b.out));
    const freeRad = turn <= 1e-9 ? turn + 2 * Math.PI : turn;
    const flat = Math.abs(freeRad - Math.PI) < 1e-6;
    if (flat && a.segment === b.segment) return [];
    const faces = [faceOf(a, 'left'), faceOf(b, 'right')] as const;
    const [la, lb] = [faceLine(faces[0], segments), faceLine(faces[1], segments)];
    const at = flat ? null : meet(la.p, la.u, lb.p, lb.u, 1e-6);
    const thickest = Math.max(segments[a.segment]!.bar.thicknessMm, segments[b.segment]!.bar.thicknessMm);
    const spike = at !== null && distance(at, near) > SPIKE_THICKNESSES * thickest;
    return [{ faces, freeRad, at: spike ? null : at }];
  });
};

const cornerOf = (wedge: Wedge): Corner | null =>
  wedge.at && {
    at: wedge.at,
    kind: wedge.freeRad < Math.PI ? 're-entrant' : 'salient',
    deflectionDeg: degrees(Math.abs(Math.PI - wedge.freeRad)),
    faces: wedge.faces,
  };

/** Mean of the crossings of the axes that come together; the end itself where there is but one; midway at a step. */
const placeOfJoint = (meeting: Meeting, segments: readonly Segment[]): Vec => {
  const bars = meeting.ends.map((e) => segments[e.segment]!.bar);
  const pairs =
    meeting.through === null
      ? bars.flatMap((a, i) => bars.slice(i + 1).map((b) => [a, b] as const))
      : bars.map((b) => [segments[meeting.through!]!.bar, b] as const);
  const points = pairs.flatMap(([a, b]) => crossingOf(a, b)?.at ?? []);
  if (points.length === 0)
    points.push(...meeting.ends.map((e) => pointOf(segments[e.segment]!.bar, endOf(segments[e.segment]!.bar, e.end))));
  return scale(points.reduce(add), 1 / points.length);
};

/** Where the faces of the ends stop: at their vertex, or square across at the joint where there is none. */
const stopsOf = (meeting: Meeting, segments: readonly Segment[], wedges: readonly Wedge[], at: Vec) => {
  const stops = new Map<string, number>();
  for (const { segment, end } of meeting.ends) {
    for (const side of ['left', 'right'] as const) {
      const wedge = wedges.find((w) =>
        w.faces.some((f) => f.segment === segment && f.side === side && f.sense === -bySense(end)),
      );
      const { bar } = segments[segment]!;
      const stop = wedge?.at ?? (meeting.ends.length === 1 && meeting.through === null ? null : at);
      stops.set(faceKey(segment, end, side), stop ? dot(stop, bar.direction.u) : endOf(bar, end));
    }
  }
  return stops;
};

/** The ends that stand on the same side of the through wall as another one. */
const crowded = (meeting: Meeting, segments: readonly Segment[]): SegmentEnd[] => {
  if (meeting.through === null) return [];
  const { n } = segments[meeting.through]!.bar.direction;
  const sideOf = (e: SegmentEnd) => -bySense(e.end) * Math.sign(dot(segments[e.segment]!.bar.direction.u, n));
  return meeting.ends.filter((e) => meeting.ends.some((other) => other !== e && sideOf(other) === sideOf(e)));
};

interface Verdict {
  readonly kind: NodeKind;
  readonly angleDeg: number;
  readonly roleOf: (end: SegmentEnd) => EndRole;
  readonly why: string | null;
}

const judgeThrough = (meeting: Meeting, segments: readonly Segment[], wedges: readonly Wedge[]): Verdict => {
  const { bar } = segments[meeting.through!]!;
  const stem = meeting.ends.map((e) => segments[e.segment]!.bar).find((b) => !isParallel(b.direction, bar.direction));
  const angle = stem ? between(stem.direction.u, bar.direction.u) : 0;
  const tight = crowded(meeting, segments);
  const lost = wedges.some((w) => w.at === null);
  const why = lost
    ? 'walls meet at so small an angle that their faces do not'
    : tight.length > 0
      ? 'several walls come to the same side of one place'
      : null;
  return {
    kind: meeting.ends.length === 1 ? 'tee' : 'cross',
    angleDeg: degrees(Math.min(angle, Math.PI - angle)),
    roleOf: (end) => (lost || tight.includes(end) ? 'open' : 'stem'),
    why,
  };
};

const judgePair = (meeting: Meeting, segments: readonly Segment[], wedges: readonly Wedge[]): Verdict => {
  const [a, b] = meeting.ends.map((e) => segments[e.segment]!) as [Segment, Segment];
  if (a.bar.direction === b.bar.direction) {
    return { kind: 'thickness-change', angleDeg: 0, roleOf: () => 'jog', why: null };
  }
  const outs = meeting.ends.map((e) => scale(segments[e.segment]!.bar.direction.u, -bySense(e.end)));
  const angleDeg = degrees(Math.PI - between(outs[0]!, outs[1]!));
  const lost = wedges.some((w) => w.at === null);
  return {
    kind: angleDeg < BEND_MOST_DEG ? 'bend' : 'corner',
    angleDeg,
    roleOf: () => (lost ? 'open' : 'corner'),
    why: lost
      ? `a corner turning by ${roundTo(angleDeg, 1)} degrees has its outer vertex too far away to be formed`
      : null,
  };
};

const judge = (meeting: Meeting, segments: readonly Segment[], wedges: readonly Wedge[]): Verdict => {
  if (meeting.through !== null) return judgeThrough(meeting, segments, wedges);
  if (meeting.ends.length === 1) return { kind: 'end', angleDeg: 0, roleOf: () => 'free', why: null };
  if (meeting.ends.length === 2) return judgePair(meeting, segments, wedges);
  const directions = new Set(meeting.ends.map((e) => segments[e.segment]!.bar.direction));
  const stepped = directions.size < meeting.ends.length;
  return {
    kind: stepped ? 'thickness-change' : meeting.ends.length === 3 ? 'tee' : 'cross',
    angleDeg: 0,
    roleOf: () => 'open',
    why: stepped
      ? 'the wall changes its thickness or jogs where another wall meets it'
      : `${meeting.ends.length} walls meet and none runs through`,
  };
};

const shapeJoint = (meeting: Meeting, segments: readonly Segment[]): JointShape => {
  const at = placeOfJoint(meeting, segments);
  const wedges = wedgesOf(armsOf(meeting, segments), segments, at);
  const verdict = judge(meeting, segments, wedges);
  const ends = meeting.ends.map((e) => ({ ...e, role: verdict.roleOf(e) }));
  const formed = meeting.through !== null || ends.every((e) => e.role !== 'open');
  return {
    kind: verdict.kind,
    at,
    angleDeg: verdict.angleDeg,
    through: meeting.through,
    ends,
    corners: formed ? wedges.flatMap((w) => cornerOf(w) ?? []) : [],
    why: verdict.why,
    stops: stopsOf(meeting, segments, wedges, at),
  };
};

/** The shape of each joint, in their order. */
export const shapeJoints = (cut: Cut): JointShape[] => cut.meetings.map((m) => shapeJoint(m, cut.segments));
