/** Random plans of crossing lines with a known answer: which walls, which nodes. */

import fc from 'fast-check';
import type { Bodied } from './draw.js';

/** A plan on a raster of lines: which pieces between neighbouring crossings are wall, and the thickness of each run of pieces. */
export interface Lattice {
  readonly xs: readonly number[];
  readonly ys: readonly number[];
  /** `across[j][i]`: the piece of line y = ys[j] from xs[i] to xs[i + 1]. */
  readonly across: readonly (readonly boolean[])[];
  readonly up: readonly (readonly boolean[])[];
  readonly thicknesses: readonly number[];
}

const spacing = fc.integer({ min: 1200, max: 5000 });
const coordinates = fc
  .array(spacing, { minLength: 1, maxLength: 3 })
  .map((steps) => [0, ...steps].map((_, i, all) => all.slice(0, i + 1).reduce((a, b) => a + b)));

export const lattice: fc.Arbitrary<Lattice> = fc.tuple(coordinates, coordinates).chain(([xs, ys]) => {
  const pieces = (lines: number, count: number) =>
    fc.array(fc.array(fc.boolean(), { minLength: count, maxLength: count }), { minLength: lines, maxLength: lines });
  return fc.record({
    xs: fc.constant(xs),
    ys: fc.constant(ys),
    across: pieces(ys.length, xs.length - 1),
    up: pieces(xs.length, ys.length - 1),
    // Every run of pieces takes its own, all different: a cross has one wall that is thicker.
    thicknesses: fc.shuffledSubarray([160, 180, 200, 220, 240, 250, 260, 280, 300, 320, 340, 360, 380, 400, 420, 440], {
      minLength: 16,
      maxLength: 16,
    }),
  });
});

/** A maximal run of pieces on one line, from crossing `a` to crossing `b`. */
export interface Line {
  readonly along: 'x' | 'y';
  readonly line: number;
  readonly a: number;
  readonly b: number;
  readonly t: number;
}

export const linesOf = (l: Lattice): Line[] => {
  const lines: Line[] = [];
  const collect = (along: 'x' | 'y', rows: readonly (readonly boolean[])[]) => {
    rows.forEach((row, line) => {
      let from: number | null = null;
      [...row, false].forEach((wall, k) => {
        if (wall) from ??= k;
        else if (from !== null) {
          lines.push({ along, line, a: from, b: k, t: l.thicknesses[lines.length % 16]! });
          from = null;
        }
      });
    });
  };
  collect('x', l.across);
  collect('y', l.up);
  return lines;
};

/** How far a wall reaches past its last crossing: to the far face of a wall that ends there too, not at all where it ends alone. */
export const bodiesOf = (l: Lattice): Bodied[] => {
  const lines = linesOf(l);
  return lines.map((w): Bodied => {
    const at = w.along === 'x' ? l.xs : l.ys;
    const axis = (w.along === 'x' ? l.ys : l.xs)[w.line]!;
    const reach = (k: number) => {
      const other = lines.find((o) => o.along !== w.along && o.line === k && o.a <= w.line && w.line <= o.b);
      return other ? other.t / 2 : 0;
    };
    return { along: w.along, axis, from: at[w.a]! - reach(w.a), to: at[w.b]! + reach(w.b), t: w.t };
  });
};

/** Kinds of the nodes by counting the pieces at each crossing. */
export const kindsOf = (l: Lattice): Record<string, number> => {
  const kinds: Record<string, number> = {};
  const count = (kind: string) => {
    kinds[kind] = (kinds[kind] ?? 0) + 1;
  };
  l.xs.forEach((_, i) => {
    l.ys.forEach((__, j) => {
      const [w, e] = [l.across[j]?.[i - 1] ?? false, l.across[j]?.[i] ?? false];
      const [s, n] = [l.up[i]?.[j - 1] ?? false, l.up[i]?.[j] ?? false];
      const arms = [w, e, s, n].filter(Boolean).length;
      if (arms === 1) count('end');
      if (arms === 2 && !(w && e) && !(s && n)) count('corner');
      if (arms === 3) count('tee');
      if (arms === 4) count('cross');
    });
  });
  return kinds;
};
