/** The parts: wall by wall, pour by pour, what is cut, the setting list. */

import { cutRows } from '../../../ground/cutList.js';
import { marksOf } from '../../../ground/marks.js';
import { itemText } from '../../../ground/sizes.js';
import type { Result } from '../../../ground/vocabulary.js';
import { type PartRow, pourRows, wallRows } from '../lists.js';
import { count, KIND_WORDS, kg, length, lengthHead, lengthOrNone } from './cells.js';
import { type Cell, type Column, cellValue, columnName, HEAD_ROWS, type Row, type Sheet, withTotal } from './sheet.js';

const COUNT_AT = 5;
const MASS_AT = 6;

/** Rows of one group with a line of its sums below. */
const grouped = (label: string, rows: readonly Row[], before: number): readonly Row[] => {
  const from = HEAD_ROWS + before + 1;
  const to = from + rows.length - 1;
  const sum = (column: number, format: 'whole' | 'two'): Cell => ({
    formula: `SUBTOTAL(9,${columnName(column)}${from}:${columnName(column)}${to})`,
    value: rows.reduce((s, row) => s + cellValue(row.cells[column] ?? null), 0),
    format,
  });
  return [
    ...rows,
    { look: 'group', cells: [label, null, null, null, null, sum(COUNT_AT, 'whole'), sum(MASS_AT, 'two')] },
  ];
};

/** A list by walls or by pours: each group with its sums. */
const partsSheet = (
  result: Result,
  name: string,
  title: string,
  head: string,
  groups: readonly { readonly name: string; readonly label: string; readonly parts: readonly PartRow[] }[],
  notes: readonly string[],
  hasTotal: boolean,
): Sheet => {
  const gear = result.catalogue.lengthUnit;
  const columns: Column[] = [
    { head, width: 16 },
    { head: 'Item', width: 26 },
    { head: 'Kind', width: 20 },
    lengthHead('Width', result),
    lengthHead('Height', result),
    { head: 'Count', width: 9 },
    { head: 'Mass, kg', width: 12 },
  ];
  const rows: Row[] = [];
  for (const { name: own, label, parts } of groups) {
    const body = parts.map(
      (p): Row => ({
        cells: [
          own,
          itemText(result.catalogue, p.row.kind, p.row.item),
          KIND_WORDS[p.row.kind],
          lengthOrNone(p.row.widthMm, gear),
          lengthOrNone(p.row.heightMm, gear),
          count(p.count),
          kg(p.massKg),
        ],
      }),
    );
    if (body.length > 0) rows.push(...grouped(label, body, rows.length));
  }
  const sums = [
    { column: COUNT_AT, format: 'whole' as const },
    { column: MASS_AT, format: 'two' as const },
  ];
  return { name, title, columns, rows: hasTotal ? withTotal(rows, 'Whole', sums, columns.length) : rows, notes };
};

export const wallsSheet = (result: Result): Sheet => {
  const parts = wallRows(result);
  const groups = [...new Set(parts.map((p) => p.wall ?? ''))].map((wall) => {
    const own = parts.filter((p) => p.wall === wall);
    const pour = own[0]?.pour ?? null;
    const label = `${wall === '' ? 'at no wall' : wall}${pour === null ? '' : `, pour ${pour}`}`;
    return { name: wall, label, parts: own };
  });
  const notes = ['Each thing once: a corner is counted at the first of its walls, as in the setting list.'];
  return partsSheet(result, 'By wall', 'Wall by wall, in the order of the plan', 'Wall', groups, notes, true);
};

/** null where all is poured at once. */
export const poursSheet = (result: Result): Sheet | null => {
  const parts = pourRows(result);
  const pours = result.plan.pours ?? [];
  if (pours.length === 0) return null;
  const groups = pours.map((pour) => ({
    name: pour,
    label: `Pour ${pour}`,
    parts: parts.filter((p) => p.pour === pour),
  }));
  const notes = ['What stands between two pours is needed in both and counted in both: no sum over the pours.'];
  return partsSheet(result, 'By pour', 'Pour by pour, in the order of pouring', 'Pour', groups, notes, false);
};

export const timberSheet = (result: Result): Sheet => {
  const { lengthUnit: gear } = result.catalogue;
  const columns: Column[] = [
    { head: 'Mark', width: 10 },
    { head: 'Wall', width: 10 },
    { head: 'Kind', width: 16 },
    lengthHead('Net width', result),
    lengthHead('Tapered to', result),
    lengthHead('Net height', result),
    lengthHead('Thickness', result),
    { head: 'Count', width: 8 },
    lengthHead('Length together', result, 12),
    { head: 'Volume, m3', width: 11 },
    { head: 'Mass, kg', width: 10 },
    { head: 'Pieces', width: 40, wraps: true },
  ];
  const rows = cutRows(result).map((c): Row => {
    const meanMm = (c.widthMm + (c.row.narrowMm ?? c.widthMm)) / 2;
    return {
      cells: [
        c.mark,
        c.wall,
        KIND_WORDS[c.row.kind],
        length(c.widthMm, gear),
        c.row.narrowMm === undefined ? null : length(c.row.narrowMm, gear),
        length(c.lengthMm, gear),
        length(c.thicknessMm, gear),
        count(c.count),
        length(c.lengthMm * c.count, gear),
        { number: (meanMm * c.lengthMm * c.thicknessMm * c.count) / 1e9, format: 'three' },
        kg(c.massKg),
        c.pieces.join(', '),
      ],
    };
  });
  const sums = [
    { column: 7, format: 'whole' as const },
    { column: 8, format: gear === 'in' ? ('fraction' as const) : ('whole' as const) },
    { column: 9, format: 'three' as const },
    { column: 10, format: 'two' as const },
  ];
  return {
    name: 'Timber',
    title: 'Cut on site: timber, strips, bulkheads, box-outs',
    columns,
    rows: withTotal(rows, 'Total', sums, columns.length),
    notes: [
      ...(rows.length === 0 ? ['Nothing is cut.'] : []),
      'Net sizes, without allowance for the saw. Height stands along the wall’s height. Thickness is the frame’s depth unless it is a post beside a pilaster. Backing is not counted.',
    ],
  };
};

export const settingSheet = (result: Result): Sheet => {
  const { plan, catalogue, layout, schedule } = result;
  const gear = catalogue.lengthUnit;
  const marks = marksOf(plan, catalogue, layout);
  const pieces = new Map(layout.pieces.map((p) => [p.id, p]));
  const rowOf = new Map(schedule.rows.map((row) => [`${row.kind}\n${row.item}`, row]));
  const pourOf = new Map(plan.walls.map((w) => [w.id, w.pour ?? null]));
  const hasPours = plan.pours !== undefined;
  const columns: Column[] = [
    { head: 'Order', width: 8 },
    { head: 'Piece', width: 10 },
    { head: 'Mark', width: 14 },
    { head: 'Item', width: 24 },
    { head: 'Kind', width: 16 },
    { head: 'Wall', width: 10 },
    ...(hasPours ? [{ head: 'Pour', width: 12 }] : []),
    { head: 'Face', width: 12 },
    { head: 'Course', width: 8 },
    lengthHead('From station', result, 11),
    lengthHead('To station', result, 11),
    lengthHead('Base level', result, 11),
    { head: 'Mass, kg', width: 10 },
  ];
  const rows = (schedule.setting ?? []).map((s, i): Row => {
    const piece = pieces.get(s.piece);
    const row = rowOf.get(`${s.kind}\n${s.item}`);
    return {
      cells: [
        count(i + 1),
        s.piece,
        piece === undefined ? null : marks.ofPiece(piece).mark,
        itemText(catalogue, s.kind, s.item),
        KIND_WORDS[s.kind],
        s.wall,
        ...(hasPours ? [pourOf.get(s.wall) ?? null] : []),
        s.face,
        count(s.course),
        length(s.fromMm, gear),
        length(s.toMm, gear),
        piece === undefined ? null : length(piece.baseMm, gear),
        row === undefined || row.count === 0 ? null : kg(row.massKg / row.count),
      ],
    };
  });
  return {
    name: 'Setting',
    title: 'Setting list: by wall, face, course and station',
    columns,
    rows,
    notes: ['Set and align one face first; close the other when reinforcement and box-outs are checked.'],
  };
};
