/** Sets of closed intervals on a line, as sorted lists without overlap. Lengths in mm. */

export interface Interval {
  readonly a: number;
  readonly b: number;
}

/** Joins intervals that overlap or lie at most `gapMm` apart. */
export const union = (intervals: readonly Interval[], gapMm = 0): Interval[] => {
  const out: { a: number; b: number }[] = [];
  for (const { a, b } of [...intervals].sort((p, q) => p.a - q.a || p.b - q.b)) {
    const last = out.at(-1);
    if (last && a <= last.b + gapMm) last.b = Math.max(last.b, b);
    else out.push({ a, b });
  }
  return out;
};

/** What of `from` no interval of `holes` covers. */
export const subtract = (from: readonly Interval[], holes: readonly Interval[]): Interval[] => {
  let rest = [...from];
  for (const h of union(holes)) {
    rest = rest.flatMap((r) => {
      if (h.b <= r.a || h.a >= r.b) return [r];
      return [
        { a: r.a, b: h.a },
        { a: h.b, b: r.b },
      ].filter((p) => p.b > p.a);
    });
  }
  return rest;
};

/** Overlap of two intervals, or null. */
export const overlap = (p: Interval, q: Interval): Interval | null => {
  const a = Math.max(p.a, q.a);
  const b = Math.min(p.b, q.b);
  return b > a ? { a, b } : null;
};

export const totalLength = (intervals: readonly Interval[]): number => intervals.reduce((s, i) => s + i.b - i.a, 0);
