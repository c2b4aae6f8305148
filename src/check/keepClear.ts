/**
 * Where along a wall no tie may stand, for the rows of its stack: intervals of stations in which a tie's rod would come too near to a bar or an
 * obstacle (FIT H4). Made here, handed to the fit as data, so that search and check look at the same things.
 */

import { cross, dot, sub, unit } from '../ground/plane.js';
import { type Segment3, segmentDistance, segmentToTriangle, type Triangle3 } from '../ground/space.js';
import type { ModelBar, Obstacle, StationInterval, Vec3, Wall } from '../ground/vocabulary.js';

/** Ribs make a bar thicker than its name: 1.1 times. *Practice, no source.* */
export const RIBS = 1.1;

/** What ties of a wall are held against. */
export interface InItsWay {
  readonly wall: Wall;
  readonly tieDiameterMm: number;
  /** Least clear distance between a tie and a bar or an obstacle. */
  readonly clearMm: number;
  readonly bars: readonly ModelBar[];
  readonly obstacles: readonly Obstacle[];
}

export interface KeepClearQuestion extends InItsWay {
  readonly rowLevelsMm: readonly number[];
}

/** What runs along the wall for longer than this is in the way at every station: moving the tie along does not help, the whole row may give way. */
const ALONG_MM = 600;
/** Bounds of intervals are found within this, and set outwards by it. */
const WITHIN_MM = 0.05;

/** A part of a thing with straight edges, in the wall's axes: x the station, y to the left of the axis, z the level. */
type Part = { readonly points: readonly Vec3[]; readonly away: (tie: Segment3) => number };

const inWall = (wall: Wall): ((p: Vec3) => Vec3) => {
  const u = unit(sub(wall.end, wall.start));
  return (p) => {
    const d = sub(p, wall.start);
    return { x: dot(d, u), y: cross(u, d), z: p.z };
  };
};

const tieAt = (wall: Wall, stationMm: number, levelMm: number): Segment3 => ({
  from: { x: stationMm, y: wall.thicknessMm / 2, z: levelMm },
  to: { x: stationMm, y: -wall.thicknessMm / 2, z: levelMm },
});

const reachOf = (points: readonly Vec3[], k: 'x' | 'y' | 'z'): readonly [number, number] => [
  Math.min(...points.map((p) => p[k])),
  Math.max(...points.map((p) => p[k])),
];

/**
 * Stations at which the tie comes nearer to the part than `reachMm`: one interval, since the distance of a segment that is moved along a line to a
 * convex part is a convex function of the move. Its least value is found by ternary search, its bounds by halving.
 */
const nearPart = (wall: Wall, levelMm: number, part: Part, reachMm: number): StationInterval | null => {
  const half = wall.thicknessMm / 2;
  const [low, high] = reachOf(part.points, 'z');
  const [right, left] = reachOf(part.points, 'y');
  if (low > levelMm + reachMm || high < levelMm - reachMm || right > half + reachMm || left < -half - reachMm)
    return null;
  const away = (s: number): number => part.away(tieAt(wall, s, levelMm));
  const [first, last] = reachOf(part.points, 'x');
  let [a, b] = [first - reachMm, last + reachMm];
  const [start, end] = [a, b];
  while (b - a > WITHIN_MM) {
    const third = (b - a) / 3;
    if (away(a + third) <= away(b - third)) b -= third;
    else a += third;
  }
  const least = (a + b) / 2;
  if (away(least) >= reachMm) return null;
  const edge = (from: number, to: number): number => {
    let [near, far] = [from, to];
    while (Math.abs(far - near) > WITHIN_MM) {
      const middle = (near + far) / 2;
      if (away(middle) < reachMm) near = middle;
      else far = middle;
    }
    return far;
  };
  return { fromMm: edge(least, start), toMm: edge(least, end) };
};

const barParts = (bar: ModelBar, turned: (p: Vec3) => Vec3): Part[] => {
  const path = bar.path.map(turned);
  return path.slice(1).map((to, i): Part => {
    const segment = { from: path[i]!, to };
    return { points: [segment.from, to], away: (tie) => segmentDistance(tie, segment) };
  });
};

const obstacleParts = ({ points, triangles }: Obstacle, turned: (p: Vec3) => Vec3): Part[] => {
  const placed = points.map(turned);
  return triangles.map(([a, b, c]): Part => {
    const triangle: Triangle3 = [placed[a]!, placed[b]!, placed[c]!];
    return { points: triangle, away: (tie) => segmentToTriangle(tie, triangle) };
  });
};

const hull = (parts: readonly StationInterval[]): StationInterval[] =>
  parts.length === 0
    ? []
    : [{ fromMm: Math.min(...parts.map((p) => p.fromMm)), toMm: Math.max(...parts.map((p) => p.toMm)) }];

const isShort = ({ fromMm, toMm }: StationInterval, reachMm: number): boolean =>
  toMm - fromMm <= ALONG_MM + 2 * reachMm;

/** Overlapping intervals as one, in order. */
export const mergedIntervals = (intervals: readonly StationInterval[]): StationInterval[] => {
  const out: StationInterval[] = [];
  for (const i of [...intervals].sort((p, q) => p.fromMm - q.fromMm || p.toMm - q.toMm)) {
    const last = out.at(-1);
    if (last && i.fromMm <= last.toMm) out[out.length - 1] = { fromMm: last.fromMm, toMm: Math.max(last.toMm, i.toMm) };
    else out.push(i);
  }
  return out;
};

interface Near {
  readonly at: StationInterval;
  readonly reachMm: number;
}

/** By level: stations at which a tie would come too near to what is in the wall, each thing by itself. Where things stand is worked out once. */
const nearIn = ({
  wall,
  tieDiameterMm,
  clearMm,
  bars,
  obstacles,
}: InItsWay): ((levelMm: number) => readonly Near[]) => {
  const turned = inWall(wall);
  const things = [
    ...bars.map((bar) => ({
      parts: barParts(bar, turned),
      reachMm: (tieDiameterMm + RIBS * bar.diameterMm) / 2 + clearMm,
      asOne: false,
    })),
    ...obstacles.map((o) => ({ parts: obstacleParts(o, turned), reachMm: tieDiameterMm / 2 + clearMm, asOne: true })),
  ];
  return (levelMm) =>
    things.flatMap(({ parts, reachMm, asOne }) => {
      const near = parts.map((p) => nearPart(wall, levelMm, p, reachMm)).filter((i) => i !== null);
      return (asOne ? hull(near) : near).map((at) => ({ at, reachMm }));
    });
};

/**
 * Open intervals of stations on the wall's axis, in order and apart, in which no tie may stand in any row. An obstacle counts from its first to its last
 * station in a row, its inside too. What runs along the wall is left out (see ALONG_MM): its rows may give way.
 */
export const keepClear = (question: KeepClearQuestion): readonly StationInterval[] => {
  const nearAt = nearIn(question);
  const near = question.rowLevelsMm.flatMap(nearAt);
  return mergedIntervals(near.filter(({ at, reachMm }) => isShort(at, reachMm)).map(({ at }) => at));
};

/**
 * Where what runs along the wall is met by ties at a level: open intervals of stations, in order and apart. What is too short for that, or outside the wall,
 * is put aside once.
 */
export const metAlong = (question: InItsWay): ((levelMm: number) => readonly StationInterval[]) => {
  const { wall } = question;
  const turned = inWall(wall);
  const isAlong = (points: readonly Vec3[]): boolean => {
    const placed = points.map(turned);
    const [from, to] = reachOf(placed, 'x');
    const [right, left] = reachOf(placed, 'y');
    const isInside = left > -wall.thicknessMm / 2 && right < wall.thicknessMm / 2 && to > 0 && from < wall.lengthMm;
    return isInside && to - from > ALONG_MM;
  };
  const nearAt = nearIn({
    ...question,
    bars: question.bars.filter((b) => isAlong(b.path)),
    obstacles: question.obstacles.filter((o) => isAlong(o.points)),
  });
  return (levelMm) =>
    mergedIntervals(
      nearAt(levelMm)
        .filter(({ at, reachMm }) => !isShort(at, reachMm))
        .map(({ at }) => at),
    );
};
