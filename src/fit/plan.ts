/**
 * The whole job: one zone after the other is solved, and the corner legs that couple them are chosen together.
 *
 * The choice runs on lower bounds first (bucket elimination over the wall graph); the zones of the winner are then solved exactly and their
 * bounds replaced by what was found, until every zone of the winner is exact. Since bounds never exceed the truth, the winner is then the least.
 */

import { compareText } from '../ground/order.js';
import { modulo } from '../ground/units.js';
import type { Catalogue, FacePlan, Run, RunDemand, RunEnd } from '../ground/vocabulary.js';
import { type Choice, type Factor, leastAssignment } from './assign.js';
import { endBounds, STEM_PADS, type StemBound, stemBound } from './bays.js';
import type { LegOf, RunContext } from './bound.js';
import { cornerLegs, innerVertexOf } from './cornerEnds.js';
import { addCost, type Cost, type CostOrder, compareCost, ZERO_COST } from './cost.js';
import { type Gear, gearFor, legsAt, tiesFor } from './gear.js';
import { gcd, type Levels, levelsFor } from './levels.js';
import type { FitOptions } from './options.js';
import { partsOf, together } from './parts.js';
import { type PlanStep, stepCost, stepId, stepJoints } from './steps.js';
import { type Feature, featuresOf, featureVertices, Zone, type ZoneSolution } from './zones.js';

export interface PlanModel {
  readonly runs: readonly RunModel[];
  readonly steps: readonly PlanStep[];
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
  readonly stems: readonly { readonly feature: Feature & { kind: 'stems' }; readonly bound: StemBound }[];
}

/** A step with the joint that was chosen. */
export interface SolvedStep {
  readonly step: PlanStep;
  readonly jointGu: number;
  readonly cost: Cost;
}

export interface SolvedPlan {
  readonly runs: readonly SolvedRun[];
  readonly steps: readonly SolvedStep[];
  readonly legOf: LegOf;
  readonly cost: Cost;
  /** Proven lower bound of the cost. */
  readonly bound: Cost;
  /** Labels made. */
  readonly work: number;
  readonly cutShort: boolean;
}

/** Rounds of the exact / bound exchange; each makes at least one zone exact, so few jobs need more than a handful. */
const ROUNDS_MOST = 400;
/** A leg that stands in where the yard has none: the finding says so. */
const NO_LEG_GU = 1;

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
    cost: order.cost,
    toGu,
    bulkheadGu: toGu(options.bulkheadMm),
    runPastLeastGu: toGu(options.bulkheadMm + options.bulkheadRoomMm),
    runPastMostGu: toGu(options.runPastMostMm),
    edgeClearGu: toGu(options.edgeClearMm),
    tieRadiusGu: Math.ceil(diameter / 2 / plan.gridMm),
    voidStrips: (demand.voidColumns ?? []).map((c) => ({
      fromGu: c.fromMm / plan.gridMm,
      toGu: c.toMm / plan.gridMm,
      voidFromGu: c.void.fromMm / plan.gridMm,
      voidToGu: c.void.toMm / plan.gridMm,
      openGu: tieStrip(catalogue, run, Math.max(0, ...c.rows.map((r) => r.kNPerM)), plan.gridMm),
      solidGu: tieStrip(catalogue, run, c.solidKNPerM, plan.gridMm),
    })),
    isClear: clearAt(demand, plan.gridMm),
    legsAt: (vertex) => legsAt(gear, deflections.get(vertex) ?? 90),
    frameDepthGu: catalogue.frameDepthMm / plan.gridMm,
    allClear: (demand.keepClear ?? []).length === 0 && demand.verticals === undefined,
  };
};

/** The working load of the run's tie over a row's load (kN/m), as a strip in grid units; Infinity where there is no tie or no load. */
const tieStrip = (catalogue: Catalogue, run: Run, load: number, gridMm: number): number => {
  const tie = tiesFor(catalogue, run.thicknessMm)[0];
  return tie && load > 0 ? (tie.workingLoadKn / load) * (1000 / gridMm) : Number.POSITIVE_INFINITY;
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
  const deflections = new Map(plan.vertices.map((v) => [v.id, v.deflectionDeg]));
  for (const end of plan.runs.flatMap((r) => [r.start, r.end]))
    if (end.kind === 'corner') deflections.set(innerVertexOf(end), end.deflectionDeg);
  const prepared = plan.runs.flatMap((run): Prepared[] => {
    const demand = demands.get(run.id);
    if (!demand) return [];
    const heights = demand.stack.heightsMm.join('|');
    const gear = gears.get(heights) ?? gearFor(catalogue, demand.stack);
    gears.set(heights, gear);
    const ctx = contextFor(plan, catalogue, run, demand, gear, deflections, options, order);
    const strip = tieStrip(catalogue, run, Math.max(0, ...demand.rows.map((r) => r.kNPerM)), plan.gridMm);
    const key = [heights, ctx.pressureKpa, ctx.heightGu, ctx.rows, strip].join('|');
    const levels = shared.get(key) ?? levelsFor(ctx, strip);
    shared.set(key, levels);
    return [{ ctx, demand, levels }];
  });
  const steps = stepsOf(prepared);
  const joints = new Map(steps.map((s) => [s.id, s.jointsGu]));
  const runs = prepared.map(({ ctx, demand, levels }): RunModel => {
    // A run whose neighbour has no stack ends at the riser.
    const features = featuresOf(ctx.run, (id, end) => joints.get(id) ?? [ctx.toGu(end.leftMm)]);
    const free = [features[0]!, features[features.length - 1]!];
    const zones = features
      .slice(0, -1)
      .map((low, i) => new Zone(ctx, levels, low, features[i + 1]!, free, options.stepLimit));
    return { ctx, demand, features, zones };
  });
  return { runs, steps };
};

interface Cell {
  cost: Cost | null;
  solution: ZoneSolution | null;
  exact: boolean;
}

/** One zone with its table over legs and strip picks. */
interface ZoneTable {
  readonly zone: Zone;
  readonly scope: readonly string[];
  readonly low: Feature;
  readonly high: Feature;
  readonly cells: Map<string, Cell>;
}

const pickOf = (feature: Feature): string | null => (feature.kind === 'end' ? null : pickName(feature.id));

const pickName = (id: string): string => `pick ${id}`;

const scopeOf = (features: readonly Feature[]): string[] =>
  [...new Set(features.flatMap((f) => [...featureVertices(f), ...(pickOf(f) ? [pickOf(f)!] : [])]))].sort(compareText);

/** Lengths of leg that may stand at each vertex of a feature. */
const legChoices = (ctx: RunContext, feature: Feature): [string, number[]][] =>
  feature.kind === 'end' && feature.end.kind === 'corner'
    ? [[innerVertexOf(feature.end), cornerLegs(ctx, feature.end)]]
    : featureVertices(feature).map((v) => [v, ctx.legsAt(v).map((l) => l.legGu)]);

/** Legs that every wall at a vertex has, by vertex. */
const legDomains = (models: readonly RunModel[]): Map<string, number[]> => {
  const domains = new Map<string, number[]>();
  for (const m of models) {
    for (const [v, legs] of m.features.flatMap((f) => legChoices(m.ctx, f))) {
      const held = domains.get(v);
      domains.set(v, held ? held.filter((l) => legs.includes(l)) : legs);
    }
  }
  for (const [v, legs] of domains) if (legs.length === 0) domains.set(v, [NO_LEG_GU]);
  return domains;
};

export const solvePlan = (model: PlanModel): SolvedPlan => together(model, partsOf(model).map(solvePart));

/** One part, whose choices hang together. */
const solvePart = ({ runs: models, steps }: PlanModel): SolvedPlan => {
  const domains = legDomains(models);
  const choices: Choice[] = [...domains].map(([id, legs]) => ({ id, size: legs.length }));
  const tables: ZoneTable[] = [];
  const stems: { scope: string[]; model: RunModel; feature: Feature & { kind: 'stems' } }[] = [];
  for (const model of models) {
    model.zones.forEach((zone, i) => {
      const low = model.features[i]!;
      const high = model.features[i + 1]!;
      tables.push({ zone, scope: scopeOf([low, high]), low, high, cells: new Map() });
    });
    for (const feature of model.features) {
      if (feature.kind !== 'stems') continue;
      choices.push({ id: pickOf(feature)!, size: feature.stems.length === 1 ? STEM_PADS : 1 });
      stems.push({ scope: scopeOf([feature]), model, feature });
    }
  }
  const joints = new Map<string, number>();
  for (const f of models.flatMap((m) => m.features))
    if (f.kind === 'step') joints.set(pickName(f.id), f.jointsGu.length);
  for (const [id, size] of joints) choices.push({ id, size });
  choices.sort((a, b) => compareText(a.id, b.id));

  const reader = (scope: readonly string[], values: readonly number[]) => {
    const at = (id: string) => values[scope.indexOf(id)]!;
    return {
      legOf: (v: string) => domains.get(v)![at(v)]!,
      pick: (f: Feature) => (pickOf(f) ? at(pickOf(f)!) : 0),
    };
  };
  const cellOf = (t: ZoneTable, values: readonly number[]): Cell => {
    const key = values.join(',');
    let cell = t.cells.get(key);
    if (!cell) {
      const { legOf, pick } = reader(t.scope, values);
      cell = { cost: t.zone.bound(legOf, pick(t.low), pick(t.high)), solution: null, exact: false };
      t.cells.set(key, cell);
    }
    return cell;
  };
  const stemOf = (s: (typeof stems)[number], values: readonly number[]): StemBound | null => {
    const { legOf, pick } = reader(s.scope, values);
    return stemBound(s.model.ctx, s.feature.stems, legOf, pick(s.feature));
  };
  const factors: Factor[] = [
    ...tables.map((t): Factor => ({ scope: t.scope, cost: (v) => cellOf(t, v).cost })),
    ...stems.map((s): Factor => ({ scope: s.scope, cost: (v) => stemOf(s, v)?.cost ?? null })),
    ...steps.map((s): Factor => ({ scope: [pickName(s.id)], cost: ([pick]) => stepCost(s, pick!) })),
  ];

  let work = 0;
  let cutShort = false;
  for (let round = 0; ; round++) {
    const best = leastAssignment(choices, factors);
    if (!best) throw new Error('every choice of legs was refused, though each has a way to fail');
    const valuesOf = (scope: readonly string[]) => scope.map((id) => best.values.get(id)!);
    const open = tables.filter((t) => !cellOf(t, valuesOf(t.scope)).exact);
    for (const t of open) {
      const values = valuesOf(t.scope);
      const cell = cellOf(t, values);
      const { legOf, pick } = reader(t.scope, values);
      cell.solution = t.zone.solve(legOf, pick(t.low), pick(t.high));
      cell.exact = true;
      cell.cost = cell.solution?.cost ?? null;
      if (cell.solution) {
        work += cell.solution.steps;
        cutShort ||= cell.solution.cutShort;
      }
    }
    if (open.length === 0 || round === ROUNDS_MOST) {
      const last = round === ROUNDS_MOST && open.length > 0;
      const runs = assemble(models, tables, stems, valuesOf, cellOf, stemOf);
      const stepped = steps.map((step): SolvedStep => {
        const pick = best.values.get(pickName(step.id))!;
        return { step, jointGu: step.jointsGu[pick]!, cost: stepCost(step, pick) };
      });
      const cost = stepped.reduce((sum, s) => addCost(sum, s.cost), totalCost(runs));
      // A vertex at which no end is laid out has no leg.
      const legOf = (v: string) => domains.get(v)?.[best.values.get(v)!] ?? NO_LEG_GU;
      const bounds: Factor[] = tables.map((t) => ({ scope: t.scope, cost: (v) => boundOf(cellOf(t, v)) }));
      // A layout that gave way to one with settled forces is not proven either.
      const isOpen =
        cutShort || runs.some((r) => r.zones.some((z) => z.level === 'proven' && compareCost(z.bound, z.cost) < 0));
      const bound = isOpen ? leastAssignment(choices, [...bounds, ...factors.slice(tables.length)])!.cost : best.cost;
      return {
        runs,
        steps: stepped,
        legOf,
        cost,
        bound: isOpen || last ? bound : cost,
        work,
        cutShort: cutShort || last,
      };
    }
  }
};

/** What a zone costs at least: the bound of its search, or of its relaxation where it was never searched. */
const boundOf = (cell: Cell): Cost | null => cell.solution?.bound ?? cell.cost;

const totalCost = (runs: readonly SolvedRun[]): Cost =>
  runs.reduce<Cost>((sum, r) => {
    const zones = r.zones.reduce<Cost>((s, z) => addCost(s, z.cost), ZERO_COST);
    return addCost(
      sum,
      r.stems.reduce<Cost>((s, x) => addCost(s, x.bound.cost), zones),
    );
  }, ZERO_COST);

const assemble = (
  models: readonly RunModel[],
  tables: readonly ZoneTable[],
  stems: readonly { scope: string[]; model: RunModel; feature: Feature & { kind: 'stems' } }[],
  valuesOf: (scope: readonly string[]) => number[],
  cellOf: (t: ZoneTable, values: readonly number[]) => Cell,
  stemOf: (s: (typeof stems)[number], values: readonly number[]) => StemBound | null,
): SolvedRun[] =>
  models.map((model) => ({
    model,
    zones: tables
      .filter((t) => model.zones.includes(t.zone))
      .map((t) => cellOf(t, valuesOf(t.scope)).solution)
      .filter((s): s is ZoneSolution => s !== null),
    stems: stems
      .filter((s) => s.model === model)
      .map((s) => ({ feature: s.feature, bound: stemOf(s, valuesOf(s.scope))! })),
  }));

/** Gear by run id, for drawing corners. */
export const gearByRun = (models: readonly RunModel[]): ReadonlyMap<string, Gear> =>
  new Map(models.map((m) => [m.ctx.run.id, m.ctx.gear]));
