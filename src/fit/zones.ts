/**
 * The zones of one run and their answers: for each zone and each choice of legs at its two sides the least layout, found only when asked for.
 *
 * Levels, tried in turn, each worse one counted as a failure: all rules; all but that ties keep clear of bars and obstacles; cover and hinged
 * chain without loads and ratings; nothing of the yard fits. A zone's bound is the relaxed cost of the first level that has one.
 */

import { endBounds, stemBound } from './bays.js';
import type { Bound, LegOf, RunContext } from './bound.js';
import type { ChainLimits } from './chain.js';
import { addCost, type Cost, compareCost, lessCost, ZERO_COST } from './cost.js';
import { holdsElastically } from './elastic.js';
import type { Feature } from './features.js';
import { clearRunPast, freeEdge } from './freeEnds.js';
import type { TiedGroup } from './groups.js';
import { Guides } from './guide.js';
import { jambRules } from './jambs.js';
import { jogEdge } from './jogEnds.js';
import type { Level, Levels } from './levels.js';
import { isNiche, nicheFill } from './niches.js';
import { Opened } from './opened.js';
import { solveOpened, solveOpenedBelow } from './openedZone.js';
import type { StemBound } from './pilasters.js';
import { solveRepeated } from './repeats.js';
import { rowsMore } from './rowsMore.js';
import { soundOf } from './sound.js';
import { stepBound } from './steps.js';
import type { Labour, ZoneAnswer, ZoneEnd, ZoneProblem } from './zone.js';

export interface ZoneSolution {
  readonly level: 'proven' | 'not-at-openings' | 'not-clear' | 'no-loads' | 'none';
  readonly cost: Cost;
  readonly start: Bound | StemBound;
  readonly startEnd: ZoneEnd;
  readonly end: Bound | StemBound;
  readonly answer: ZoneAnswer | null;
  /** The joints of the zone where there is no answer. */
  readonly fromGu: number;
  readonly toGu: number;
  readonly cutShort: boolean;
  /** Proven lower bound of the zone's cost; the cost itself unless the search was cut short. */
  readonly bound: Cost;
  readonly steps: number;
}

/** Start joints tried, 5 mm apart, where both ends are free: the run past there is chosen with the rest. */
const FREE_STARTS = 24;
interface Candidate {
  readonly start: Bound | StemBound;
  readonly startEnd: ZoneEnd;
  readonly ends: readonly (Bound | StemBound)[];
  readonly zoneEnds: readonly ZoneEnd[];
}

const isStem = (b: Bound | StemBound): b is StemBound => 'before' in b;
const asStart = (b: Bound | StemBound): ZoneEnd => (isStem(b) ? b.after : b);
const asEnd = (b: Bound | StemBound): ZoneEnd => (isStem(b) ? b.before : b);

/** What a layout is to be like that changes in its joints alone. */
export interface Like {
  readonly level: (of: Level) => Level;
  readonly comesOut: ZoneProblem['comesOut'];
}

/** Steps of one search for a panel that comes out alone. */
const STEPS_FOR_CLEAN_OUT = 40_000;
/** Steps of one search for joints at openings: it only orders layouts of one cost, and is given up before it takes long. */
const STEPS_FOR_JOINTS = 12_000;

export interface ZonesBelow {
  readonly solutions: readonly ZoneSolution[];
  readonly complete: boolean;
  readonly steps: number;
}

const solutionOf = (
  level: ZoneSolution['level'],
  { start, startEnd, ends, zoneEnds }: Candidate,
  answer: ZoneAnswer,
  steps: number,
): ZoneSolution => ({
  level,
  cost: answer.cost,
  start,
  startEnd,
  end: ends[zoneEnds.indexOf(answer.end)]!,
  answer,
  fromGu: startEnd.jointGu,
  toGu: answer.end.jointGu,
  cutShort: false,
  steps,
  bound: answer.cost,
});

export class Zone {
  readonly #ctx: RunContext;
  readonly #levels: Levels;
  readonly #low: Feature;
  readonly #high: Feature;
  readonly #stepLimit: number;
  readonly #labour: Labour;
  readonly #freeEdges: readonly { readonly at: number; readonly d: 1 | -1 }[];
  /** Salient edges at jogs: no tie stands close to one. */
  readonly #jogEdges: readonly number[];
  /** Whether every station of the zone is like every other. */
  readonly #isAlike: boolean;
  readonly #opened: Opened | null;
  readonly #guides: Guides;
  readonly #moreAt: ZoneProblem['moreAt'];

  constructor(
    ctx: RunContext,
    levels: Levels,
    low: Feature,
    high: Feature,
    freeEnds: readonly Feature[],
    stepLimit: number,
  ) {
    this.#ctx = ctx;
    this.#levels = levels;
    this.#low = low;
    this.#high = high;
    this.#stepLimit = stepLimit;
    const { panels, onSide, courses } = ctx.gear;
    const alone = courses === 1 && ctx.onSide ? onSide : [];
    const widest = Math.max(1, ...[...panels, ...alone].map((p) => p.widthGu));
    this.#labour = {
      index: ctx.cost({ tiesAndUnits: 1 }).indexOf(1),
      perTieColumn: Math.min(ctx.leastRows, ...(alone.length > 0 && ctx.onSide ? [ctx.onSide.rows] : [])),
      perUnit: 2 * ctx.gear.courses,
      unitsPerGu: 1 / widest,
    };
    this.#jogEdges = freeEnds.flatMap((f) => (f.kind === 'end' || f.kind === 'jog' ? (jogEdge(ctx, f.end) ?? []) : []));
    this.#freeEdges = freeEnds.flatMap((f) => {
      const at = freeEdge(ctx, f);
      return at === null || f.kind !== 'end' ? [] : [{ at, d: f.direction }];
    });
    this.#opened = ctx.opened && new Opened(ctx.opened);
    this.#moreAt = rowsMore(ctx);
    this.#guides = this.#guidesFor(this.#moreAt);
    const isPlain = ctx.allClear && ctx.opened === null;
    this.#isAlike = isPlain && this.#jogEdges.length === 0 && this.#freeEdges.length === 0;
  }

  #bounds(feature: Feature, legOf: LegOf, pick: number, joints: readonly number[]): readonly (Bound | StemBound)[] {
    if (feature.kind === 'end') return endBounds(this.#ctx, feature.end, feature.direction, legOf, joints);
    if (feature.kind === 'step') return [stepBound(this.#ctx, feature, pick)];
    if (feature.kind === 'jog') return feature.options[pick]!.bounds[feature.direction === 1 ? 1 : 0];
    const bound = stemBound(this.#ctx, feature, legOf, pick);
    return bound ? [bound] : [];
  }

  /** Pairs of sides; at free ends the joints that steel alone can reach from the other side. */
  #candidates(legOf: LegOf, lowPick: number, highPick: number): Candidate[] {
    const ctx = this.#ctx;
    const { stepGu } = this.#levels.strict.rules;
    const lowEdge = freeEdge(ctx, this.#low);
    const highEdge = freeEdge(ctx, this.#high);
    const clear = clearRunPast(ctx);
    const lattice = (origin: number, from: number, to: number) => {
      const list: number[] = [];
      for (let j = origin + Math.ceil((from - origin) / stepGu) * stepGu; j <= to; j += stepGu) list.push(j);
      return list;
    };
    const near = (joints: readonly number[]) => [...new Set(joints)].sort((a, b) => b - a);
    let lowJoints: readonly number[] = [];
    if (lowEdge !== null && highEdge === null) {
      const ends = this.#bounds(this.#high, legOf, highPick, []);
      const from = lowEdge - ctx.runPastMostGu;
      lowJoints = near(ends.flatMap((b) => lattice(asEnd(b).jointGu, from, lowEdge - clear)));
    } else if (lowEdge !== null && highEdge !== null) {
      const plain = lowEdge - clear;
      const stride = Math.max(1, Math.round(5 / ctx.gear.gridMm));
      const few = Array.from({ length: FREE_STARTS }, (_, i) => plain - i * stride);
      lowJoints = near([...few, ...lattice(highEdge + clear, lowEdge - ctx.runPastMostGu, plain)]);
    }
    const starts = this.#bounds(this.#low, legOf, lowPick, lowJoints);
    return starts
      .map((start) => {
        const startEnd = asStart(start);
        const joints =
          highEdge === null ? [] : lattice(startEnd.jointGu, highEdge + clear, highEdge + ctx.runPastMostGu);
        const ends = this.#bounds(this.#high, legOf, highPick, joints);
        return { start, startEnd, ends, zoneEnds: ends.map(asEnd) };
      })
      .filter((c) => c.ends.length > 0);
  }

  /** Whether places that ties must miss, or openings, tell more of a zone's cost than the bound without heed of them does. */
  get isHeeding(): boolean {
    return this.#guides.isHeeding;
  }

  /** Lower bound of the zone's cost with these legs and picks; `heeds`: with what ties must miss, closer and slower. */
  bound(legOf: LegOf, lowPick: number, highPick: number, heeds: boolean): Cost {
    let best: Cost | null = null;
    const candidates = this.#candidates(legOf, lowPick, highPick);
    const guide = this.#guides.guide(this.#levels.strict, heeds);
    for (const c of candidates) {
      const rest = guide(c.zoneEnds)(c.startEnd.jointGu, 0, true);
      if (!rest || !this.#reachesConcrete(c.startEnd.jointGu, c.zoneEnds)) continue;
      const sum = addCost(c.startEnd.cost, rest);
      if (best === null || compareCost(sum, best) < 0) best = sum;
    }
    if (best) return best;
    // Where both sides cross nothing at all stands between them.
    const isCrossed = candidates.every((c) => c.zoneEnds.every((e) => e.jointGu < c.startEnd.jointGu));
    return this.#ctx.cost({ failures: isCrossed ? 2 : 1 });
  }

  solve(legOf: LegOf, lowPick: number, highPick: number): ZoneSolution | null {
    const candidates = this.#candidates(legOf, lowPick, highPick);
    if (candidates.length === 0) return null;
    const proven = this.#search(candidates, this.#levels.strict, 'proven');
    const exact = proven.solution;
    if (exact && !exact.cutShort) return this.#sound(candidates, exact);
    if (proven.cutShort) {
      // The search ran out: a layout that holds is wanted first, its distance from the least is told by the bound.
      let best: ZoneSolution | null = exact;
      for (const level of this.#levels.narrower()) {
        const found = this.#search(candidates, level, 'proven').solution;
        if (found && (best === null || compareCost(found.cost, best.cost) < 0)) best = found;
        if (found) break;
      }
      if (best) return { ...best, cutShort: true, bound: proven.bound ?? best.cost, steps: proven.steps + best.steps };
    }
    const opened = this.#opened ? this.#search(candidates, this.#levels.strict, 'not-at-openings') : null;
    if (opened?.solution) {
      const cost = addCost(opened.solution.cost, this.#ctx.cost({ failures: 1 }));
      const steps = proven.steps + opened.steps;
      const lower = proven.bound ?? this.#ctx.cost({ failures: 1 });
      return { ...opened.solution, cost, cutShort: proven.cutShort || opened.cutShort, steps, bound: lower };
    }
    const heedless = this.#ctx.allClear ? null : this.#search(candidates, this.#levels.strict, 'not-clear');
    if (heedless?.solution) {
      const cost = addCost(heedless.solution.cost, this.#ctx.cost({ failures: 1 }));
      const cutShort = proven.cutShort || heedless.cutShort;
      const steps = proven.steps + heedless.steps;
      return { ...heedless.solution, cost, cutShort, steps, bound: proven.bound ?? this.#ctx.cost({ failures: 1 }) };
    }
    const loose = this.#search(candidates, this.#levels.loose, 'no-loads');
    const cutShort = proven.cutShort || loose.cutShort || heedless?.cutShort === true;
    const steps = proven.steps + loose.steps + (heedless?.steps ?? 0);
    if (loose.solution) {
      const cost = addCost(loose.solution.cost, this.#ctx.cost({ failures: 1 }));
      return { ...loose.solution, cost, cutShort, steps, bound: proven.bound ?? this.#ctx.cost({ failures: 1 }) };
    }
    // Nothing found is only a proof that nothing stands where no search was cut short.
    const lower = proven.cutShort ? proven.bound : cutShort ? this.#ctx.cost({ failures: 1 }) : null;
    return this.#unsolved(candidates[0]!, cutShort, steps, lower);
  }

  /**
   * The least layout in which one group comes out alone and none leans on both neighbours; null where there is none that costs less than `ceiling`, or the
   * search ran out.
   */
  solveOpen(
    legOf: LegOf,
    lowPick: number,
    highPick: number,
    comesOut: (tied: TiedGroup) => boolean,
    ceiling: Cost | null,
  ): ZoneSolution | null {
    const level = this.#levels.unleaning();
    const wanted = { comesOut, stepLimit: STEPS_FOR_CLEAN_OUT, ...(ceiling ? { ceiling } : {}) };
    const { solution } = this.#search(this.#candidates(legOf, lowPick, highPick), level, 'proven', wanted);
    if (!solution?.answer) return null;
    return this.#holds(solution.startEnd, solution.answer, level) ? solution : null;
  }

  /** The layout of the same cost, of units like those in `like`, with the most joints at openings (jambs.ts); `before` where none has more. */
  withJoints(legOf: LegOf, lowPick: number, highPick: number, before: ZoneSolution, like: Like): ZoneSolution {
    const { openings, reach } = this.#ctx;
    const { answer } = before;
    if (!answer || before.level !== 'proven' || openings.length === 0) return before;
    const rules = jambRules(openings, reach, this.#moreAt);
    const held = rules.of(answer.placed);
    if (compareCost(held, ZERO_COST) === 0) return before;
    const ceiling = addCost(before.cost, held);
    const guides = this.#guidesFor(rules.moreAt);
    const candidates = this.#candidates(legOf, lowPick, highPick);
    const strict = like.level(this.#levels.strict);
    const holds = (start: ZoneEnd, found: ZoneAnswer) => this.#holds(start, found, strict);
    const found = (level: Level, more: Partial<ZoneProblem>): ZoneSolution | null => {
      const wanted = { ...rules, comesOut: like.comesOut, ceiling, stepLimit: STEPS_FOR_JOINTS, ...more };
      const { solution } = this.#search(candidates, level, 'proven', wanted, guides);
      return solution?.answer && holds(solution.startEnd, solution.answer) ? solution : null;
    };
    // Where the least stands by a lucky split of forces alone, the next that equal ties hold, in each way of looking.
    const few = this.#levels.determinate().map(like.level);
    const best =
      found(strict, {}) ??
      [
        found(strict, { accepts: holds }),
        found(strict, { accepts: holds, followsTips: true }),
        ...few.map((level) => found(level, { accepts: holds })),
      ].reduce((a, x) => (a === null || (x !== null && compareCost(x.cost, a.cost) < 0) ? x : a), null);
    if (!best?.answer || compareCost(best.cost, ceiling) >= 0) return before;
    // What joints at jambs weigh is no cost of the layout.
    const cost = lessCost(best.cost, rules.of(best.answer.placed));
    return { ...best, cost, bound: before.bound, cutShort: before.cutShort };
  }

  /**
   * Every layout under all rules that costs less than `limit`; of those that take the same of the limited items the least alone. Complete: these are all,
   * and none of them stands by a lucky split of forces alone.
   */
  below(
    legOf: LegOf,
    lowPick: number,
    highPick: number,
    limit: Cost,
    limited: ReadonlyMap<string, number>,
    stepsMost: number,
  ): ZonesBelow {
    const level = this.#levels.strict;
    const guide = this.#guides.guide(level, true);
    const solutions: ZoneSolution[] = [];
    let complete = true;
    let steps = 0;
    for (const c of this.#candidates(legOf, lowPick, highPick)) {
      if (!this.#reachesConcrete(c.startEnd.jointGu, c.zoneEnds)) continue;
      const problem = { ...this.#problemFrom(c.startEnd, c.zoneEnds, level), stepLimit: stepsMost - steps };
      const found = solveOpenedBelow(problem, guide, limit, limited, this.#opened);
      steps += found.steps;
      complete &&= found.complete;
      for (const answer of found.answers) {
        if (this.#holds(c.startEnd, answer, level)) solutions.push(solutionOf('proven', c, answer, found.steps));
        else complete = false;
      }
    }
    return { solutions, complete, steps };
  }

  /** The layout itself where equal ties hold it too, or one that they do (sound.ts). */
  #sound(candidates: readonly Candidate[], exact: ZoneSolution): ZoneSolution {
    return soundOf(exact, {
      levels: this.#levels,
      stepLimit: this.#stepLimit,
      isOpened: this.#opened !== null,
      failed: this.#ctx.cost({ failures: 1 }),
      holds: (start, answer) => this.#holds(start, answer, this.#levels.strict),
      search: (level, more, from) => {
        const some = from ? candidates.filter((c) => c.startEnd === from) : candidates;
        return this.#search(some, level, 'proven', more);
      },
    });
  }

  /** A leg longer than the return it stands on leaves no concrete to form: nothing of the yard fits there (rule T21). */
  #reachesConcrete(startGu: number, ends: readonly ZoneEnd[]): boolean {
    const last = Math.max(...ends.map((e) => e.jointGu));
    return this.#freeEdges.every((e) => (e.d === 1 ? last > e.at : startGu < e.at));
  }

  #search(
    candidates: readonly Candidate[],
    level: Level,
    name: ZoneSolution['level'],
    more: Partial<ZoneProblem> = {},
    guides = this.#guides,
  ) {
    const keepsClear = name === 'proven' || name === 'not-at-openings';
    const guide = guides.guide(level, keepsClear);
    const keepsRows = name === 'proven' || name === 'not-clear';
    const ranked = candidates
      .filter((c) => this.#reachesConcrete(c.startEnd.jointGu, c.zoneEnds))
      .map((c) => ({ c, rest: guide(c.zoneEnds)(c.startEnd.jointGu, 0, true) }))
      .filter((x): x is { c: Candidate; rest: Cost } => x.rest !== null)
      .map(({ c, rest }) => ({ c, bound: addCost(c.startEnd.cost, rest) }))
      .sort((a, b) => compareCost(a.bound, b.bound));
    let solution: ZoneSolution | null = null;
    let cutShort = false;
    let steps = 0;
    let lower: Cost | null = null;
    for (const { c, bound } of ranked) {
      if (solution && compareCost(bound, solution.cost) >= 0) break;
      const whole = { ...this.#problemFrom(c.startEnd, c.zoneEnds, level, name), ...more };
      // A limit of its own is one for all candidates together.
      const problem = more.stepLimit ? { ...whole, stepLimit: Math.max(0, more.stepLimit - steps) } : whole;
      const result =
        this.#isAlike && Object.keys(more).length === 0
          ? solveRepeated(problem, guide, level)
          : solveOpened(problem, guide, keepsRows ? this.#opened : null);
      steps += result.kind === 'found' ? result.answer.steps : result.steps;
      if (result.kind === 'none') {
        cutShort ||= result.cutShort;
        if (result.bound && (lower === null || compareCost(result.bound, lower) < 0)) lower = result.bound;
        continue;
      }
      const { answer } = result;
      if (solution && compareCost(answer.cost, solution.cost) >= 0) continue;
      solution = solutionOf(name, c, answer, steps);
    }
    if (solution && (lower === null || compareCost(solution.cost, lower) < 0)) lower = solution.cost;
    // A search that was cut short only matters if it might still have beaten what was found.
    const open = cutShort && (solution === null || (lower !== null && compareCost(lower, solution.cost) < 0));
    return { solution: solution ? { ...solution, cutShort: open, steps } : null, cutShort: open, steps, bound: lower };
  }

  /** Where the concrete loads the forms, and where a tie may stand. */
  #places(keepsClear: boolean) {
    const edges = this.#freeEdges;
    const ctx = this.#ctx;
    const low = edges.find((e) => e.d === 1)?.at ?? Number.NEGATIVE_INFINITY;
    const high = edges.find((e) => e.d === -1)?.at ?? Number.POSITIVE_INFINITY;
    const clear = ctx.bulkheadGu + ctx.tieRadiusGu;
    return {
      loadFrom: low,
      loadTo: high,
      tieAt: (s: number) =>
        (!keepsClear || ctx.isClear(s)) &&
        this.#jogEdges.every((edge) => Math.abs(s - edge) >= ctx.edgeClearGu) &&
        (s <= low - clear || s >= low + ctx.edgeClearGu) &&
        (s >= high + clear || s <= high - ctx.edgeClearGu),
    };
  }

  #guidesFor(moreAt: ZoneProblem['moreAt']): Guides {
    return new Guides({
      ctx: this.#ctx,
      high: this.#high,
      opened: this.#opened,
      places: (keepsClear) => this.#places(keepsClear),
      moreAt,
    });
  }

  /** Does a layout hold under the split of forces that equal ties make, at openings too? */
  #holds(start: ZoneEnd, answer: ZoneAnswer, level: Level): boolean {
    const problem = this.#problemFrom(start, [], level);
    return holdsElastically(problem, answer) && this.#opened?.holds(problem, answer) !== false;
  }

  /** What a solution of this zone that begins so was found under. */
  readonly problemOf = (start: ZoneEnd) => this.#problemFrom(start, [], this.#levels.strict);

  #problemFrom(
    start: ZoneEnd,
    ends: readonly ZoneEnd[],
    level: Level,
    name: ZoneSolution['level'] = 'proven',
  ): ZoneProblem {
    const opened = name === 'no-loads' ? null : this.#opened;
    // Where there are openings the row chains say what ties may take.
    const most = (limits: ChainLimits) => (opened ? { ...limits, mostGu: Number.POSITIVE_INFINITY } : limits);
    const byPanel = new Map(this.#ctx.gear.panels.map((p) => [p, most(level.limitsOf(p))]));
    return {
      start,
      ends,
      ...this.#places(name === 'proven' || name === 'not-at-openings'),
      rules: level.rules,
      limits: most(level.limits),
      mostGu: level.widest.mostGu,
      limitsAt: (_, { group: { panel } }) => byPanel.get(panel) ?? level.limitsOf(panel),
      rowChains: opened ? (name === 'not-at-openings' ? opened.solid : opened.chains) : [],
      moreAt: this.#moreAt,
      timberMoreAt: null,
      labour: this.#labour,
      followsTips: false,
      comesOut: null,
      stepLimit: this.#stepLimit,
    };
  }

  #unsolved(c: Candidate, cutShort: boolean, steps: number, lower: Cost | null): ZoneSolution {
    const end = c.ends[0]!;
    const fromGu = c.startEnd.jointGu;
    // Legs back to back are a special form whatever stands between; those that leave what cannot be closed are worse.
    const betweenGu = asEnd(end).jointGu - fromGu;
    const isClosed = isNiche(this.#ctx.gear, betweenGu) && nicheFill(this.#ctx.gear, betweenGu) !== null;
    const failed = this.#ctx.cost({ failures: isClosed ? 1 : 2 });
    const cost = addCost(addCost(c.startEnd.cost, asEnd(end).cost), failed);
    return {
      level: 'none',
      cost,
      start: c.start,
      startEnd: c.startEnd,
      end,
      answer: null,
      fromGu,
      toGu: asEnd(end).jointGu,
      cutShort,
      bound: lower ?? cost,
      steps,
    };
  }
}
