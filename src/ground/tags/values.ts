/** What kind of value a group code carries, and numbers that are numbers. */

export type ValueKind = 'text' | 'double' | 'int16' | 'int32' | 'int64' | 'bool' | 'bytes';

/** Ranges of group codes that do not carry text. Source: DXF reference, 'Group code value types'. */
const RANGES: readonly (readonly [number, number, ValueKind])[] = [
  [10, 59, 'double'],
  [60, 79, 'int16'],
  [90, 99, 'int32'],
  [110, 149, 'double'],
  [160, 169, 'int64'],
  [170, 179, 'int16'],
  [210, 239, 'double'],
  [270, 289, 'int16'],
  [290, 299, 'bool'],
  [310, 319, 'bytes'],
  [370, 389, 'int16'],
  [400, 409, 'int16'],
  [420, 429, 'int32'],
  [440, 459, 'int32'],
  [460, 469, 'double'],
  [1004, 1004, 'bytes'],
  [1010, 1059, 'double'],
  [1060, 1070, 'int16'],
  [1071, 1071, 'int32'],
];

const KINDS: readonly ValueKind[] = (() => {
  const kinds = new Array<ValueKind>(1072).fill('text');
  for (const [from, to, kind] of RANGES) kinds.fill(kind, from, to + 1);
  return kinds;
})();

/** The kind of value that `code` carries; text where the reference knows nothing. */
export const valueKind = (code: number): ValueKind => KINDS[code] ?? 'text';

/** Digits, signs, point, exponent and blanks: what a decimal number can be made of. */
const MAY_STAND: readonly boolean[] = Array.from({ length: 128 }, (_, unit) =>
  '0123456789+-.eE \t\r'.includes(String.fromCharCode(unit)),
);

/** The finite number that a value states, blanks around it allowed; null for anything else (empty, NaN, Infinity, hexadecimal). */
export const numberOf = (value: string | undefined): number | null => {
  if (value === undefined) return null;
  let digits = false;
  for (let i = 0; i < value.length; i++) {
    const unit = value.charCodeAt(i);
    if (MAY_STAND[unit] !== true) return null;
    digits ||= unit >= 48 && unit <= 57;
  }
  const n = digits ? Number(value) : Number.NaN;
  return Number.isFinite(n) ? n : null;
};

/** Like numberOf, and whole; '1.0' is taken as 1. */
export const integerOf = (value: string | undefined): number | null => {
  const n = numberOf(value);
  return n !== null && Number.isSafeInteger(n) ? n : null;
};

/** A count written in the manner of the one that it replaces: padded with blanks to the same width where that was padded. */
export const restated = (value: string, count: number): string =>
  /^\s/.test(value) ? String(count).padStart(value.length) : String(count);

/** Shortest text that reads back as the same number, minus zero included. */
export const shortest = (n: number): string => (Object.is(n, -0) ? '-0' : String(n));
