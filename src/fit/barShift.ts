/** Bars of an even spacing that could start elsewhere: by how much later, so that all ties clear them, and what that would save. */

import { modulo, plainNumber } from '../ground/units.js';
import type { BarSpacing, StationInterval } from '../ground/vocabulary.js';
import { addCost, type Cost, ZERO_COST } from './cost.js';
import type { SolvedRun } from './plan.js';

/**
 * Starts later than today, 0 to less than the spacing, at which every tie keeps its reach from every bar; closed intervals, in order. A tie at station s
 * forbids the starts within `reachMm` of (s - first) modulo the spacing.
 */
export const laterStarts = (bars: BarSpacing, tieStationsMm: readonly number[]): StationInterval[] => {
  const { firstMm, spacingMm, reachMm } = bars;
  if (!(spacingMm > 0) || 2 * reachMm > spacingMm) return [];
  const forbidden = [...new Set(tieStationsMm.map((s) => modulo(s - firstMm, spacingMm)))].flatMap((at) => [
    [at - reachMm, at + reachMm] as const,
    [at - reachMm - spacingMm, at + reachMm - spacingMm] as const,
    [at - reachMm + spacingMm, at + reachMm + spacingMm] as const,
  ]);
  forbidden.sort((a, b) => a[0] - b[0]);
  const open: StationInterval[] = [];
  let from = 0;
  for (const [low, high] of forbidden) {
    if (low >= from && low >= 0 && from < spacingMm) open.push({ fromMm: from, toMm: Math.min(low, spacingMm) });
    from = Math.max(from, high);
  }
  if (from < spacingMm) open.push({ fromMm: from, toMm: spacingMm });
  return open.filter((i) => i.toMm - i.fromMm >= LEAST_MM);
};

/** Bars cannot be set truer than this. *Practice, no source.* */
const LEAST_MM = 5;

/** Stations of a run's ties in the concrete, mm. */
const tieStations = ({ model, zones }: SolvedRun): number[] => {
  const { run, gear } = model.ctx;
  const low = run.start.kind === 'free' ? Math.min(run.start.leftMm, run.start.rightMm) : -Infinity;
  const high = run.end.kind === 'free' ? Math.max(run.end.leftMm, run.end.rightMm) : Infinity;
  return zones
    .flatMap((zone) => zone.answer?.placed ?? [])
    .flatMap((placed) => (placed.tied?.tiesGu ?? []).map((t) => (placed.fromGu + t) * gear.gridMm))
    .filter((s) => s > low && s < high);
};

const costOf = (run: SolvedRun): Cost => {
  const zones = run.zones.reduce<Cost>((sum, z) => addCost(sum, z.cost), ZERO_COST);
  return run.stems.reduce<Cost>((sum, s) => addCost(sum, s.bound.cost), zones);
};

/** In words: 'later by 35 to 65 mm'; null where no start clears all ties of the layout that heeds no bars. */
const laterWords = (bars: BarSpacing, heedless: SolvedRun): string | null => {
  const starts = laterStarts(bars, tieStations(heedless));
  if (starts.length === 0) return null;
  return `later by ${starts.map((i) => `${plainNumber(Math.ceil(i.fromMm), 0)} to ${plainNumber(Math.floor(i.toMm), 0)}`).join(' or ')} mm`;
};

/**
 * What to ask of whoever sets the bars, where heeding them costs something: when they would have to start so that the layout without them keeps all ties
 * clear. null: the bars cost nothing, or no other start helps.
 */
export const barAdvice = (bars: BarSpacing, heeded: SolvedRun, heedless: SolvedRun): string | null => {
  const [own, free] = [costOf(heeded), costOf(heedless)];
  // The last part only prefers wide units.
  const isDearer = own.slice(0, -1).some((x, i) => x !== free[i]);
  return isDearer ? laterWords(bars, heedless) : null;
};
