/** Separate rectangles that are pads or columns rather than walls. */

import type { Vec } from '../ground/plane.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import { components, type Graph } from './graph.js';
import { PAD_ASPECT, PAD_MOST_MM } from './limits.js';
import { type LineSet, lineEnds } from './lines.js';
import { isWallThickness, type Strip } from './strips.js';

export interface Pad {
  readonly lines: readonly number[];
  readonly centre: Vec;
  readonly widthMm: number;
  readonly lengthMm: number;
}

interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

const boxOf = (set: LineSet, lines: readonly number[]): Box => {
  const points = lines.flatMap((l) => lineEnds(set, set.lines[l]!));
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
};

const within = (inner: Box, outer: Box): boolean =>
  inner.x0 >= outer.x0 && inner.y0 >= outer.y0 && inner.x1 <= outer.x1 && inner.y1 <= outer.y1;

/** The rectangle that four lines make, or null: two of one direction, two of the square to it, each as long as the others are apart. */
const rectangle = (set: LineSet, lines: readonly number[]): { sides: [number, number] } | null => {
  const [p, q, r, s] = lines.map((l) => set.lines[l]!);
  if (!p || !q || !r || !s || lines.length !== 4) return null;
  if (p.direction !== q.direction || r.direction !== s.direction || p.direction === r.direction) return null;
  const d = set.directions[p.direction]!;
  const e = set.directions[r.direction]!;
  if (Math.abs(d.x * e.x + d.y * e.y) > 1e-3) return null;
  const apart = [Math.abs(q.v - p.v), Math.abs(s.v - r.v)] as const;
  const fits = (l: { a: number; b: number }, mm: number) => Math.abs(l.b - l.a - mm) <= 2 * SAME_POINT_MM;
  return fits(p, apart[1]) && fits(q, apart[1]) && fits(r, apart[0]) && fits(s, apart[0])
    ? { sides: [...apart] }
    : null;
};

/**
 * Pads in the order of their first lines. A small square ring inside another one is a shaft with walls, and no pad, when the strip
 * between the two is at least twice as long as thick.
 */
export const findPads = (set: LineSet, graph: Graph, strips: readonly Strip[]): Pad[] => {
  const component = components(graph, set.lines.length);
  const members = new Map<number, number[]>();
  component.forEach((c, line) => {
    members.set(c, [...(members.get(c) ?? []), line]);
  });
  const partners = new Map<number, Set<number>>();
  for (const s of strips) {
    if (!isWallThickness(s.thicknessMm) || s.b - s.a < 2 * s.thicknessMm) continue;
    const p = component[s.low]!;
    const q = component[s.high]!;
    if (p === q) continue;
    partners.set(p, (partners.get(p) ?? new Set()).add(q));
    partners.set(q, (partners.get(q) ?? new Set()).add(p));
  }
  const pads: Pad[] = [];
  for (const [c, lines] of members) {
    const sides = rectangle(set, lines)?.sides;
    if (!sides) continue;
    const widthMm = Math.min(...sides);
    const lengthMm = Math.max(...sides);
    if (lengthMm > PAD_MOST_MM || lengthMm >= PAD_ASPECT * widthMm) continue;
    const box = boxOf(set, lines);
    const nested = [...(partners.get(c) ?? [])].some((o) => {
      const other = boxOf(set, members.get(o)!);
      return within(other, box) || within(box, other);
    });
    if (nested) continue;
    pads.push({ lines, centre: { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 }, widthMm, lengthMm });
  }
  return pads;
};
