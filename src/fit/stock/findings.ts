/** What the yard's counts mean for the layout, in words. */

import { type Finding, finding } from '../../ground/findings.js';
import { plainNumber } from '../../ground/units.js';
import type { Catalogue, FacePlan } from '../../ground/vocabulary.js';
import type { Cost, CostOrder } from '../cost.js';
import type { Emitted } from '../emit.js';
import type { SolvedPlan } from '../plan.js';
import { type ShortItem, shortItems } from './keys.js';

/** The layout with enough of everything, where the counts do not suffice for that one. */
export interface Unlimited {
  readonly solved: SolvedPlan;
  readonly emitted: Emitted;
}

const fillWords = (cost: Cost, order: CostOrder, gridMm: number): string => {
  const places = order.part(cost, 'places');
  const areaM2 = (order.part(cost, 'timberAreaM2') * gridMm ** 2) / 1e6;
  const fillers = order.part(cost, 'steelFillers');
  const fill = `${plainNumber(places, 1)} ${places === 1 ? 'place' : 'places'} of timber (${plainNumber(areaM2, 3)} m2)`;
  return `${fill} and ${fillers} steel ${fillers === 1 ? 'filler' : 'fillers'}`;
};

const within = (pour: string | null): string => (pour === null ? '' : ` in pour ${pour}`);

const listed = (items: readonly ShortItem[]): string =>
  items.map(({ item, pour, count }) => `${count} more of ${item}${within(pour)}`).join(', ');

export const stockFindings = (
  plan: FacePlan,
  catalogue: Catalogue,
  solved: SolvedPlan,
  emitted: Emitted,
  unlimited: Unlimited | undefined,
  order: CostOrder,
): Finding[] => {
  const short = shortItems(plan, catalogue, emitted).map(({ item, pour, count }) =>
    finding(
      'fit.short-stock',
      `${count} of ${item} more than the ${plainNumber(catalogue.stock[item] ?? 0, 0)} that the yard owns${within(pour)}: hire them, or pour in ${pour === null ? 'parts' : 'smaller parts'}.`,
      { subject: item },
    ),
  );
  if (!unlimited) return short;
  const lacking = shortItems(plan, catalogue, unlimited.emitted);
  const now = fillWords(solved.cost, order, plan.gridMm);
  const then = fillWords(unlimited.solved.cost, order, plan.gridMm);
  const message = `The least layout with enough of everything needs ${listed(lacking)}; it takes ${then}. Under the yard's counts${plan.pours ? ', each pour by itself,' : ''} the job takes ${now}.`;
  return [...short, finding('fit.stock-limits', message, { subject: 'stock' })];
};
