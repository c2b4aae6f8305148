/** Drawings of the model space cut into what goes on one sheet each, and laid in rows on as few sheets as they need. */

import type { Bounds } from '../bounds.js';
import { textWidth } from '../sheet.js';
import { type Area, fittingScale, GAP_MM, PAPER_TEXT_MM, widthOf } from './paper.js';

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
  /** The scale for which its texts are sized, mm to one of paper. */
  readonly least: number;
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
export const SAID_MM = 5.5;
const ROW_GAP_MM = 5;
const SAID_BETWEEN = '     ';
/** What is said may stand as wide as this over a narrower drawing, mm of paper. */
const SAID_LEAST_MM = 150;

/** How wide the head of a drawing may stand, mm of paper. */
const mostWide = ({ bounds, least }: Placed): number => Math.max(SAID_LEAST_MM, (bounds.maxX - bounds.minX) / least);

/** Characters that scale and number of the part take after a name. */
const AFTER_NAME = 22;

/** Name with scale and number, and what stands beside it. */
const firstWidth = (name: string, beside: string): number =>
  textWidth(name, PAPER_TEXT_MM.mark) + textWidth('0'.repeat(AFTER_NAME) + beside, PAPER_TEXT_MM.plain);

/** The first that is said stands beside the name where there is room, the others in rows under it, side by side as far as the drawing is wide. */
export const headOf = (drawing: Placed): { readonly beside: string; readonly rows: readonly string[] } => {
  const most = mostWide(drawing);
  const [first = '', ...rest] = drawing.says;
  const hasRoom = firstWidth(drawing.name, first) <= most;
  const rows: string[] = [];
  for (const said of hasRoom ? rest : drawing.says) {
    const longer = rows.length === 0 ? said : `${rows.at(-1)}${SAID_BETWEEN}${said}`;
    if (rows.length === 0 || textWidth(longer, PAPER_TEXT_MM.plain) > most) rows.push(said);
    else rows[rows.length - 1] = longer;
  }
  return { beside: hasRoom ? first : '', rows };
};
export const headMm = (drawing: Placed): number => NAME_MM + headOf(drawing).rows.length * SAID_MM;

/** How wide name and what is said of a drawing stand, mm of paper. */
const headWidth = (drawing: Placed): number => {
  const { beside, rows } = headOf(drawing);
  return Math.max(firstWidth(drawing.name, beside), ...rows.map((row) => textWidth(row, PAPER_TEXT_MM.plain)));
};

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

interface Shelf {
  readonly top: number;
  high: number;
  right: number;
}

/** Where a part goes on a sheet: at the end of a shelf where it fits, else on a new one under the others; null where neither has room. */
const shelfFor = (shelves: readonly Shelf[], w: number, h: number, room: Area): Shelf | null => {
  const lowest = shelves.at(-1)!;
  const open = shelves.find(
    (s) =>
      s.right + GAP_MM + w <= room.right + 1e-6 &&
      (h <= s.high + 1e-6 || (s === lowest && s.top - h >= room.bottom - 1e-6)),
  );
  if (open) return open;
  const top = lowest.top - lowest.high - ROW_GAP_MM;
  return top - h >= room.bottom - 1e-6 ? { top, high: 0, right: room.left - GAP_MM } : null;
};

/**
 * Shelves from the top, left to right, in the order given; what still fits on a sheet before goes there. A part that is larger than the room stands on a sheet
 * of its own.
 */
export const laid = (parts: readonly Part[], room: Area): Placing[][] => {
  const sheets: { readonly placings: Placing[]; readonly shelves: Shelf[] }[] = [];
  for (const part of parts) {
    const [w, h] = [paperWidth(part), paperHeight(part)];
    let [sheet, shelf]: [(typeof sheets)[number] | null, Shelf | null] = [null, null];
    for (sheet of sheets) {
      shelf = shelfFor(sheet.shelves, w, h, room);
      if (shelf) break;
    }
    if (!sheet || !shelf) {
      sheet = { placings: [], shelves: [] };
      sheets.push(sheet);
      shelf = { top: room.top, high: 0, right: room.left - GAP_MM };
    }
    if (!sheet.shelves.includes(shelf)) sheet.shelves.push(shelf);
    sheet.placings.push({ part, x: shelf.right + GAP_MM, y: shelf.top });
    shelf.right += GAP_MM + w;
    shelf.high = Math.max(shelf.high, h);
  }
  return sheets.map((s) => s.placings);
};
