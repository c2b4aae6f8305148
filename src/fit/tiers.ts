/** The certificate: every tier of the cost with its value, its proven bound and whether the two meet. */

import { roundTo } from '../ground/units.js';
import type { CostTier, Piece } from '../ground/vocabulary.js';
import type { CostOrder } from './cost.js';
import type { Emitted } from './emit.js';
import type { FitOptions, OrderedTier } from './options.js';
import type { SolvedPlan } from './plan.js';

const UNIT_KINDS: readonly Piece['kind'][] = ['panel', 'filler', 'inside-corner', 'outside-corner', 'hinged-corner'];

/** Tiers that a top course of panels on their side leaves as they are: such panels are taken only where the yard has them. */
const NOT_OF_UNITS: readonly CostTier['name'][] = ['failures', 'short', 'places', 'timberAreaM2'];

/**
 * Tiers in the order in which they were compared. `failures` is the number of failures that the fit names, `short` that of units beyond the yard's counts. Corner
 * units and stretches that nothing of the yard closes are added to value and bound alike, and so are the gaps under the forms, which the phase alone decides, and
 * what groups beside a higher wall have more of. The tier `kinds` is made less where that costs nothing, without a proof: its bound is null. So is that of `short`
 * where the yard's counts were not heeded.
 */
export const tiersOf = (
  solved: SolvedPlan,
  emitted: Emitted,
  short: number,
  options: FitOptions,
  order: CostOrder,
  gridMm: number,
  failures: number,
): CostTier[] => {
  const corners = emitted.pieces.filter((p) => p.kind.endsWith('corner')).length;
  const scale: Record<OrderedTier | 'failures' | 'short', (n: number) => number> = {
    // The search weighs failures; what counts is how many are named. They are least when the search says so.
    failures: (n) => (n === order.part(solved.cost, 'failures') ? failures : Math.min(Math.floor(n), failures)),
    // What is short is counted in what was emitted: forms that are not drawn take nothing.
    short: (n) => (n === order.part(solved.cost, 'short') ? short : Math.min(n, short)),
    places: (n) => n + emitted.unsolved.places,
    timberAreaM2: (n) => roundTo((n * gridMm * gridMm) / 1e6 + emitted.unsolved.areaM2 + emitted.gapAreaM2, 4),
    steelFillers: (n) => n + emitted.more.fillers,
    tiesAndUnits: (n) => n + corners + emitted.more.units,
    runPast: (n) => roundTo(n * gridMm, 3),
  };
  let met = true;
  // What panels on their side save in the top course was not searched for: tiers that count them are not proven.
  const lain = solved.runs.some((r) => r.tops);
  const tier = (name: OrderedTier | 'failures' | 'short'): CostTier => {
    met &&= !lain || NOT_OF_UNITS.includes(name);
    const value = scale[name](order.part(solved.cost, name));
    const bound = scale[name](order.part(solved.bound, name));
    const optimal = met && value === bound;
    const told = met && Number.isFinite(bound) ? bound : null;
    met = optimal;
    return { name, value, bound: told, optimal };
  };
  const isCounted = solved.heedsStock !== true;
  const kinds = new Set(emitted.pieces.filter((p) => UNIT_KINDS.includes(p.kind)).map((p) => p.item)).size;
  return [
    tier('failures'),
    isCounted ? { name: 'short', value: short, bound: short === 0 ? 0 : null, optimal: short === 0 } : tier('short'),
    ...options.costOrder.map(tier),
    { name: 'kinds', value: kinds, bound: null, optimal: false },
  ];
};
