/** Where a note's text belongs: at the tips of the leaders that it hangs on, else where it stands. */

import { comparePoints, compareText } from '../../ground/order.js';
import { distance, type Vec } from '../../ground/plane.js';
import { type LengthUnit, MM_PER } from '../../ground/units.js';
import type { DrawingLeader, DrawingText } from '../../ground/vocabulary.js';

export interface PlacedText {
  readonly text: string;
  readonly source: string;
  /** Where it points, mm: one for each leader, or where it stands. Sorted by x, then y. */
  readonly at: readonly Vec[];
  readonly byLeader: boolean;
}

/** A letter is about this wide for its height, and a line this high. *Practice, no source.* */
const LETTER_WIDTH = 0.7;
const LINE_HEIGHT = 1.6;
/** A long line of a note is broken by the box that it stands in, which is not known: about this many letters a line. *Practice, no source.* */
const LETTERS_A_LINE = 30;
/** The tail of a leader ends within this many letter heights of its text; a title's letters count as twice the usual ones. *Practice, no source.* */
const TAIL_HEIGHTS = 2.5;
const TITLE_HEIGHTS = 2;
/** How much is read and looked through; more than any sheet holds. */
const CHARS_MOST = 600000;
const PAIRS_MOST = 10000000;

interface Box {
  readonly text: DrawingText;
  readonly width: number;
  readonly height: number;
  readonly cos: number;
  readonly sin: number;
  readonly reach: number;
}

const boxOf = (text: DrawingText, usualHeight: number): Box => {
  const lines = text.text.split('\n');
  const longest = lines.reduce((most, l) => Math.max(most, l.length), 0);
  const rows = lines.reduce((sum, l) => sum + Math.max(1, Math.ceil(l.length / LETTERS_A_LINE)), 0);
  return {
    text,
    width: longest * LETTER_WIDTH * text.height,
    height: rows * LINE_HEIGHT * text.height,
    cos: Math.cos(text.rotationRad),
    sin: Math.sin(text.rotationRad),
    reach: TAIL_HEIGHTS * Math.min(text.height, TITLE_HEIGHTS * usualHeight),
  };
};

/** Distances from a point to the text as it mostly stands, to the right of its point and down from it, and to wherever it can stand round its point. */
const awayFrom = (p: Vec, b: Box): { usual: number; any: number } => {
  const dx = p.x - b.text.at.x;
  const dy = p.y - b.text.at.y;
  const u = dx * b.cos + dy * b.sin;
  const v = dy * b.cos - dx * b.sin;
  const beside = Math.max(0, Math.abs(v) - b.height);
  return {
    usual: Math.hypot(Math.max(0, -u, u - b.width), Math.max(0, v - LINE_HEIGHT * b.text.height, -v - b.height)),
    any: Math.hypot(Math.max(0, Math.abs(u) - b.width), beside),
  };
};

const isUsable = (t: DrawingText): boolean => [t.at.x, t.at.y, t.height, t.rotationRad].every(Number.isFinite);

/** The text on which a leader's tail ends: the named one, else the nearest. */
const hangsOn = (
  leader: DrawingLeader,
  boxes: readonly Box[],
  bySource: ReadonlyMap<string, DrawingText>,
): DrawingText | null => {
  if (leader.text !== null) return bySource.get(leader.text) ?? null;
  const tail = leader.points.at(-1)!;
  let best: { text: DrawingText; away: number; off: number } | null = null;
  for (const box of boxes) {
    const { usual, any } = awayFrom(tail, box);
    if (any > box.reach) continue;
    // A text that would have to stand the unusual way comes after all that need not.
    const away = usual <= box.reach ? usual : any + 1e6 * box.reach;
    const off = distance(tail, box.text.at);
    const less =
      best === null ? -1 : away - best.away || off - best.off || compareText(box.text.source, best.text.source);
    if (less < 0) best = { text: box.text, away, off };
  }
  return best?.text ?? null;
};

/** Are there more notes than are read? What is beyond is left out. */
export const tooManyNotes = (texts: readonly DrawingText[], leaders: readonly DrawingLeader[]): boolean =>
  texts.reduce((sum, t) => sum + t.text.length, 0) > CHARS_MOST || texts.length * leaders.length > PAIRS_MOST;

/**
 * Texts with the places that they speak of.
 *
 * @param texts drawing units
 * @param leaders drawing units, tip first
 * @param unit of the drawing; the places are in mm
 * @returns sorted by where the text stands, then by what it says, then by source
 */
export const placeTexts = (
  texts: readonly DrawingText[],
  leaders: readonly DrawingLeader[],
  unit: LengthUnit,
): PlacedText[] => {
  const k = MM_PER[unit];
  let chars = 0;
  const usable = texts
    .filter(isUsable)
    .sort((p, q) => comparePoints(p.at, q.at) || compareText(p.text, q.text) || compareText(p.source, q.source))
    .filter((t) => {
      chars += t.text.length;
      return chars <= CHARS_MOST;
    });
  const heights = usable.map((t) => t.height).sort((p, q) => p - q);
  const usualHeight = heights[Math.floor(heights.length / 2)] ?? 0;
  const boxes = usable.length * leaders.length > PAIRS_MOST ? [] : usable.map((t) => boxOf(t, usualHeight));
  const bySource = new Map(usable.map((t) => [t.source, t]));
  const tips = new Map<DrawingText, Vec[]>();
  for (const leader of leaders) {
    const tip = leader.points[0];
    if (leader.points.length < 2 || !tip || !leader.points.every((p) => Number.isFinite(p.x) && Number.isFinite(p.y)))
      continue;
    const text = hangsOn(leader, boxes, bySource);
    if (text) tips.set(text, [...(tips.get(text) ?? []), { x: tip.x * k, y: tip.y * k }]);
  }
  return usable.map((t): PlacedText => {
    const own = { x: t.at.x * k, y: t.at.y * k };
    const pointed = (tips.get(t) ?? []).sort(comparePoints);
    return {
      text: t.text,
      source: t.source,
      at: pointed.length > 0 ? pointed : [own],
      byLeader: pointed.length > 0,
    };
  });
};
