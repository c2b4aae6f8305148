/**
 * Courses: which heights stand on each other so that the forms reach the pour line with the least stick-up and the fewest units (rule T8).
 *
 * Every height used must come in as many panel widths as the best-stocked height, so that all columns of a wall take the same courses.
 */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { byNumber } from '../ground/order.js';
import { describeRun, middleOf, placeAlong } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { Catalogue, FacePlan, Run, Stack } from '../ground/vocabulary.js';
import type { FitOptions } from './options.js';
import { baseFor, leastPhases } from './phases.js';

export interface StackChoice {
  readonly stack: Stack;
  /** Levels of the tie rows that lie in concrete, lowest first. */
  readonly rowLevelsMm: readonly number[];
}

/** More stick-up than this is a finding (rule T8). Common practice, no source. */
const STICK_UP_MOST_MM = 300;
/** No wall of this many courses is stacked by this program. */
const COURSES_MOST = 8;

const panelWidths = (catalogue: Catalogue, heightMm: number): number[] =>
  catalogue.units.filter((u) => u.kind === 'panel' && u.heightMm === heightMm).map((u) => u.widthMm);

/** Heights that come in the full set of widths and, where the plan has corners, with an inside corner. Tallest first. */
const usableHeights = (catalogue: Catalogue, corners: boolean): number[] => {
  const all = [...new Set(catalogue.units.filter((u) => u.kind === 'panel').map((u) => u.heightMm))];
  const withCorner = all.filter(
    (h) => !corners || catalogue.units.some((u) => u.kind === 'inside-corner' && u.heightMm === h),
  );
  const usable = withCorner.length > 0 ? withCorner : all;
  const most = Math.max(0, ...usable.map((h) => new Set(panelWidths(catalogue, h)).size));
  return usable.filter((h) => new Set(panelWidths(catalogue, h)).size === most).sort(byNumber((h) => -h));
};

/** The stack of least height at least `needMm`; fewest units, then tallest first. */
export const leastStack = (heights: readonly number[], needMm: number): number[] | null => {
  let best: number[] | null = null;
  let bestTotal = Number.POSITIVE_INFINITY;
  const visit = (from: number, total: number, chosen: number[]) => {
    if (total >= needMm - 1e-6) {
      const better = total < bestTotal - 1e-6 || (total < bestTotal + 1e-6 && chosen.length < best!.length);
      if (best === null || better) {
        best = [...chosen];
        bestTotal = total;
      }
      return;
    }
    if (chosen.length === COURSES_MOST) return;
    for (let i = from; i < heights.length; i++) visit(i, total + heights[i]!, [...chosen, heights[i]!]);
  };
  visit(0, 0, []);
  return best;
};

/** Hole levels that all panels of this height share. */
const sharedRows = (catalogue: Catalogue, heightMm: number): number[] => {
  const panels = catalogue.units.filter((u) => u.kind === 'panel' && u.heightMm === heightMm && u.holes.length > 0);
  const [first, ...others] = panels.map((u) => [...new Set(u.holes.map((h) => h.yMm))]);
  return (first ?? []).filter((y) => others.every((rows) => rows.includes(y))).sort(byNumber((y) => y));
};

const rowLevels = (catalogue: Catalogue, stack: Stack, run: Run, clearMm: number): number[] => {
  const levels: number[] = [];
  let base = stack.baseMm;
  for (const h of stack.heightsMm) {
    for (const y of sharedRows(catalogue, h)) levels.push(base + y);
    base += h;
  }
  return levels.filter((z) => z >= run.footingMm + clearMm && z <= run.topMm - clearMm);
};

/**
 * Chooses a stack and its tie rows for every run, by run id; `phaseOf` gives the phase of its base. A run that no stack reaches is left out, with a
 * failure.
 */
export const chooseStacks = (
  plan: FacePlan,
  catalogue: Catalogue,
  options: FitOptions,
  phaseOf: ReadonlyMap<string, number> = leastPhases(plan, catalogue, options),
): Staged<ReadonlyMap<string, StackChoice>> => {
  const findings: Finding[] = [];
  const value = new Map<string, StackChoice>();
  const heights = usableHeights(
    catalogue,
    plan.vertices.some((v) => v.kind === 're-entrant'),
  );
  for (const run of plan.runs) {
    const baseMm = baseFor(run, phaseOf.get(run.id) ?? 0, catalogue.pitchMm, options.bedMm);
    const needMm = run.topMm - baseMm + options.stickUpLeastMm;
    const at = placeAlong(plan, run.wall, middleOf(run));
    const chosen = needMm > 0 ? leastStack(heights, needMm) : null;
    if (!chosen) {
      const message = `No stack of the yard's heights reaches ${plainNumber(needMm, 0)} mm on ${describeRun(run)}; it is not laid out.`;
      findings.push(finding('fit.no-stack', message, { at, subject: run.id }));
      continue;
    }
    const stack: Stack = { baseMm, heightsMm: chosen };
    const stickUpMm = baseMm + chosen.reduce((sum, h) => sum + h, 0) - run.topMm;
    if (stickUpMm > STICK_UP_MOST_MM) {
      const message = `The forms of ${describeRun(run)} stand ${plainNumber(stickUpMm, 0)} mm above the pour line.`;
      findings.push(finding('fit.stick-up', message, { at, subject: run.id }));
    }
    value.set(run.id, { stack, rowLevelsMm: rowLevels(catalogue, stack, run, options.rowClearMm) });
  }
  return { value, findings };
};
