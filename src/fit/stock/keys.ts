/** Items of the yard as the fit counts them: over the whole job, or in each pour by itself, since gear comes back between pours. */

import { poursOfWalls, wallsOfPieces } from '../../ground/pours.js';
import type { Catalogue, FacePlan } from '../../ground/vocabulary.js';
import type { Uses } from '../cost.js';
import type { Emitted } from '../emit.js';

/** An item in a pour; `null` and `undefined`: the job is not parted. */
export const stockKey = (item: string, pour: string | null | undefined): string =>
  pour === null || pour === undefined ? item : `${item}\n${pour}`;

/** What the yard has for each pour. */
export const stockByPour = (plan: FacePlan, stock: Catalogue['stock']): Map<string, number> =>
  new Map(
    (plan.pours ?? [null]).flatMap((pour) => Object.entries(stock).map(([item, n]) => [stockKey(item, pour), n])),
  );

/** What units at a vertex take: in each pour whose walls meet there. */
export const usesAt = (plan: FacePlan, walls: readonly string[], items: readonly { readonly id: string }[]): Uses =>
  poursOfWalls(plan)(walls).flatMap((pour) => items.map((u) => [stockKey(u.id, pour), 1] as const));

/** An item of which a pour takes more than the yard owns. */
export interface ShortItem {
  readonly item: string;
  /** Null where the job is not parted. */
  readonly pour: string | null;
  readonly count: number;
}

export const shortCount = (items: readonly ShortItem[]): number => items.reduce((sum, { count }) => sum + count, 0);

/** Items used beyond what the yard owns, by pour, then by item. */
export const shortItems = (plan: FacePlan, { stock }: Catalogue, { pieces, ties }: Emitted): ShortItem[] => {
  const poursOf = poursOfWalls(plan);
  const wallsOf = wallsOfPieces(plan);
  const used = new Map<string, number>();
  const take = (item: string | null, walls: readonly string[]): void => {
    if (item === null) return;
    for (const pour of poursOf(walls)) {
      const key = stockKey(item, pour);
      used.set(key, (used.get(key) ?? 0) + 1);
    }
  };
  for (const piece of pieces) take(piece.item, wallsOf(piece));
  for (const tie of ties) take(tie.item, [tie.wall]);
  const items = Object.keys(stock).sort();
  return (plan.pours ?? [null]).flatMap((pour) =>
    items.flatMap((item): ShortItem[] => {
      const count = (used.get(stockKey(item, pour)) ?? 0) - stock[item]!;
      return count > 0 ? [{ item, pour, count }] : [];
    }),
  );
};
