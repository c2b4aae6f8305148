/** What a sheet of the workbook holds, before it becomes XML. */

/** How a number is shown. Fractions are inches to a sixteenth. */
export type NumberFormat = 'whole' | 'one' | 'two' | 'three' | 'fraction';

export type Cell =
  | null
  | string
  | { readonly number: number; readonly format: NumberFormat }
  /** A formula with its value, so that readers that do not calculate have it too. */
  | { readonly formula: string; readonly value: number; readonly format: NumberFormat };

export interface Column {
  /** With its unit. */
  readonly head: string;
  /** In characters. */
  readonly width: number;
  /** Long text that goes on in further lines. */
  readonly wraps?: boolean;
}

export type RowLook = 'plain' | 'short' | 'group' | 'total';

export interface Row {
  readonly cells: readonly Cell[];
  readonly look?: RowLook;
}

export interface Sheet {
  /** Up to 31 characters; none of \ / ? * [ ] : (ECMA-376 leaves it to the program; these are what spreadsheets refuse). */
  readonly name: string;
  readonly title: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** Sentences below the table. */
  readonly notes: readonly string[];
}

/** Title and header stand above the rows, and on every printed page. */
export const HEAD_ROWS = 2;

/** 'A', 'Z', 'AA' of 0, 25, 26. */
export const columnName = (index: number): string =>
  index < 26
    ? String.fromCharCode(65 + index)
    : columnName(Math.floor(index / 26) - 1) + String.fromCharCode(65 + (index % 26));

/** The rows of a table with sums under the columns that are named, by a formula over its rows. */
export const withTotal = (
  rows: readonly Row[],
  label: string,
  sums: readonly { readonly column: number; readonly format: NumberFormat }[],
  columns: number,
): readonly Row[] => {
  if (rows.length === 0) return rows;
  const cells: Cell[] = Array.from({ length: columns }, () => null);
  cells[0] = label;
  for (const { column, format } of sums) {
    const name = columnName(column);
    const value = rows.reduce((sum, row) => sum + (row.look === 'group' ? 0 : cellValue(row.cells[column] ?? null)), 0);
    const formula = `SUBTOTAL(9,${name}${HEAD_ROWS + 1}:${name}${HEAD_ROWS + rows.length})`;
    cells[column] = { formula, value, format };
  }
  return [...rows, { cells, look: 'total' }];
};

export const cellValue = (cell: Cell): number =>
  cell === null || typeof cell === 'string' ? 0 : 'number' in cell ? cell.number : cell.value;
