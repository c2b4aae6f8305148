/** Lengths of a catalogue file that are given in inches: every key `…In` is turned into its twin `…Mm` before the file is validated. */

import { MM_PER, roundTo } from '../ground/units.js';

/** Keys of lengths, without their unit. */
export const LENGTH_KEYS: readonly string[] = [
  'pitch',
  'frameDepth',
  'overhang',
  'timberLeast',
  'timberMost',
  'timberLimit',
  'width',
  'height',
  'legs',
  'faceWidth',
  'x',
  'y',
  'ratedSpan',
  'wall',
  'diameter',
  'breakBack',
  'closes',
  'mostSpacing',
  'mostFromEnd',
  'tieClear',
  'hole',
  'thickness',
  'length',
  'lap',
  'spacing',
  'span',
];

const TWIN_OF: ReadonlyMap<string, string> = new Map(LENGTH_KEYS.map((k) => [`${k}In`, `${k}Mm`]));

/** The file is at most this deep; what lies deeper is left for the schema to refuse. */
const DEEPEST = 8;

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** 1e-6 mm: takes out the noise of 24 * 25.4 = 609.5999999999999. */
const inchesToMm = (value: unknown): unknown => {
  if (typeof value === 'number') return roundTo(value * MM_PER.in, 6);
  if (Array.isArray(value)) return value.map(inchesToMm);
  if (isRecord(value)) return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, inchesToMm(v)]));
  return value;
};

export interface InMillimetres {
  readonly value: unknown;
  /** Paths of keys that were given in both units. */
  readonly twice: readonly string[];
  /** Path in mm keys → path as it stands in the file, for messages. */
  readonly written: ReadonlyMap<string, string>;
}

/** 'units[3].widthMm' from its parts. */
export const pathText = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, part) =>
      typeof part === 'number' ? `${text}[${part}]` : text === '' ? String(part) : `${text}.${String(part)}`,
    '',
  );

/** The same value with every length in mm. Values that are no numbers stay, for the schema to refuse. */
export const inMillimetres = (file: unknown): InMillimetres => {
  const twice: string[] = [];
  const written = new Map<string, string>();
  const visit = (value: unknown, path: readonly PropertyKey[]): unknown => {
    if (path.length > DEEPEST) return value;
    if (Array.isArray(value)) return value.map((v, i) => visit(v, [...path, i]));
    // Keys of the stock are items, not lengths.
    if (!isRecord(value) || path[path.length - 1] === 'stock') return value;
    const entries = Object.entries(value).map(([key, v]): [string, unknown] => {
      const twin = TWIN_OF.get(key);
      if (twin === undefined) return [key, visit(v, [...path, key])];
      if (Object.hasOwn(value, twin)) twice.push(pathText([...path, key]));
      written.set(pathText([...path, twin]), pathText([...path, key]));
      return [twin, inchesToMm(v)];
    });
    return Object.fromEntries(entries);
  };
  return { value: visit(file, []), twice, written };
};
