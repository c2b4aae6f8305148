/**
 * Reactions of a hinged chain by its stiffness matrix: rigid groups, hat functions at the joints, equal elastic supports. Written from statics
 * alone, apart from the fit's recursion and from the check, so that it can judge both. Returns null for a mechanism. `loads`: of each group with its moment
 * about its left joint; left out: full concrete.
 */
export const matrixReactions = (
  joints: readonly number[],
  supports: readonly number[],
  leftShear: number,
  rightShear: number,
  loads: readonly { readonly sum: number; readonly moment: number }[] = joints
    .slice(1)
    .map((j, i) => ({ sum: j - joints[i]!, moment: (j - joints[i]!) ** 2 / 2 })),
): number[] | null => {
  const n = joints.length;
  const hats = supports.map((s) => {
    const row = new Array<number>(n).fill(0);
    const i = joints.findIndex((j, k) => k + 1 < n && s >= j && s <= joints[k + 1]!);
    const t = (s - joints[i]!) / (joints[i + 1]! - joints[i]!);
    row[i] = 1 - t;
    row[i + 1] = t;
    return row;
  });
  const load = new Array<number>(n).fill(0);
  loads.forEach(({ sum, moment }, i) => {
    const right = moment / (joints[i + 1]! - joints[i]!);
    load[i]! += sum - right;
    load[i + 1]! += right;
  });
  load[0]! += leftShear;
  load[n - 1]! += rightShear;
  const m = joints.map((_, i) => [...joints.map((_j, k) => hats.reduce((s, h) => s + h[i]! * h[k]!, 0)), load[i]!]);
  for (let i = 0; i < n; i++) {
    let p = i;
    for (let r = i; r < n; r++) if (Math.abs(m[r]![i]!) > Math.abs(m[p]![i]!)) p = r;
    if (Math.abs(m[p]![i]!) < 1e-9) return null;
    [m[i], m[p]] = [m[p]!, m[i]!];
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const f = m[r]![i]! / m[i]![i]!;
      for (let c = i; c <= n; c++) m[r]![c]! -= f * m[i]![c]!;
    }
  }
  const u = m.map((row, i) => row[n]! / row[i]!);
  return hats.map((h) => h.reduce((s, a, i) => s + a * u[i]!, 0));
};

/** Rule of the hinged chain by plain iteration: a group is fixed by two supports that it overhangs by at most `reach`. */
export const everyGroupFixed = (joints: readonly number[], supports: readonly number[], reach: number): boolean => {
  const groups = joints.slice(0, -1).map((a, i) => [a, joints[i + 1]!] as const);
  const fixed = groups.map(() => false);
  for (let changed = true; changed; ) {
    changed = false;
    groups.forEach(([a, b], i) => {
      if (fixed[i]) return;
      const own = new Set(supports.filter((s) => s >= a && s <= b));
      if (fixed[i - 1]) own.add(a);
      if (fixed[i + 1]) own.add(b);
      const points = [...own];
      if (points.length < 2 || Math.min(...points) - a > reach || b - Math.max(...points) > reach) return;
      fixed[i] = true;
      changed = true;
    });
  }
  return fixed.every(Boolean);
};
