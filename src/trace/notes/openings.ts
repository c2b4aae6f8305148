/**
 * Openings in notes: OPENING 900x2100, 3'-0" x 6'-8" DOOR, SILL EL. 1.20, HEAD HT 2.10, BRH 90, UK Sturz, and the call sizes of US doors and windows (3068 is
 * 3'-0" x 6'-8"; 2668 and 5050 XO are seen in the house plan of the sample drawings). The rest is from memory of the trade.
 */

import { plainMarks } from '../lengthText.js';
import { LENGTH_TEXT, type Measure, measureOf, NUMBER_ENDS, NUMBER_STARTS } from './measure.js';

export type OpeningKind = 'door' | 'window' | 'opening';

export interface OpeningHeight {
  readonly measure: Measure;
  readonly sign: 1 | -1;
  /** A level in the drawing's datum, or a height above the floor. */
  readonly is: 'level' | 'height';
}

export interface OpeningReading {
  readonly kind: OpeningKind | null;
  readonly width: Measure | null;
  readonly height: Measure | null;
  readonly sill: OpeningHeight | null;
  readonly head: OpeningHeight | null;
  /** A bare call size (2668): a size only in a drawing in inches or feet. */
  readonly call: boolean;
  readonly raw: string;
}

const DOOR =
  '(?:DOORS?|DR\\.|DRS?(?!\\p{L})|T(?:Ü|UE)R(?:EN)?|PORTES?|PUERTAS?|PORTA|DEUR|DÖRR|DØR|DRZWI|ДВЕРЬ|O\\.?H\\.?\\s*DOOR|S\\.?G\\.?D(?:\\.|(?!\\p{L}))|SLIDER)';
const WINDOW =
  '(?:WINDOWS?|WDW|WIN\\.|FENSTER|FEN[ÊE]TRES?|VENTANAS?|JANELAS?|FINESTR[AE]|RAAM|FÖNSTER|VINDUE?R?|OKNO|ОКНО|XOX?(?!\\p{L})|OXO?(?!\\p{L})|SH(?!\\p{L})|S\\.H\\.|DH(?!\\p{L})|' +
  'CSMT|AWN(?:ING)?|FIXED|FX(?!\\p{L}))';
const OPENING =
  "(?:OPENINGS?|OPNG|OPG|OP'G|R\\.?O(?:\\.|(?!\\p{L}))|M\\.?O(?:\\.|(?!\\p{L}))|CRAWL\\s*(?:SPACE\\s*)?ACCESS|ÖFFNUNG|OEFFNUNG|DURCHBRUCH|WD(?=\\s*\\d)|AUSSPARUNG|" +
  'R[ÉE]SERVATION|OUVERTURE|TR[ÉE]MIE|HUECO|ABERTURA|V[ÃA]O|APERTURA|FORO|SPARING|OTW[ÓO]R|ПРО[ЕЁ]М|ОТВЕРСТИЕ)';
const N = (name: string): string => `${NUMBER_STARTS}(?<${name}>${LENGTH_TEXT})`;
const HALF = '(?<half1>⁵)?';
/** "a x b"; "a/b" only after the word for the opening, since a fraction before one is a size of something else. */
const sizeText = (by: string): string =>
  `${N('w')}${HALF}\\s*(?:W(?:IDE)?|B)?\\.?\\s*(?:${by})\\s*(?<h>${LENGTH_TEXT})(?<half2>⁵)?(?![\\d:%°]|[.,]\\d|\\s*[xX/]\\s*\\d)\\s*(?:H(?:IGH)?(?!\\p{L}))?\\.?`;
const WORDS =
  '(?:\\s*(?:CONC|ROUGH|MASONRY|WALL|CLEAR|CLR|IN|FOR|DBL|DOUBLE|SINGLE|INT|EXT|SIZE|HM|H\\.M)\\.?)*\\s*[:=,-]?\\s*';

interface SizeForm {
  readonly kind: OpeningKind;
  readonly pattern: RegExp;
}

const after = (kind: OpeningKind, word: string): SizeForm => ({
  kind,
  pattern: new RegExp(`(?<!\\p{L})${word}${WORDS}${sizeText('x|BY|\\/')}`, 'giu'),
});
const before = (kind: OpeningKind, word: string): SizeForm => ({
  kind,
  pattern: new RegExp(`${sizeText('x|BY')}${WORDS}${word}`, 'giu'),
});

const SIZES: readonly SizeForm[] = [
  before('door', DOOR),
  before('window', WINDOW),
  before('opening', OPENING),
  after('door', DOOR),
  after('window', WINDOW),
  after('opening', OPENING),
];

/** Call sizes: feet and inches of width, then of height, in four digits, or five for doors from 10 feet. */
const CALL = `(?<![\\p{L}\\d.,/:#Ø'"+-])(?<fw>1[0-9]|[1-9])(?<iw>[0-9])(?<fh>[1-9])(?<ih>[0-9])(?![\\d.,:/'"]|\\s*(?:mm|cm|m|x)(?!\\p{L}))`;
const CALLS: readonly { readonly kind: OpeningKind | null; readonly pattern: RegExp }[] = [
  {
    kind: 'door',
    pattern: new RegExp(`${CALL}\\s*(?:INT\\.?|EXT\\.?|PKT|POCKET|BIFOLD|B\\.?F|DBL\\.?)?\\s*${DOOR}`, 'giu'),
  },
  { kind: 'window', pattern: new RegExp(`${CALL}\\s*${WINDOW}`, 'giu') },
  { kind: null, pattern: new RegExp(`^\\s*${CALL}\\s*$`, 'giu') },
];

const LEVEL = '(?<el>\\s*(?:EL(?:EV(?:ATION)?)?(?:\\.|(?!\\p{L}))|LEVEL|KOTE|COTA|QUOTA|NIV(?:EAU|EL|\\.)?))?';
const VALUE = `\\s*[:=@]?\\s*(?:AT\\s*)?(?<sign>±|\\+|-)?\\s?(?<n>${LENGTH_TEXT})(?<half1>⁵)?${NUMBER_ENDS}`;
const HEIGHT_WORD = '(?<ht>\\s*(?:HT|HGT|HEIGHT|H)(?:\\.|(?!\\p{L})))?';
const SILL = '(?:(?:WINDOW\\s*)?SILL|SILL\\s*OF\\s*OPENING|CILL)';
const SILL_HEIGHT =
  '(?:BR\\.?\\s?H(?:\\.|(?!\\p{L}))|BR(?:Ü|UE)STUNG(?:SH(?:Ö|OE)HE)?|ALL[ÈE]GE|ANTEPECHO|ALF[EÉ]IZAR|PEITORIL|DAVANZALE|BORSTWERING|BRÖSTNING|S\\.\\s?H\\.)';
const HEAD = '(?:HEAD(?!ER|W|R|S)|UK\\s*-?\\s*STURZ|UK\\s*ST\\.|STURZ\\s*UK|LINTEL|LINTEAU|DINTEL|VERGA|ARCHITRAVE)';
const HEAD_HEIGHT = '(?:STURZH(?:Ö|OE)HE|H\\.\\s?H\\.)';

const SILLS = new RegExp(
  `(?<!\\p{L})(?:(?<both>${SILL})|(?<only>${SILL_HEIGHT}))${HEIGHT_WORD}${LEVEL}${VALUE}(?<above>\\s*(?:A\\.?F\\.?F|ABOVE))?`,
  'giu',
);
const HEADS = new RegExp(
  `(?<!\\p{L})(?:(?<both>${HEAD})|(?<only>${HEAD_HEIGHT}))${HEIGHT_WORD}${LEVEL}${VALUE}(?<above>\\s*(?:A\\.?F\\.?F|ABOVE))?`,
  'giu',
);

/** 88⁵ is 88.5: the raised five of German plans is half a centimetre. */
const halved = (text: string, half: string | undefined): Measure | null => {
  const measure = measureOf(text);
  if (!measure || measure.bare === null || half === undefined) return measure;
  return measure.decimals === 0
    ? { bare: measure.bare + 0.5, decimals: 1, mm: null }
    : { bare: measure.bare + 0.005, decimals: 3, mm: null };
};

const heightOf = (text: string, pattern: RegExp): { reading: OpeningHeight; at: number; end: number } | null => {
  for (const m of text.matchAll(pattern)) {
    const g = m.groups!;
    const measure = halved(g.n!, g.half1);
    if (!measure) continue;
    const level =
      g.only === undefined &&
      g.ht === undefined &&
      g.above === undefined &&
      (g.el !== undefined || g.sign !== undefined);
    // Bare metres (SILL 1.20) may be either; heights are the commoner.
    return {
      reading: { measure, sign: g.sign === '-' ? -1 : 1, is: level ? 'level' : 'height' },
      at: m.index,
      end: m.index + m[0].length,
    };
  }
  return null;
};

const callMeasure = (feet: string, inches: string): Measure => ({
  bare: null,
  mm: [(Number(feet) * 12 + Number(inches)) * 25.4],
});

interface Size {
  readonly kind: OpeningKind | null;
  readonly width: Measure;
  readonly height: Measure;
  readonly call: boolean;
  readonly at: number;
  readonly end: number;
}

const sizeOf = (text: string): Size | null => {
  for (const { kind, pattern } of SIZES) {
    for (const m of text.matchAll(pattern)) {
      const g = m.groups!;
      const width = halved(g.w!, g.half1);
      const height = halved(g.h!, g.half2);
      if (width && height) return { kind, width, height, call: false, at: m.index, end: m.index + m[0].length };
    }
  }
  for (const { kind, pattern } of CALLS) {
    for (const m of text.matchAll(pattern)) {
      const g = m.groups!;
      // Alone it must be a door's: 2024 is a year.
      if (kind === null && Number(g.fh) < 5) continue;
      const end = m.index + m[0].length;
      return {
        kind,
        width: callMeasure(g.fw!, g.iw!),
        height: callMeasure(g.fh!, g.ih!),
        call: kind === null,
        at: m.index,
        end,
      };
    }
  }
  return null;
};

const WORDS_OF: readonly (readonly [OpeningKind, RegExp])[] = [
  ['door', new RegExp(`(?<!\\p{L})${DOOR}`, 'iu')],
  ['window', new RegExp(`(?<!\\p{L})${WINDOW}`, 'iu')],
  ['opening', new RegExp(`(?<!\\p{L})${OPENING}`, 'iu')],
];

/** The opening that a text notes, or null: its size, its sill, its head, as far as they are given. A bare word (DOOR) gives none. */
export const readOpening = (source: string): OpeningReading | null => {
  if (!/\d/.test(source)) return null;
  const text = plainMarks(source);
  const size = sizeOf(text);
  const sill = heightOf(text, SILLS);
  const head = heightOf(text, HEADS);
  if (!size && !sill && !head) return null;
  const spans = [size, sill, head].filter((s) => s !== null);
  return {
    kind: size?.kind ?? WORDS_OF.find(([, word]) => word.test(text))?.[0] ?? null,
    width: size?.width ?? null,
    height: size?.height ?? null,
    sill: sill?.reading ?? null,
    head: head?.reading ?? null,
    call: size?.call ?? false,
    raw: text.slice(Math.min(...spans.map((s) => s.at)), Math.max(...spans.map((s) => s.end))).trim(),
  };
};
