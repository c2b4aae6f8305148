/**
 * Least cost to the end of a stretch, with loads left out: the lower bound that guides the exact search.
 *
 * Backward shortest path over (distance to the end, chain state, timber used or not). It keeps the whole rule of the hinged chain (rule T10)
 * and the cover of the stretch, and leaves out shears, blocked holes and the clipping of loads: all of these only take choices away, so
 * the value is a true bound. Complexity: distance / step x tied groups. Exact integers.
 */

import { addCost, type Cost, compareCost } from './cost.js';
import type { TiedGroup } from './groups.js';

/** 0: carried, 1: fixed. */
export type ChainBit = 0 | 1;

export interface Arc {
  readonly tied: TiedGroup;
  readonly from: ChainBit;
  readonly to: ChainBit;
  readonly cost: Cost;
}

export interface TogoRules {
  readonly arcs: readonly Arc[];
  /** Widths of timber that may be tried, and what each costs. */
  readonly timber: readonly { readonly widthGu: number; readonly cost: Cost }[];
  /** Greatest common divisor of all group lengths. */
  readonly stepGu: number;
}

/** The least cost to an end joint at this station. */
export type TogoTo = (jointGu: number) => Togo;

/** Which chain states a tied group joins; overhang limits by the catalogue only. */
export const arcsOf = (
  tied: readonly TiedGroup[],
  overhangGu: number,
  costOf: (t: TiedGroup) => Cost,
  allowed: (t: TiedGroup, from: ChainBit) => boolean,
): Arc[] => {
  const arcs: Arc[] = [];
  for (const t of tied) {
    const [h1, h2] = t.tiesGu;
    const tail = t.group.lengthGu - (h2 ?? h1 ?? 0);
    const add = (from: ChainBit, to: ChainBit) => {
      if (allowed(t, from)) arcs.push({ tied: t, from, to, cost: costOf(t) });
    };
    if (h1 === undefined) {
      add(1, 0);
    } else if (h2 === undefined) {
      if (h1 <= overhangGu) add(0, 0);
      if (tail <= overhangGu) add(1, 1);
    } else if (tail <= overhangGu) {
      if (h1 <= overhangGu) add(0, 1);
      add(1, 1);
    }
  }
  return arcs;
};

/** Least cost from `distance` before the end, in `chain`, with timber still allowed or not; null when there is no way. */
export class Togo {
  readonly #rules: TogoRules;
  readonly #best = new Map<number, Cost | null>();
  readonly #end: Cost;
  readonly #allows: (tied: TiedGroup, distance: number) => boolean;
  /** Next distance to fill, by residue and whether timber is left. */
  readonly #filled = new Map<number, number>();

  /** `allows`: whether a group may start at a distance before the end; given for a stretch with places that ties must miss. */
  constructor(rules: TogoRules, endCost: Cost, allows: (tied: TiedGroup, distance: number) => boolean = () => true) {
    this.#rules = rules;
    this.#end = endCost;
    this.#allows = allows;
  }

  least(distance: number, chain: ChainBit, timberLeft: boolean): Cost | null {
    const key = (distance * 2 + chain) * 2 + (timberLeft ? 1 : 0);
    const held = this.#best.get(key);
    if (held !== undefined) return held;
    this.#fill(distance, timberLeft);
    return this.#best.get(key) ?? null;
  }

  /** Fills from the end upwards, so that a long stretch does not need a deep stack. */
  #fill(distance: number, timberLeft: boolean): void {
    const { stepGu, timber } = this.#rules;
    if (timberLeft) {
      for (const t of timber) {
        const rest = distance - t.widthGu;
        if (rest >= 0 && rest % stepGu === 0) this.#fillLattice(rest, false);
      }
    }
    this.#fillLattice(distance, timberLeft);
  }

  #fillLattice(distance: number, timberLeft: boolean): void {
    const { stepGu } = this.#rules;
    const lattice = (distance % stepGu) * 2 + (timberLeft ? 1 : 0);
    const from = this.#filled.get(lattice) ?? distance % stepGu;
    if (distance >= from) this.#filled.set(lattice, distance + stepGu);
    for (let d = from; d <= distance; d += stepGu) {
      for (const chain of [0, 1] as const) {
        const key = (d * 2 + chain) * 2 + (timberLeft ? 1 : 0);
        if (!this.#best.has(key)) this.#best.set(key, this.#one(d, chain, timberLeft));
      }
    }
  }

  #one(d: number, chain: ChainBit, timberLeft: boolean): Cost | null {
    const { arcs, timber, stepGu } = this.#rules;
    let best: Cost | null = d === 0 && chain === 1 ? this.#end : null;
    const offer = (arcCost: Cost, rest: number, to: ChainBit, left: boolean) => {
      const after = this.#best.get((rest * 2 + to) * 2 + (left ? 1 : 0));
      if (!after) return;
      const sum = addCost(arcCost, after);
      if (best === null || compareCost(sum, best) < 0) best = sum;
    };
    for (const arc of arcs) {
      if (arc.from === chain && arc.tied.group.lengthGu <= d && this.#allows(arc.tied, d)) {
        offer(arc.cost, d - arc.tied.group.lengthGu, arc.to, timberLeft);
      }
    }
    if (timberLeft && chain === 1) {
      for (const t of timber) {
        const rest = d - t.widthGu;
        if (rest >= 0 && rest % stepGu === 0) offer(t.cost, rest, 0, false);
      }
    }
    return best;
  }
}
