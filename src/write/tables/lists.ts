/** What both tables tell beside the whole: wall by wall, pour by pour, spares, what is cut, concrete, weights. Counted from the schedule, decided nowhere here. */

import { massOf } from '../../ground/cutList.js';
import { atOnce } from '../../ground/pours.js';
import type { Result, ScheduleRow } from '../../ground/vocabulary.js';

/** Part of a schedule row: what one wall or one pour has of it. */
export interface PartRow {
  readonly wall: string | null;
  readonly pour: string | null;
  readonly row: ScheduleRow;
  readonly count: number;
  readonly massKg: number;
}

/** Wall by wall in the order of the plan; each thing once, so that the walls add up to the whole. */
export const wallRows = ({ plan, schedule }: Result): readonly PartRow[] => {
  const pourOf = new Map(plan.walls.map((w) => [w.id, w.pour ?? null]));
  return [...plan.walls.map((w) => w.id), ''].flatMap((wall) =>
    schedule.rows.flatMap((row) => {
      const count = row.inWalls?.find((at) => at.wall === wall)?.count ?? 0;
      return count === 0 ? [] : [{ wall, pour: pourOf.get(wall) ?? null, row, count, massKg: massOf(row, count) }];
    }),
  );
};

/** Pour by pour in the order of pouring; what stands between two is needed in both. None where all is poured at once. */
export const pourRows = ({ plan, schedule }: Result): readonly PartRow[] =>
  (plan.pours ?? []).flatMap((pour) =>
    schedule.rows.flatMap((row) => {
      const count = row.inPours?.find((at) => at.name === pour)?.count ?? 0;
      return count === 0 ? [] : [{ wall: null, pour, row, count, massKg: massOf(row, count) }];
    }),
  );

/** Usual spares of ties, their locks and clamps: 3 %, at least 5 of each. Common practice, no source. */
const SPARE_SHARE = 0.03;
const SPARES_LEAST = 5;
export const SPARES_REMARK =
  '3 %, at least 5 of each (common practice, no source); not counted in any other list or total';

const SPARED: readonly ScheduleRow['kind'][] = ['tie', 'lock', 'clamp'];

export interface SpareRow {
  readonly row: ScheduleRow;
  readonly needed: number;
  readonly spare: number;
  readonly massKg: number;
}

/** Of what is needed at one time. */
export const spareRows = ({ schedule }: Result): readonly SpareRow[] =>
  schedule.rows
    .filter((row) => SPARED.includes(row.kind))
    .map((row) => {
      const needed = atOnce(row);
      const spare = Math.max(SPARES_LEAST, Math.ceil(needed * SPARE_SHARE));
      return { row, needed, spare, massKg: massOf(row, spare) };
    });

export interface ConcreteRow {
  /** null: what the plan's outline has more or less than the walls' own bodies. */
  readonly wall: string | null;
  readonly pour: string | null;
  readonly thicknessMm: number | null;
  readonly lengthMm: number | null;
  readonly grossM3: number;
  readonly openingsM3: number;
}

/** A litre: less is not told as a difference. */
const LITRE_M3 = 1e-3;

/** Wall by wall; the rows add up to the schedule's total. */
export const concreteRows = ({ schedule }: Result): readonly ConcreteRow[] => {
  const walls = schedule.concrete ?? [];
  const sum = walls.reduce((m3, w) => m3 + w.grossM3 - w.openingsM3, 0);
  const rest = schedule.totals.concreteM3 - sum;
  const more: ConcreteRow[] =
    Math.abs(rest) < LITRE_M3
      ? []
      : [{ wall: null, pour: null, thicknessMm: null, lengthMm: null, grossM3: rest, openingsM3: 0 }];
  return [...walls, ...more];
};

export interface WeightRow {
  readonly of: 'kind' | 'wall' | 'pour';
  readonly name: string;
  readonly count: number;
  readonly massKg: number;
}

const gathered = (of: WeightRow['of'], parts: readonly { name: string; count: number; massKg: number }[]) => {
  const rows = new Map<string, WeightRow>();
  for (const { name, count, massKg } of parts) {
    const before = rows.get(name) ?? { of, name, count: 0, massKg: 0 };
    rows.set(name, { of, name, count: before.count + count, massKg: before.massKg + massKg });
  }
  return [...rows.values()];
};

/** By kind, which adds up to the whole; by wall, which does too; by pour, where what stands between two counts in both. */
export const weightRows = (result: Result): readonly WeightRow[] => [
  ...gathered(
    'kind',
    result.schedule.rows.map(({ kind, count, massKg }) => ({ name: kind, count, massKg })),
  ),
  ...gathered(
    'wall',
    wallRows(result).map(({ wall, count, massKg }) => ({ name: wall ?? '', count, massKg })),
  ),
  ...gathered(
    'pour',
    pourRows(result).map(({ pour, count, massKg }) => ({ name: pour ?? '', count, massKg })),
  ),
];
