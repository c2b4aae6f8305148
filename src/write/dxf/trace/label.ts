/** Labels beside what they name: as near as can be, never over a wall or another text, with a leader where they had to move away. */

import { degrees, direction, readable } from '../../../ground/places.js';
import { add, angleOf, distance, leftOf, scale, type Vec } from '../../../ground/plane.js';
import { type Box, leaderBox, type Places } from '../labels.js';
import type { LayerKey } from '../layers.js';
import { line, type Shape, text, textWidth } from '../sheet.js';

/** What is to be labelled. */
export interface LabelWish {
  /** A point of the thing, to which a leader leads. */
  readonly at: Vec;
  /** Direction of the label; it is turned so that it reads from the bottom or the right. */
  readonly along: Vec;
  /** From `at` to the near edge of the label. */
  readonly clearMm: number;
  /** How far the label may slide along the thing without a leader. */
  readonly slideMm: number;
  readonly lines: readonly string[];
  readonly layer: LayerKey;
  readonly about: readonly string[];
}

const ROWS = 14;
const SHIFTS = 16;
/** Distance of lines over the text height. */
const LINE = 1.45;
/** Free room round a label over the text height. */
const ROOM = 0.2;

interface LabelPlace {
  readonly centre: Vec;
  readonly leader: readonly [Vec, Vec] | null;
  readonly boxes: readonly [Box, ...Box[]];
}

function* labelPlaces(wish: LabelWish, widthMm: number, heightMm: number, textMm: number): Generator<LabelPlace> {
  const rotationDeg = readable(degrees(angleOf(wish.along)));
  const x = direction(rotationDeg);
  const up = leftOf(x);
  const halfMm = [widthMm / 2 + ROOM * textMm, heightMm / 2 + ROOM * textMm] as const;
  for (let row = 0; row < ROWS; row++) {
    for (let k = 0; k <= SHIFTS; k++) {
      const shiftMm = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * widthMm * 0.3;
      for (const side of [1, -1]) {
        const outMm = wish.clearMm + halfMm[1] + row * textMm * 1.5;
        const centre = add(wish.at, add(scale(x, shiftMm), scale(up, side * outMm)));
        const box: Box = { kind: 'text', centre, halfMm, rotationDeg };
        if (row === 0 && Math.abs(shiftMm) <= wish.slideMm) {
          yield { centre, leader: null, boxes: [box] };
          continue;
        }
        const slide = Math.max(-wish.slideMm, Math.min(wish.slideMm, shiftMm));
        const foot = add(wish.at, scale(x, slide));
        const head = add(centre, scale(up, -side * halfMm[1]));
        if (distance(foot, head) < textMm / 2) continue;
        yield { centre, leader: [foot, head], boxes: [box, leaderBox(foot, head)] };
      }
    }
  }
}

/** Puts a label at its first free place. */
export const putLabel = (places: Places, textMm: number, wish: LabelWish): Shape[] => {
  const { lines, layer, about } = wish;
  const widthMm = Math.max(...lines.map((l) => textWidth(l, textMm)));
  const pitchMm = textMm * LINE;
  const heightMm = pitchMm * (lines.length - 1) + textMm;
  const { centre, leader } = places.firstFree(labelPlaces(wish, widthMm, heightMm, textMm));
  const rotationDeg = readable(degrees(angleOf(wish.along)));
  const up = leftOf(direction(rotationDeg));
  const shapes: Shape[] = lines.map((content, i) => {
    const at = add(centre, scale(up, ((lines.length - 1) / 2 - i) * pitchMm));
    return text(layer, content, at, textMm, { rotationDeg, across: 'centre', upright: 'middle', about });
  });
  return leader ? [...shapes, line(layer, leader[0], leader[1], about)] : shapes;
};
