/**
 * Comma-separated records after RFC 4180: CRLF, a quoted field where it holds a comma, a quote or a line break, every record the same number of
 * fields. Text that a spreadsheet would run as a formula gets an apostrophe before it (OWASP, "CSV Injection"), since names of files and items
 * come from outside.
 */

/** Starts a formula in a spreadsheet, also after blanks and in its full-width form; a control sign at the start may hide one. */
const FORMULA_START = /^[\s\p{Cc}\p{Cf}]*[=+\-@＝＋－＠]|^[\p{Cc}]/u;

/** One field of text. */
const textField = (value: string): string => {
  const safe = FORMULA_START.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
};

/** A field: text is made safe; numbers must be formatted (plainNumber) and are checked to be nothing else; null is empty. */
export type Field = { readonly number: string } | string | null;

const fieldText = (field: Field): string => {
  if (field === null) return '';
  if (typeof field === 'string') return textField(field);
  if (!/^-?\d+(\.\d+)?$/.test(field.number)) throw new Error(`not a plain number: ${field.number}`);
  return field.number;
};

/** All records, header first, each ended by CRLF. Throws when a record has another number of fields than the header: our own mistake. */
export const csvText = (records: readonly (readonly Field[])[]): string =>
  records
    .map((record) => {
      if (record.length !== records[0]!.length) throw new Error('records of different length');
      return `${record.map(fieldText).join(',')}\r\n`;
    })
    .join('');
