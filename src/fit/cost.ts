/**
 * Costs of the fit: vectors that are added element by element and compared lexicographically.
 *
 * First failures, then units short of the yard's stock, then the five ordered tiers, last a tie-break that prefers wide units: minus the sum of squared
 * widths. It is the same for a sequence and its mirror image, so a mirrored plan takes the same units; "widest first" then only orders them.
 *
 * What is short is a matter of the whole job and no sum of its pieces. Where the stock is limited each item has a price instead (stock/prices.ts), a
 * vector too, and costs are told in prices; without them the second place is 0.
 */

import type { OrderedTier } from './options.js';

export type Cost = readonly number[];

/** What a piece of layout takes of the yard: items of the catalogue and how many of each. */
export type Uses = readonly (readonly [item: string, count: number])[];

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
  uses?: Uses;
}

export const ZERO_COST: Cost = [0, 0, 0, 0, 0, 0, 0, 0];

export const addCost = (a: Cost, b: Cost): Cost => [
  a[0]! + b[0]!,
  a[1]! + b[1]!,
  a[2]! + b[2]!,
  a[3]! + b[3]!,
  a[4]! + b[4]!,
  a[5]! + b[5]!,
  a[6]! + b[6]!,
  a[7]! + b[7]!,
];

export const lessCost = (a: Cost, b: Cost): Cost => a.map((x, i) => x - b[i]!);

export const compareCost = (a: Cost, b: Cost): number => {
  for (let i = 0; i < 8; i++) {
    const d = a[i]! - b[i]!;
    if (d !== 0) return d;
  }
  return 0;
};

/** Whether a + b is less than c. Asked for every group at every place: no vector is made for the sum. */
export const sumIsLess = (a: Cost, b: Cost, c: Cost): boolean => {
  for (let i = 0; i < 8; i++) {
    const d = a[i]! + b[i]! - c[i]!;
    if (d !== 0) return d < 0;
  }
  return false;
};

/** As compareCost, without the tie-break. */
export const compareTiers = (a: Cost, b: Cost): number => {
  for (let i = 0; i < TIERS; i++) {
    const d = a[i]! - b[i]!;
    if (d !== 0) return d;
  }
  return 0;
};

const PART_OF: Record<OrderedTier, Exclude<keyof CostParts, 'uses'>> = {
  places: 'places',
  timberAreaM2: 'timberArea',
  steelFillers: 'steelFillers',
  tiesAndUnits: 'tiesAndUnits',
  runPast: 'runPast',
};

/** Place of the units short of stock in a vector; the ordered tiers follow. */
export const SHORT = 1;
/** Places of a vector that count; the last is the tie-break. */
export const TIERS = 7;

/**
 * What stands in for the limits of the stock: a vector for each item, and for each tier what it takes of the tiers before it (`carry[k][j]` with j < k).
 * Lexicographic order is the same with and without `carry`, since it is one on the diagonal and no less than zero below it.
 */
export interface Prices {
  readonly of: ReadonlyMap<string, Cost>;
  readonly carry: readonly (readonly number[])[];
}

/** Vectors in the chosen order of tiers, and back. */
export interface CostOrder {
  readonly cost: (parts: CostParts) => Cost;
  readonly part: (cost: Cost, tier: OrderedTier | 'failures' | 'short') => number;
}

/** A vector with what each tier takes of those before it. */
export const carried = (cost: Cost, { carry }: Prices): Cost =>
  cost.map((x, k) => (k < TIERS ? cost.reduce((sum, y, j) => (j < k ? sum + carry[k]![j]! * y : sum), x) : x));

export const costOrder = (order: readonly OrderedTier[], prices: Prices | null = null): CostOrder => {
  const names = order.map((tier) => PART_OF[tier]);
  const plain = (parts: CostParts): Cost => [
    parts.failures ?? 0,
    0,
    ...names.map((name) => parts[name] ?? 0),
    -(parts.squares ?? 0),
  ];
  return {
    cost: (parts) =>
      prices === null ? plain(parts) : addCost(carried(plain(parts), prices), priceOf(parts.uses ?? [], prices)),
    part: (cost, tier) =>
      tier === 'failures' ? cost[0]! : tier === 'short' ? cost[SHORT]! : cost[SHORT + 1 + order.indexOf(tier)]!,
  };
};

export const priceOf = (uses: Uses, prices: Prices): Cost =>
  uses.reduce<Cost>((sum, [item, count]) => {
    const price = prices.of.get(item);
    return price
      ? addCost(
          sum,
          price.map((p) => p * count),
        )
      : sum;
  }, ZERO_COST);
