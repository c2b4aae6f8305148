/** Rule T10, what a tie must miss: the bars of the model, and pipes, sleeves and small openings in the wall. */

import { type Finding, finding } from '../ground/findings.js';
import { facePoint } from '../ground/plane.js';
import {
  add3,
  length3,
  type Segment3,
  segmentDistance,
  segmentToTriangle,
  sub3,
  type Triangle3,
  passesThrough,
} from '../ground/space.js';
import { plainNumber } from '../ground/units.js';
import type { ModelBar, Obstacle, Tie, Vec3, Wall } from '../ground/vocabulary.js';
import { type Context, placeOn } from './context.js';

/** Corners of what encloses points. */
interface Box {
  readonly low: Vec3;
  readonly high: Vec3;
}

const boxOf = (points: readonly Vec3[], by: number): Box => {
  const low = { x: Infinity, y: Infinity, z: Infinity };
  const high = { x: -Infinity, y: -Infinity, z: -Infinity };
  for (const p of points) {
    for (const k of ['x', 'y', 'z'] as const) {
      low[k] = Math.min(low[k], p[k] - by);
      high[k] = Math.max(high[k], p[k] + by);
    }
  }
  return { low, high };
};

const overlap = (a: Box, b: Box): boolean =>
  (['x', 'y', 'z'] as const).every((k) => a.low[k] <= b.high[k] && b.low[k] <= a.high[k]);

/** The tie in the concrete, from face to face. */
const lineOf = (wall: Wall, tie: Tie): Segment3 => {
  const at = (side: 'left' | 'right'): Vec3 => ({ ...facePoint(wall, side, tie.stationMm), z: tie.levelMm });
  return { from: at('left'), to: at('right') };
};

interface Placed<T> {
  readonly thing: T;
  readonly box: Box;
}

const placed = <T>(
  things: readonly T[],
  points: (thing: T) => readonly Vec3[],
  by: (thing: T) => number,
): Placed<T>[] => things.map((thing) => ({ thing, box: boxOf(points(thing), by(thing)) }));

/** Distance of the tie's axis from the bar's centre line, mm. */
const awayFromBar = (line: Segment3, { path }: ModelBar): number =>
  Math.min(...path.slice(1).map((to, i) => segmentDistance(line, { from: path[i]!, to })));

const triangleOf = ({ points }: Obstacle, [a, b, c]: readonly [number, number, number]): Triangle3 => [
  points[a]!,
  points[b]!,
  points[c]!,
];

/** Whether a point lies in the solid that the triangles enclose: a ray out of it passes an odd number of them. Slanting, so that it meets no edge of a box. */
const isInside = (p: Vec3, obstacle: Obstacle, box: Box): boolean => {
  const reach = length3(sub3(box.high, box.low)) + 1;
  const ray: Segment3 = { from: p, to: add3(p, { x: 0.5717 * reach, y: 0.3319 * reach, z: 1.7503 * reach }) };
  return obstacle.triangles.filter((t) => passesThrough(ray, triangleOf(obstacle, t)) !== null).length % 2 === 1;
};

/** Distance of the tie's axis from the obstacle, mm; 0 inside it. */
const awayFromObstacle = (line: Segment3, obstacle: Obstacle, box: Box): number => {
  const away = Math.min(...obstacle.triangles.map((t) => segmentToTriangle(line, triangleOf(obstacle, t))));
  return away > 0 && isInside(line.from, obstacle, box) ? 0 : away;
};

const nameOf = (id: string, name: string | null): string => (name === null ? id : `${name} (${id})`);
const mm = (value: number): string => plainNumber(value, 1);

/** Where the program that made the model lets a bar and a tie touch within this, they do not meet, mm. *Practice, no source.* */
const TOUCH_MM = 0.5;

/**
 * Every tie against the bars and obstacles of the model: a failure where its rod would meet one. A tie beyond the concrete's end meets none of the wall's.
 */
export const inTheWay = (ctx: Context): Finding[] => {
  const bars = placed(
    ctx.bars ?? [],
    (b) => b.path,
    (b) => b.diameterMm / 2,
  );
  const obstacles = placed(
    ctx.obstacles ?? [],
    (o) => o.points,
    () => 0,
  );
  const found: Finding[] = [];
  for (const tie of ctx.layout.ties) {
    const wall = ctx.walls.get(tie.wall);
    const item = ctx.tieItems.get(tie.item);
    if (!wall || !item) continue;
    const line = lineOf(wall, tie);
    const radius = item.diameterMm / 2;
    const box = boxOf([line.from, line.to], radius);
    const say = (code: 'check.tie-bar' | 'check.tie-obstacle', what: string): void => {
      const at = placeOn(ctx, tie.wall, null, tie.stationMm, tie.levelMm);
      const where = `at station ${mm(tie.stationMm)}, level ${mm(tie.levelMm)} of wall ${tie.wall}`;
      found.push(finding(code, `Tie ${tie.id} ${where} ${what}.`, { at, subject: tie.id }));
    };
    for (const { thing: bar, box: around } of bars) {
      if (!overlap(box, around)) continue;
      const clear = awayFromBar(line, bar) - radius - bar.diameterMm / 2;
      if (clear >= -TOUCH_MM) continue;
      say('check.tie-bar', `meets bar ${nameOf(bar.id, bar.name)} of ${mm(bar.diameterMm)} mm by ${mm(-clear)} mm`);
    }
    for (const { thing: obstacle, box: around } of obstacles) {
      if (!overlap(box, around)) continue;
      const clear = awayFromObstacle(line, obstacle, around) - radius;
      if (clear >= -TOUCH_MM) continue;
      say('check.tie-obstacle', `meets ${obstacle.what} ${nameOf(obstacle.id, obstacle.name)}`);
    }
  }
  return found;
};
