/**
 * Reactions of a hinged chain on equal springs, in time proportional to its length: its stiffness has three diagonals, since a support lies between two
 * joints. With just enough supports they are those of statics. For questions that are asked once for every tie.
 */

import { type ChainProblem, hats, isFixed, jointLoads } from './chain.js';

/** One for each support; null: a mechanism. */
export const springReactions = (problem: ChainProblem): readonly number[] | null => {
  const { jointsMm, supportsMm } = problem;
  if (!isFixed(jointsMm, supportsMm)) return null;
  const n = jointsMm.length;
  const diagonal = new Array<number>(n).fill(0);
  const beside = new Array<number>(n).fill(0);
  const rows = supportsMm.map((s) => hats(jointsMm, s));
  for (const [i, a, b] of rows) {
    diagonal[i] = diagonal[i]! + a * a;
    diagonal[i + 1] = diagonal[i + 1]! + b * b;
    beside[i] = beside[i]! + a * b;
  }
  const u = jointLoads(problem);
  for (let i = 1; i < n; i++) {
    const share = beside[i - 1]! / diagonal[i - 1]!;
    diagonal[i] = diagonal[i]! - share * beside[i - 1]!;
    u[i] = u[i]! - share * u[i - 1]!;
  }
  for (let i = n - 1; i >= 0; i--) u[i] = (u[i]! - (i + 1 < n ? beside[i]! * u[i + 1]! : 0)) / diagonal[i]!;
  const reactions = rows.map(([i, a, b]) => a * u[i]! + b * u[i + 1]!);
  return reactions.every(Number.isFinite) ? reactions : null;
};
