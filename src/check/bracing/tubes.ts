/** Which lengths of aligners go along a line of forms, and where two of them join: off the joints of the forms, in as few lengths as can be. */

import type { AlignerItem } from '../../ground/vocabulary.js';
import { type FormLine, jointsAt } from './formLines.js';
import { RULES, SLACK_MM } from './options.js';

export interface Tube {
  readonly item: AlignerItem;
  readonly fromMm: number;
  readonly toMm: number;
}

/** Stations within which tubes must lie, and which they must at least cover. */
export interface Reach {
  readonly lowMm: number;
  readonly highMm: number;
  readonly needFromMm: number;
  readonly needToMm: number;
}

/** In the inner angle of the concrete the frames of the other wall are in the way. */
export const reachOfLine = (line: FormLine, frameDepthMm: number): Reach => {
  const inset = (end: FormLine['ends'][number]) => (end === 're-entrant' ? frameDepthMm + RULES.offFrameMm : 0);
  const lowMm = line.fromMm + inset(line.ends[0]);
  const highMm = line.toMm - inset(line.ends[1]);
  const needFromMm = Math.max(lowMm, line.fromMm + RULES.alignerEndMm);
  const needToMm = Math.min(highMm, line.toMm - RULES.alignerEndMm);
  return { lowMm, highMm, needFromMm, needToMm };
};

/** One length over the whole line: the longest that fits, in the middle. */
const single = (items: readonly AlignerItem[], r: Reach): Tube[] | null => {
  for (const item of items) {
    const from = Math.max(r.lowMm, r.needToMm - item.lengthMm);
    const to = Math.min(r.needFromMm, r.highMm - item.lengthMm);
    if (from > to + SLACK_MM) continue;
    const at = (from + to) / 2;
    return [{ item, fromMm: at, toMm: at + item.lengthMm }];
  }
  return null;
};

/** Work of one search; beyond it the next looser rule is tried. */
const MOST_STEPS = 4000;
const STARTS = 7;
/** Splices looked at beyond each end, the farthest first. */
const SPLICES = 5;

/** Several lengths with splices at given stations, in exactly `count` lengths; null: none found. */
const inARow = (items: readonly AlignerItem[], r: Reach, splices: readonly number[], count: number): Tube[] | null => {
  let steps = 0;
  const longest = items[0]!.lengthMm;
  /** The last one begins no later than `latestMm` and ends where the line does. */
  const last = (latestMm: number): Tube[] | null => {
    for (const item of items) {
      const startMm = Math.min(latestMm, r.highMm - item.lengthMm);
      if (startMm < r.lowMm - SLACK_MM || startMm + item.lengthMm < r.needToMm - SLACK_MM) continue;
      return [{ item, fromMm: startMm, toMm: startMm + item.lengthMm }];
    }
    return null;
  };
  const go = (startMm: number, left: number): Tube[] | null => {
    if (++steps > MOST_STEPS || startMm + left * longest < r.needToMm) return null;
    for (const item of items) {
      const endMm = startMm + item.lengthMm;
      // Only as far as the forms go: beyond them is another wall, or nothing to hold.
      if (endMm > r.highMm + SLACK_MM) continue;
      const half = item.lapMm / 2;
      const after = splices.filter((m) => m - half > startMm && m + half <= endMm + SLACK_MM);
      for (const m of after.slice(-SPLICES).reverse()) {
        const rest = left === 2 ? last(m - half) : go(m - half, left - 1);
        if (rest) return [{ item, fromMm: startMm, toMm: endMm }, ...rest];
      }
    }
    return null;
  };
  for (let k = 0; k < STARTS; k++) {
    const found = go(r.lowMm + ((r.needFromMm - r.lowMm) * k) / (STARTS - 1), count);
    if (found) return found;
  }
  return null;
};

/** Distances that splices keep from joints: what the rule asks, then less where the forms are too narrow for it. */
const LOOSER = [1, 0.75, 0.5, 0.25];

/** The tubes of one row; null where the yard has none that fit. `items`: those that may lie, in any order. */
export const tubesFor = (
  line: FormLine,
  levelMm: number,
  items: readonly AlignerItem[],
  frameDepthMm: number,
): Tube[] | null => {
  const r = reachOfLine(line, frameDepthMm);
  if (items.length === 0 || r.needToMm <= r.needFromMm) return null;
  const sorted = [...items].sort((a, b) => b.lengthMm - a.lengthMm || (a.id < b.id ? -1 : 1));
  const one = single(sorted, r);
  if (one) return one;
  const edges = [line.fromMm, ...jointsAt(line, levelMm), line.toMm];
  const middles = edges.slice(1).map((to, i) => ({ at: (edges[i]! + to) / 2, off: (to - edges[i]!) / 2 }));
  const least = Math.ceil((r.needToMm - r.needFromMm) / sorted[0]!.lengthMm);
  for (const share of LOOSER) {
    const splices = middles.filter((m) => m.off >= RULES.spliceMm * share - SLACK_MM).map((m) => m.at);
    for (let count = Math.max(2, least); count <= least + 3; count++) {
      const found = inARow(sorted, r, splices, count);
      if (found) return found;
    }
  }
  return null;
};

export interface Splice {
  /** Where the line of the aligners is joined: within the lap, half of the least lap from its ends, as far from joints of the forms as can be. */
  readonly atMm: number;
  readonly offMm: number;
}

/** Splices of a row, by station. */
export const splicesOf = (
  line: FormLine,
  levelMm: number,
  row: readonly { readonly fromMm: number; readonly toMm: number }[],
  lapMm: number,
): Splice[] => {
  const joints = jointsAt(line, levelMm);
  const edges = [line.fromMm, ...joints, line.toMm];
  const middles = edges.slice(1).map((to, i) => (edges[i]! + to) / 2);
  const off = (s: number) => Math.min(Number.POSITIVE_INFINITY, ...joints.map((j) => Math.abs(j - s)));
  return row.slice(1).map((t, i) => {
    const [low, high] = [t.fromMm + lapMm / 2, row[i]!.toMm - lapMm / 2];
    const middle = (t.fromMm + row[i]!.toMm) / 2;
    const tried = low > high ? [middle] : [low, high, ...middles.filter((m) => m > low && m < high)];
    return tried.map((atMm) => ({ atMm, offMm: off(atMm) })).reduce((x, y) => (y.offMm > x.offMm ? y : x));
  });
};
