/** Planks, rails and toe boards of a platform: counted by the lengths that the yard has, longest first. */

import type { Catalogue, Platform, RailItem, SmallPart } from '../../ground/vocabulary.js';

/** Planks lap over a bracket, half of it on either side: 12 in, 29 CFR 1926.451(b)(7). *From memory.* */
const LAP_MM = 304.8;

/** Lengths over a stretch: long ones, then the shortest that covers the rest. */
const covering = <T extends { readonly lengthMm: number }>(lengthMm: number, items: readonly T[]): T[] => {
  const rising = [...items].sort((a, b) => a.lengthMm - b.lengthMm);
  const longest = rising.at(-1);
  if (!longest) return [];
  const found: T[] = [];
  for (let rest = lengthMm; rest > 1; rest -= longest.lengthMm) {
    const last = rising.find((x) => x.lengthMm >= rest - 1);
    found.push(last ?? longest);
    if (last) break;
  }
  return found;
};

/** Planks of one row from end to end; each joint of two lies over a bracket. */
const plankRow = (floor: Pick<Platform, 'fromMm' | 'toMm' | 'brackets'>, { planks = [] }: Catalogue) => {
  const rising = [...planks].sort((a, b) => a.lengthMm - b.lengthMm);
  const longest = rising.at(-1);
  const found: typeof rising = [];
  if (!longest) return found;
  let at = floor.fromMm;
  for (let n = 0; n <= floor.brackets.length; n++) {
    const last = rising.find((p) => p.lengthMm >= floor.toMm - at - 1);
    found.push(last ?? longest);
    const support = floor.brackets.filter((b) => b + LAP_MM / 2 <= at + longest.lengthMm).at(-1);
    if (last || support === undefined || support - LAP_MM / 2 <= at) break;
    at = support - LAP_MM / 2;
  }
  return found;
};

/** What a platform takes of each item, in the order of the catalogue. */
export const deckParts = (
  floor: Pick<Platform, 'fromMm' | 'toMm' | 'brackets' | 'widthMm' | 'guardMm' | 'endRails' | 'rails'>,
  catalogue: Catalogue,
): SmallPart[] => {
  const { planks = [], rails = [] } = catalogue;
  const counts = new Map<string, number>();
  const add = (item: string, n: number) => counts.set(item, (counts.get(item) ?? 0) + n);
  for (const p of plankRow(floor, catalogue)) add(p.id, Math.ceil(floor.widthMm / p.widthMm - 1e-6));
  const sides = [floor.guardMm[1] - floor.guardMm[0], ...floor.endRails.filter((r) => r).map(() => floor.widthMm)];
  const lines = floor.rails.midMm === null ? 1 : 2;
  const run = (kind: RailItem['kind'], n: number) => {
    for (const side of sides)
      for (const r of covering(
        side,
        rails.filter((x) => x.kind === kind),
      ))
        add(r.id, n);
  };
  run('rail', lines);
  run('toe-board', 1);
  return [
    ...planks.map((p) => ({ item: p.id, kind: 'plank' as const })),
    ...rails.map((r) => ({ item: r.id, kind: 'rail' as const })),
  ].flatMap(({ item, kind }) => (counts.has(item) ? [{ item, kind, count: counts.get(item)! }] : []));
};
