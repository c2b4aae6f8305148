/**
 * Holds the outline of the concrete against the lines of the drawing, both ways: a face line that does not lie on the outline, and an
 * edge of the outline where nothing is drawn. Lines within a joint (the other wall's face, drawn through) and lines across a wall
 * inside it (rectangles laid end to end) are no faces and pass.
 */

import { type Finding, finding } from '../ground/findings.js';
import { byNumber } from '../ground/order.js';
import { distance, dot, leftOf, sub, unit, type Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { LocalLine } from './collinear.js';
import { faceKey, type JointShape } from './corners.js';
import { placeOf, pointOf } from './model.js';
import { type Edge, type Nearby, nearbyOf } from './nearby.js';
import type { Cut } from './segments.js';
import { BIT_MM, OUTLINE_MM, SHIFTED_MM } from './tolerances.js';

type Interval = readonly [number, number];

interface Disc {
  readonly at: Vec;
  readonly radiusMm: number;
}

/** Lines this far out of parallel may still follow each other within OUTLINE_MM over a short length. */
const FOLLOW_SIN = 0.05;

const edgesOf = (rings: readonly (readonly Vec[])[]): Edge[] =>
  rings.flatMap((ring) => ring.map((from, i) => ({ from, to: ring[(i + 1) % ring.length]! })));

const boxesMeet = (a: Edge, b: Edge, slackMm: number): boolean =>
  Math.min(a.from.x, a.to.x) <= Math.max(b.from.x, b.to.x) + slackMm &&
  Math.min(b.from.x, b.to.x) <= Math.max(a.from.x, a.to.x) + slackMm &&
  Math.min(a.from.y, a.to.y) <= Math.max(b.from.y, b.to.y) + slackMm &&
  Math.min(b.from.y, b.to.y) <= Math.max(a.from.y, a.to.y) + slackMm;

/** The stretch of `line` (stations from its start) along which `other` runs within `slackMm`, or null. */
const followed = (line: Edge, other: Edge, slackMm: number): Interval | null => {
  if (!boxesMeet(line, other, slackMm)) return null;
  const u = unit(sub(line.to, line.from));
  const n = leftOf(u);
  const [p, q] = [sub(other.from, line.from), sub(other.to, line.from)];
  const [sp, sq, dp, dq] = [dot(p, u), dot(q, u), dot(p, n), dot(q, n)];
  const size = Math.hypot(sq - sp, dq - dp);
  if (size === 0 || Math.abs(dq - dp) > FOLLOW_SIN * size) return null;
  // Cut the other to where its distance across is within the slack.
  let [t0, t1] = [0, 1];
  if (Math.abs(dq - dp) < 1e-9) {
    if (Math.abs(dp) > slackMm) return null;
  } else {
    const [a, b] = [(-slackMm - dp) / (dq - dp), (slackMm - dp) / (dq - dp)];
    t0 = Math.max(0, Math.min(a, b));
    t1 = Math.min(1, Math.max(a, b));
    if (t0 > t1) return null;
  }
  const [s0, s1] = [sp + (sq - sp) * t0, sp + (sq - sp) * t1];
  return [Math.min(s0, s1), Math.max(s0, s1)];
};

/** What of `line` no other follows within `slackMm`, as stations along it; bits up to BIT_MM are left out. */
const uncovered = (line: Edge, others: Nearby<Edge>, slackMm: number): Interval[] => {
  const lengthMm = distance(line.from, line.to);
  const spans = others
    .near(line)
    .flatMap((o) => {
      const span = followed(line, o, slackMm);
      return span ? [span] : [];
    })
    .sort(byNumber((s) => s[0]));
  const holes: Interval[] = [];
  let at = 0;
  for (const [from, to] of spans) {
    if (from - at > BIT_MM) holes.push([at, Math.min(from, lengthMm)]);
    at = Math.max(at, to);
  }
  if (lengthMm - at > BIT_MM) holes.push([at, lengthMm]);
  return holes.filter(([from, to]) => to - from > BIT_MM);
};

const pointOn = (line: Edge, stationMm: number): Vec => {
  const u = unit(sub(line.to, line.from));
  return { x: line.from.x + u.x * stationMm, y: line.from.y + u.y * stationMm };
};

/** Discs round the joints that hold their vertices: lines in there belong to the other wall. */
const jointDiscs = (cut: Cut, joints: readonly JointShape[]): Disc[] =>
  joints
    .filter((j) => j.ends.length > 1 || j.through !== null)
    .map((j) => {
      const stops = j.ends.flatMap(({ segment, end }) =>
        (['left', 'right'] as const).map((side) => {
          const { bar } = cut.segments[segment]!;
          const half = (side === 'left' ? 1 : -1) * (bar.thicknessMm / 2);
          return pointOf(bar, j.stops.get(faceKey(segment, end, side))!, half);
        }),
      );
      const through = j.through === null ? 0 : cut.segments[j.through]!.bar.thicknessMm / 2;
      const far = Math.max(
        through,
        ...stops.map((p) => distance(p, j.at)),
        ...j.corners.map((c) => distance(c.at, j.at)),
      );
      return { at: j.at, radiusMm: far + OUTLINE_MM };
    });

const inDisc = (p: Vec, q: Vec, discs: readonly Disc[]): boolean =>
  discs.some((d) => distance(p, d.at) <= d.radiusMm && distance(q, d.at) <= d.radiusMm);

/** A line that goes square across one wall, inside it. */
const crossesWall = (p: Vec, q: Vec, cut: Cut): boolean =>
  cut.segments.some(({ bar }) => {
    const along = unit(sub(q, p));
    if (Math.abs(dot(along, bar.direction.u)) > FOLLOW_SIN) return false;
    const half = bar.thicknessMm / 2 + OUTLINE_MM;
    return [p, q].every((r) => {
      const [s, o] = [dot(r, bar.direction.u), dot(r, bar.direction.n) - bar.offsetMm];
      return Math.abs(o) <= half && s >= bar.loMm && s <= bar.hiMm;
    });
  });

/** Ends without a cap, already reported: the concrete's edge there has no line. */
const openEnds = (cut: Cut, joints: readonly JointShape[]): Disc[] =>
  joints
    .filter((j) => j.ends.length === 1 && j.through === null)
    .map((j) => ({ at: j.at, radiusMm: cut.segments[j.ends[0]!.segment]!.bar.thicknessMm / 2 + OUTLINE_MM }));

const worst = (spans: readonly Interval[]): Interval => [...spans].sort(byNumber((s) => s[0] - s[1]))[0]!;
const total = (spans: readonly Interval[]): number => spans.reduce((sum, s) => sum + s[1] - s[0], 0);

/** Findings on face lines off the outline; at most one a line, at the middle of its longest piece. */
const strayLines = (lines: readonly LocalLine[], edges: Nearby<Edge>, cut: Cut, discs: readonly Disc[], origin: Vec) =>
  lines.flatMap((line): Finding[] => {
    const stray = uncovered(line, edges, OUTLINE_MM).filter(([from, to]) => {
      const [p, q] = [pointOn(line, from), pointOn(line, to)];
      return !inDisc(p, q, discs) && !crossesWall(p, q, cut);
    });
    if (stray.length === 0) return [];
    const [from, to] = worst(stray);
    const message = `A face line of the drawing is off the outline of the concrete over ${plainNumber(total(stray), 0)} mm.`;
    const at = placeOf(pointOn(line, (from + to) / 2), origin);
    return [
      finding('shape.outline-differs', message, {
        at,
        subject: line.source,
        assumed: 'the outline as made from the walls',
      }),
    ];
  });

const addedEdges = (edges: readonly Edge[], lines: Nearby<Edge>, open: readonly Disc[], origin: Vec): Finding[] =>
  edges.flatMap((edge): Finding[] => {
    const added = uncovered(edge, lines, SHIFTED_MM).filter(
      ([from, to]) => !inDisc(pointOn(edge, from), pointOn(edge, to), open),
    );
    if (added.length === 0) return [];
    const [from, to] = worst(added);
    const message = `The concrete has an edge of ${plainNumber(total(added), 0)} mm where the drawing has no line.`;
    const at = placeOf(pointOn(edge, (from + to) / 2), origin);
    return [finding('shape.outline-added', message, { at, assumed: 'the concrete closes there' })];
  });

/** Compares the outline (local, mm) with the drawing's face lines. Nothing to compare with: no findings. */
export const checkOutline = (
  rings: readonly (readonly Vec[])[],
  lines: readonly LocalLine[],
  cut: Cut,
  joints: readonly JointShape[],
  origin: Vec,
): Finding[] => {
  if (lines.length === 0) return [];
  const edges = edgesOf(rings);
  return [
    ...strayLines(lines, nearbyOf(edges), cut, jointDiscs(cut, joints), origin),
    ...addedEdges(edges, nearbyOf(lines), openEnds(cut, joints), origin),
  ];
};
