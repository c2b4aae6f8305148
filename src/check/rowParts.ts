/** What is asked of the rows of a stack of courses, and its parts: tied rows, joints of the courses, the load between two levels, lifts. */

import type { Envelope, Stack } from '../ground/vocabulary.js';
import { type LinearPiece, linearPieces } from './envelope.js';

/** A band of levels and the share of the pressure that loads the column there: 0 in an opening; a length makes forces of loads per length. */
export interface LoadBand {
  readonly fromMm: number;
  readonly toMm: number;
  readonly share: number;
}

export interface RowsQuestion {
  readonly stack: Stack;
  /** Levels at which ties can stand; those at or above the pour line, or not above the footing, are not tied. */
  readonly rowLevelsMm: readonly number[];
  readonly footingMm: number;
  /** The pour line. */
  readonly topMm: number;
  readonly envelope: Envelope;
  /** What counts of the pressure from level to level, in order, apart and without gaps; left out: all of it. */
  readonly bands?: readonly LoadBand[];
  /** Height of one lift, where the wall is poured in several: each is taken to have set before the next; left out: all at once. */
  readonly liftMm?: number;
  /** false: only the full pour is looked at, for questions of standing alone. */
  readonly whileRising?: boolean;
  /** What findings are about, usually the wall's id, and its place. */
  readonly subject?: string;
  readonly at?: readonly [number, number, number] | null;
}

/** Levels closer than this are one row. */
const SAME_ROW_MM = 1e-6;

export const tiedRows = (q: RowsQuestion): number[] => {
  const inside = q.rowLevelsMm.filter((z) => z > q.footingMm && z < q.topMm).sort((a, b) => a - b);
  return inside.filter((z, i) => i === 0 || z - inside[i - 1]! > SAME_ROW_MM);
};

/**
 * Joints of the courses that have concrete behind them, foot and top included. Where the forms stand above the footing, the fill below them is
 * taken to hang on their foot, as if they reached down to it.
 */
export const courseJoints = (q: RowsQuestion): number[] => {
  const joints = [Math.min(q.stack.baseMm, q.footingMm)];
  let base = q.stack.baseMm;
  for (const h of q.stack.heightsMm) {
    if (base >= q.topMm) break;
    base += h;
    joints.push(base);
  }
  return joints;
};

/** The load between two levels: the pressure, or what the bands say of it. */
export const loadsBetween = (q: RowsQuestion, fromMm: number, toMm: number): LinearPiece[] =>
  (q.bands ?? [{ fromMm, toMm, share: 1 }]).flatMap(({ share, ...band }) =>
    linearPieces(q.envelope, q.topMm, Math.max(fromMm, band.fromMm), Math.min(toMm, band.toMm)).map((p) => ({
      ...p,
      lowKpa: p.lowKpa * share,
      highKpa: p.highKpa * share,
    })),
  );

/** Levels less than this over a lift's foot are none of another lift. */
const SAME_LIFT_MM = 1;

/** Foot and top of each lift, rising; one where all is poured at once. */
export const liftsOf = ({ footingMm, topMm, liftMm }: RowsQuestion): (readonly [number, number])[] => {
  if (liftMm === undefined || liftMm >= topMm - footingMm - SAME_LIFT_MM) return [[footingMm, topMm]];
  const count = Math.ceil((topMm - footingMm - SAME_LIFT_MM) / liftMm);
  return Array.from({ length: count }, (_, i) => [
    footingMm + i * liftMm,
    Math.min(footingMm + (i + 1) * liftMm, topMm),
  ]);
};

/** The same question with fresh concrete from the foot of a lift up to a level, and nothing else that presses. */
export const filledTo = (q: RowsQuestion, fromMm: number, fillMm: number): RowsQuestion => ({
  ...q,
  topMm: fillMm,
  bands: [{ fromMm, toMm: fillMm, share: 1 }],
});
