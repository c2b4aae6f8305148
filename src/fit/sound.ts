/**
 * Layouts with more ties than statics needs: the search counts any split of forces that holds, a layout is only as good as the split that equal ties make
 * (elastic.ts). Where the least layout stands by a lucky split alone, the least of those that equal ties hold is looked for, and how far it may be from
 * the least of all is told.
 */

import { addCost, type Cost, compareCost } from './cost.js';
import type { Level, Levels } from './levels.js';
import type { ZoneAnswer, ZoneEnd, ZoneProblem } from './zone.js';
import type { ZoneSolution } from './zones.js';

/** Steps of one search among ties that share as equal springs: it tells states apart that are one in the others. */
const STEPS_ON_SPRINGS = 12_000;
/** Steps of one search through every layout, one by one: enough for a short stretch. */
const STEPS_ONE_BY_ONE = 12_000;

export interface Soundness {
  readonly levels: Levels;
  readonly stepLimit: number;
  readonly isOpened: boolean;
  /** What a failure costs. */
  readonly failed: Cost;
  /** Do equal ties hold it? */
  readonly holds: (start: ZoneEnd, answer: ZoneAnswer) => boolean;
  /** The least under these rules; `from`: of layouts that begin there. */
  readonly search: (level: Level, more: Partial<ZoneProblem>, from?: ZoneEnd) => Searched;
}

interface Searched {
  readonly solution: ZoneSolution | null;
  readonly cutShort: boolean;
  readonly steps: number;
  readonly bound: Cost | null;
}

/**
 * `exact` itself where equal ties hold it. Else the least of these: without a tie too many; at an opening, where ties too many are often what it takes, on
 * ties that share as equal springs; and of all layouts that cost less, one by one, which is a proof where it comes to its end. Where none holds `exact`
 * stays, and the check says what its ties carry; at openings that is a failure here too.
 */
export const soundOf = (exact: ZoneSolution, of: Soundness): ZoneSolution => {
  const { levels, holds, search } = of;
  const { answer, startEnd } = exact;
  if (!answer || holds(startEnd, answer)) return exact;
  let { steps } = exact;
  const look = (level: Level, more: Partial<ZoneProblem>, from?: ZoneEnd): ZoneSolution | null => {
    const { solution, steps: taken } = search(level, more, from);
    steps += taken;
    return solution?.answer && holds(solution.startEnd, solution.answer) ? solution : null;
  };
  const below = (known: ZoneSolution | null) => (known ? { ceiling: known.cost } : {});
  const few = levels.determinate().reduce<ZoneSolution | null>((found, level) => found ?? look(level, {}), null);
  const onSprings = { followsTips: true, stepLimit: Math.min(of.stepLimit, STEPS_ON_SPRINGS), ...below(few) };
  const known = (of.isOpened && look(levels.strict, onSprings, startEnd)) || few;
  const oneByOne = { keepsEvery: true, accepts: holds, stepLimit: Math.min(of.stepLimit, STEPS_ONE_BY_ONE) };
  const last = search(levels.strict, { ...oneByOne, ...below(known) });
  steps += last.steps;
  const best = last.solution ?? known;
  if (best) {
    const least = last.cutShort ? (last.bound ?? exact.cost) : best.cost;
    return { ...best, cutShort: false, bound: compareCost(least, exact.cost) < 0 ? exact.cost : least, steps };
  }
  if (!of.isOpened) return exact;
  const cost = addCost(exact.cost, of.failed);
  return { ...exact, level: 'not-at-openings', cost, cutShort: last.cutShort, bound: exact.cost, steps };
};
