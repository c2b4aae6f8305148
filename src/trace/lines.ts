/**
 * Segments → lines: one line per direction, offset and unbroken interval. Near-parallel segments are straightened, duplicates and
 * pieces merged, ends that stop short of or run past a corner are put on it, small gaps between loose ends closed.
 *
 * In a direction's frame `u` runs along it and `v` to its left; a line is the interval [a, b] of u at one v. All lengths local mm.
 * Everything is decided from sorted lists, so the order of the drawing does not matter.
 */

import { byNumber, inOrder } from '../ground/order.js';
import { distance, type Vec } from '../ground/plane.js';
import { PARALLEL_RAD, SAME_POINT_MM, WALL_LEAST_MM } from '../ground/tolerance.js';
import { DIRECTIONS_MOST, MEETINGS_MOST, REPAIR_MM, STRAIGHTEN_MM } from './limits.js';
import { pointsNear } from './near.js';
import type { Segment } from './segments.js';

export interface Direction {
  readonly x: number;
  readonly y: number;
}

/** The part of a line that one entity drew. */
export interface LinePiece {
  readonly a: number;
  readonly b: number;
  readonly segment: Segment;
}

export interface Line {
  readonly direction: number;
  readonly v: number;
  readonly a: number;
  readonly b: number;
  readonly pieces: readonly LinePiece[];
}

export interface Repair {
  readonly kind: 'gap' | 'overrun';
  readonly at: Vec;
  readonly sizeMm: number;
}

export interface LineSet {
  readonly directions: readonly Direction[];
  /** Sorted by direction, v, a. */
  readonly lines: readonly Line[];
  readonly repairs: readonly Repair[];
  readonly straightened: { readonly count: number; readonly mostMm: number };
  /** Segments that lie wholly on another of the same line. */
  readonly duplicates: readonly Segment[];
  /** Too short to tell a direction of their own, beyond the number of directions, or wholly within the repair of a corner. */
  readonly offDirection: readonly Segment[];
}

export const uOf = (d: Direction, p: Vec): number => p.x * d.x + p.y * d.y;
export const vOf = (d: Direction, p: Vec): number => p.y * d.x - p.x * d.y;
export const pointAt = (d: Direction, u: number, v: number): Vec => ({ x: u * d.x - v * d.y, y: u * d.y + v * d.x });

export const lineEnds = (set: { readonly directions: readonly Direction[] }, line: Line): readonly [Vec, Vec] => {
  const d = set.directions[line.direction]!;
  return [pointAt(d, line.a, line.v), pointAt(d, line.b, line.v)];
};

/** How far a segment may lie off a direction, over its whole length. */
const allowedOffMm = (lengthMm: number): number =>
  Math.max(SAME_POINT_MM, Math.min(STRAIGHTEN_MM, lengthMm * PARALLEL_RAD));

interface Placed {
  readonly direction: number;
  readonly segment: Segment;
  readonly offMm: number;
}

/**
 * Gives each segment a direction. Long segments choose first; the axes and the square to every direction in use are offered before a
 * new direction is made, so that square plans come out square.
 */
const chooseDirections = (segments: readonly Segment[]) => {
  const lengths = new Map(segments.map((s) => [s, distance(s.a, s.b)]));
  const byLength = [...segments].sort((p, q) => lengths.get(q)! - lengths.get(p)!);
  const offered: Direction[] = [
    { x: 1, y: 0 },
    { x: 0, y: 1 },
  ];
  const placed: Placed[] = [];
  const off: Segment[] = [];
  for (const segment of byLength) {
    const dx = segment.b.x - segment.a.x;
    const dy = segment.b.y - segment.a.y;
    const lengthMm = lengths.get(segment)!;
    let best = -1;
    let offMm = allowedOffMm(lengthMm);
    offered.forEach((d, i) => {
      const here = Math.abs(dy * d.x - dx * d.y);
      // A tie of hair's breadth goes to the direction that was there first, so that rounding does not decide.
      if (here < offMm - 1e-7 || (best < 0 && here <= offMm)) {
        best = i;
        offMm = here;
      }
    });
    if (best >= 0) placed.push({ direction: best, segment, offMm });
    else if (lengthMm < WALL_LEAST_MM || offered.length >= 2 * DIRECTIONS_MOST) off.push(segment);
    else {
      placed.push({ direction: offered.length, segment, offMm: 0 });
      const d = { x: dx / lengthMm, y: dy / lengthMm };
      offered.push(d, d.y > 0 ? { x: d.y, y: -d.x } : { x: -d.y, y: d.x });
    }
  }
  return { directions: offered, placed, off };
};

interface Loose {
  direction: number;
  v: number;
  a: number;
  b: number;
  pieces: LinePiece[];
}

const lineOrder = inOrder<Line>(
  byNumber((l) => l.direction),
  byNumber((l) => l.v),
  byNumber((l) => l.a),
  byNumber((l) => l.b),
);

/** Segments of one direction → lines: offsets within SAME_POINT_MM are one offset (that of the longest), touching pieces one line. */
const mergeDirection = (
  direction: number,
  d: Direction,
  segments: readonly Segment[],
  duplicates: Segment[],
): Loose[] => {
  const items = segments
    .map((segment) => {
      const ua = uOf(d, segment.a);
      const ub = uOf(d, segment.b);
      const v = (vOf(d, segment.a) + vOf(d, segment.b)) / 2;
      return { v, a: Math.min(ua, ub), b: Math.max(ua, ub), segment };
    })
    .sort(
      inOrder<{ v: number; a: number; b: number }>(
        byNumber((i) => i.v),
        byNumber((i) => i.a),
        byNumber((i) => i.b),
      ),
    );
  const out: Loose[] = [];
  for (let i = 0; i < items.length; ) {
    let j = i;
    while (j < items.length && items[j]!.v - items[i]!.v <= SAME_POINT_MM) j++;
    const cluster = items.slice(i, j);
    const longest = cluster.reduce((best, c) => (c.b - c.a > best.b - best.a + 1e-6 ? c : best));
    let open: Loose | null = null;
    for (const c of cluster.sort((p, q) => p.a - q.a || q.b - p.b)) {
      const piece = { a: c.a, b: c.b, segment: c.segment };
      if (open && c.a <= open.b + SAME_POINT_MM) {
        if (c.b <= open.b) duplicates.push(c.segment);
        open.b = Math.max(open.b, c.b);
        open.pieces.push(piece);
      } else {
        open = { direction, v: longest.v, a: c.a, b: c.b, pieces: [piece] };
        out.push(open);
      }
    }
    i = j;
  }
  return out;
};

/** For quick search: the lines of each direction, sorted by v. */
const byDirection = (lines: readonly Loose[], count: number): Loose[][] => {
  const out: Loose[][] = Array.from({ length: count }, () => []);
  for (const line of lines) out[line.direction]!.push(line);
  for (const list of out) list.sort(lineOrder);
  return out;
};

/** First index of `list` whose v is at least `v`. */
const lowerBound = (list: readonly { readonly v: number }[], v: number): number => {
  let lo = 0;
  let hi = list.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (list[mid]!.v < v) lo = mid + 1;
    else hi = mid;
  }
  return lo;
};

/** u on `d` at v where the line at offset `w` of direction `e` crosses it, given both are not parallel. */
const crossingU = (d: Direction, v: number, e: Direction, w: number): number => {
  const sin = d.x * e.y - d.y * e.x;
  const cos = d.x * e.x + d.y * e.y;
  // Point u*d + v*left(d) has offset w on e: -u*sin + v*cos = w.
  return (v * cos - w) / sin;
};

/** Lines of other directions that pass within `reachMm` of the point (u, v) of direction `own`. */
const linesNear = (
  groups: readonly (readonly Loose[])[],
  directions: readonly Direction[],
  own: number,
  u: number,
  v: number,
  reachMm: number,
): { line: Loose; u: number }[] => {
  const d = directions[own]!;
  const p = pointAt(d, u, v);
  const out: { line: Loose; u: number }[] = [];
  groups.forEach((list, i) => {
    const e = directions[i]!;
    const sin = Math.abs(d.x * e.y - d.y * e.x);
    if (i === own || list.length === 0 || sin < 0.05) return;
    const w = vOf(e, p);
    const t = uOf(e, p);
    for (let k = lowerBound(list, w - reachMm); k < list.length && list[k]!.v <= w + reachMm; k++) {
      const line = list[k]!;
      if (t < line.a - 2 * reachMm || t > line.b + 2 * reachMm) continue;
      const at = crossingU(d, v, e, line.v);
      const s = uOf(e, pointAt(d, at, v));
      if (Math.abs(at - u) <= reachMm && s >= line.a - reachMm && s <= line.b + reachMm) out.push({ line, u: at });
    }
  });
  return out;
};

/** Puts line ends on the nearest crossing within REPAIR_MM. All ends are judged on the lines as drawn, then moved together. */
const repairEnds = (
  lines: Loose[],
  directions: readonly Direction[],
  repairs: Repair[],
  isHeld: (p: Vec) => boolean,
): void => {
  const groups = byDirection(lines, directions.length);
  const moves: (() => void)[] = [];
  for (const line of lines) {
    const reach = line.b - line.a > 2 * REPAIR_MM ? REPAIR_MM : SAME_POINT_MM;
    for (const end of ['a', 'b'] as const) {
      const from = line[end];
      if (isHeld(pointAt(directions[line.direction]!, from, line.v))) continue;
      let best: number | null = null;
      for (const near of linesNear(groups, directions, line.direction, from, line.v, reach)) {
        const closer = best === null ? -1 : Math.abs(near.u - from) - Math.abs(best - from);
        if (closer < 0 || (closer === 0 && near.u < best!)) best = near.u;
      }
      if (best === null) continue;
      const to = best;
      moves.push(() => {
        line[end] = to;
      });
      const sizeMm = Math.abs(to - from);
      if (sizeMm <= SAME_POINT_MM) continue;
      const outward = end === 'a' ? to < from : to > from;
      const at = pointAt(directions[line.direction]!, to, line.v);
      repairs.push({ kind: outward ? 'gap' : 'overrun', at, sizeMm });
    }
  }
  for (const move of moves) move();
};

/** Joins two lines of one offset across a gap of at most REPAIR_MM when nothing else ends or passes at the gap's ends. */
const closeGaps = (
  lines: Loose[],
  directions: readonly Direction[],
  repairs: Repair[],
  isHeld: (p: Vec) => boolean,
): Loose[] => {
  const groups = byDirection(lines, directions.length);
  const loose = (line: Loose, u: number) =>
    linesNear(groups, directions, line.direction, u, line.v, SAME_POINT_MM).length === 0 &&
    !isHeld(pointAt(directions[line.direction]!, u, line.v));
  const out: Loose[] = [];
  for (const group of groups) {
    let open: Loose | null = null;
    for (const line of group) {
      const gap: number = open && open.v === line.v ? line.a - open.b : Infinity;
      if (open && (gap <= SAME_POINT_MM || (gap <= REPAIR_MM && loose(open, open.b) && loose(line, line.a)))) {
        const at = pointAt(directions[line.direction]!, line.a, line.v);
        if (gap > SAME_POINT_MM) repairs.push({ kind: 'gap', at, sizeMm: gap });
        open.b = Math.max(open.b, line.b);
        open.pieces.push(...line.pieces);
      } else {
        open = line;
        out.push(line);
      }
    }
  }
  return out;
};

/** `held`: ends of arcs; lines that end there are neither loose nor run past a corner. */
export const buildLines = (segments: readonly Segment[], held: readonly Vec[] = []): LineSet => {
  const nearHeld = pointsNear(held, STRAIGHTEN_MM);
  const isHeld = (p: Vec) => held.length > 0 && nearHeld(p).length > 0;
  const { directions, placed, off } = chooseDirections(segments);
  const duplicates: Segment[] = [];
  const groups: Segment[][] = directions.map(() => []);
  for (const p of placed) groups[p.direction]!.push(p.segment);
  const repairs: Repair[] = [];
  let lines = groups.flatMap((list, i) => mergeDirection(i, directions[i]!, list, duplicates));
  repairEnds(lines, directions, repairs, isHeld);
  const vanished = lines.filter((l) => l.b - l.a <= 0).flatMap((l) => l.pieces.map((p) => p.segment));
  lines = closeGaps(
    lines.filter((l) => l.b - l.a > 0),
    directions,
    repairs,
    isHeld,
  ).sort(lineOrder);
  // What lies wholly beyond a corner that its line was cut at is no part of the line any more.
  const kept = (l: Loose, p: LinePiece) => p.a < l.b && p.b > l.a;
  vanished.push(...lines.flatMap((l) => l.pieces.filter((p) => !kept(l, p)).map((p) => p.segment)));
  for (const l of lines) l.pieces = l.pieces.filter((p) => kept(l, p));
  const bent = placed.filter((p) => p.offMm > SAME_POINT_MM);
  return {
    directions,
    lines,
    repairs: repairs.sort(
      inOrder<Repair>(
        byNumber((r) => r.at.x),
        byNumber((r) => r.at.y),
        byNumber((r) => r.sizeMm),
      ),
    ),
    straightened: { count: bent.length, mostMm: bent.reduce((m, p) => Math.max(m, p.offMm), 0) },
    duplicates,
    offDirection: [...off, ...vanished],
  };
};

/**
 * Where lines meet: for each line (by index) the sorted u of every other line that ends on or crosses it. Null when there are more
 * meetings than tracing works through.
 */
export const meetingPoints = (set: LineSet): number[][] | null => {
  let count = 0;
  const groups: { line: Line; index: number; v: number }[][] = set.directions.map(() => []);
  set.lines.forEach((line, index) => {
    groups[line.direction]!.push({ line, index, v: line.v });
  });
  const out: number[][] = set.lines.map(() => []);
  set.lines.forEach((line, index) => {
    const d = set.directions[line.direction]!;
    const [p, q] = lineEnds(set, line);
    groups.forEach((list, i) => {
      const e = set.directions[i]!;
      if (i === line.direction || list.length === 0 || Math.abs(d.x * e.y - d.y * e.x) < 0.05) return;
      const lo = Math.min(vOf(e, p), vOf(e, q)) - SAME_POINT_MM;
      const hi = Math.max(vOf(e, p), vOf(e, q)) + SAME_POINT_MM;
      for (let k = lowerBound(list, lo); k < list.length && list[k]!.v <= hi; k++) {
        const other = list[k]!.line;
        const u = crossingU(d, line.v, e, other.v);
        const t = uOf(e, pointAt(d, u, line.v));
        if (u < line.a - SAME_POINT_MM || u > line.b + SAME_POINT_MM) continue;
        if (t < other.a - SAME_POINT_MM || t > other.b + SAME_POINT_MM) continue;
        if (++count > MEETINGS_MOST) return;
        out[index]!.push(u);
      }
    });
  });
  if (count > MEETINGS_MOST) return null;
  for (const list of out) list.sort((a, b) => a - b);
  return out;
};
