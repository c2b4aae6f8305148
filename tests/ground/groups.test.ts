/** Groups of indices that pairs connect, against plain repeated colouring. The seed is fixed, or FC_SEED. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { grouping, groupsOf } from '../../src/ground/groups.js';

/** Every index takes the lowest colour of those that it is connected to, until nothing changes. */
const coloured = (count: number, pairs: readonly (readonly [number, number])[]): number[] => {
  const colour = Array.from({ length: count }, (_, i) => i);
  for (let isChanged = true; isChanged; ) {
    isChanged = false;
    for (const [a, b] of pairs) {
      const low = Math.min(colour[a]!, colour[b]!);
      if (colour[a] !== low || colour[b] !== low) isChanged = true;
      [colour[a], colour[b]] = [low, low];
    }
  }
  return colour;
};

describe('groups of indices', () => {
  it('are those that pairs connect, each ascending, by their first index', () => {
    const asked = fc
      .integer({ min: 1, max: 30 })
      .chain((count) =>
        fc.tuple(
          fc.constant(count),
          fc.array(fc.tuple(fc.nat({ max: count - 1 }), fc.nat({ max: count - 1 })), { maxLength: 40 }),
        ),
      );
    fc.assert(
      fc.property(asked, ([count, pairs]) => {
        const colour = coloured(count, pairs);
        const { connect, lowestOf, groups } = grouping(count);
        for (const [a, b] of pairs) connect(a, b);
        expect(colour.map((_, i) => lowestOf(i))).toEqual(colour);
        const expected = [...new Set(colour)].map((c) => colour.flatMap((d, i) => (c === d ? [i] : [])));
        expect(groups()).toEqual(expected);
        expect(groupsOf(count, pairs)).toEqual(expected);
      }),
      { seed: Number(process.env.FC_SEED ?? 20240229) },
    );
  });

  it('a long chain is one group, in time that grows with it', () => {
    const count = 200_000;
    const { connect, groups } = grouping(count);
    for (let i = count - 1; i > 0; i--) connect(i, i - 1);
    expect(groups().length).toBe(1);
  });
});
