/** The units of an elevation, each with its mark. */

import type { Vec } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import type { Piece } from '../../ground/vocabulary.js';
import { layerOf, PIECE_TAGS, pieceAttributes } from './attributes.js';
import { textCorners } from './bounds.js';
import { bottomLabels, markInside, type Obstacles, topLabels } from './elevationMarks.js';
import type { OnFace, View } from './elevationView.js';
import type { Scene } from './scene.js';
import { rectangle, type Shape, type TextPose, text } from './sheet.js';
import { type Clear, elevationShapes } from './symbols.js';

const elevationBlock = (scene: Scene, piece: Piece, widthMm: number, heightMm: number, clear?: Clear): string => {
  const name = piece.item ?? `${piece.kind}-${plainNumber(widthMm, 1)}X${plainNumber(heightMm, 1)}`;
  const shapes = elevationShapes(piece.kind, widthMm, heightMm, scene.paperScale, clear);
  return scene.blocks.ask(`${name}${piece.turned ? '-TURNED' : ''}-ELEV`, shapes, PIECE_TAGS);
};

const CLEAR_MM = 12;

/** Where a mark stands, seen from the middle of its unit's foot. */
const clearOf = (mark: string, pose: TextPose, foot: Vec): Clear => {
  const corners = textCorners(mark, pose);
  const [xs, ys] = [corners.map((c) => c.x - foot.x), corners.map((c) => c.y - foot.y)];
  return {
    low: { x: Math.min(...xs) - CLEAR_MM, y: Math.min(...ys) - CLEAR_MM },
    high: { x: Math.max(...xs) + CLEAR_MM, y: Math.max(...ys) + CLEAR_MM },
  };
};

/** Pieces with their marks. Marks are texts here: not every program shows attributes, and in elevations nobody moves a unit. */
export const drawPieces = (scene: Scene, view: View, items: readonly OnFace[], obstacles: Obstacles): Shape[] => {
  const shapes: Shape[] = [];
  const outside: { readonly item: OnFace; readonly mark: string }[] = [];
  for (const item of items) {
    const { piece, cover } = item;
    const mark = scene.marks.ofPiece(piece);
    const a = view.at(cover.fromMm, cover.baseMm);
    const b = view.at(cover.toMm, cover.topMm);
    const low = { x: Math.min(a.x, b.x), y: a.y };
    const high = { x: Math.max(a.x, b.x), y: b.y };
    const pose = markInside(scene.sizes, mark.mark, low, high, obstacles);
    if (!pose) outside.push({ item, mark: mark.mark });
    if (pose)
      shapes.push({ ...text(layerOf(piece), mark.mark, pose.at, pose.heightMm), ...pose, about: ['inside', piece.id] });
    if (!item.isInsert) {
      shapes.push(rectangle(layerOf(piece), low.x, low.y, high.x, high.y, ['leg', piece.id]));
      continue;
    }
    const at = { x: (low.x + high.x) / 2, y: low.y };
    shapes.push({
      type: 'insert',
      layer: layerOf(piece),
      block: elevationBlock(
        scene,
        piece,
        high.x - low.x,
        high.y - low.y,
        pose ? clearOf(mark.mark, pose, at) : undefined,
      ),
      at,
      rotationDeg: 0,
      attributes: pieceAttributes(piece, mark, scene.facesOf(piece), 'ELEV', at, null),
      about: ['piece', piece.id],
    });
  }
  const tall = outside.filter(
    ({ item }) => item.cover.topMm - item.cover.baseMm >= item.cover.toMm - item.cover.fromMm,
  );
  const flat = outside.filter((o) => !tall.includes(o));
  return [...shapes, ...topLabels(view, items, tall), ...bottomLabels(view, flat)];
};
