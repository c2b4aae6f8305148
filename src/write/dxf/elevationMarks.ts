/** Marks in elevations: inside the unit where they fit, otherwise above or below it with a leader. */

import { byNumber } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import type { OnFace, View } from './elevationView.js';
import { spread } from './labels.js';
import type { TextSizes } from './scene.js';
import { line, type Shape, type TextPose, text, textWidth } from './sheet.js';

const CLEAR_MM = 15;
/** Room that a tie's mark takes round its place. */
const TIE_CLEAR_MM = 45;
const STEP_MM = 50;

/** Half of what a row of aligners or the edge of a floor takes. */
const LEVEL_CLEAR_MM = 40;

/** What a mark must not lie on: the places of ties, the stations (x) of upright lines, the heights (y) of lines that go through. */
export interface Obstacles {
  readonly ties: readonly Vec[];
  readonly uprights: readonly number[];
  readonly levels: readonly number[];
}

const hits = ({ ties, uprights, levels }: Obstacles, at: Vec, halfX: number, halfY: number): boolean =>
  uprights.some((x) => Math.abs(x - at.x) < halfX + CLEAR_MM) ||
  levels.some((y) => Math.abs(y - at.y) < halfY + LEVEL_CLEAR_MM) ||
  ties.some((t) => Math.abs(t.x - at.x) < halfX + TIE_CLEAR_MM && Math.abs(t.y - at.y) < halfY + TIE_CLEAR_MM);

/** Places at which a mark is tried: from the middle outwards in steps, as far as the room reaches. */
const outwards = (low: number, high: number, half: number): number[] => {
  const middle = (low + high) / 2;
  const found = [middle];
  for (let d = STEP_MM; d <= (high - low) / 2 - half; d += STEP_MM) found.push(middle + d, middle - d);
  return found;
};

/** Pose of a mark inside a unit, level where the width allows, else upright, smaller where that finds room; null where it does not fit legibly or meets something everywhere. */
export const markInside = (
  sizes: TextSizes,
  mark: string,
  low: Vec,
  high: Vec,
  obstacles: Obstacles,
): TextPose | null => {
  const width = high.x - low.x - 2 * CLEAR_MM;
  const height = high.y - low.y - 2 * CLEAR_MM;
  const near: Obstacles = {
    ties: obstacles.ties.filter((t) => t.x > low.x - 50 && t.x < high.x + 50 && t.y > low.y - 50 && t.y < high.y + 50),
    uprights: obstacles.uprights.filter((x) => x > low.x + 1 && x < high.x - 1),
    levels: obstacles.levels,
  };
  const smaller = [sizes.mark, (sizes.mark + sizes.least) / 2, sizes.least];
  for (const [most, upright] of smaller.flatMap((mm) => [[mm, false] as const, [mm, true] as const])) {
    const [run, rise] = upright ? [height, width] : [width, height];
    const textMm = Math.min(most, rise, run / textWidth(mark, 1));
    if (textMm < (upright || height < sizes.dimension ? sizes.least : sizes.dimension)) continue;
    const long = textWidth(mark, textMm) / 2;
    const [halfX, halfY] = upright ? [textMm / 2, long] : [long, textMm / 2];
    for (const y of outwards(low.y, high.y, halfY + CLEAR_MM)) {
      for (const x of outwards(low.x, high.x, halfX + CLEAR_MM)) {
        if (hits(near, { x, y }, halfX, halfY)) continue;
        return { at: { x, y }, heightMm: textMm, rotationDeg: upright ? 90 : 0, across: 'centre', upright: 'middle' };
      }
    }
  }
  return null;
};

interface Outside {
  readonly item: OnFace;
  readonly mark: string;
}

const middleX = (view: View, { item }: Outside): number => view.at((item.cover.fromMm + item.cover.toMm) / 2, 0).x;

/** From the tops of the units to the lane of their marks, at the usual height of texts. */
const LEAD_MM = 100;

/** Height of what stands highest between two places (x): a mark of a low unit stands close over that unit, not over the tall ones far beside it. */
const skyline = (view: View, standing: readonly OnFace[], a: number, b: number): number => {
  const [low, high] = [Math.min(a, b), Math.max(a, b)];
  const over = standing.filter(({ cover }) => {
    const [from, to] = [view.at(cover.fromMm, 0).x, view.at(cover.toMm, 0).x];
    return Math.min(from, to) < high && Math.max(from, to) > low;
  });
  return Math.max(...over.map(({ cover }) => cover.topMm), Number.NEGATIVE_INFINITY) - view.footMm;
};

/** Marks of narrow units, upright close over the forms, spread, each led to its unit's top. `standing`: all that stands on the face. */
export const topLabels = (view: View, standing: readonly OnFace[], outside: readonly Outside[]): Shape[] => {
  const { sizes } = view;
  const sorted = [...outside].sort(byNumber((o) => middleX(view, o)));
  const places = spread(
    sorted.map((o) => middleX(view, o)),
    sizes.dimension * 1.4,
  );
  return sorted.flatMap((o, i) => {
    const x = places[i]!;
    const from = { x: middleX(view, o), y: o.item.cover.topMm - view.footMm };
    const about = ['mark', o.item.piece.id];
    const reach = sizes.dimension * 0.7;
    const lane =
      skyline(view, standing, Math.min(x, from.x) - reach, Math.max(x, from.x) + reach) + LEAD_MM * sizes.factor;
    return [
      line('NOTE', from, { x, y: lane - 20 }, about),
      text('NOTE', o.mark, { x, y: lane }, sizes.dimension, { rotationDeg: 90, upright: 'middle', about }),
    ];
  });
};

/** Marks of low pieces (fill under a column), in a lane under the footing. */
export const bottomLabels = (view: View, outside: readonly Outside[]): Shape[] => {
  const { sizes } = view;
  const sorted = [...outside].sort(byNumber((o) => middleX(view, o)));
  const gap = Math.max(...sorted.map((o) => textWidth(o.mark, sizes.dimension)), 0) + 60 * sizes.factor;
  const places = spread(
    sorted.map((o) => middleX(view, o)),
    gap,
  );
  return sorted.flatMap((o, i) => {
    const x = places[i]!;
    const { cover, piece } = o.item;
    const from = { x: middleX(view, o), y: (cover.baseMm + cover.topMm) / 2 - view.footMm };
    const about = ['mark', piece.id];
    return [
      line('NOTE', from, { x, y: -130 }, about),
      text('NOTE', o.mark, { x, y: -150 }, sizes.dimension, { across: 'centre', upright: 'top', about }),
    ];
  });
};
