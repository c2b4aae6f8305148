/** Shapes on paper, mm of paper: frames, texts, what is taken over from the model space at a scale. */

import { add, scale as times, type Vec } from '../../../ground/plane.js';
import type { LayerKey } from '../layers.js';
import { line, type Shape, type TextPose, text, textWidth } from '../sheet.js';
import { wrap } from '../tables.js';
import { PAPER_TEXT_MM } from './paper.js';

const ABOUT = ['sheet'];

export const say = (
  content: string,
  at: Vec,
  heightMm: number = PAPER_TEXT_MM.plain,
  more: Partial<TextPose> & { readonly layer?: LayerKey } = {},
): Shape => text(more.layer ?? 'SHET', content, at, heightMm, { ...more, about: ABOUT });

export const rule = (from: Vec, to: Vec, layer: LayerKey = 'SHET'): Shape => line(layer, from, to, ABOUT);

/** How many characters of a height go into a width. */
export const charactersIn = (widthMm: number, heightMm: number): number =>
  Math.max(1, Math.floor(widthMm / textWidth('0', heightMm)));

export const LINE_FEED = 1.55;

/** Lines of text from `top` downwards, broken to the width; gives where the next would begin. */
export const paragraph = (
  contents: readonly string[],
  at: Vec,
  widthMm: number,
  heightMm: number = PAPER_TEXT_MM.plain,
): { readonly shapes: readonly Shape[]; readonly bottom: number } => {
  const shapes: Shape[] = [];
  let y = at.y;
  for (const content of contents) {
    for (const l of wrap(content, charactersIn(widthMm, heightMm))) {
      shapes.push(say(l, { x: at.x, y: y - heightMm }, heightMm));
      y -= heightMm * LINE_FEED;
    }
    y -= heightMm * 0.4;
  }
  return { shapes, bottom: y };
};

/** Shapes of the model space or of a block, drawn on paper: scaled about the origin, then moved. */
export const onPaper = (shapes: readonly Shape[], factor: number, by: Vec, layer: LayerKey): Shape[] => {
  const put = (v: Vec): Vec => add(times(v, factor), by);
  return shapes.flatMap((s): Shape[] => {
    switch (s.type) {
      case 'line':
        return [{ ...s, layer, about: ABOUT, from: put(s.from), to: put(s.to) }];
      case 'polyline':
        return [{ ...s, layer, about: ABOUT, vertices: s.vertices.map(put) }];
      case 'solid':
        return [{ ...s, layer, about: ABOUT, corners: s.corners.map(put) }];
      case 'hatch':
        return [
          { ...s, layer, about: ABOUT, paths: s.paths.map((path) => path.map(put)), spacingMm: s.spacingMm * factor },
        ];
      case 'circle':
        return [{ ...s, layer, about: ABOUT, centre: put(s.centre), radiusMm: s.radiusMm * factor }];
      default:
        return [];
    }
  });
};

const DASH_MM = 12;
const DOT_MM = 2;
const SPACE_MM = 3;

/** A line of long and short strokes, whatever line types are scaled to. */
export const chainLine = (from: Vec, to: Vec, layer: LayerKey): Shape[] => {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const along = (d: number): Vec => add(from, times({ x: to.x - from.x, y: to.y - from.y }, d / length));
  const shapes: Shape[] = [];
  for (let at = 0, long = true; at < length; long = !long) {
    const stroke = Math.min(long ? DASH_MM : DOT_MM, length - at);
    shapes.push(rule(along(at), along(at + stroke), layer));
    at += stroke + SPACE_MM;
  }
  return shapes;
};
