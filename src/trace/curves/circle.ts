/** Circles and angles round them. Lengths local mm, angles in radians, anticlockwise. */

import { add, cross, distance, dot, scale, sub, type Vec } from '../../ground/plane.js';

export const TURN = 2 * Math.PI;

export interface Circle {
  readonly centre: Vec;
  readonly radius: number;
}

/** Part of a circle, anticlockwise from the angle `from` (0 ≤ from < 2π) through `by` (0 < by ≤ 2π). */
export interface Sweep {
  readonly from: number;
  readonly by: number;
}

/** The same angle in [0, 2π); what is a hair below a whole turn is 0. */
export const turned = (angle: number): number => {
  const t = angle % TURN;
  const u = t < 0 ? t + TURN : t;
  return u >= TURN - 1e-12 ? 0 : u;
};

export const angleAt = (centre: Vec, p: Vec): number => turned(Math.atan2(p.y - centre.y, p.x - centre.x));

export const onCircle = (c: Circle, angle: number): Vec => ({
  x: c.centre.x + c.radius * Math.cos(angle),
  y: c.centre.y + c.radius * Math.sin(angle),
});

export const isFull = (s: Sweep): boolean => s.by >= TURN - 1e-9;
export const endsOf = (a: Circle & Sweep): readonly [Vec, Vec] => [onCircle(a, a.from), onCircle(a, a.from + a.by)];
export const middleOf = (a: Circle & Sweep): Vec => onCircle(a, a.from + a.by / 2);
export const lengthOf = (a: Circle & Sweep): number => a.radius * a.by;
/** Lower left and upper right corner of an arc. */
export const boxOf = (a: Circle & Sweep): readonly [number, number, number, number] => {
  const quarters = [0, 1, 2, 3].map((k) => (k * Math.PI) / 2).filter((q) => turned(q - a.from) <= a.by);
  const points = [...endsOf(a), ...quarters.map((q) => onCircle(a, q))];
  const [x, y] = [points.map((p) => p.x), points.map((p) => p.y)];
  return [Math.min(...x), Math.min(...y), Math.max(...x), Math.max(...y)];
};

/** How far the arc rises over its chord; a diameter and more from half a turn on. */
export const riseOf = (a: Circle & Sweep): number => a.radius * (1 - Math.cos(Math.min(a.by, TURN) / 2));

/** The signed angle about `centre` along a row of points, each step less than half a turn. */
export const swept = (centre: Vec, points: readonly Vec[]): number => {
  let sum = 0;
  for (let i = 1; i < points.length; i++) {
    const p = sub(points[i - 1]!, centre);
    const q = sub(points[i]!, centre);
    sum += Math.atan2(cross(p, q), dot(p, q));
  }
  return sum;
};

/** The sweep of a row of points about `centre`, whichever way it runs. */
export const sweepOf = (centre: Vec, points: readonly Vec[]): Sweep => {
  const by = swept(centre, points);
  const from = angleAt(centre, by >= 0 ? points[0]! : points.at(-1)!);
  return { from, by: Math.min(Math.abs(by), TURN) };
};

/** Arc from a to b with a DXF bulge, the tangent of a quarter of its angle, positive to the left of a-b (DXF reference, LWPOLYLINE). */
export const arcOfBulge = (a: Vec, b: Vec, bulge: number): Circle & Sweep => {
  const k = (1 - bulge * bulge) / (4 * bulge);
  const d = sub(b, a);
  const centre = { x: (a.x + b.x) / 2 - k * d.y, y: (a.y + b.y) / 2 + k * d.x };
  const from = angleAt(centre, bulge > 0 ? a : b);
  const by = Math.abs(4 * Math.atan(bulge));
  return { centre, radius: (distance(a, centre) + distance(b, centre)) / 2, from, by };
};

/** Steps of the geometric fit; the start is close, so few are needed. */
const STEPS = 6;

/** Least squares of the distances x² + y² + Dx + Ey + F (Kåsa's fit), about the mean; null for points in a row. */
const algebraicFit = (points: readonly Vec[], mean: Vec): Circle | null => {
  let [xx, xy, yy, xz, yz, zz] = [0, 0, 0, 0, 0, 0];
  for (const p of points) {
    const x = p.x - mean.x;
    const y = p.y - mean.y;
    const z = x * x + y * y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * z;
    yz += y * z;
    zz += z;
  }
  const det = xx * yy - xy * xy;
  if (!(det > 1e-12 * (xx + yy) ** 2)) return null;
  const centre = { x: (xz * yy - yz * xy) / (2 * det), y: (yz * xx - xz * xy) / (2 * det) };
  const radius = Math.sqrt(dot(centre, centre) + zz / points.length);
  return { centre: add(centre, mean), radius };
};

/**
 * The circle with the least sum of squared distances to the points: Kåsa's fit, then Gauss-Newton steps on the distances. Null when the
 * points lie in a row.
 */
export const fitCircle = (points: readonly Vec[]): Circle | null => {
  const mean = scale(points.reduce(add, { x: 0, y: 0 }), 1 / points.length);
  let fit = algebraicFit(points, mean);
  for (let step = 0; fit && step < STEPS; step++) {
    // Normal equations in the shifts of centre (x, y) and radius; residual = distance - radius.
    const m = [0, 0, 0, 0, 0, 0, 0, 0, 0] as [number, number, number, number, number, number, number, number, number];
    for (const p of points) {
      const d = distance(fit.centre, p);
      if (d === 0) return null;
      const x = (p.x - fit.centre.x) / d;
      const y = (p.y - fit.centre.y) / d;
      const e = d - fit.radius;
      m[0] += x * x;
      m[1] += x * y;
      m[2] += x;
      m[3] += y * y;
      m[4] += y;
      m[5] += 1;
      m[6] += x * e;
      m[7] += y * e;
      m[8] += e;
    }
    const shift = solve3(m);
    if (!shift) break;
    const centre: Vec = { x: fit.centre.x + shift[0], y: fit.centre.y + shift[1] };
    const radius: number = fit.radius + shift[2];
    if (!(radius > 0) || !Number.isFinite(radius)) break;
    const moved = Math.abs(shift[0]) + Math.abs(shift[1]) + Math.abs(shift[2]);
    fit = { centre, radius };
    if (moved < 1e-9 * radius) break;
  }
  return fit;
};

/** Solves the symmetric 3 x 3 system [a b c; b d e; c e f] s = (g, h, i) by Cramer's rule; null when it is singular. */
const solve3 = (
  m: readonly [number, number, number, number, number, number, number, number, number],
): readonly [number, number, number] | null => {
  const [a, b, c, d, e, f, g, h, i] = m;
  const det = a * (d * f - e * e) - b * (b * f - c * e) + c * (b * e - c * d);
  if (!(Math.abs(det) > 1e-15 * f * f * f)) return null;
  const x = g * (d * f - e * e) - b * (h * f - i * e) + c * (h * e - i * d);
  const y = a * (h * f - i * e) - g * (b * f - c * e) + c * (b * i - c * h);
  const z = a * (d * i - e * h) - b * (b * i - c * h) + g * (b * e - c * d);
  return [x / det, y / det, z / det];
};

/** Root of the mean square, and largest, distance of the points from the circle. */
export const residuals = (c: Circle, points: readonly Vec[]): { readonly rmsMm: number; readonly mostMm: number } => {
  let sum = 0;
  let mostMm = 0;
  for (const p of points) {
    const e = Math.abs(distance(c.centre, p) - c.radius);
    sum += e * e;
    mostMm = Math.max(mostMm, e);
  }
  return { rmsMm: Math.sqrt(sum / points.length), mostMm };
};
