/** The schedule as a workbook: the whole, its parts, in setting order, ready to be printed. Same result, same bytes. */

import type { Result } from '../../../ground/vocabulary.js';
import { gangsSheet } from './gangSheet.js';
import { accessoriesSheet, sparesSheet, tiesSheet, unitsSheet } from './itemSheets.js';
import { poursSheet, settingSheet, timberSheet, wallsSheet } from './partSheets.js';
import type { Sheet } from './sheet.js';
import { INCH_PAPER, METRIC_PAPER } from './sheetXml.js';
import { concreteSheet, summarySheet, weightsSheet } from './sumSheets.js';
import { workbook } from './workbook.js';

export const scheduleXlsx = (result: Result): Uint8Array => {
  const sheets: readonly (Sheet | null)[] = [
    summarySheet(result),
    unitsSheet(result),
    tiesSheet(result),
    accessoriesSheet(result),
    timberSheet(result),
    concreteSheet(result),
    weightsSheet(result),
    poursSheet(result),
    wallsSheet(result),
    settingSheet(result),
    gangsSheet(result),
    sparesSheet(result),
  ];
  const paper = result.catalogue.lengthUnit === 'in' ? INCH_PAPER : METRIC_PAPER;
  return workbook(
    sheets.filter((sheet) => sheet !== null),
    result.source.file,
    paper,
  );
};
