/**
 * Thickness as notes and names of layers give it: "200 THK", 8" CONC. WALL, "t=250", "W200", "d = 24 cm", "25cm", A-WALL-200, S-WALL-8IN.
 * Forms are *practice, no source*.
 */

import { WALL_LEAST_MM, WALL_MOST_MM } from '../../ground/tolerance.js';
import { type LengthUnit, MM_PER, roundTo } from '../../ground/units.js';
import { layerKind, withoutXref } from '../layers.js';
import { plainMarks } from '../lengthText.js';
import { barSpans } from './bars.js';
import {
  BARE_TEXT,
  LENGTH_TEXT,
  type Measure,
  measureOf,
  NUMBER_ENDS,
  NUMBER_STARTS,
  sizesMm,
  UNIT_TEXT,
} from './measure.js';
import { CONCRETE_ADJECTIVE, firstOf, OTHER_PART, WALL_WORD } from './words.js';

export interface ThicknessReading {
  readonly measure: Measure;
  /** 'unknown': the text does not say of what. */
  readonly of: 'wall' | 'unknown';
  /** The text says that it is a thickness; else it is a mere size ("25cm", 8") or a mark ("W200") and counts only where one is expected. */
  readonly sure: boolean;
  readonly raw: string;
}

/** Feet written beside a wall are more likely its height from here on. */
const FEET_MOST_MM = 24 * 25.4;

interface Form {
  readonly pattern: RegExp;
  readonly sure: boolean;
  /** The form itself names a wall. */
  readonly wall: boolean;
}

const form = (source: string, sure: boolean, wall: boolean): Form => ({
  pattern: new RegExp(source, 'giu'),
  sure,
  wall,
});
const N = `(?<n>${LENGTH_TEXT})`;
const NO_HEIGHT = String.raw`(?!\s*(?:HIGH|HT|TALL|LONG|O\.?C|C\/C|@|HOCH|MAX|MIN|CLR|CLEAR|COVER))`;

/** In the order in which they are tried; a later one reads only what is left. */
const FORMS: readonly Form[] = [
  form(`${NUMBER_STARTS}${N}\\s*-?\\s*(?:THICK(?:NESS)?(?!EN)|THK|(?:DICK|DIK|ÉPAIS(?:SEUR)?)(?!\\p{L}))`, true, false),
  form(`${NUMBER_STARTS}${N}\\s*-?\\s*${CONCRETE_ADJECTIVE}{0,5}${WALL_WORD}`, true, true),
  form(
    `(?<!\\p{L})${WALL_WORD}\\s*(?:B\\.?A\\.?|R\\.?C\\.?|DE HORMIG[OÓ]N|EN BÉTON|BÉTON|BETON)?\\s*[,:=-]?\\s*` +
      `(?:(?:THK|[tde]|ep|ép|esp|sp|gr|thickness|dicke)\\s*\\.?\\s*[=:]?\\s*)?(?<n>${UNIT_TEXT}|0[.,]\\d+|\\d{2,4})${NUMBER_ENDS}${NO_HEIGHT}`,
    true,
    true,
  ),
  form(
    `(?<![\\p{L}\\d])(?:(?:[tde]|thk|thickness)\\s*=|(?:ép|ep|esp|sp|gr|tl|δ|dicke|dikte|épaisseur|espesor|espessura|spessore|grubość)\\s*\\.?\\s*[=:]?)\\s*` +
      `${N}${NUMBER_ENDS}`,
    true,
    false,
  ),
  form(`(?<![\\p{L}\\d-])(?:RCW|RC|W)\\s?-?(?<n>\\d\\d[05])(?![\\d.,/xX-]|\\p{L})`, false, true),
  form(
    `(?<![\\p{L}\\d-])(?:STB\\.?|STAHLBETON|BÉTON|BETON|B\\.A\\.)\\s*(?<n>${LENGTH_TEXT})${NUMBER_ENDS}`,
    false,
    false,
  ),
  form(`^\\s*(?<n>${UNIT_TEXT})\\s*(?:CONC(?:RETE)?\\.?|STB\\.?|BETON|B\\.?A\\.?|R\\.?C\\.?)?\\s*$`, false, false),
];

const WALL_NEAR = new RegExp(WALL_WORD, 'iu');
const OTHER_NEAR = new RegExp(`(?<!\\p{L})${OTHER_PART}`, 'iu');

/** The words beside a place, up to the next number on each side. */
const wordsAfter = (text: string, at: number): string => /^[^\d;]*/.exec(text.slice(at))![0];
const wordsBefore = (text: string, at: number): string => /[^\d;]*$/.exec(text.slice(0, at))![0];

const isPlausible = (measure: Measure, written: string): boolean => {
  if (measure.bare !== null) {
    const { bare, decimals } = measure;
    if (decimals > 1) return bare >= 0.075 && bare <= 1.2;
    return bare >= 4 && bare <= WALL_MOST_MM;
  }
  const most = /'|F/iu.test(written) ? FEET_MOST_MM : WALL_MOST_MM;
  return measure.mm.some((mm) => mm >= WALL_LEAST_MM && mm <= most);
};

/** Every thickness that a text gives, of a wall or of something unsaid; those of slabs, footings and linings are left out. */
export const readThickness = (source: string): ThicknessReading[] => {
  const text = plainMarks(source);
  const taken: (readonly [number, number])[] = [...barSpans(text)];
  const found: { at: number; reading: ThicknessReading }[] = [];
  for (const { pattern, sure, wall } of FORMS) {
    for (const m of text.matchAll(pattern)) {
      const end = m.index + m[0].length;
      if (taken.some(([a, b]) => m.index < b && end > a)) continue;
      taken.push([m.index, end]);
      const written = m.groups!.n!;
      // "8' WALL" is a height.
      if (/^\d+(?:\.\d+)?\s*(?:'|FT\.?|FEET|FOOT)$/iu.test(written)) continue;
      const measure = measureOf(written);
      if (!measure || !isPlausible(measure, written)) continue;
      const near = wall
        ? 'wall'
        : (firstOf(wordsAfter(text, end), WALL_NEAR, OTHER_NEAR) ??
          firstOf(wordsBefore(text, m.index), WALL_NEAR, OTHER_NEAR));
      if (near === 'other') continue;
      found.push({ at: m.index, reading: { measure, of: near ?? 'unknown', sure, raw: m[0].trim() } });
    }
  }
  return found.sort((p, q) => p.at - q.at).map((f) => f.reading);
};

/** The thicknesses that a reading can mean, mm, likeliest first; empty when none is plausible for a wall. */
export const thicknessesMm = (reading: ThicknessReading, unit: LengthUnit): number[] =>
  sizesMm(reading.measure, unit, WALL_LEAST_MM, WALL_MOST_MM);

const IN_NAME = new RegExp(
  `(?<![\\d.,'])(?<n>\\d+(?:[.,]\\d+)?)\\s*(?<u>mm|cm|m|in(?:ch)?|")?(?![\\p{L}\\d]|[.,/]\\d)|(?<![\\d.,])(?<b>${BARE_TEXT})(?=[-_ ]?(?:WALL|WAND|MUR|CONC))`,
  'giu',
);
const NAME_UNIT: Readonly<Record<string, LengthUnit>> = { mm: 'mm', cm: 'cm', m: 'm', in: 'in', inch: 'in', '"': 'in' };

/**
 * The thicknesses that the name of a wall's layer can mean, mm, likeliest first: A-WALL-200, S-WALL-8IN, WAND_24CM. More than one where
 * the number is small and bare (S-WALL-12: inches, or cm). Empty: the name gives none. The prefix of a bound reference is not heeded.
 */
export const layerThicknessesMm = (name: string): number[] => {
  const own = plainMarks(withoutXref(name));
  const kind = layerKind(own);
  if (kind !== 'wall' && kind !== 'structural-wall' && kind !== 'foundation-wall') return [];
  const found: number[][] = [];
  for (const m of own.matchAll(IN_NAME)) {
    const written = m.groups!.n ?? m.groups!.b!;
    // 01 and 02 are numbers of layers.
    if (/^0\d/.test(written)) continue;
    const value = Number(written.replace(',', '.'));
    const unit = m.groups!.u?.toLowerCase();
    const units: readonly LengthUnit[] =
      unit !== undefined
        ? [NAME_UNIT[unit]!]
        : value >= 75
          ? ['mm']
          : value < 1.2
            ? ['m']
            : value >= 6 && value <= 24 && /wall/i.test(own)
              ? ['in', 'cm']
              : ['cm'];
    const values = units
      .map((u) => roundTo(value * MM_PER[u], 6))
      .filter((mm) => mm >= WALL_LEAST_MM && mm <= WALL_MOST_MM && (unit !== undefined || value !== 1));
    if (values.length > 0) found.push(values);
  }
  // Two sizes in one name: neither is the wall's for certain.
  return found.length === 1 ? found[0]! : [];
};
