/**
 * Where faces and pieces stand in plan. A face is seen from outside: its own x axis runs from left to right as a person sees it who stands before it,
 * y into the concrete. On a left face stations therefore fall along x, on a right face they rise; 'start' and 'end' faces measure across from the left.
 */

import { chordOf, endStationMm, wallDirection, wallPoint } from './arcs.js';
import { byNumber } from './order.js';
import { add, angleOf, cross, distance, leftOf, scale, sub, type Vec } from './plane.js';
import { planIndex } from './planIndex.js';
import { runsOfWall } from './runs.js';
import type { Cover, Face, FacePlan, Piece, Vertex, VertexArm, Wall } from './vocabulary.js';

/** On a curved wall the directions are those at the face's middle; `onFace` and `frameAt` follow the arc. */
export interface FaceFrame {
  readonly face: Face;
  readonly wall: Wall;
  /** The point of the face at station 0; of a curved face as if it ran on straight from its middle. */
  readonly origin: Vec;
  /** Unit vector of rising stations. */
  readonly along: Vec;
  /** Unit vector away from the concrete. */
  readonly outward: Vec;
  /** +1: stations rise from left to right as seen from outside. */
  readonly seen: 1 | -1;
}

/** Where a block stands: insertion point and direction of its own x axis. */
export interface Pose {
  readonly at: Vec;
  readonly rotationDeg: number;
}

const DEGREES_PER_RAD = 180 / Math.PI;

/** Degrees in [0, 360), free of noise below 1e-9. */
export const degrees = (rad: number): number => {
  const turn = Math.round((((rad * DEGREES_PER_RAD) % 360) + 360) * 1e9) / 1e9;
  return turn % 360;
};

/** A direction in which a text reads from the bottom or the right: in (-90, 90]. */
export const readable = (rotationDeg: number): number => {
  const turn = ((rotationDeg % 360) + 360) % 360;
  return turn > 90 && turn <= 270 ? turn - 180 : turn;
};

export const direction = (rotationDeg: number): Vec => ({
  x: Math.cos(rotationDeg / DEGREES_PER_RAD),
  y: Math.sin(rotationDeg / DEGREES_PER_RAD),
});

/** A point of a block in the drawing. */
export const inPose = (pose: Pose, local: Vec): Vec => {
  const x = direction(pose.rotationDeg);
  return add(pose.at, add(scale(x, local.x), scale(leftOf(x), local.y)));
};

/** Stations at which the concrete of a wall ends, for its start and end faces: the mean where its sides differ. */
const endStations = (plan: FacePlan, wall: Wall): readonly [number, number] => {
  const runs = runsOfWall(plan, wall.id);
  const [first, last] = [runs[0], runs.at(-1)];
  if (!first || !last) return [0, endStationMm(wall)];
  return [(first.start.leftMm + first.start.rightMm) / 2, (last.end.leftMm + last.end.rightMm) / 2];
};

/** The frame of a face. Throws when the face names a wall that the plan does not have. */
export const frameOf = (plan: FacePlan, face: Face): FaceFrame => {
  const wall = planIndex(plan).walls.get(face.wall);
  if (!wall) throw new Error(`face ${face.id} names wall ${face.wall}, which the plan does not have`);
  const half = wall.thicknessMm / 2;
  const [startMm, endMm] = endStations(plan, wall);
  const middleMm = face.side === 'start' ? startMm : face.side === 'end' ? endMm : (face.fromMm + face.toMm) / 2;
  const u = wallDirection(wall, middleMm);
  const n = leftOf(u);
  if (face.stands) {
    const { origin, along, outward } = face.stands;
    return { face, wall, origin, along, outward, seen: cross(along, outward) < 0 ? 1 : -1 };
  }
  const at = (stationMm: number, offsetMm: number): Vec =>
    wall.arc
      ? add(wallPoint(wall, middleMm, offsetMm), scale(u, stationMm - middleMm))
      : wallPoint(wall, stationMm, offsetMm);
  const rightwards = scale(n, -1);
  switch (face.side) {
    case 'left':
      return { face, wall, origin: at(0, half), along: u, outward: n, seen: -1 };
    case 'right':
      return { face, wall, origin: at(0, -half), along: u, outward: rightwards, seen: 1 };
    case 'start':
      return { face, wall, origin: at(startMm, half), along: rightwards, outward: scale(u, -1), seen: 1 };
    case 'end':
      return { face, wall, origin: at(endMm, half), along: rightwards, outward: u, seen: -1 };
    case 'pilaster':
      throw new Error(`face ${face.id} of a pilaster does not say where it stands`);
  }
};

/** A point of a frame as if its face were straight: of the frame of a cover, on the cover's chord. */
export const inFrame = (frame: FaceFrame, stationMm: number, outwardMm = 0): Vec =>
  add(frame.origin, add(scale(frame.along, stationMm), scale(frame.outward, outwardMm)));

export const onFace = (frame: FaceFrame, stationMm: number, outwardMm = 0): Vec => {
  const { wall, face } = frame;
  if (wall.arc && (face.side === 'left' || face.side === 'right')) {
    const offset = wall.thicknessMm / 2 + outwardMm;
    return wallPoint(wall, stationMm, face.side === 'left' ? offset : -offset);
  }
  return inFrame(frame, stationMm, outwardMm);
};

/** The frame with the directions that hold at a station: other ones than its own on curved faces alone. */
export const frameAt = (frame: FaceFrame, stationMm: number): FaceFrame => {
  const { wall, face } = frame;
  if (!wall.arc || (face.side !== 'left' && face.side !== 'right')) return frame;
  const along = wallDirection(wall, stationMm);
  const outward = scale(leftOf(along), face.side === 'left' ? 1 : -1);
  return { ...frame, origin: sub(onFace(frame, stationMm), scale(along, stationMm)), along, outward };
};

/** Direction from left to right as seen from outside. */
export const seenDirection = (frame: FaceFrame): Vec => scale(frame.along, frame.seen);

/** The frame as a piece over these stations stands in it: along its chord on a curved face. */
export const frameOfCover = (frame: FaceFrame, cover: Cover, isTaper = false): FaceFrame => {
  const chord = chordOf(frame.wall, frame.face.side, cover, isTaper);
  if (!chord) return frame;
  const middle = (cover.fromMm + cover.toMm) / 2;
  const { along, outward } = chord;
  return { ...frame, origin: sub(chord.at, scale(along, middle)), along, outward };
};

export const coverPose = (frame: FaceFrame, cover: Cover, isTaper = false): Pose => {
  const own = frameOfCover(frame, cover, isTaper);
  return {
    at: inFrame(own, (cover.fromMm + cover.toMm) / 2),
    rotationDeg: degrees(angleOf(seenDirection(own))),
  };
};

/** Frames of all faces by id. */
export const framesOf = (plan: FacePlan): ReadonlyMap<string, FaceFrame> =>
  new Map(plan.faces.map((face) => [face.id, frameOf(plan, face)]));

export interface CornerPlace extends Pose {
  readonly vertex: Vertex;
  /** Angle between the arms, degrees, anticlockwise from the first. */
  readonly openingDeg: number;
  /** Places in vertex.arms of the arm along the block's x axis and of the other. */
  readonly order: readonly [0 | 1, 0 | 1];
}

/** A corner unit's place: its x axis runs along the arm from which the other one is reached anticlockwise. */
export const cornerPlace = (plan: FacePlan, vertex: Vertex): CornerPlace => {
  const directions = vertex.arms.map((arm) => {
    const wall = planIndex(plan).walls.get(arm.wall);
    if (!wall) throw new Error(`vertex ${vertex.id} names wall ${arm.wall}, which the plan does not have`);
    // A return runs across its wall, stations rising from the left.
    const isReturn = arm.side === 'start' || arm.side === 'end';
    const along = wallDirection(wall, isReturn ? 0 : arm.stationMm);
    return scale(isReturn ? scale(leftOf(along), -1) : along, arm.direction);
  });
  const [a, b] = [directions[0]!, directions[1]!];
  const turn = cross(a, b);
  const order: readonly [0 | 1, 0 | 1] = turn > 0 ? [0, 1] : [1, 0];
  const first = directions[order[0]]!;
  const opening = Math.atan2(Math.abs(turn), a.x * b.x + a.y * b.y);
  return {
    vertex,
    order,
    at: vertex.at,
    rotationDeg: degrees(angleOf(first)),
    openingDeg: Math.round(opening * DEGREES_PER_RAD * 1e9) / 1e9,
  };
};

/** The vertex at which a corner piece stands: the one that it names, or the one of its kind at its node. */
export const vertexOf = (plan: FacePlan, piece: Piece): Vertex | null => {
  const wanted = piece.kind === 'outside-corner' ? 'salient' : 're-entrant';
  const { vertices, verticesAtNode } = planIndex(plan);
  return vertices.get(piece.vertex ?? '') ?? verticesAtNode(piece.node).find((v) => v.kind === wanted) ?? null;
};

/** Id of the face of a vertex' arm, null where the plan has none. */
export const armFace = (plan: FacePlan, vertex: Vertex, arm: 0 | 1): string | null => {
  const { wall, side, face } = vertex.arms[arm];
  return (
    face ??
    planIndex(plan)
      .facesOfWall(wall)
      .find((f) => f.side === side)?.id ??
    null
  );
};

/** The arm of a vertex that lies on a face. */
export const armOnFace = (vertex: Vertex, face: Face): VertexArm | undefined =>
  vertex.arms.find((a) => (a.face === undefined ? a.wall === face.wall && a.side === face.side : a.face === face.id));

/** The end face that a bulkhead without covers closes: of a wall at its node, the end nearest to the node. */
export const endFaceAt = (plan: FacePlan, nodeId: string | undefined): Face | null => {
  const node = planIndex(plan).nodes.get(nodeId ?? '');
  if (!node) return null;
  const ends = plan.faces
    .filter((f) => (f.side === 'start' || f.side === 'end') && node.walls.includes(f.wall))
    .map((face) => ({ face, awayMm: distance(onFace(frameOf(plan, face), 0), node.at) }))
    .sort(byNumber((e) => e.awayMm));
  return ends[0]?.face ?? null;
};
