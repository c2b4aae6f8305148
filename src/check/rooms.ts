/**
 * Closed rooms (rule T17): forms that stand all round a room are held fast by each other when they are to come off. A strip of timber beside a corner that
 * comes out first, in two directions, lets them go. Then the widest unit wants a way out: an opening, or the crane.
 */

import { type Finding, finding } from '../ground/findings.js';
import type { Vec } from '../ground/plane.js';
import { directionDeg, isApart, type Room, type RoomSide, roomsOf } from '../ground/rooms.js';
import { plainNumber } from '../ground/units.js';
import { type Context, faceOf, type PlacedCover } from './context.js';

/** Width of a strip that can be broken out. Common practice, no source. */
const STRIP_LEAST_MM = 40;
/** Clear width and height of an opening through which forms are carried out. Common practice, no source. */
const WAY_OUT_MM = 1200;
const NEAR_MM = 1;

const widthOf = ({ cover }: PlacedCover): number => cover.toMm - cover.fromMm;

/** What covers a side of a room, without what closes gaps under the forms. */
const coversOn = (ctx: Context, { wall, side, fromMm, toMm }: RoomSide): PlacedCover[] =>
  (ctx.covers.get(faceOf(ctx, wall, side)?.id ?? '') ?? []).filter(
    ({ piece, cover }) => piece.course > 0 && cover.fromMm >= fromMm - NEAR_MM && cover.toMm <= toMm + NEAR_MM,
  );

/** The vertex of a room's side between which and this strip a corner unit's leg stands, and nothing else. */
const cornerBeside = (side: RoomSide, all: readonly PlacedCover[], { piece, cover }: PlacedCover): string | undefined =>
  all.find(({ piece: other, cover: leg }) => {
    if (other.course !== piece.course || !other.kind.endsWith('-corner') || other.vertex === undefined) return false;
    const [low, high] = side.vertices;
    const atLow = other.vertex === low && Math.abs(leg.fromMm - side.fromMm) < NEAR_MM;
    const atHigh = other.vertex === high && Math.abs(leg.toMm - side.toMm) < NEAR_MM;
    return (
      (atLow && Math.abs(cover.fromMm - leg.toMm) < NEAR_MM) || (atHigh && Math.abs(cover.toMm - leg.fromMm) < NEAR_MM)
    );
  })?.piece.vertex;

/** Comes a strip out before all else: wide enough, on one face alone, with no tie through it, not beside another strip? */
const comesOut = (
  ctx: Context,
  all: readonly PlacedCover[],
  strip: PlacedCover,
  tied: ReadonlySet<string>,
): boolean => {
  const { piece, cover } = strip;
  if (piece.kind !== 'strip' && piece.kind !== 'timber') return false;
  const isTapered = piece.taper !== undefined;
  if (isTapered || widthOf(strip) < STRIP_LEAST_MM - ctx.plan.gridMm / 1000 || piece.covers.length > 1) return false;
  const isHeld = all.some(
    ({ piece: other, cover: c }) =>
      other.id !== piece.id &&
      other.item === null &&
      other.course === piece.course &&
      (Math.abs(c.toMm - cover.fromMm) < NEAR_MM || Math.abs(c.fromMm - cover.toMm) < NEAR_MM),
  );
  return !isHeld && !tied.has(piece.id);
};

/** Strips on a side of a room that stand in every course of the corner beside them: the pieces from the bottom up, each strip a list. */
const stripsOn = (ctx: Context, side: RoomSide, tied: ReadonlySet<string>): PlacedCover[][] => {
  const all = coversOn(ctx, side);
  const byPlace = new Map<string, PlacedCover[]>();
  for (const c of all.filter((x) => comesOut(ctx, all, x, tied))) {
    const vertex = cornerBeside(side, all, c);
    if (vertex === undefined) continue;
    const key = `${vertex} ${c.cover.fromMm} ${c.cover.toMm}`;
    byPlace.set(key, [...(byPlace.get(key) ?? []), c]);
  }
  return [...byPlace.values()]
    .filter((pieces) => {
      const vertex = cornerBeside(side, all, pieces[0]!);
      return pieces.length === all.filter((c) => c.piece.vertex === vertex).length;
    })
    .map((pieces) => pieces.sort((a, b) => a.piece.course - b.piece.course));
};

const middle = (ring: readonly Vec[]): readonly [number, number, number] => [
  ring.reduce((sum, p) => sum + p.x, 0) / ring.length,
  ring.reduce((sum, p) => sum + p.y, 0) / ring.length,
  0,
];

/** How the widest unit of a room's faces gets out. */
const wayOut = (ctx: Context, { sides }: Room): string => {
  const [widest] = sides
    .flatMap((side) => coversOn(ctx, side))
    .filter(({ piece }) => piece.kind === 'panel')
    .sort((a, b) => widthOf(b) - widthOf(a));
  if (!widest) return '';
  const doors = ctx.plan.openings.filter((o) => {
    const isOn = sides.some((s) => s.wall === o.wall && o.fromMm >= s.fromMm - NEAR_MM && o.toMm <= s.toMm + NEAR_MM);
    return isOn && Math.min(o.toMm - o.fromMm, o.headMm - o.sillMm) >= WAY_OUT_MM - NEAR_MM;
  });
  const unit = `The widest unit of the room (${plainNumber(widthOf(widest), 0)} mm)`;
  return doors.length > 0
    ? ` ${unit} goes out through opening ${doors.map((o) => o.id).join(' or ')}.`
    : ` ${unit} goes out by crane: no opening of the room is ${WAY_OUT_MM} mm wide and high.`;
};

const named = (room: Room): string => {
  const walls = [...new Set(room.sides.map((s) => s.wall))];
  const size = `${plainNumber(room.areaMm2 / 1e6, 1)} m2`;
  return walls.length > 0 ? `The room between walls ${walls.join(', ')} (${size})` : `A closed room (${size})`;
};

export const roomFindings = (ctx: Context): Finding[] => {
  const tied = new Set(ctx.layout.ties.flatMap((t) => t.pieces));
  return roomsOf(ctx.plan).map((room): Finding => {
    const found = room.sides.flatMap((side) =>
      stripsOn(ctx, side, tied).map((pieces) => ({
        pieces,
        wall: side.wall,
        deg: directionDeg(ctx.walls.get(side.wall)!),
      })),
    );
    const at = middle(room.ring);
    const subject = room.sides[0]?.wall ?? 'room';
    const first = found.find((a) => found.some((b) => isApart(a.deg, b.deg)));
    const second = first && found.find((b) => isApart(first.deg, b.deg));
    if (first && second) {
      const words = [first, second].map(
        ({ pieces, wall }) =>
          `${pieces.map((p) => p.piece.id).join(', ')} (${plainNumber(widthOf(pieces[0]!), 1)} mm) on wall ${wall}`,
      );
      const message = `${named(room)} is struck by taking out first ${words.join(', then ')}.${wayOut(ctx, room)}`;
      return finding('check.strips', message, { at, subject });
    }
    const has = found.length > 0 ? 'a strip in one direction only' : 'no strip beside a corner';
    const message = `${named(room)} has ${has} that could be taken out first: its forms hold each other fast when they are stripped.`;
    return finding('check.no-strip', message, { at, subject });
  });
};
