/**
 * What a zone's last stretch costs at least, loads and blocked holes included: a search backwards from the end joint over a short length.
 *
 * The chain of groups is the same seen from either end, so the labels of a search from the end are the ways to close it. Whatever stands before, a
 * whole layout that has a joint there contains one of them: the least of those that fit the state on the other side is a true bound. It sees what the
 * bound without loads does not: that the hole beside the end is blocked and the next one carries too much. Shears are coarsened outwards, as in the search.
 * Timber is left out: its many widths would make many labels.
 */

import { type ChainLimits, type ChainState, coarsen, covers, setGroup, stripLoad } from './chain.js';
import { addCost, type Cost, compareCost, ZERO_COST } from './cost.js';
import { statesAt } from './endPair.js';
import { Heap } from './heap.js';
import type { ChainBit, TogoRules } from './togo.js';
import type { ZoneEnd } from './zone.js';

export interface TailProblem {
  readonly end: ZoneEnd;
  readonly loadFrom: number;
  readonly loadTo: number;
  readonly tieAt: (stationGu: number) => boolean;
  readonly rules: TogoRules;
  readonly limits: ChainLimits;
}

/** The least cost of the last `distance` without timber; null: it cannot be closed so; undefined: not looked at that far. */
export type Tail = (distance: number, chain: ChainBit) => Cost | null | undefined;

interface Label {
  readonly at: number;
  readonly bit: ChainBit;
  readonly faces: readonly [ChainState, ChainState];
  readonly spent: Cost;
}

/** Labels that one end may have: enough for a few groups. */
const LABELS_MOST = 3000;
const GRAIN = 32;

const keyOf = (at: number, bit: ChainBit): number => at * 2 + bit;

/** Everything by which the last `reachGu` before an end can be closed. */
export const tailOf = (problem: TailProblem, reachGu: number): Tail => {
  const { end, rules, limits } = problem;
  const heap = new Heap<Label>((a, b) => a.at - b.at || compareCost(a.spent, b.spent));
  const held = new Map<number, Label[]>();
  let count = 0;
  const offer = (at: number, exact: readonly [ChainState, ChainState], spent: Cost): void => {
    const faces = [coarsen(exact[0], GRAIN), coarsen(exact[1], GRAIN)] as const;
    const label: Label = { at, bit: faces[0].kind === 'F' ? 1 : 0, faces, spent };
    const key = keyOf(at, label.bit);
    const list = held.get(key) ?? [];
    const beats = (a: Label, b: Label): boolean =>
      covers(a.faces[0], b.faces[0]) && covers(a.faces[1], b.faces[1]) && compareCost(a.spent, b.spent) <= 0;
    if (list.some((other) => beats(other, label))) return;
    held.set(key, [...list.filter((other) => !beats(label, other)), label]);
    heap.push(label);
    count++;
  };
  /** Sets a group of this length and these ties, both from the end's side, after a label. */
  const set = (label: Label, lengthGu: number, ties: readonly number[], cost: Cost): void => {
    const load = stripLoad(label.at - end.jointGu, lengthGu, -problem.loadTo, -problem.loadFrom);
    const left = setGroup(label.faces[0], lengthGu, load, ties, limits);
    const right = left && setGroup(label.faces[1], lengthGu, load, ties, limits);
    if (left && right && right.kind === left.kind)
      offer(label.at + lengthGu, [left, right], addCost(label.spent, cost));
  };
  const begun = statesAt(end, limits, true);
  if (begun) offer(0, begun, ZERO_COST);
  let done = 0;
  for (let label = heap.pop(); label; label = heap.pop()) {
    done = label.at;
    if (label.at > reachGu || count > LABELS_MOST) break;
    if (!(held.get(keyOf(label.at, label.bit)) ?? []).includes(label)) continue;
    for (const { from, tied, cost } of rules.arcs) {
      if (from !== label.bit) continue;
      if (tied.tiesGu.every((t) => problem.tieAt(end.jointGu - label.at - t)))
        set(label, tied.group.lengthGu, tied.tiesGu, cost);
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
