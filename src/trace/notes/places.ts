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
  readonly heightMm: number;
  /** Where it stands, mm, and about how long its longest line runs from there. */
  readonly standsAt: Vec;
  readonly alongMm: Vec;
}

/** A letter is about this wide for its height. *Practice, no source.* */
const LETTER_WIDTH = 0.7;
/** The tail of a leader ends within this many letter heights of its text. *Practice, no source.* */
const TAIL_HEIGHTS = 2.5;

const boxOf = (t: DrawingText): { half: Vec; cos: number; sin: number } => {
  const lines = t.text.split('\n');
  const longest = Math.max(...lines.map((l) => l.length));
  return {
    half: { x: longest * LETTER_WIDTH * t.height, y: lines.length * 1.5 * t.height },
    cos: Math.cos(t.rotationRad),
    sin: Math.sin(t.rotationRad),
  };
};

/** Distance from a point to where the text can be: its alignment is not known, so its box stands to all sides of its point. */
const awayFrom = (p: Vec, t: DrawingText): number => {
  const { half, cos, sin } = boxOf(t);
  const dx = p.x - t.at.x;
  const dy = p.y - t.at.y;
  const u = Math.max(0, Math.abs(dx * cos + dy * sin) - half.x);
  const v = Math.max(0, Math.abs(dy * cos - dx * sin) - half.y);
  return Math.hypot(u, v);
};

const isUsable = (t: DrawingText): boolean => [t.at.x, t.at.y, t.height, t.rotationRad].every(Number.isFinite);

/** The text on which a leader's tail ends: the named one, else the nearest. */
const hangsOn = (leader: DrawingLeader, texts: readonly DrawingText[], bySource: ReadonlyMap<string, DrawingText>) => {
  if (leader.text !== null) return bySource.get(leader.text) ?? null;
  const tail = leader.points.at(-1)!;
  let best: { text: DrawingText; away: number; off: number } | null = null;
  for (const text of texts) {
    const away = awayFrom(tail, text);
    if (away > TAIL_HEIGHTS * text.height) continue;
    const off = distance(tail, text.at);
    const less = best === null ? -1 : away - best.away || off - best.off || compareText(text.source, best.text.source);
    if (less < 0) best = { text, away, off };
  }
  return best?.text ?? null;
};

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
  const usable = texts.filter(isUsable);
  const bySource = new Map(usable.map((t) => [t.source, t]));
  const tips = new Map<DrawingText, Vec[]>();
  for (const leader of leaders) {
    const tip = leader.points[0];
    if (leader.points.length < 2 || !tip || !leader.points.every((p) => Number.isFinite(p.x) && Number.isFinite(p.y)))
      continue;
    const text = hangsOn(leader, usable, bySource);
    if (text) tips.set(text, [...(tips.get(text) ?? []), { x: tip.x * k, y: tip.y * k }]);
  }
  return usable
    .map((t): PlacedText => {
      const own = { x: t.at.x * k, y: t.at.y * k };
      const pointed = (tips.get(t) ?? []).sort(comparePoints);
      const { half, cos, sin } = boxOf(t);
      return {
        text: t.text,
        source: t.source,
        at: pointed.length > 0 ? pointed : [own],
        byLeader: pointed.length > 0,
        heightMm: t.height * k,
        standsAt: own,
        alongMm: { x: half.x * cos * k, y: half.x * sin * k },
      };
    })
    .sort(
      (p, q) => comparePoints(p.standsAt, q.standsAt) || compareText(p.text, q.text) || compareText(p.source, q.source),
    );
};
