/** The whole: units, ties, accessories, each item a row; stock and pours beside the count. */

import { marksOf } from '../../../ground/marks.js';
import { atOnce, shortOf } from '../../../ground/pours.js';
import { itemText } from '../../../ground/sizes.js';
import type { Result, ScheduleRow } from '../../../ground/vocabulary.js';
import { spareRows } from '../lists.js';
import { count, KIND_WORDS, kg, length, lengthHead, lengthOrNone } from './cells.js';
import { type Cell, type Column, type Row, type Sheet, withTotal } from './sheet.js';

const TIES: readonly ScheduleRow['kind'][] = ['tie', 'lock'];
const ACCESSORIES: readonly ScheduleRow['kind'][] = ['clamp', 'aligner', 'fixing', 'brace', 'bracket', 'plank', 'rail'];

/** Of the catalogue, or cut on site: what is no tie and no accessory. */
const isUnit = ({ kind }: ScheduleRow): boolean => !TIES.includes(kind) && !ACCESSORIES.includes(kind);

interface Table {
  readonly columns: readonly Column[];
  readonly own: (row: ScheduleRow) => readonly Cell[];
}

/** Count, pours, mass, stock: the same in the three lists. */
const listOf = (
  result: Result,
  name: string,
  title: string,
  rows: readonly ScheduleRow[],
  { columns, own }: Table,
): Sheet => {
  const pours = result.plan.pours ?? [];
  const hasRemarks = rows.some((row) => row.remark !== undefined);
  const isLimited = rows.some((row) => row.stock !== null);
  const all: Column[] = [
    ...columns,
    { head: 'Count', width: 9 },
    ...(pours.length > 0 ? [{ head: 'At once', width: 9 }] : []),
    ...pours.map((pour) => ({ head: `Pour ${pour}`, width: 9 })),
    { head: 'Mass of one, kg', width: 11 },
    { head: 'Mass, kg', width: 12 },
    ...(isLimited
      ? [
          { head: 'Yard’s stock', width: 9 },
          { head: 'Short', width: 8 },
        ]
      : []),
    ...(hasRemarks ? [{ head: 'Remark', width: 42, wraps: true }] : []),
  ];
  const body = rows.map((row): Row => {
    const short = shortOf(row);
    return {
      ...(short > 0 ? { look: 'short' as const } : {}),
      cells: [
        ...own(row),
        count(row.count),
        ...(pours.length > 0 ? [count(atOnce(row))] : []),
        ...pours.map((pour) => count(row.inPours?.find((p) => p.name === pour)?.count ?? 0)),
        kg(row.count === 0 ? 0 : row.massKg / row.count),
        kg(row.massKg),
        ...(isLimited ? [row.stock === null ? null : count(row.stock), short > 0 ? count(short) : null] : []),
        ...(hasRemarks ? [row.remark ?? null] : []),
      ],
    };
  });
  const countAt = columns.length;
  const pourColumns = pours.map((_, i) => countAt + 2 + i);
  const massAt = countAt + (pours.length > 0 ? 1 + pours.length : 0) + 2;
  const sums = [
    { column: countAt, format: 'whole' as const },
    ...pourColumns.map((column) => ({ column, format: 'whole' as const })),
    { column: massAt, format: 'two' as const },
  ];
  const notes = [
    ...(rows.length === 0 ? ['There is none.'] : []),
    ...(pours.length > 0 ? ['What stands between two pours is needed in both and counted in both.'] : []),
    ...(isLimited ? ['Short: what is needed at one time less the yard’s stock.'] : []),
  ];
  return { name, title, columns: all, rows: withTotal(body, 'Total', sums, all.length), notes };
};

export const unitsSheet = (result: Result): Sheet => {
  const { plan, catalogue, layout, schedule } = result;
  const gear = catalogue.lengthUnit;
  const marks = marksOf(plan, catalogue, layout);
  const units = new Map(catalogue.units.map((u) => [u.id, u]));
  const legsText = (row: ScheduleRow): readonly Cell[] => {
    const legs = units.get(row.item)?.legsMm ?? null;
    return legs === null ? [null, null] : [length(legs[0], gear), length(legs[1], gear)];
  };
  const columns: Column[] = [
    { head: 'Item', width: 24 },
    { head: 'Mark', width: 11 },
    { head: 'Kind', width: 16 },
    lengthHead('Width', result),
    lengthHead('Leg', result, 8),
    lengthHead('Other leg', result, 8),
    lengthHead('Height', result),
    lengthHead('Depth', result, 8),
  ];
  const own = (row: ScheduleRow): readonly Cell[] => {
    const face = units.get(row.item)?.faceWidthMm ?? 0;
    return [
      itemText(catalogue, row.kind, row.item),
      marks.ofRow(row.kind, row.item, row)?.mark ?? null,
      KIND_WORDS[row.kind],
      lengthOrNone(row.widthMm === 0 ? face : row.widthMm, gear),
      ...legsText(row),
      length(row.heightMm, gear),
      length(catalogue.frameDepthMm, gear),
    ];
  };
  return listOf(result, 'Units', 'Units, all walls', schedule.rows.filter(isUnit), { columns, own });
};

export const tiesSheet = (result: Result): Sheet => {
  const { catalogue, schedule } = result;
  const gear = catalogue.lengthUnit;
  const ties = new Map(catalogue.ties.map((t) => [t.id, t]));
  const columns: Column[] = [
    { head: 'Item', width: 24 },
    { head: 'Kind', width: 14 },
    lengthHead('Diameter', result),
    { head: 'Working load, kN', width: 11 },
    { head: 'Stays in the wall', width: 11 },
  ];
  const own = (row: ScheduleRow): readonly Cell[] => {
    const tie = row.kind === 'tie' ? ties.get(row.item) : undefined;
    if (tie === undefined) return [row.item, KIND_WORDS[row.kind], null, null, null];
    return [
      row.item,
      KIND_WORDS[row.kind],
      length(tie.diameterMm, gear),
      { number: tie.workingLoadKn, format: 'one' },
      tie.kind === 'left-in' ? 'yes' : 'no',
    ];
  };
  const rows = schedule.rows.filter((row) => TIES.includes(row.kind));
  return listOf(result, 'Ties', 'Ties and their locks, all walls', rows, { columns, own });
};

export const accessoriesSheet = (result: Result): Sheet => {
  const gear = result.catalogue.lengthUnit;
  const columns: Column[] = [
    { head: 'Item', width: 24 },
    { head: 'Kind', width: 20 },
    lengthHead('Length or width', result, 11),
    lengthHead('Height or width', result, 11),
  ];
  const own = (row: ScheduleRow): readonly Cell[] => [
    row.item,
    KIND_WORDS[row.kind],
    lengthOrNone(row.widthMm, gear),
    lengthOrNone(row.heightMm, gear),
  ];
  const rows = result.schedule.rows.filter((row) => ACCESSORIES.includes(row.kind));
  return listOf(result, 'Accessories', 'Clamps, aligners, braces, platforms, all walls', rows, { columns, own });
};

export const sparesSheet = (result: Result): Sheet => {
  const columns: Column[] = [
    { head: 'Item', width: 24 },
    { head: 'Kind', width: 14 },
    { head: 'Needed at one time', width: 12 },
    { head: 'Spares', width: 9 },
    { head: 'Mass, kg', width: 12 },
  ];
  const rows = spareRows(result).map(
    ({ row, needed, spare, massKg }): Row => ({
      cells: [row.item, KIND_WORDS[row.kind], count(needed), count(spare), kg(massKg)],
    }),
  );
  const sums = [
    { column: 3, format: 'whole' as const },
    { column: 4, format: 'two' as const },
  ];
  return {
    name: 'Spares',
    title: 'Usual spares, apart from all other lists',
    columns,
    rows: withTotal(rows, 'Total', sums, columns.length),
    notes: [
      '3 % of ties, locks and clamps, at least 5 of each: common practice, no source. In no other list or total.',
    ],
  };
};
