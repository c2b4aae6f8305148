/** The header of a STEP file: schema and time stamp, and what is wrong with it. */

export interface Header {
  /** As FILE_SCHEMA spells it; null where there is none. */
  readonly schemaName: string | null;
  readonly schema: 'IFC2X3' | 'IFC4' | 'IFC4X3' | null;
  /** The name under which the engine knows the schema; null: not one that is read. */
  readonly engineSchema: string | null;
  readonly timeStamp: string | null;
  /** Not written as ISO 10303-21 says; what could be read of it was read. */
  readonly broken: boolean;
}

const SCHEMAS: readonly (readonly [RegExp, NonNullable<Header['schema']>, string])[] = [
  [/^IFC2X3(_TC1|_FINAL)?$/, 'IFC2X3', 'IFC2X3'],
  [/^IFC4(_ADD1|_ADD2|_ADD2_TC1)?$/, 'IFC4', 'IFC4'],
  [/^IFC4X3(_TC1|_ADD1|_ADD2)?$/, 'IFC4X3', 'IFC4X3_ADD2'],
];

/** One parameter list read from its opening bracket: nested lists of texts; null where it is not well-formed. */
type Parameters = readonly (string | null | Parameters)[];

const parametersAt = (text: string, at: number): { readonly list: Parameters; readonly end: number } | null => {
  const list: (string | null | Parameters)[] = [];
  let i = at + 1;
  let wanted = true;
  for (;;) {
    while (i < text.length && text.charCodeAt(i) <= 32) i++;
    const c = text[i];
    if (c === undefined) return null;
    if (c === ')') return { list, end: i + 1 };
    if (c === ',') {
      if (wanted) return null;
      wanted = true;
      i++;
    } else if (!wanted) return null;
    else if (c === "'") {
      let end = i + 1;
      while (end < text.length && (text[end] !== "'" || text[end + 1] === "'")) end += text[end] === "'" ? 2 : 1;
      if (end >= text.length) return null;
      list.push(text.slice(i + 1, end).replaceAll("''", "'"));
      i = end + 1;
      wanted = false;
    } else if (c === '(') {
      const inner = parametersAt(text, i);
      if (inner === null) return null;
      list.push(inner.list);
      i = inner.end;
      wanted = false;
    } else if (c === '$' || c === '*') {
      list.push(null);
      i++;
      wanted = false;
    } else return null;
  }
};

/** Parameters of a header entity; null where it is missing, 'broken' where it is not well-formed. */
const entity = (text: string, pattern: RegExp): Parameters | null | 'broken' => {
  const found = pattern.exec(text);
  if (found === null) return null;
  const open = found.index + found[0].length - 1;
  const read = parametersAt(text, open);
  return read === null || !/^\s*;/.test(text.slice(read.end, read.end + 200)) ? 'broken' : read.list;
};

/** Longest header that is looked at. */
const LONGEST = 1_000_000;
const DEEPEST_BRACKETS = 8;

/** Comments taken out; brackets nested beyond reason make it broken. */
const plain = (text: string): string => (text.includes('/*') ? text.replace(/\/\*[\s\S]*?\*\//g, ' ') : text);
const TOO_DEEP = new RegExp(`(\\(\\s*){${DEEPEST_BRACKETS},}`);

const ENTITIES = ['FILE_DESCRIPTION', 'FILE_NAME', 'FILE_SCHEMA'].map(
  (name) => new RegExp(`(^|[;\\s])${name}\\s*\\(`, 'i'),
);

/** First text of nested lists. */
const firstText = (list: Parameters): string | null => {
  for (const item of list) {
    if (typeof item === 'string') return item;
    if (Array.isArray(item)) {
      const inner = firstText(item);
      if (inner !== null) return inner;
    }
  }
  return null;
};

export const headerOf = (bytes: Uint8Array): Header => {
  const text = plain(new TextDecoder('latin1').decode(bytes.subarray(0, LONGEST)));
  const deep = TOO_DEEP.test(text);
  const [description, name, schema] = ENTITIES.map((pattern) => (deep ? 'broken' : entity(text, pattern)));
  const lists = [description, name, schema];
  // Of a broken schema line the name in quotation marks still says it.
  const schemaName =
    schema === null
      ? null
      : schema === 'broken' || schema === undefined
        ? (/FILE_SCHEMA[^;]{0,40}?'([A-Z0-9_]{3,30})'/i.exec(text)?.[1] ?? null)
        : firstText(schema);
  const key = schemaName?.trim().toUpperCase() ?? '';
  const known = SCHEMAS.find(([pattern]) => pattern.test(key));
  const stamp = Array.isArray(name) && typeof name[1] === 'string' ? name[1].trim() : '';
  return {
    schemaName: schemaName === null || schemaName.trim() === '' ? null : schemaName.trim(),
    schema: known?.[1] ?? null,
    engineSchema: known?.[2] ?? null,
    timeStamp: stamp === '' ? null : stamp,
    broken: lists.some((list) => list === 'broken' || list === null),
  };
};
