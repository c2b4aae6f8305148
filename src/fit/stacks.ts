/**
 * Courses: which heights stand on each other so that the forms reach the pour line with the least stick-up and the fewest units (rule T8), and stand on
 * the tie rows that lie in concrete.
 *
 * Every height used must come in as many panel widths as the best-stocked height, so that all columns of a wall take the same courses. Beside them
 * columns may be allowed that end in a course of panels on their side (turned.ts); corners and end zones always take the run's stack.
 */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { byNumber } from '../ground/order.js';
import { describeRun, middleOf, placeAlong } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { Catalogue, FacePlan, Run, Stack } from '../ground/vocabulary.js';
import type { FitOptions } from './options.js';
import { baseFor, leastPhases } from './phases.js';
import { heightsOnSide, rowsOnSide } from './turned.js';

export interface StackChoice {
  readonly stack: Stack;
  /** Levels of the tie rows that lie in concrete, lowest first. */
  readonly rowLevelsMm: readonly number[];
  /** Columns that end in panels on their side: the height of that course, and their tie rows in concrete. */
  readonly turnedTop?: { readonly heightMm: number; readonly rowLevelsMm: readonly number[] };
}

/** Whether courses stand on tie rows at these levels under the concrete of a run. */
export type Stands = (run: Run, stack: Stack, rowLevelsMm: readonly number[]) => boolean;

export interface StackRules {
  /** Left out: every stack is taken to stand. */
  readonly stands?: Stands;
  /** Ids of the runs in which panels may lie on their side. */
  readonly onSide?: ReadonlySet<string>;
}

/** More stick-up than this is a finding (rule T8). Common practice, no source. */
const STICK_UP_MOST_MM = 300;
/** No wall of this many courses is stacked by this program. */
const COURSES_MOST = 8;
/** Stacks looked at for one that stands on its rows, the lowest first. */
const STACKS_TRIED = 24;
const SAME_MM = 1e-6;

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

/** Stacks at least `needMm` high: lowest first, then fewest units, then tallest first. Each would be too low without its last course. */
const stacksFor = (heights: readonly number[], needMm: number): number[][] => {
  const found: { total: number; chosen: number[] }[] = [];
  const visit = (from: number, total: number, chosen: number[]) => {
    if (total >= needMm - SAME_MM) {
      found.push({ total, chosen });
      return;
    }
    if (chosen.length === COURSES_MOST) return;
    for (let i = from; i < heights.length; i++) visit(i, total + heights[i]!, [...chosen, heights[i]!]);
  };
  visit(0, 0, []);
  return found
    .sort((a, b) => (Math.abs(a.total - b.total) > SAME_MM ? a.total - b.total : a.chosen.length - b.chosen.length))
    .map((f) => f.chosen);
};

/** Hole levels that all panels of this height share. */
const sharedRows = (catalogue: Catalogue, heightMm: number): number[] => {
  const panels = catalogue.units.filter((u) => u.kind === 'panel' && u.heightMm === heightMm && u.holes.length > 0);
  const [first, ...others] = panels.map((u) => [...new Set(u.holes.map((h) => h.yMm))]);
  return (first ?? []).filter((y) => others.every((rows) => rows.includes(y))).sort(byNumber((y) => y));
};

/** `top`: rows of the top course where its panels lie on their side. */
const rowLevels = (
  catalogue: Catalogue,
  { baseMm, heightsMm }: Stack,
  run: Run,
  clearMm: number,
  top?: readonly number[],
): number[] => {
  const levels: number[] = [];
  let base = baseMm;
  heightsMm.forEach((h, i) => {
    const own = top && i === heightsMm.length - 1 ? top : sharedRows(catalogue, h);
    for (const y of own) levels.push(base + y);
    base += h;
  });
  return levels.filter((z) => z >= run.footingMm + clearMm && z <= run.topMm - clearMm);
};

/** The lowest course of panels on their side that reaches as high as the run's one course has to, and stands; none is higher than that course. */
const onSideAlone = (
  catalogue: Catalogue,
  run: Run,
  { baseMm, heightsMm }: Stack,
  needMm: number,
  clearMm: number,
  stands: Stands,
): StackChoice['turnedTop'] | null => {
  const [own, more] = heightsMm;
  if (own === undefined || more !== undefined) return null;
  for (const heightMm of heightsOnSide(catalogue)) {
    if (heightMm < needMm - SAME_MM || heightMm > own + SAME_MM) continue;
    const stack: Stack = { baseMm, heightsMm: [heightMm] };
    const rowLevelsMm = rowLevels(catalogue, stack, run, clearMm, rowsOnSide(catalogue, heightMm));
    if (rowLevelsMm.length > 0 && stands(run, stack, rowLevelsMm)) return { heightMm, rowLevelsMm };
  }
  return null;
};

/** Forms that end at a level too far above the pour line of their run. */
export const stickUpFindings = (plan: FacePlan, run: Run, topMm: number): Finding[] => {
  const stickUpMm = topMm - run.topMm;
  if (stickUpMm <= STICK_UP_MOST_MM) return [];
  const message = `The forms of ${describeRun(run)} stand ${plainNumber(stickUpMm, 0)} mm above the pour line.`;
  return [finding('fit.stick-up', message, { at: placeAlong(plan, run.wall, middleOf(run)), subject: run.id })];
};

/**
 * Chooses a stack and its tie rows for every run, by run id; `phaseOf` gives the phase of its base. Of the stacks that stand the lowest is taken; where
 * none does, the lowest of all, and the check says what is wrong with it. A run that no stack reaches is left out, with a failure.
 */
export const chooseStacks = (
  plan: FacePlan,
  catalogue: Catalogue,
  options: FitOptions,
  phaseOf: ReadonlyMap<string, number> = leastPhases(plan, catalogue, options),
  { stands = () => true, onSide }: StackRules = {},
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
    const tried = needMm > 0 ? stacksFor(heights, needMm).slice(0, STACKS_TRIED) : [];
    const rowsOf = (heightsMm: readonly number[]) =>
      rowLevels(catalogue, { baseMm, heightsMm }, run, options.rowClearMm);
    const chosen = tried.find((h) => stands(run, { baseMm, heightsMm: h }, rowsOf(h))) ?? tried[0];
    if (!chosen) {
      const message = `No stack of the yard's heights reaches ${plainNumber(needMm, 0)} mm on ${describeRun(run)}; it is not laid out.`;
      findings.push(finding('fit.no-stack', message, { at, subject: run.id }));
      continue;
    }
    const stack: Stack = { baseMm, heightsMm: chosen };
    const turnedTop = onSide?.has(run.id)
      ? onSideAlone(catalogue, run, stack, needMm, options.rowClearMm, stands)
      : null;
    if (!turnedTop) {
      const topMm = chosen.reduce((sum, h) => sum + h, baseMm);
      findings.push(...stickUpFindings(plan, run, topMm));
    }
    value.set(run.id, { stack, rowLevelsMm: rowsOf(chosen), ...(turnedTop ? { turnedTop } : {}) });
  }
  return { value, findings };
};
