/** What stands on a face, and where its stations and levels lie in its elevation. */

import { byNumber } from '../../ground/order.js';
import { bandsAlong } from '../../ground/pilasters.js';
import { armOnFace, type FaceFrame, vertexOf } from '../../ground/places.js';
import type { Vec } from '../../ground/plane.js';
import type { Cover, LevelBand, Piece } from '../../ground/vocabulary.js';
import type { Scene, TextSizes } from './scene.js';

/** Stations and levels of one face as places in its elevation. */
export interface View {
  readonly frame: FaceFrame;
  readonly fromMm: number;
  readonly toMm: number;
  readonly footMm: number;
  readonly topMm: number;
  /** Heights of the texts that stand in it. */
  readonly sizes: TextSizes;
  /** Place in the elevation of a station and a level. */
  readonly at: (stationMm: number, levelMm: number) => Vec;
}

/** What stands on a face: a piece and the part of it that lies here. */
export interface OnFace {
  readonly piece: Piece;
  readonly cover: Cover;
  /** Whether this is the piece's one insert in elevation; a corner's second leg is drawn plainly. */
  readonly isInsert: boolean;
}

/** A corner of no face width is drawn as wide as its frame, beyond the edge that it joins. */
export const onThisFace = (scene: Scene, frame: FaceFrame): OnFace[] => {
  const face = frame.face.id;
  return scene.onFace(face).map(({ piece, nth }) => {
    const cover = piece.covers[nth];
    if (cover) return { piece, cover, isInsert: nth === 0 };
    const { fromMm, toMm } = uncoveredStations(scene, piece, frame);
    return { piece, cover: { face, fromMm, toMm, baseMm: piece.baseMm, topMm: piece.topMm }, isInsert: true };
  });
};

/** Where a piece without covers is drawn: an outside corner beyond its vertex, a bulkhead over the whole end. */
const uncoveredStations = (scene: Scene, piece: Piece, frame: FaceFrame): { fromMm: number; toMm: number } => {
  const { plan, catalogue } = scene.result;
  const vertex = vertexOf(plan, piece);
  if (piece.kind === 'bulkhead' || !vertex) return frame.face;
  const arm = armOnFace(vertex, frame.face) ?? vertex.arms[0];
  const beyond = arm.stationMm - arm.direction * catalogue.frameDepthMm;
  return { fromMm: Math.min(arm.stationMm, beyond), toMm: Math.max(arm.stationMm, beyond) };
};

export const viewOf = ({ sizes }: Scene, frame: FaceFrame, items: readonly OnFace[]): View => {
  const { face, wall } = frame;
  const covers = items.map((i) => i.cover);
  const fromMm = Math.min(face.fromMm, ...covers.map((c) => c.fromMm));
  const toMm = Math.max(face.toMm, ...covers.map((c) => c.toMm));
  const footMm = Math.min(...wall.base.map((b) => b.levelMm), ...covers.map((c) => c.baseMm));
  const topMm = Math.max(...wall.top.map((b) => b.levelMm), ...covers.map((c) => c.topMm));
  const at = (stationMm: number, levelMm: number): Vec => ({
    x: frame.seen > 0 ? stationMm - fromMm : toMm - stationMm,
    y: levelMm - footMm,
  });
  return { frame, fromMm, toMm, footMm, topMm, sizes, at };
};

/** Level bands over the face's stations, clipped to it; `start` and `end` faces take the level of the band at that end. */
export const bandsOn = (view: View, bands: readonly LevelBand[]): LevelBand[] => {
  const { face } = view.frame;
  if (face.stands) return [...bandsAlong(face, bands)];
  const sorted = [...bands].sort(byNumber((b) => b.fromMm));
  if (face.side === 'start' || face.side === 'end') {
    const band = face.side === 'start' ? sorted[0] : sorted.at(-1);
    return band ? [{ fromMm: face.fromMm, toMm: face.toMm, levelMm: band.levelMm }] : [];
  }
  return sorted
    .map((b, i) => ({
      fromMm: i === 0 ? face.fromMm : Math.max(b.fromMm, face.fromMm),
      toMm: i === sorted.length - 1 ? face.toMm : Math.min(b.toMm, face.toMm),
      levelMm: b.levelMm,
    }))
    .filter((b) => b.toMm > b.fromMm);
};

export const bandLine = (view: View, bands: readonly LevelBand[]): Vec[] =>
  bands.flatMap((b) => [view.at(b.fromMm, b.levelMm), view.at(b.toMm, b.levelMm)]);
