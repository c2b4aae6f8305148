/**
 * Where each piece stands in space and what body it has. A unit's own axes are those of the catalogue's holes: x from its left edge as seen from outside,
 * z from its foot, y into the concrete, so that its body lies at y from minus the frame's depth to 0; a corner unit's origin is the foot of its vertex,
 * its x axis along the first arm. Lengths mm, levels in the drawing's datum.
 */

import { wholeCover } from '../../ground/extent.js';
import { postOf } from '../../ground/pilasters.js';
import {
  armFace,
  cornerPlace,
  direction,
  endFaceAt,
  type FaceFrame,
  frameOfCover,
  framesOf,
  inFrame,
  seenDirection,
  vertexOf,
} from '../../ground/places.js';
import { add, type Vec } from '../../ground/plane.js';
import type { Catalogue, Cover, FacePlan, FormUnit, Piece, Taper, Vertex, Wall } from '../../ground/vocabulary.js';

export type Body =
  /** x 0 … width, y -depth … 0, z 0 … height. */
  | { readonly kind: 'box'; readonly widthMm: number; readonly depthMm: number; readonly heightMm: number }
  /** An outline in x and y, anticlockwise or clockwise, swept up by the height. */
  | { readonly kind: 'prism'; readonly outline: readonly Vec[]; readonly heightMm: number };

export interface Standing {
  readonly piece: Piece;
  /** The wall whose forms it belongs to; a corner's is that of its first face. */
  readonly wall: Wall;
  /** Every wall that it touches. */
  readonly walls: readonly string[];
  /** The face that it stands on and, of a corner, the other one. */
  readonly faces: readonly string[];
  /** Origin of its own axes in plan, and the level of it. */
  readonly at: Vec;
  readonly levelMm: number;
  /** Direction in plan of its own x axis as it would stand upright. */
  readonly along: Vec;
  /** Lies on its side: own x upwards, own z towards -along. */
  readonly turned: boolean;
  readonly body: Body;
}

const RAD_PER_DEG = Math.PI / 180;
const polar = (lengthMm: number, deg: number): Vec => ({
  x: lengthMm * Math.cos(deg * RAD_PER_DEG),
  y: lengthMm * Math.sin(deg * RAD_PER_DEG),
});

/** Points nearer to each other than this are one (mm). */
const SAME_MM = 1e-6;

const withoutRepeats = (ring: readonly Vec[]): Vec[] =>
  ring.filter((p, i) => {
    const before = ring[(i + ring.length - 1) % ring.length]!;
    return Math.hypot(p.x - before.x, p.y - before.y) > SAME_MM;
  });

/**
 * Outline of a corner unit round the vertex: legs along x and along `openingDeg`, the frames between them at a re-entrant vertex and outside them at a
 * salient one. Legs too short for the frame's depth get a frame as deep as fits.
 */
export const cornerOutline = (
  legsMm: readonly [number, number],
  depthMm: number,
  openingDeg: number,
  isSalient: boolean,
): Vec[] => {
  const [a, b] = legsMm;
  const half = (openingDeg / 2) * RAD_PER_DEG;
  const deepMm = isSalient ? depthMm : Math.min(depthMm, Math.min(a, b) * Math.tan(half));
  const out = isSalient ? -1 : 1;
  const tipA = polar(a, 0);
  const tipB = polar(b, openingDeg);
  const bend = polar((out * deepMm) / Math.sin(half), openingDeg / 2);
  return withoutRepeats([
    { x: 0, y: 0 },
    tipA,
    add(tipA, polar(out * deepMm, 90)),
    bend,
    add(tipB, polar(out * deepMm, openingDeg - 90)),
    tipB,
  ]);
};

interface Scene {
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly frames: ReadonlyMap<string, FaceFrame>;
  readonly units: ReadonlyMap<string, FormUnit>;
}

/** Tapered fill from its left edge at the concrete: back edges in proportion. */
const taperOutline = ({ faceMm, backMm }: Taper, depthMm: number): Vec[] =>
  withoutRepeats([
    { x: 0, y: 0 },
    { x: faceMm, y: 0 },
    { x: (faceMm + backMm) / 2, y: -depthMm },
    { x: (faceMm - backMm) / 2, y: -depthMm },
  ]);

const onStraightFace = (scene: Scene, piece: Piece, cover: Cover): Standing | null => {
  const frame = scene.frames.get(cover.face);
  if (!frame) return null;
  const { taper } = piece;
  const own = frameOfCover(frame, cover, taper !== undefined);
  const placedMm = cover.toMm - cover.fromMm;
  const tallMm = cover.topMm - cover.baseMm;
  const along = seenDirection(own);
  const [left, right] = frame.seen > 0 ? [cover.fromMm, cover.toMm] : [cover.toMm, cover.fromMm];
  const [widthMm, heightMm] = piece.turned ? [tallMm, placedMm] : [placedMm, tallMm];
  const common = { piece, wall: frame.wall, walls: [frame.wall.id], faces: [cover.face] };
  if (taper) {
    const at = inFrame(own, (cover.fromMm + cover.toMm) / 2 - (frame.seen * taper.faceMm) / 2);
    const outline = taperOutline(taper, scene.catalogue.frameDepthMm);
    return {
      ...common,
      at,
      levelMm: cover.baseMm,
      along,
      turned: false,
      body: { kind: 'prism', outline, heightMm: tallMm },
    };
  }
  return {
    ...common,
    at: inFrame(own, piece.turned ? right : left),
    levelMm: cover.baseMm,
    along,
    turned: piece.turned,
    body: {
      kind: 'box',
      widthMm,
      depthMm: postOf(scene.plan, piece)?.depthMm ?? scene.catalogue.frameDepthMm,
      heightMm,
    },
  };
};

/** Lengths of a corner unit's legs in the order of its place: of its covers, else of the catalogue's unit. */
const legsOf = (
  scene: Scene,
  piece: Piece,
  faces: readonly (string | null)[],
  isSalient: boolean,
): [number, number] => {
  const unit = piece.item === null ? undefined : scene.units.get(piece.item);
  const legs = unit?.legsMm ?? (isSalient ? [unit?.faceWidthMm ?? 0, unit?.faceWidthMm ?? 0] : [0, 0]);
  const leg = (i: 0 | 1): number => {
    const cover = piece.covers.find((c) => c.face === faces[i]);
    return cover ? cover.toMm - cover.fromMm : legs[i];
  };
  return [leg(0), leg(1)];
};

const atCorner = (scene: Scene, piece: Piece, vertex: Vertex): Standing | null => {
  const { plan, catalogue } = scene;
  const place = cornerPlace(plan, vertex);
  const isSalient = vertex.kind === 'salient';
  const faces = place.order.map((arm) => armFace(plan, vertex, arm));
  const legs = legsOf(scene, piece, faces, isSalient);
  const outline = cornerOutline(legs, catalogue.frameDepthMm, place.openingDeg, isSalient);
  const wall = plan.walls.find((w) => w.id === vertex.arms[0].wall);
  if (!wall || outline.length < 3) return null;
  return {
    piece,
    wall,
    walls: [...new Set(vertex.arms.map((arm) => arm.wall))],
    faces: faces.filter((f): f is string => f !== null),
    at: place.at,
    levelMm: piece.baseMm,
    along: direction(place.rotationDeg),
    turned: false,
    body: { kind: 'prism', outline, heightMm: piece.topMm - piece.baseMm },
  };
};

const standing = (scene: Scene, piece: Piece): Standing | null => {
  if (piece.kind.endsWith('corner') || piece.vertex !== undefined) {
    const vertex = vertexOf(scene.plan, piece);
    return vertex ? atCorner(scene, piece, vertex) : null;
  }
  const cover = wholeCover(scene.plan, piece);
  if (cover) return onStraightFace(scene, piece, cover);
  const face = piece.kind === 'bulkhead' ? endFaceAt(scene.plan, piece.node) : null;
  if (!face) return null;
  const { fromMm, toMm } = face;
  return onStraightFace(scene, piece, { face: face.id, fromMm, toMm, baseMm: piece.baseMm, topMm: piece.topMm });
};

/** Whether the body has a size in every direction. */
const hasSize = ({ body }: Standing): boolean =>
  body.heightMm > 0 && (body.kind === 'prism' || (body.widthMm > 0 && body.depthMm > 0));

/** Every piece as it stands, in the layout's order, and those that name no place or have no size. */
export const standingPieces = (
  plan: FacePlan,
  catalogue: Catalogue,
  pieces: readonly Piece[],
): { readonly standing: readonly Standing[]; readonly lost: readonly Piece[] } => {
  const scene: Scene = {
    plan,
    catalogue,
    frames: framesOf(plan),
    units: new Map(catalogue.units.map((u) => [u.id, u])),
  };
  const found: Standing[] = [];
  const lost: Piece[] = [];
  for (const piece of pieces) {
    const s = standing(scene, piece);
    if (s && hasSize(s)) found.push(s);
    else lost.push(piece);
  }
  return { standing: found, lost };
};
