/**
 * What a zone's last stretch costs at least, loads and blocked holes included: a search backwards from the ends over a short length.
 *
 * The chain of groups is the same seen from either end, so the labels of a search from the end are the ways to close it. Whatever stands before, a
 * whole layout that has a joint there contains one of them: the least of those that fit the state on the other side is a true bound. It sees what the
 * bound without loads does not: that the hole beside the end is blocked and the next one carries too much. Shears are coarsened outwards, as in the search.
 * Timber is left out: its many widths would make many labels.
 */

import { type ChainLimits, type ChainState, coarsen, covers, setGroup, setLeaning, stripLoad } from './chain.js';
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
}

/** Labels that one search may have: enough for a few groups. */
const LABELS_MOST = 3000;
const GRAIN = 32;

const keyOf = (at: number, bit: ChainBit): number => at * 2 + bit;

/** Everything by which the last `reachGu` before the ends can be closed. */
export const tailOf = (problem: TailProblem, ends: readonly ZoneEnd[], reachGu: number): Tail => {
  const { lastGu, rules, rowChains, loadFrom, loadTo, moreAt } = problem;
  const heap = new Heap<Label>((a, b) => a.at - b.at || compareCost(a.spent, b.spent));
  const held = new Map<number, Label[]>();
  let count = 0;
  const offer = (at: number, exact: Faces, spent: Cost): void => {
    const faces: ChainState[] = [];
    exact.forEach((f, i) => {
      faces.push(i % 2 === 1 && f === exact[i - 1] ? faces[i - 1]! : coarsen(f, GRAIN));
    });
    const label: Label = { at, bit: faces[0]!.kind === 'F' ? 1 : 0, faces, spent };
    const key = keyOf(at, label.bit);
    const list = held.get(key) ?? [];
    const beats = (a: Label, b: Label): boolean =>
      a.faces.every((f, i) => covers(f, b.faces[i]!)) && compareCost(a.spent, b.spent) <= 0;
    if (list.some((other) => beats(other, label))) return;
    held.set(key, [...list.filter((other) => !beats(label, other)), label]);
    heap.push(label);
    count++;
  };
  /** Sets a group of this length and these ties, both from the end's side, after a label; null where it does not stand. */
  const set = (label: Label, lengthGu: number, ties: readonly number[], leans: boolean): Faces | null => {
    const put = leans ? setLeaning : setGroup;
    const highGu = lastGu - label.at;
    const faces: ChainState[] = [];
    for (let i = 0; i < label.faces.length; i += 2) {
      const row = i === 0 ? null : rowChains[i / 2 - 1]!;
      const { size, moment } = row
        ? row.load(highGu - lengthGu, lengthGu, loadFrom, loadTo)
        : stripLoad(highGu - lengthGu, lengthGu, loadFrom, loadTo);
      const load = { size, moment: size * lengthGu - moment };
      const limits = row ? row.limitsAt(highGu, ties, -1) : problem.limits;
      const [left, right] = [label.faces[i]!, label.faces[i + 1]!];
      const a = put(left, lengthGu, load, ties, limits);
      const b = a && (right === left ? a : put(right, lengthGu, load, ties, limits));
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
  for (let label = heap.pop(); label; label = heap.pop()) {
    done = label.at;
    if (label.at > reachGu || count > LABELS_MOST) break;
    if (!(held.get(keyOf(label.at, label.bit)) ?? []).includes(label)) continue;
    const highGu = lastGu - label.at;
    for (const { from, tied, leans, cost } of rules.arcs) {
      if (from !== label.bit || !tied.tiesGu.every((t) => problem.tieAt(highGu - t))) continue;
      const { lengthGu } = tied.group;
      const faces = set(label, lengthGu, tied.tiesGu, leans);
      if (!faces) continue;
      const more = moreAt?.(highGu, tied, -1);
      const spent = addCost(label.spent, cost);
      offer(label.at + lengthGu, faces, more ? addCost(spent, more) : spent);
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
