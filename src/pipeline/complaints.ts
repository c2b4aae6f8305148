/** Turns what zod found wrong with a file into plain sentences that name the key by its path. */

import type { z } from 'zod';

type Issue = z.core.$ZodIssue;

/** 'levels.at[0].near'; 'the file' for the whole. */
export const pathText = (path: readonly PropertyKey[]): string => {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else text += text === '' ? String(step) : `.${String(step)}`;
  }
  return text === '' ? 'the file' : text;
};

const NAMES: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  array: 'a list',
  tuple: 'a list',
  object: 'a group of keys',
  record: 'a group of keys',
  boolean: 'true or false',
};

const kindOf = (value: unknown): string => {
  if (value === undefined) return 'missing';
  if (value === null) return 'empty';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'number' && !Number.isFinite(value)) return 'not a finite number';
  return NAMES[typeof value] ?? `a ${typeof value}`;
};

const valueAt = (value: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (at, step) => (at !== null && typeof at === 'object' ? (at as Record<PropertyKey, unknown>)[step] : undefined),
    value,
  );

const sizeText = (issue: Issue & { code: 'too_small' | 'too_big' }): string => {
  const lists = issue.origin === 'array' || issue.origin === 'string' || issue.origin === 'tuple';
  if (issue.code === 'too_small') {
    const bound = String(issue.minimum);
    if (lists) return `is too short: at least ${bound}`;
    return issue.inclusive === false ? `must be more than ${bound}` : `must be at least ${bound}`;
  }
  const bound = String(issue.maximum);
  if (lists) return `is too long: at most ${bound}`;
  return issue.inclusive === false ? `must be less than ${bound}` : `must be at most ${bound}`;
};

/** How a schema begins that names both ends of a range itself. */
const RANGE_WORDS = 'must lie between ';

const rangeText = (where: string, issue: Issue, value: unknown): string => {
  const at = valueAt(value, issue.path);
  return `${where} ${issue.message}, but is ${typeof at === 'number' && Number.isFinite(at) ? String(at) : kindOf(at)}`;
};

/** One sentence without its full stop for an issue of `value`; `known` gives the keys that are known at a path. */
const complaint = (
  issue: Issue,
  value: unknown,
  known: (path: readonly PropertyKey[]) => readonly string[],
): string => {
  const where = pathText(issue.path);
  if (issue.code !== 'custom' && issue.message.startsWith(RANGE_WORDS)) return rangeText(where, issue, value);
  switch (issue.code) {
    case 'unrecognized_keys': {
      const keys = issue.keys.map((key) => pathText([...issue.path, key]));
      const list = known(issue.path);
      return `${keys.join(', ')} is not known${list.length > 0 ? ` (known there: ${list.join(', ')})` : ''}`;
    }
    case 'invalid_type':
      return `${where} must be ${NAMES[issue.expected] ?? issue.expected}, but is ${kindOf(valueAt(value, issue.path))}`;
    case 'invalid_value':
      return `${where} must be one of ${issue.values.map(String).join(', ')}`;
    case 'too_small':
    case 'too_big':
      return `${where} ${sizeText(issue)}`;
    case 'invalid_union':
      return `${where} has a form that is not understood`;
    default:
      return `${where}: ${issue.message}`;
  }
};

/** A path as a JSON pointer (RFC 6901) in the form of a fragment: '#/levels/at/0/near'. */
const pointerText = (path: readonly PropertyKey[]): string =>
  `#${path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('')}`;

/** The same as `complaints`, each with its place; keys that are not known one by one. */
export const placedComplaints = (
  error: z.ZodError,
  value: unknown,
  known: (path: readonly PropertyKey[]) => readonly string[],
): { readonly pointer: string; readonly detail: string }[] =>
  error.issues
    .flatMap((issue) =>
      issue.code === 'unrecognized_keys' ? issue.keys.map((key): Issue => ({ ...issue, keys: [key] })) : [issue],
    )
    .map((issue) => ({
      pointer: pointerText(issue.code === 'unrecognized_keys' ? [...issue.path, issue.keys[0]!] : issue.path),
      detail: `${complaint(issue, value, known)}.`,
    }));

/** Plain sentences for everything that zod found wrong, in the order of the file's keys. */
export const complaints = (
  error: z.ZodError,
  value: unknown,
  known: (path: readonly PropertyKey[]) => readonly string[],
): string[] => error.issues.map((issue) => complaint(issue, value, known));
