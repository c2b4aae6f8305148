/**
 * Curved walls in plan: one way from a station to a point and a direction, for straight and curved walls alike, and where the chords of forms stand.
 *
 * A form on a curved wall is a chord of the inner face's arc: both of its edges lie on the arc of radius R, its middle the versine
 * R - sqrt(R^2 - w^2/4), about w^2/(8R), nearer to the centre. Opposite it, on the outer face, stands a form of the same width, parallel to it, the wall's
 * thickness away: so ties are square to both. Plane geometry of chord and circle.
 */

import { add, leftOf, pointAlong, scale, sub, unit, type Vec } from './plane.js';
import { roundTo } from './units.js';
import type { Cover, FaceSide, Tie, Wall, WallArc } from './vocabulary.js';

/** Radius along which the stations of a curved wall are measured: its outer face's. */
export const stationRadiusMm = (arc: WallArc, thicknessMm: number): number => arc.innerRadiusMm + thicknessMm;

/** Distance of a chord's middle from the centre; the radius itself for a width that no chord has. */
export const chordRadiusMm = (radiusMm: number, widthMm: number): number =>
  widthMm < 2 * radiusMm ? Math.sqrt(radiusMm ** 2 - widthMm ** 2 / 4) : radiusMm;

/** How far a chord's middle stands off the arc on which its ends lie. */
export const versineMm = (radiusMm: number, widthMm: number): number => radiusMm - chordRadiusMm(radiusMm, widthMm);

/** What tells the place of a wall. */
export type PlacedWall = Pick<Wall, 'start' | 'end' | 'thicknessMm' | 'arc'>;
type CurvedWall = PlacedWall & { readonly arc: WallArc };

const isCurved = (wall: PlacedWall): wall is CurvedWall => wall.arc !== undefined;

const angleAt = ({ arc, thicknessMm }: CurvedWall, stationMm: number): number =>
  arc.fromRad + stationMm / stationRadiusMm(arc, thicknessMm);

/** The point at a station of a wall's axis, moved `offsetMm` to its left. */
export const wallPoint = (wall: PlacedWall, stationMm: number, offsetMm = 0): Vec => {
  if (!isCurved(wall)) return pointAlong(wall.start, wall.end, stationMm, offsetMm);
  const rad = angleAt(wall, stationMm);
  const radius = wall.arc.innerRadiusMm + wall.thicknessMm / 2 - offsetMm;
  return add(wall.arc.centre, { x: radius * Math.cos(rad), y: radius * Math.sin(rad) });
};

/** The point of a wall's face (or of its axis) at a station. */
export const facePoint = (wall: PlacedWall, side: 'left' | 'right' | 'axis', stationMm: number, beyondMm = 0): Vec => {
  const half = wall.thicknessMm / 2 + beyondMm;
  return wallPoint(wall, stationMm, side === 'axis' ? 0 : side === 'left' ? half : -half);
};

/** Unit vector of rising stations there. */
export const wallDirection = (wall: PlacedWall, stationMm: number): Vec => {
  if (!isCurved(wall)) return unit(sub(wall.end, wall.start));
  const rad = angleAt(wall, stationMm);
  return { x: -Math.sin(rad), y: Math.cos(rad) };
};

/** Sweeps that fall short of a full turn by less than this are rings. */
const RING_RAD = 1e-6;
export const isWholeTurn = (sweepRad: number): boolean => sweepRad >= 2 * Math.PI - RING_RAD;

export const isRing = ({ arc }: PlacedWall): boolean => arc !== undefined && isWholeTurn(arc.sweepRad);

/** The station at which a wall ends: its length, of a curved wall that of its outer face. */
export const endStationMm = (wall: Wall): number =>
  wall.arc ? wall.arc.sweepRad * stationRadiusMm(wall.arc, wall.thicknessMm) : wall.lengthMm;

/** What a length in stations measures on a side of a wall: on the inner face of a curved wall less. */
export const sideShare = ({ arc, thicknessMm }: Wall, side: FaceSide): number =>
  arc && side === 'left' ? arc.innerRadiusMm / stationRadiusMm(arc, thicknessMm) : 1;

/** A straight line of the forms' contact faces: its middle, the direction of rising stations, and away from the concrete. */
export interface Chord {
  readonly at: Vec;
  readonly along: Vec;
  readonly outward: Vec;
}

/**
 * The chord of a form over these stations of a curved wall; null on a straight wall and on the ends of one. Tapered fill, whose edges are its neighbours',
 * stands where the arc is.
 */
export const chordOf = (
  wall: Wall,
  side: FaceSide,
  { fromMm, toMm }: Pick<Cover, 'fromMm' | 'toMm'>,
  isTaper = false,
): Chord | null => {
  if (!isCurved(wall) || (side !== 'left' && side !== 'right')) return null;
  const rad = angleAt(wall, (fromMm + toMm) / 2);
  const away = { x: Math.cos(rad), y: Math.sin(rad) };
  const { centre, innerRadiusMm } = wall.arc;
  const inner = isTaper ? innerRadiusMm : chordRadiusMm(innerRadiusMm, toMm - fromMm);
  const radius = side === 'left' ? inner : inner + wall.thicknessMm;
  return { at: add(centre, scale(away, radius)), along: leftOf(away), outward: scale(away, side === 'left' ? -1 : 1) };
};

/** A tie's two ends on the faces of the concrete: left, right. On a curved wall it stands square to the chord of the form that it passes. */
export const tieLine = (
  wall: Wall,
  tie: Tie,
  coverOf: (piece: string) => Cover | undefined,
  beyondMm = 0,
): readonly [Vec, Vec] => {
  const ends = ([0, 1] as const).map((i) => {
    const side = i === 0 ? 'left' : 'right';
    const cover = wall.arc ? coverOf(tie.pieces[i]) : undefined;
    const chord = cover ? chordOf(wall, side, cover) : null;
    if (!chord || !cover) return facePoint(wall, side, tie.stationMm, beyondMm);
    const x = tie.stationMm - (cover.fromMm + cover.toMm) / 2;
    return add(chord.at, add(scale(chord.along, x), scale(chord.outward, beyondMm)));
  });
  return [ends[0]!, ends[1]!];
};

/** How far the drawn outline of a curved wall stays from its arcs, mm; and the most corners that an arc is given. */
const OFF_ARC_MM = 0.5;
const CORNERS_MOST = 720;
/** Places keep a millionth of a mm. */
const PLACES = 6;

/** Points of both faces from `fromMm` to `toMm`, of the outer face first: none on a straight wall. */
export const arcFaces = (wall: Wall, fromMm: number, toMm: number): readonly [readonly Vec[], readonly Vec[]] => {
  if (!wall.arc) return [[], []];
  const outer = stationRadiusMm(wall.arc, wall.thicknessMm);
  const step = 2 * Math.acos(Math.max(0, 1 - OFF_ARC_MM / outer));
  const pieces = Math.min(CORNERS_MOST, Math.max(4, Math.ceil((toMm - fromMm) / outer / step)));
  const points = (side: 'left' | 'right'): Vec[] =>
    Array.from({ length: pieces + 1 }, (_, i) => facePoint(wall, side, fromMm + ((toMm - fromMm) * i) / pieces)).map(
      (p) => ({ x: roundTo(p.x, PLACES), y: roundTo(p.y, PLACES) }),
    );
  return [points('right'), points('left')];
};

/** Outlines of the concrete of a curved wall, the outer one anticlockwise: two where it closes upon itself. */
export const arcOutline = (wall: Wall): Vec[][] => {
  const [outer, inner] = arcFaces(wall, 0, endStationMm(wall));
  const back = [...inner].reverse();
  return isRing(wall) ? [outer.slice(1), back.slice(1)] : [[...outer, ...back]];
};

/** Points that tell how far a wall reaches. */
export const reachPoints = (wall: Wall): readonly Vec[] => {
  if (!wall.arc) return [wall.start, wall.end];
  const endMm = endStationMm(wall);
  return Array.from({ length: 17 }, (_, i) => wallPoint(wall, (endMm * i) / 16));
};
