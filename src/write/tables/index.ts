/**
 * The schedule as a table for spreadsheets: one table with one header. Its first column tells the list that a record belongs to, so that a filter
 * parts them: 'item' is the whole (what goes on the truck), 'wall' and 'pour' its parts, 'gang' (what is lifted as one), 'cut', 'spare', 'concrete', 'weight', 'setting', 'total', 'caution'.
 * Cautions stand in records, not in comment lines, which RFC 4180 does not know.
 */

import { CAUTIONS } from '../../ground/cautions.js';
import { type CutRow, cutRows } from '../../ground/cutList.js';
import { atOnce, shortOf } from '../../ground/pours.js';
import { plainNumber } from '../../ground/units.js';
import type { Gang, Result, ScheduleRow } from '../../ground/vocabulary.js';
import { csvText, type Field } from './csv.js';
import {
  type ConcreteRow,
  concreteRows,
  type PartRow,
  pourRows,
  SPARES_REMARK,
  type SpareRow,
  spareRows,
  type WeightRow,
  wallRows,
  weightRows,
} from './lists.js';
import { TOTAL_NAMES } from './totals.js';

export { scheduleXlsx } from './xlsx/index.js';

const HEADER = [
  'list',
  'item',
  'kind',
  'width_mm',
  'height_mm',
  'count',
  'mass_kg',
  'stock',
  'short',
  'value',
  'unit',
  'remark',
  'wall',
  'pour',
  'mark',
  'thickness_mm',
  'pieces',
] as const;

type Column = Exclude<(typeof HEADER)[number], 'list'>;
type List =
  | 'item'
  | 'wall'
  | 'pour'
  | 'cut'
  | 'spare'
  | 'setting'
  | 'gang'
  | 'concrete'
  | 'weight'
  | 'total'
  | 'caution'
  | 'source';

const record = (list: List, fields: Partial<Record<Column, Field>>): readonly Field[] =>
  HEADER.map((column) => (column === 'list' ? list : (fields[column] ?? null)));

const numberField = (value: number, places = 4): Field => ({ number: plainNumber(value, places) });

const sizeFields = (row: ScheduleRow): Partial<Record<Column, Field>> => ({
  item: row.item,
  kind: row.kind,
  width_mm: numberField(row.widthMm),
  height_mm: numberField(row.heightMm),
});

const itemRecord = (row: ScheduleRow): readonly Field[] =>
  record('item', {
    ...sizeFields(row),
    count: numberField(row.count, 0),
    mass_kg: numberField(row.massKg, 2),
    stock: row.stock === null ? null : numberField(row.stock, 0),
    short: row.stock === null ? null : numberField(shortOf(row), 0),
    remark: row.remark ?? null,
  });

/** A gang: its length and height, its units, its mass, and the force in the more loaded leg. */
const gangRecord = (gang: Gang): readonly Field[] => {
  const { id, face, fromMm, toMm, baseMm, topMm, pieces, ties, massKg, legs, hookMm, bracket } = gang;
  const mm = (n: number) => plainNumber(n, 1);
  const [a, b] = legs;
  const points = `lift points at ${mm(a.stationMm)} and ${mm(b.stationMm)}, legs ${mm(a.lengthMm)} and ${mm(b.lengthMm)} mm, hook ${mm(hookMm)} mm over them`;
  return record('gang', {
    item: id,
    kind: 'gang',
    width_mm: numberField(toMm - fromMm),
    height_mm: numberField(topMm - baseMm),
    count: numberField(pieces.length, 0),
    mass_kg: numberField(massKg, 2),
    value: numberField(Math.max(a.forceKn, b.forceKn), 2),
    unit: 'kN in a leg',
    remark: `face ${face}, stations ${mm(fromMm)} to ${mm(toMm)}, ${ties} ties; ${points}; ${bracket ?? 'no lifting bracket'}; units ${pieces.join(' ')}`,
  });
};

/** Columns of a job that is poured in parts: the most needed at once, then each pour. */
const pourFields = (row: ScheduleRow): readonly Field[] =>
  row.inPours === undefined
    ? []
    : [numberField(atOnce(row), 0), ...row.inPours.map(({ count }) => numberField(count, 0))];

const partRecord = (list: 'wall' | 'pour', { wall, pour, row, count, massKg }: PartRow): readonly Field[] =>
  record(list, { ...sizeFields(row), count: numberField(count, 0), mass_kg: numberField(massKg, 2), wall, pour });

const cutRecord = (cut: CutRow): readonly Field[] =>
  record('cut', {
    ...sizeFields(cut.row),
    count: numberField(cut.count, 0),
    mass_kg: numberField(cut.massKg, 2),
    remark: cut.row.narrowMm === undefined ? null : `tapered to ${plainNumber(cut.row.narrowMm)} mm`,
    wall: cut.wall,
    mark: cut.mark,
    thickness_mm: numberField(cut.thicknessMm),
    pieces: cut.pieces.join(' '),
  });

const spareRecord = ({ row, spare, massKg }: SpareRow): readonly Field[] =>
  record('spare', {
    ...sizeFields(row),
    count: numberField(spare, 0),
    mass_kg: numberField(massKg, 2),
    remark: SPARES_REMARK,
  });

const concreteRecord = ({ wall, pour, thicknessMm, grossM3, openingsM3 }: ConcreteRow): readonly Field[] =>
  record('concrete', {
    item: wall ?? 'junctions, by the outline of the plan',
    value: numberField(grossM3 - openingsM3),
    unit: 'm3',
    wall,
    pour,
    thickness_mm: thicknessMm === null ? null : numberField(thicknessMm),
  });

const weightRecord = ({ of, name, count, massKg }: WeightRow): readonly Field[] =>
  record('weight', {
    item: `${of} ${name}`,
    count: numberField(count, 0),
    mass_kg: numberField(massKg, 2),
    ...(of === 'kind' ? { kind: name } : of === 'wall' ? { wall: name } : { pour: name }),
  });

const settingRecords = ({ schedule }: Result): readonly (readonly Field[])[] =>
  (schedule.setting ?? []).map((s, i) =>
    record('setting', {
      item: s.item,
      kind: s.kind,
      value: numberField(i + 1, 0),
      unit: 'order',
      remark: `face ${s.face}, course ${plainNumber(s.course, 0)}, stations ${plainNumber(s.fromMm, 1)} to ${plainNumber(s.toMm, 1)} mm`,
      wall: s.wall,
      pieces: s.piece,
    }),
  );

/** The CSV text of the schedule, with its parts, totals, the drawing that it belongs to and the cautions. Same result, same bytes. */
export const scheduleCsv = (result: Result): string => {
  const { rows, totals } = result.schedule;
  const pours = result.plan.pours ?? [];
  const more = pours.length > 0 ? ['at_once', ...pours.map((name) => `pour ${name}`)] : [];
  // Every record has as many fields as the header.
  const wide = (fields: readonly Field[]): readonly Field[] => [...fields, ...more.map(() => null)];
  return csvText([
    [...HEADER, ...more],
    ...rows.map((row) => [...itemRecord(row), ...pourFields(row)]),
    ...[
      ...wallRows(result).map((part) => partRecord('wall', part)),
      ...pourRows(result).map((part) => partRecord('pour', part)),
      ...cutRows(result).map(cutRecord),
      ...spareRows(result).map(spareRecord),
      ...settingRecords(result),
      ...concreteRows(result).map(concreteRecord),
      ...(result.layout.gangs ?? []).map(gangRecord),
      ...weightRows(result).map(weightRecord),
      ...TOTAL_NAMES.map(([key, name, unit]) => record('total', { item: name, value: numberField(totals[key]), unit })),
      record('source', { item: result.source.file, remark: `sha256 ${result.source.sha256}` }),
      ...CAUTIONS.map((caution) => record('caution', { remark: caution })),
    ].map(wide),
  ]);
};
