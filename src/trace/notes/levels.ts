/**
 * Levels in notes: T.O.W. EL. +1.20, T/FTG = 98'-6", FFL +0.000, OK Fundament -1,25, (-4'-0"). Each reading says of what the level is and which numbers it
 * can be. A length that is measured from something else (3'-0" BELOW GRADE) is told apart and is no level.
 */

import type { LengthUnit } from '../../ground/units.js';
import { plainMarks } from '../lengthText.js';
import {
  GENERAL,
  LEVEL_LABELS,
  LEVEL_WORD,
  type LevelLabel,
  type LevelOf,
  NO_LEVEL,
  OTHER_LABELS,
  RELATIVE,
  SURVEY_DATUM,
} from './levelWords.js';
import { LENGTH_TEXT, levelsMm, type Measure, measureOf, NUMBER_ENDS } from './measure.js';

export interface LevelReading {
  readonly of: LevelOf;
  readonly measure: Measure;
  /** +1 and -1 in the order of likelihood: a dash before the number may be a minus or a mere dash. */
  readonly signs: readonly (1 | -1)[];
  /** It is written as above a public datum (NN, NGF, NAP, AOD). */
  readonly survey: boolean;
  /** Measured from something else: no level by itself. */
  readonly relative: boolean;
  /** Said of all that is not marked otherwise (ALL, TYP, U.N.O.). */
  readonly general: boolean;
  readonly raw: string;
}

/** Stand for words of the text while numbers are looked for, so that "T.O.W.-1.20" has its minus. */
const LABEL_MARK = '\uE000';
const WORD_MARK = '\uE001';

interface Span {
  readonly at: number;
  readonly end: number;
}
interface Label extends Span {
  readonly of: LevelOf;
}
interface Value extends Span {
  readonly measure: Measure;
  readonly signs: readonly (1 | -1)[];
  readonly signed: boolean;
  readonly survey: boolean;
  readonly relative: boolean;
  readonly written: string;
}

const labelsOf = (text: string, list: readonly LevelLabel[], kept: Label[]): void => {
  const all = list
    .flatMap(({ of, pattern }, rank) =>
      [...text.matchAll(pattern)].map((m) => ({ of, rank, at: m.index, end: m.index + m[0].length })),
    )
    .sort((p, q) => q.end - q.at - (p.end - p.at) || p.rank - q.rank || p.at - q.at);
  for (const l of all) if (!kept.some((k) => l.at < k.end && l.end > k.at)) kept.push(l);
};

const findLabels = (text: string): Label[] => {
  const kept: Label[] = [];
  labelsOf(text, LEVEL_LABELS, kept);
  labelsOf(text, OTHER_LABELS, kept);
  return kept.sort((p, q) => p.at - q.at);
};

const mask = (text: string, spans: readonly Span[], mark: string): string => {
  let out = text;
  for (const s of spans) out = out.slice(0, s.at) + mark.repeat(s.end - s.at) + out.slice(s.end);
  return out;
};

const WORDS = new RegExp(`(?<![\\p{L}\\d])${LEVEL_WORD}`, 'giu');
const VALUES = new RegExp(
  `(?<![\\p{L}\\d.,/:#Ø'"+-])(?:(?<sign>\\+\\s?\\/\\s?-|[±+-])(?<gap>\\s?))?(?<n>${LENGTH_TEXT})(?:${NUMBER_ENDS})` +
    `(?:\\s*(?<peil>[+-])\\s?P(?!\\p{L}))?(?<datum>\\s*${SURVEY_DATUM})?`,
  'giu',
);
const IS_RELATIVE = new RegExp(`^${RELATIVE}`, 'iu');
const IS_NO_LEVEL = new RegExp(`^${NO_LEVEL}`, 'iu');

/** A level this far below the datum is not believed of a dash: 20 m. *Practice, no source.* */
const DEEP_MM = 20000;

const signsOf = (sign: string | undefined, gap: string, measure: Measure): readonly (1 | -1)[] => {
  if (sign === undefined || sign !== '-') return [1];
  const mm =
    measure.bare === null ? Math.max(...measure.mm) : measure.decimals > 0 ? measure.bare * 1000 : measure.bare;
  if (mm > DEEP_MM) return gap === '' ? [1, -1] : [1];
  return gap === '' ? [-1] : [-1, 1];
};

const findValues = (masked: string): Value[] =>
  [...masked.matchAll(VALUES)].flatMap((m): Value[] => {
    const g = m.groups!;
    const end = m.index + m[0].length;
    const rest = masked.slice(end);
    const measure = measureOf(g.n!);
    if (!measure || IS_NO_LEVEL.test(rest)) return [];
    return [
      {
        at: m.index,
        end,
        measure,
        signs: g.peil === '-' ? [-1] : signsOf(g.sign, g.gap ?? '', measure),
        signed: g.sign !== undefined || g.peil !== undefined,
        survey: g.datum !== undefined,
        relative: IS_RELATIVE.test(rest),
        written: g.n!,
      },
    ];
  });

/** What may stand between the name of a level and its value. */
const BETWEEN =
  /^(?:[\s:=@([,.▼▽∇△▲\uE001]|-(?=[\s\uE001])|(?:IS|AT|SHALL\s*BE|TO\s*BE|BE|TYP|UNO|U\.N\.O|AUF|BEI|À|OP|PÅ|NA)\.?(?!\p{L})|\)(?=[\s:=@\uE001]))*$/iu;
const BETWEEN_BACK = /^[\s):=,@\uE001▼▽∇△▲]*$/u;
const BETWEEN_MOST = 40;

const digitsOf = (value: Value): number => /^\d+/.exec(value.written)?.[0].length ?? 0;
const hasUnit = (value: Value): boolean => value.measure.bare === null;
const isFeet = (value: Value): boolean => /'|F/iu.test(value.written);
const isInchesAlone = (value: Value): boolean =>
  hasUnit(value) && !isFeet(value) && !/\dm|\d\s*[cd]?m/iu.test(value.written);
const isNought = (value: Value): boolean => value.measure.bare === 0 || value.measure.mm?.[0] === 0;

/** After a name a level needs less proof: a sign, a unit, decimals or two digits. "T.O.W. 2" may be a mark, `T.O.W. 8"` a size. */
const fitsLabel = (v: Value): boolean => {
  if (v.relative) return true;
  if (hasUnit(v)) return v.signed || !isInchesAlone(v);
  return (v.measure.bare !== null && v.measure.decimals > 0) || digitsOf(v) >= 2 || isNought(v);
};
/** After a word such as EL.: LEVEL 2 is a storey, ELEVATION 3 a drawing. */
const fitsWord = (v: Value): boolean => {
  if (v.signed) return true;
  if (hasUnit(v)) return !isInchesAlone(v);
  return v.measure.bare !== null && (v.measure.decimals > 0 || digitsOf(v) >= 3);
};
/** Alone on its line: signed, and with a unit, two decimals or three digits; ±0 too. */
const fitsAlone = (v: Value): boolean => {
  if (!v.signed || /\d{7}/.test(v.written)) return false;
  if (hasUnit(v)) return true;
  return v.measure.bare !== null && (v.measure.decimals > 1 || digitsOf(v) >= 3 || isNought(v));
};

interface Pair {
  readonly label: Label | null;
  readonly value: Value;
  readonly at: number;
  readonly end: number;
}

const WORD_RUN = new RegExp(`${WORD_MARK}+`, 'gu');

/** Does the value stand on its line by itself? */
const isAlone = (masked: string, value: Value): boolean => {
  const from = masked.lastIndexOf('\n', value.at - 1) + 1;
  const to = masked.indexOf('\n', value.end);
  const line = masked.slice(from, value.at) + masked.slice(value.end, to < 0 ? masked.length : to);
  return /^[\s()[\].▼▽∇△▲]*$/u.test(line);
};

/** Joins names and values: the value after its name, or before it where the text begins so. */
const pairUp = (masked: string, labels: readonly Label[], values: readonly Value[]): Pair[] => {
  const pairs: Pair[] = [];
  const between = (from: number, to: number, allowed: RegExp): boolean =>
    to >= from && to - from <= BETWEEN_MOST && allowed.test(masked.slice(from, to));
  const backwards =
    values.length > 0 &&
    labels.length > 0 &&
    values[0]!.at < labels[0]!.at &&
    between(values[0]!.end, labels[0]!.at, BETWEEN_BACK);
  const used = new Set<Value>();
  for (const label of labels) {
    const value = backwards
      ? values.findLast((v) => v.end <= label.at && between(v.end, label.at, BETWEEN_BACK))
      : values.find((v) => v.at >= label.end && between(label.end, v.at, BETWEEN));
    if (!value || used.has(value) || !fitsLabel(value)) continue;
    used.add(value);
    pairs.push({ label, value, at: Math.min(label.at, value.at), end: Math.max(label.end, value.end) });
  }
  // Ends of the runs that stand for words such as EL.
  const words = [...masked.matchAll(WORD_RUN)].map((m) => ({ at: m.index, end: m.index + m[0].length }));
  let next = 0;
  for (const value of values) {
    while (next < words.length && words[next]!.end <= value.at) next++;
    if (used.has(value) || value.relative) continue;
    const word = words[next - 1];
    const named = word !== undefined && between(word.end, value.at, BETWEEN);
    if (!((named && fitsWord(value)) || (isAlone(masked, value) && fitsAlone(value)))) continue;
    pairs.push({ label: null, value, at: named ? word.at : value.at, end: value.end });
  }
  return pairs.sort((p, q) => p.at - q.at);
};

const PUBLIC_DATUM = /(?<!\p{L})(?:NGF|NHN|NAP)(?!\p{L})/iu;
/** A text of more lines is a list of notes: what is said of all in one line is not said of the others. */
const ONE_NOTE_LINES = 4;

const linesOf = (text: string, at: number, end: number): string => {
  if (text.split('\n').length <= ONE_NOTE_LINES) return text;
  const from = text.lastIndexOf('\n', at) + 1;
  const to = text.indexOf('\n', end);
  return text.slice(from, to < 0 ? text.length : to);
};

/** Cheap to ask: a sign, decimals, feet or two digits; without one no text gives a level. */
const MAY_BE_LEVEL = /[±+\-‐‑‒–—−－]\s?\d|\d[.,]\d|\d\s*(?:['’‘′´`"“”″]|F)|\d\d|(?<!\d)0/iu;

/** Every level that a text gives, in its order. */
export const readLevels = (source: string): LevelReading[] => {
  if (!MAY_BE_LEVEL.test(source)) return [];
  const text = plainMarks(source);
  const labels = findLabels(text);
  const labelled = mask(text, labels, LABEL_MARK);
  const words = [...labelled.matchAll(WORDS)].map((m) => ({ at: m.index, end: m.index + m[0].length }));
  const masked = mask(labelled, words, WORD_MARK);
  return pairUp(masked, labels, findValues(masked)).map(({ label, value, at, end }) => ({
    of: label?.of ?? 'unknown',
    measure: value.measure,
    signs: value.signs,
    survey: value.survey || PUBLIC_DATUM.test(text.slice(at, end)),
    relative: value.relative,
    general: GENERAL.test(linesOf(text, at, end)),
    raw: text.slice(at, end).replace(/\s+/g, ' ').trim(),
  }));
};

/** The levels that a reading can mean in the drawing's datum, mm, likeliest first. */
export const levelCandidatesMm = (reading: LevelReading, unit: LengthUnit): number[] => {
  const sizes = levelsMm(reading.measure, unit);
  const all = sizes.flatMap((mm) => reading.signs.map((s) => (mm === 0 ? 0 : s * mm)));
  return [...new Set(all)];
};

/** Does the text name a level that it may not give ("T.O.W.")? */
export const namesLevel = (source: string): boolean =>
  findLabels(plainMarks(source)).some((l) => l.of !== 'other' && l.of !== 'unknown');
