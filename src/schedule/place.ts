/** At which wall and face a piece is counted: each piece once, however many it touches. */

import { byNumber } from '../ground/order.js';
import type { Face, FacePlan, Piece } from '../ground/vocabulary.js';

export interface Place {
  readonly wall: string;
  readonly face: string;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Where a piece stands: its first cover in the order of the plan's faces, else its vertex, else its node. */
export const placesOf = (plan: FacePlan): ((piece: Piece) => Place) => {
  const rank = new Map(plan.faces.map((f, i) => [f.id, i]));
  const faces = new Map(plan.faces.map((f) => [f.id, f]));
  const vertices = new Map(plan.vertices.map((v) => [v.id, v]));
  const nodes = new Map(plan.nodes.map((n) => [n.id, n]));
  return (piece) => {
    const cover = [...piece.covers].sort(byNumber((c) => rank.get(c.face) ?? plan.faces.length))[0];
    if (cover !== undefined) {
      const wall = faces.get(cover.face)?.wall ?? '';
      return { wall, face: cover.face, fromMm: cover.fromMm, toMm: cover.toMm };
    }
    const arm = vertices.get(piece.vertex ?? '')?.arms[0];
    if (arm !== undefined) {
      const here = (f: Face) => f.fromMm === arm.stationMm || f.toMm === arm.stationMm;
      const face = plan.faces.find((f) => f.wall === arm.wall && f.side === arm.side && here(f));
      return { wall: arm.wall, face: face?.id ?? '', fromMm: arm.stationMm, toMm: arm.stationMm };
    }
    return { wall: nodes.get(piece.node ?? '')?.walls[0] ?? '', face: '', fromMm: 0, toMm: 0 };
  };
};
