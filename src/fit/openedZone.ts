/** A zone at openings: searched with few row chains first, and again with those of the rows that a layout overloads (opened.ts). */

import type { Cost } from './cost.js';
import type { Opened } from './opened.js';
import { type Guide, solveZone, solveZoneBelow, type ZoneAnswers, type ZoneProblem, type ZoneResult } from './zone.js';

/** The least layout whose ties hold in every row chain; without openings that of the problem as it is. Ends since rows are few. */
export const solveOpened = (problem: ZoneProblem, guide: Guide, opened: Opened | null): ZoneResult => {
  for (let steps = 0; ; ) {
    const result = solveZone(opened ? { ...problem, rowChains: opened.chains } : problem, guide);
    if (result.kind === 'none') return { ...result, steps: steps + result.steps };
    steps += result.answer.steps;
    if (opened?.learns(problem, result.answer) !== true) return { kind: 'found', answer: { ...result.answer, steps } };
  }
};

/** The same for all layouts below a cost. */
export const solveOpenedBelow = (
  problem: ZoneProblem,
  guide: Guide,
  limit: Cost,
  limited: ReadonlyMap<string, number>,
  opened: Opened | null,
): ZoneAnswers => {
  for (let steps = 0; ; ) {
    const stepLimit = problem.stepLimit - steps;
    const rowChains = opened?.chains ?? [];
    const found = solveZoneBelow({ ...problem, rowChains, stepLimit }, guide, limit, limited);
    steps += found.steps;
    const learned = found.answers.filter((a) => opened?.learns(problem, a) === true);
    if (learned.length === 0) return { ...found, steps };
    // What breaks a row's limit is no answer; with the steps used up it is not looked at again.
    if (steps >= problem.stepLimit)
      return { answers: found.answers.filter((a) => !learned.includes(a)), complete: false, steps };
  }
};
