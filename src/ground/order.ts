/** Comparison functions with a documented order, so that no list depends on the order of the input or on a locale. */

import type { Vec } from './plane.js';

export type Compare<T> = (a: T, b: T) => number;

export const byNumber =
  <T>(key: (item: T) => number): Compare<T> =>
  (a, b) =>
    key(a) - key(b);

/** Plain code-unit order: the same on every machine, unlike localeCompare. */
export const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
export const byText =
  <T>(key: (item: T) => string): Compare<T> =>
  (a, b) =>
    compareText(key(a), key(b));

/** Lower x first, then lower y. */
export const comparePoints = (a: Vec, b: Vec): number => a.x - b.x || a.y - b.y;

/** The first comparison that decides. */
export const inOrder =
  <T>(...compares: Compare<T>[]): Compare<T> =>
  (a, b) => {
    for (const compare of compares) {
      const c = compare(a, b);
      if (c !== 0) return c;
    }
    return 0;
  };

/** Element by element; the shorter list first when one is a prefix of the other. */
export const compareVectors = (a: readonly number[], b: readonly number[]): number => {
  const n = Math.min(a.length, b.length);
  for (let i = 0; i < n; i++) {
    const d = a[i]! - b[i]!;
    if (d !== 0) return d;
  }
  return a.length - b.length;
};
