/** What both tables tell beside the whole: wall by wall, pour by pour, spares, what is cut, concrete, weights. Counted from the schedule, decided nowhere here. */

import { marksOf } from '../../ground/marks.js';
import { byNumber, byText, inOrder } from '../../ground/order.js';
import { postOf } from '../../ground/pilasters.js';
import { atOnce } from '../../ground/pours.js';
import type { Piece, Result, ScheduleRow } from '../../ground/vocabulary.js';

/** Part of a schedule row: what one wall or one pour has of it. */
export interface PartRow {
  readonly wall: string | null;
  readonly pour: string | null;
  readonly row: ScheduleRow;
  readonly count: number;
  readonly massKg: number;
}

/** All things of a row weigh the same. */
const massOf = (row: ScheduleRow, count: number): number => (row.count === 0 ? 0 : (row.massKg * count) / row.count);

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

/** What is cut on site to one size, at one wall. */
export interface CutRow {
  readonly mark: string;
  readonly wall: string;
  readonly row: ScheduleRow;
  /** Net, across the face; of tapered timber the wide side. */
  readonly widthMm: number;
  /** Along the concrete's height. */
  readonly lengthMm: number;
  readonly thicknessMm: number;
  readonly count: number;
  readonly massKg: number;
  /** In the order of the layout. */
  readonly pieces: readonly string[];
}

/** By mark, then by wall. */
export const cutRows = (result: Result): readonly CutRow[] => {
  const { plan, catalogue, layout, schedule } = result;
  const marks = marksOf(plan, catalogue, layout);
  const rowByItem = new Map(schedule.rows.map((row) => [`${row.kind}\n${row.item}`, row]));
  const pieces = new Map(layout.pieces.map((p) => [p.id, p]));
  const rank = new Map(plan.walls.map((w, i) => [w.id, i]));
  const cuts = new Map<string, { piece: Piece; mark: string; wall: string; row: ScheduleRow; ids: string[] }>();
  for (const { piece: id, kind, item, wall } of schedule.setting ?? []) {
    const piece = pieces.get(id);
    const row = rowByItem.get(`${kind}\n${item}`);
    if (piece === undefined || row === undefined || piece.item !== null) continue;
    const { mark } = marks.ofPiece(piece);
    const key = `${mark}\n${item}\n${wall}`;
    const cut = cuts.get(key) ?? { piece, mark, wall, row, ids: [] };
    cut.ids.push(id);
    cuts.set(key, cut);
  }
  return [...cuts.values()]
    .map(({ piece, mark, wall, row, ids }) => ({
      mark,
      wall,
      row,
      widthMm: row.widthMm,
      lengthMm: row.heightMm,
      thicknessMm: postOf(plan, piece)?.depthMm ?? catalogue.frameDepthMm,
      count: ids.length,
      massKg: massOf(row, ids.length),
      pieces: ids,
    }))
    .sort(
      inOrder<CutRow>(
        byText((c) => c.mark.replace(/\d.*$/, '')),
        byNumber((c) => Number(/\d+/.exec(c.mark)?.[0] ?? 0)),
        byText((c) => c.row.item),
        byNumber((c) => rank.get(c.wall) ?? plan.walls.length),
      ),
    );
};

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
