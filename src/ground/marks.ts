/**
 * Marks: the short name of an item that stands on the plan, on the elevation, in the list and in the blocks' attributes alike.
 * A panel's mark is its width ('600'), a filler's F50, an inside corner's C150 by its legs, a hinged corner's H, an outside corner's A (AH: hinged), a
 * bulkhead's B;
 * where items of the job would share one, all but the tallest take their height with it ('600/1800'). What is cut on site is numbered by size: TM1 timber
 * (ties are called T1, T2 ...), S1 strip, X1 box-out. A panel on its side says so after its mark.
 */

import { byNumber, byText, inOrder } from './order.js';
import { planIndex } from './planIndex.js';
import { sizeNumber, sizeText } from './sizes.js';
import { roundTo } from './units.js';
import type { Catalogue, CheckedLayout, FacePlan, FormUnit, Piece, PieceKind } from './vocabulary.js';

export interface Mark {
  readonly mark: string;
  readonly size: string;
}

export interface Marks {
  /** As it stands. */
  readonly ofPiece: (piece: Piece) => Mark;
  /** Of a row of the schedule; null for what has none (ties). */
  readonly ofRow: (kind: string, item: string, size: CutSize) => Mark | null;
}

/** Letters before sizes and numbers, so that no colour is needed to tell kinds apart. */
export const KIND_LETTERS: Readonly<Record<PieceKind, string>> = {
  panel: '',
  filler: 'F',
  'inside-corner': 'C',
  'outside-corner': 'A',
  'hinged-corner': 'H',
  bulkhead: 'B',
  timber: 'TM',
  strip: 'S',
  'box-out': 'X',
};

/** After the mark of a unit that stands turned. */
const ON_SIDE = ' ON SIDE';

/** Sizes of what is cut on site are told to a tenth of a mm, as in the schedule. */
const CUT_PLACES = 1;

export interface CutSize {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Of tapered fill: its lesser width. */
  readonly narrowMm?: number | undefined;
}

/** Size of what is cut on site: that of its covers, side by side where it goes round a corner, or the wall's thickness by its height where it has none. */
export const cutSize = (plan: FacePlan, piece: Piece): CutSize => {
  const { taper } = piece;
  if (taper) {
    return {
      widthMm: roundTo(Math.max(taper.faceMm, taper.backMm), CUT_PLACES),
      heightMm: roundTo(piece.topMm - piece.baseMm, CUT_PLACES),
      narrowMm: roundTo(Math.min(taper.faceMm, taper.backMm), CUT_PLACES),
    };
  }
  const cover = piece.covers[0];
  const { nodes, walls } = planIndex(plan);
  const node = nodes.get(piece.node ?? '');
  const wall = walls.get(node?.walls[0] ?? '');
  return {
    widthMm: roundTo(
      cover ? piece.covers.reduce((sum, c) => sum + c.toMm - c.fromMm, 0) : (wall?.thicknessMm ?? 0),
      CUT_PLACES,
    ),
    heightMm: roundTo(cover ? cover.topMm - cover.baseMm : piece.topMm - piece.baseMm, CUT_PLACES),
  };
};

const shortMark = (unit: FormUnit, gear: Catalogue['lengthUnit']): string => {
  const n = (mm: number): string => sizeNumber(gear, mm);
  const letter = KIND_LETTERS[unit.kind];
  if (unit.legsMm) {
    const [a, b] = unit.legsMm;
    return a === b ? `${letter}${n(a)}` : `${letter}${n(a)}-${n(b)}`;
  }
  if (unit.kind === 'outside-corner') {
    const outside = unit.deflectionDeg ? `${letter}H` : letter;
    return unit.faceWidthMm > 0 ? `${outside}${n(unit.faceWidthMm)}` : outside;
  }
  return `${letter}${n(unit.widthMm)}`;
};

const unitSize = (unit: FormUnit, gear: Catalogue['lengthUnit']): string => {
  if (unit.legsMm) {
    const [a, b] = unit.legsMm;
    return `${sizeNumber(gear, a)}+${sizeText(gear, b, unit.heightMm)}`;
  }
  return sizeText(gear, unit.kind === 'outside-corner' ? unit.faceWidthMm : unit.widthMm, unit.heightMm);
};

/** Marks of the catalogue's items in use, all different. */
const itemMarks = (units: readonly FormUnit[], gear: Catalogue['lengthUnit']): Map<string, Mark> => {
  const sorted = [...units].sort(
    inOrder(
      byText((u) => shortMark(u, gear)),
      byNumber((u) => -u.heightMm),
      byText((u) => u.id),
    ),
  );
  const marks = new Map<string, Mark>();
  const taken = new Set<string>();
  for (const u of sorted) {
    const short = shortMark(u, gear);
    const plain = taken.has(short) ? `${short}/${sizeNumber(gear, u.heightMm)}` : short;
    let mark = plain;
    for (let n = 2; taken.has(mark); n++) mark = `${plain}.${n}`;
    taken.add(mark);
    marks.set(u.id, { mark, size: unitSize(u, gear) });
  }
  return marks;
};

const cutKey = (kind: string, size: CutSize): string =>
  `${kind} ${size.widthMm} ${size.heightMm} ${size.narrowMm ?? ''}`;

/** 'W/N x H' without blanks where it tapers. */
const cutText = (gear: Catalogue['lengthUnit'], { widthMm, heightMm, narrowMm }: CutSize): string =>
  narrowMm === undefined
    ? sizeText(gear, widthMm, heightMm)
    : `${sizeNumber(gear, widthMm)}/${sizeText(gear, narrowMm, heightMm)}`;

/** Marks of what is cut on site: numbered by kind, wide before narrow, tall before low. */
const cutMarks = (plan: FacePlan, pieces: readonly Piece[], gear: Catalogue['lengthUnit']): Map<string, Mark> => {
  const sizes = new Map<string, CutSize & { readonly kind: PieceKind }>();
  for (const piece of pieces) {
    const size = cutSize(plan, piece);
    sizes.set(cutKey(piece.kind, size), { kind: piece.kind, ...size });
  }
  const sorted = [...sizes.values()].sort(
    inOrder(
      byText((s) => s.kind),
      byNumber((s) => -s.widthMm),
      byNumber((s) => -s.heightMm),
      byNumber((s) => -(s.narrowMm ?? s.widthMm)),
    ),
  );
  const counts = new Map<PieceKind, number>();
  const marks = new Map<string, Mark>();
  for (const s of sorted) {
    const n = (counts.get(s.kind) ?? 0) + 1;
    counts.set(s.kind, n);
    marks.set(cutKey(s.kind, s), { mark: `${KIND_LETTERS[s.kind]}${n}`, size: cutText(gear, s) });
  }
  return marks;
};

/** The marks of a layout. Throws when a piece names an item that the catalogue does not have, since no stage may invent one. */
export const marksOf = (plan: FacePlan, catalogue: Catalogue, layout: CheckedLayout): Marks => {
  const used = new Set(layout.pieces.map((p) => p.item));
  const gear = catalogue.lengthUnit;
  const items = itemMarks(
    catalogue.units.filter((u) => used.has(u.id)),
    gear,
  );
  const cuts = cutMarks(
    plan,
    layout.pieces.filter((p) => p.item === null),
    gear,
  );
  return {
    ofPiece: (piece) => {
      const mark = piece.item === null ? cuts.get(cutKey(piece.kind, cutSize(plan, piece))) : items.get(piece.item);
      if (!mark) throw new Error(`piece ${piece.id} names ${piece.item}, which the catalogue does not have`);
      return piece.turned ? { ...mark, mark: `${mark.mark}${ON_SIDE}` } : mark;
    },
    ofRow: (kind, item, size) => items.get(item) ?? cuts.get(cutKey(kind, size)) ?? null,
  };
};
