/** Drawings of the model space cut into what goes on one sheet each, and laid in rows on as few sheets as they need. */

import type { Bounds } from '../bounds.js';
import { textWidth } from '../sheet.js';
import { type Area, fittingScale, GAP_MM, heightOf, PAPER_TEXT_MM, widthOf } from './paper.js';

/** A drawing that stands in the model space, mm. */
export interface Placed {
  /** What it is called on the sheet. */
  readonly name: string;
  /** What stands under its name. */
  readonly says: readonly string[];
  /** Faces that it shows. */
  readonly faces: readonly string[];
  readonly bounds: Bounds;
  /** Places (x) at which it may be parted, rising; none: it is never parted. */
  readonly cutsX: readonly number[];
  /** Names and heights (y) that a part which is not the first says again at its left. */
  readonly rows: readonly { readonly y: number; readonly text: string }[];
  /** The scale for which its texts are sized, mm to one of paper; absent: the first of the usual ones. */
  readonly least?: number;
}

/** A part of a drawing: all of it, or what lies between two match lines. */
export interface Part {
  readonly drawing: Placed;
  readonly index: number;
  readonly count: number;
  /** What its window shows, mm of the model. */
  readonly window: Bounds;
  /** Match lines (x). */
  readonly leftMm: number | null;
  readonly rightMm: number | null;
  readonly scale: number;
}

export interface Placing {
  readonly part: Part;
  /** Left and top on the paper, mm. */
  readonly x: number;
  readonly y: number;
}

/** Room at the left of a part for the names of rows and levels, mm of paper. */
export const MARGIN_MM = 42;
/** How far beyond a match line a part shows, mm of paper. */
const PAST_MM = 8;
/** Above each part: its name, then what is said of it. */
export const NAME_MM = 9;
const SAID_MM = 5.5;
const ROW_GAP_MM = 5;
/** The first that is said stands beside the name, the others in a row under it. */
export const headMm = ({ says }: Placed): number => NAME_MM + (says.length > 1 ? SAID_MM : 0);

/** Characters that scale and number of the part take after a name. */
const AFTER_NAME = 22;

/** How wide name and what is said of a drawing stand, mm of paper. */
const headWidth = ({ name, says }: Placed): number => {
  const [beside = '', ...under] = says;
  const first = textWidth(name, PAPER_TEXT_MM.mark) + textWidth('0'.repeat(AFTER_NAME) + beside, PAPER_TEXT_MM.plain);
  return Math.max(first, textWidth(under.join(SAID_BETWEEN), PAPER_TEXT_MM.plain));
};
export const SAID_BETWEEN = '     ';

export const paperWidth = (p: Part): number =>
  Math.max(headWidth(p.drawing), (p.window.maxX - p.window.minX) / p.scale + (p.leftMm === null ? 0 : MARGIN_MM));
export const paperHeight = (p: Part): number => (p.window.maxY - p.window.minY) / p.scale + headMm(p.drawing);

/** The last place to cut at that is not beyond `most`; where there is none, `most` itself. */
const cutBefore = (cuts: readonly number[], from: number, most: number): number => {
  const fitting = cuts.filter((x) => x > from + 1 && x <= most);
  return fitting.at(-1) ?? most;
};

/** The parts of a drawing for a room, all at one scale. */
export const partsOf = (drawing: Placed, gear: 'mm' | 'in', room: Area): Part[] => {
  const { bounds, cutsX } = drawing;
  const tall = bounds.maxY - bounds.minY;
  const isCut = cutsX.length > 0;
  const scale = fittingScale(
    gear,
    isCut ? 0 : bounds.maxX - bounds.minX,
    tall,
    {
      ...room,
      bottom: room.bottom + headMm(drawing),
    },
    drawing.least,
  );
  const past = PAST_MM * scale;
  const wide = widthOf(room) * scale;
  const edges: number[] = [];
  for (let from = bounds.minX; ; ) {
    const begin = edges.length === 0 ? from : from - past;
    const most = begin + wide - (edges.length === 0 ? 0 : MARGIN_MM * scale);
    if (bounds.maxX <= most + 1e-6 || !isCut) break;
    from = cutBefore(cutsX, from, most - past);
    edges.push(from);
  }
  const count = edges.length + 1;
  return Array.from({ length: count }, (_, index): Part => {
    const leftMm = index === 0 ? null : edges[index - 1]!;
    const rightMm = index === count - 1 ? null : edges[index]!;
    const minX = leftMm === null ? bounds.minX : leftMm - past;
    const maxX = rightMm === null ? bounds.maxX : rightMm + past;
    return { drawing, index, count, window: { ...bounds, minX, maxX }, leftMm, rightMm, scale };
  });
};

/** Rows from the top, left to right, in the order given; a new sheet where a row no longer fits. */
export const laid = (parts: readonly Part[], room: Area): Placing[][] => {
  const sheets: Placing[][] = [];
  let sheet: Placing[] = [];
  let [x, y, high] = [room.left, room.top, 0];
  const turn = (): void => {
    if (sheet.length > 0) sheets.push(sheet);
    sheet = [];
    [x, y, high] = [room.left, room.top, 0];
  };
  for (const part of parts) {
    const [w, h] = [paperWidth(part), paperHeight(part)];
    if (x > room.left && x + w > room.right + 1e-6) {
      y -= high + ROW_GAP_MM;
      [x, high] = [room.left, 0];
    }
    if (y - h < room.bottom - 1e-6 && heightOf(room) >= h) turn();
    else if (y - h < room.bottom - 1e-6 && sheet.length > 0) turn();
    sheet.push({ part, x, y });
    x += w + GAP_MM;
    high = Math.max(high, h);
  }
  turn();
  return sheets;
};
