/** Groups of indices that pairs connect. */

/** The indices 0 … count-1 in groups connected by `pairs`; each group ascending, groups by their first index. */
export const groupsOf = (count: number, pairs: readonly (readonly [number, number])[]): number[][] => {
  const parent = Array.from({ length: count }, (_, i) => i);
  const rootOf = (i: number): number => {
    let root = i;
    while (parent[root] !== root) root = parent[root]!;
    let at = i;
    while (parent[at] !== root) {
      const next = parent[at]!;
      parent[at] = root;
      at = next;
    }
    return root;
  };
  for (const [a, b] of pairs) {
    const [x, y] = [rootOf(a), rootOf(b)];
    parent[Math.max(x, y)] = Math.min(x, y);
  }
  const groups = new Map<number, number[]>();
  for (let i = 0; i < count; i++) {
    const root = rootOf(i);
    const group = groups.get(root);
    if (group) group.push(i);
    else groups.set(root, [i]);
  }
  return [...groups.values()];
};
