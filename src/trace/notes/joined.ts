/**
 * Notes that were written as several texts: "T.O.W." on one line and its level on the next, or side by side, or both in one block. Only a text that names
 * a level or a step and gives none is completed, and only by one that says nothing of its own, so that notes that stand in a column stay apart.
 */

import { comparePoints, compareText } from '../../ground/order.js';
import type { DrawingText } from '../../ground/vocabulary.js';
import { namesLevel, readLevels } from './levels.js';
import { readSteps } from './steps.js';

/** In letter heights: how far the lines of one note stand apart, how far they are out of line, the blank between words. *Practice, no source.* */
const LINE_MOST = 2.5;
const LINE_LEAST = 0.9;
const SHIFT_MOST = 0.6;
const BLANK_MOST = 3;
const LETTER_WIDTH = 0.7;
/** Texts that one block of a level mark holds. */
const BLOCK_TEXTS_MOST = 4;
/** Texts of this length and less can be half a note. */
const HALF_MOST = 60;
/** Half notes that are completed. */
const HALVES_MOST = 500;

const says = (text: string): number =>
  readLevels(text).filter((r) => r.of !== 'unknown' && r.of !== 'other').length +
  readSteps(text).filter((s) => s.kind !== null || s.rise !== null).length;

/** A half names and gives no number. */
const isHalf = (t: DrawingText): boolean =>
  t.text.length <= HALF_MOST &&
  !/\d/.test(t.text) &&
  (namesLevel(t.text) || /(?<!\p{L})STEP/iu.test(t.text)) &&
  says(t.text) === 0;

interface Offer {
  readonly other: DrawingText;
  /** The joined text, in reading order. */
  readonly text: string;
  /** 0: below, 1: beside, 2: above, 3: in the same block. */
  readonly rank: number;
  readonly gap: number;
}

const blockOf = (t: DrawingText): string | null => {
  const at = t.source.lastIndexOf('/');
  return at < 0 ? null : t.source.slice(0, at);
};

/** Where another text stands as seen from this one, along and up from its line, in letter heights. */
const seenFrom = (t: DrawingText, other: DrawingText): { along: number; up: number } => {
  const dx = (other.at.x - t.at.x) / t.height;
  const dy = (other.at.y - t.at.y) / t.height;
  const cos = Math.cos(t.rotationRad);
  const sin = Math.sin(t.rotationRad);
  return { along: dx * cos + dy * sin, up: dy * cos - dx * sin };
};

const offerOf = (t: DrawingText, other: DrawingText, sameBlock: boolean): Offer | null => {
  const below = `${t.text}\n${other.text}`;
  if (sameBlock) return { other, text: below, rank: 3, gap: 0 };
  if (Math.abs(other.height / t.height - 1) > 0.3 || Math.abs(Math.sin(other.rotationRad - t.rotationRad)) > 0.02)
    return null;
  const { along, up } = seenFrom(t, other);
  const inColumn = Math.abs(along) <= SHIFT_MOST && Math.abs(up) >= LINE_LEAST && Math.abs(up) <= LINE_MOST;
  if (inColumn && up < 0) return { other, text: below, rank: 0, gap: -up };
  if (inColumn) return { other, text: `${other.text}\n${t.text}`, rank: 2, gap: up };
  const blank = along - t.text.length * LETTER_WIDTH;
  if (Math.abs(up) <= SHIFT_MOST && along > 0 && blank <= BLANK_MOST)
    return { other, text: `${t.text} ${other.text}`, rank: 1, gap: along };
  return null;
};

/** The texts, halves of notes joined to one at the place of the half that names it. `joined` tells which text's words went where. */
export const joinTexts = (
  texts: readonly DrawingText[],
): { texts: DrawingText[]; joined: ReadonlyMap<string, string> } => {
  const ordered = [...texts].sort(
    (p, q) => comparePoints(p.at, q.at) || compareText(p.text, q.text) || compareText(p.source, q.source),
  );
  const halves = ordered.filter((t) => t.height > 0 && isHalf(t)).slice(0, HALVES_MOST);
  const inBlock = new Map<string, DrawingText[]>();
  if (halves.length > 0)
    for (const t of ordered) {
      const block = blockOf(t);
      if (block !== null) inBlock.set(block, [...(inBlock.get(block) ?? []).slice(0, BLOCK_TEXTS_MOST), t]);
    }
  const taken = new Set<DrawingText>();
  const words = new Map<DrawingText, string>();
  const joined = new Map<string, string>();
  for (const half of halves) {
    if (taken.has(half)) continue;
    const block = blockOf(half);
    const mates = block === null ? [] : (inBlock.get(block) ?? []);
    const offers = ordered
      .flatMap((other): Offer[] => {
        if (other === half || taken.has(other) || words.has(other) || other.text.length > HALF_MOST) return [];
        const offer = offerOf(half, other, mates.length <= BLOCK_TEXTS_MOST && mates.includes(other));
        return offer && says(other.text) === 0 && says(offer.text) > 0 ? [offer] : [];
      })
      .sort((p, q) => p.rank - q.rank || p.gap - q.gap);
    const best = offers[0];
    if (!best) continue;
    taken.add(best.other);
    words.set(half, best.text);
    joined.set(best.other.source, half.source);
  }
  return {
    texts: ordered.filter((t) => !taken.has(t)).map((t) => ({ ...t, text: words.get(t) ?? t.text })),
    joined,
  };
};
