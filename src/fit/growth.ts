/** Growth (rule T19): panels gain a little in every joint; between two fixed corners nothing gives way where no strip is cut to suit. */

import { isBend } from '../ground/cornerAngles.js';
import { type Finding, finding } from '../ground/findings.js';
import { describeRun, placeAlong } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { FacePlan } from '../ground/vocabulary.js';
import type { SolvedPlan, SolvedRun } from './plan.js';
import type { ZoneSolution } from './zones.js';

/** What a joint gains. Common practice, no source. */
const PER_JOINT_MM = 0.5;
/** More joints than this without a strip are a dead fit; every so many joints the length is checked. Common practice, no source. */
const JOINTS_MOST = 10;

const isFixed = (run: SolvedRun, feature: number): boolean => {
  const f = run.model.features[feature]!;
  if (f.kind !== 'end') return f.kind === 'stems';
  // At a bend the strips are cut to suit.
  return f.end.kind === 'stem' || (f.end.kind === 'corner' && !isBend(f.end.deflectionDeg));
};

const hasStrip = (zone: ZoneSolution): boolean =>
  zone.answer!.placed.some((p) => p.tied === null) ||
  [zone.start, zone.end].some((b) => b.left.pads.length > 0 || b.right.pads.length > 0);

const zoneFinding = (plan: FacePlan, run: SolvedRun, i: number): Finding[] => {
  const zone = run.zones[i];
  if (!zone?.answer || !isFixed(run, i) || !isFixed(run, i + 1) || hasStrip(zone)) return [];
  const { placed } = zone.answer;
  const joints = placed.length + 1;
  if (joints <= JOINTS_MOST) return [];
  const own = run.model.ctx.run;
  const mm = (guValue: number) => plainNumber(guValue * plan.gridMm, 1);
  const stations = placed.filter((_, k) => k > 0 && k % JOINTS_MOST === 0).map((p) => mm(p.fromGu));
  const at = placeAlong(plan, own.wall, ((zone.fromGu + zone.toGu) / 2) * plan.gridMm, own.footingMm);
  const message = `On ${describeRun(own)} ${joints} joints between two fixed corners gain about ${plainNumber(joints * PER_JOINT_MM, 1)} mm, and no strip gives way: check the length at ${stations.length === 0 ? 'the end' : `station ${stations.join(', ')} and at the end`}.`;
  return [finding('fit.dead-fit', message, { at, subject: own.wall })];
};

export const growthFindings = (plan: FacePlan, { runs }: SolvedPlan): Finding[] =>
  runs.flatMap((run) => run.zones.flatMap((_, i) => zoneFinding(plan, run, i)));
