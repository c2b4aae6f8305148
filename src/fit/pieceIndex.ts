/** Pieces of a layout by face and course, so that finding one takes no longer in a long plan than in a short one. */

import { listsBy } from '../ground/groups.js';
import { byNumber } from '../ground/order.js';
import type { Piece } from '../ground/vocabulary.js';

const fromOf = (p: Piece): number => p.covers[0]!.fromMm;

export class PieceIndex {
  /** By face, by course: in the order of their stations. */
  readonly #byFace = new Map<string, Map<number, Piece[]>>();

  constructor(pieces: readonly Piece[]) {
    const standing = pieces.filter((p) => p.covers.length > 0).sort(byNumber(fromOf));
    for (const [face, own] of listsBy(standing, (p) => p.covers[0]!.face))
      this.#byFace.set(
        face,
        listsBy(own, (p) => p.course),
      );
  }

  /** The piece whose inside holds this place of a face; undefined where there is none. */
  at(face: string, stationMm: number, levelMm: number): Piece | undefined {
    for (const own of this.#byFace.get(face)?.values() ?? []) {
      for (let i = firstFrom(own, stationMm) - 1; i >= 0; i--) {
        const { fromMm, toMm, baseMm, topMm } = own[i]!.covers[0]!;
        if (stationMm > fromMm && stationMm < toMm && levelMm > baseMm && levelMm < topMm) return own[i]!;
        // Pieces of one course stand side by side, but for parts of a wall at different levels.
        if (toMm < stationMm) break;
      }
    }
    return undefined;
  }

  /** The pieces of one course between two stations, in their order. */
  between(face: string, course: number, fromMm: number, toMm: number): Piece[] {
    const own = this.#byFace.get(face)?.get(course) ?? [];
    const found: Piece[] = [];
    for (let i = firstFrom(own, fromMm); i < own.length && fromOf(own[i]!) <= toMm; i++)
      if (own[i]!.covers[0]!.toMm <= toMm) found.push(own[i]!);
    return found;
  }
}

/** Number of the first piece that begins at a station or after it. */
const firstFrom = (pieces: readonly Piece[], stationMm: number): number => {
  let [low, high] = [0, pieces.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (fromOf(pieces[middle]!) < stationMm) low = middle + 1;
    else high = middle;
  }
  return low;
};
