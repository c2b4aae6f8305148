/** Breaks in a row of stretches: two of one axis and thickness that face each other, with the frame in which the break is looked at. */

import { cross, distance, dot, leftOf, sub, unit, type Vec } from '../ground/plane.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import type { WallStretch } from '../ground/vocabulary.js';
import { pointsNear } from './near.js';

/** The break between the end of one stretch and the start of the next. Local axes: `u` along the wall from `from`, `v` to its left. */
export interface Gap {
  /** Indices of the stretches before and after it. */
  readonly before: number;
  readonly after: number;
  readonly from: Vec;
  readonly to: Vec;
  readonly u: Vec;
  readonly widthMm: number;
  readonly thicknessMm: number;
}

/** A rectangle in a gap's local axes. */
export interface LocalBox {
  readonly u0: number;
  readonly u1: number;
  readonly v0: number;
  readonly v1: number;
}

export interface LocalAxes {
  readonly from: Vec;
  readonly u: Vec;
}

export const localOf = ({ from, u }: LocalAxes, p: Vec): Vec => {
  const d = sub(p, from);
  return { x: dot(d, u), y: cross(u, d) };
};

export const worldAt = ({ from, u }: LocalAxes, along: number, left: number): Vec => {
  const n = leftOf(u);
  return { x: from.x + u.x * along + n.x * left, y: from.y + u.y * along + n.y * left };
};

/** A body of wall, or an opening in one, in plan. */
interface Body {
  readonly from: Vec;
  readonly to: Vec;
  readonly thicknessMm: number;
}

/** How far a place is from a body in plan, mm, 0 within it; and where along it the nearest place stands. */
export const nearestOn = (
  p: Vec,
  { from, to, thicknessMm }: Body,
): { readonly awayMm: number; readonly alongMm: number } => {
  const l = localOf({ from, u: unit(sub(to, from)) }, p);
  const lengthMm = distance(from, to);
  const alongMm = Math.max(0, Math.min(lengthMm, l.x));
  return { awayMm: Math.hypot(l.x - alongMm, Math.max(0, Math.abs(l.y) - thicknessMm / 2)), alongMm };
};

export const awayFrom = (p: Vec, body: Body): number => nearestOn(p, body).awayMm;

/** Box round points, local axes. */
export const boxOf = (axes: LocalAxes, points: readonly Vec[]): LocalBox => {
  const local = points.map((p) => localOf(axes, p));
  const us = local.map((p) => p.x);
  const vs = local.map((p) => p.y);
  return { u0: Math.min(...us), u1: Math.max(...us), v0: Math.min(...vs), v1: Math.max(...vs) };
};

/** The four corners of a stretch's body. */
export const bodyOf = (s: WallStretch): Vec[] => {
  const n = leftOf(unit(sub(s.end, s.start)));
  const h = s.thicknessMm / 2;
  return [s.start, s.end].flatMap((p) => [
    { x: p.x + n.x * h, y: p.y + n.y * h },
    { x: p.x - n.x * h, y: p.y - n.y * h },
  ]);
};

/** Axes and thicknesses this near are the same. */
const SAME_AXIS_MM = 2 * SAME_POINT_MM;

/** Every break of at most `mostMm` between neighbours in line, by index of the stretch before it. */
export const gapsOf = (stretches: readonly WallStretch[], mostMm: number): Gap[] => {
  const out: Gap[] = [];
  const near = pointsNear(
    stretches.map((t) => t.start),
    mostMm + SAME_AXIS_MM,
  );
  stretches.forEach((s, before) => {
    const u = unit(sub(s.end, s.start));
    let best: Gap | null = null;
    near(s.end).forEach((after) => {
      const t = stretches[after]!;
      if (after === before || Math.abs(t.thicknessMm - s.thicknessMm) > SAME_AXIS_MM) return;
      const start = localOf({ from: s.end, u }, t.start);
      if (start.x <= SAME_POINT_MM || start.x > mostMm || Math.abs(start.y) > SAME_AXIS_MM) return;
      const end = localOf({ from: s.end, u }, t.end);
      if (Math.abs(end.y) > SAME_AXIS_MM || end.x <= start.x) return;
      if (best !== null && best.widthMm <= start.x) return;
      best = {
        before,
        after,
        from: s.end,
        to: t.start,
        u,
        widthMm: distance(s.end, t.start),
        thicknessMm: s.thicknessMm,
      };
    });
    if (best !== null) out.push(best);
  });
  return out;
};

/** Two stretches in line as one, with what lies between them. */
export const joinedOver = (before: WallStretch, after: WallStretch, sources: readonly string[]): WallStretch => ({
  start: before.start,
  end: after.end,
  thicknessMm: before.thicknessMm,
  startCapped: before.startCapped,
  endCapped: after.endCapped,
  sources: [...new Set([...before.sources, ...after.sources, ...sources])].sort(),
});
