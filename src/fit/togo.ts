/**
 * Least cost to the end of a stretch, with loads left out: the lower bound that guides the exact search.
 *
 * Backward shortest path over (distance to the end, chain state, timber used or not). It keeps the whole rule of the hinged chain (rule T10)
 * and the cover of the stretch, and leaves out shears, blocked holes and the clipping of loads: all of these only take choices away, so
 * the value is a true bound. Complexity: distance / step x tied groups. Exact integers.
 */

import { addCost, type Cost, compareCost, sumIsLess, type Uses } from './cost.js';
import type { TiedGroup } from './groups.js';

/** 0: carried, 1: fixed. */
export type ChainBit = 0 | 1;

export interface Arc {
  readonly tied: TiedGroup;
  readonly from: ChainBit;
  readonly to: ChainBit;
  /** It has ties and needs its right neighbour all the same: its last tie stands too far from its right joint to hold that alone. */
  readonly leans: boolean;
  readonly cost: Cost;
  readonly uses: Uses;
}

export interface TogoRules {
  readonly arcs: readonly Arc[];
  /** Widths of timber that may be tried, and what each costs. */
  readonly timber: readonly { readonly widthGu: number; readonly cost: Cost }[];
  /** Greatest common divisor of all group lengths. */
  readonly stepGu: number;
}

/**
 * Which chain states a tied group joins. A group that may hang out beyond its last tie stands by itself; one whose tie is farther from its right joint
 * than it may hang out, or than what hangs there lets it (`tipHolds`), needs its right neighbour too.
 */
export const arcsOf = (
  tied: readonly TiedGroup[],
  costOf: (t: TiedGroup) => { readonly cost: Cost; readonly uses: Uses },
  allowed: (t: TiedGroup, from: ChainBit, leans: boolean) => boolean,
  tipHolds: (t: TiedGroup, tailGu: number) => boolean,
): Arc[] => {
  const arcs: Arc[] = [];
  for (const t of tied) {
    const [h1, h2] = t.tiesGu;
    const { overhangGu } = t.group.panel;
    const tail = t.group.lengthGu - (t.tiesGu[t.tiesGu.length - 1] ?? 0);
    const add = (from: ChainBit, to: ChainBit, leans = false) => {
      if (allowed(t, from, leans)) arcs.push({ tied: t, from, to, leans, ...costOf(t) });
    };
    if (h1 === undefined) {
      add(1, 0);
      continue;
    }
    const standsFrom = (from: ChainBit) => from === 1 || h1 <= overhangGu;
    const needsRight = tail > overhangGu || !tipHolds(t, tail);
    for (const from of [0, 1] as const) {
      if (!standsFrom(from)) continue;
      // Carried, with one tie, it needs its right neighbour in any case.
      if (from === 0 && h2 === undefined) add(0, 0);
      else {
        if (tail <= overhangGu) add(from, 1);
        if (needsRight) add(from, 0, true);
      }
    }
  }
  return arcs;
};

/** Least cost from `distance` before the end (the last of several), in `chain`, with timber still allowed or not; null when there is no way. Timber stands at one place at most. */
export class Togo {
  readonly #rules: TogoRules;
  /** By the state that they begin in: those of one length that lead on alike, the least first. */
  readonly #arcs: readonly [readonly (readonly Arc[])[], readonly (readonly Arc[])[]];
  readonly #best = new Map<number, Cost | null>();
  readonly #endAt: (distance: number) => Cost | null;
  readonly #allows: ((tied: TiedGroup, distance: number) => boolean) | undefined;
  readonly #more: ((tied: TiedGroup, distance: number) => Cost | null) | undefined;
  readonly #floor: (distance: number, chain: ChainBit) => Cost | null | undefined;
  /** Next distance to fill, by residue and whether timber is left. */
  readonly #filled = new Map<number, number>();

  /**
   * For a stretch with places that ties must miss: `allows` says whether a group may start at a distance before the end, `floor` what the last
   * part without timber costs (undefined: not known), `more` what a group costs there beside its arc. `endAt`: what an end costs that lies at a distance
   * before the last.
   */
  constructor(
    rules: TogoRules,
    endAt: (distance: number) => Cost | null,
    allows?: (tied: TiedGroup, distance: number) => boolean,
    floor: (distance: number, chain: ChainBit) => Cost | null | undefined = () => undefined,
    more?: (tied: TiedGroup, distance: number) => Cost | null,
  ) {
    this.#rules = rules;
    this.#arcs = [alike(rules.arcs.filter((a) => a.from === 0)), alike(rules.arcs.filter((a) => a.from === 1))];
    this.#endAt = endAt;
    this.#allows = allows;
    this.#floor = floor;
    this.#more = more;
  }

  least(distance: number, chain: ChainBit, timberLeft: boolean): Cost | null {
    const without = this.#value(distance, chain, false);
    return timberLeft ? lesser(without, this.withTimber(distance, chain)) : without;
  }

  /** The same with a strip of timber somewhere on the way. */
  withTimber(distance: number, chain: ChainBit): Cost | null {
    return this.#value(distance, chain, true);
  }

  /** `timber`: one strip of timber still comes; else none does. */
  #value(distance: number, chain: ChainBit, timber: boolean): Cost | null {
    const key = keyOf(distance, chain, timber);
    const held = this.#best.get(key);
    if (held !== undefined) return held;
    this.#fill(distance, timber);
    return this.#best.get(key) ?? null;
  }

  /** Fills from the end upwards, so that a long stretch does not need a deep stack. */
  #fill(distance: number, timber: boolean): void {
    const { stepGu } = this.#rules;
    if (timber) {
      for (const t of this.#rules.timber) {
        const rest = distance - t.widthGu;
        if (rest >= 0 && rest % stepGu === 0) this.#fillLattice(rest, false);
      }
    }
    this.#fillLattice(distance, timber);
  }

  #fillLattice(distance: number, timber: boolean): void {
    const { stepGu } = this.#rules;
    const lattice = (distance % stepGu) * 2 + (timber ? 1 : 0);
    const from = this.#filled.get(lattice) ?? distance % stepGu;
    if (distance >= from) this.#filled.set(lattice, distance + stepGu);
    for (let d = from; d <= distance; d += stepGu) {
      for (const chain of [0, 1] as const) {
        const key = keyOf(d, chain, timber);
        if (!this.#best.has(key)) this.#best.set(key, this.#one(d, chain, timber));
      }
    }
  }

  #one(d: number, chain: ChainBit, timber: boolean): Cost | null {
    const { stepGu } = this.#rules;
    const known = timber ? undefined : this.#floor(d, chain);
    if (known !== undefined) return known;
    let best: Cost | null = chain === 1 && !timber ? this.#endAt(d) : null;
    const offer = (arcCost: Cost, rest: number, to: ChainBit, left: boolean) => {
      const after = this.#best.get(keyOf(rest, to, left));
      if (!after) return;
      if (best === null || sumIsLess(arcCost, after, best)) best = addCost(arcCost, after);
    };
    for (const list of this.#arcs[chain]) {
      const { lengthGu } = list[0]!.tied.group;
      if (lengthGu > d) continue;
      for (const arc of list) {
        if (this.#allows?.(arc.tied, d) === false) continue;
        const more = this.#more?.(arc.tied, d);
        offer(more ? addCost(arc.cost, more) : arc.cost, d - lengthGu, arc.to, timber);
        // Where places cost nothing of their own none behind it costs less.
        if (!this.#more) break;
      }
    }
    if (timber && chain === 1) {
      for (const t of this.#rules.timber) {
        const rest = d - t.widthGu;
        if (rest >= 0 && rest % stepGu === 0) offer(t.cost, rest, 0, false);
      }
    }
    return best;
  }
}

/** Lists of those of one length that lead to one state, each with the least first. */
const alike = (arcs: readonly Arc[]): readonly (readonly Arc[])[] => {
  const lists = new Map<string, Arc[]>();
  for (const arc of arcs) {
    const key = `${arc.to} ${arc.tied.group.lengthGu}`;
    const list = lists.get(key) ?? [];
    lists.set(key, list);
    list.push(arc);
  }
  return [...lists.values()].map((list) => list.sort((a, b) => compareCost(a.cost, b.cost)));
};

/** The lesser of two costs; null: none. */
export const lesser = (a: Cost | null, b: Cost | null): Cost | null =>
  a === null || b === null ? (a ?? b) : compareCost(a, b) <= 0 ? a : b;

/** One end alone. */
export const atEnd =
  (cost: Cost) =>
  (distance: number): Cost | null =>
    distance === 0 ? cost : null;

const keyOf = (distance: number, chain: ChainBit, timber: boolean): number =>
  (distance * 2 + chain) * 2 + (timber ? 1 : 0);
