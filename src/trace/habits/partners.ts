/** Which lines have another one beside them at the thickness of a wall. */

import { SAME_POINT_MM, WALL_LEAST_MM } from '../../ground/tolerance.js';
import { type Interval, overlap, totalLength, union } from '../intervals.js';
import { LINES_MOST } from '../limits.js';
import { buildLines, type LineSet } from '../lines.js';
import type { Segment } from '../segments.js';
import { buildStations, buildStrips } from '../strips.js';

export interface Partners {
  readonly set: LineSet;
  /** For each line the parts with another line beside them. */
  readonly partnered: readonly (readonly Interval[])[];
}

/** Null when there are more lines than tracing works through. `mostMm`: how far the other line may be. */
export const partnersOf = (segments: readonly Segment[], mostMm: number): Partners | null => {
  if (segments.length > LINES_MOST) return null;
  const set = buildLines(segments);
  const stations = buildStations(set);
  if (stations === null) return null;
  const parts: Interval[][] = set.lines.map(() => []);
  for (const s of buildStrips(set, stations)) {
    if (s.thicknessMm < WALL_LEAST_MM - SAME_POINT_MM || s.thicknessMm > mostMm + SAME_POINT_MM) continue;
    parts[s.low]!.push(s);
    parts[s.high]!.push(s);
  }
  return { set, partnered: parts.map((p) => union(p)) };
};

/** Share of the whole length that has another line beside it; 1 when there are too many lines to tell. */
export const partnerShare = (segments: readonly Segment[], mostMm: number): number => {
  const found = partnersOf(segments, mostMm);
  if (found === null) return 1;
  const all = totalLength(found.set.lines);
  const beside = found.partnered.reduce((sum, p) => sum + totalLength(p), 0);
  return all === 0 ? 0 : beside / all;
};

/** Segments of the lines that have no other beside them over most of their length. */
export const withoutPartner = (found: Partners): Set<Segment> => {
  const out = new Set<Segment>();
  found.set.lines.forEach((line, i) => {
    if (2 * totalLength(found.partnered[i]!) > line.b - line.a) return;
    for (const p of line.pieces) if (overlap(p, line)) out.add(p.segment);
  });
  return out;
};
