/** XML text for the parts of a workbook: texts are escaped, characters that XML 1.0 does not allow become U+FFFD. */

/** Outside the Char production of XML 1.0 (W3C, 5th ed., 2.2). */
const NOT_XML = /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu;

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** As it may stand in an element or in a quoted attribute. */
export const escaped = (text: string): string =>
  text.replace(NOT_XML, '\uFFFD').replace(/[&<>"]/g, (sign) => ENTITIES[sign]!);

/** The most characters that spreadsheets take in a cell, and what says that there are more. */
const CELL_MOST = 32767;
const CUT = ' ... (cut here: a cell holds no more)';

/**
 * The text of a cell: besides, what looks like the format's own escape of a character ('_x000D_') is escaped itself, so that it is read as it was
 * (ECMA-376 part 1, 22.9.2.19, ST_Xstring).
 */
export const cellText = (text: string): string => {
  const whole = text.length <= CELL_MOST ? text : `${text.slice(0, CELL_MOST - CUT.length)}${CUT}`;
  return escaped(whole.replace(/_(?=x[0-9A-Fa-f]{4}_)/g, '_x005F_'));
};

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
export const part = (xml: string): string => `${HEAD}${xml}\n`;
