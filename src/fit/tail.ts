/**
 * What a zone's last stretch costs at least, loads and blocked holes included: a search backwards from the ends over a short length.
 *
 * The chain of groups is the same seen from either end, so the labels of a search from the end are the ways to close it. Whatever stands before, a
 * whole layout that has a joint there contains one of them: the least of those that fit the state on the other side is a true bound. It sees what the
 * bound without loads does not: that the hole beside the end is blocked and the next one carries too much. Shears are coarsened outwards, as in the search.
 * Timber is left out: its many widths would make many labels.
 */

import {
  type ChainLimits,
  type ChainState,
  coarsen,
  covers,
  type StripLoad,
  setGroup,
  setLeaning,
  stripLoad,
} from './chain.js';
import { addCost, type Cost, compareCost } from './cost.js';
import { statesAt } from './endPair.js';
import { type Faces, type RowChain, scaled } from './faces.js';
import { Heap } from './heap.js';
import type { ChainBit, TogoRules } from './togo.js';
import type { ZoneEnd, ZoneProblem } from './zone.js';

export interface TailProblem {
  /** From where distances are counted: the last end. */
  readonly lastGu: number;
  readonly loadFrom: number;
  readonly loadTo: number;
  readonly tieAt: (stationGu: number) => boolean;
  readonly rules: TogoRules;
  readonly limits: ChainLimits;
  readonly rowChains: readonly RowChain[];
  readonly moreAt: ZoneProblem['moreAt'];
}

/** The least cost of the last `distance` without timber; null: it cannot be closed so; undefined: not looked at that far. */
export type Tail = (distance: number, chain: ChainBit) => Cost | null | undefined;

interface Label {
  readonly at: number;
  readonly bit: ChainBit;
  readonly faces: Faces;
  readonly spent: Cost;
  /** Another label at its place is no worse in anything: it is not gone on from. */
  beaten: boolean;
}

/** One group of an arc set at one place, with what it meets there, both from the end's side. */
interface Way {
  readonly lengthGu: number;
  readonly tiesGu: readonly number[];
  readonly put: typeof setGroup;
  /** Of the chain of all concrete, then of each row's. */
  readonly loads: readonly StripLoad[];
  readonly limits: readonly ChainLimits[];
  readonly cost: Cost;
}

/** Whether the first is no worse in anything. Asked for every pair of labels at a place, hence without closures. */
const beats = (a: Label, b: Label): boolean => {
  if (compareCost(a.spent, b.spent) > 0) return false;
  for (let i = 0; i < a.faces.length; i++) if (!covers(a.faces[i]!, b.faces[i]!)) return false;
  return true;
};

/** Labels that one search may have: enough for a few groups. */
const LABELS_MOST = 3000;
const GRAIN = 32;

const keyOf = (at: number, bit: ChainBit): number => at * 2 + bit;

/** Everything by which the last `reachGu` before the ends can be closed. */
export const tailOf = (problem: TailProblem, ends: readonly ZoneEnd[], reachGu: number): Tail => {
  const { lastGu, rules, rowChains, loadFrom, loadTo, moreAt } = problem;
  const heap = new Heap<Label>((a, b) => a.at - b.at || a.bit - b.bit || compareCost(a.spent, b.spent));
  const held = new Map<number, Label[]>();
  let count = 0;
  const offer = (at: number, exact: Faces, spent: Cost): void => {
    const faces: ChainState[] = [];
    for (let i = 0; i < exact.length; i++)
      faces.push(i % 2 === 1 && exact[i] === exact[i - 1] ? faces[i - 1]! : coarsen(exact[i]!, GRAIN));
    const label: Label = { at, bit: faces[0]!.kind === 'F' ? 1 : 0, faces, spent, beaten: false };
    const key = keyOf(at, label.bit);
    const list = held.get(key);
    if (list === undefined) held.set(key, [label]);
    else {
      for (let i = 0; i < list.length; i++) {
        if (!beats(list[i]!, label)) continue;
        // What beats one beats many: it is asked first from now on.
        [list[0], list[i]] = [list[i]!, list[0]!];
        return;
      }
      let kept = 0;
      for (const other of list) {
        other.beaten = beats(label, other);
        if (!other.beaten) list[kept++] = other;
      }
      list.length = kept;
      list.push(label);
    }
    heap.push(label);
    count++;
  };
  /** By what a label at this place may be gone on from: the same for all labels there. */
  const waysAt = (at: number, bit: ChainBit): Way[] => {
    const highGu = lastGu - at;
    const ways: Way[] = [];
    for (const { from, tied, leans, cost } of rules.arcs) {
      if (from !== bit || !tied.tiesGu.every((t) => problem.tieAt(highGu - t))) continue;
      const { lengthGu } = tied.group;
      const lowGu = highGu - lengthGu;
      const seenFromEnd = ({ size, moment }: StripLoad): StripLoad => ({ size, moment: size * lengthGu - moment });
      const more = moreAt?.(highGu, tied, -1);
      ways.push({
        lengthGu,
        tiesGu: tied.tiesGu,
        put: leans ? setLeaning : setGroup,
        loads: [
          seenFromEnd(stripLoad(lowGu, lengthGu, loadFrom, loadTo)),
          ...rowChains.map((row) => seenFromEnd(row.load(lowGu, lengthGu, loadFrom, loadTo))),
        ],
        limits: [problem.limits, ...rowChains.map((row) => row.limitsAt(highGu, tied.tiesGu, -1))],
        cost: more ? addCost(cost, more) : cost,
      });
    }
    return ways;
  };
  /** A label gone on from by a way; null where that does not stand. */
  const set = (label: Label, { lengthGu, tiesGu, put, loads, limits }: Way): Faces | null => {
    const faces: ChainState[] = [];
    for (let i = 0; i < label.faces.length; i += 2) {
      const [load, limit] = [loads[i / 2]!, limits[i / 2]!];
      const [left, right] = [label.faces[i]!, label.faces[i + 1]!];
      const a = put(left, lengthGu, load, tiesGu, limit);
      const b = a && (right === left ? a : put(right, lengthGu, load, tiesGu, limit));
      if (!a || !b || a.kind !== b.kind) return null;
      faces.push(a, b);
    }
    return faces;
  };
  for (const end of ends) {
    const states = [
      statesAt(end, problem.limits, true),
      ...rowChains.map((c) => statesAt(scaled(end, c), c.limits, true, c.perGu)),
    ];
    const faces = states.flatMap((x) => x ?? []);
    if (faces.length === 2 * states.length) offer(lastGu - end.jointGu, faces, end.cost);
  }
  let done = 0;
  let ways: readonly Way[] = [];
  let waysOf = -1;
  for (let label = heap.pop(); label; label = heap.pop()) {
    done = label.at;
    if (label.at > reachGu || count > LABELS_MOST) break;
    if (label.beaten) continue;
    const key = keyOf(label.at, label.bit);
    if (waysOf !== key) ways = waysAt(label.at, label.bit);
    waysOf = key;
    for (const way of ways) {
      const faces = set(label, way);
      if (faces) offer(label.at + way.lengthGu, faces, addCost(label.spent, way.cost));
    }
  }
  /** Labels nearer to the end than this are all there. */
  const known = done;
  return (distance, chain) => {
    if (distance >= known) return undefined;
    // What is carried needs a fixed other side; what is fixed takes either.
    const bits: readonly ChainBit[] = chain === 0 ? [1] : [0, 1];
    let best: Cost | null = null;
    for (const bit of bits)
      for (const { spent } of held.get(keyOf(distance, bit)) ?? [])
        if (best === null || compareCost(spent, best) < 0) best = spent;
    return best;
  };
};
