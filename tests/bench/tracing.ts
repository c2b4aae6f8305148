/** Recall and precision of tracing over drawings of known walls, habit by habit. */

import fc from 'fast-check';
import { arbitraryTrial, CASES, tryOut, tryOutAreas } from '../support/drawings/cases.js';

const SEED = 411;
const percent = (share: number): string => `${(100 * share).toFixed(2)} %`.padStart(9);

/** Prints one row for each habit, and all of them together: means over the plans, the worst plan, and how many walls were false. */
export const tracing = (plans: number): void => {
  console.log(
    `tracing, ${plans} plans a habit; recall: share of known wall length found; precision: share of found length that is true`,
  );
  const all = { recalled: 0, truth: 0, right: 0, found: 0, falseWalls: 0 };
  const done = { ...all };
  for (const [i, c] of CASES.entries()) {
    const scores = fc.sample(arbitraryTrial(c), { seed: SEED + i, numRuns: plans }).map((t) => tryOut(c, t));
    const mean = (of: (s: (typeof scores)[number]) => number) => scores.reduce((s, x) => s + of(x), 0) / plans;
    const worst = (of: (s: (typeof scores)[number]) => number) => Math.min(...scores.map(of));
    const falseWalls = scores.reduce((s, x) => s + x.falseWalls.length, 0);
    for (const book of c.notYet ? [all] : [all, done]) {
      for (const s of scores) {
        book.recalled += s.recalledMm;
        book.truth += s.truthMm;
        book.right += s.trueMm;
        book.found += s.foundMm;
      }
      book.falseWalls += falseWalls;
    }
    console.log(
      `${c.name.padEnd(38)} recall ${percent(mean((s) => s.recall))} worst ${percent(worst((s) => s.recall))}   precision ${percent(
        mean((s) => s.precision),
      )} worst ${percent(worst((s) => s.precision))}   false walls ${String(falseWalls).padStart(4)}${c.notYet ? '   (not yet)' : ''}`,
    );
  }
  for (const [name, book] of [
    ['habits that the law holds for', done],
    ['all habits', all],
  ] as const) {
    console.log(
      `${name.padEnd(38)} recall ${percent(book.recalled / book.truth)}   precision ${percent(book.right / book.found)}   false walls ${book.falseWalls}`,
    );
  }
  const mixed = CASES.filter((c) => c.habits).flatMap((c) =>
    fc.sample(arbitraryTrial(c), { seed: SEED, numRuns: plans }).map((t) => tryOutAreas(c, t)),
  );
  const mean = (of: (s: (typeof mixed)[number]) => number) => mixed.reduce((s, x) => s + of(x), 0) / mixed.length;
  console.log(
    `${'the same by plan area, anything together'.padEnd(38)} recall ${percent(mean((s) => s.recall))}   precision ${percent(mean((s) => s.precision))}`,
  );
};
