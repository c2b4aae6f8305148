/** Concrete strips → stretches of wall: pieces of one axis and thickness joined, what is shorter than thick sorted out, ends looked at. */

import { byNumber, inOrder } from '../ground/order.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import { edgeAt, type Graph } from './graph.js';
import { type Interval, totalLength, union } from './intervals.js';
import { JOIN_MM } from './limits.js';
import { type LineSet, pointAt, uOf, vOf } from './lines.js';
import { type ChainSides, isConcrete, type SubStrip } from './sides.js';
import type { Strip } from './strips.js';

/** A stretch in the frame of its direction; lines by index. */
export interface RawStretch extends Interval {
  readonly direction: number;
  readonly vLow: number;
  readonly vHigh: number;
  readonly lows: readonly number[];
  readonly highs: readonly number[];
}

export interface Cap {
  readonly line: number;
  /** The part of that line (in its own u) that closes the wall. */
  readonly part: Interval;
}

export interface CappedStretch extends RawStretch {
  readonly capsA: readonly Cap[];
  readonly capsB: readonly Cap[];
  /** Parts of lines at an end that close some of it only: the jog at a change of thickness. */
  readonly jogs: readonly Cap[];
  /** How far one face runs past the other where a line closes the end aslant; the stretch then reaches to the longer one's end. */
  readonly skewAMm: number;
  readonly skewBMm: number;
}

export const thicknessOf = (s: { readonly vLow: number; readonly vHigh: number }): number => s.vHigh - s.vLow;

const stretchOrder = inOrder<RawStretch>(
  byNumber((s) => s.direction),
  byNumber((s) => s.vLow),
  byNumber((s) => s.vHigh),
  byNumber((s) => s.a),
);

/** Joins what is concrete into stretches of one pair of offsets, across breaks of at most JOIN_MM. */
export const joinStretches = (
  set: LineSet,
  graph: Graph,
  strips: readonly Strip[],
  subs: readonly SubStrip[],
  sides: ChainSides,
): RawStretch[] => {
  const pairs = new Map<string, SubStrip[]>();
  for (const sub of subs) {
    if (!isConcrete(graph, sides, sub)) continue;
    const s = strips[sub.strip]!;
    const key = `${set.lines[s.low]!.direction} ${set.lines[s.low]!.v} ${set.lines[s.high]!.v}`;
    const list = pairs.get(key) ?? [];
    list.push(sub);
    pairs.set(key, list);
  }
  const out: RawStretch[] = [];
  for (const list of pairs.values()) {
    const any = strips[list[0]!.strip]!;
    const low = set.lines[any.low]!;
    for (const { a, b } of union(list, JOIN_MM)) {
      const mine = list.filter((p) => p.a < b && p.b > a);
      const lines = (end: 'low' | 'high') => [...new Set(mine.map((p) => strips[p.strip]![end]))].sort((p, q) => p - q);
      out.push({
        direction: low.direction,
        vLow: low.v,
        vHigh: set.lines[any.high]!.v,
        a,
        b,
        lows: lines('low'),
        highs: lines('high'),
      });
    }
  }
  return out.sort(stretchOrder);
};

/** The edge before and after that of `line` at the middle of the stretch, along its chain; null where the chain ends. */
const neighbours = (graph: Graph, line: number, u: number): [number | null, number | null] => {
  const edge = edgeAt(graph, line, u);
  const chain = graph.chains[graph.chainOf[edge]!.chain]!;
  const at = chain.links.findIndex((l) => l.edge === edge);
  const n = chain.links.length;
  const pick = (i: number) => (chain.closed ? chain.links[(i + n) % n]!.edge : (chain.links[i]?.edge ?? null));
  return [pick(at - 1), pick(at + 1)];
};

/** Which long walls have an edge as their face. */
const faceUsers = (graph: Graph, long: readonly RawStretch[]): ReadonlyMap<number, readonly RawStretch[]> => {
  const users = new Map<number, RawStretch[]>();
  for (const s of long) {
    for (const line of [...s.lows, ...s.highs]) {
      const [first, end] = graph.edgesOf[line]!;
      for (let e = first; e < end; e++) {
        if (graph.edges[e]!.a < s.b && graph.edges[e]!.b > s.a) users.set(e, [...(users.get(e) ?? []), s]);
      }
    }
  }
  return users;
};

/**
 * Parts the stretches into walls and what is shorter than its own thickness. A short one stays when no long wall has its faces and the
 * linework runs on from both of them
 * - at either end into two different walls: then it is the joint between them (a jog), or
 * - at one end into walls and at the other into one line that closes it: then it is a short return with a free end.
 */
export const sortOutShort = (
  graph: Graph,
  raw: readonly RawStretch[],
  isLong: (s: RawStretch) => boolean,
): { walls: RawStretch[]; short: RawStretch[] } => {
  const users = faceUsers(graph, raw.filter(isLong));
  const usersOf = (edge: number | null) => (edge === null ? [] : (users.get(edge) ?? []));
  const joins = (s: RawStretch): boolean => {
    const u = (s.a + s.b) / 2;
    const faces = [s.lows[0]!, s.highs[0]!] as const;
    if (faces.some((line) => users.has(edgeAt(graph, line, u)))) return false;
    const [low, high] = [neighbours(graph, faces[0], u), neighbours(graph, faces[1], u)];
    const jog = [low, high].every(([p, q]) => {
      const [before, after] = [usersOf(p), usersOf(q)];
      return before.length > 0 && after.length > 0 && !before.some((x) => after.includes(x));
    });
    const cap = low.find((e) => e !== null && high.includes(e) && !users.has(e));
    const runsOn = (ends: readonly (number | null)[]) => ends.some((e) => e !== cap && usersOf(e).length > 0);
    return jog || (cap !== undefined && runsOn(low) && runsOn(high));
  };
  const walls = raw.filter((s) => isLong(s) || joins(s));
  return { walls, short: raw.filter((s) => !walls.includes(s)) };
};

/** Does the end of a stretch at `u` stand at or in the body of another, to within both thicknesses? */
const standsAt = (set: LineSet, s: RawStretch, u: number, other: RawStretch): boolean => {
  const p = pointAt(set.directions[s.direction]!, u, (s.vLow + s.vHigh) / 2);
  const d = set.directions[other.direction]!;
  const reach = Math.max(thicknessOf(s), thicknessOf(other)) / 2 + JOIN_MM;
  const [along, across] = [uOf(d, p), vOf(d, p)];
  return (
    along >= other.a - reach &&
    along <= other.b + reach &&
    across >= other.vLow - reach &&
    across <= other.vHigh + reach
  );
};

/**
 * Where only plain walls are believed, pieces too short for that are walls all the same when both their ends run on into believed ones:
 * a wall that changes its thickness, a piece between a corner and a door.
 */
export const believedBetween = (
  set: LineSet,
  walls: readonly RawStretch[],
  short: readonly RawStretch[],
  isPiece: (s: RawStretch) => boolean,
): RawStretch[] =>
  short.filter((s) => isPiece(s) && [s.a, s.b].every((u) => walls.some((w) => standsAt(set, s, u, w))));

/** Ends this near are one where a line closes a wall aslant. */
const SKEW_NEAR_MM = 3 * SAME_POINT_MM;
/** Share of the thickness that linework has to cross at an end for the end to be closed. */
const CAP_SHARE = 0.9;

/** Linework square to the stretch that crosses it at `u`, and whether it closes it. */
const capsAt = (
  set: LineSet,
  byDirection: readonly (readonly number[])[],
  s: RawStretch,
  u: number,
): { readonly caps: readonly Cap[]; readonly closed: boolean } => {
  const d = set.directions[s.direction]!;
  const caps: Cap[] = [];
  const parts: Interval[] = [];
  set.directions.forEach((e, i) => {
    const list = byDirection[i]!;
    if (list.length === 0 || Math.abs(d.x * e.x + d.y * e.y) > 1e-6) return;
    const w = vOf(e, pointAt(d, u, s.vLow));
    const t = [uOf(e, pointAt(d, u, s.vLow)), uOf(e, pointAt(d, u, s.vHigh))];
    const span = { a: Math.min(...t), b: Math.max(...t) };
    for (const line of list) {
      const l = set.lines[line]!;
      if (Math.abs(l.v - w) > SAME_POINT_MM) continue;
      const part = { a: Math.max(l.a, span.a), b: Math.min(l.b, span.b) };
      if (part.b <= part.a) continue;
      caps.push({ line, part });
      parts.push(part);
    }
  });
  return { caps, closed: totalLength(union(parts)) >= CAP_SHARE * thicknessOf(s) };
};

/** The line that closes an end aslant: from where one face ends to a place further out on the other. `sense`: -1 at the lower u, +1 at the higher. */
const skewAt = (set: LineSet, s: RawStretch, u: number, sense: 1 | -1): { cap: Cap; offMm: number } | null => {
  const d = set.directions[s.direction]!;
  for (const [line, l] of set.lines.entries()) {
    if (l.direction === s.direction) continue;
    const e = set.directions[l.direction]!;
    const ends = [l.a, l.b].map((t) => {
      const p = pointAt(e, t, l.v);
      return { out: (uOf(d, p) - u) * sense, v: vOf(d, p) };
    });
    const [near, far] = ends[0]!.out <= ends[1]!.out ? [ends[0]!, ends[1]!] : [ends[1]!, ends[0]!];
    if (Math.abs(near.out) > SKEW_NEAR_MM || far.out <= SKEW_NEAR_MM || far.out > 2 * thicknessOf(s)) continue;
    const [low, high] = near.v <= far.v ? [near, far] : [far, near];
    if (Math.abs(low.v - s.vLow) > SKEW_NEAR_MM || Math.abs(high.v - s.vHigh) > SKEW_NEAR_MM) continue;
    const longer = (far === low ? s.lows : s.highs).some((i) => {
      const face = set.lines[i]!;
      const reach = sense === 1 ? face.b - u : u - face.a;
      return Math.abs(reach - far.out) <= SKEW_NEAR_MM;
    });
    if (longer) return { cap: { line, part: { a: l.a, b: l.b } }, offMm: far.out };
  }
  return null;
};

/**
 * Looks at both ends of each stretch for linework that closes it. A stretch that is closed aslant is taken on to its longer face's end, so that the
 * forms hold all of the concrete that is drawn.
 */
export const capEnds = (set: LineSet, walls: readonly RawStretch[]): CappedStretch[] => {
  const byDirection: number[][] = set.directions.map(() => []);
  set.lines.forEach((l, i) => {
    byDirection[l.direction]!.push(i);
  });
  const capped = walls.map((s) => {
    const ends = [capsAt(set, byDirection, s, s.a), capsAt(set, byDirection, s, s.b)] as const;
    const skewA = ends[0].closed ? null : skewAt(set, s, s.a, -1);
    const skewB = ends[1].closed ? null : skewAt(set, s, s.b, 1);
    const closing = (end: (typeof ends)[number], skew: typeof skewA) =>
      skew ? [skew.cap] : end.closed ? end.caps : [];
    return {
      ...s,
      a: s.a - (skewA?.offMm ?? 0),
      b: s.b + (skewB?.offMm ?? 0),
      capsA: closing(ends[0], skewA),
      capsB: closing(ends[1], skewB),
      jogs: ends.flatMap((end) => (end.closed ? [] : end.caps)),
      skewAMm: skewA?.offMm ?? 0,
      skewBMm: skewB?.offMm ?? 0,
    };
  });
  // A line that closes two walls aslant is the mitre between them, no free end.
  const closes = new Map<number, number>();
  for (const s of capped) {
    for (const [caps, off] of [[s.capsA, s.skewAMm] as const, [s.capsB, s.skewBMm] as const]) {
      if (off > 0) closes.set(caps[0]!.line, (closes.get(caps[0]!.line) ?? 0) + 1);
    }
  }
  const aslant = (caps: readonly Cap[], mm: number): number => (mm > 0 && closes.get(caps[0]!.line)! > 1 ? 0 : mm);
  return capped.map((s) => ({ ...s, skewAMm: aslant(s.capsA, s.skewAMm), skewBMm: aslant(s.capsB, s.skewBMm) }));
};
