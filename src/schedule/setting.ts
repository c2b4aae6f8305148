/** The setting list: every piece once, by wall, face, course and station, in the order in which plan and crew go along the walls. */

import { byNumber, byText, inOrder } from '../ground/order.js';
import type { CheckedLayout, Face, FacePlan, Piece, SettingRow } from '../ground/vocabulary.js';
import { rowItem } from './rows.js';

interface Place {
  readonly wall: string;
  readonly face: string;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Where a piece stands: its first cover in the order of the plan's faces, else its vertex, else its node. */
const placeOf = (piece: Piece, plan: FacePlan, rank: ReadonlyMap<string, number>): Place => {
  const cover = [...piece.covers].sort(byNumber((c) => rank.get(c.face) ?? plan.faces.length))[0];
  if (cover !== undefined) {
    const wall = plan.faces.find((f) => f.id === cover.face)?.wall ?? '';
    return { wall, face: cover.face, fromMm: cover.fromMm, toMm: cover.toMm };
  }
  const arm = plan.vertices.find((v) => v.id === piece.vertex)?.arms[0];
  if (arm !== undefined) {
    const here = (f: Face) => f.fromMm === arm.stationMm || f.toMm === arm.stationMm;
    const face = plan.faces.find((f) => f.wall === arm.wall && f.side === arm.side && here(f));
    return { wall: arm.wall, face: face?.id ?? '', fromMm: arm.stationMm, toMm: arm.stationMm };
  }
  const node = plan.nodes.find((n) => n.id === piece.node);
  return { wall: node?.walls[0] ?? '', face: '', fromMm: 0, toMm: 0 };
};

/** All pieces in setting order. */
export const settingRows = (plan: FacePlan, layout: CheckedLayout): readonly SettingRow[] => {
  const wallRank = new Map(plan.walls.map((w, i) => [w.id, i]));
  const faceRank = new Map(plan.faces.map((f, i) => [f.id, i]));
  return layout.pieces
    .map((piece) => ({
      piece: piece.id,
      item: rowItem(piece, plan),
      kind: piece.kind,
      course: piece.course,
      ...placeOf(piece, plan, faceRank),
    }))
    .sort(
      inOrder<SettingRow>(
        byNumber((r) => wallRank.get(r.wall) ?? plan.walls.length),
        byNumber((r) => faceRank.get(r.face) ?? plan.faces.length),
        byNumber((r) => r.course),
        byNumber((r) => r.fromMm),
        byNumber((r) => r.toMm),
        byText((r) => r.piece),
      ),
    );
};
