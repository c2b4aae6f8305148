/**
 * What is left of a zone costs at least: the bounds that guide its search. They are told of the places that ties must miss where there are any, of what
 * the last group has to take at the end, and of the rows that columns have at openings, so that a search for what cannot be is short.
 */

import type { RunContext } from './bound.js';
import { addCost, type Cost, ZERO_COST } from './cost.js';
import type { Feature } from './features.js';
import { freeEdge } from './freeEnds.js';
import { jogEdge } from './jogEnds.js';
import type { Level } from './levels.js';
import type { Opened } from './opened.js';
import { type TailProblem, tailOf } from './tail.js';
import { atEnd, lesser, Togo } from './togo.js';
import { type Guide, leastToEnds, type ToEnds, type TogoTo, type ZoneEnd, type ZoneProblem } from './zone.js';

/** How far from its end a zone with blocked places is looked at backwards first: about four wide panels. */
const TAIL_MM = 2400;

/** What the bounds of one zone need of it. */
export interface Guided {
  readonly ctx: RunContext;
  /** The side at which its ends lie. */
  readonly high: Feature;
  readonly opened: Opened | null;
  readonly places: (keepsClear: boolean) => Pick<ZoneProblem, 'loadFrom' | 'loadTo' | 'tieAt'>;
  readonly moreAt: ZoneProblem['moreAt'];
}

export class Guides {
  readonly #of: Guided;
  readonly #togos = new Map<Level, Map<string, Togo>>();
  readonly #through = new Map<Level, Map<string, ToEnds>>();

  constructor(of: Guided) {
    this.#of = of;
  }

  guide(level: Level, keepsClear: boolean): Guide {
    if (this.#of.opened && keepsClear && (this.#isBlocked || this.#of.moreAt))
      return (ends) => this.#throughOpenings(level, ends);
    const togoTo = this.#togoTo(level, keepsClear);
    return (ends) => (at, bit, timberLeft) => leastToEnds(togoTo, ends, at, bit, timberLeft);
  }

  /** Whether the guide that heeds what ties must miss may tell more than the plain one. */
  get isHeeding(): boolean {
    return this.#isBlocked || (this.#of.opened !== null && this.#of.moreAt !== null);
  }

  #tailProblem(level: Level, lastGu: number): TailProblem {
    const { opened, places, moreAt } = this.#of;
    const rowChains = opened?.chains ?? [];
    const limits = opened ? { ...level.widest, mostGu: Number.POSITIVE_INFINITY } : level.widest;
    return { lastGu, ...places(true), rules: level.rules, limits, rowChains, moreAt };
  }

  /** An edge at the other end is met at once, and needs a better bound than one that does not know of it. */
  get #isBlocked(): boolean {
    const { ctx, high } = this.#of;
    return !ctx.allClear || ((high.kind === 'end' || high.kind === 'jog') && jogEdge(ctx, high.end) !== null);
  }

  #togoTo(level: Level, keepsClear: boolean): TogoTo {
    const { ctx, high } = this.#of;
    // A free end has many joints to close at, and one of them nearly always clears: there the plain bound does.
    if (!keepsClear || !this.#isBlocked || freeEdge(ctx, high) !== null) return () => level.togo;
    const held = heldFor(this.#togos, level);
    return (end) => {
      const { jointGu, v, pair } = end;
      // A pair keeps the zone's own ties away from the edge.
      if (pair && ctx.allClear) return level.togo;
      const key = `${jointGu} ${v.join(' ')} ${pairKey(end)}`;
      const known = held.get(key);
      if (known) return known;
      const problem = this.#tailProblem(level, jointGu);
      const tail = tailOf(problem, [{ ...end, cost: ZERO_COST }], ctx.toGu(TAIL_MM));
      const togo = new Togo(level.rules, atEnd(ctx.cost({})), allowsIn(problem), tail);
      held.set(key, togo);
      return togo;
    };
  }

  /** All ends together, with the rows that columns have at openings. */
  #throughOpenings(level: Level, ends: readonly ZoneEnd[]): ToEnds {
    const [only] = ends;
    // The strips beside a leg cost what they cost: many ends differ by nothing else.
    if (only && ends.length === 1 && only.cost !== ZERO_COST) {
      const toEnd = this.#throughOpenings(level, [{ ...only, cost: ZERO_COST }]);
      return (at, bit, timberLeft) => {
        const rest = toEnd(at, bit, timberLeft);
        return rest && addCost(rest, only.cost);
      };
    }
    const { ctx, opened } = this.#of;
    const isBlocked = this.#isBlocked;
    const held = heldFor(this.#through, level);
    const shears = (e: ZoneEnd) => (isBlocked ? `${opened!.chains.length} ${e.v.join(' ')} ${pairKey(e)}` : '');
    const key = ends.map((e) => `${e.jointGu} ${e.cost.join(' ')} ${shears(e)}`).join('|');
    const known = held.get(key);
    if (known) return known;
    const lastGu = Math.max(...ends.map((e) => e.jointGu));
    const problem = this.#tailProblem(level, lastGu);
    const { moreAt } = problem;
    const togo = new Togo(
      level.rules,
      (distance) =>
        ends.reduce<Cost | null>((least, e) => (lastGu - e.jointGu === distance ? lesser(least, e.cost) : least), null),
      isBlocked ? allowsIn(problem) : undefined,
      isBlocked ? tailOf(problem, ends, ctx.toGu(TAIL_MM)) : undefined,
      moreAt ? (tied, distance) => moreAt(lastGu - distance, tied) : undefined,
    );
    // Every width of timber leads to joints of its own: looked at with all that is in the wall they take longer than they spare, unless timber is
    // the only way.
    const toEnds: ToEnds = (at, bit, timberLeft) => {
      if (at > lastGu) return null;
      const without = togo.least(lastGu - at, bit, false);
      if (!timberLeft) return without;
      if (without === null && isBlocked) return togo.withTimber(lastGu - at, bit);
      return lesser(
        without,
        leastToEnds(() => level.togo, ends, at, bit, 'only'),
      );
    };
    held.set(key, toEnds);
    return toEnds;
  }
}

const heldFor = <T>(all: Map<Level, Map<string, T>>, level: Level): Map<string, T> => {
  const held = all.get(level) ?? new Map<string, T>();
  all.set(level, held);
  return held;
};

const pairKey = ({ pair }: ZoneEnd): string => pair?.map((f) => `${f.lengthGu} ${f.tieGu}`).join(' ') ?? '';

const allowsIn =
  ({ lastGu, tieAt }: TailProblem) =>
  ({ tiesGu }: { readonly tiesGu: readonly number[] }, distance: number): boolean =>
    tiesGu.every((t) => tieAt(lastGu - distance + t));
