/**
 * Walls of different tops that meet (decision 0043): corner units as high as the higher wall, boards that close its face over the lower one, and at a corner
 * the lower wall's outer group in the higher wall's courses, since the end of the higher wall lies in its plane.
 *
 * Forms of both walls have to stand on one level: where footings differ nothing of this is done, and `fit.stacks-differ` says so.
 */

import { type FaceOverLower, facesOverLower } from '../ground/overLower.js';
import type { FacePlan, Run, Stack } from '../ground/vocabulary.js';
import type { Bound } from './bound.js';
import type { Draft } from './drafts.js';
import { FACE_RANK } from './drafts.js';
import type { Gear } from './gear.js';
import { type Group, makeGroup } from './groups.js';
import type { SolvedPlan, SolvedRun } from './plan.js';

/** Levels that agree within this are one. */
const SAME_MM = 0.01;

export const topOfStack = ({ baseMm, heightsMm }: Stack): number => heightsMm.reduce((sum, h) => sum + h, baseMm);

/** Do the forms of two runs stand on one level, so that a corner unit can serve both? */
export const standLevel = (a: Stack, b: Stack): boolean => Math.abs(a.baseMm - b.baseMm) <= SAME_MM;

/** The same group in the courses of another run; null where the yard lacks a width of it in one of those heights. */
const groupIn = (gear: Gear, { panel, low, high }: Group): Group | null => {
  const found = gear.panels.find((p) => p.widthGu === panel.widthGu && !p.turned);
  const widths = [...(low?.widthsGu ?? []), ...(high?.widthsGu ?? [])];
  return found && widths.every((w) => gear.fillers.some((f) => f.widthGu === w)) ? makeGroup(found, low, high) : null;
};

/** The lower wall's outer group at a corner, in the courses of the higher one. */
export interface RaisedGroup {
  readonly higher: SolvedRun;
  /** null: the yard has no such units. */
  readonly group: Group | null;
}

export const raisedGroup = (
  plan: FacePlan,
  runs: readonly SolvedRun[],
  solved: SolvedRun,
  bound: Bound,
  node: string | null,
): RaisedGroup | null => {
  const { run } = solved.model.ctx;
  const over = facesOverLower(plan).find((o) => o.kind === 'end' && o.lower === run.id && o.node === node);
  const higher = runs.find((r) => r.model.ctx.run.id === over?.higher);
  const group = over ? bound[over.side].group?.group : undefined;
  if (!over || !higher || !group) return null;
  const [own, other] = [solved.model.demand.stack, higher.model.demand.stack];
  if (!standLevel(own, other) || topOfStack(own) >= over.highMm - SAME_MM) return null;
  return { higher, group: groupIn(higher.model.ctx.gear, group) };
};

/** Both ends of a run with what closes them. */
export const endsOf = ({ model, zones }: SolvedRun): readonly { node: string | null; bound: Bound }[] => {
  const { start, end } = model.ctx.run;
  const [low, high] = [zones[0]?.start, zones[zones.length - 1]?.end];
  return [
    ...(low && !('before' in low) ? [{ node: start.node, bound: low as Bound }] : []),
    ...(high && !('before' in high) ? [{ node: end.node, bound: high as Bound }] : []),
  ];
};

/** The mouths that are closed by boards: those of runs that are laid out and stand on one level. */
const closedMouths = (
  plan: FacePlan,
  solved: SolvedPlan,
): { readonly over: FaceOverLower; readonly higher: SolvedRun }[] => {
  const byId = new Map(solved.runs.map((r) => [r.model.ctx.run.id, r]));
  return facesOverLower(plan).flatMap((over) => {
    const [higher, lower] = [byId.get(over.higher), byId.get(over.lower)];
    const stands = higher && lower && standLevel(higher.model.demand.stack, lower.model.demand.stack);
    return over.kind === 'mouth' && stands ? [{ over, higher }] : [];
  });
};

/** The boards over the lower walls, from their top to the pour line of the higher one. */
export const closureDrafts = (plan: FacePlan, solved: SolvedPlan): Draft[] =>
  closedMouths(plan, solved).map(({ over, higher }): Draft => {
    const { wall, side, lowMm, highMm, node } = over;
    const [fromGu, toGu] = [over.fromMm / plan.gridMm, over.toMm / plan.gridMm];
    const { stack } = higher.model.demand;
    const below = stack.heightsMm.filter(
      (_, i) => topOfStack({ ...stack, heightsMm: stack.heightsMm.slice(0, i + 1) }) <= lowMm,
    );
    return {
      kind: 'bulkhead',
      run: over.higher,
      items: [],
      order: [plan.walls.findIndex((w) => w.id === wall), FACE_RANK[side], fromGu],
      covers: [{ face: plan.faces.find((f) => f.wall === wall && f.side === side)!.id, fromGu, toGu }],
      node,
      own: { course: below.length + 1, lowMm, highMm, turned: false },
    };
  });

/** Does what stands where two runs of different courses meet serve both? */
export const servesBoth = (plan: FacePlan, solved: SolvedPlan): ((a: Run, b: Run, node: string) => boolean) => {
  const stacks = new Map(solved.runs.map((r) => [r.model.ctx.run.id, r.model.demand.stack]));
  const lacking = new Set(
    solved.runs.flatMap((run) =>
      endsOf(run).flatMap(({ node, bound }) => {
        const raised = raisedGroup(plan, solved.runs, run, bound, node);
        return raised && raised.group === null ? [node] : [];
      }),
    ),
  );
  const closed = new Set(closedMouths(plan, solved).map(({ over }) => over.node));
  return (a, b, node) => {
    const [own, other] = [stacks.get(a.id), stacks.get(b.id)];
    const isClosed = Math.abs(a.topMm - b.topMm) <= SAME_MM || closed.has(node);
    return own !== undefined && other !== undefined && standLevel(own, other) && isClosed && !lacking.has(node);
  };
};
