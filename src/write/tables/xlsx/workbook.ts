/**
 * A workbook after ECMA-376 (Office Open XML, SpreadsheetML), by hand: the parts are few, and a writer from outside would bring a clock and a tree of packages.
 * Strings stand in the cells (18.3.1.53), so that no text can be read as a formula. Same sheets, same bytes.
 */

import { strToU8, type Zippable, zipSync } from 'fflate';
import { columnName, HEAD_ROWS, type Sheet } from './sheet.js';
import { type Paper, sheetXml } from './sheetXml.js';
import { stylesXml } from './styles.js';
import { escaped, part } from './xml.js';

/** Of the archive's entries: the first day that ZIP knows. Without a zone, so that it gives the same bytes everywhere. */
const ARCHIVE_DATE = '1980-01-01T00:00:00';
const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const RELATIONS = 'http://schemas.openxmlformats.org/package/2006/relationships';
const DOCUMENT = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const TYPES = 'application/vnd.openxmlformats-officedocument.spreadsheetml';

const quoted = (name: string): string => `'${name.replaceAll("'", "''")}'`;

const contentTypes = (count: number): string => {
  const sheets = Array.from(
    { length: count },
    (_, i) => `<Override PartName="/xl/worksheets/sheet${i + 1}.xml" ContentType="${TYPES}.worksheet+xml"/>`,
  );
  return part(
    `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="${TYPES}.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="${TYPES}.styles+xml"/>${sheets.join('')}</Types>`,
  );
};

const relations = (items: readonly (readonly [type: string, target: string])[]): string =>
  part(
    `<Relationships xmlns="${RELATIONS}">${items
      .map(([type, target], i) => `<Relationship Id="rId${i + 1}" Type="${DOCUMENT}/${type}" Target="${target}"/>`)
      .join('')}</Relationships>`,
  );

/** Title and header on every printed page; where the filter stands. */
const definedNames = (sheets: readonly Sheet[]): string => {
  const filters = sheets.map(({ name, columns, rows }, i) => {
    const last = HEAD_ROWS + rows.filter((row) => row.look !== 'total').length;
    return last === HEAD_ROWS
      ? ''
      : `<definedName name="_xlnm._FilterDatabase" localSheetId="${i}" hidden="1">${escaped(quoted(name))}!$A$${HEAD_ROWS}:$${columnName(columns.length - 1)}$${last}</definedName>`;
  });
  const titles = sheets.map(
    ({ name }, i) =>
      `<definedName name="_xlnm.Print_Titles" localSheetId="${i}">${escaped(quoted(name))}!$1:$${HEAD_ROWS}</definedName>`,
  );
  return `<definedNames>${[...filters, ...titles].join('')}</definedNames>`;
};

const workbookXml = (sheets: readonly Sheet[]): string => {
  const list = sheets.map((s, i) => `<sheet name="${escaped(s.name)}" sheetId="${i + 1}" r:id="rId${i + 1}"/>`);
  return part(
    `<workbook xmlns="${MAIN}" xmlns:r="${DOCUMENT}"><bookViews><workbookView activeTab="0"/></bookViews><sheets>${list.join('')}</sheets>${definedNames(sheets)}<calcPr fullCalcOnLoad="1"/></workbook>`,
  );
};

/** The bytes of the workbook. `file` stands in the footers. */
export const workbook = (sheets: readonly Sheet[], file: string, paper: Paper): Uint8Array => {
  const parts: Zippable = {
    '[Content_Types].xml': strToU8(contentTypes(sheets.length)),
    '_rels/.rels': strToU8(relations([['officeDocument', 'xl/workbook.xml']])),
    'xl/workbook.xml': strToU8(workbookXml(sheets)),
    'xl/_rels/workbook.xml.rels': strToU8(
      relations([
        ...sheets.map((_, i) => ['worksheet', `worksheets/sheet${i + 1}.xml`] as const),
        ['styles', 'styles.xml'],
      ]),
    ),
    'xl/styles.xml': strToU8(stylesXml()),
  };
  sheets.forEach((sheet, i) => {
    parts[`xl/worksheets/sheet${i + 1}.xml`] = strToU8(sheetXml(sheet, file, paper));
  });
  return zipSync(parts, { mtime: ARCHIVE_DATE });
};
