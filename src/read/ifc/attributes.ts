/** Values of attributes as the engine hands them over. Anything may stand in a file: what is not of the kind asked for is null. */

/** An instance: attributes by the names of the schema. */
export type Line = Readonly<Record<string, unknown>> & { readonly expressID: number; readonly type: number };

interface Typed {
  readonly type: number;
  readonly value?: unknown;
  readonly name?: string;
}

const typed = (value: unknown): Typed | null =>
  typeof value === 'object' && value !== null && 'type' in value ? (value as Typed) : null;

/** Codes of the engine for what stands in a line: text, enumeration, reference. */
const TEXT = 1;
const ENUM = 3;
const REFERENCE = 5;

/** Number of the instance that is referred to. */
export const refOf = (value: unknown): number | null => {
  const v = typed(value);
  return v !== null && v.type === REFERENCE && typeof v.value === 'number' && v.value > 0 ? v.value : null;
};

export const numberOf = (value: unknown): number | null => {
  if (typeof value === 'number') return Number.isFinite(value) ? value : null;
  const inner = typed(value)?.value;
  return typeof inner === 'number' && Number.isFinite(inner) ? inner : null;
};

export const textOf = (value: unknown): string | null => {
  const v = typed(value);
  return v !== null && v.type === TEXT && typeof v.value === 'string' ? v.value : null;
};

/** Text that says something: not empty, not blanks. */
export const nameOf = (value: unknown): string | null => {
  const text = textOf(value);
  return text === null || text.trim() === '' ? null : text;
};

/** Item of an enumeration. */
export const itemOf = (value: unknown): string | null => {
  const v = typed(value);
  return v !== null && v.type === ENUM && typeof v.value === 'string' ? v.value : null;
};

export const booleanOf = (value: unknown): boolean | null => {
  const v = typed(value);
  if (v === null) return null;
  if (v.value === true || v.value === 'T') return true;
  return v.value === false || v.value === 'F' ? false : null;
};

/** Name of the defined type that a value of a select is given in: 'IFCPARAMETERVALUE'. */
export const typeNameOf = (value: unknown): string | null => {
  const v = typed(value);
  return v !== null && v.type !== REFERENCE && typeof v.name === 'string' ? v.name : null;
};

export const listOf = (value: unknown): readonly unknown[] => {
  if (Array.isArray(value)) return value;
  const inner = typed(value)?.value;
  return Array.isArray(inner) ? inner : [];
};

export const refsOf = (value: unknown): readonly number[] => {
  const found: number[] = [];
  for (const item of listOf(value)) {
    const ref = refOf(item);
    if (ref !== null) found.push(ref);
  }
  return found;
};

/** All numbers of a list, or null where one is missing or not finite. */
export const numbersOf = (value: unknown): readonly number[] | null => {
  const found: number[] = [];
  for (const item of listOf(value)) {
    const number = numberOf(item);
    if (number === null) return null;
    found.push(number);
  }
  return found;
};
