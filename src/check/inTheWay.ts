/** Rule T10, what a tie must miss: bars, pipes, sleeves and small openings in the wall. */

import { tieLine } from '../ground/arcs.js';
import { type Finding, finding } from '../ground/findings.js';
import {
  add3,
  length3,
  passesThrough,
  type Segment3,
  segmentDistance,
  segmentToTriangle,
  sub3,
  type Triangle3,
} from '../ground/space.js';
import { plainNumber } from '../ground/units.js';
import type { ModelBar, Obstacle, Tie, Vec3, Wall } from '../ground/vocabulary.js';
import { type Context, type InTheWay, placeOn } from './context.js';
import { RIBS } from './keepClear.js';

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
const lineOf = (ctx: Context, wall: Wall, tie: Tie): Segment3 => {
  const [left, right] = tieLine(wall, tie, (id) => ctx.pieces.get(id)?.covers[0]);
  return { from: { ...left, z: tie.levelMm }, to: { ...right, z: tie.levelMm } };
};

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

/** Two lengths that come out of models made elsewhere agree within this, mm. *Practice, no source.* */
const AGREE_MM = 0.5;

interface Clash {
  readonly tie: Tie;
  readonly wall: Wall;
  /** Of the bar or obstacle. */
  readonly id: string;
  readonly code: 'check.tie-bar' | 'check.tie-obstacle';
  readonly what: string;
  /** Between the surfaces; below 0 where they meet. */
  readonly clearMm: number;
}

/** A bar or an obstacle, as a tie meets it. */
interface Thing {
  readonly id: string;
  readonly code: Clash['code'];
  readonly what: string;
  readonly box: Box;
  /** From the tie's axis to its surface, mm. */
  readonly away: (line: Segment3) => number;
}

const thingsIn = ({ bars, obstacles, clearMm }: InTheWay): Thing[] => [
  ...bars.map((bar): Thing => {
    const radius = (RIBS * bar.diameterMm) / 2;
    return {
      id: bar.id,
      code: 'check.tie-bar',
      what: `bar ${nameOf(bar.id, bar.name)} of ${mm(bar.diameterMm)} mm`,
      box: boxOf(bar.path, radius + clearMm),
      away: (line) => awayFromBar(line, bar) - radius,
    };
  }),
  ...obstacles.map((obstacle): Thing => {
    const box = boxOf(obstacle.points, clearMm);
    return {
      id: obstacle.id,
      code: 'check.tie-obstacle',
      what: `${obstacle.what} ${nameOf(obstacle.id, obstacle.name)}`,
      box,
      away: (line) => awayFromObstacle(line, obstacle, box),
    };
  }),
];

const clashesOf = (ctx: Context, given: InTheWay): Clash[] => {
  const things = thingsIn(given);
  return ctx.layout.ties.flatMap((tie) => {
    const wall = ctx.walls.get(tie.wall);
    const item = ctx.tieItems.get(tie.item);
    if (!wall || !item) return [];
    const line = lineOf(ctx, wall, tie);
    const radius = item.diameterMm / 2;
    const box = boxOf([line.from, line.to], radius);
    return things
      .filter((thing) => overlap(box, thing.box))
      .map(({ id, code, what, away }): Clash => ({ tie, wall, id, code, what, clearMm: away(line) - radius }))
      .filter((clash) => !(clash.clearMm >= given.clearMm - AGREE_MM));
  });
};

const howNear = (clear: number, wanted: number): string =>
  clear < 0 ? 'meets' : `comes within ${mm(clear)} mm (${mm(wanted)} are wanted) of`;

/** A bar that runs along a row is met by all its ties: one finding for the row, at the middle of the wall. */
const rowFinding = (ctx: Context, clashes: readonly Clash[], wanted: number): Finding => {
  const { tie, wall, code, what } = clashes[0]!;
  const least = Math.min(...clashes.map((c) => c.clearMm));
  const at = placeOn(ctx, wall.id, null, wall.lengthMm / 2, tie.levelMm);
  const text = `Every tie of row ${tie.row} of wall ${wall.id}, level ${mm(tie.levelMm)} (${clashes.length} ties, ${tie.id} the first), ${howNear(least, wanted)} ${what}.`;
  return finding(code, text, { at, subject: wall.id });
};

const tieFinding = (ctx: Context, { tie, wall, code, what, clearMm }: Clash, wanted: number): Finding => {
  const at = placeOn(ctx, wall.id, null, tie.stationMm, tie.levelMm);
  const where = `at station ${mm(tie.stationMm)}, level ${mm(tie.levelMm)} of wall ${wall.id}`;
  return finding(code, `Tie ${tie.id} ${where} ${howNear(clearMm, wanted)} ${what}.`, { at, subject: tie.id });
};

/**
 * Every tie against the bars and obstacles in the walls: a failure where its rod would come nearer to one than the clear distance that is wanted (FIT H4).
 * A tie beyond the concrete's end is looked at too: bars may stand out there.
 */
export const inTheWayFindings = (ctx: Context): Finding[] => {
  const given = ctx.inTheWay;
  if (!given) return [];
  const byRow = new Map<string, Clash[]>();
  for (const c of clashesOf(ctx, given)) {
    const key = `${c.wall.id}|${c.tie.row}|${c.id}`;
    byRow.set(key, [...(byRow.get(key) ?? []), c]);
  }
  return [...byRow.values()].flatMap((clashes) => {
    const { tie, wall } = clashes[0]!;
    const ofRow = ctx.layout.ties.filter((t) => t.wall === wall.id && t.row === tie.row && !t.outsideConcrete).length;
    return clashes.length > 3 && clashes.length >= ofRow
      ? [rowFinding(ctx, clashes, given.clearMm)]
      : clashes.map((c) => tieFinding(ctx, c, given.clearMm));
  });
};
