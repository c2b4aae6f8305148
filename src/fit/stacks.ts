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
  readonly turnedTop?: {
    readonly heightMm: number;
    readonly rowLevelsMm: readonly number[];
    /** Upright forms do not stand in that course. */
    readonly only?: boolean;
  };
}

/** Whether courses stand on tie rows at these levels under the concrete of a run. */
export type Stands = (run: Run, stack: Stack, rowLevelsMm: readonly number[]) => boolean;

export interface StackRules {
  /** Left out: every stack is taken to stand. */
  readonly stands?: Stands;
  /**
   * Runs in which panels may lie on their side, by id, with how many of the ways to do so are passed over: the one with least stick-up comes first, the
   * last stands for all after it.
   */
  readonly onSide?: ReadonlyMap<string, number>;
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

/**
 * The rows on which courses stand: all, or all but the highest, which would be pushed where the pour ends close above it and is then left without ties;
 * null where they stand on neither.
 */
const standingRows = (run: Run, stack: Stack, rows: readonly number[], stands: Stands): readonly number[] | null =>
  [rows, rows.slice(0, -1)].find((r) => r.length > 0 && stands(run, stack, r)) ?? null;

/** What a stack of a run is looked for with. */
interface Question {
  readonly catalogue: Catalogue;
  readonly run: Run;
  readonly needMm: number;
  readonly clearMm: number;
  readonly stands: Stands;
  /** Heights of upright courses, tallest first. */
  readonly heights: readonly number[];
}

const heightOf = (heightsMm: readonly number[]): number => heightsMm.reduce((sum, h) => sum + h, 0);

/** The rows of a column that ends in panels on their side, where it stands on them; null where it does not. */
const rowsUnder = (
  q: Question,
  baseMm: number,
  lower: readonly number[],
  heightMm: number,
): readonly number[] | null => {
  const stack: Stack = { baseMm, heightsMm: [...lower, heightMm] };
  const rows = rowLevels(q.catalogue, stack, q.run, q.clearMm, rowsOnSide(q.catalogue, heightMm));
  return standingRows(q.run, stack, rows, q.stands);
};

/** One course: the lowest of panels on their side that reaches as high as it has to, and stands; none higher than the upright one. */
const aloneOnSide = (q: Question, stack: Stack): StackChoice[] => {
  const [own] = stack.heightsMm;
  for (const heightMm of heightsOnSide(q.catalogue)) {
    if (heightMm < q.needMm - SAME_MM || heightMm > own! + SAME_MM) continue;
    const rowLevelsMm = rowsUnder(q, stack.baseMm, [], heightMm);
    if (!rowLevelsMm) continue;
    const upright = rowLevels(q.catalogue, stack, q.run, q.clearMm);
    const rows = standingRows(q.run, stack, upright, q.stands) ?? upright;
    return [{ stack, rowLevelsMm: rows, turnedTop: { heightMm, rowLevelsMm } }];
  }
  return [];
};

/** All stacks of at most `most` courses that stay below a height. */
const stacksBelow = (heights: readonly number[], most: number, belowMm: number): number[][] => {
  const found: number[][] = [];
  const visit = (from: number, chosen: number[]) => {
    if (chosen.length > 0) found.push(chosen);
    if (chosen.length === most) return;
    for (let i = from; i < heights.length; i++)
      if (heightOf(chosen) + heights[i]! < belowMm - SAME_MM) visit(i, [...chosen, heights[i]!]);
  };
  visit(0, []);
  return found;
};

/**
 * Several courses: panels on their side over upright ones, no higher and with no more courses than the run's upright stack. Where no such panel ends on the joints
 * below, and in corners and end zones, the lowest upright form stands that is at least as high.
 */
const overOthers = (q: Question, upright: Stack): StackChoice[] => {
  const { baseMm, heightsMm } = upright;
  const total = heightOf(heightsMm);
  const found: { heightMm: number; choice: StackChoice }[] = [];
  for (const lower of stacksBelow(q.heights, heightsMm.length - 1, q.needMm)) {
    const below = heightOf(lower);
    for (const heightMm of heightsOnSide(q.catalogue)) {
      if (below + heightMm < q.needMm - SAME_MM || below + heightMm > total + SAME_MM) continue;
      const top = q.heights.filter((h) => h >= heightMm - SAME_MM && below + h >= q.needMm - SAME_MM).at(-1);
      const rowsOfTop = top === undefined ? null : rowsUnder(q, baseMm, lower, heightMm);
      if (top === undefined || !rowsOfTop) continue;
      const stack: Stack = { baseMm, heightsMm: [...lower, top] };
      const all = rowLevels(q.catalogue, stack, q.run, q.clearMm);
      const rows = standingRows(q.run, stack, all, q.stands);
      const turnedTop = { heightMm, rowLevelsMm: rowsOfTop };
      const choice: StackChoice = rows
        ? { stack, rowLevelsMm: rows, turnedTop }
        : {
            stack,
            rowLevelsMm: rowsOfTop.filter((z) => z < baseMm + below),
            turnedTop: { ...turnedTop, only: true },
          };
      found.push({ heightMm: below + heightMm, choice });
    }
  }
  return found
    .sort((a, b) =>
      Math.abs(a.heightMm - b.heightMm) > SAME_MM
        ? a.heightMm - b.heightMm
        : a.choice.stack.heightsMm.length - b.choice.stack.heightsMm.length,
    )
    .map((f) => f.choice);
};

/** The ways to set panels on their side in a run, least stick-up first. */
const waysOnSide = (q: Question, upright: Stack): StackChoice[] =>
  upright.heightsMm.length === 1 ? aloneOnSide(q, upright) : overOthers(q, upright);

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
    const standing = (heightsMm: readonly number[]) =>
      standingRows(run, { baseMm, heightsMm }, rowsOf(heightsMm), stands);
    const chosen = tried.find((h) => standing(h) !== null) ?? tried[0];
    if (!chosen) {
      const message = `No stack of the yard's heights reaches ${plainNumber(needMm, 0)} mm on ${describeRun(run)}; it is not laid out.`;
      findings.push(finding('fit.no-stack', message, { at, subject: run.id }));
      continue;
    }
    const stack: Stack = { baseMm, heightsMm: chosen };
    const passed = onSide?.get(run.id);
    const question = { catalogue, run, needMm, clearMm: options.rowClearMm, stands, heights };
    const ways = passed === undefined ? [] : waysOnSide(question, stack);
    const way = ways[Math.min(passed ?? 0, ways.length - 1)];
    if (way) {
      value.set(run.id, way);
      continue;
    }
    findings.push(...stickUpFindings(plan, run, heightOf(chosen) + baseMm));
    value.set(run.id, { stack, rowLevelsMm: standing(chosen) ?? rowsOf(chosen) });
  }
  return { value, findings };
};
