/** One worksheet (ECMA-376 part 1, 18.3): title, header that stays in view and on every page, rows, notes, and how it is printed. */

import { type Cell, type Column, columnName, HEAD_ROWS, type Row, type RowLook, type Sheet } from './sheet.js';
import { rowStyle, STYLE } from './styles.js';
import { cellText, escaped, part } from './xml.js';

/** Paper sizes of ST_PaperSize (18.3.1.63): the smaller one, and the larger one for wide tables. */
export interface Paper {
  readonly usual: number;
  readonly large: number;
}
export const METRIC_PAPER: Paper = { usual: 9, large: 8 };
export const INCH_PAPER: Paper = { usual: 1, large: 3 };

/** A table wider than this many characters is printed on the larger paper: landscape A4 holds about so many at 9 points. */
const WIDE_CHARACTERS = 170;
/** Excel's own limit of a header or footer is 255 characters; a longer name is left to the program, which knows the file. */
const FOOTER_NAME_MOST = 90;
const NUMBER_PLACES = 6;

const numberText = (value: number): string => {
  if (!Number.isFinite(value)) throw new Error(`a cell cannot hold ${value}`);
  return String(Number(value.toFixed(NUMBER_PLACES)) || 0);
};

const textXml = (at: string, style: number, text: string): string =>
  `<c r="${at}" s="${style}" t="inlineStr"><is><t xml:space="preserve">${cellText(text)}</t></is></c>`;

const cellXml = (at: string, cell: Cell, look: RowLook, wraps: boolean): string => {
  if (cell === null) return `<c r="${at}" s="${rowStyle(look, 'text')}"/>`;
  if (typeof cell === 'string') return textXml(at, rowStyle(look, wraps ? 'wrapped' : 'text'), cell);
  const style = rowStyle(look, cell.format);
  if ('formula' in cell)
    return `<c r="${at}" s="${style}"><f>${escaped(cell.formula)}</f><v>${numberText(cell.value)}</v></c>`;
  return `<c r="${at}" s="${style}"><v>${numberText(cell.number)}</v></c>`;
};

const LINE_POINTS = 13.5;

/** Lines that a text takes in a column, with a little room for words that do not break. */
const linesIn = (text: string, width: number): number => Math.max(1, Math.ceil((text.length * 1.15) / width));

/** Height for what goes on in further lines; programs do not all work it out themselves. */
const heightAttribute = (lines: number): string =>
  lines === 1 ? '' : ` ht="${Math.min(409, lines * LINE_POINTS)}" customHeight="1"`;

const linesOf = (cells: readonly Cell[], columns: readonly Column[]): number =>
  Math.max(
    1,
    ...cells.map((cell, i) =>
      typeof cell === 'string' && columns[i]!.wraps === true ? linesIn(cell, columns[i]!.width - 2) : 1,
    ),
  );

const rowXml = (number: number, { cells, look = 'plain' }: Row, columns: readonly Column[]): string => {
  if (cells.length !== columns.length) throw new Error('a row of a sheet has another number of cells than its header');
  const inner = cells.map((cell, i) => cellXml(`${columnName(i)}${number}`, cell, look, columns[i]!.wraps === true));
  return `<row r="${number}"${heightAttribute(linesOf(cells, columns))}>${inner.join('')}</row>`;
};

const isFigures = (sheet: Sheet, column: number): boolean => {
  const cells = sheet.rows.map((row) => row.cells[column] ?? null).filter((cell) => cell !== null);
  return cells.length > 0 && cells.every((cell) => typeof cell !== 'string');
};

const footer = (file: string): string => {
  const safe = file.replaceAll('&', '&&');
  const name = safe.length <= FOOTER_NAME_MOST ? safe : '&F';
  return `&L${name} - &A&CPage &P of &N&RAn aid to a competent person: see cautions`;
};

/** The worksheet. The title stands in row 1, the header in row 2. */
export const sheetXml = (sheet: Sheet, file: string, paper: Paper): string => {
  const { columns, rows, notes } = sheet;
  const last = columnName(columns.length - 1);
  const characters = columns.reduce((sum, c) => sum + c.width, 0);
  const cols = columns.map((c, i) => `<col min="${i + 1}" max="${i + 1}" width="${c.width}" customWidth="1"/>`);
  const heads = columns.map((c, i) =>
    textXml(`${columnName(i)}2`, isFigures(sheet, i) ? STYLE.headFigures : STYLE.head, c.head),
  );
  // Words of a heading stand one below the other where its column is narrow.
  const headLines = Math.max(...columns.map((c) => Math.min(c.head.split(' ').length, linesIn(c.head, c.width - 1))));
  const body = rows.map((row, i) => rowXml(HEAD_ROWS + 1 + i, row, columns));
  const firstNote = HEAD_ROWS + rows.length + 2;
  const noteRows = notes.map((note, i) => {
    const at = firstNote + i;
    return `<row r="${at}"${heightAttribute(linesIn(note, characters))}>${textXml(`A${at}`, STYLE.note, note)}</row>`;
  });
  const merges = notes.map((_, i) => `<mergeCell ref="A${firstNote + i}:${last}${firstNote + i}"/>`);
  const lastRow = Math.max(HEAD_ROWS + rows.length, notes.length === 0 ? 0 : firstNote + notes.length - 1);
  const filtered = HEAD_ROWS + rows.filter((row) => row.look !== 'total').length;
  const size = characters > WIDE_CHARACTERS ? paper.large : paper.usual;
  return part(
    [
      '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">',
      '<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>',
      `<dimension ref="A1:${last}${lastRow}"/>`,
      `<sheetViews><sheetView workbookViewId="0"><pane ySplit="${HEAD_ROWS}" topLeftCell="A${HEAD_ROWS + 1}" activePane="bottomLeft" state="frozen"/><selection pane="bottomLeft" activeCell="A${HEAD_ROWS + 1}" sqref="A${HEAD_ROWS + 1}"/></sheetView></sheetViews>`,
      '<sheetFormatPr defaultRowHeight="13.5"/>',
      `<cols>${cols.join('')}</cols>`,
      '<sheetData>',
      `<row r="1" ht="22" customHeight="1">${textXml('A1', STYLE.title, sheet.title)}</row>`,
      `<row r="2"${heightAttribute(headLines)}>${heads.join('')}</row>`,
      ...body,
      ...noteRows,
      '</sheetData>',
      filtered > HEAD_ROWS ? `<autoFilter ref="A${HEAD_ROWS}:${last}${filtered}"/>` : '',
      merges.length > 0 ? `<mergeCells count="${merges.length}">${merges.join('')}</mergeCells>` : '',
      '<printOptions gridLines="0"/>',
      '<pageMargins left="0.4" right="0.4" top="0.5" bottom="0.6" header="0.3" footer="0.3"/>',
      `<pageSetup paperSize="${size}" orientation="landscape" fitToWidth="1" fitToHeight="0"/>`,
      `<headerFooter><oddFooter>${escaped(footer(file))}</oddFooter></headerFooter>`,
      '</worksheet>',
    ].join(''),
  );
};
