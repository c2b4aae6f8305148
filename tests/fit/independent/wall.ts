/** One wall between two ends, for the project's fit and for the independent reference alike. */

import { DEFAULT_FIT_OPTIONS, type FitOptions, fit as fitPlan } from '../../../src/fit/index.js';
import type { Catalogue, Layout, RunEnd, StationInterval } from '../../../src/ground/vocabulary.js';
import { corner, freeEnd, onePlan } from '../../support/straightPlan.js';
import { type Cost, type FillerRule, type Zone, zoneOf } from './problem.js';
import { HEIGHT_MM, TIE_KN } from './yards.js';

const TOP_MM = 2350;

export interface End {
  readonly kind: 'corner' | 'free';
  /** Thickness of the wall that it meets. */
  readonly otherMm: number;
}

export interface WallCase {
  readonly catalogue: Catalogue;
  /** From inner vertex to inner vertex, or to the concrete's end. */
  readonly innerMm: number;
  readonly thicknessMm: number;
  readonly start: End;
  readonly end: End;
  readonly designKpa: number;
  readonly tieStripMm: number;
  readonly keepClear?: readonly StationInterval[];
}

/** Station 0 is the start's inner vertex, or the concrete's end. */
const planOf = ({ innerMm, thicknessMm, start, end }: WallCase) => {
  const runEnd = (e: End, at: number, which: 'start' | 'end'): RunEnd =>
    e.kind === 'free'
      ? freeEnd(at, which)
      : corner(at + ((which === 'start' ? -1 : 1) * e.otherMm) / 2, e.otherMm, which);
  return onePlan(innerMm, thicknessMm, TOP_MM, runEnd(start, 0, 'start'), runEnd(end, innerMm, 'end'));
};

export const referenceZone = (
  wall: WallCase,
  rule: FillerRule,
  { everyOuter = false, options = DEFAULT_FIT_OPTIONS }: { everyOuter?: boolean; options?: FitOptions } = {},
): Zone =>
  zoneOf(
    planOf(wall).runs[0]!,
    wall.catalogue,
    HEIGHT_MM,
    {
      designKpa: wall.designKpa,
      tieStripMm: wall.tieStripMm,
      rows: 1,
      bulkheadMm: options.bulkheadMm,
      bulkheadRoomMm: options.bulkheadRoomMm,
      runPastMostMm: options.runPastMostMm,
      edgeClearMm: options.edgeClearMm,
      keepClear: wall.keepClear ?? [],
    },
    rule,
    everyOuter,
  );

export interface FitAnswer {
  /** Null where the fit reports a failure. */
  readonly cost: Cost | null;
  /** Whether every tier is stated as proven. */
  readonly proven: boolean;
  readonly layout: Layout;
  readonly findings: readonly string[];
}

export const byTheFit = (wall: WallCase, options: FitOptions = DEFAULT_FIT_OPTIONS): FitAnswer => {
  const kNPerM = (TIE_KN / wall.tieStripMm) * 1000;
  const demand = {
    stack: { baseMm: 0, heightsMm: [HEIGHT_MM] },
    rows: [{ row: 1, levelMm: 300, kNPerM, stripKnPerM: kNPerM }],
    designKpa: wall.designKpa,
    keepClear: wall.keepClear ?? [],
  };
  const { value, findings } = fitPlan(planOf(wall), wall.catalogue, new Map([['W1', demand]]), options);
  const tier = (name: string) => value.tiers.find((t) => t.name === name)!;
  const failed = tier('failures').value > 0;
  const tiers = ['places', 'timberAreaM2', 'steelFillers', 'tiesAndUnits', 'runPast'].map(tier);
  const [places, area, fillers, tiesAndUnits, runPast] = tiers.map((t) => t.value);
  return {
    // Timber's area back to whole mm of width, both faces counted.
    cost: failed ? null : [places!, Math.round((area! * 1e6) / TOP_MM), fillers!, tiesAndUnits!, runPast!],
    proven: tiers.every((t) => t.optimal),
    layout: value,
    findings: findings.map((f) => f.code),
  };
};

/** Units of the left face and ties, for a message: '600[50] 400[50 350]', from the start. */
export const sequenceOf = (layout: Layout): string =>
  layout.pieces
    .filter((p) => p.kind !== 'inside-corner' && p.covers[0]?.face === 'W1-L')
    .map((p) => ({ kind: p.kind, cover: p.covers[0]! }))
    .sort((a, b) => a.cover.fromMm - b.cover.fromMm)
    .map(({ kind, cover: { fromMm, toMm } }) => {
      const ties = [...new Set(layout.ties.map((t) => t.stationMm))]
        .filter((s) => s > fromMm && s < toMm)
        .sort((a, b) => a - b);
      return `${kind === 'panel' ? '' : `${kind} `}${toMm - fromMm}[${ties.map((s) => s - fromMm)}]`;
    })
    .join(' ');
