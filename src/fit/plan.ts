/**
 * The whole job as the search sees it: every run with its tables and zones, the steps between runs, and what couples them. What comes of it is a
 * solved plan (search.ts).
 */

import { runFinder, runOfArm } from '../ground/runs.js';
import { modulo } from '../ground/units.js';
import type { Catalogue, FacePlan, Run, RunDemand, RunEnd, Stack, Vertex } from '../ground/vocabulary.js';
import { voidsOf } from '../ground/voids.js';
import { endBounds } from './bays.js';
import type { LegOf, OnSide, RunContext } from './bound.js';
import { cornerLegs, innerVertexOf } from './cornerEnds.js';
import { cornerItems, outsideItems } from './cornerPieces.js';
import type { Cost, CostOrder, Uses } from './cost.js';
import { isDeep, type JogOption, type JogSide, jogOptions, type PlanJog, returnsOf } from './deepJogs.js';
import { type Feature, featuresOf } from './features.js';
import { runPastMost } from './freeEnds.js';
import { type Gear, gearFor, legsAt, tiesFor } from './gear.js';
import { jambsOf, reachFor } from './jambs.js';
import { gcd, type Levels, levelsFor } from './levels.js';
import { openedRun } from './opened.js';
import type { FitOptions } from './options.js';
import { standLevel, topOfStack } from './overLower.js';
import { pilasterBounds, type StemBound } from './pilasters.js';
import { type PlanStep, stepId, stepJoints } from './steps.js';
import { usesAt } from './stock/keys.js';
import { type StripDirection, stripDirections, stripPlaces } from './strips.js';
import type { TopCourse } from './topCourse.js';
import { topFootMm } from './turned.js';
import { Zone, type ZoneSolution } from './zones.js';

export interface PlanModel {
  readonly runs: readonly RunModel[];
  readonly steps: readonly PlanStep[];
  readonly jogs: readonly PlanJog[];
  readonly corners: readonly PlanCorner[];
  /** Directions of closed rooms, each of which wants a strip; none where none are laid out. */
  readonly strips: readonly StripDirection[];
}

/** A vertex at which a corner unit stands: what that takes of the yard for each leg; at salient ones whatever the legs. */
export interface PlanCorner {
  readonly vertex: string;
  readonly uses: (legGu: number) => Uses;
  readonly cost: (legGu: number) => Cost;
}

export interface RunModel {
  readonly ctx: RunContext;
  readonly demand: RunDemand;
  readonly features: readonly Feature[];
  readonly zones: readonly Zone[];
}

export interface SolvedRun {
  readonly model: RunModel;
  readonly zones: readonly ZoneSolution[];
  /** By zone: its top course where panels lie on their side over the columns. */
  readonly tops?: readonly (TopCourse | null)[];
  readonly stems: readonly { readonly feature: Feature & { kind: 'stems' }; readonly bound: StemBound }[];
}

/** A step with the joint that was chosen. */
export interface SolvedStep {
  readonly step: PlanStep;
  readonly jointGu: number;
  readonly cost: Cost;
}

/** A jog with the way in which it is laid out. */
export interface SolvedJog {
  readonly jog: PlanJog;
  readonly option: JogOption;
}

export interface SolvedPlan {
  readonly runs: readonly SolvedRun[];
  readonly steps: readonly SolvedStep[];
  readonly jogs: readonly SolvedJog[];
  /** What was chosen at places of stems, steps and jogs, by the name of the choice (search.ts). */
  readonly picks: ReadonlyMap<string, number>;
  readonly legOf: LegOf;
  readonly cost: Cost;
  /** Proven lower bound of the cost. */
  readonly bound: Cost;
  /** Labels made. */
  readonly work: number;
  readonly cutShort: boolean;
  /** The yard's counts were heeded: `short` in cost and bound is what they say. */
  readonly heedsStock?: true;
}

/** A leg that stands in where the yard has none: the finding says so. */
export const NO_LEG_GU = 1;

/** Whether a station lies in none of the intervals (in order and apart) and keeps its distance from bars of an even spacing. */
const clearAt = ({ keepClear = [], verticals }: RunDemand, gridMm: number): ((stationGu: number) => boolean) => {
  const isBetweenBars = (s: number): boolean => {
    if (verticals === undefined) return true;
    const past = modulo(s - verticals.firstMm, verticals.spacingMm);
    return Math.min(past, verticals.spacingMm - past) >= verticals.reachMm - 1e-6;
  };
  return (stationGu) => {
    const s = stationGu * gridMm;
    let [low, high] = [0, keepClear.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (keepClear[middle]!.toMm <= s) low = middle + 1;
      else high = middle;
    }
    const next = keepClear[low];
    return (next === undefined || s <= next.fromMm) && isBetweenBars(s);
  };
};

const contextFor = (
  plan: FacePlan,
  catalogue: Catalogue,
  run: Run,
  demand: RunDemand,
  gear: Gear,
  deflections: ReadonlyMap<string, number>,
  options: FitOptions,
  order: CostOrder,
): RunContext => {
  const toGu = (mm: number) => Math.round(mm / plan.gridMm);
  const tie = tiesFor(catalogue, run.thicknessMm)[0];
  const diameter = tie?.diameterMm ?? 0;
  return {
    run,
    gear,
    pressureKpa: demand.designKpa,
    heightGu: toGu(run.topMm - run.footingMm),
    rows: tie ? demand.rows.length : 0,
    leastRows: tie ? Math.min(demand.rows.length, ...(demand.voidColumns ?? []).map((c) => c.rows.length)) : 0,
    tieItem: tie?.id ?? null,
    onSide: onSideOf(catalogue, run, demand, tie ? 1 : 0, plan.gridMm),
    cost: order.cost,
    toGu,
    bulkheadGu: toGu(options.bulkheadMm),
    runPastLeastGu: toGu(options.bulkheadMm + options.bulkheadRoomMm),
    runPastMostGu: toGu(runPastMost(plan, run, options.bulkheadMm + options.bulkheadRoomMm, options.runPastMostMm)),
    edgeClearGu: toGu(options.edgeClearMm),
    tieRadiusGu: Math.ceil(diameter / 2 / plan.gridMm),
    voidStrips: (demand.voidColumns ?? []).map((c) => ({
      fromGu: c.fromMm / plan.gridMm,
      toGu: c.toMm / plan.gridMm,
      rows: tie ? c.rows.length : 0,
    })),
    openings: jambsOf(voidsOf(plan, run), plan.gridMm),
    reach: reachFor(options.bulkheadMm, plan.gridMm),
    opened: tie ? openedRun({ run, toGu }, demand, voidsOf(plan, run), tie.workingLoadKn, plan.gridMm) : null,
    isClear: clearAt(demand, plan.gridMm),
    legsAt: (vertex) => legsAt(gear, deflections.get(vertex) ?? 90),
    frameDepthGu: catalogue.frameDepthMm / plan.gridMm,
    stripGu: options.stripMm === null ? null : Math.ceil(options.stripMm / plan.gridMm - 1e-6),
    allClear: (demand.keepClear ?? []).length === 0 && demand.verticals === undefined,
  };
};

/** The working load of the run's tie over a row's load (kN/m), as a strip in grid units; Infinity where there is no tie or no load. */
const tieStrip = (catalogue: Catalogue, run: Run, load: number, gridMm: number): number => {
  const tie = tiesFor(catalogue, run.thicknessMm)[0];
  return tie && load > 0 ? (tie.workingLoadKn / load) * (1000 / gridMm) : Number.POSITIVE_INFINITY;
};

/** What the columns with panels on their side need: rows at or above the foot of their course are the panels' own. */
const onSideOf = (
  catalogue: Catalogue,
  run: Run,
  { stack, turnedTop }: RunDemand,
  tiesARow: number,
  gridMm: number,
): OnSide | null => {
  if (!turnedTop) return null;
  const footMm = topFootMm(stack);
  const rows = turnedTop.rows.filter((r) => r.levelMm > footMm);
  const tieStripGu = tieStrip(catalogue, run, Math.max(0, ...rows.map((r) => r.kNPerM)), gridMm);
  return { rows: rows.length * tiesARow, tieStripGu, pressureKpa: turnedTop.designKpa };
};

/** One run with its tables, before the joints of its steps are known. */
interface Prepared {
  readonly ctx: RunContext;
  readonly demand: RunDemand;
  readonly levels: Levels;
}

/** Stations at which the panels of a run can begin or end, whatever legs are taken: ends of its legs. */
const anchorsOf = ({ ctx }: Prepared): number[] => {
  const { start, end, stems } = ctx.run;
  const legsAt = (vertex: string): readonly number[] => {
    const legs = ctx.legsAt(vertex).map((l) => l.legGu);
    return legs.length > 0 ? legs : [NO_LEG_GU];
  };
  const atEnd = (e: RunEnd, d: 1 | -1): number[] => {
    if (e.kind !== 'corner' && e.kind !== 'stem') return [];
    const legs = e.kind === 'corner' ? cornerLegs(ctx, e) : legsAt(e.leftVertex);
    return legs.flatMap((leg) => endBounds(ctx, e, d, () => leg, []).map((b) => b.jointGu));
  };
  return [
    ...atEnd(start, 1),
    ...atEnd(end, -1),
    ...stems.flatMap((s) => [
      ...legsAt(s.fromVertex).map((leg) => ctx.toGu(s.fromMm) - leg),
      ...legsAt(s.toVertex).map((leg) => ctx.toGu(s.toMm) + leg),
    ]),
  ];
};

/** The steps between runs that are laid out, with the joints that may be chosen there. */
const stepsOf = (prepared: readonly Prepared[]): PlanStep[] => {
  const byId = new Map(prepared.map((p) => [p.ctx.run.id, p]));
  const ofWall = new Map<string, Prepared[]>();
  for (const p of prepared) ofWall.set(p.ctx.run.wall, [...(ofWall.get(p.ctx.run.wall) ?? []), p]);
  return prepared.flatMap((before): PlanStep[] => {
    const { end, wall } = before.ctx.run;
    const after = end.kind === 'step' ? byId.get(end.beyond) : undefined;
    if (end.kind !== 'step' || !after) return [];
    const own = ofWall.get(wall)!;
    const stepGu = own.reduce((g, p) => gcd(g, p.levels.strict.rules.stepGu), 0) || 1;
    const jointsGu = stepJoints(before.ctx, end, own.flatMap(anchorsOf), stepGu);
    const side = ({ ctx, demand: { stack } }: Prepared) => ({
      ctx,
      baseMm: stack.baseMm,
      topMm: stack.heightsMm.reduce((sum, h) => sum + h, stack.baseMm),
    });
    const riserGu = before.ctx.toGu(end.leftMm);
    return [{ id: stepId(before.ctx.run, end), before: side(before), after: side(after), riserGu, jointsGu }];
  });
};

/** What corner units take, at vertices where all runs that meet are laid out. */
const cornersOf = (plan: FacePlan, prepared: readonly Prepared[], order: CostOrder): PlanCorner[] => {
  const find = cornerFinder(plan, coursesByRun(prepared));
  // What stands at jogs is part of the way in which they are laid out.
  const vertices = plan.vertices.filter((v) => v.arms.every((a) => a.face === undefined));
  return vertices.flatMap((v): PlanCorner[] => {
    const found = find(v);
    if (!found) return [];
    const { gear } = found;
    const items = (legGu: number) => (v.kind === 'salient' ? outsideItems(v, gear) : cornerItems(plan, v, gear, legGu));
    const walls = v.arms.map((arm) => arm.wall);
    const uses = (legGu: number): Uses => usesAt(plan, walls, items(legGu) ?? []);
    return [{ vertex: v.id, uses, cost: (legGu) => order.cost({ uses: uses(legGu) }) }];
  });
};

/** A run's units and the levels at which they stand. */
export interface RunCourses {
  readonly gear: Gear;
  readonly stack: Stack;
}

/**
 * Whose courses the corner unit at a vertex takes: of runs whose forms stand on one level the higher one's (overLower.ts). null where a run that meets there
 * is not laid out.
 */
export const cornerFinder = (plan: FacePlan, courses: ReadonlyMap<string, RunCourses>) => {
  const runOf = runFinder(plan.runs);
  return (v: Vertex): { readonly run: string; readonly gear: Gear } | null => {
    const runs = v.arms.map(
      (a) => (a.face === undefined ? runOf(a.wall, a.stationMm) : runOfArm(plan.runs, a))?.id ?? '',
    );
    const [first, second] = runs.map((id) => courses.get(id)) as [RunCourses | undefined, RunCourses | undefined];
    if (!first || !second) return null;
    const isHigher = standLevel(first.stack, second.stack) && topOfStack(second.stack) > topOfStack(first.stack);
    return isHigher ? { run: runs[1]!, gear: second.gear } : { run: runs[0]!, gear: first.gear };
  };
};

/** The jogs between walls that take the same courses, where one is as deep as a leg. */
const jogsOf = (plan: FacePlan, prepared: readonly Prepared[]): PlanJog[] =>
  prepared.flatMap((before): PlanJog[] => {
    const { end } = before.ctx.run;
    if (end.kind !== 'jog') return [];
    const after = prepared.find(({ ctx: { run } }) => run.start.kind === 'jog' && run.start.node === end.node);
    if (after?.ctx.run.start.kind !== 'jog') return [];
    const courses = ({ demand: { stack } }: Prepared) => [stack.baseMm, ...stack.heightsMm].join(' ');
    const sides: [JogSide, JogSide] = [
      { ctx: before.ctx, end, direction: -1 },
      { ctx: after.ctx, end: after.ctx.run.start, direction: 1 },
    ];
    // Where no tie fits nothing stands by itself, and each wall says so.
    const isTied = before.ctx.rows > 0 && after.ctx.rows > 0;
    if (courses(before) !== courses(after) || !isTied || !isDeep(sides[0])) return [];
    return [{ id: end.node, sides, options: jogOptions(sides, returnsOf(plan, end, before.ctx)) }];
  });

/** `demands` is by run id. */
export const modelRuns = (
  plan: FacePlan,
  catalogue: Catalogue,
  demands: ReadonlyMap<string, RunDemand>,
  options: FitOptions,
  order: CostOrder,
): PlanModel => {
  // Runs of one height, stack and load share their tables, which are the costly part.
  const shared = new Map<string, Levels>();
  const gears = new Map<string, Gear>();
  const wallOf = new Map(plan.walls.map((w) => [w.id, w]));
  const deflections = new Map(plan.vertices.map((v) => [v.id, v.deflectionDeg]));
  for (const end of plan.runs.flatMap((r) => [r.start, r.end]))
    if (end.kind === 'corner') deflections.set(innerVertexOf(end), end.deflectionDeg);
  const prepared = plan.runs.flatMap((run): Prepared[] => {
    const demand = demands.get(run.id);
    if (!demand) return [];
    const { turnedTop } = demand;
    const { pour } = wallOf.get(run.wall)!;
    const heights = [
      pour ?? '',
      demand.stack.heightsMm.join('|'),
      ...(turnedTop ? [turnedTop.heightMm, turnedTop.designKpa] : []),
    ].join(' ');
    const gear = gears.get(heights) ?? gearFor(catalogue, demand.stack, turnedTop, pour);
    gears.set(heights, gear);
    const ctx = contextFor(plan, catalogue, run, demand, gear, deflections, options, order);
    // Lower rows carry more under one top course than under the other: columns are to hold under both.
    const foot = topFootMm(demand.stack);
    const below = (turnedTop?.rows ?? []).filter((r) => r.levelMm < foot);
    const strip = tieStrip(
      catalogue,
      run,
      Math.max(0, ...[...demand.rows, ...below].map((r) => r.kNPerM)),
      plan.gridMm,
    );
    const { rows = 0, tieStripGu = 0 } = ctx.onSide ?? {};
    const table = [heights, ctx.pressureKpa, ctx.heightGu, ctx.rows, ctx.leastRows, ctx.tieItem];
    const key = [...table, strip, rows, tieStripGu].join('|');
    const levels = shared.get(key) ?? levelsFor(ctx, strip);
    shared.set(key, levels);
    return [{ ctx, demand, levels }];
  });
  const steps = stepsOf(prepared);
  const joints = new Map(steps.map((s) => [s.id, s.jointsGu]));
  const jogs = jogsOf(plan, prepared);
  const jogOptionsAt = new Map(jogs.map((j) => [j.id, j.options]));
  const runs = prepared.map((run): RunModel => {
    const { ctx, demand, levels } = run;
    const anchorsGu = ctx.run.pilasters ? anchorsOf(run) : [];
    // A run whose neighbour has no stack ends at the riser.
    const features = featuresOf(
      ctx.run,
      (id, end) => joints.get(id) ?? [ctx.toGu(end.leftMm)],
      (end) => jogOptionsAt.get(end.node) ?? null,
      (place) => pilasterBounds(ctx, place, anchorsGu, levels.strict.rules.stepGu),
    );
    const free = [features[0]!, features[features.length - 1]!];
    const zones = features
      .slice(0, -1)
      .map((low, i) => new Zone(ctx, levels, low, features[i + 1]!, free, options.stepLimit));
    return { ctx, demand, features, zones };
  });
  const strips = options.stripMm === null ? [] : stripDirections(plan, runs.flatMap(placesOf), order);
  return { runs, steps, jogs, corners: cornersOf(plan, prepared, order), strips };
};

const placesOf = ({ ctx: { run }, features }: RunModel) =>
  features.flatMap((f) => stripPlaces(f, run).map((place) => ({ ...place, wall: run.wall })));

/** By run id, for corners. */
export const coursesByRun = (models: readonly Pick<RunModel, 'ctx' | 'demand'>[]): ReadonlyMap<string, RunCourses> =>
  new Map(models.map(({ ctx, demand }) => [ctx.run.id, { gear: ctx.gear, stack: demand.stack }]));
