/**
 * The layout under the yard's counts, which couple all walls of the job: least units short, then the least cost with what there is.
 *
 * Source: decomposition with column generation (Dantzig and Wolfe 1960; Gilmore and Gomory 1961). A choice among layouts of zones found so far
 * (master.ts) gives each item a price; the plan is solved anew by the same shortest paths with these prices, which gives layouts that the choice lacks
 * and a bound; again, until nothing is lacking. What is least among whole choices is found by the integer program. Where that leaves a gap, every layout of
 * a zone whose price still lies within the gap is listed (Baldacci and others 2008) and the choice made once more: then it is proven.
 */

import { byText } from '../../ground/order.js';
import {
  addCost,
  type Cost,
  type CostOrder,
  carried,
  compareCost,
  type Prices,
  priceOf,
  SHORT,
  TIERS,
  type Uses,
} from '../cost.js';
import { jogLegsOf } from '../jogPieces.js';
import type { PlanModel, SolvedJog, SolvedPlan, SolvedStep } from '../plan.js';
import { NO_LEG_GU } from '../plan.js';
import { assemble, type PartSearch, pickName, type ZoneTable } from '../search.js';
import { stepCost } from '../steps.js';
import { STRIP_TOO_MANY, withStrips } from '../strips.js';
import { columnKey, columnOf, summed, type ZoneColumn } from './columns.js';
import { stockKey } from './keys.js';
import { combinationsOf, fixedUses, type Master, masterOf } from './master.js';
import { boundBy, pricesOf, unpriced } from './prices.js';
import type { Programs } from './programs.js';

/** Rounds of prices; each solves the whole plan once. */
const ROUNDS_MOST = 60;
/** No more layouts than this are listed to close the gap. */
const COLUMNS_MOST = 4000;

/** The parts of the plan with costs in prices. */
export type PartsWith = (prices: Prices) => readonly PartSearch[];

/** What one round of prices gave. */
interface Round {
  readonly prices: Prices;
  readonly parts: readonly PartSearch[];
  readonly solved: readonly SolvedPlan[];
  readonly bound: Cost;
}

const tiersEqual = (a: Cost, b: Cost): boolean => a.slice(0, TIERS).every((x, i) => x === b[i]);
const tiersBelow = (a: Cost, b: Cost): boolean => compareCost([...a.slice(0, TIERS), 0], [...b.slice(0, TIERS), 0]) < 0;

class Columns {
  readonly byZone = new Map<string, ZoneColumn[]>();
  readonly #keys = new Set<string>();

  /** Whether it is new. */
  add(column: ZoneColumn): boolean {
    const key = columnKey(column);
    if (this.#keys.has(key)) return false;
    this.#keys.add(key);
    const own = this.byZone.get(column.zone);
    if (own) own.push(column);
    else this.byZone.set(column.zone, [column]);
    return true;
  }

  get size(): number {
    return this.#keys.size;
  }

  /** The answers of a search that are new. */
  take(parts: readonly PartSearch[], costOf: (priced: Cost, uses: Uses) => Cost): number {
    let added = 0;
    for (const part of parts)
      for (const { table, values, solution } of part.answers())
        if (this.add(columnOf(table, values, solution, costOf))) added++;
    return added;
  }
}

/** A whole choice, with its cost. */
interface Chosen {
  readonly columns: ReadonlyMap<string, ZoneColumn>;
  readonly valueAt: ReadonlyMap<string, number>;
  readonly cost: Cost;
}

const choose = (programs: Programs, master: Master): Chosen | null => {
  const { program, goals, widest, chosen } = master;
  const found = programs.whole(program, [...goals, widest]);
  if (!found) return null;
  return { ...chosen(found.values), cost: found.goals.map((x) => Math.round(x * 1e6) / 1e6) };
};

/**
 * Layouts that may stand in a better choice than `best`, by the prices of a round: every one whose price, with the least of all else, lies below it.
 * False where these are not all.
 */
const listWithin = (round: Round, stock: Uses, best: Cost, columns: Columns, stepsMost: number): boolean => {
  const { prices, parts, solved } = round;
  const limit = addCost(carried(best, prices), priceOf(stock, prices));
  const total = solved.reduce<Cost>(
    (sum, s) => addCost(sum, s.bound),
    solved[0]!.bound.map(() => 0),
  );
  let steps = 0;
  const limited = new Map(stock.map(([item], slot) => [item, slot]));
  const listZone = (part: PartSearch, own: Cost, table: ZoneTable): boolean => {
    // Where columns of ties differ in their rows a list by what its arcs take is not complete.
    const { gear, leastRows, rows, tieItem } = table.run.ctx;
    if (leastRows !== rows && tieItem !== null && limited.has(stockKey(tieItem, gear.pour))) return false;
    const sizes = table.scope.map((id) => part.choices.find((c) => c.id === id)!.size);
    for (const values of combinationsOf(sizes)) {
      const cell = part.known(table, values);
      const least = cell.cost && part.least(new Map(table.scope.map((id, i) => [id, values[i]!])));
      if (!cell.cost || !least) continue;
      // The rest of the plan at its least: the zone may cost what is left.
      const rest = addCost(minus(total, own), minus(least.bound, cell.cost));
      const most = minus(limit, rest);
      if (compareCost(cell.cost, most) >= 0) continue;
      if (columns.size > COLUMNS_MOST || steps >= stepsMost) return false;
      const { legOf, pick } = part.reader(table.scope, values);
      const found = table.zone.below(legOf, pick(table.low), pick(table.high), most, limited, stepsMost - steps);
      steps += found.steps;
      // A zone whose least breaks a rule is not listed by searches that keep them all.
      const isListed = found.solutions.length > 0 || cell.solution === null;
      if (!found.complete || !isListed) return false;
      for (const solution of found.solutions)
        columns.add(columnOf(table, values, solution, (priced, uses) => unpriced(priced, uses, prices)));
    }
    return true;
  };
  return parts.every((part, i) => part.tables.every((table) => listZone(part, solved[i]!.bound, table)));
};

const minus = (a: Cost, b: Cost): Cost => a.map((x, i) => x - b[i]!);

/** Items of the stock that the plan may take, with what is owned. */
const limitedItems = (stock: ReadonlyMap<string, number>): Uses => [...stock].sort(byText(([item]) => item));

/**
 * The least layout under `stock`. `model` is the plan with plain costs, `plain` its parts, `unlimited` their least without regard to stock; `partsWith` makes
 * the parts with prices. What comes back has the units that are short in its cost.
 */
export const underStock = (
  model: PlanModel,
  plain: readonly PartSearch[],
  unlimited: SolvedPlan,
  stock: ReadonlyMap<string, number>,
  partsWith: PartsWith,
  order: CostOrder,
  programs: Programs,
  stepsMost: number,
): SolvedPlan => {
  const owned = limitedItems(stock);
  const fixed = new Map(summed(fixedUses(plain)));
  const left = owned.map(([item, n]) => [item, n - (fixed.get(item) ?? 0)] as const);
  const columns = new Columns();
  // Places of tapered strips are halves, areas any number; all else is counted.
  const steps = order
    .cost({ failures: STRIP_TOO_MANY, places: 0.5, steelFillers: 1, tiesAndUnits: 1, runPast: 1 })
    .map((x, k) => (k === SHORT ? 1 : x));
  let { work, cutShort } = unlimited;
  columns.take(plain, (cost) => cost);

  let bound: Cost = [...unlimited.bound.slice(0, SHORT), 0, ...unlimited.bound.slice(SHORT + 1)];
  let best: Round | null = null;
  for (let i = 0; i < ROUNDS_MOST; i++) {
    const master = masterOf(plain, columns.byZone, left);
    const relaxed = programs.relaxed(master.program, master.goals);
    if (!relaxed) break;
    const prices = pricesOf(relaxed, master.stockRows);
    const parts = partsWith(prices);
    const solved = parts.map((p) => p.solve());
    work += solved.reduce((sum, s) => sum + s.work, 0);
    cutShort ||= solved.some((s) => s.cutShort);
    const priced = solved.reduce<Cost>((sum, s) => addCost(sum, s.bound), order.cost({}));
    const reached = boundBy(priced, owned, prices, steps);
    if (best === null || compareCost(reached, best.bound) > 0) best = { prices, parts, solved, bound: reached };
    if (compareCost(reached, bound) > 0) bound = reached;
    const added = columns.take(parts, (cost, uses) => unpriced(cost, uses, prices));
    if (added === 0) break;
  }

  let chosen = choose(programs, masterOf(plain, columns.byZone, left));
  if (!chosen) return unlimited;
  if (best && tiersBelow(bound, chosen.cost)) {
    const complete = listWithin(best, owned, chosen.cost, columns, stepsMost);
    const again = choose(programs, masterOf(plain, columns.byZone, left));
    if (again && compareCost(again.cost, chosen.cost) <= 0) chosen = again;
    if (again && complete && !cutShort) bound = again.cost;
  }
  return layoutOf(model, plain, chosen, bound, work, cutShort);
};

const layoutOf = (
  model: PlanModel,
  parts: readonly PartSearch[],
  { columns, valueAt, cost }: Chosen,
  bound: Cost,
  work: number,
  cutShort: boolean,
): SolvedPlan => {
  const byRun = new Map(
    parts.flatMap((part) =>
      assemble(
        part.model.runs,
        part.tables,
        part.stems,
        (t) => columns.get(t.id)?.solution ?? null,
        (s) =>
          part.stemOf(
            s,
            s.scope.map((id) => valueAt.get(id)!),
          )!,
      ).map((run) => [run.model, run] as const),
    ),
  );
  const legs = new Map(
    parts.flatMap((p) => p.choices.map((c) => [c.id, p.legsOf(c.id)[valueAt.get(c.id)!] ?? NO_LEG_GU] as const)),
  );
  const jogs = model.jogs.map((jog): SolvedJog => ({ jog, option: jog.options[valueAt.get(pickName(jog.id))!]! }));
  const jogLegs = jogLegsOf(jogs);
  return {
    runs: model.runs.map((r) => byRun.get(r)!),
    steps: model.steps.map((step): SolvedStep => {
      const pick = valueAt.get(pickName(step.id))!;
      return { step, jointGu: step.jointsGu[pick]!, cost: stepCost(step, pick) };
    }),
    jogs,
    picks: valueAt,
    legOf: withStrips(
      (v) => jogLegs.get(v) ?? legs.get(v) ?? NO_LEG_GU,
      (id) => valueAt.get(id),
    ),
    cost,
    bound: tiersEqual(bound, cost) ? cost : bound,
    work,
    cutShort,
    heedsStock: true,
  };
};
