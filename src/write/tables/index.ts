/**
 * The schedule as a table for spreadsheets: one table with one header. Its first column tells the list that a record belongs to, so that a filter
 * parts them: 'item' (what goes on the truck), 'gang' (what is lifted as one), 'total', 'caution'. Cautions stand in records, not in comment lines, which RFC 4180 does not know.
 */

import { CAUTIONS } from '../../ground/cautions.js';
import { atOnce, shortOf } from '../../ground/pours.js';
import { plainNumber } from '../../ground/units.js';
import type { Gang, Result, ScheduleRow, Totals } from '../../ground/vocabulary.js';
import { csvText, type Field } from './csv.js';

const HEADER: readonly string[] = [
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
];

type Column =
  | 'item'
  | 'kind'
  | 'width_mm'
  | 'height_mm'
  | 'count'
  | 'mass_kg'
  | 'stock'
  | 'short'
  | 'value'
  | 'unit'
  | 'remark';

const record = (
  list: 'item' | 'gang' | 'total' | 'caution' | 'source',
  fields: Partial<Record<Column, Field>>,
): readonly Field[] => HEADER.map((column) => (column === 'list' ? list : (fields[column as Column] ?? null)));

const numberField = (value: number, places = 4): Field => ({ number: plainNumber(value, places) });

const itemRecord = (row: ScheduleRow): readonly Field[] =>
  record('item', {
    item: row.item,
    kind: row.kind,
    width_mm: numberField(row.widthMm),
    height_mm: numberField(row.heightMm),
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

const TOTAL_NAMES: readonly (readonly [keyof Totals, string, string])[] = [
  ['wallLengthM', 'wall length along axes', 'm'],
  ['contactAreaM2', 'contact area, left and right faces, gross', 'm2'],
  ['contactAreaNetM2', 'contact area less openings', 'm2'],
  ['endAreaM2', 'area of wall ends', 'm2'],
  ['panelAreaM2', 'area of panels', 'm2'],
  ['timberAreaM2', 'area of timber on wall faces, cut at the pour line', 'm2'],
  ['massKg', 'mass of all items', 'kg'],
  ['concreteM3', 'concrete in the walls', 'm3'],
  ['tieCount', 'ties', 'pieces'],
];

/** The CSV text of the schedule, with totals, the drawing that it belongs to and the cautions. Same result, same bytes. */
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
      ...(result.layout.gangs ?? []).map(gangRecord),
      ...TOTAL_NAMES.map(([key, name, unit]) => record('total', { item: name, value: numberField(totals[key]), unit })),
      record('source', { item: result.source.file, remark: `sha256 ${result.source.sha256}` }),
      ...CAUTIONS.map((caution) => record('caution', { remark: caution })),
    ].map(wide),
  ]);
};
