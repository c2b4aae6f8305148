/**
 * Foundations of walls that follow a line of points, each wall with its own thickness, made without any code under test: the faces of neighbouring
 * walls are intersected as lines, and a stretch is where both faces of a wall run.
 */

import type { FaceLine, Foundation, WallStretch } from '../../src/ground/vocabulary.js';
import { foundation } from '../shape/draw.js';

type Point = readonly [number, number];

export interface BentLine {
  readonly points: readonly Point[];
  /** One for each wall, from point to point. */
  readonly thicknesses: readonly number[];
  readonly closed: boolean;
}

const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]];
const along = (p: Point, u: Point, s: number): Point => [p[0] + u[0] * s, p[1] + u[1] * s];
const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1];
const cross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0];
const unit = (a: Point): Point => [a[0] / Math.hypot(...a), a[1] / Math.hypot(...a)];

/** Where the line through p along u meets the one through q along v (Cramer's rule). */
const meeting = (p: Point, u: Point, q: Point, v: Point): Point => along(p, u, cross(minus(q, p), v) / cross(u, v));

export interface BentFace {
  readonly wall: number;
  readonly side: 'left' | 'right';
  readonly from: Point;
  readonly to: Point;
}

/** Both faces of every wall, from vertex to vertex. */
export const bentFaces = ({ points, thicknesses, closed }: BentLine): BentFace[] => {
  const n = thicknesses.length;
  const walls = thicknesses.map((t, i) => {
    const [a, b] = [points[i]!, points[(i + 1) % points.length]!];
    const u = unit(minus(b, a));
    return { a, b, u, n: [-u[1], u[0]] as Point, t };
  });
  return walls.flatMap((w, i) =>
    (['left', 'right'] as const).map((side): BentFace => {
      const sign = side === 'left' ? 1 : -1;
      const face = (k: number): readonly [Point, Point] => {
        const x = walls[k]!;
        return [along(x.a, x.n, (sign * x.t) / 2), x.u];
      };
      const [p, u] = face(i);
      const end = (k: number, free: Point): Point => {
        if (!closed && (k < 0 || k >= n)) return along(free, w.n, (sign * w.t) / 2);
        const [q, v] = face((k + n) % n);
        return meeting(p, u, q, v);
      };
      return { wall: i, side, from: end(i - 1, w.a), to: end(i + 1, w.b) };
    }),
  );
};

/** Turns a line of points about the origin. */
export const turned = (line: BentLine, deg: number): BentLine => {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return { ...line, points: line.points.map(([x, y]): Point => [c * x - s * y, s * x + c * y]) };
};

/** Mirrors a line of points at the x axis. */
export const mirrored = (line: BentLine): BentLine => ({
  ...line,
  points: line.points.map(([x, y]): Point => [x, -y]),
});

export const bentFoundation = (line: BentLine): Foundation => {
  const faces = bentFaces(line);
  const n = line.thicknesses.length;
  const stretches = line.thicknesses.map((t, i): WallStretch => {
    const [a, b] = [line.points[i]!, line.points[(i + 1) % line.points.length]!];
    const u = unit(minus(b, a));
    const own = faces.filter((f) => f.wall === i);
    const from = Math.max(...own.map((f) => dot(minus(f.from, a), u)));
    const to = Math.min(...own.map((f) => dot(minus(f.to, a), u)));
    const [start, end] = [along(a, u, from), along(a, u, to)];
    return {
      start: { x: start[0], y: start[1] },
      end: { x: end[0], y: end[1] },
      thicknessMm: t,
      startCapped: !line.closed && i === 0,
      endCapped: !line.closed && i === n - 1,
      sources: [`A${i}`],
    };
  });
  const face = (f: BentFace): FaceLine => ({
    from: { x: f.from[0], y: f.from[1] },
    to: { x: f.to[0], y: f.to[1] },
    source: `A${f.wall}`,
  });
  const ends = line.closed
    ? []
    : [0, n - 1].map((w): FaceLine => {
        const [l, r] = faces.filter((f) => f.wall === w);
        const pick = (f: BentFace): Point => (w === 0 ? f.from : f.to);
        return { from: { x: pick(l!)[0], y: pick(l!)[1] }, to: { x: pick(r!)[0], y: pick(r!)[1] }, source: `A${w}` };
      });
  return foundation(stretches, [...faces.map(face), ...ends.slice(0, n === 1 ? 2 : undefined)]);
};
