/**
 * Reinforcement in notes: #5 @ 12" O.C., T16-200, H12@150, 15M @ 300, Ø12/15, (2) #5 CONT. "#4 BARS @ 12" OC EA WAY T&B" is a form seen in public drawings, the
 * others are from memory.
 */

import { plainMarks } from '../lengthText.js';
import { CANADIAN_BAR_MM, METRIC_BARS_MM, US_BAR_MM, US_METRIC_BAR_MM } from './barSizes.js';
import { LENGTH_TEXT, measureOf } from './measure.js';
import { firstOf, OTHER_PART, WALL_WORD } from './words.js';

export interface BarReading {
  readonly diameterMm: number;
  /** Centre to centre; null: only a number of bars, or nothing, is given. */
  readonly spacingMm: number | null;
  /** Number of bars, or null. */
  readonly count: number | null;
  readonly direction: 'vertical' | 'horizontal' | 'both' | null;
  readonly faces: 'each' | 'inside' | 'outside' | 'middle' | null;
  /** What the text says they lie in. */
  readonly of: 'wall' | 'other' | null;
  readonly raw: string;
}

const SPACING_LEAST_MM = 50;
const SPACING_MOST_MM = 1300;

const WORDS =
  String.raw`(?:\s*(?:'S(?!\p{L})|RE-?BARS?|BARS?|RODS?|DOWELS?|DWLS?|DEFORMED|DEF|VERT(?:ICALS?|S)?|HORIZ(?:ONTALS?)?|HOR|CONTINUOUS|CONT|` +
  String.raw`TIES|STIRRUPS?|EACH|EA|FACE|WAY|E\.?F|E\.?W|I\.?F|O\.?F|GR(?:ADE)?\.?\s?\d\d|SPACED|REINF(?:ORCING)?|STEEL)\.?,?)`;
const BAR_WORD =
  /RE-?BAR|BARS?(?!\p{L})|RODS?(?!\p{L})|DOWEL|DWL|VERT|HORIZ|CONT|TIES|STIRRUP|E\.?F(?!\p{L})|E\.?W(?!\p{L})|EACH|EA\./iu;
const COUNT = String.raw`(?:(?<count>\(\s*\d{1,3}\s*\)|\d{1,3}(?=\s*[-xX]?\s*(?:#|Ø|\d\dM|HA|[TNHYB]\d)))\s*[-xX]?\s*)?`;
const AT = String.raw`\s*(?:@|(?<!\p{L})AT(?!\p{L})|A(?=\s\d)|C\/C)\s*(?<s>${LENGTH_TEXT})(?!\s*(?:°|DEG))`;

const US = new RegExp(
  String.raw`(?<![\p{L}\d#.,/'"-])${COUNT}(?:#|NO\.?\s*|№\s*)\s*(?<size>\d{1,2})(?![\d./])(?<words>${WORDS}{0,6})(?:${AT})?(?!\s*(?:x\s*\d|[xX]|WOOD|SCREW|NAIL|TEK|GA(?:UGE)?(?!\p{L})|SMS|ANCHOR))`,
  'giu',
);
const CANADIAN = new RegExp(
  String.raw`(?<![\p{L}\d#.,/'"])${COUNT}(?<size>10|15|20|25|30|35|45|55)\s?M(?![\p{L}\d²³/](?<!M[VHCEB])|M)(?<words>${WORDS}{0,6})(?:${AT})?`,
  'giu',
);
/** British, Australian, Asian and Nordic: a letter for the grade, the diameter, a bar mark at times, the spacing. */
const LETTERS = String.raw`(?:[THNYBR])(?<size>\d{1,2})(?:-\d{2,3}(?=[-@]\s*\d))?\s*(?:-|@|C\/C|C)`;
const LETTERS_AT = String.raw`(?:H?D|HR|[SK])(?<size2>\d{1,2})\s*(?:@|C|K)|T(?<size3>\d{1,2})\s*K`;
const LETTERED = new RegExp(
  String.raw`(?<![\p{L}.,/-])(?<count>\d{1,3})?\s?(?:${LETTERS}|${LETTERS_AT})\s*(?<s>\d{2,3})(?:\s?mm)?(?![\d/.,]|-\d)`,
  'giu',
);
const DIAMETER = new RegExp(
  String.raw`(?<![\p{L}.,/])(?:(?<count>\d{1,3})\s*(?:[xX-]\s*)?)?(?:Ø\s*|HA\s?)(?<size>\d{1,2})(?![\d.])(?:\s*mm)?(?:\s*[AB]\d{3}\p{L}?)?(?<words>${WORDS}{0,4})` +
    String.raw`(?:\s*(?:@|\/|-|C\/C|C\/|C|K|(?:S|E|A|P|ST|ESP|SEP)\s*\.?\s*=?|CO|ШАГ|ALLE|OGNI|CADA|TOUS LES|A\/C)\s*(?<s>${LENGTH_TEXT})(?![\d/]))?`,
  'giu',
);
/** Polish: # for ribbed bars, 'co' for the spacing in cm. */
const POLISH = new RegExp(
  String.raw`(?<![\p{L}\d])(?<count>\d{1,3})?#\s*(?<size>\d{1,2})\s*CO\s*(?<s>${LENGTH_TEXT})`,
  'giu',
);

const spacingOf = (text: string | undefined, bareMm: (value: number) => number): number | null => {
  const measure = text === undefined ? null : measureOf(text);
  if (!measure) return null;
  const mm = measure.bare === null ? measure.mm[0]! : bareMm(measure.bare);
  return mm >= SPACING_LEAST_MM && mm <= SPACING_MOST_MM ? Math.round(mm * 1000) / 1000 : Number.NaN;
};

/** Bare spacings: inches up to 48 beside sizes in inches; cm below 50 and m below 1 in continental notes, mm above. */
const inchesOrMm = (value: number): number => (value <= 48 ? value * 25.4 : value);
const centimetresOrMm = (value: number): number => (value < 1 ? value * 1000 : value < 50 ? value * 10 : value);
const asMm = (value: number): number => value;

interface Found {
  readonly at: number;
  readonly end: number;
  readonly diameterMm: number;
  readonly spacingMm: number | null;
  readonly count: number | null;
}

type Groups = Readonly<Record<string, string | undefined>>;

const usBar = (g: Groups): Omit<Found, 'at' | 'end' | 'count'> | null => {
  const size = Number(g.size);
  const spacingMm = spacingOf(g.s, inchesOrMm);
  if (spacingMm === null && g.count === undefined && !BAR_WORD.test(g.words ?? '')) return null;
  const written = g.s === undefined ? null : measureOf(g.s);
  const metric = written !== null && (written.bare === null ? /m/i.test(g.s!) : written.bare >= SPACING_LEAST_MM);
  const diameterMm = metric
    ? size >= 10
      ? (US_METRIC_BAR_MM[size] ?? (METRIC_BARS_MM.has(size) ? size : undefined))
      : US_BAR_MM[size]
    : US_BAR_MM[size];
  return diameterMm === undefined ? null : { diameterMm, spacingMm };
};

const FORMS: readonly {
  readonly pattern: RegExp;
  readonly read: (g: Groups) => Omit<Found, 'at' | 'end' | 'count'> | null;
}[] = [
  {
    pattern: POLISH,
    read: (g) =>
      METRIC_BARS_MM.has(Number(g.size))
        ? { diameterMm: Number(g.size), spacingMm: spacingOf(g.s, centimetresOrMm) }
        : null,
  },
  { pattern: US, read: usBar },
  {
    pattern: CANADIAN,
    read: (g) => {
      const spacingMm = spacingOf(g.s, inchesOrMm);
      if (spacingMm === null && g.count === undefined && !BAR_WORD.test(g.words ?? '')) return null;
      return { diameterMm: CANADIAN_BAR_MM[Number(g.size)]!, spacingMm };
    },
  },
  {
    pattern: LETTERED,
    read: (g) => {
      const size = Number(g.size ?? g.size2 ?? g.size3);
      const spacing = Number(g.s);
      // Spacings are whole fives: S-101 and B12-203 are drawings.
      return METRIC_BARS_MM.has(size) && spacing % 5 === 0
        ? { diameterMm: size, spacingMm: spacingOf(g.s, asMm) }
        : null;
    },
  },
  {
    pattern: DIAMETER,
    read: (g) => {
      const spacingMm = spacingOf(g.s, centimetresOrMm);
      if (!METRIC_BARS_MM.has(Number(g.size)) || (spacingMm === null && g.count === undefined)) return null;
      return { diameterMm: Number(g.size), spacingMm };
    },
  },
];

const find = (text: string): Found[] => {
  const found: Found[] = [];
  for (const { pattern, read } of FORMS) {
    for (const m of text.matchAll(pattern)) {
      const at = m.index;
      const end = at + m[0].length;
      if (found.some((f) => at < f.end && end > f.at)) continue;
      const bar = read(m.groups!);
      // A spacing that no bars have: it is something else.
      if (!bar || Number.isNaN(bar.spacingMm)) continue;
      const count = m.groups!.count === undefined ? null : Number(/\d+/.exec(m.groups!.count)![0]);
      found.push({ at, end, count, ...bar });
    }
  }
  return found.sort((p, q) => p.at - q.at);
};

/** Where a text (its marks plain already) speaks of bars: start and end of each notation. */
export const barSpans = (text: string): (readonly [number, number])[] => find(text).map((f) => [f.at, f.end]);

const VERTICAL = /VERT|SENKR|LOTR|(?<!\p{L})V\.?(?!\p{L})/iu;
const HORIZONTAL = /HORIZ|(?<!\p{L})HOR\.|WAAG|CONT(?!R)|(?<!\p{L})H\.?(?![\p{L}\d])/iu;
const BOTH_WAYS =
  /EA(?:CH)?\.?\s*WAY|(?<!\p{L})E\.?\s?W\.?(?!\p{L})|BOTH\s*WAYS|(?<!\p{L})B\.?W\.?(?!\p{L})|KREUZ|AMBOS SENTIDOS|LES DEUX SENS/iu;
const EACH_FACE =
  /EA(?:CH)?\.?\s*(?:FACE|SIDE)|(?<!\p{L})E\.?\s?F\.?(?!\p{L})|BOTH\s*FACES|(?<!\p{L})B\.?F\.?(?!\p{L})|BEIDS|AMBAS CARAS|DEUX FACES|2 FACES/iu;
const INSIDE = /INSIDE\s*FACE|(?<!\p{L})I\.?F\.?(?!\p{L})|INNEN|CARA INT/iu;
const OUTSIDE = /OUTSIDE\s*FACE|(?<!\p{L})O\.?F\.?(?!\p{L})|AUSSEN|AUßEN|CARA EXT/iu;
const MIDDLE = /CENTER(?:ED)?|CENTRED|CTR'?D|(?<!\p{L})MID(?!\p{L})|MITTIG/iu;
const TOP_AND_BOTTOM = /T\s?&\s?B(?!\p{L})|TOP\s*(?:&|AND)\s*BOT/iu;
const WALL_NEAR = new RegExp(WALL_WORD, 'iu');
const OTHER_NEAR = new RegExp(`(?<!\\p{L})${OTHER_PART}`, 'iu');

const directionOf = (words: string): BarReading['direction'] => {
  const v = VERTICAL.test(words);
  const h = HORIZONTAL.test(words);
  if (BOTH_WAYS.test(words) || (v && h)) return 'both';
  return v ? 'vertical' : h ? 'horizontal' : null;
};

const facesOf = (words: string): BarReading['faces'] => {
  if (EACH_FACE.test(words)) return 'each';
  if (INSIDE.test(words)) return 'inside';
  if (OUTSIDE.test(words)) return 'outside';
  return MIDDLE.test(words) ? 'middle' : null;
};

/** Cheap to ask, and without it no text notes bars. */
const MAY_BE_BARS = /[#№ØøΦφϕ⌀∅@]|\d\s?M|(?:[THNYBRDKS]|HA)\s?\d|NO\.?\s*\d/iu;

/** The reinforcement that a text notes, in its order. Welded mesh is not read. */
export const readBars = (source: string): BarReading[] => {
  if (!MAY_BE_BARS.test(source)) return [];
  const text = plainMarks(source);
  const found = find(text);
  return found.map((f, i) => {
    const own = text.slice(f.at, f.end);
    const after = text.slice(f.end, found[i + 1]?.at ?? text.length);
    // What is said before the first bars is of them when nothing after tells.
    const before = text.slice(found[i - 1]?.end ?? 0, f.at);
    const line = after.split('\n')[0]!;
    const words = `${own} ${after}`;
    const direction = directionOf(`${own} ${line}`) ?? directionOf(words) ?? (i === 0 ? directionOf(before) : null);
    const faces = facesOf(`${own} ${line}`) ?? facesOf(words) ?? (i === 0 ? facesOf(before) : null);
    const part = firstOf(words, WALL_NEAR, OTHER_NEAR) ?? firstOf(before, WALL_NEAR, OTHER_NEAR);
    return {
      diameterMm: f.diameterMm,
      spacingMm: f.spacingMm,
      count: f.count,
      direction,
      faces,
      of: part ?? (TOP_AND_BOTTOM.test(words) ? 'other' : null),
      raw: own.trim(),
    };
  });
};
