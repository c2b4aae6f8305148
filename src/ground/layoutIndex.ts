/** Looks up what of a layout stands on a face or passes a wall. Made once for a layout; a layout is never changed. */

import { listsBy } from './groups.js';
import type {
  Aligner,
  CheckedBrace,
  CheckedLayout,
  CheckedPlatform,
  CheckedTie,
  Clamp,
  Cover,
  Piece,
} from './vocabulary.js';

export interface StandingOn {
  readonly piece: Piece;
  readonly cover: Cover;
  /** Which of the piece's covers it is, from 0. */
  readonly nth: number;
}

/** All lists in the layout's order. */
export interface LayoutIndex {
  readonly pieces: ReadonlyMap<string, Piece>;
  readonly onFace: (face: string) => readonly StandingOn[];
  readonly atVertex: (vertex: string) => readonly Piece[];
  /** Place of a piece in the layout. */
  readonly orderOf: (piece: Piece) => number;
  readonly tiesOf: (wall: string) => readonly CheckedTie[];
  readonly clampsOn: (face: string) => readonly Clamp[];
  readonly alignersOn: (face: string) => readonly Aligner[];
  readonly bracesOn: (face: string) => readonly CheckedBrace[];
  readonly platformsOn: (face: string) => readonly CheckedPlatform[];
}

const NONE: readonly never[] = [];

/** Lists by the face that each thing names. */
const byFace = <T extends { readonly face: string }>(items: readonly T[] = NONE): ((face: string) => readonly T[]) => {
  const lists = listsBy(items, (item) => item.face);
  return (face) => lists.get(face) ?? NONE;
};

const indexOf = (layout: CheckedLayout): LayoutIndex => {
  const covers = listsBy(
    layout.pieces.flatMap((piece) => piece.covers.map((cover, nth): StandingOn => ({ piece, cover, nth }))),
    ({ cover }) => cover.face,
  );
  const atVertex = listsBy(layout.pieces, (p) => p.vertex);
  const order = new Map(layout.pieces.map((p, i) => [p, i]));
  const ties = listsBy(layout.ties, (t) => t.wall);
  return {
    pieces: new Map(layout.pieces.map((p) => [p.id, p])),
    onFace: (face) => covers.get(face) ?? NONE,
    atVertex: (vertex) => atVertex.get(vertex) ?? NONE,
    orderOf: (piece) => order.get(piece)!,
    tiesOf: (wall) => ties.get(wall) ?? NONE,
    clampsOn: byFace(layout.clamps),
    alignersOn: byFace(layout.aligners),
    bracesOn: byFace(layout.braces),
    platformsOn: byFace(layout.platforms),
  };
};

const known = new WeakMap<CheckedLayout, LayoutIndex>();

export const layoutIndex = (layout: CheckedLayout): LayoutIndex => {
  const found = known.get(layout);
  if (found) return found;
  const made = indexOf(layout);
  known.set(layout, made);
  return made;
};
