/** Where faces, pieces and ties stand in plan, mm in the drawing's axes. Pieces stand outside the concrete, as deep as they are told to be drawn. */

import { chordOf, endStationMm, facePoint, tieLine, wallDirection, wallPoint } from '../../ground/arcs.js';
import { runsPast, wholeCover } from '../../ground/extent.js';
import { postOf } from '../../ground/pilasters.js';
import { add, leftOf, scale, sub, type Vec } from '../../ground/plane.js';
import { planIndex } from '../../ground/planIndex.js';
import type { Cover, Face, FacePlan, Piece, Side, Tie, VertexArm, Wall } from '../../ground/vocabulary.js';

/**
 * An edge of the concrete: origin at station 0 of its face, `along` towards rising stations, `out` away from the concrete. Of a curved face the directions
 * are those at its middle, and `arc` follows it.
 */
export interface Edge {
  readonly origin: Vec;
  readonly along: Vec;
  readonly out: Vec;
  readonly arc?: { readonly wall: Wall; readonly side: Side };
}

/** What the drawings look up again and again. */
export interface PlanIndex {
  readonly plan: FacePlan;
  readonly walls: ReadonlyMap<string, Wall>;
  readonly faces: ReadonlyMap<string, Face>;
}

export const indexPlan = (plan: FacePlan): PlanIndex => ({
  plan,
  walls: new Map(plan.walls.map((w) => [w.id, w])),
  faces: new Map(plan.faces.map((f) => [f.id, f])),
});

/** Edge of a wall's left or right side. */
export const sideEdge = (wall: Wall, side: Side): Edge => {
  const middle = wall.arc ? endStationMm(wall) / 2 : 0;
  const along = wallDirection(wall, middle);
  const out = scale(leftOf(along), side === 'left' ? 1 : -1);
  const straight = { origin: sub(facePoint(wall, side, middle), scale(along, middle)), along, out };
  return wall.arc ? { ...straight, arc: { wall, side } } : straight;
};

/** The directions at a station of an edge. */
export const edgeAt = (edge: Edge, stationMm: number): Pick<Edge, 'along' | 'out'> => {
  if (!edge.arc) return edge;
  const along = wallDirection(edge.arc.wall, stationMm);
  return { along, out: scale(leftOf(along), edge.arc.side === 'left' ? 1 : -1) };
};

/** Station at which a wall's end face stands: the outermost of its long faces there. */
const endStation = (plan: FacePlan, wall: Wall, side: 'start' | 'end'): number => {
  const long = planIndex(plan)
    .facesOfWall(wall.id)
    .filter((f) => f.side === 'left' || f.side === 'right');
  if (long.length === 0) return side === 'start' ? 0 : endStationMm(wall);
  return side === 'start' ? Math.min(...long.map((f) => f.fromMm)) : Math.max(...long.map((f) => f.toMm));
};

/** Edge of any face; null when the plan does not know its wall. */
export const faceEdge = (index: PlanIndex, face: Face): Edge | null => {
  const wall = index.walls.get(face.wall);
  if (wall === undefined) return null;
  if (face.stands) return { origin: face.stands.origin, along: face.stands.along, out: face.stands.outward };
  if (face.side === 'left' || face.side === 'right') return sideEdge(wall, face.side);
  if (face.side === 'pilaster') return null;
  const station = endStation(index.plan, wall, face.side);
  const axis = wallDirection(wall, station);
  const origin = wallPoint(wall, station, wall.thicknessMm / 2);
  return { origin, along: scale(leftOf(axis), -1), out: face.side === 'start' ? scale(axis, -1) : axis };
};

/** The point at a station of an edge, `depthMm` outside the concrete. */
export const onEdge = (edge: Edge, stationMm: number, depthMm = 0): Vec =>
  edge.arc
    ? facePoint(edge.arc.wall, edge.arc.side, stationMm, depthMm)
    : add(add(edge.origin, scale(edge.along, stationMm)), scale(edge.out, depthMm));

/** Plan of a cover: a rectangle outside the face, on a curved one along its chord, of tapered fill as it tapers. */
const coverShape = (edge: Edge, piece: Piece, cover: Cover, depthMm: number): readonly Vec[] => {
  const { taper } = piece;
  const chord = edge.arc ? chordOf(edge.arc.wall, edge.arc.side, cover, taper !== undefined) : null;
  if (!chord || piece.course === 0)
    return [
      onEdge(edge, cover.fromMm),
      onEdge(edge, cover.toMm),
      onEdge(edge, cover.toMm, depthMm),
      onEdge(edge, cover.fromMm, depthMm),
    ];
  const width = cover.toMm - cover.fromMm;
  const [face, back] = [(taper?.faceMm ?? width) / 2, (taper?.backMm ?? width) / 2];
  const at = (x: number, y: number) => add(chord.at, add(scale(chord.along, x), scale(chord.outward, y)));
  return [at(-face, 0), at(face, 0), at(back, depthMm), at(-back, depthMm)];
};

/** Where lines at `depthMm` outside two edges meet, seen from their vertex; null for edges that lie almost in one line back to back. */
const mitre = (a: Edge, b: Edge, depthMm: number): Vec | null => {
  const k = 1 + a.out.x * b.out.x + a.out.y * b.out.y;
  return k < 0.05 ? null : scale(add(a.out, b.out), depthMm / k);
};

/** Edge of the face that an arm lies on. */
export const armEdge = (index: PlanIndex, arm: VertexArm): Edge | null => {
  const wall = index.walls.get(arm.wall);
  if (wall === undefined) return null;
  if (arm.side === 'left' || arm.side === 'right') return sideEdge(wall, arm.side);
  const face = index.faces.get(arm.face ?? '');
  return face === undefined ? null : faceEdge(index, face);
};

/** How far a corner piece reaches along one arm: to the far end of its cover there, 0 without one. */
const reach = (index: PlanIndex, piece: Piece, arm: VertexArm): number => {
  const lengths = piece.covers
    .filter((c) => {
      const face = index.faces.get(c.face);
      return arm.face === undefined ? face?.wall === arm.wall && face.side === arm.side : c.face === arm.face;
    })
    .map((c) => (arm.direction === 1 ? c.toMm - arm.stationMm : arm.stationMm - c.fromMm));
  return Math.max(0, ...lengths);
};

/** A corner piece as one outline round its vertex: an L in a re-entrant corner, a kite (with legs, if it has any) on a salient one. */
const cornerShape = (index: PlanIndex, piece: Piece, depthMm: number): readonly Vec[] | null => {
  const vertex = planIndex(index.plan).vertices.get(piece.vertex ?? '');
  if (vertex === undefined) return null;
  const [a, b] = vertex.arms;
  const edges = [armEdge(index, a), armEdge(index, b)] as const;
  if (edges[0] === null || edges[1] === null) return null;
  const tip = mitre(edges[0], edges[1], depthMm);
  if (tip === null) return null;
  const farA = a.stationMm + a.direction * reach(index, piece, a);
  const farB = b.stationMm + b.direction * reach(index, piece, b);
  return [
    onEdge(edges[0], a.stationMm),
    onEdge(edges[0], farA),
    onEdge(edges[0], farA, depthMm),
    add(vertex.at, tip),
    onEdge(edges[1], farB, depthMm),
    onEdge(edges[1], farB),
  ];
};

/** Outlines of a piece in plan; none where the plan does not say where it stands. */
export const pieceShapes = (index: PlanIndex, piece: Piece, depthMm: number): readonly (readonly Vec[])[] => {
  const corner = piece.vertex === undefined ? null : cornerShape(index, piece, depthMm);
  if (corner !== null) return [corner];
  const post = postOf(index.plan, piece);
  if (post) return pieceShapes(index, { ...piece, covers: [post.cover] }, post.depthMm);
  const covers = runsPast(piece) ? [wholeCover(index.plan, piece)!] : piece.covers;
  return covers.flatMap((cover) => {
    const face = index.faces.get(cover.face);
    const edge = face === undefined ? null : faceEdge(index, face);
    return edge === null ? [] : [coverShape(edge, piece, cover, depthMm)];
  });
};

/** Both ends of a tie, `depthMm` outside the concrete, left first. */
export const tieEnds = (
  index: PlanIndex,
  tie: Tie,
  coverOf: (piece: string) => Cover | undefined,
  depthMm: number,
): readonly [Vec, Vec] | null => {
  const wall = index.walls.get(tie.wall);
  return wall === undefined ? null : tieLine(wall, tie, coverOf, depthMm);
};
