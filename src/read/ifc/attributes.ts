/** Values of attributes as they stand in a line. Anything may stand in a file: what is not of the kind asked for is null. */

/** A reference to another instance. */
export class Ref {
  constructor(readonly id: number) {}
}

/** An item of an enumeration; T, F and U are those of truth. */
export class Item {
  constructor(readonly name: string) {}
}

/** A value with the name of its type before it, as selects demand: IFCPARAMETERVALUE(0.5). */
export class Typed {
  constructor(
    readonly name: string,
    readonly of: readonly Value[],
  ) {}
}

/** A list of lists of three numbers each, such as points and triangles of a mesh: all numbers in one list. */
export class Triples {
  constructor(readonly numbers: readonly number[]) {}

  /** The same as a list of lists. */
  rows(): readonly (readonly number[])[] {
    const rows: number[][] = [];
    for (let i = 0; i + 2 < this.numbers.length; i += 3) rows.push(this.numbers.slice(i, i + 3));
    return rows;
  }
}

/** null: absent ($) or derived (*). */
export type Value = null | number | string | Ref | Item | Typed | Triples | readonly Value[];

/** An instance: attributes by the names of the schema. */
export type Line = Readonly<Record<string, Value | undefined>> & { readonly expressID: number; readonly type: number };

type Given = Value | undefined;

/** What stands within the name of a type, else the value itself. */
const plain = (value: Given): Given => (value instanceof Typed && value.of.length === 1 ? value.of[0] : value);

/** Number of the instance that is referred to. */
export const refOf = (value: Given): number | null => (value instanceof Ref ? value.id : null);

export const numberOf = (value: Given): number | null => {
  const inner = plain(value);
  return typeof inner === 'number' && Number.isFinite(inner) ? inner : null;
};

export const textOf = (value: Given): string | null => {
  const inner = plain(value);
  return typeof inner === 'string' ? inner : null;
};

/** Text that says something: not empty, not blanks. */
export const nameOf = (value: Given): string | null => {
  const text = textOf(value);
  return text === null || text.trim() === '' ? null : text;
};

/** Item of an enumeration. */
export const itemOf = (value: Given): string | null => (value instanceof Item ? value.name : null);

export const booleanOf = (value: Given): boolean | null => {
  const item = itemOf(plain(value));
  return item === 'T' ? true : item === 'F' ? false : null;
};

/** Name of the type that a value of a select is given in: 'IFCPARAMETERVALUE'. */
export const typeNameOf = (value: Given): string | null => (value instanceof Typed ? value.name : null);

const NONE: readonly Value[] = [];

export const listOf = (value: Given): readonly Value[] => {
  const inner = plain(value);
  if (inner instanceof Triples) return inner.rows();
  return Array.isArray(inner) ? (inner as readonly Value[]) : NONE;
};

/** Numbers of a list of lists of three, one after the other; null where it is none. */
export const triplesOf = (value: Given): readonly number[] | null => (value instanceof Triples ? value.numbers : null);

export const refsOf = (value: Given): readonly number[] => {
  const found: number[] = [];
  for (const item of listOf(value)) if (item instanceof Ref) found.push(item.id);
  return found;
};

/** All numbers of a list, or null where one is missing or not finite. */
export const numbersOf = (value: Given): readonly number[] | null => {
  const list = listOf(value);
  if (areNumbers(list)) return list;
  const found: number[] = [];
  for (const item of list) {
    const number = numberOf(item);
    if (number === null) return null;
    found.push(number);
  }
  return found;
};

const areNumbers = (list: readonly Value[]): list is readonly number[] => {
  for (let i = 0; i < list.length; i++) if (!Number.isFinite(list[i])) return false;
  return true;
};
