/**
 * Closed rooms (rule T17): forms that stand all round a room are held fast by each other when they are to come off. A strip of timber beside a corner that
 * can be taken out, in two directions, lets them go.
 */

import { type Finding, finding } from '../ground/findings.js';
import type { Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { Piece, Side, Vertex, VertexArm } from '../ground/vocabulary.js';
import { type Context, faceOf } from './context.js';

/** Width of a strip that can be broken out. Common practice, no source. */
export const STRIP_LEAST_MM = 40;
/** Directions that differ by more than this are two. */
const APART_DEG = 30;
const NEAR_MM = 1;

/** A stretch of a face between two corners of a room. */
interface RoomSide {
  readonly wall: string;
  readonly side: Side;
  readonly fromMm: number;
  readonly toMm: number;
}

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

/** The stretches of faces round a hole of the concrete; a side that is none of a wall's (of a jog) is left out. */
const sidesOf = (ring: readonly Vec[], vertexAt: (p: Vec) => Vertex | undefined): RoomSide[] =>
  ring.flatMap((p, i): RoomSide[] => {
    const [a, b] = [vertexAt(p), vertexAt(ring[(i + 1) % ring.length]!)];
    if (!a || !b) return [];
    for (const x of a.arms.filter(isLong)) {
      const y = b.arms.find((arm) => arm.wall === x.wall && arm.side === x.side);
      if (!y) continue;
      const [fromMm, toMm] = [Math.min(x.stationMm, y.stationMm), Math.max(x.stationMm, y.stationMm)];
      return [{ wall: x.wall, side: x.side, fromMm, toMm }];
    }
    return [];
  });

/** Whether a strip stands on a stretch that can be taken out from bottom to top. */
const hasStrip = (ctx: Context, { wall, side, fromMm, toMm }: RoomSide): boolean => {
  const face = faceOf(ctx, wall, side);
  const isStrip = ({ kind, course }: Piece) => course > 0 && (kind === 'timber' || kind === 'strip');
  return (ctx.covers.get(face?.id ?? '') ?? []).some(
    ({ piece, cover }) =>
      isStrip(piece) &&
      cover.fromMm >= fromMm - NEAR_MM &&
      cover.toMm <= toMm + NEAR_MM &&
      cover.toMm - cover.fromMm >= STRIP_LEAST_MM,
  );
};

const directionDeg = (ctx: Context, wallId: string): number => {
  const { start, end } = ctx.walls.get(wallId)!;
  return ((((Math.atan2(end.y - start.y, end.x - start.x) * 180) / Math.PI) % 180) + 180) % 180;
};

const isApart = (a: number, b: number): boolean => {
  const off = Math.abs(a - b);
  return Math.min(off, 180 - off) > APART_DEG;
};

const middle = (ring: readonly Vec[]): readonly [number, number, number] => [
  ring.reduce((sum, p) => sum + p.x, 0) / ring.length,
  ring.reduce((sum, p) => sum + p.y, 0) / ring.length,
  0,
];

export const roomFindings = (ctx: Context): Finding[] => {
  const vertexAt = finder(ctx.plan.vertices);
  return ctx.plan.concrete
    .filter((ring) => areaOf(ring) < 0)
    .flatMap((ring): Finding[] => {
      const sides = sidesOf(ring, vertexAt);
      const directions = sides.filter((s) => hasStrip(ctx, s)).map((s) => directionDeg(ctx, s.wall));
      const isFree = directions.some((a) => directions.some((b) => isApart(a, b)));
      if (isFree) return [];
      const walls = [...new Set(sides.map((s) => s.wall))];
      const where = walls.length > 0 ? `The room between walls ${walls.join(', ')}` : 'A closed room';
      const has = directions.length > 0 ? 'a strip in one direction only' : 'no strip';
      const message = `${where} (${plainNumber(-areaOf(ring) / 1e6, 1)} m2) has ${has} that could be taken out: its forms hold each other fast when they are stripped.`;
      return [finding('check.no-strip', message, { at: middle(ring), subject: walls[0] ?? 'room' })];
    });
};
