/** The chain that the search carries, against the stiffness matrix of the same chain. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ChainLimits, type ChainState, canEnd, carried, coarsen, setGroup } from '../../src/fit/chain.js';
import { matrixReactions } from '../support/chainMatrix.js';

const SEED = Number(process.env.FC_SEED ?? 20261);
const WIDTHS = [600, 500, 450, 400, 300, 250, 200];
const HOLE = 50;

interface Chain {
  readonly widths: readonly number[];
  /** Which side of each inner joint its tie stands on. */
  readonly after: readonly boolean[];
  readonly left: number;
  readonly right: number;
}

const chains: fc.Arbitrary<Chain> = fc
  .record({
    widths: fc.array(fc.constantFrom(...WIDTHS), { minLength: 1, maxLength: 8 }),
    left: fc.constantFrom(100, 150, 200, 300),
    right: fc.constantFrom(100, 150, 200, 300),
  })
  .chain((c) =>
    fc
      .array(fc.boolean(), { minLength: c.widths.length - 1, maxLength: c.widths.length - 1 })
      .map((after) => ({ ...c, after })),
  );

/** Ties beside every joint, one each, as offsets in their groups. */
const tiesOf = ({ widths, after }: Chain): number[][] =>
  widths.map((w, i) => [
    ...(i === 0 || after[i - 1] ? [HOLE] : []),
    ...(i === widths.length - 1 || !after[i] ? [w - HOLE] : []),
  ]);

const stands = (chain: Chain, limits: ChainLimits, grain: number): boolean => {
  let state: ChainState | null = carried(chain.left);
  const ties = tiesOf(chain);
  for (const [i, w] of chain.widths.entries()) {
    state = state && setGroup(coarsen(state, grain), w, { size: w, moment: (w * w) / 2 }, ties[i]!, limits);
  }
  return state !== null && canEnd(coarsen(state, grain), chain.right);
};

const limits = (mostGu: number): ChainLimits => ({ mostGu, leastGu: 0, tipGu: () => 1e9 });

const exact = (chain: Chain): number[] => {
  const joints = [0];
  for (const w of chain.widths) joints.push(joints[joints.length - 1]! + w);
  const supports = tiesOf(chain).flatMap((offsets, i) => offsets.map((h) => joints[i]! + h));
  return matrixReactions(joints, supports, chain.left, chain.right)!;
};

describe('the chain of the search', () => {
  it('takes a chain just when every reaction of the matrix lies between 0 and the limit', () => {
    fc.assert(
      fc.property(chains, fc.integer({ min: 300, max: 900 }), (chain, most) => {
        const reactions = exact(chain);
        // A reaction on the very limit may fall either way by rounding.
        fc.pre(reactions.every((r) => Math.abs(r) > 1e-3 && Math.abs(r - most) > 1e-3));
        expect(stands(chain, limits(most), 0)).toBe(reactions.every((r) => r > 0 && r < most));
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });

  it('coarsened, refuses nothing that the exact one takes', () => {
    fc.assert(
      fc.property(chains, fc.integer({ min: 300, max: 900 }), fc.constantFrom(2, 8, 32), (chain, most, grain) => {
        if (stands(chain, limits(most), 0)) expect(stands(chain, limits(most), grain)).toBe(true);
      }),
      { seed: SEED, numRuns: 3000 },
    );
  });

  // Both holes of a narrow panel tied between wide ones: the classical way to push a tie (exact -75 in this chain).
  it('refuses a pushed tie', () => {
    const chain: Chain = {
      widths: [400, 600, 200, 200, 500, 300, 250],
      after: [false, true, true, false, false, false],
      left: 150,
      right: 150,
    };
    expect(Math.min(...exact(chain))).toBeLessThan(0);
    expect(stands(chain, limits(5000), 0)).toBe(false);
    expect(stands(chain, { ...limits(5000), leastGu: Number.NEGATIVE_INFINITY }, 0)).toBe(true);
  });
});
