/**
 * Where no layer name tells, a pair of lines is a wall by the company it keeps: walls meet at corners and junctions, or run on in line across an
 * opening. Benches, treads, tables and borders are pairs of lines too, but stand alone or are of a thickness of their own.
 */

import { grouping } from '../ground/groups.js';
import { distance, type Vec } from '../ground/plane.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import { type LineSet, pointAt } from './lines.js';
import { type CappedStretch, thicknessOf } from './stretches.js';

/** All *practice, no source*. A drawing of which this share of the lines' length is wall shows little else. */
const MOSTLY_WALL_SHARE = 0.5;
/** Walls that meet, so many at least and in two directions, are a building. */
const NETWORK_LEAST = 3;
/** Walls in line with each other with no more than this between them are one wall with an opening. */
const IN_LINE_MM = 3500;
/** Pairs that meet no building are no walls, even where nearly all is wall, unless one of those that hang together is this long. */
const ALONE_LEAST_MM = 1500;
/** The longest wall of a building is no shorter than this: a shaft. */
const BUILDING_LEAST_MM = 1000;

interface Placed {
  readonly stretch: CappedStretch;
  readonly a: Vec;
  readonly b: Vec;
  readonly thicknessMm: number;
  readonly along: Vec;
}

const toAxis = (p: Vec, s: Placed): number => {
  const [dx, dy] = [s.b.x - s.a.x, s.b.y - s.a.y];
  const l = dx * dx + dy * dy;
  const t = l > 0 ? Math.max(0, Math.min(1, ((p.x - s.a.x) * dx + (p.y - s.a.y) * dy) / l)) : 0;
  return distance(p, { x: s.a.x + dx * t, y: s.a.y + dy * t });
};

const reaches = (p: Placed, q: Placed): boolean => {
  const ends = [
    { at: p.a, capped: p.stretch.capsA.length > 0 },
    { at: p.b, capped: p.stretch.capsB.length > 0 },
  ];
  // A closed end touches the other's face; an open one ends where the corner's square of concrete begins.
  const near = (capped: boolean) => q.thicknessMm / 2 + (capped ? 0 : p.thicknessMm) + 2 * SAME_POINT_MM;
  return ends.some((e) => toAxis(e.at, q) <= near(e.capped));
};

const inLine = (p: Placed, q: Placed): boolean => {
  const [s, t] = [p.stretch, q.stretch];
  if (s.direction !== t.direction) return false;
  if (Math.abs(s.vLow - t.vLow) > SAME_POINT_MM || Math.abs(s.vHigh - t.vHigh) > SAME_POINT_MM) return false;
  return Math.max(s.a, t.a) - Math.min(s.b, t.b) <= IN_LINE_MM;
};

const parallel = (p: Placed, q: Placed): boolean => Math.abs(p.along.x * q.along.y - p.along.y * q.along.x) < 0.1;

/** Numbers of the networks that the stretches make, and those in which walls of two directions meet. */
const networks = (list: readonly Placed[]): { network: number[]; crossing: ReadonlySet<number> } => {
  const { connect, lowestOf } = grouping(list.length);
  const corners: number[] = [];
  list.forEach((p, i) => {
    for (let k = 0; k < i; k++) {
      const q = list[k]!;
      const across = !parallel(p, q);
      const meets = across ? reaches(p, q) || reaches(q, p) : inLine(p, q);
      if (meets && across) corners.push(i);
      if (meets) connect(i, k);
    }
  });
  return { network: list.map((_, i) => lowestOf(i)), crossing: new Set(corners.map(lowestOf)) };
};

/**
 * Parts the stretches into walls and pairs that stand apart.
 *
 * @param set lines of the whole group, by which the share of wall is told
 */
export const standTogether = (
  set: LineSet,
  stretches: readonly CappedStretch[],
): { kept: CappedStretch[]; apart: CappedStretch[] } => {
  const list = stretches.map((stretch): Placed => {
    const d = set.directions[stretch.direction]!;
    const v = (stretch.vLow + stretch.vHigh) / 2;
    return {
      stretch,
      a: pointAt(d, stretch.a, v),
      b: pointAt(d, stretch.b, v),
      thicknessMm: thicknessOf(stretch),
      along: d,
    };
  });
  const { network, crossing } = networks(list);
  const members = (i: number) => network.filter((n) => n === network[i]).length;
  const lines = set.lines.reduce((sum, l) => sum + l.b - l.a, 0);
  const walls = stretches.reduce((sum, s) => sum + 2 * (s.b - s.a), 0);
  const mostly = walls >= MOSTLY_WALL_SHARE * lines;
  const longest = (i: number) =>
    list.reduce((most, p, k) => (network[k] === network[i] ? Math.max(most, p.stretch.b - p.stretch.a) : most), 0);
  const isBuilt = (i: number) =>
    members(i) >= NETWORK_LEAST && crossing.has(network[i]!) && longest(i) >= BUILDING_LEAST_MM;
  const built = list.filter((_, i) => isBuilt(i));
  const known = (p: Placed) => built.some((q) => Math.abs(q.thicknessMm - p.thicknessMm) <= 2 * SAME_POINT_MM);
  const isWall = (p: Placed, i: number): boolean => {
    if (isBuilt(i)) return true;
    return longest(i) >= ALONE_LEAST_MM && (mostly || known(p));
  };
  return {
    kept: list.filter(isWall).map((p) => p.stretch),
    apart: list.filter((p, i) => !isWall(p, i)).map((p) => p.stretch),
  };
};
