/**
 * Findings for a crew whose gear is in inches. Stages write messages in mm, the unit of the program; here each length of a sentence is told in inches, once,
 * before anything is written, so that report, drawing, model and command line say the same.
 *
 * A number is a length where the sentence says so: `mm` behind it, or `station`, `level`, `rows at`, `from … to` before it, or `high`, `wide`, `deep`, `long`
 * behind it, or `a x b`. What stands in quotes is the drawing's own wording and stays, and so do values that are to be put into the job file, which is in mm.
 */

import type { Finding } from './findings.js';
import { inchText } from './inches.js';
import { MM_PER, plainNumber } from './units.js';

const NUMBER = String.raw`-?\d+(?:\.\d+)?`;
/** Not the tail of a mark, a code or a longer number. */
const BEGIN = String.raw`(?<![\p{L}\p{N}._/:-]|\d,)`;
/** Numbers that one unit stands behind. */
const several = (between: string): string => `${NUMBER}(?:(?:${between})${NUMBER})*`;
/** No other unit, and no further digits, behind it. */
const END = String.raw`(?![\p{L}\p{N}²³]|\.\d|-\d| ?(?:kN|kPa|kg|m2|m3|m²|m³|m|%|°|degrees)(?![\p{L}]))`;
const UNIT = String.raw` mm(?![\p{L}\p{N}²³]| ?\()`;

const LISTED = several(` to |, (?!${NUMBER} mm)| and `);
const PLACES = new RegExp(
  String.raw`(?<before>\b(?:(?:stations?|levels?|rows at) (?=${LISTED})|from (?=${NUMBER} to ${NUMBER}${END})))(?<values>${LISTED})(?:${UNIT}|${END})`,
  'gu',
);
const WITH_UNIT = new RegExp(`(?<before>${BEGIN}[+±]?)(?<values>${several(' x | by | to | or | and ')})${UNIT}`, 'gu');
const SIZES = new RegExp(
  String.raw`(?<before>${BEGIN})(?<values>${NUMBER}(?: x ${NUMBER})+|${NUMBER}(?= (?:high|wide|deep|long)\b))(?! in\b)${END}`,
  'gu',
);

/** Below a sixteenth inches are told in thousandths: '0' would deny what the sentence tells. */
const lengthOf = (valueMm: number): string =>
  valueMm !== 0 && Math.abs(valueMm) < MM_PER.in / 16 ? plainNumber(valueMm / MM_PER.in, 3) : inchText(valueMm);

const inInches = (text: string): string => {
  const told = (before: string, values: string) =>
    `${before}${values.replace(new RegExp(NUMBER, 'g'), (n) => lengthOf(Number(n)))} in`;
  return [PLACES, WITH_UNIT, SIZES].reduce(
    (all, pattern) => all.replace(pattern, (_, before: string, values: string) => told(before, values)),
    text,
  );
};

/** All but what stands in quotes. */
export const messageInInches = (message: string): string =>
  message.replace(/"(?:[^"]*""(?=[ ,.;:)])|[^"]*")|[^"]+/g, (part) => (part.startsWith('"') ? part : inInches(part)));

/** Findings in the unit of the gear. */
export const inGearUnit = (findings: readonly Finding[], unit: 'mm' | 'in'): readonly Finding[] =>
  unit === 'mm'
    ? findings
    : findings.map((f) => ({
        ...f,
        message: messageInInches(f.message),
        assumed: f.assumed === null ? null : messageInInches(f.assumed),
      }));
