/** Openings in an elevation with their box-outs: crossed, with name and size where no other text stands. */

import type { FacePlan } from '../../ground/vocabulary.js';
import type { View } from './elevationView.js';
import type { Box, Places } from './labels.js';
import { lengthText } from './lengths.js';
import type { Scene } from './scene.js';
import { line, rectangle, type Shape, text, textWidth } from './sheet.js';

export const drawOpenings = (plan: FacePlan, view: View): Shape[] =>
  plan.openings
    .filter((o) => o.wall === view.frame.wall.id)
    .flatMap((o) => {
      const a = view.at(o.fromMm, o.sillMm);
      const b = view.at(o.toMm, o.headMm);
      const [low, high] = [
        { x: Math.min(a.x, b.x), y: a.y },
        { x: Math.max(a.x, b.x), y: b.y },
      ];
      const about = ['opening', o.id];
      return [
        rectangle('BKHD', low.x, low.y, high.x, high.y, about),
        line('BKHD', low, high, about),
        line('BKHD', { x: low.x, y: high.y }, { x: high.x, y: low.y }, about),
      ];
    });

const ROWS = 6;
/** From row to row, over the height of the text. */
const ROW = 1.22;

/** Over the opening, else within it, else under it, row by row. */
export const drawOpeningNames = (scene: Scene, view: View, places: Places): Shape[] => {
  const { plan, catalogue } = scene.result;
  const mm = (lengthMm: number): string => lengthText(catalogue.lengthUnit, lengthMm);
  return plan.openings
    .filter((o) => o.wall === view.frame.wall.id)
    .map((o) => {
      const words = `BOX-OUT ${o.id} ${mm(o.toMm - o.fromMm)} x ${mm(o.headMm - o.sillMm)}`;
      const middle = view.at((o.fromMm + o.toMm) / 2, (o.sillMm + o.headMm) / 2);
      const over = (o.headMm - o.sillMm) / 2 + scene.sizes.dimension * 0.8;
      const halfMm = [textWidth(words, scene.sizes.dimension) / 2, scene.sizes.dimension / 2] as const;
      const rowMm = ROW * scene.sizes.dimension;
      const heights = Array.from({ length: ROWS }, (_, i) => i * rowMm);
      const tries = [...heights.map((h) => over + h), ...heights.map((h) => over - rowMm - h), -over].map((dy) => {
        const centre = { x: middle.x, y: middle.y + dy };
        return { centre, boxes: [{ kind: 'text', centre, halfMm, rotationDeg: 0 }] as const satisfies readonly [Box] };
      });
      const at = places.firstFree(tries).centre;
      const about = ['opening', o.id];
      return text('BKHD', words, at, scene.sizes.dimension, { across: 'centre', upright: 'middle', about });
    });
};
