/**
 * Strips for stripping (rule T17): in each closed room timber that comes out first stands beside a corner unit, in two directions. It takes part in the
 * length of both faces, as any strip beside a leg: on the salient side the rigid group grows by it, at the end of a stem it stands on both faces.
 *
 * Where each stands is a choice of the search like legs and joints: a place is chosen or not, and each direction of a room wants one that is. What stands
 * there is no fill and costs nothing by itself; a direction without one weighs less than any failure and more than all else.
 */

import { holdsEdge } from '../ground/cornerAngles.js';
import { byNumber, inOrder } from '../ground/order.js';
import { directionDeg, isApart, type Room, type RoomSide, roomsOf, turnDeg } from '../ground/rooms.js';
import type { FacePlan, Run } from '../ground/vocabulary.js';
import type { LegOf } from './bound.js';
import type { Cost, CostOrder } from './cost.js';
import type { Feature } from './features.js';

/** What a direction of a room without a strip weighs, in failures: a fraction that binary numbers hold exactly. */
export const STRIP_MISSING = 1 / 16;
/** What each strip more than one weighs. */
export const STRIP_TOO_MANY = 1 / 64;
/** Places that are looked at in one direction of a room. */
const PLACES_MOST = 8;
/** With more rooms than this no strip stands beside a tee where it need not, and then on one side of the room: tees couple whole rows of rooms. */
const ROOMS_WITH_TEES = 4;
/** Sides of a room that turn by less than this from the longest one count as its direction. */
const ALONG_DEG = 5;

/** A place beside the legs of one end of a stretch where a strip may stand: at a stem's end and at a cross on both faces at once. */
export interface StripPlace {
  readonly id: string;
  /** Vertices whose legs it stands beside. */
  readonly vertices: readonly string[];
  readonly isTee: boolean;
}

/** One direction of a room, with the places of which one is to be chosen. */
export interface StripDirection {
  readonly places: readonly string[];
  readonly cost: (chosen: number) => Cost;
}

const nameOf = (vertex: string, wall: string): string => `strip ${vertex} ${wall}`;

const placeOf = (wall: string, vertices: readonly string[], isTee = false): StripPlace => ({
  id: nameOf(vertices[0]!, wall),
  vertices,
  isTee,
});

/** Legs with the strips that were chosen, `chosenAt` each place. */
export const withStrips = (legOf: (vertex: string) => number, chosenAt: (place: string) => number | undefined): LegOf =>
  Object.assign((vertex: string) => legOf(vertex), {
    hasStrip: (vertex: string, wall: string) => chosenAt(nameOf(vertex, wall)) === 1,
  });

/** Places of a feature of a run: the lower first. */
export const stripPlaces = (feature: Feature, { wall }: Run): StripPlace[] => {
  if (feature.kind === 'stems') {
    if (feature.stems.length > 2 || feature.pilasters.length > 0) return [];
    const { stems } = feature;
    return [
      placeOf(
        wall,
        stems.map((s) => s.fromVertex),
        stems.length === 1,
      ),
      placeOf(
        wall,
        stems.map((s) => s.toVertex),
        stems.length === 1,
      ),
    ];
  }
  if (feature.kind !== 'end') return [];
  const { end } = feature;
  if (end.kind === 'stem') return [placeOf(wall, [end.leftVertex, end.rightVertex])];
  if (end.kind !== 'corner' || !holdsEdge(end.deflectionDeg)) return [];
  return [placeOf(wall, [end.inner === 'left' ? end.leftVertex : end.rightVertex])];
};

/** The sides of a room in two directions: along its longest side, and apart from that. */
const directionsOf = (plan: FacePlan, { sides }: Room): (readonly RoomSide[])[] => {
  const walls = new Map(plan.walls.map((w) => [w.id, w]));
  const turns = sides.map((side) => ({ side, deg: directionDeg(walls.get(side.wall)!) }));
  const [longest] = [...turns].sort(inOrder(byNumber(({ side }) => side.fromMm - side.toMm)));
  if (!longest) return [];
  return [
    turns.filter(({ deg }) => turnDeg(deg, longest.deg) < ALONG_DEG).map(({ side }) => side),
    turns.filter(({ deg }) => isApart(deg, longest.deg)).map(({ side }) => side),
  ];
};

type WallPlace = StripPlace & { readonly wall: string };

/** Openings in a side of a room: a strip stands better on a side without. */
const openingsOn = (plan: FacePlan, { wall, fromMm, toMm }: RoomSide): number =>
  plan.openings.filter((o) => o.wall === wall && o.toMm > fromMm && o.fromMm < toMm).length;

/** Of many rooms: the places that stand beside no tee, or those of one side. */
const fewOf = (plan: FacePlan, sides: readonly RoomSide[], at: (side: RoomSide) => readonly WallPlace[]) => {
  const plain = sides.flatMap(at).filter((p) => !p.isTee);
  if (plain.length > 0) return plain;
  const [best] = [...sides].sort(
    inOrder(
      byNumber((s) => openingsOn(plan, s)),
      byNumber((s) => s.fromMm - s.toMm),
    ),
  );
  return best ? at(best) : [];
};

/** The directions of all rooms; `places` are those of the runs that are laid out. */
export const stripDirections = (plan: FacePlan, places: readonly WallPlace[], order: CostOrder): StripDirection[] => {
  const byArm = new Map(places.flatMap((p) => p.vertices.map((v) => [nameOf(v, p.wall), p] as const)));
  const at = ({ wall, vertices }: RoomSide) => vertices.flatMap((v) => byArm.get(nameOf(v, wall)) ?? []);
  // One of several is enough; more than one is no use.
  const cost = (chosen: number) =>
    order.cost({ failures: chosen === 0 ? STRIP_MISSING : STRIP_TOO_MANY * (chosen - 1) });
  const rooms = roomsOf(plan);
  return rooms.flatMap((room) =>
    directionsOf(plan, room).flatMap((sides): StripDirection[] => {
      const tried = rooms.length > ROOMS_WITH_TEES ? fewOf(plan, sides, at) : sides.flatMap(at);
      const own = [...new Set(tried.map((p) => p.id))].slice(0, PLACES_MOST);
      return own.length > 0 ? [{ places: own, cost }] : [];
    }),
  );
};
