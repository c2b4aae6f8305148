/** The form of our JSON files: one line an entry, so that two of them can be compared line by line. */

/** One line an entry of a list and a key of an object; what stands deeper stays on its line. */
const entryLines = (value: unknown): string => {
  const inner = (lines: readonly string[], open: string, close: string) =>
    lines.length === 0 ? open + close : `${open}\n${lines.map((line) => `    ${line}`).join(',\n')}\n  ${close}`;
  if (Array.isArray(value))
    return inner(
      value.map((v) => JSON.stringify(v)),
      '[',
      ']',
    );
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  return inner(
    Object.entries(value).map(([key, v]) => `${JSON.stringify(key)}: ${JSON.stringify(v)}`),
    '{',
    '}',
  );
};

/** A whole document, ending in a line feed. */
export const documentLines = (document: object): string => {
  const lines = Object.entries(document).map(([key, value]) => `  ${JSON.stringify(key)}: ${entryLines(value)}`);
  return `{\n${lines.join(',\n')}\n}\n`;
};
