/**
 * Steps: where two runs of one wall meet at a riser of the footing or of the top (rule T9).
 *
 * A column whose base lies below the upper footing ends at or before the riser, since that footing is in its way: the joint stands on the lower side or
 * on the riser itself. The upper column stands out over the lower footing by the rest, and under it hangs timber. At a step of the top the joint stands
 * on the side of the lower top, since the taller forms can stand there too.
 *
 * Both sides stand by their own ties: below the upper footing nothing goes on, and the rows of the two sides lie at different levels. What the timber
 * under the overhang takes hangs on the lower side's last form. See docs/decisions/0012-steps.md.
 */

import type { Run, RunEnd } from '../ground/vocabulary.js';
import { type Bound, bareBound, type RunContext } from './bound.js';
import { type Cost, ZERO_COST } from './cost.js';

export type StepEnd = RunEnd & { readonly kind: 'step' };

export interface StepFeature {
  readonly kind: 'step';
  /** The same for the ends of both runs. */
  readonly id: string;
  readonly end: StepEnd;
  readonly direction: 1 | -1;
  /** Joints that may be chosen, the riser itself first, then by distance from it. */
  readonly jointsGu: readonly number[];
}

export const stepId = (run: Run, end: StepEnd): string => `${run.wall}@${end.leftMm}`;

/** Joints tried at one riser that panels from one end of the wall reach: the nearest ones, since those farther off only leave more fill. */
const JOINTS_A_CLASS = 4;
/** How far from a step of the top its joint may stand: about a wide panel; there it costs nothing. */
const TOP_REACH_MM = 600;

/** Where the joint may stand from the riser, grid units: [least, most], and whether timber hangs beside it. */
const reachOf = (
  ctx: RunContext,
  end: StepEnd,
): { readonly from: number; readonly to: number; readonly hangs: boolean } => {
  // Seen from the run before the riser.
  const { footingMm, topMm } = ctx.run;
  const free = ctx.toGu(TOP_REACH_MM);
  let [from, to] = [-free, free];
  if (footingMm < end.beyondFootingMm) [from, to] = [-ctx.gear.timberLimitGu, 0];
  if (footingMm > end.beyondFootingMm) [from, to] = [0, ctx.gear.timberLimitGu];
  // Where it was measured no form stands in the highest concrete beyond the riser.
  const [high, beyond] = [ctx.run.highMm ?? footingMm, end.beyondHighMm ?? end.beyondFootingMm];
  if (high < beyond) to = Math.min(to, 0);
  if (high > beyond) from = Math.max(from, 0);
  if (topMm < end.beyondTopMm) to = Math.min(to, 0);
  if (topMm > end.beyondTopMm) from = Math.max(from, 0);
  return { from, to, hangs: footingMm !== end.beyondFootingMm };
};

/**
 * Joints of a riser that a layout may take, `before` being the run before it: the riser itself, and those at which panels from an end of the wall arrive
 * (`anchorsGu`, at multiples of `stepGu`). Others would need timber on both sides of the step.
 */
export const stepJoints = (
  before: RunContext,
  end: StepEnd,
  anchorsGu: readonly number[],
  stepGu: number,
): readonly number[] => {
  const riser = before.toGu(end.leftMm);
  const { from, to, hangs } = reachOf(before, end);
  const nearest = (a: number, b: number) => Math.abs(a - riser) - Math.abs(b - riser) || a - b;
  const found = new Set([riser]);
  for (const anchor of [riser, ...anchorsGu]) {
    const reached: number[] = [];
    const first = anchor + Math.ceil((riser + from - anchor) / stepGu) * stepGu;
    for (let j = first; j <= riser + to; j += stepGu) {
      const off = Math.abs(j - riser);
      if (!hangs || off === 0 || off >= before.gear.timberLeastGu) reached.push(j);
    }
    for (const j of reached.sort(nearest).slice(0, JOINTS_A_CLASS)) found.add(j);
  }
  return [...found].sort(nearest);
};

/** The end of a zone at a riser. */
export const stepBound = (ctx: RunContext, feature: StepFeature, pick: number): Bound => {
  const { end, jointsGu } = feature;
  const jointGu = jointsGu[pick]!;
  const hangs = ctx.run.footingMm < end.beyondFootingMm ? Math.abs(ctx.toGu(end.leftMm) - jointGu) : 0;
  return bareBound(jointGu, hangs);
};

/** What hangs under the forms at a step: the strip of stations, and its levels. */
export interface Overhang {
  readonly fromGu: number;
  readonly toGu: number;
  readonly lowMm: number;
  readonly highMm: number;
}

/** The run on one side of a step, and between which levels its forms stand. */
export interface StepSide {
  readonly ctx: RunContext;
  readonly baseMm: number;
  readonly topMm: number;
}

/** One step of a wall with the two runs that meet there. */
export interface PlanStep {
  readonly id: string;
  readonly before: StepSide;
  readonly after: StepSide;
  readonly riserGu: number;
  readonly jointsGu: readonly number[];
}

/** null where the joint stands on the riser, or nothing hangs. */
export const overhangAt = (step: PlanStep, jointGu: number): Overhang | null => {
  const { before, after, riserGu } = step;
  const [low, high] = before.ctx.run.footingMm < after.ctx.run.footingMm ? [before, after] : [after, before];
  if (jointGu === riserGu || low.ctx.run.footingMm === high.ctx.run.footingMm) return null;
  return {
    fromGu: Math.min(jointGu, riserGu),
    toGu: Math.max(jointGu, riserGu),
    lowMm: low.ctx.run.footingMm,
    highMm: high.baseMm,
  };
};

/** One place of fill and what it covers beyond the gap that is there under the lower forms anyway, both faces. */
export const stepCost = (step: PlanStep, pick: number): Cost => {
  const overhang = overhangAt(step, step.jointsGu[pick]!);
  if (!overhang) return ZERO_COST;
  const { before, after } = step;
  const low = before.ctx.run.footingMm < after.ctx.run.footingMm ? before : after;
  const gapMm = low.baseMm - low.ctx.run.footingMm;
  const { gridMm } = low.ctx.gear;
  const heightGu = (overhang.highMm - overhang.lowMm - gapMm) / gridMm;
  return low.ctx.cost({ places: 1, timberArea: 2 * (overhang.toGu - overhang.fromGu) * heightGu });
};
