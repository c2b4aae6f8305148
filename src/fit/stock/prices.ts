/**
 * Prices of the yard's items: what one more of an item would save, in every tier of the cost, as the relaxed choice among the layouts found so far has
 * it (Lagrange's multipliers; Dantzig and Wolfe 1960). Layouts that are least by these prices are the ones that the choice lacks.
 *
 * Any prices give a true bound: a layout x costs c(x), and carry c(x) >= min over all layouts of (carry c + price of what they take) - price of the stock.
 * Numbers are rounded to a power of two, so that sums of them are exact and ties between tiers stay ties.
 */

import { addCost, type Cost, type Prices, priceOf, SHORT, TIERS, type Uses } from '../cost.js';
import type { Relaxed } from './programs.js';

const GRAIN = 2 ** -22;

/** Not below 0: a dual of the wrong sign is the solver's rounding. */
const rounded = (x: number): number => Math.round(Math.max(0, x) / GRAIN) * GRAIN;

/** One more short of an item may save no more than it costs, or the bound would be without end. */
const affordable = (price: number[], carry: readonly (readonly number[])[]): number[] => {
  for (let k = 0; k < TIERS; k++) {
    const rest = (k === SHORT ? 1 : carry[k]![SHORT]!) - price[k]!;
    if (k < SHORT) {
      price[k] = 0;
      continue;
    }
    if (rest > 0) break;
    price[k] = price[k]! + rest;
  }
  return price;
};

/** `rows` gives the program's row of each item. */
export const pricesOf = ({ rowDuals, goalDuals }: Relaxed, rows: ReadonlyMap<string, number>): Prices => {
  const carry = Array.from({ length: TIERS }, (_, k) =>
    Array.from({ length: TIERS }, (_x, j) => (j < k ? rounded(-(goalDuals[k]![j] ?? 0)) : 0)),
  );
  const of = new Map(
    [...rows].map(([item, row]): [string, Cost] => {
      const price = Array.from({ length: TIERS }, (_, k) => rounded(-rowDuals[k]![row]!));
      return [item, [...affordable(price, carry), 0]];
    }),
  );
  return { of, carry };
};

/** The cost of what was priced: the inverse of `carried`, the price of what it takes left out. */
export const unpriced = (priced: Cost, uses: Uses, prices: Prices): Cost => {
  const paid = priceOf(uses, prices);
  const cost: number[] = [];
  for (const [k, x] of priced.entries()) {
    const before = k < TIERS ? cost.reduce((sum, y, j) => sum + prices.carry[k]![j]! * y, 0) : 0;
    cost.push(Math.round((x - paid[k]! - before) * 1e6) / 1e6);
  }
  return cost;
};

/**
 * The bound that prices give. `steps` are what each tier is a multiple of: one that is none is raised to the next, and of those after it nothing is known
 * then.
 */
export const boundBy = (pricedLeast: Cost, stock: Uses, prices: Prices, steps: Cost): Cost => {
  const raw = unpriced(
    addCost(
      pricedLeast,
      priceOf(stock, prices).map((p) => -p),
    ),
    [],
    prices,
  );
  const bound: number[] = [];
  let known = true;
  for (const [k, x] of raw.entries()) {
    const step = steps[k]!;
    const up = step > 0 ? Math.ceil(x / step - 1e-4) * step : x;
    bound.push(known ? up + 0 : Number.NEGATIVE_INFINITY);
    if (up - x > 1e-3 * step) known = false;
  }
  return bound;
};
