/** Vertical aligners over stacked forms (rule T13): where forms stand over each other their joint is a hinge for the line of the wall. */

import type { AlignerItem, Catalogue } from '../../ground/vocabulary.js';
import { choosePlaces } from './choosePlaces.js';
import { coursesAt, type FormLine, jointsAt } from './formLines.js';
import { RULES, SLACK_MM } from './options.js';

/** Stations over which forms stand over each other. */
export interface StackedSpan {
  readonly fromMm: number;
  readonly toMm: number;
}

const GAP_MM = 1;

export const stackedSpans = (line: FormLine): StackedSpan[] => {
  const spans: { fromMm: number; toMm: number }[] = [];
  for (const { piece, cover } of line.covers) {
    if (piece.course < 2) continue;
    const last = spans.at(-1);
    if (last && cover.fromMm <= last.toMm + GAP_MM) last.toMm = Math.max(last.toMm, cover.toMm);
    else spans.push({ fromMm: cover.fromMm, toMm: cover.toMm });
  }
  return spans;
};

/** Where the first or last upright of a span may stand at all: clear of the frames of the other wall in an inner angle. */
export const endInsets = (line: FormLine, span: StackedSpan, frameDepthMm: number): readonly [number, number] => {
  const inset = (end: FormLine['ends'][number], awayMm: number) =>
    end === 're-entrant' && Math.abs(awayMm) < GAP_MM ? frameDepthMm + RULES.offFrameMm : 0;
  return [inset(line.ends[0], span.fromMm - line.fromMm), inset(line.ends[1], line.toMm - span.toMm)];
};

/** What an upright at a station has to reach: 600 past its lowest and its highest joint, as far as forms stand. */
export const wantedReach = (line: FormLine, stationMm: number): { readonly lowMm: number; readonly highMm: number } => {
  const { joints, topMm } = coursesAt(line, stationMm);
  const [low, high] = [Math.min(...joints), Math.max(...joints)];
  return {
    lowMm: Math.max(line.baseMm, low - RULES.uprightLapMm),
    highMm: Math.min(topMm, high + RULES.uprightLapMm),
  };
};

export interface Upright {
  readonly item: AlignerItem;
  readonly stationMm: number;
  readonly lowMm: number;
  readonly highMm: number;
}

/** A tube between foot and top that reaches as far as wanted; the shortest that does. */
const tubeAt = (line: FormLine, stationMm: number, items: readonly AlignerItem[]): Upright | null => {
  const { lowMm, highMm } = wantedReach(line, stationMm);
  const { topMm } = coursesAt(line, stationMm);
  const item = items.find((a) => a.lengthMm >= highMm - lowMm - SLACK_MM && a.lengthMm <= topMm - line.baseMm);
  if (!item) return null;
  const spare = item.lengthMm - (highMm - lowMm);
  const low = Math.max(line.baseMm, Math.min(lowMm - spare / 2, topMm - item.lengthMm));
  return { item, stationMm, lowMm: low, highMm: low + item.lengthMm };
};

/** From a vertical joint to the middle of an upright. Common practice, no source. */
const EDGE_MM = 30;
const STEP_MM = 25;

/** Uprights over the stacked stretches of a line, as far as they find a place. `ties`: stations of the ties that pass it. */
export const uprightsFor = (line: FormLine, ties: readonly number[], catalogue: Catalogue): Upright[] => {
  const items = (catalogue.aligners ?? [])
    .filter((a) => a.stands !== 'horizontal')
    .sort((a, b) => a.lengthMm - b.lengthMm || (a.id < b.id ? -1 : 1));
  const edges = [...jointsAt(line, line.topMm - 1), ...jointsAt(line, line.baseMm + 1)];
  const isClear = (s: number) =>
    ties.every((t) => Math.abs(t - s) >= RULES.tieClearMm) && edges.every((e) => Math.abs(e - s) >= EDGE_MM);
  return stackedSpans(line).flatMap((span) => {
    const placesWithin = (endMostMm: number): number[] | null =>
      choosePlaces({
        ...span,
        endMostMm,
        endLeastMm: endInsets(line, span, catalogue.frameDepthMm),
        spacingMostMm: RULES.uprightSpacingMm,
        stepMm: STEP_MM,
        isAllowed: (s) => isClear(s) && tubeAt(line, s, items) !== null,
      });
    // Further from the ends where ties leave no place nearer: that is then a finding.
    const places = placesWithin(RULES.uprightEndMm) ?? placesWithin(2 * RULES.uprightEndMm);
    return (places ?? []).map((s) => tubeAt(line, s, items)!);
  });
};
