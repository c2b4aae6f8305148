/**
 * The least layout of a plan: zones are solved one by one, and the corner legs, strips and joints of steps that couple them are chosen together.
 *
 * The choice runs on lower bounds first (bucket elimination over the wall graph); the zones of the winner are then solved exactly and their
 * bounds replaced by what was found, until every zone of the winner is exact. Since bounds never exceed the truth, the winner is then the least.
 * Where ties must miss places, close bounds are slow to find: zones begin with the bound that does not heed them, and those of the winner alone get
 * the close one before they are solved.
 */

import { compareText } from '../ground/order.js';
import { type Assignment, type Choice, type Factor, leastAssignment } from './assign.js';
import { STEM_PADS, stemBound } from './bays.js';
import type { LegOf, RunContext } from './bound.js';
import { cornerLegs, innerVertexOf } from './cornerEnds.js';
import { addCost, type Cost, compareCost, compareTiers, ZERO_COST } from './cost.js';
import { type Feature, featureVertices } from './features.js';
import { jogLegsOf } from './jogPieces.js';
import { partsOf, together } from './parts.js';
import type { StemBound, StemsFeature } from './pilasters.js';
import {
  NO_LEG_GU,
  type PlanModel,
  type RunModel,
  type SolvedJog,
  type SolvedPlan,
  type SolvedRun,
  type SolvedStep,
} from './plan.js';
import { stepCost } from './steps.js';
import { stripPlaces, withStrips } from './strips.js';
import type { Zone, ZoneSolution } from './zones.js';

/** Rounds of the exact / bound exchange; each makes at least one zone exact, so few jobs need more than a handful. */
const ROUNDS_MOST = 400;

interface Cell {
  cost: Cost | null;
  /** A bound that may still be closer without solving. */
  rough: boolean;
  solution: ZoneSolution | null;
  exact: boolean;
}

/** One zone with its table over legs and strip picks. */
export interface ZoneTable {
  /** The run's id and the number of the zone in it. */
  readonly id: string;
  readonly run: RunModel;
  readonly zone: Zone;
  readonly scope: readonly string[];
  readonly low: Feature;
  readonly high: Feature;
  readonly cells: Map<string, Cell>;
}

export interface StemTable {
  readonly scope: readonly string[];
  readonly run: RunModel;
  readonly feature: StemsFeature;
}

const pickOf = (feature: Feature): string | null => (feature.kind === 'end' ? null : pickName(feature.id));

export const pickName = (id: string): string => `pick ${id}`;

/** `wanted`: the places at which strips may be chosen. */
const scopeOf = ({ ctx }: RunModel, features: readonly Feature[], wanted: ReadonlySet<string>): string[] => {
  const strips = (f: Feature) =>
    stripPlaces(f, ctx.run)
      .map((p) => p.id)
      .filter((id) => wanted.has(id));
  const names = features.flatMap((f) => [...featureVertices(f), ...(pickOf(f) ? [pickOf(f)!] : []), ...strips(f)]);
  return [...new Set(names)].sort(compareText);
};

const picksAt = ({ boxes, stems, pilasters }: StemsFeature): number =>
  boxes?.length ?? (stems.length === 1 && pilasters.length === 0 ? STEM_PADS : 1);

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

/** The choices of one part of a plan, whose runs hang together, and the tables over them. */
export class PartSearch {
  readonly choices: readonly Choice[];
  readonly tables: readonly ZoneTable[];
  readonly stems: readonly StemTable[];
  readonly model: PlanModel;
  readonly #domains: ReadonlyMap<string, readonly number[]>;
  readonly #factors: readonly Factor[];
  #work = 0;
  #cutShort = false;

  constructor(model: PlanModel) {
    this.model = model;
    this.#domains = legDomains(model.runs);
    const wanted = new Set(model.strips.flatMap((s) => s.places));
    const choices: Choice[] = [
      ...[...this.#domains].map(([id, legs]) => ({ id, size: legs.length })),
      ...[...wanted].map((id) => ({ id, size: 2 })),
    ];
    const tables: ZoneTable[] = [];
    const stems: StemTable[] = [];
    const joints = new Map<string, number>();
    for (const run of model.runs) {
      run.zones.forEach((zone, i) => {
        const low = run.features[i]!;
        const high = run.features[i + 1]!;
        const id = `${run.ctx.run.id}:${i}`;
        tables.push({ id, run, zone, scope: scopeOf(run, [low, high], wanted), low, high, cells: new Map() });
      });
      for (const f of run.features) {
        if (f.kind === 'jog') joints.set(pickName(f.id), f.options.length);
        if (f.kind === 'step') joints.set(pickName(f.id), f.jointsGu.length);
        if (f.kind !== 'stems') continue;
        choices.push({ id: pickOf(f)!, size: picksAt(f) });
        stems.push({ scope: scopeOf(run, [f], wanted), run, feature: f });
      }
    }
    for (const [id, size] of joints) choices.push({ id, size });
    this.choices = choices.sort((a, b) => compareText(a.id, b.id));
    this.tables = tables;
    this.stems = stems;
    this.#factors = [
      ...tables.map((t): Factor => ({ scope: t.scope, cost: (v) => this.#cellOf(t, v).cost })),
      ...stems.map((s): Factor => ({ scope: s.scope, cost: (v) => this.stemOf(s, v)?.cost ?? null })),
      ...model.steps.map((s): Factor => ({ scope: [pickName(s.id)], cost: ([pick]) => stepCost(s, pick!) })),
      ...model.jogs.map((j): Factor => ({ scope: [pickName(j.id)], cost: ([pick]) => j.options[pick!]!.cost })),
      ...model.strips.map(
        (s): Factor => ({ scope: s.places, cost: (v) => s.cost(v.reduce((sum, chosen) => sum + chosen, 0)) }),
      ),
      ...model.corners.map((c): Factor => {
        const legs = this.#domains.get(c.vertex);
        return legs
          ? { scope: [c.vertex], cost: ([i]) => c.cost(legs[i!]!) }
          : { scope: [], cost: () => c.cost(NO_LEG_GU) };
      }),
    ];
  }

  /** Steps taken so far. */
  get work(): number {
    return this.#work;
  }

  /** Lengths of leg that may stand at a vertex; none where no end is laid out there. */
  legsOf(vertex: string): readonly number[] {
    return this.#domains.get(vertex) ?? [];
  }

  /** Legs and picks of a table's sides for values of its scope. */
  reader(scope: readonly string[], values: readonly number[]): { legOf: LegOf; pick: (f: Feature) => number } {
    const at = (id: string) => values[scope.indexOf(id)]!;
    return {
      legOf: withStrips((v) => this.#domains.get(v)![at(v)]!, at),
      pick: (f) => (pickOf(f) ? at(pickOf(f)!) : 0),
    };
  }

  #cellOf(t: ZoneTable, values: readonly number[]): Cell {
    const key = values.join(',');
    let cell = t.cells.get(key);
    if (!cell) {
      const rough = t.zone.isHeeding;
      cell = { cost: this.#boundOf(t, values, false), rough, solution: null, exact: false };
      t.cells.set(key, cell);
    }
    return cell;
  }

  #boundOf(t: ZoneTable, values: readonly number[], heeds: boolean): Cost {
    const { legOf, pick } = this.reader(t.scope, values);
    return t.zone.bound(legOf, pick(t.low), pick(t.high), heeds);
  }

  /** The cell with the closest bound that is known without solving it. */
  #closeCellOf(t: ZoneTable, values: readonly number[]): Cell {
    const cell = this.#cellOf(t, values);
    if (cell.rough) {
      cell.cost = this.#boundOf(t, values, true);
      cell.rough = false;
    }
    return cell;
  }

  stemOf(s: StemTable, values: readonly number[]): StemBound | null {
    const { legOf, pick } = this.reader(s.scope, values);
    return stemBound(s.run.ctx, s.feature, legOf, pick(s.feature));
  }

  /** The least by what is known of the zones so far, with the values of some choices given. */
  least(given: ReadonlyMap<string, number> = new Map()): Assignment | null {
    const fixed = [...given].map(
      ([id, value]): Factor => ({ scope: [id], cost: ([v]) => (v === value ? ZERO_COST : null) }),
    );
    return leastAssignment(this.choices, [...this.#factors, ...fixed]);
  }

  /** Solves one zone of the winner; what it costs is then exact. */
  #solve(t: ZoneTable, values: readonly number[]): void {
    const cell = this.#cellOf(t, values);
    const { legOf, pick } = this.reader(t.scope, values);
    cell.solution = t.zone.solve(legOf, pick(t.low), pick(t.high));
    cell.exact = true;
    cell.rough = false;
    cell.cost = cell.solution?.cost ?? null;
    if (!cell.solution) return;
    this.#work += cell.solution.steps;
    this.#cutShort ||= cell.solution.cutShort;
  }

  solve(): SolvedPlan {
    return this.solveWhile(() => true)!;
  }

  /** `isWorth`: told a bound of the cost, whether the search goes on; where it does not, there is no answer. */
  solveWhile(isWorth: (bound: Cost) => boolean): SolvedPlan | null {
    for (let round = 0; ; ) {
      const best = this.least();
      if (!best) throw new Error('every choice of legs was refused, though each has a way to fail');
      if (!isWorth(best.bound)) return null;
      const valuesOf = (scope: readonly string[]) => scope.map((id) => best.values.get(id)!);
      const rough = this.tables.filter((t) => this.#cellOf(t, valuesOf(t.scope)).rough);
      for (const t of rough) this.#closeCellOf(t, valuesOf(t.scope));
      if (rough.length > 0) continue;
      const open = this.tables.filter((t) => !this.#cellOf(t, valuesOf(t.scope)).exact);
      for (const t of open) this.#solve(t, valuesOf(t.scope));
      if (open.length === 0 || round === ROUNDS_MOST) return this.#solved(best, open.length > 0);
      round++;
    }
  }

  #solved(best: Assignment, ranOut: boolean): SolvedPlan {
    const { runs: models, steps, jogs } = this.model;
    const valuesOf = (scope: readonly string[]) => scope.map((id) => best.values.get(id)!);
    const runs = assemble(
      models,
      this.tables,
      this.stems,
      (t) => this.#cellOf(t, valuesOf(t.scope)).solution,
      (s) => this.stemOf(s, valuesOf(s.scope))!,
    );
    const stepped = steps.map((step): SolvedStep => {
      const pick = best.values.get(pickName(step.id))!;
      return { step, jointGu: step.jointsGu[pick]!, cost: stepCost(step, pick) };
    });
    const corners = this.model.corners.reduce<Cost>(
      (sum, c) => addCost(sum, c.cost(this.#legAt(best, c.vertex))),
      ZERO_COST,
    );
    const jogged = jogs.map((jog): SolvedJog => ({ jog, option: jog.options[best.values.get(pickName(jog.id))!]! }));
    const between = [...stepped.map((s) => s.cost), ...jogged.map((j) => j.option.cost)];
    const cost = between.reduce(addCost, addCost(corners, totalCost(runs)));
    const jogLegs = jogLegsOf(jogged);
    // A layout that gave way to one with settled forces is not proven either.
    const isOpen =
      this.#cutShort || runs.some((r) => r.zones.some((z) => z.level === 'proven' && compareCost(z.bound, z.cost) < 0));
    return {
      runs,
      steps: stepped,
      jogs: jogged,
      picks: best.values,
      legOf: withStrips(
        (v) => jogLegs.get(v) ?? this.#legAt(best, v),
        (id) => best.values.get(id),
      ),
      cost,
      bound: isOpen ? this.#bound() : best.bound,
      work: this.#work,
      cutShort: this.#cutShort || ranOut,
    };
  }

  /** A vertex at which no end is laid out has no leg. */
  #legAt(best: Assignment, vertex: string): number {
    const legs = this.#domains.get(vertex);
    return legs ? legs[best.values.get(vertex)!]! : NO_LEG_GU;
  }

  /** The least with every zone at the bound of its search, or of its relaxation where it was never searched. */
  #bound(): Cost {
    const bounds = this.tables.map((t): Factor => {
      const boundOf = ({ solution, cost }: Cell) => solution?.bound ?? cost;
      return { scope: t.scope, cost: (v) => boundOf(this.#closeCellOf(t, v)) };
    });
    return leastAssignment(this.choices, [...bounds, ...this.#factors.slice(this.tables.length)])!.bound;
  }

  /** What is known of a zone with these values: a bound of its cost, and its answer where it was solved. */
  known(
    t: ZoneTable,
    values: readonly number[],
  ): { readonly cost: Cost | null; readonly solution: ZoneSolution | null } {
    return this.#closeCellOf(t, values);
  }

  /** Every zone that was solved, with the values for which it was. */
  *answers(): Generator<{ table: ZoneTable; values: readonly number[]; solution: ZoneSolution }> {
    for (const table of this.tables)
      for (const [key, { solution }] of table.cells)
        if (solution) yield { table, values: key === '' ? [] : key.split(',').map(Number), solution };
  }
}

export const searchesOf = (model: PlanModel): PartSearch[] => partsOf(model).map((part) => new PartSearch(part));

export const solvePlan = (model: PlanModel): SolvedPlan =>
  together(
    model,
    searchesOf(model).map((part) => part.solve()),
  );

/**
 * The same where the whole costs no more than `most` in all tiers, the tie-break left out of account; `solved` is null where it costs more, which is
 * found out early. `work`: steps that were taken either way.
 */
export const solvePlanWithin = (model: PlanModel, most: Cost): { solved: SolvedPlan | null; work: number } => {
  const solved: SolvedPlan[] = [];
  let [spent, work] = [ZERO_COST, 0];
  for (const part of searchesOf(model)) {
    const one = part.solveWhile((bound) => compareTiers(addCost(spent, bound), most) <= 0);
    work += part.work;
    if (!one) return { solved: null, work };
    spent = addCost(spent, one.cost);
    solved.push(one);
  }
  return { solved: together(model, solved), work };
};

const totalCost = (runs: readonly SolvedRun[]): Cost =>
  runs.reduce<Cost>((sum, r) => {
    const zones = r.zones.reduce<Cost>((s, z) => addCost(s, z.cost), ZERO_COST);
    return addCost(
      sum,
      r.stems.reduce<Cost>((s, x) => addCost(s, x.bound.cost), zones),
    );
  }, ZERO_COST);

/** The runs of a part from the answers of their zones and places of stems. */
export const assemble = (
  models: readonly RunModel[],
  tables: readonly ZoneTable[],
  stems: readonly StemTable[],
  solutionOf: (t: ZoneTable) => ZoneSolution | null,
  boundOf: (s: StemTable) => StemBound,
): SolvedRun[] => {
  const solutions = new Map<RunModel, ZoneSolution[]>(models.map((m) => [m, []]));
  for (const t of tables) {
    const solution = solutionOf(t);
    if (solution) solutions.get(t.run)!.push(solution);
  }
  const bounds = new Map<RunModel, SolvedRun['stems'][number][]>(models.map((m) => [m, []]));
  for (const s of stems) bounds.get(s.run)!.push({ feature: s.feature, bound: boundOf(s) });
  return models.map((model) => ({ model, zones: solutions.get(model)!, stems: bounds.get(model)! }));
};
