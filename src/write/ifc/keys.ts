/**
 * Keys of walls, pieces and ties, from which their GlobalIds are made. A key names what the thing stands on (the architect's wall, the side, the station),
 * never a running number, so that a change elsewhere in the building leaves it as it was.
 */

import { armFace, endFaceAt, vertexOf } from '../../ground/places.js';
import { plainNumber } from '../../ground/units.js';
import type { CheckedTie, FacePlan, Piece, Wall } from '../../ground/vocabulary.js';

const mm = (value: number): string => plainNumber(value, 0);
/** Stations are told to a tenth of a mm: inch gear has no whole mm. */
const station = (value: number): string => plainNumber(value, 1);

const placeOf = (wall: Wall): string =>
  `${mm(wall.start.x)},${mm(wall.start.y)}>${mm(wall.end.x)},${mm(wall.end.y)}/${mm(wall.thicknessMm)}${wall.arc ? `~${mm(wall.arc.centre.x)},${mm(wall.arc.centre.y)}` : ''}`;

/** Each key once: further ones of the same text get '#2', '#3' in the order of the list. */
const distinct = <T>(items: readonly T[], keyOf: (item: T) => string): Map<T, string> => {
  const counts = new Map<string, number>();
  return new Map(
    items.map((item) => {
      const key = keyOf(item);
      const n = (counts.get(key) ?? 0) + 1;
      counts.set(key, n);
      return [item, n === 1 ? key : `${key}#${n}`];
    }),
  );
};

/**
 * Keys of walls by id. Of a model: the GlobalIds of the architect's walls, with the place where several of our walls come from the same ones.
 * Of a drawing: the place (axis and thickness, to the mm), since handles change when a drawing is saved anew.
 */
export const wallKeys = (plan: FacePlan, isModel: boolean): ReadonlyMap<string, string> => {
  const sourcesOf = (wall: Wall): string => [...wall.sources].sort().join('+');
  const shared = new Map<string, number>();
  for (const wall of plan.walls) shared.set(sourcesOf(wall), (shared.get(sourcesOf(wall)) ?? 0) + 1);
  const keyOf = (wall: Wall): string => {
    const sources = sourcesOf(wall);
    if (!isModel || sources === '') return placeOf(wall);
    return shared.get(sources) === 1 ? sources : `${sources}@${placeOf(wall)}`;
  };
  const keys = distinct(plan.walls, keyOf);
  return new Map(plan.walls.map((wall) => [wall.id, keys.get(wall)!]));
};

/** A station of a face: its wall, its side (a pilaster's face by where it stands) and the station. */
export const faceKeys = (
  plan: FacePlan,
  walls: ReadonlyMap<string, string>,
): ((faceId: string, stationMm: number) => string) => {
  const faces = new Map(plan.faces.map((f) => [f.id, f]));
  return (faceId, stationMm) => {
    const face = faces.get(faceId);
    const { origin, along } = face?.stands ?? {};
    const place =
      origin && along
        ? `pilaster ${mm(origin.x)},${mm(origin.y)}>${plainNumber(along.x, 3)},${plainNumber(along.y, 3)}`
        : face?.side;
    return face ? `${walls.get(face.wall) ?? ''}:${place}:${station(stationMm)}` : faceId;
  };
};

/** Keys of pieces: kind, course and what they stand on; corners by the vertex as each of its two walls sees it. */
export const pieceKeys = (
  plan: FacePlan,
  pieces: readonly Piece[],
  walls: ReadonlyMap<string, string>,
): ReadonlyMap<Piece, string> => {
  const onFace = faceKeys(plan, walls);
  const places = (piece: Piece): string[] => {
    const vertex = piece.kind.endsWith('corner') ? vertexOf(plan, piece) : null;
    if (vertex) {
      return vertex.arms.map((arm, i) => {
        const face = armFace(plan, vertex, i === 0 ? 0 : 1);
        return face ? onFace(face, arm.stationMm) : `${walls.get(arm.wall) ?? ''}:${arm.side}`;
      });
    }
    if (piece.covers.length > 0) return piece.covers.map((c) => onFace(c.face, c.fromMm));
    const end = endFaceAt(plan, piece.node);
    return end ? [onFace(end.id, end.fromMm)] : [];
  };
  const byLevel = [...pieces].sort((a, b) => a.baseMm - b.baseMm);
  return distinct(byLevel, (piece) => `${piece.kind}|${places(piece).sort().join('&')}|${piece.course}`);
};

/** Keys of ties: wall, row and station. */
export const tieKeys = (
  ties: readonly CheckedTie[],
  walls: ReadonlyMap<string, string>,
): ReadonlyMap<CheckedTie, string> =>
  distinct(ties, (tie) => `tie|${walls.get(tie.wall) ?? tie.wall}:${station(tie.stationMm)}|${tie.row}`);

/** Keys of what stands before a face: kind, place and level of each. */
export const gearKeys = <T extends { readonly face: string }>(
  kind: string,
  items: readonly T[],
  placeOf: (item: T) => { readonly stationMm: number; readonly levelMm: number },
  onFace: (faceId: string, stationMm: number) => string,
): ReadonlyMap<T, string> =>
  distinct(items, (item) => {
    const { stationMm, levelMm } = placeOf(item);
    return `${kind}|${onFace(item.face, stationMm)}|${station(levelMm)}`;
  });
