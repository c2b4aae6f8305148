/**
 * The top course of a stretch, set anew over the columns that were found: panels on their side in place of upright ones, where they end on joints of
 * the columns below (rule T8).
 *
 * Method: a shortest path over those joints, with the chain of both faces in its state (chain.ts), cheapest first. Each step keeps the column's own upright form or
 * sets one panel on its side over one or more columns. All forms kept is one of the paths, so what is found never costs more than the columns as
 * they were; unless upright forms would not stand there, and every column must be covered. Timber stays as it is, full height: nothing lies over it. Complexity: joints x lengths x ways to tie, times the few states that are kept apart.
 */

import type { RunContext } from './bound.js';
import { type ChainLimits, type ChainState, covers, setGroup, setLeaning, stripLoad } from './chain.js';
import { addCost, type Cost, type CostOrder, compareCost, ZERO_COST } from './cost.js';
import { holdsElastically } from './elastic.js';
import { closes, statesAt } from './endPair.js';
import { makeGroup, type TiedGroup, tiedGroups } from './groups.js';
import { spansOf } from './levels.js';
import type { SolvedPlan, SolvedRun } from './plan.js';
import { topFootMm } from './turned.js';
import type { PlacedGroup, ZoneAnswer, ZoneProblem } from './zone.js';

/** The top course of one zone: for each column whether its own form stands there, and the panels on their side. */
export interface TopCourse {
  readonly keeps: readonly boolean[];
  readonly onSide: readonly { readonly fromGu: number; readonly tied: TiedGroup }[];
  /** What it costs more or less than the columns as they were. */
  readonly change: Cost;
}

interface Label {
  /** Joint that it has reached. */
  readonly joint: number;
  readonly faces: readonly [ChainState, ChainState];
  readonly cost: Cost;
  readonly parent: Label | null;
  readonly placed: PlacedGroup | null;
}

/** Labels kept at one joint; more would only tell apart shears of the same forms. */
const LABELS_MOST = 200;

/** What the top course of a column costs: one unit, its fillers and its ties there, on both faces. */
const costOfTop = ({ ctx, demand }: SolvedRun['model'], order: CostOrder, { tied }: PlacedGroup): Cost => {
  if (!tied) return ZERO_COST;
  const { group, tiesGu } = tied;
  const foot = topFootMm(demand.stack);
  const own = demand.rows.filter((r) => r.levelMm > foot).length;
  const rows = group.panel.turned ? (ctx.onSide?.rows ?? 0) : ctx.rows > 0 ? own : 0;
  return order.cost({
    steelFillers: 2 * group.fillerCount,
    tiesAndUnits: 2 * (1 + group.fillerCount) + tiesGu.length * rows,
    squares: 2 * group.panel.widthGu ** 2,
  });
};

/** Every way to tie each panel on its side that holds the pressure of its course, by its length. */
const waysOnSide = ({ gear, onSide }: RunContext, allTied: boolean): Map<number, TiedGroup[]> => {
  const ways = new Map<number, TiedGroup[]>();
  if (!onSide) return ways;
  for (const tied of tiedGroups(gear.onSide.map((p) => makeGroup(p, null, null)))) {
    if (allTied && tied.tiesGu.length < tied.group.holesGu.length) continue;
    const list = ways.get(tied.group.lengthGu) ?? [];
    ways.set(tied.group.lengthGu, [...list, tied]);
  }
  return ways;
};

/** Limits of a panel on its side under the pressure of its course. */
const limitsOnSide = ({ onSide }: RunContext, { group: { panel } }: TiedGroup): ChainLimits => {
  const w2 = (panel.ratedSpanGu ** 2 * panel.ratedKpa) / (4 * Math.max(onSide?.pressureKpa ?? 0, 1e-6));
  return {
    mostGu: onSide?.tieStripGu ?? 0,
    leastGu: 0,
    tipGu: (o) => (o <= 0 ? 1e9 : (w2 - o * o) / (2 * o)),
  };
};

/** Does the panel stand within its overhang and its span, tied so, after a group that is carried or fixed? */
const stands = ({ onSide }: RunContext, tied: TiedGroup, from: ChainState['kind']): boolean => {
  const { panel, lengthGu } = tied.group;
  const [first] = tied.tiesGu;
  const last = tied.tiesGu[tied.tiesGu.length - 1];
  if (first === undefined || last === undefined) return false;
  if (from === 'C' && first > panel.overhangGu) return false;
  return (
    lengthGu - last <= panel.overhangGu && spansOf(tied, from === 'F' ? 1 : 0, Math.max(onSide?.pressureKpa ?? 0, 1e-6))
  );
};

/** The top course of one zone, with panels on their side tied in some of their holes or in all; null where no panel on its side makes it cheaper. */
const topOfZone = (
  run: SolvedRun,
  answer: ZoneAnswer,
  problem: ZoneProblem,
  order: CostOrder,
  allTied: boolean,
): TopCourse | null => {
  const { model } = run;
  const { ctx, demand } = model;
  const { placed, end } = answer;
  const only = demand.turnedTop?.only === true;
  const joints = [...placed.map((p) => p.fromGu), end.jointGu];
  const indexOf = new Map(joints.map((j, i) => [j, i]));
  const ways = waysOnSide(ctx, allTied);
  const begun = statesAt(problem.start, problem.limits, false);
  if (!begun || placed.length === 0 || (only && (problem.start.pair || end.pair))) return null;
  const limitsAt: ZoneProblem['limitsAt'] = (fromGu, tied) =>
    tied.group.panel.turned ? limitsOnSide(ctx, tied) : problem.limitsAt(fromGu, tied);
  const timberBefore = joints.map((_, i) => placed.slice(0, i).filter((p) => !p.tied).length);
  const labels: Label[][] = joints.map(() => []);
  labels[0]!.push({ joint: 0, faces: begun, cost: ZERO_COST, parent: null, placed: null });
  const offer = (label: Label) => {
    const held = labels[label.joint]!;
    const beats = (a: Label, b: Label) =>
      a.faces.every((f, i) => f.kind === b.faces[i]!.kind && covers(f, b.faces[i]!)) &&
      compareCost(a.cost, b.cost) <= 0;
    if (held.length >= LABELS_MOST || held.some((h) => beats(h, label))) return;
    labels[label.joint] = [...held.filter((h) => !beats(label, h)), label];
  };
  const set = (label: Label, group: PlacedGroup, to: number) => {
    const { fromGu, lengthGu, tied } = group;
    const load = stripLoad(fromGu, lengthGu, problem.loadFrom, problem.loadTo);
    const limits = tied ? limitsAt(fromGu, tied) : problem.limits;
    const put = group.leans ? setLeaning : setGroup;
    const [left, right] = label.faces.map((f) => put(f, lengthGu, load, tied?.tiesGu ?? [], limits));
    if (!left || !right || left.kind !== right.kind) return;
    const cost = addCost(label.cost, costOfTop(model, order, group));
    offer({ joint: to, faces: [left, right], cost, parent: label, placed: group });
  };
  joints.slice(0, -1).forEach((fromGu, i) => {
    for (const label of labels[i]!) {
      if (!only || !placed[i]!.tied) set(label, placed[i]!, i + 1);
      for (const [lengthGu, list] of ways) {
        const to = indexOf.get(fromGu + lengthGu);
        if (to === undefined || timberBefore[to] !== timberBefore[i]) continue;
        for (const tied of list)
          if (stands(ctx, tied, label.faces[0].kind) && tied.tiesGu.every((t) => problem.tieAt(fromGu + t)))
            set(label, { fromGu, tied, leans: false, lengthGu }, to);
      }
    }
  });
  const asItWas = placed.reduce<Cost>((sum, p) => addCost(sum, costOfTop(model, order, p)), ZERO_COST);
  const done = labels[joints.length - 1]!.filter(
    (l) => (only || compareCost(l.cost, asItWas) < 0) && closes(l.faces, end, problem.limits),
  ).sort((a, b) => compareCost(a.cost, b.cost));
  for (const label of done) {
    const groups: PlacedGroup[] = [];
    for (let at: Label | null = label; at; at = at.parent) if (at.placed) groups.unshift(at.placed);
    if (!holdsElastically({ ...problem, limitsAt }, { ...answer, placed: groups })) continue;
    const kept = new Set(groups);
    return {
      keeps: placed.map((p) => kept.has(p)),
      onSide: groups.flatMap(({ fromGu, tied }) => (tied?.group.panel.turned ? [{ fromGu, tied }] : [])),
      change: addCost(
        label.cost,
        asItWas.map((x) => -x),
      ),
    };
  }
  return null;
};

/** The plan with panels on their side in the top courses, wherever they make it cheaper; the proof then no longer covers units and ties. `solved` itself where they do nowhere. */
export const withTopCourses = (solved: SolvedPlan, order: CostOrder): SolvedPlan => {
  let cost = solved.cost;
  const runs = solved.runs.map((run): SolvedRun => {
    const { ctx, zones } = run.model;
    if (!ctx.onSide || ctx.gear.courses === 1 || zones.length !== run.zones.length) return run;
    const tops = run.zones.map((zone, i) => {
      if (!zone.answer || zone.level !== 'proven') return null;
      const problem = zones[i]!.problemOf(zone.startEnd);
      // Where ties that were saved leave too much hanging on a tip, all holes tied may still be cheaper than upright forms.
      return [false, true].reduce<TopCourse | null>(
        (found, all) => found ?? topOfZone(run, zone.answer!, problem, order, all),
        null,
      );
    });
    for (const top of tops) if (top) cost = addCost(cost, top.change);
    return tops.some((t) => t !== null) ? { ...run, tops } : run;
  });
  return runs.some((r) => r.tops) ? { ...solved, runs, cost } : solved;
};
