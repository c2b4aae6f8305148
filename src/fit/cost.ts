/**
 * Costs of the fit: vectors that are added element by element and compared lexicographically.
 *
 * First failures, then the five ordered tiers, last a tie-break that prefers wide units: minus the sum of squared widths. It is the same
 * for a sequence and its mirror image, so a mirrored plan takes the same units; "widest first" then only orders them.
 */

import type { OrderedTier } from './options.js';

export type Cost = readonly number[];

/** What a piece of layout costs, by name; lengths in grid units, areas in grid units squared. */
export interface CostParts {
  failures?: number;
  places?: number;
  timberArea?: number;
  steelFillers?: number;
  tiesAndUnits?: number;
  runPast?: number;
  /** Sum of squared panel widths. */
  squares?: number;
}

export const ZERO_COST: Cost = [0, 0, 0, 0, 0, 0, 0];

export const addCost = (a: Cost, b: Cost): Cost => [
  a[0]! + b[0]!,
  a[1]! + b[1]!,
  a[2]! + b[2]!,
  a[3]! + b[3]!,
  a[4]! + b[4]!,
  a[5]! + b[5]!,
  a[6]! + b[6]!,
];

export const compareCost = (a: Cost, b: Cost): number => {
  for (let i = 0; i < 7; i++) {
    const d = a[i]! - b[i]!;
    if (d !== 0) return d;
  }
  return 0;
};

const PART_OF: Record<OrderedTier, keyof CostParts> = {
  places: 'places',
  timberAreaM2: 'timberArea',
  steelFillers: 'steelFillers',
  tiesAndUnits: 'tiesAndUnits',
  runPast: 'runPast',
};

/** Vectors in the chosen order of tiers, and back. */
export interface CostOrder {
  readonly cost: (parts: CostParts) => Cost;
  readonly part: (cost: Cost, tier: OrderedTier | 'failures') => number;
}

export const costOrder = (order: readonly OrderedTier[]): CostOrder => {
  const names = order.map((tier) => PART_OF[tier]);
  return {
    cost: (parts) => [parts.failures ?? 0, ...names.map((name) => parts[name] ?? 0), -(parts.squares ?? 0)],
    part: (cost, tier) => (tier === 'failures' ? cost[0]! : cost[1 + order.indexOf(tier)]!),
  };
};
