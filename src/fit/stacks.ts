/**
 * Courses: which heights stand on each other so that the forms reach the pour line with the least stick-up and the fewest units (rule T8), and stand on
 * the tie rows that lie in concrete.
 *
 * Every height used must come in as many panel widths as the best-stocked height, so that all columns of a wall take the same courses. Beside them
 * columns may be allowed that end in a course of panels on their side (turned.ts); corners and end zones always take the run's stack.
 */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { listsBy } from '../ground/groups.js';
import { byNumber } from '../ground/order.js';
import { describeRun, middleOf, placeAlong } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { Catalogue, FacePlan, Run, Stack } from '../ground/vocabulary.js';
import type { FitOptions } from './options.js';
import { baseFor, leastPhases } from './phases.js';
import { type RowRules, type StandingRows, standingRows } from './standingRows.js';
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
  /** Levels of rows that give way to what runs along the wall, and of rows that are tied though they meet it; lowest first. */
  readonly leftOutMm?: readonly number[];
  readonly metMm?: readonly number[];
}

/** Without `stands` every stack is taken to stand. */
export interface StackRules extends Partial<RowRules> {
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

/** What a stack of a run is looked for with. */
interface Question {
  readonly catalogue: Catalogue;
  readonly run: Run;
  readonly needMm: number;
  readonly clearMm: number;
  readonly rules: RowRules;
  /** Heights of upright courses, tallest first. */
  readonly heights: readonly number[];
}

const heightOf = (heightsMm: readonly number[]): number => heightsMm.reduce((sum, h) => sum + h, 0);

/**
 * The rows of a column that ends in panels on their side, where it stands on them; null where it does not. None of them gives way: such a panel has two rows,
 * near its edges, and bears little on one.
 */
const rowsUnder = (q: Question, baseMm: number, lower: readonly number[], heightMm: number): StandingRows | null => {
  const stack: Stack = { baseMm, heightsMm: [...lower, heightMm] };
  const rows = rowLevels(q.catalogue, stack, q.run, q.clearMm, rowsOnSide(q.catalogue, heightMm));
  return standingRows({ ...q.rules, carries: () => false }, q.run, stack, rows);
};

const union = (lists: readonly (readonly number[])[]): number[] => [...new Set(lists.flat())].sort(byNumber((z) => z));

/** Rows that give way, and rows that are met, of all columns of a choice; nothing where there are none. */
const givingWay = (all: readonly (StandingRows | null)[]): Pick<StackChoice, 'leftOutMm' | 'metMm'> => {
  const leftOutMm = union(all.map((r) => r?.leftOutMm ?? []));
  const metMm = union(all.map((r) => r?.metMm ?? []));
  return { ...(leftOutMm.length > 0 ? { leftOutMm } : {}), ...(metMm.length > 0 ? { metMm } : {}) };
};

/** One course: the lowest of panels on their side that reaches as high as it has to, and stands; none higher than the upright one. */
const aloneOnSide = (q: Question, stack: Stack): StackChoice[] => {
  const [own] = stack.heightsMm;
  for (const heightMm of heightsOnSide(q.catalogue)) {
    if (heightMm < q.needMm - SAME_MM || heightMm > own! + SAME_MM) continue;
    const onSide = rowsUnder(q, stack.baseMm, [], heightMm);
    if (!onSide) continue;
    const all = rowLevels(q.catalogue, stack, q.run, q.clearMm);
    const upright = standingRows(q.rules, q.run, stack, all);
    const turnedTop = { heightMm, rowLevelsMm: onSide.rowLevelsMm };
    return [{ stack, rowLevelsMm: upright?.rowLevelsMm ?? all, turnedTop, ...givingWay([upright, onSide]) }];
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
      const rows = standingRows(q.rules, q.run, stack, all);
      const turnedTop = { heightMm, rowLevelsMm: rowsOfTop.rowLevelsMm };
      const given = givingWay([rows, rowsOfTop]);
      const choice: StackChoice = rows
        ? { stack, rowLevelsMm: rows.rowLevelsMm, turnedTop, ...given }
        : {
            stack,
            rowLevelsMm: rowsOfTop.rowLevelsMm.filter((z) => z < baseMm + below),
            turnedTop: { ...turnedTop, only: true },
            ...given,
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

/** Orders in which the courses of a stack may stand besides tallest first; so many of them. */
const ORDERS_TRIED = 12;

const otherOrders = (heightsMm: readonly number[]): number[][] => {
  const found = new Map<string, number[]>();
  const visit = (left: readonly number[], chosen: readonly number[]) => {
    if (found.size > ORDERS_TRIED) return;
    if (left.length === 0) found.set(chosen.join(), [...chosen]);
    for (const h of new Set(left)) visit(left.toSpliced(left.indexOf(h), 1), [...chosen, h]);
  };
  visit(heightsMm, []);
  found.delete(heightsMm.join());
  return [...found.values()];
};

/** The first in order of several measures, all the less the better. */
const leastOf = <T>(items: readonly T[], measures: (item: T) => readonly number[]): T | undefined =>
  items
    .map((item) => ({ item, by: measures(item) }))
    .reduce<{ item: T; by: readonly number[] } | undefined>((best, next) => {
      const at = best ? next.by.findIndex((x, i) => Math.abs(x - best.by[i]!) > SAME_MM) : 0;
      return best === undefined || (at >= 0 && next.by[at]! < best.by[at]!) ? next : best;
    }, undefined)?.item;

/** Runs that stand at the same levels: they take the same courses, whatever is in the way in one of them. */
const sameLevels = (run: Run, baseMm: number): string => [baseMm, run.footingMm, run.topMm].join(' ');

/**
 * Chooses a stack and its tie rows for every run, by run id; `phaseOf` gives the phase of its base. Of the stacks that stand the lowest is taken; where
 * none does, the lowest of all, and the check says what is wrong with it. Where bars that run along a wall meet its rows, courses in another order and higher
 * stacks are looked at for one whose rows clear them or may be left out. A run that no stack reaches is left out, with a failure.
 */
export const chooseStacks = (
  plan: FacePlan,
  catalogue: Catalogue,
  options: FitOptions,
  phaseOf: ReadonlyMap<string, number> = leastPhases(plan, catalogue, options),
  { onSide, ...given }: StackRules = {},
): Staged<ReadonlyMap<string, StackChoice>> => {
  const rules: RowRules = { stands: () => true, ...given };
  const { isMet } = rules;
  const findings: Finding[] = [];
  const value = new Map<string, StackChoice>();
  const heights = usableHeights(
    catalogue,
    plan.vertices.some((v) => v.kind === 're-entrant'),
  );
  const baseOf = (run: Run) => baseFor(run, phaseOf.get(run.id) ?? 0, catalogue.pitchMm, options.bedMm);
  const peers = listsBy(plan.runs, (run) => sameLevels(run, baseOf(run)));
  const rowsOf = (run: Run, heightsMm: readonly number[]) =>
    rowLevels(catalogue, { baseMm: baseOf(run), heightsMm }, run, options.rowClearMm);
  const standing = (run: Run, heightsMm: readonly number[]) =>
    standingRows(rules, run, { baseMm: baseOf(run), heightsMm }, rowsOf(run, heightsMm));
  /** The courses of runs at the same levels, where something that runs along one of their walls meets its rows. */
  const clearing = (group: readonly Run[], tried: readonly (readonly number[])[]) => {
    const isClear = (h: readonly number[]) => group.every((r) => rowsOf(r, h).every((z) => !isMet!(r, z)));
    const plain = tried.find((h) => group.every((r) => standing(r, h) !== null)) ?? tried[0]!;
    if (isClear(plain)) return plain;
    // More courses for a bar's sake are more work than moving the bar.
    const all = tried.filter((h) => h.length <= plain.length).flatMap((h) => [h, ...otherOrders(h)]);
    return leastOf(all, (h) => {
      const rows = group.map((r) => standing(r, h));
      const count = (key: 'metMm' | 'leftOutMm') => rows.reduce((n, r) => n + (r?.[key].length ?? 0), 0);
      return [rows.filter((r) => r === null).length, count('metMm'), heightOf(h), h.length, count('leftOutMm')];
    });
  };
  const clearOf = new Map<string, readonly number[] | undefined>();
  const clearFor = (run: Run, tried: readonly (readonly number[])[]) => {
    const key = sameLevels(run, baseOf(run));
    if (!clearOf.has(key)) clearOf.set(key, clearing(peers.get(key) ?? [run], tried));
    return clearOf.get(key);
  };
  for (const run of plan.runs) {
    const baseMm = baseOf(run);
    const needMm = run.topMm - baseMm + options.stickUpLeastMm;
    const at = placeAlong(plan, run.wall, middleOf(run));
    const tried = needMm > 0 ? stacksFor(heights, needMm).slice(0, STACKS_TRIED) : [];
    const chosen =
      isMet && tried.length > 0 ? clearFor(run, tried) : (tried.find((h) => standing(run, h) !== null) ?? tried[0]);
    if (!chosen) {
      const message = `No stack of the yard's heights reaches ${plainNumber(needMm, 0)} mm on ${describeRun(run)}; it is not laid out.`;
      findings.push(finding('fit.no-stack', message, { at, subject: run.id }));
      continue;
    }
    const stack: Stack = { baseMm, heightsMm: chosen };
    const passed = onSide?.get(run.id);
    const question = { catalogue, run, needMm, clearMm: options.rowClearMm, rules, heights };
    const ways = passed === undefined ? [] : waysOnSide(question, stack);
    const way = ways[Math.min(passed ?? 0, ways.length - 1)];
    if (way) {
      value.set(run.id, way);
      continue;
    }
    findings.push(...stickUpFindings(plan, run, heightOf(chosen) + baseMm));
    const rows = standing(run, chosen);
    value.set(run.id, { stack, rowLevelsMm: rows?.rowLevelsMm ?? rowsOf(run, chosen), ...givingWay([rows]) });
  }
  return { value, findings };
};
