/** Closed rooms of a plan: holes of the concrete, with the stretches of faces round each. */

import type { Vec } from './plane.js';
import type { FacePlan, Side, Vertex, VertexArm, Wall } from './vocabulary.js';

/** A stretch of a straight wall's face between two vertices of a room. */
export interface RoomSide {
  readonly wall: string;
  readonly side: Side;
  readonly fromMm: number;
  readonly toMm: number;
  /** Ids of the vertices at `fromMm` and `toMm`. */
  readonly vertices: readonly [string, string];
}

export interface Room {
  readonly ring: readonly Vec[];
  readonly areaMm2: number;
  /** In the order of the ring; sides that are none of a straight wall's faces (of a jog, of a curve) are left out. */
  readonly sides: readonly RoomSide[];
}

/** Directions that differ by more than this are two: the forms of one side can be drawn away from the other's. */
const APART_DEG = 30;
const NEAR_MM = 1;

/** Area within a ring, mm2; negative for holes. */
const areaOf = (ring: readonly Vec[]): number =>
  ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return sum + (p.x * q.y - q.x * p.y) / 2;
  }, 0);

const keyOf = (p: Vec): string => `${Math.round(p.x / NEAR_MM)} ${Math.round(p.y / NEAR_MM)}`;

/** Vertices by place; a place next to a rounding border is found from either side. */
const finder = (vertices: readonly Vertex[]) => {
  const byPlace = new Map<string, Vertex>();
  for (const v of vertices)
    for (const dx of [-NEAR_MM / 2, 0, NEAR_MM / 2])
      for (const dy of [-NEAR_MM / 2, 0, NEAR_MM / 2]) byPlace.set(keyOf({ x: v.at.x + dx, y: v.at.y + dy }), v);
  return (p: Vec): Vertex | undefined => byPlace.get(keyOf(p));
};

const isLong = (arm: VertexArm): arm is VertexArm & { side: Side } => arm.side === 'left' || arm.side === 'right';

const sidesOf = (ring: readonly Vec[], vertexAt: (p: Vec) => Vertex | undefined): RoomSide[] =>
  ring.flatMap((p, i): RoomSide[] => {
    const [a, b] = [vertexAt(p), vertexAt(ring[(i + 1) % ring.length]!)];
    if (!a || !b) return [];
    for (const x of a.arms.filter(isLong)) {
      const y = b.arms.find((arm) => arm.wall === x.wall && arm.side === x.side);
      if (!y) continue;
      const { wall, side } = x;
      return x.stationMm <= y.stationMm
        ? [{ wall, side, fromMm: x.stationMm, toMm: y.stationMm, vertices: [a.id, b.id] }]
        : [{ wall, side, fromMm: y.stationMm, toMm: x.stationMm, vertices: [b.id, a.id] }];
    }
    return [];
  });

/** In the order of the plan's outlines. */
export const roomsOf = (plan: FacePlan): Room[] => {
  const vertexAt = finder(plan.vertices);
  return plan.concrete
    .map((ring) => ({ ring, areaMm2: -areaOf(ring) }))
    .filter((room) => room.areaMm2 > 0)
    .map((room) => ({ ...room, sides: sidesOf(room.ring, vertexAt) }));
};

/** Direction of a wall's axis, degrees in [0, 180). */
export const directionDeg = ({ start, end }: Wall): number =>
  ((((Math.atan2(end.y - start.y, end.x - start.x) * 180) / Math.PI) % 180) + 180) % 180;

/** Between two such directions, degrees in [0, 90]. */
export const turnDeg = (a: number, b: number): number => {
  const off = Math.abs(a - b);
  return Math.min(off, 180 - off);
};

export const isApart = (a: number, b: number): boolean => turnDeg(a, b) > APART_DEG;
