/** The setting list: every piece once, by wall, face, course and station, in the order in which plan and crew go along the walls. */

import { byNumber, byText, inOrder } from '../ground/order.js';
import type { CheckedLayout, FacePlan, SettingRow } from '../ground/vocabulary.js';
import { placesOf } from './place.js';
import { rowItem } from './rows.js';

/** All pieces in setting order. */
export const settingRows = (plan: FacePlan, layout: CheckedLayout): readonly SettingRow[] => {
  const wallRank = new Map(plan.walls.map((w, i) => [w.id, i]));
  const faceRank = new Map(plan.faces.map((f, i) => [f.id, i]));
  const placeOf = placesOf(plan);
  return layout.pieces
    .map((piece) => ({
      piece: piece.id,
      item: rowItem(piece, plan),
      kind: piece.kind,
      course: piece.course,
      ...placeOf(piece),
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
