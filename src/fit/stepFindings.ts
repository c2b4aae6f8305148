/** What a step leaves to be looked after: wide overhangs, and forms that hardly stand beside each other. */

import { type Finding, finding } from '../ground/findings.js';
import { placeAlong } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { FacePlan } from '../ground/vocabulary.js';
import type { SolvedPlan, SolvedStep } from './plan.js';
import { overhangAt } from './steps.js';

/** Two clamps a joint at least, 300 apart. Common practice, no source. */
const OVERLAP_LEAST_MM = 300;

const stepFinding = (plan: FacePlan, { step, jointGu }: SolvedStep): Finding[] => {
  const { before, after, riserGu } = step;
  const { gridMm } = plan;
  const { wall } = before.ctx.run;
  const mm = (guValue: number) => plainNumber(guValue * gridMm, 1);
  const detail = { at: placeAlong(plan, wall, riserGu * gridMm, after.ctx.run.footingMm), subject: wall };
  const found: Finding[] = [];
  const overhang = overhangAt(step, jointGu);
  if (overhang && overhang.toGu - overhang.fromGu > before.ctx.gear.timberMostGu) {
    const message = `At the step at station ${mm(riserGu)} of wall ${wall} a timber strip ${mm(overhang.toGu - overhang.fromGu)} mm wide needs backing.`;
    found.push(finding('fit.timber-wide', message, detail));
  }
  const overlapMm = Math.min(before.topMm, after.topMm) - Math.max(before.baseMm, after.baseMm);
  if (overlapMm < OVERLAP_LEAST_MM) {
    const message = `At the step at station ${mm(riserGu)} of wall ${wall} the forms stand beside each other over ${plainNumber(Math.max(0, overlapMm), 0)} mm of height only.`;
    found.push(finding('fit.step-overlap', message, detail));
  }
  return found;
};

export const stepFindings = (plan: FacePlan, { steps }: SolvedPlan): Finding[] =>
  steps.flatMap((step) => stepFinding(plan, step));
