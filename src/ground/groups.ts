/** Things in groups: by a key, and indices that pairs connect. */

export interface Grouping {
  readonly connect: (a: number, b: number) => void;
  /** The lowest index of the group that an index is in: the same number for all of it. */
  readonly lowestOf: (index: number) => number;
  /** Each group ascending, groups by their first index. */
  readonly groups: () => number[][];
}

/** The indices 0 … count-1, each a group of its own to begin with. */
export const grouping = (count: number): Grouping => {
  const parent = Array.from({ length: count }, (_, i) => i);
  const lowestOf = (index: number): number => {
    let lowest = index;
    while (parent[lowest] !== lowest) lowest = parent[lowest]!;
    let at = index;
    while (parent[at] !== lowest) {
      const next = parent[at]!;
      parent[at] = lowest;
      at = next;
    }
    return lowest;
  };
  const connect = (a: number, b: number): void => {
    const [x, y] = [lowestOf(a), lowestOf(b)];
    parent[Math.max(x, y)] = Math.min(x, y);
  };
  const groups = (): number[][] => {
    const byLowest = new Map<number, number[]>();
    for (let i = 0; i < count; i++) {
      const lowest = lowestOf(i);
      const group = byLowest.get(lowest);
      if (group) group.push(i);
      else byLowest.set(lowest, [i]);
    }
    return [...byLowest.values()];
  };
  return { connect, lowestOf, groups };
};

/** The indices 0 … count-1 in groups connected by `pairs`; each group ascending, groups by their first index. */
export const groupsOf = (count: number, pairs: readonly (readonly [number, number])[]): number[][] => {
  const { connect, groups } = grouping(count);
  for (const [a, b] of pairs) connect(a, b);
  return groups();
};

/** Things by a key, each list in their order. */
export const listsBy = <T, K>(items: readonly T[], key: (item: T) => K): Map<K, T[]> => {
  const lists = new Map<K, T[]>();
  for (const item of items) {
    const list = lists.get(key(item));
    if (list) list.push(item);
    else lists.set(key(item), [item]);
  }
  return lists;
};
