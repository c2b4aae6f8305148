/**
 * Runs with openings. What a form hands on differs from level to level there, and a column of ties shares out what it takes from each band of levels
 * (between sills and heads) to the rows that it has. All of that is linear: a row's load is the reaction of a chain of the same forms under the
 * concrete of each band, weighed by what the row takes of that band. So each such row makes one chain of its own (`RowChain`), exact in the state of the
 * search as the plain chain is, and its ties are limited in it; away from openings all these chains are alike.
 *
 * How rows share out loads comes with the demand, worked out by others. The search begins with the row of each kind of column that is likely to govern;
 * where a layout breaks another row's limit that row's chain is added and the search run again: fewer chains are fewer rules, so that what is found
 * is least among all layouts once it keeps every row's.
 */

import type { BandShares, RunDemand } from '../ground/vocabulary.js';
import { bandsOf, type Void } from '../ground/voids.js';
import type { RunContext } from './bound.js';
import { type ChainLimits, type StripLoad, stripLoad } from './chain.js';
import { chainReactions } from './elastic.js';
import type { RowChain } from './faces.js';
import type { ZoneAnswer, ZoneProblem } from './zone.js';

interface Stretch {
  readonly fromGu: number;
  readonly toGu: number;
}

/** A run with openings as the search sees it; lengths in grid units. */
export interface OpenedRun {
  /** By band from below: where it has no concrete. */
  readonly voids: readonly (readonly Stretch[])[];
  /** Kinds of columns; the first has all rows. By row and way of counting: by band, kN on a tie for each grid unit of strip. */
  readonly kinds: readonly BandShares[];
  /** Columns of other kinds than the first. */
  readonly columns: readonly (Stretch & { readonly kind: number })[];
  readonly workingKn: number;
}

export const openedRun = (
  { run, toGu }: Pick<RunContext, 'run' | 'toGu'>,
  { shares, voidColumns = [] }: RunDemand,
  voids: readonly Void[],
  workingKn: number,
  gridMm: number,
): OpenedRun | null => {
  if (!shares || voids.length === 0) return null;
  const kinds: BandShares[] = [];
  const kindOf = (given: BandShares): number => {
    const same = kinds.findIndex((k) => JSON.stringify(k) === JSON.stringify(given));
    return same >= 0 ? same : kinds.push(given) - 1;
  };
  kindOf(shares);
  const columns = voidColumns.map((c) => ({
    fromGu: c.fromMm / gridMm,
    toGu: c.toMm / gridMm,
    kind: kindOf(c.shares),
  }));
  const perGu = gridMm / 1000;
  return {
    voids: bandsOf(run, voids).map((b) => apart(b.voids.map((v) => ({ fromGu: toGu(v.fromMm), toGu: toGu(v.toMm) })))),
    kinds: kinds.map((k) => k.map((row) => row.map((x) => x * perGu))),
    columns,
    workingKn,
  };
};

/** Stretches in order, overlapping ones as one. */
const apart = (stretches: readonly Stretch[]): Stretch[] => {
  const found: Stretch[] = [];
  for (const s of [...stretches].sort((a, b) => a.fromGu - b.fromGu)) {
    const before = found[found.length - 1];
    if (before && s.fromGu <= before.toGu)
      found[found.length - 1] = { fromGu: before.fromGu, toGu: Math.max(before.toGu, s.toGu) };
    else found.push(s);
  }
  return found;
};

/** One row of one kind of column, in one way of counting. */
interface RowOf {
  readonly kind: number;
  readonly row: number;
}

const NO_LIMITS: ChainLimits = {
  mostGu: Number.POSITIVE_INFINITY,
  leastGu: Number.NEGATIVE_INFINITY,
  tipGu: () => Number.POSITIVE_INFINITY,
};

const sum = (xs: readonly number[]): number => xs.reduce((a, b) => a + b, 0);

/** Beyond this share of the working load a row is overloaded. */
const SLACK = 1e-7;

export class Opened {
  readonly #run: OpenedRun;
  /** Rows whose chains the search carries, that of the heaviest row of full columns first. */
  readonly #rows: RowOf[] = [];
  readonly #chains = new Map<RowOf, RowChain>();

  constructor(run: OpenedRun) {
    this.#run = run;
    run.kinds.forEach((shares, kind) => {
      // Beside a form's own concrete a column takes something of every band, through hinges.
      const heaviest = (weigh: (row: readonly number[]) => number) =>
        shares.reduce((best, row, i) => (weigh(row) > weigh(shares[best]!) ? i : best), 0);
      if (shares.length > 0) this.#add({ kind, row: heaviest(sum) });
    });
  }

  /** The rows of full columns alone, for what no layout keeps at its openings. */
  get solid(): readonly RowChain[] {
    return this.#rows.filter((r) => r.kind === 0).map((r) => this.#chainOf(r));
  }

  get chains(): readonly RowChain[] {
    return this.#rows.map((r) => this.#chainOf(r));
  }

  #add(row: RowOf): boolean {
    if (this.#has(row)) return false;
    this.#rows.push(row);
    return true;
  }

  #has(row: RowOf): boolean {
    return this.#rows.some((r) => r.kind === row.kind && r.row === row.row);
  }

  #kindAt(stationGu: number): number {
    return this.#run.columns.find((c) => stationGu > c.fromGu && stationGu < c.toGu)?.kind ?? 0;
  }

  #chainOf(of: RowOf): RowChain {
    const held = this.#chains.get(of);
    if (held) return held;
    const { voids, kinds, workingKn } = this.#run;
    const byBand = kinds[of.kind]![of.row]!;
    const total = sum(byBand);
    // Lengths of strip of a full column, so that away from openings all chains are one; rows that take nothing on the whole have a scale of their own.
    const scale = total > 0 ? total : Math.max(...byBand.map(Math.abs), Number.MIN_VALUE);
    const missing = voids.flatMap((list, b) => list.map((v) => ({ ...v, share: byBand[b]! / scale })));
    const limits: ChainLimits = { ...NO_LIMITS, mostGu: workingKn / scale };
    // The first chain limits every tie: no column takes more of it than a full one may.
    const isFirst = of === this.#rows[0];
    const limitsAt: RowChain['limitsAt'] = (fromGu, tiesGu, d) => {
      if (isFirst) return limits;
      const own = tiesGu.map((t) => this.#kindAt(fromGu + d * t) === of.kind);
      if (own.every((x) => x)) return limits;
      if (own.every((x) => !x)) return NO_LIMITS;
      return { ...NO_LIMITS, mostsGu: own.map((x) => (x ? limits.mostGu : Number.POSITIVE_INFINITY)) };
    };
    const chain: RowChain = {
      perGu: total / scale,
      load: (fromGu, lengthGu, loadFrom, loadTo) =>
        lessVoids(total / scale, missing, fromGu, lengthGu, loadFrom, loadTo),
      limitsAt,
      // Beyond the stretch's own groups columns are full.
      limits: of.kind === 0 ? limits : NO_LIMITS,
    };
    this.#chains.set(of, chain);
    return chain;
  }

  /** Rows that a layout overloads, worked out band by band. */
  #overloaded(problem: ZoneProblem, answer: ZoneAnswer): RowOf[] {
    const { voids, kinds, workingKn } = this.#run;
    const found = new Map<string, RowOf>();
    for (const face of [0, 1] as const) {
      const bands = voids.map((list) => {
        const missing = list.map((v) => ({ ...v, share: 1 }));
        return chainReactions(problem, answer, face, (fromGu, lengthGu) =>
          lessVoids(1, missing, fromGu, lengthGu, problem.loadFrom, problem.loadTo),
        );
      });
      bands[0]!.forEach(({ stationGu }, tie) => {
        const kind = this.#kindAt(stationGu);
        kinds[kind]!.forEach((byBand, row) => {
          const kN = byBand.reduce((load, share, b) => load + share * bands[b]![tie]!.strip, 0);
          if (kN > workingKn * (1 + SLACK)) found.set(`${kind} ${row}`, { kind, row });
        });
      });
    }
    return [...found.values()];
  }

  /** Does every row of every column carry what it takes? */
  holds(problem: ZoneProblem, answer: ZoneAnswer): boolean {
    return this.#overloaded(problem, answer).length === 0;
  }

  /** Adds the chains of the rows that a layout overloads; false where there is none to add. */
  learns(problem: ZoneProblem, answer: ZoneAnswer): boolean {
    return this.#overloaded(problem, answer).reduce((any, row) => this.#add(row) || any, false);
  }
}

/** `perGu` on all of a group, less what openings take away: their shares of it. */
const lessVoids = (
  perGu: number,
  missing: readonly (Stretch & { readonly share: number })[],
  fromGu: number,
  lengthGu: number,
  loadFrom: number,
  loadTo: number,
): StripLoad => {
  let { size, moment } = stripLoad(fromGu, lengthGu, loadFrom, loadTo);
  size *= perGu;
  moment *= perGu;
  for (const v of missing) {
    if (v.toGu <= fromGu || v.fromGu >= fromGu + lengthGu) continue;
    const less = stripLoad(fromGu, lengthGu, Math.max(loadFrom, v.fromGu), Math.min(loadTo, v.toGu));
    size -= v.share * less.size;
    moment -= v.share * less.moment;
  }
  return { size, moment };
};
