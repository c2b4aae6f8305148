/** Sizes of footings in notes: CONTINUOUS FOOTING: 1'-0" WIDE x 1'-0" DEEP (seen in public drawings), 16" x 8" CONT. FTG, Streifenfundament 50/80. */

import type { LengthUnit } from '../../ground/units.js';
import { plainMarks } from '../lengthText.js';
import { LENGTH_TEXT, type Measure, measureOf, NUMBER_STARTS, sizesMm } from './measure.js';

export interface FootingReading {
  readonly depth: Measure;
  readonly raw: string;
}

const FOOTING =
  '(?:FOOTINGS?|FOOTERS?|FTN?GS?|(?:STREIFEN|EINZEL)?FUND(?:AMENTE?|\\.)?|SEMELLES?|ZAPATAS?|SAPATAS?|PLINTO|FUNDERING|STROOK|SULA|SÅLE|ŁAWA|ЛЕНТА)(?!\\p{L})\\.?';
const NAMED = new RegExp(FOOTING, 'iu');
const BESIDES =
  '(?:(?:CONTINUOUS|CONT|CONCRETE|CONC|STRIP|SPREAD|WALL|PAD|P\\.?C|R\\.?C|REINF|THK|THICK|DEEP|MIN)\\.?\\s*){0,5}';
const N = (name: string): string => `${NUMBER_STARTS}(?<${name}>${LENGTH_TEXT})`;
const OVER = '\\s*(?:WIDE|W|THK|MIN)?\\.?\\s*(?:x|\\/|BY)\\s*';
const DEEP = '\\s*(?:DEEP|DP|THICK|THK|HIGH|D(?!\\p{L}))\\.?';

/** The last number is the depth: width by depth, or length by width by depth. */
const FORMS: readonly RegExp[] = [
  new RegExp(
    `${N('a')}${OVER}(?<b>${LENGTH_TEXT})(?:${OVER}(?<c>${LENGTH_TEXT}))?(?:${DEEP})?\\s*${BESIDES}${FOOTING}`,
    'giu',
  ),
  new RegExp(
    `(?<!\\p{L})${FOOTING}\\s*[:,-]?\\s*(?:b\\s*[\\/x]\\s*[hd]\\s*=?\\s*)?(?<a>${LENGTH_TEXT})${OVER}(?<b>${LENGTH_TEXT})(?:${OVER}(?<c>${LENGTH_TEXT}))?`,
    'giu',
  ),
  new RegExp(`${N('a')}${DEEP}\\s*${BESIDES}${FOOTING}`, 'giu'),
  new RegExp(`(?<!\\p{L})${FOOTING}\\s*[:,-]?\\s*(?<a>${LENGTH_TEXT})${DEEP}`, 'giu'),
];

/** Depths of strip footings that are believed, mm. *Practice, no source.* */
const DEPTH_LEAST_MM = 100;
const DEPTH_MOST_MM = 2500;

export const readFootings = (source: string): FootingReading[] => {
  if (!/\d/.test(source) || !NAMED.test(source)) return [];
  const text = plainMarks(source);
  const found: { at: number; end: number; reading: FootingReading }[] = [];
  for (const form of FORMS) {
    for (const m of text.matchAll(form)) {
      const end = m.index + m[0].length;
      if (found.some((f) => m.index < f.end && end > f.at)) continue;
      const depth = measureOf(m.groups!.c ?? m.groups!.b ?? m.groups!.a!);
      if (depth) found.push({ at: m.index, end, reading: { depth, raw: m[0].trim() } });
    }
  }
  return found.sort((p, q) => p.at - q.at).map((f) => f.reading);
};

/** Depths that a reading can mean, mm, likeliest first. */
export const footingDepthsMm = (reading: FootingReading, unit: LengthUnit): number[] =>
  sizesMm(reading.depth, unit, DEPTH_LEAST_MM, DEPTH_MOST_MM);
