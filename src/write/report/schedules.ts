/** What goes on the truck, and in which order it is set. */

import { cutRows } from '../../ground/cutList.js';
import { shortOf } from '../../ground/pours.js';
import { itemText } from '../../ground/sizes.js';
import { plainNumber } from '../../ground/units.js';
import type { Result, ScheduleRow, Totals } from '../../ground/vocabulary.js';
import { html, type Markup } from './markup.js';
import { type Amount, amountNumber, amountUnit, type GearUnit, KIND_WORDS, lengthText, unitSize } from './sizes.js';
import { type Row, table } from './table.js';

/** Size of a row: from the catalogue where it has the item (corners have legs), else as cut. */
const rowSize = (row: ScheduleRow, result: Result): string => {
  const gear = result.catalogue.lengthUnit;
  if (row.kind === 'tie' || row.kind === 'lock' || row.kind === 'clamp') return '';
  const unit = result.catalogue.units.find((u) => u.id === row.item);
  if (unit !== undefined) return unitSize(unit, gear);
  if (row.heightMm === 0) return row.widthMm === 0 ? '' : lengthText(row.widthMm, gear);
  const tapers = row.narrowMm === undefined ? '' : ` tapered to ${lengthText(row.narrowMm, gear)}`;
  return `${lengthText(row.widthMm, gear)}${tapers} x ${lengthText(row.heightMm, gear)}`;
};

const itemRow = (row: ScheduleRow, result: Result): Row => {
  const short = shortOf(row);
  return {
    ...(short > 0 ? { look: 'attention' } : {}),
    cells: [
      itemText(result.catalogue, row.kind, row.item),
      KIND_WORDS[row.kind],
      rowSize(row, result),
      plainNumber(row.count, 0),
      ...(row.inPours ?? []).map(({ count }) => plainNumber(count, 0)),
      plainNumber(row.massKg, 1),
      row.stock === null ? 'not limited' : plainNumber(row.stock, 0),
      short > 0 ? `${plainNumber(short, 0)} short` : '',
      row.remark ?? '',
    ],
  };
};

const TOTAL_WORDS: readonly (readonly [key: keyof Totals, name: string, of: Amount | null, places: number])[] = [
  ['wallLengthM', 'wall length along the axes', 'length', 2],
  ['contactAreaM2', 'contact area, left and right faces', 'area', 3],
  ['contactAreaNetM2', 'the same less openings', 'area', 3],
  ['endAreaM2', 'area of wall ends', 'area', 3],
  ['panelAreaM2', 'area of panels, as hired', 'area', 3],
  ['timberAreaM2', 'timber on wall faces, cut at the pour line', 'area', 4],
  ['concreteM3', 'concrete in the walls', 'volume', 3],
  ['massKg', 'mass of everything listed', 'mass', 1],
  ['tieCount', 'ties', null, 0],
];

export const scheduleSection = (result: Result): Markup => {
  const { rows, totals } = result.schedule;
  const gear = result.catalogue.lengthUnit;
  const columns = [
    { head: 'Item' },
    { head: 'Kind' },
    { head: `Size, ${gear}` },
    { head: 'Count', figures: true },
    ...(result.plan.pours ?? []).map((name) => ({ head: `Pour ${name}`, figures: true })),
    { head: 'Mass, kg', figures: true },
    { head: 'Yard’s stock', figures: true },
    { head: 'Short' },
    { head: 'Remark' },
  ];
  const items = rows.map((row) => itemRow(row, result));
  const sums = TOTAL_WORDS.map(([key, name, of, places]) => ({
    cells:
      of === null
        ? [name, plainNumber(totals[key], places), 'pieces']
        : [name, amountNumber(of, totals[key], gear, places), amountUnit(of, gear)],
  }));
  const sumColumns = [{ head: 'Total' }, { head: 'Value', figures: true }, { head: 'Unit' }];
  return html`<section id="schedule">
<h2>Schedule</h2>
${table('Items', columns, items, 'Nothing was laid out.')}
${cutsTable(result)}
<p>Spares are not counted. Usual are 3 % of ties, at least 5 of each length (common practice, no source).</p>
${table('Totals', sumColumns, sums, '')}
</section>`;
};

/** What is sawn, with its mark and its pieces as the elevations have them: the foreman builds from this print, not from the workbook. */
const cutsTable = (result: Result): Markup => {
  const gear = result.catalogue.lengthUnit;
  const cuts = cutRows(result);
  if (cuts.length === 0) return html``;
  const figures = (head: string) => ({ head, figures: true });
  const columns = [
    { head: 'Mark' },
    { head: 'Wall' },
    { head: 'Kind' },
    figures(`Net width, ${gear}`),
    figures(`Tapered to, ${gear}`),
    figures(`Net height, ${gear}`),
    figures(`Thickness, ${gear}`),
    figures('Count'),
    { head: 'Pieces' },
  ];
  const rows = cuts.map(({ mark, wall, row, widthMm, lengthMm, thicknessMm, count, pieces }) => ({
    cells: [
      mark,
      wall,
      KIND_WORDS[row.kind],
      lengthText(widthMm, gear),
      row.narrowMm === undefined ? '' : lengthText(row.narrowMm, gear),
      lengthText(lengthMm, gear),
      lengthText(thicknessMm, gear),
      plainNumber(count, 0),
      pieces.join(', '),
    ],
  }));
  return html`${table('Cut on site: timber, strips, bulkheads, box-outs', columns, rows, '')}
<p>Net sizes, without allowance for the saw; the height stands along the wall’s. Backing is not counted.</p>`;
};

const stations = (fromMm: number, toMm: number, gear: GearUnit): string =>
  fromMm === toMm ? lengthText(fromMm, gear) : `${lengthText(fromMm, gear)} – ${lengthText(toMm, gear)}`;

export const settingSection = (result: Result): Markup => {
  const setting = result.schedule.setting ?? [];
  const gear = result.catalogue.lengthUnit;
  const rowByItem = new Map(result.schedule.rows.map((row) => [`${row.kind} ${row.item}`, row]));
  const columns = [
    { head: 'Order', figures: true },
    { head: 'Piece' },
    { head: 'Item' },
    { head: 'Kind' },
    { head: `Size, ${gear}` },
    { head: 'Wall' },
    { head: 'Face' },
    { head: 'Course', figures: true },
    { head: `Stations, ${gear}`, figures: true },
  ];
  const rows = setting.map((s, i) => {
    const row = rowByItem.get(`${s.kind} ${s.item}`);
    return {
      cells: [
        plainNumber(i + 1, 0),
        s.piece,
        itemText(result.catalogue, s.kind, s.item),
        KIND_WORDS[s.kind],
        row === undefined ? '' : rowSize(row, result),
        s.wall,
        s.face,
        plainNumber(s.course, 0),
        stations(s.fromMm, s.toMm, gear),
      ],
    };
  });
  return html`<section id="setting">
<h2>Setting list</h2>
<p>By wall, face, course and station. Set and align one face first; close the other when reinforcement and box-outs are checked.</p>
${table('Pieces in setting order', columns, rows, 'Nothing was laid out.')}
</section>`;
};
