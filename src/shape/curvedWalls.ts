/**
 * Curved walls whose ends are free or go on in line as straight walls, and whole rings. Each becomes a wall with an arc, its faces and one run; one that
 * another wall meets otherwise is not laid out yet and is said.
 */

import { endStationMm, isRing, isWholeTurn, wallPoint } from '../ground/arcs.js';
import { type Finding, finding, type Staged } from '../ground/findings.js';
import { nthId } from '../ground/ids.js';
import { byNumber } from '../ground/order.js';
import type { Vec } from '../ground/plane.js';
import { plainNumber, roundTo } from '../ground/units.js';
import type {
  Face,
  Foundation,
  FoundStep,
  Levels,
  LevelsAt,
  PlanNode,
  Run,
  RunEnd,
  Wall,
  WallCurve,
} from '../ground/vocabulary.js';
import { bodyDistance, curvePoints, curveToStretch } from './curvePlaces.js';
import { nearestWall, pointToWall } from './nearest.js';
import { type Tangent, tangentAt } from './tangents.js';
import { END_MM } from './tolerances.js';
import { byWallPlace } from './wallOrder.js';

export interface CurvedWalls {
  /** Levels still empty. Sorted by place; ids go on after those of the straight walls. */
  readonly walls: readonly Wall[];
  readonly nodes: readonly PlanNode[];
  readonly faces: readonly Face[];
  /** Ends at which straight walls go on. */
  readonly tangents: readonly Tangent[];
  /** Those that are not laid out, with why. */
  readonly left: readonly { readonly curve: WallCurve; readonly why: string }[];
}

const PLACES = 6;

const isUsable = (c: WallCurve): boolean =>
  [c.centre.x, c.centre.y, c.radiusMm, c.fromRad, c.toRad, c.thicknessMm].every(Number.isFinite) &&
  c.thicknessMm > 0 &&
  c.radiusMm > c.thicknessMm / 2 &&
  c.toRad > c.fromRad;

const wallOf = (c: WallCurve, gridMm: number): Wall => {
  const thicknessMm = Math.max(1, Math.round(c.thicknessMm / gridMm)) * gridMm;
  const sweep = c.toRad - c.fromRad;
  const arc = {
    centre: c.centre,
    innerRadiusMm: roundTo(c.radiusMm - thicknessMm / 2, PLACES),
    fromRad: c.fromRad,
    sweepRad: isWholeTurn(sweep) ? 2 * Math.PI : sweep,
  };
  const at = (rad: number): Vec => ({
    x: roundTo(c.centre.x + c.radiusMm * Math.cos(rad), PLACES),
    y: roundTo(c.centre.y + c.radiusMm * Math.sin(rad), PLACES),
  });
  return {
    id: '',
    start: at(c.fromRad),
    end: at(c.toRad),
    lengthMm: roundTo(c.radiusMm * arc.sweepRad, PLACES),
    arc,
    thicknessMm,
    base: [],
    top: [],
    sources: [...c.sources].sort(),
  };
};

/** What is there of straight walls. */
export interface Straight {
  readonly walls: readonly Wall[];
  readonly nodes: readonly PlanNode[];
}

const tangentsOf = (wall: Wall, { walls, nodes }: Straight): Tangent[] =>
  isRing(wall) ? [] : (['start', 'end'] as const).flatMap((end) => tangentAt(wall, end, walls, nodes) ?? []);

/** Why a curve is not laid out; null where it is. */
const whyNot = (c: WallCurve, i: number, foundation: Foundation, straight: Straight, gridMm: number): string | null => {
  if (!isUsable(c)) return 'it has a size that is no usable number';
  const inLine = tangentsOf(wallOf(c, gridMm), straight).map((t) => t.straight);
  const touches = straight.walls.find((w) => !inLine.includes(w.id) && curveToStretch(c, w) <= END_MM);
  if (touches) return `wall ${touches.id} meets it, and not in line with its end at the same thickness`;
  const other = foundation.curves.some(
    (o, k) =>
      k !== i && isUsable(o) && bodyDistance(curvePoints(c), c.thicknessMm, curvePoints(o), o.thicknessMm) <= END_MM,
  );
  return other ? 'another curved wall meets it' : null;
};

const ENDS = ['start', 'end'] as const;

const facesOf = (wall: Wall, isFree: (end: 'start' | 'end') => boolean): Face[] => {
  const toMm = endStationMm(wall);
  const long = (
    [
      ['L', 'left'],
      ['R', 'right'],
    ] as const
  ).map(([letter, side]): Face => ({ id: `${wall.id}-${letter}`, wall: wall.id, side, fromMm: 0, toMm }));
  if (isRing(wall)) return long;
  const across = ENDS.filter(isFree).map((side): Face => {
    const id = `${wall.id}-${side === 'start' ? 'S' : 'E'}`;
    return { id, wall: wall.id, side, fromMm: 0, toMm: wall.thicknessMm };
  });
  return [...long, ...across];
};

/** Ids go on after those of the straight walls and their nodes. */
export const curvedWalls = (foundation: Foundation, gridMm: number, straight: Straight): CurvedWalls => {
  const looked = foundation.curves.map((curve, i) => ({ curve, why: whyNot(curve, i, foundation, straight, gridMm) }));
  const walls = looked
    .filter((l) => l.why === null)
    .map((l) => wallOf(l.curve, gridMm))
    .sort(byWallPlace)
    .map((w, i) => ({ ...w, id: nthId('W', straight.walls.length + i) }));
  const tangents = walls.flatMap((w) => tangentsOf(w, straight));
  const isFree = (wall: string, end: 'start' | 'end') => !tangents.some((t) => t.curve === wall && t.end === end);
  const ends = walls
    .filter((w) => !isRing(w))
    .flatMap((w) => ENDS.filter((e) => isFree(w.id, e)).map((e) => ({ at: w[e], wall: w.id })))
    .sort((a, b) => a.at.x - b.at.x || a.at.y - b.at.y);
  const nodes = ends.map(
    ({ at, wall }, i): PlanNode => ({
      id: nthId('N', straight.nodes.length + i),
      kind: 'end',
      at,
      angleDeg: 0,
      walls: [wall],
    }),
  );
  return {
    walls,
    nodes,
    faces: walls.flatMap((w) => facesOf(w, (end) => isFree(w.id, end))),
    tangents,
    left: looked.flatMap(({ curve, why }) => (why === null ? [] : [{ curve, why }])),
  };
};

/** One run for each curved wall. */
export const curvedRuns = (
  walls: readonly Wall[],
  { nodes, tangents }: Pick<CurvedWalls, 'nodes' | 'tangents'>,
): Run[] =>
  walls.map((wall): Run => {
    const endAt = (end: 'start' | 'end', stationMm: number): RunEnd => {
      const at = wall[end];
      const stations = { leftMm: stationMm, rightMm: stationMm };
      if (isRing(wall)) return { kind: 'ring', node: null, ...stations };
      const tangent = tangents.find((t) => t.curve === wall.id && t.end === end);
      if (tangent) return { kind: 'tangent', node: tangent.node, other: tangent.straight, ...stations };
      const node = nodes.find((n) => n.walls.includes(wall.id) && n.at.x === at.x && n.at.y === at.y)!;
      return { kind: 'free', node: node.id, ...stations };
    };
    return {
      id: wall.id,
      wall: wall.id,
      thicknessMm: wall.thicknessMm,
      footingMm: wall.base[0]!.levelMm,
      topMm: wall.top[0]!.levelMm,
      start: endAt('start', 0),
      end: endAt('end', endStationMm(wall)),
      stems: [],
    };
  });

/** The level that a curved wall takes: that of the note nearest to it, one of the job file before any of the drawing, else the general one. */
const levelOf = (notes: readonly LevelsAt[], key: 'footingMm' | 'topMm', general: number): number => {
  const own = notes.filter((n) => n[key] !== null);
  const first = own.find((n) => n.from === 'job') ?? own[0];
  return first?.[key] ?? general;
};

/** Notes and steps parted into those that stand nearest to each curved wall and those of straight walls. */
export const notesOfCurves = <T>(
  items: readonly T[],
  placeOf: (item: T) => Vec,
  curved: readonly Wall[],
  straight: readonly Wall[],
): { readonly byWall: ReadonlyMap<string, readonly T[]>; readonly rest: readonly T[] } => {
  const byWall = new Map<string, T[]>();
  const rest: T[] = [];
  for (const item of items) {
    const p = placeOf(item);
    const near = curved.map((wall) => ({ wall, awayMm: pointToWall(p, wall) })).sort(byNumber((n) => n.awayMm))[0];
    const isStraight = straight.length > 0 && nearestWall(p, straight).awayMm <= (near?.awayMm ?? Infinity);
    if (!near || isStraight) rest.push(item);
    else byWall.set(near.wall.id, [...(byWall.get(near.wall.id) ?? []), item]);
  }
  return { byWall, rest };
};

/** The walls with their levels: one footing and one top each. */
export const levelCurves = (
  walls: readonly Wall[],
  levels: Levels,
  notes: ReadonlyMap<string, readonly LevelsAt[]>,
  steps: ReadonlyMap<string, readonly FoundStep[]>,
): Staged<Wall[]> => {
  const findings: Finding[] = [];
  const value = walls.map((wall) => {
    const own = [...(notes.get(wall.id) ?? [])].sort(byNumber((n) => pointToWall(n.near, wall)));
    const band = (levelMm: number) => [{ fromMm: 0, toMm: endStationMm(wall), levelMm }];
    const [footingMm, topMm] = [levelOf(own, 'footingMm', levels.footingMm), levelOf(own, 'topMm', levels.topMm)];
    for (const { at, kind } of steps.get(wall.id) ?? []) {
      const message = `A step of the ${kind} stands at curved wall ${wall.id}, which is formed at one level.`;
      findings.push(finding('shape.step-unused', message, { at: [at.x, at.y, 0], subject: wall.id }));
    }
    if (topMm <= footingMm) {
      const message = `Wall ${wall.id} has its top at ${plainNumber(topMm, 1)}, not above its footing at ${plainNumber(footingMm, 1)}.`;
      findings.push(
        finding('shape.levels-refused', message, { at: [wall.start.x, wall.start.y, 0], subject: wall.id }),
      );
    }
    return { ...wall, base: band(footingMm), top: band(topMm) };
  });
  return { value, findings };
};

const mm = (n: number): string => plainNumber(n, 1);

/** What was understood of each curved wall. */
export const curvedWallFindings = (walls: readonly Wall[]): Finding[] =>
  walls.map((wall) => {
    const { innerRadiusMm, sweepRad } = wall.arc!;
    const { x, y } = wallPoint(wall, endStationMm(wall) / 2);
    const turn = isRing(wall) ? 'a whole ring' : `over ${plainNumber((sweepRad * 180) / Math.PI, 2)} degrees`;
    const message = `Wall ${wall.id} is curved: inner face of radius ${mm(innerRadiusMm)}, outer face ${mm(innerRadiusMm + wall.thicknessMm)}, ${turn}, ${mm(wall.thicknessMm)} thick.`;
    return finding('shape.curved-wall', message, { at: [x, y, 0], subject: wall.id });
  });
