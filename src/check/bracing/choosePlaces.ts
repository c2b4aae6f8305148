/** The fewest places along a line, none further from the next than allowed, as even as can be: the shortest path over a grid of stations. */

export interface PlacesQuestion {
  readonly fromMm: number;
  readonly toMm: number;
  /** The first and the last lie this near to the ends. */
  readonly endMostMm: number;
  /** And no nearer than this. */
  readonly endLeastMm: readonly [number, number];
  readonly spacingMostMm: number;
  readonly stepMm: number;
  readonly isAllowed: (stationMm: number) => boolean;
}

interface Best {
  readonly count: number;
  /** Sum of the squares of the gaps: least where they are even. */
  readonly squares: number;
  readonly before: number;
}

const isBetter = (a: Best, b: Best | null): boolean =>
  b === null || a.count < b.count || (a.count === b.count && a.squares < b.squares - 1e-6);

/** The stations, rising; null where no allowed ones reach. The grid is that of the middle, so that a mirrored line has mirrored places. */
export const choosePlaces = (q: PlacesQuestion): number[] | null => {
  const { fromMm, toMm, endLeastMm, stepMm, isAllowed } = q;
  const middle = (fromMm + toMm) / 2;
  const half = Math.floor((toMm - fromMm) / 2 / stepMm);
  const stations: number[] = [];
  for (let k = -half; k <= half; k++) {
    const s = middle + k * stepMm;
    if (s >= fromMm + endLeastMm[0] && s <= toMm - endLeastMm[1] && isAllowed(s)) stations.push(s);
  }
  return chooseAmong(stations, q);
};

/** The same among given stations, rising. */
export const chooseAmong = (
  stations: readonly number[],
  { fromMm, toMm, endMostMm, spacingMostMm }: Pick<PlacesQuestion, 'fromMm' | 'toMm' | 'endMostMm' | 'spacingMostMm'>,
): number[] | null => {
  const best: (Best | null)[] = [];
  let last: { readonly end: Best; readonly at: number } | null = null;
  stations.forEach((s, i) => {
    let own: Best | null = null;
    const first = s - fromMm;
    if (first <= endMostMm) own = { count: 1, squares: (2 * first) ** 2, before: -1 };
    for (let j = i - 1; j >= 0 && s - stations[j]! <= spacingMostMm + 1e-6; j--) {
      const known = best[j];
      if (!known) continue;
      const made = { count: known.count + 1, squares: known.squares + (s - stations[j]!) ** 2, before: j };
      if (isBetter(made, own)) own = made;
    }
    best.push(own);
    const rest = toMm - s;
    if (own && rest <= endMostMm) {
      const end = { ...own, squares: own.squares + (2 * rest) ** 2 };
      if (isBetter(end, last?.end ?? null)) last = { end, at: i };
    }
  });
  if (last === null) return null;
  const found: number[] = [];
  for (let at = (last as { at: number }).at; at >= 0; at = best[at]!.before) found.unshift(stations[at]!);
  return found;
};
