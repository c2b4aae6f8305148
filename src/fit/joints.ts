/**
 * Joints at the edges of openings, after the solve: each stretch with an opening is searched once more among the layouts of its own cost, with the kinds of
 * unit and the widths of timber that the plan has already, so that neither a tier nor the number of kinds grows (jambs.ts says what is better).
 */

import { comesOutOf } from './cleanOuts.js';
import { ZERO_COST } from './cost.js';
import type { Feature } from './features.js';
import type { FillerSet } from './gear.js';
import type { Group } from './groups.js';
import type { Level } from './levels.js';
import type { SolvedPlan } from './plan.js';
import { pickName } from './search.js';
import { atEnd, Togo } from './togo.js';

const kindsOf = ({ panel, low, high }: Group): string[] => {
  const of = (set: FillerSet | null) => (set?.widthsGu ?? []).map((w) => `filler ${w}`);
  return [`${panel.turned ? 'on its side' : 'panel'} ${panel.widthGu}`, ...of(low), ...of(high)];
};

/** What stands in the stretches of a plan and at their ends: kinds of unit, and widths of timber between units. */
const usedIn = ({
  runs,
}: SolvedPlan): { readonly kinds: ReadonlySet<string>; readonly timber: ReadonlySet<number> } => {
  const zones = runs.flatMap((r) => r.zones);
  const placed = zones.flatMap((z) => z.answer?.placed ?? []);
  const atEnds = zones.flatMap((z) => [z.start.left, z.start.right, z.end.left, z.end.right]);
  const groups = [...placed.flatMap((p) => p.tied?.group ?? []), ...atEnds.flatMap((f) => f.group?.group ?? [])];
  return {
    kinds: new Set(groups.flatMap(kindsOf)),
    timber: new Set(placed.flatMap((p) => (p.tied ? [] : [p.lengthGu]))),
  };
};

/** The rules of a level for these alone. */
const only = (level: Level, { kinds, timber }: ReturnType<typeof usedIn>): Level => {
  const { rules } = level;
  const few = {
    ...rules,
    arcs: rules.arcs.filter((a) => kindsOf(a.tied.group).every((k) => kinds.has(k))),
    timber: rules.timber.filter((t) => timber.has(t.widthGu)),
  };
  return { ...level, rules: few, togo: new Togo(few, atEnd(ZERO_COST)) };
};

/** The plan with as many joints at openings as its cost allows; `solved` itself where none can be had. */
export const withJointsAtOpenings = (solved: SolvedPlan): SolvedPlan => {
  const pickOf = (f: Feature): number => (f.kind === 'end' ? 0 : (solved.picks.get(pickName(f.id)) ?? 0));
  const used = usedIn(solved);
  let { work } = solved;
  const runs = solved.runs.map((run) => {
    const { features, ctx, zones: own } = run.model;
    if (ctx.openings.length === 0) return run;
    const comesOut = comesOutOf(run.model);
    const zones = run.zones.map((zone, i) => {
      // A panel that comes out alone stays one.
      const hasOne = zone.answer?.placed.some((p) => p.tied && comesOut(p.tied)) === true;
      const like = { level: (of: Level) => only(of, used), comesOut: hasOne ? comesOut : null };
      const [low, high] = [features[i]!, features[i + 1]!];
      const found = own[i]!.withJoints(solved.legOf, pickOf(low), pickOf(high), zone, like);
      if (found !== zone) work += found.steps;
      return found;
    });
    return zones.every((z, i) => z === run.zones[i]) ? run : { ...run, zones };
  });
  return runs.every((r, i) => r === solved.runs[i]) ? solved : { ...solved, runs, work };
};
