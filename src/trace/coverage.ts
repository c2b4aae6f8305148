/**
 * What each line was used for. A line is wall where it is a face of a stretch, where it closes an end, and where it bounds the concrete
 * of a corner or junction between the end of a stretch and another wall's far face. The rest is left over, with the reason.
 */

import { SAME_POINT_MM, WALL_LEAST_MM } from '../ground/tolerance.js';
import { edgeAt, type Graph } from './graph.js';
import { type Interval, overlap, subtract, totalLength, union } from './intervals.js';
import { type LineSet, pointAt, uOf, vOf } from './lines.js';
import type { ChainSides } from './sides.js';
import { type CappedStretch, type RawStretch, thicknessOf } from './stretches.js';
import { isWallThickness, type Strip } from './strips.js';

export type LeftReason =
  | 'inside a wall'
  | 'too thin for a wall'
  | 'shorter than it is thick'
  | 'apart from the walls'
  | 'faces another wall'
  | 'no facing line';

export interface LeftPart extends Interval {
  readonly line: number;
  readonly reason: LeftReason;
}

export interface Coverage {
  /** For each line the parts that are wall, sorted. */
  readonly used: readonly (readonly Interval[])[];
  readonly left: readonly LeftPart[];
}

/** The part of the segment from `p` to `q` (as an interval of 0..1) inside a rectangle of the direction's frame. */
const clip = (from: number, to: number, lo: number, hi: number): Interval | null => {
  const d = to - from;
  if (Math.abs(d) < 1e-9) return from >= lo && from <= hi ? { a: 0, b: 1 } : null;
  const s = [(lo - from) / d, (hi - from) / d];
  return overlap({ a: 0, b: 1 }, { a: Math.min(...s), b: Math.max(...s) });
};

/** Part of a line's interval, moved `shiftMm` to its left, that lies in the rectangle u0..u1, v0..v1 of a stretch's frame. */
const insideOf = (
  set: LineSet,
  line: number,
  part: Interval,
  shiftMm: number,
  direction: number,
  u: Interval,
  v: Interval,
): Interval | null => {
  const l = set.lines[line]!;
  const own = set.directions[l.direction]!;
  const d = set.directions[direction]!;
  const p = pointAt(own, part.a, l.v + shiftMm);
  const q = pointAt(own, part.b, l.v + shiftMm);
  const along = clip(uOf(d, p), uOf(d, q), u.a, u.b);
  const across = clip(vOf(d, p), vOf(d, q), v.a, v.b);
  const both = along && across ? overlap(along, across) : null;
  if (!both) return null;
  const lengthMm = part.b - part.a;
  return { a: part.a + both.a * lengthMm, b: part.a + both.b * lengthMm };
};

/** Parts of `rest` that bound the concrete between the end of some stretch and the far face of the wall that it meets. */
const joints = (
  set: LineSet,
  graph: Graph,
  sides: ChainSides,
  line: number,
  rest: readonly Interval[],
  walls: readonly CappedStretch[],
  ownMm: number,
): Interval[] => {
  const out: Interval[] = [];
  for (const part of rest) {
    for (let e = edgeAt(graph, line, part.a); e < graph.edgesOf[line]![1]; e++) {
      const here = overlap(part, graph.edges[e]!);
      if (!here) {
        if (graph.edges[e]!.a >= part.b) break;
        continue;
      }
      const chain = graph.chainOf[e]!;
      const shift = SAME_POINT_MM * chain.sense * sides[chain.chain]!;
      for (const s of walls) {
        const v = { a: s.vLow - SAME_POINT_MM, b: s.vHigh + SAME_POINT_MM };
        const beyond = Math.max(ownMm, thicknessOf(s)) + SAME_POINT_MM;
        // Beyond an end that linework closes there is no concrete of this wall.
        const ends = [
          ...(s.capsA.length > 0 ? [] : [{ a: s.a - beyond, b: s.a }]),
          ...(s.capsB.length > 0 ? [] : [{ a: s.b, b: s.b + beyond }]),
        ];
        for (const u of ends) {
          const found = insideOf(set, line, here, shift, s.direction, u, v);
          if (found) out.push(found);
        }
      }
    }
  }
  return out;
};

const reasonFor = (
  set: LineSet,
  line: number,
  part: Interval,
  walls: readonly CappedStretch[],
  near: readonly Strip[],
  short: readonly RawStretch[],
  apart: readonly RawStretch[],
): LeftReason => {
  const mid = { a: (part.a + part.b) / 2 - 0.01, b: (part.a + part.b) / 2 + 0.01 };
  for (const s of walls) {
    const v = { a: s.vLow + SAME_POINT_MM, b: s.vHigh - SAME_POINT_MM };
    if (insideOf(set, line, mid, 0, s.direction, s, v)) return 'inside a wall';
  }
  const faceOf = (s: RawStretch) => (s.lows.includes(line) || s.highs.includes(line)) && overlap(s, part) !== null;
  if (apart.some(faceOf)) return 'apart from the walls';
  if (short.some(faceOf)) return 'shorter than it is thick';
  const beside = (suits: (mm: number) => boolean) => {
    const parts = near.filter((s) => suits(s.thicknessMm)).flatMap((s) => overlap(s, part) ?? []);
    return 2 * totalLength(union(parts)) >= part.b - part.a;
  };
  if (beside(isWallThickness)) return 'faces another wall';
  return beside((t) => t < WALL_LEAST_MM) ? 'too thin for a wall' : 'no facing line';
};

export const coverLines = (
  set: LineSet,
  graph: Graph,
  sides: ChainSides,
  strips: readonly Strip[],
  walls: readonly CappedStretch[],
  short: readonly RawStretch[],
  apart: readonly RawStretch[],
): Coverage => {
  const parts: Interval[][] = set.lines.map(() => []);
  const ownMm = set.lines.map(() => 0);
  for (const s of walls) {
    for (const line of [...s.lows, ...s.highs]) {
      const part = overlap(s, set.lines[line]!);
      if (part) parts[line]!.push(part);
      ownMm[line] = Math.max(ownMm[line]!, thicknessOf(s));
    }
    for (const cap of [...s.capsA, ...s.capsB, ...s.jogs]) parts[cap.line]!.push(cap.part);
  }
  const stripsOf: Strip[][] = set.lines.map(() => []);
  for (const s of strips) {
    stripsOf[s.low]!.push(s);
    stripsOf[s.high]!.push(s);
  }
  const used: Interval[][] = [];
  const left: LeftPart[] = [];
  set.lines.forEach((l, line) => {
    const rest = subtract([{ a: l.a, b: l.b }], union(parts[line]!, SAME_POINT_MM));
    const found = joints(set, graph, sides, line, rest, walls, ownMm[line]!);
    const all = union([...parts[line]!, ...found], SAME_POINT_MM);
    used.push(all);
    for (const part of subtract([{ a: l.a, b: l.b }], all)) {
      // Slivers beside a used part are rounding; a line that is all sliver is still named.
      if (all.length > 0 && part.b - part.a <= SAME_POINT_MM) continue;
      left.push({ line, ...part, reason: reasonFor(set, line, part, walls, stripsOf[line]!, short, apart) });
    }
  });
  return { used, left };
};
