/**
 * Lengths as written in dimension texts → mm. Forms seen in US drawings: 7-5/8", 1'-4", 3'-0 1/2", 8"; and metric numbers with or without
 * a unit, comma or point for decimals.
 */

/** What a text can mean. `unit` tells a length in mm (its unit is written), `bare` a number whose unit is not. */
export interface LengthText {
  readonly unit: 'mm' | 'bare';
  /** More than one where the text can be read in more ways: a stacked fraction that lost its space ("101/2" is 10 1/2). */
  readonly values: readonly number[];
}

const INCH = 25.4;
const METRIC: Readonly<Record<string, number>> = { mm: 1, cm: 10, m: 1000, dm: 100 };

/** Inches in "10 1/2", "10-1/2", "1/2", "10.5", "101/2" and "10": every reading in which the fraction is a proper one. */
const inchReadings = (text: string): number[] => {
  const s = text.trim();
  if (/^\d+(\.\d+)?$/.test(s)) return [Number(s)];
  const parted = /^(\d+)[\s-]+(\d+)\/(\d+)$/.exec(s);
  if (parted) {
    const [, whole, top, bottom] = parted.map(Number);
    return bottom! > 0 && top! < bottom! ? [whole! + top! / bottom!] : [];
  }
  const run = /^(\d+)\/(\d+)$/.exec(s);
  if (!run) return [];
  const [, tops, bottoms] = run;
  const bottom = Number(bottoms);
  if (!(bottom > 0)) return [];
  const out: number[] = [];
  for (let k = tops!.length - 1; k >= 0; k--) {
    const top = Number(tops!.slice(k));
    if (top > 0 && top < bottom && tops![k] !== '0') out.push(Number(tops!.slice(0, k) || '0') + top / bottom);
  }
  return out;
};

/** Feet and inches; the inches' own mark may be missing after feet (13'4). */
const feetInches = (text: string): number[] => {
  const m = /^(?:(\d+(?:\.\d+)?)\s*'\s*-?\s*)?(?:([\d\s/.-]+?)\s*(")?)?$/.exec(text);
  if (!m || (m[1] === undefined && m[3] === undefined)) return [];
  const feet = m[1] === undefined ? 0 : Number(m[1]);
  const inches = m[2] === undefined ? [0] : inchReadings(m[2]);
  return inches.map((x) => (feet * 12 + x) * INCH);
};

const FRACTIONS: Readonly<Record<string, string>> = {
  '½': '1/2',
  '⅓': '1/3',
  '⅔': '2/3',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/** One spelling for marks that have many: quotes and primes, dashes, blanks, fractions of one character, signs of diameter and of multiplication. */
export const plainMarks = (text: string): string =>
  text
    .normalize('NFC')
    .replace(/[’‘′´`]/g, "'")
    .replace(/[”“″]|''/g, '"')
    .replace(/[‐‑‒–—−－]/g, '-')
    .replace(/[＋﹢]/g, '+')
    .replace(/[^\S\n]+/g, ' ')
    .replace(/(\d?)([½⅓⅔¼¾⅛⅜⅝⅞])/g, (_, before: string, f: string) =>
      before === '' ? FRACTIONS[f]! : `${before} ${FRACTIONS[f]!}`,
    )
    .replace(/[⁄∕]/g, '/')
    .replace(/[⌀ø∅ΦφϕɸФ](?=\s*\d)/g, 'Ø')
    .replace(/×/g, 'x');

/** Feet and inches written in words: "2 FT. 6 IN." */
const unworded = (text: string): string =>
  text.replace(/(\d)\s*(?:feet|foot|ft)\.?/gi, "$1'").replace(/(\d)\s*(?:inch(?:es)?|in)\.?(?![a-z])/gi, '$1"');

/** Readings of a dimension text, or null when it is no length. */
export const readLength = (text: string): LengthText | null => {
  const s = unworded(
    plainMarks(text)
      .replace(/\s+/g, ' ')
      .replace(/\s*(REF|TYP)\.?$/i, ''),
  ).trim();
  if (s.length === 0 || s.length > 40) return null;
  if (/['"]/.test(s)) {
    const values = feetInches(s);
    return values.length > 0 ? { unit: 'mm', values } : null;
  }
  const metric = /^(\d+(?:[.,]\d+)?)\s*(mm|cm|dm|m)?$/i.exec(s);
  if (!metric) return null;
  const value = Number(metric[1]!.replace(',', '.'));
  const unit = metric[2]?.toLowerCase();
  return unit === undefined ? { unit: 'bare', values: [value] } : { unit: 'mm', values: [value * METRIC[unit]!] };
};
