/** A length parted into strips that overlap at their match lines. */

export interface Span {
  readonly fromMm: number;
  readonly toMm: number;
}

/** What a sheet shows of a length, and what of that is its own, up to its match lines. */
export interface Strip extends Span {
  readonly own: Span;
}

/** Two strips show the same over so much of the paper: a mark no longer than that is whole on one of them. */
export const OVERLAP_MM = 50;

/** Marks that an edge would cut in two. */
const cutBy = (marks: readonly Span[], at: number): number => marks.filter((m) => m.fromMm < at && m.toMm > at).length;

/** The place between two at which an edge cuts the fewest marks, the nearest to the first of these. */
const fewestCut = (marks: readonly Span[], first: number, last: number): number => {
  const [low, high] = [Math.min(first, last), Math.max(first, last)];
  const tries = [first, ...marks.flatMap((m) => [m.fromMm, m.toMm]), last].filter((x) => x >= low && x <= high);
  const cuts = new Map(tries.map((x) => [x, cutBy(marks, x)]));
  return [...cuts].sort((a, b) => a[1] - b[1] || Math.abs(a[0] - first) - Math.abs(b[0] - first))[0]![0];
};

/**
 * As few strips as go, none longer than `mostMm`. What room is left lets their edges move outwards, to where they cut the fewest marks. `scale`: mm of the
 * model to one of paper.
 */
export const stripsOf = (whole: Span, mostMm: number, scale: number, marks: readonly Span[]): Strip[] => {
  const longMm = whole.toMm - whole.fromMm;
  const overlapMm = Math.min(OVERLAP_MM * scale, mostMm / 2);
  const count = Math.max(1, Math.ceil((longMm - overlapMm) / (mostMm - overlapMm) - 1e-9));
  const eachMm = (longMm + (count - 1) * overlapMm) / count;
  const spare = Math.max(0, mostMm - eachMm) / 2;
  return Array.from({ length: count }, (_, i): Strip => {
    const from = whole.fromMm + i * (eachMm - overlapMm);
    const to = from + eachMm;
    const [isFirst, isLast] = [i === 0, i === count - 1];
    return {
      fromMm: isFirst ? whole.fromMm : fewestCut(marks, from, from - spare),
      toMm: isLast ? whole.toMm : fewestCut(marks, to, to + spare),
      own: {
        fromMm: isFirst ? whole.fromMm : from + overlapMm / 2,
        toMm: isLast ? whole.toMm : to - overlapMm / 2,
      },
    };
  });
};
