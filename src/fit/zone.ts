/**
 * One common zone: the stretch between two end zones in which both faces carry the same groups and share every tie.
 *
 * A shortest path over stations, run as a best-first search (Hart, Nilsson, Raphael 1968: A*) over
 * (station, chain state of each face with its exact shears, timber used), guided by the bound of togo.ts. The first complete path that
 * is popped is the least; among equals it is the one whose groups are widest first from the start.
 *
 * Where it differs from a plain A*: the shears are coarsened outwards to a grain, so that few states stand for many histories and every cost
 * is a lower bound; the path found is then set again exactly. If it holds, it is the least; if not, the search is run with a finer grain.
 * At the finest grain (1/64 of a grid unit, less than 0.001 kN) states that agree count as one.
 * Invariants: integers in grid units but for shears; every path covers the zone exactly. Complexity: bounded by `stepLimit` labels.
 * Degenerate: a zone of length 0 has no group, and is only an answer where no tie is needed, which is nowhere: it is refused.
 */

import type { ChainLimits } from './chain.js';
import { addCost, type Cost, compareCost } from './cost.js';
import type { EndPair } from './endPair.js';
import { begun, closesAll, coarsened, coversAll, type Faces, type RowChain, setFaces } from './faces.js';
import type { TiedGroup } from './groups.js';
import { Heap } from './heap.js';
import { withLoads } from './loadBound.js';
import type { Arc, ChainBit, Togo, TogoRules } from './togo.js';

export interface ZoneEnd {
  readonly jointGu: number;
  /** Shear that what stands beyond hands on, as a strip: [left face, right face]. */
  readonly v: readonly [number, number];
  readonly cost: Cost;
  /** Groups of the end that are tied beside its joint; `v` is then what lies beyond them. */
  readonly pair?: EndPair;
}

/** Least cost to an end, loads left out. */
export type TogoTo = (end: ZoneEnd) => Togo;

/** Least cost from a station to the nearest end, so to speak; null where there is no way. */
export type ToEnds = (at: number, bit: ChainBit, timberLeft: boolean) => Cost | null;

/** The bound for a set of ends. */
export type Guide = (ends: readonly ZoneEnd[]) => ToEnds;

export interface ZoneProblem {
  readonly start: ZoneEnd;
  /** One end joint at a corner or tee, several at a free end. */
  readonly ends: readonly ZoneEnd[];
  /** Concrete from here to there; beyond it the forms carry no load. */
  readonly loadFrom: number;
  readonly loadTo: number;
  /** May a tie stand at this station? */
  readonly tieAt: (stationGu: number) => boolean;
  readonly rules: TogoRules;
  readonly limits: ChainLimits;
  /** No tie of the stretch takes more. */
  readonly mostGu: number;
  /** The limits of a tied group that begins here: its panel's own. */
  readonly limitsAt: (fromGu: number, tied: TiedGroup) => ChainLimits;
  /** Chains beside that of all concrete, where a run has openings: ties are then limited in these alone, in the first of them all. */
  readonly rowChains: readonly RowChain[];
  /** What a group costs more than its arc where its ties have more rows than the least; null: nowhere. */
  readonly moreAt: ((fromGu: number, tied: TiedGroup, d?: 1 | -1) => Cost) | null;
  /** The same for timber; null: nowhere. */
  readonly timberMoreAt: ((fromGu: number, toGu: number) => Cost) | null;
  readonly labour: Labour;
  /** Where more ties stand than statics needs, equal ties share out the forces; else any split counts, which makes every cost a lower bound. */
  readonly followsTips: boolean;
  /** One group that comes out alone must stand in the zone (rule T16): which are such; null where none has to. */
  readonly comesOut: ((tied: TiedGroup) => boolean) | null;
  readonly stepLimit: number;
  /** Dearer layouts are not looked for; without it: all. */
  readonly ceiling?: Cost;
  /** Of labels at one place none is dropped for another: what `accepts` asks may hold for one alone. Exact, and long. */
  readonly keepsEvery?: boolean;
  /** Layouts that do not hold so are passed over; without it: none. */
  readonly accepts?: (start: ZoneEnd, answer: ZoneAnswer) => boolean;
}

/** What ties and units cost at least, for the bound that the load gives. */
export interface Labour {
  /** Place of the tier 'ties and units' in a cost vector. */
  readonly index: number;
  readonly perTieColumn: number;
  /** Least cost of units per grid unit of length. */
  readonly unitsPerGu: number;
  readonly perUnit: number;
}

export interface PlacedGroup {
  readonly fromGu: number;
  /** null: timber of this width. */
  readonly tied: TiedGroup | null;
  /** As of its arc. */
  readonly leans: boolean;
  readonly lengthGu: number;
}

export interface ZoneAnswer {
  readonly cost: Cost;
  readonly placed: readonly PlacedGroup[];
  readonly end: ZoneEnd;
  readonly steps: number;
}

export type ZoneResult =
  | { readonly kind: 'found'; readonly answer: ZoneAnswer }
  /** No path keeps all rules: proven when not cut short. */
  | {
      readonly kind: 'none';
      readonly cutShort: boolean;
      readonly steps: number;
      /** What any layout of the zone costs at least, where the search was cut short; null where none stands. */
      readonly bound: Cost | null;
    };

interface Label {
  readonly at: number;
  readonly bit: ChainBit;
  readonly faces: Faces;
  readonly timberLeft: boolean;
  readonly spent: Cost;
  readonly bound: Cost;
  readonly parent: Label | null;
  readonly placed: PlacedGroup | null;
  /** Set on a label that is complete: `bound` is then its whole cost. */
  readonly end: ZoneEnd | null;
  /** Ranks of the groups so far: the order of preference among paths of equal cost. */
  readonly trail: readonly number[];
  /** Whether a group that comes out alone stands in it. */
  readonly hasOpen: boolean;
  /** Counts of the limited items taken so far, by number; only where more than one layout is looked for. */
  readonly taken: readonly number[];
  dropped: boolean;
  /** Whether some of what may follow was set; which comes next of it (`Onward`), and what any layout costs at least that goes on with that or one behind it. */
  isOut: boolean;
  next: number;
  key: Cost;
}

/** A group, or a strip of timber, that may follow at a place, with the least that it leads to. */
interface Onward {
  readonly arc: Arc | null;
  readonly timber: TogoRules['timber'][number] | null;
  readonly least: Cost;
}

const TIMBER_RANK = 1_000_000;

/** Labels that a search for the least alone may make for each step of its limit: it makes none that it does not need, and each takes longer than one of a list. */
const LABELS_PER_STEP = 0.4;

/** Lower cost first, then the path that is widest first, then of two that agree one that was set out from before, then the longer. */
const compareLabels = (a: Label, b: Label): number =>
  compareCost(a.key, b.key) || compareTrails(a, b, Number(a.isOut) - Number(b.isOut));
const compareSpent = (a: Label, b: Label): number => compareCost(a.spent, b.spent) || compareTrails(a, b);

const compareTrails = (a: Label, b: Label, setOut = 0): number => {
  const n = Math.min(a.trail.length, b.trail.length);
  for (let i = 0; i < n; i++) {
    const d = a.trail[i]! - b.trail[i]!;
    if (d !== 0) return d;
  }
  return -setOut || b.trail.length - a.trail.length;
};

/** Least cost from a station to any end, by the bound of each; `only`: with timber on the way. */
export const leastToEnds = (
  togoTo: TogoTo,
  ends: readonly ZoneEnd[],
  at: number,
  bit: ChainBit,
  timber: boolean | 'only',
): Cost | null => {
  let best: Cost | null = null;
  for (const end of ends) {
    if (end.jointGu < at) continue;
    const togo = togoTo(end);
    const distance = end.jointGu - at;
    const rest = timber === 'only' ? togo.withTimber(distance, bit) : togo.least(distance, bit, timber);
    if (!rest) continue;
    const sum = addCost(rest, end.cost);
    if (best === null || compareCost(sum, best) < 0) best = sum;
  }
  return best;
};

/** Grains of the shears, coarse to fine, in grid units. */
const GRAINS = [32, 8, 2, 1 / 64];
/** Those at which a joint moves nearly as it does without coarsening. */
const FINE_GRAINS = [4, 1 / 64];
const FINEST = [1 / 64];

/** The least layout of a zone; see the head of this file. */
export const solveZone = (problem: ZoneProblem, guide: Guide): ZoneResult => {
  let steps = 0;
  let bound: Cost | null = null;
  for (const grain of problem.keepsEvery ? FINEST : problem.followsTips ? FINE_GRAINS : GRAINS) {
    const result = search(problem, guide, grain);
    if (result.kind === 'none') return { ...result, steps: steps + result.steps };
    steps += result.answer.steps;
    bound = result.answer.cost;
    if (holdsExactly(problem, result.answer)) return { kind: 'found', answer: { ...result.answer, steps } };
  }
  return { kind: 'none', cutShort: true, steps, bound };
};

/** All layouts of a zone below a cost. */
export interface ZoneAnswers {
  readonly answers: readonly ZoneAnswer[];
  /** Whether these are all of them, but for such as take the same of the limited items as one of them and cost no less. */
  readonly complete: boolean;
  readonly steps: number;
}

/** Every layout that costs less than `limit`, least first; of those that take the same of the items in `limited` the least alone. */
export const solveZoneBelow = (
  problem: ZoneProblem,
  guide: Guide,
  limit: Cost,
  limited: ReadonlyMap<string, number>,
): ZoneAnswers => {
  const takes = takesOf(problem.rules, limited);
  const settled = new Map<string, ZoneAnswer>();
  let steps = 0;
  for (const grain of GRAINS) {
    const all: Collecting = { limit, takes, settled, open: new Set() };
    const result = search({ ...problem, stepLimit: problem.stepLimit - steps }, guide, grain, all);
    steps += result.kind === 'none' ? result.steps : result.answer.steps;
    const cutShort = result.kind === 'none' && result.cutShort;
    if (cutShort || all.open.size === 0)
      return { answers: [...settled.values()], complete: !cutShort && all.open.size === 0, steps };
  }
  return { answers: [...settled.values()], complete: false, steps };
};

/** For a search that goes on after the first layout: how far, where they are put, and what a group takes of the limited items. */
interface Collecting {
  readonly limit: Cost;
  readonly takes: ReadonlyMap<TiedGroup, readonly number[]>;
  /** By what they take: the least that hold exactly. */
  readonly settled: Map<string, ZoneAnswer>;
  /** What is taken by a least that does not: a finer grain has to look again. */
  readonly open: Set<string>;
}

/** The first layout that takes this is the least that may; it counts if it holds exactly. */
const settle = (problem: ZoneProblem, answer: ZoneAnswer, taken: readonly number[], all: Collecting): void => {
  const key = taken.join(',');
  if (all.settled.has(key) || all.open.has(key)) return;
  if (holdsExactly(problem, answer)) all.settled.set(key, answer);
  else all.open.add(key);
};

/** By group, the numbers of the limited items that it takes, one entry a piece. */
const takesOf = (
  { arcs }: TogoRules,
  limited: ReadonlyMap<string, number>,
): ReadonlyMap<TiedGroup, readonly number[]> =>
  new Map(
    arcs.map(({ tied, uses }) => [
      tied,
      uses.flatMap(([item, count]) => {
        const slot = limited.get(item);
        return slot === undefined ? [] : Array<number>(count).fill(slot);
      }),
    ]),
  );

/** Sets the path again with exact shears. */
const holdsExactly = (problem: ZoneProblem, answer: ZoneAnswer): boolean => {
  let faces = begun(problem);
  for (const { fromGu, lengthGu, tied, leans } of answer.placed)
    faces = faces && setFaces(problem, faces, fromGu, lengthGu, tied, leans);
  return faces !== null && closesAll(problem, faces, answer.end);
};

const search = (problem: ZoneProblem, guide: Guide, grain: number, all: Collecting | null = null): ZoneResult => {
  const { start, ends, rules } = problem;
  const ahead = guide(ends);
  const heap = new Heap<Label>(compareLabels);
  const labelsMost = all ? problem.stepLimit : problem.stepLimit * LABELS_PER_STEP;
  /** The labels that still count, by place; dropped ones that are in the heap are passed over. */
  const best = new Map<number | string, readonly Label[]>();
  const boundCache = new Map<number, Cost | null>();
  let steps = 0;

  const toEnds = (at: number, bit: ChainBit, timberLeft: boolean): Cost | null => {
    const key = (at * 2 + bit) * 2 + (timberLeft ? 1 : 0);
    let held = boundCache.get(key);
    if (held === undefined) {
      held = ahead(at, bit, timberLeft);
      boundCache.set(key, held);
    }
    return held;
  };

  /** By place: what may follow, with the least that each leads to, least first. */
  const onward = new Map<number, readonly Onward[]>();
  const onwardFrom = ({ at, bit, timberLeft }: Label): readonly Onward[] => {
    const key = (at * 2 + bit) * 2 + (timberLeft ? 1 : 0);
    const held = onward.get(key);
    if (held) return held;
    const list: Onward[] = [];
    for (const arc of rules.arcs) {
      const { tied } = arc;
      if (arc.from !== bit || tied.tiesGu.some((h) => !problem.tieAt(at + h))) continue;
      const rest = toEnds(at + tied.group.lengthGu, arc.to, timberLeft);
      if (rest) list.push({ arc, timber: null, least: addCost(arcCost(problem, at, arc), rest) });
    }
    for (const timber of timberLeft && bit === 1 ? rules.timber : []) {
      const rest = toEnds(at + timber.widthGu, 0, false);
      if (rest) list.push({ arc: null, timber, least: addCost(timberCost(problem, at, timber), rest) });
    }
    list.sort((a, b) => compareCost(a.least, b.least));
    onward.set(key, list);
    return list;
  };

  const offer = (
    parent: Label | null,
    at: number,
    exact: Faces,
    timberLeft: boolean,
    spent: Cost,
    placed: PlacedGroup | null,
    rank: number,
  ) => {
    const faces = coarsened(exact, grain);
    const bit: ChainBit = faces[0]!.kind === 'F' ? 1 : 0;
    const rest = toEnds(at, bit, timberLeft);
    if (!rest) return;
    const trail = parent ? [...parent.trail, rank] : [];
    const bound = addCost(spent, withLoads(problem, rest, at, faces, timberLeft));
    if (all && compareCost(bound, all.limit) >= 0) return;
    if (problem.ceiling && compareCost(bound, problem.ceiling) >= 0) return;
    const taken = all ? takenWith(parent?.taken ?? [], all.takes.get(placed?.tied as TiedGroup) ?? []) : NONE_TAKEN;
    const label: Label = {
      at,
      bit,
      faces,
      timberLeft,
      spent,
      bound,
      parent,
      placed,
      end: null,
      trail,
      hasOpen: parent?.hasOpen === true || (placed?.tied != null && problem.comesOut?.(placed.tied) === true),
      taken,
      dropped: false,
      isOut: false,
      next: 0,
      key: bound,
    };
    // A label is dropped when another one at this place is no worse and takes every shear that it takes, on both faces.
    const place = ((at * 2 + bit) * 2 + (timberLeft ? 1 : 0)) * 2 + (label.hasOpen ? 1 : 0);
    const key = all ? `${place} ${taken.join(',')}` : place;
    const held = problem.keepsEvery ? [] : (best.get(key) ?? []);
    const beats = (a: Label, b: Label) => coversAll(a.faces, b.faces) && compareSpent(a, b) <= 0;
    if (held.some((other) => beats(other, label))) return;
    steps++;
    for (const other of held) if (beats(label, other)) other.dropped = true;
    if (!problem.keepsEvery) best.set(key, [...held.filter((other) => !other.dropped), label]);
    heap.push(label);
  };

  /** A fixed label on an end joint is complete if each face takes what stands beyond. */
  const close = (label: Label) => {
    if (label.bit === 0 || (problem.comesOut && !label.hasOpen)) return;
    for (const end of ends) {
      if (end.jointGu !== label.at || !closesAll(problem, label.faces, end)) continue;
      const whole = addCost(label.spent, end.cost);
      heap.push({ ...label, bound: whole, key: whole, end, isOut: false });
    }
  };

  const first = begun(problem);
  if (first) offer(null, start.jointGu, first, true, start.cost, null, 0);
  for (let label = heap.pop(); label; label = heap.pop()) {
    if (label.end) {
      const answer = answerOf(label, label.end, steps);
      if (!all) {
        if (problem.accepts?.(start, answer) === false) continue;
        return { kind: 'found', answer };
      }
      if (compareCost(answer.cost, all.limit) < 0) settle(problem, answer, label.taken, all);
      continue;
    }
    if (label.dropped) continue;
    if (steps > labelsMost) return { kind: 'none', cutShort: true, steps, bound: label.key };
    if (!label.isOut) close(label);
    label.isOut = true;
    // Only what leads to no more than the least so far is set; the label waits with the rest. Where all below a limit are looked for, all that leads there is.
    for (const list = onwardFrom(label); ; label.next++) {
      const one = list[label.next];
      if (!one) break;
      const least = addCost(label.spent, one.least);
      const limit = all?.limit ?? problem.ceiling;
      if (limit && compareCost(least, limit) >= 0) break;
      if (!all && compareCost(least, label.key) > 0) {
        label.key = least;
        heap.push(label);
        break;
      }
      if (one.arc) expand(problem, label, one.arc, offer);
      else expandTimber(problem, label, one.timber!, offer);
    }
  }
  return { kind: 'none', cutShort: false, steps, bound: null };
};

const NONE_TAKEN: readonly number[] = [];

const takenWith = (before: readonly number[], more: readonly number[]): readonly number[] => {
  const counts = [...before];
  for (const slot of more) {
    while (counts.length <= slot) counts.push(0);
    counts[slot] = counts[slot]! + 1;
  }
  return counts;
};

type Offer = (
  parent: Label,
  at: number,
  faces: Faces,
  timberLeft: boolean,
  spent: Cost,
  placed: PlacedGroup,
  rank: number,
) => void;

const arcCost = ({ moreAt }: ZoneProblem, at: number, { cost, tied }: Arc): Cost =>
  moreAt ? addCost(cost, moreAt(at, tied)) : cost;

const timberCost = ({ timberMoreAt }: ZoneProblem, at: number, t: TogoRules['timber'][number]): Cost =>
  timberMoreAt ? addCost(t.cost, timberMoreAt(at, at + t.widthGu)) : t.cost;

/** Sets one tied group after a label. */
const expand = (problem: ZoneProblem, label: Label, arc: Arc, offer: Offer): void => {
  const { tied, leans } = arc;
  const { lengthGu } = tied.group;
  const faces = setFaces(problem, label.faces, label.at, lengthGu, tied, leans);
  if (!faces) return;
  const placed = { fromGu: label.at, tied, leans, lengthGu };
  const spent = addCost(label.spent, arcCost(problem, label.at, arc));
  offer(label, label.at + lengthGu, faces, label.timberLeft, spent, placed, tied.rank);
};

/** Sets a strip of timber on both faces after a fixed group: a group without a tie. */
const expandTimber = (problem: ZoneProblem, label: Label, t: TogoRules['timber'][number], offer: Offer): void => {
  const faces = setFaces(problem, label.faces, label.at, t.widthGu, null, false);
  if (!faces) return;
  const placed = { fromGu: label.at, tied: null, leans: false, lengthGu: t.widthGu };
  const spent = addCost(label.spent, timberCost(problem, label.at, t));
  offer(label, label.at + t.widthGu, faces, false, spent, placed, TIMBER_RANK + t.widthGu);
};

const answerOf = (label: Label, end: ZoneEnd, steps: number): ZoneAnswer => {
  const placed: PlacedGroup[] = [];
  for (let at: Label | null = label; at; at = at.parent) if (at.placed) placed.unshift(at.placed);
  return { cost: label.bound, placed, end, steps };
};
