/** Distances of curved walls from straight ones and from points, by their axes as chains of short chords. */

import { toSegment, type Vec } from '../ground/plane.js';
import type { WallCurve, WallStretch } from '../ground/vocabulary.js';

/** Chords of the axis span this much of a turn: within R / 4000 of the arc. */
const STEP_RAD = Math.PI / 72;

/** Points of the axis, both ends among them. */
export const curvePoints = ({ centre, radiusMm, fromRad, toRad }: WallCurve): Vec[] => {
  const pieces = Math.max(1, Math.ceil((toRad - fromRad) / STEP_RAD));
  return Array.from({ length: pieces + 1 }, (_, i) => {
    const rad = fromRad + ((toRad - fromRad) * i) / pieces;
    return { x: centre.x + radiusMm * Math.cos(rad), y: centre.y + radiusMm * Math.sin(rad) };
  });
};

/** Whether two segments cross each other. */
const crosses = (a: Vec, b: Vec, c: Vec, d: Vec): boolean => {
  const side = (p: Vec, q: Vec, r: Vec) => (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
};

/** Bodies whose boxes are farther apart than this are not looked at closely. */
const NEAR_MM = 100;

const boxGap = (a: readonly Vec[], b: readonly Vec[]): number =>
  Math.max(
    ...(['x', 'y'] as const).map((k) => {
      const [p, q] = [a.map((v) => v[k]), b.map((v) => v[k])];
      return Math.max(Math.min(...p) - Math.max(...q), Math.min(...q) - Math.max(...p));
    }),
  );

/** Distance between the bodies about two chains of points, mm, at least where they are near; 0 or less where they touch. */
export const bodyDistance = (a: readonly Vec[], aThickMm: number, b: readonly Vec[], bThickMm: number): number => {
  let least = Number.POSITIVE_INFINITY;
  const reach = (aThickMm + bThickMm) / 2 + NEAR_MM;
  if (boxGap(a, b) > reach) return boxGap(a, b) - (aThickMm + bThickMm) / 2;
  for (let i = 0; i + 1 < a.length; i++) {
    for (let k = 0; k + 1 < b.length; k++) {
      const [p, q, r, s] = [a[i]!, a[i + 1]!, b[k]!, b[k + 1]!];
      const away = crosses(p, q, r, s)
        ? 0
        : Math.min(toSegment(p, r, s), toSegment(q, r, s), toSegment(r, p, q), toSegment(s, p, q));
      least = Math.min(least, away);
    }
  }
  return least - (aThickMm + bThickMm) / 2;
};

export const curveToStretch = (curve: WallCurve, s: Pick<WallStretch, 'start' | 'end' | 'thicknessMm'>): number =>
  bodyDistance(curvePoints(curve), curve.thicknessMm, [s.start, s.end], s.thicknessMm);

/** Distance from a point to a curved wall's body, mm; 0 inside it. */
export const pointToCurve = (
  p: Vec,
  curve: Pick<WallCurve, 'centre' | 'radiusMm' | 'fromRad' | 'toRad' | 'thicknessMm'>,
): number => {
  const points = curvePoints({ ...curve, startCapped: true, endCapped: true, sources: [] });
  const away = Math.min(...points.slice(1).map((b, i) => toSegment(p, points[i]!, b)));
  return Math.max(0, away - curve.thicknessMm / 2);
};
