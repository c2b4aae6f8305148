/**
 * Which title belongs to which view. *Practice, no source* throughout: titles stand below their views, or above them all over the sheet, in
 * letters no smaller than the rest.
 */

import type { Vec } from '../../ground/plane.js';
import { type Box, distanceTo, holds, sizeOf } from './boxes.js';
import type { Title, ViewKind } from './titles.js';

/** A title with where it stands. */
export interface PlacedTitle extends Title {
  readonly at: Vec;
  readonly height: number;
}

/** Width of a letter as a share of its height, about. */
const LETTER_WIDTH = 0.8;
/** How far a title stands from its view: in its own letter heights, or as a share of the view. Plans of several buildings may be farther. */
const TITLE_LETTERS = 15;
const PLAN_LETTERS = 40;
const TITLE_SHARE = 0.3;
/** In the middle of a view only lettering larger than the usual is a title. */
export const LARGE_LETTERS = 1.2;

/** How badly a title stands to a view that it should stand below, drawing units; null: it cannot be its title. */
const titleCost = (box: Box, t: PlacedTitle, letters: number): number | null => {
  const large = t.height >= LARGE_LETTERS * letters;
  const plan = t.kind === 'foundation plan' || t.kind === 'plan';
  const most = Math.max((plan ? PLAN_LETTERS : TITLE_LETTERS) * t.height, TITLE_SHARE * sizeOf(box));
  if (holds(box, t.at)) {
    const up = (t.at.y - box.y0) / (box.y1 - box.y0);
    const middle = up > 0.2 && up < 0.85;
    // What names a section or detail in the middle of a view is a mark where it is cut.
    return large && (plan || !middle) ? 0 : null;
  }
  const below = box.y0 - t.at.y;
  // Whether it is set from its left end or its middle is not known: the reading that stands better counts.
  const width = LETTER_WIDTH * t.height * t.text.length;
  const besideBy = (x: number) => Math.max(box.x0 - x - width, x - box.x1, 0);
  const beside = Math.min(besideBy(t.at.x), besideBy(t.at.x - width / 2));
  if (!plan && !large && (below <= 0 || beside > 0)) return null;
  const cost = below > 0 ? below + 2 * beside : 1.5 * distanceTo(box, t.at);
  return cost <= most ? cost : null;
};

const KIND_FIRST: readonly ViewKind[] = ['foundation plan', 'plan', 'section', 'elevation', 'detail', 'schedule'];

/** Titles above their views are the better reading when the distances come to less than this share of those below. */
const ABOVE_SHARE = 0.7;

const mirrored = (b: Box): Box => ({ ...b, y0: -b.y1, y1: -b.y0 });

interface Standing {
  /** For each view what may be its title, with how badly it stands. */
  readonly given: readonly { readonly title: PlacedTitle; readonly cost: number }[][];
  readonly cost: number;
}

/** Each title goes to the view to which it stands best. A title that stands to none costs its farthest reach. */
const stand = (boxes: readonly Box[], titles: readonly PlacedTitle[], letters: number, above: boolean): Standing => {
  const turned = above ? boxes.map(mirrored) : boxes;
  const given = boxes.map(() => [] as { title: PlacedTitle; cost: number }[]);
  let sum = 0;
  for (const title of titles) {
    const t = above ? { ...title, at: { x: title.at.x, y: -title.at.y } } : title;
    let best = -1;
    let bestCost = Infinity;
    turned.forEach((box, i) => {
      const cost = titleCost(box, t, letters);
      if (cost === null) return;
      const better = cost < bestCost || (cost === bestCost && sizeOf(box) < sizeOf(turned[best]!));
      if (better) [best, bestCost] = [i, cost];
    });
    if (best >= 0) given[best]!.push({ title, cost: bestCost });
    sum += best >= 0 ? bestCost : PLAN_LETTERS * title.height;
  }
  return { given, cost: sum };
};

/** The title of each view, or null. Of several titles of a view the largest counts. */
export const assignTitles = (
  boxes: readonly Box[],
  titles: readonly PlacedTitle[],
  letters: number,
): (PlacedTitle | null)[] => {
  const below = stand(boxes, titles, letters, false);
  const above = stand(boxes, titles, letters, true);
  const { given } = above.cost < ABOVE_SHARE * below.cost ? above : below;
  return given.map((list) => {
    const tallest = Math.max(...list.map((g) => g.title.height));
    const large = list.filter((g) => g.title.height >= 0.95 * tallest);
    large.sort(
      (p, q) =>
        KIND_FIRST.indexOf(p.title.kind) - KIND_FIRST.indexOf(q.title.kind) ||
        p.cost - q.cost ||
        p.title.at.x - q.title.at.x ||
        p.title.at.y - q.title.at.y,
    );
    return large[0]?.title ?? null;
  });
};
