/** A plan in parts that share no choice, solved one by one: time grows with the plan and not with its square. */

import { grouping } from '../ground/groups.js';
import { addCost, ZERO_COST } from './cost.js';
import { featureVertices } from './features.js';
import { jogLegsOf } from './jogPieces.js';
import type { PlanModel, RunModel, SolvedPlan } from './plan.js';
import { stripPlaces, withStrips } from './strips.js';

/** What couples a run to others: the vertices whose legs it takes, its steps and deep jogs. */
const keysOf = (model: RunModel): string[] =>
  model.features.flatMap((f) => [
    ...featureVertices(f),
    ...stripPlaces(f, model.ctx.run).map((p) => p.id),
    ...(f.kind === 'step' || f.kind === 'jog' ? [`${f.kind} ${f.id}`] : []),
  ]);

/** Parts in the order of their first runs; runs and steps in the order of the plan. */
export const partsOf = ({ runs, steps, jogs, corners, strips }: PlanModel): PlanModel[] => {
  const { connect, lowestOf, groups } = grouping(runs.length);
  const first = new Map<string, number>();
  runs.forEach((model, i) => {
    for (const key of keysOf(model)) {
      const other = first.get(key);
      if (other === undefined) first.set(key, i);
      else connect(i, other);
    }
  });
  for (const { places } of strips) for (const id of places) connect(first.get(id)!, first.get(places[0]!)!);
  const cornersOf = new Map<number, PlanModel['corners'][number][]>();
  for (const corner of corners) {
    // A salient vertex hangs on no choice: it goes with the first part.
    const at = first.get(corner.vertex);
    const part = at === undefined ? 0 : lowestOf(at);
    cornersOf.set(part, [...(cornersOf.get(part) ?? []), corner]);
  }
  const stepsOf = new Map<number, PlanModel['steps'][number][]>();
  for (const step of steps) {
    const part = lowestOf(first.get(`step ${step.id}`)!);
    stepsOf.set(part, [...(stepsOf.get(part) ?? []), step]);
  }
  return groups().map(([low, ...others]) => ({
    runs: [low!, ...others].map((i) => runs[i]!),
    steps: stepsOf.get(low!) ?? [],
    jogs: jogs.filter((jog) => lowestOf(first.get(`jog ${jog.id}`)!) === low),
    corners: cornersOf.get(low!) ?? [],
    strips: strips.filter(({ places }) => lowestOf(first.get(places[0]!)!) === low),
  }));
};

/** The answers of all parts as one, runs in the order of the plan. */
export const together = (model: PlanModel, parts: readonly SolvedPlan[]): SolvedPlan => {
  const byRun = new Map(parts.flatMap((p) => p.runs.map((r) => [r.model, r] as const)));
  const partOf = new Map(
    parts.flatMap((p) => p.runs.flatMap((r) => r.model.features.flatMap(featureVertices)).map((v) => [v, p] as const)),
  );
  const jogLegs = jogLegsOf(parts.flatMap((p) => p.jogs));
  const picks = new Map(parts.flatMap((p) => [...p.picks]));
  return {
    runs: model.runs.map((r) => byRun.get(r)!),
    steps: parts.flatMap((p) => p.steps),
    jogs: parts.flatMap((p) => p.jogs),
    picks,
    // A vertex of no part has no leg: any part says so.
    legOf: withStrips(
      (vertex) => jogLegs.get(vertex) ?? (partOf.get(vertex) ?? parts[0])?.legOf(vertex) ?? 0,
      (id) => picks.get(id),
    ),
    cost: parts.reduce((sum, p) => addCost(sum, p.cost), ZERO_COST),
    bound: parts.reduce((sum, p) => addCost(sum, p.bound), ZERO_COST),
    work: parts.reduce((sum, p) => sum + p.work, 0),
    cutShort: parts.some((p) => p.cutShort),
  };
};
