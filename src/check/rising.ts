/**
 * Rows while the concrete rises. At every fill the same diagram presses, cut off at the surface; the forms and all their rows stand. Ties hold one way: a
 * row that would be pushed lets go, and the others are asked again. While the resultant lies below the lowest row that alone does not hold the forms, and
 * their foot must be held: by moments about the lowest row, F (1 - z / z1).
 *
 * No row's load is monotone in the fill: over three spans and more the influence line of a support changes its sign. So fills are tried in steps.
 */

import { type BeamOnSome, beamOnSome } from './beam.js';
import { isFixed } from './chain.js';
import { forceOf, type LinearPiece, momentOf } from './envelope.js';
import { filledTo, loadsBetween, type RowsQuestion } from './rowParts.js';

/** Fills are tried in such steps: half of one from the worst fill the load differs by less than one in a thousand (tests/check/rising.test.ts). */
const STEP_MM = 100;
/** Less than this, kN/m, is no push. */
const NO_PUSH = 1e-9;

export interface RisingRow {
  readonly kNPerM: number;
  /** Level of the surface at which it carries that. */
  readonly fillMm: number;
}

export interface Rising {
  readonly rows: readonly RisingRow[];
  /** What the foot must be held for, outwards, and at which fill. */
  readonly foot: RisingRow;
}

/** Answers for one set of courses and rows; what was worked out for the rows that hold is kept. */
export class OneWayRows {
  readonly #beam: BeamOnSome;
  readonly #on = new Map<string, ReturnType<BeamOnSome['on']>>();

  constructor(
    readonly jointsMm: readonly number[],
    readonly rowsMm: readonly number[],
  ) {
    this.#beam = beamOnSome({ jointsM: jointsMm.map((z) => z / 1000), supportsM: rowsMm.map((z) => z / 1000) });
  }

  #reactionsOn(active: readonly number[]): ReturnType<BeamOnSome['on']> {
    const key = active.join(' ');
    const known = this.#on.get(key);
    if (known !== undefined) return known;
    const levels = active.map((i) => this.rowsMm[i]!);
    const made = isFixed(this.jointsMm, levels) ? this.#beam.on(active) : null;
    this.#on.set(key, made);
    return made;
  }

  /** Loads of the rows, pushed ones letting go; null: nothing that is left holds the forms. */
  under(loads: readonly LinearPiece[]): number[] | null {
    const atFreedoms = this.#beam.loadsOf(loads);
    let active = this.rowsMm.map((_, i) => i);
    while (active.length > 0) {
      const found = this.#reactionsOn(active)?.(atFreedoms);
      if (!found) return null;
      const least = Math.min(...found);
      if (least >= -NO_PUSH) {
        const rows = this.rowsMm.map(() => 0);
        active.forEach((row, i) => {
          rows[row] = found[i]!;
        });
        return rows;
      }
      active = active.filter((_, i) => found[i] !== least);
    }
    return null;
  }
}

/** Fills of a lift that are tried: from its foot in steps, its top last. */
const fillsOf = ([from, to]: readonly [number, number]): number[] => {
  const count = Math.max(1, Math.ceil((to - from) / STEP_MM));
  return Array.from({ length: count }, (_, i) => (i === count - 1 ? to : from + (i + 1) * STEP_MM));
};

/** `jointsMm` and `rowsMm` are those of the full pour. */
export const risingLoads = (
  q: RowsQuestion,
  jointsMm: readonly number[],
  rowsMm: readonly number[],
  lifts: readonly (readonly [number, number])[],
): Rising => {
  const rows = rowsMm.map(() => ({ kNPerM: 0, fillMm: q.topMm }));
  let foot: RisingRow = { kNPerM: 0, fillMm: q.footingMm };
  const [footMm, lowestMm] = [jointsMm[0]!, rowsMm[0]!];
  const oneWay = new OneWayRows(jointsMm, rowsMm);
  for (const lift of lifts) {
    for (const fillMm of fillsOf(lift)) {
      const loads = loadsBetween(filledTo(q, lift[0], fillMm), lift[0], fillMm);
      const found = oneWay.under(loads);
      if (found) {
        found.forEach((kNPerM, i) => {
          if (kNPerM > rows[i]!.kNPerM + NO_PUSH) rows[i] = { kNPerM, fillMm };
        });
        continue;
      }
      // Set concrete holds the foot of a later lift.
      if (lift !== lifts[0] || lowestMm <= footMm) continue;
      const held = -momentOf(loads, lowestMm) / ((lowestMm - footMm) / 1000);
      if (held > foot.kNPerM + NO_PUSH) foot = { kNPerM: held, fillMm };
      const lowest = forceOf(loads) - held;
      if (lowest > rows[0]!.kNPerM) rows[0] = { kNPerM: lowest, fillMm };
    }
  }
  return { rows, foot };
};
