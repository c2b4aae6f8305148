/**
 * Steps in notes: STEP FTG, STEP DN 2'-0", STEP 600, STEPPED FOOTING, Fundamentabsatz. A rule for steps ("2H:1V MAX STEP"), the title of a detail and a stair are
 * no steps. STEP FTG, STEP DN and the rule's wording are from memory of the trade.
 */

import type { LengthUnit } from '../../ground/units.js';
import { plainMarks } from '../lengthText.js';
import { LENGTH_TEXT, type Measure, measureOf, NUMBER_ENDS, sizesMm } from './measure.js';
import { WALL_WORD } from './words.js';

export interface StepReading {
  /** What steps; null: the text does not say. */
  readonly kind: 'footing' | 'top' | null;
  /** Height of the step; null where the text gives none. */
  readonly rise: Measure | null;
  readonly direction: 'down' | 'up' | null;
  readonly raw: string;
}

const FOOTING =
  '(?:FOOTINGS?|FTN?GS?|FOUNDATIONS?|FDN|FNDN|FUNDAMENT\\p{L}*|SEMELLES?|ZAPATAS?|SAPATAS?|FONDAZION[EI]|FUNDERING|ŁAWY|ФУНДАМЕНТА)\\.?';
const TOP = `(?:T\\.?\\s?O\\.?\\s?W(?!\\p{L})\\.?|T\\s?\\/\\s?W(?:ALL)?|TOP(?:\\s*OF)?(?:\\s*CONC\\.?)?\\s*WALL|${WALL_WORD}\\s*TOP|${WALL_WORD})`;
const BETWEEN = '(?:\\s*(?:IN|THE|OF|CONC(?:RETE)?|CONT(?:INUOUS)?|WALL|BOTTOM|TOP|BOT|AT)\\.?)*\\s*';
const WAY = '(?<way>DOWN|DWN|DN|UP)?\\.?';
const RISE = `(?:\\s*(?:[:=,-]|OF|BY|H\\s*=|DN|DOWN)?\\s*(?<![\\d.,/:#])(?<rise>${LENGTH_TEXT})${NUMBER_ENDS}(?!\\s*(?:R(?!\\p{L})|RISERS?|STEPS?|[HV]\\s*:)))?`;
const STEP_WORD = '(?:STEPPED|STEP(?:S(?=\\s*IN))?|DROP)';

const FORMS: readonly { readonly kind: StepReading['kind']; readonly pattern: RegExp }[] = [
  { kind: 'footing', pattern: new RegExp(`(?<!\\p{L})${STEP_WORD}${BETWEEN}${FOOTING}\\s*${WAY}${RISE}`, 'giu') },
  { kind: 'footing', pattern: new RegExp(`(?<!\\p{L})${FOOTING}\\s*${STEP_WORD}\\s*${WAY}${RISE}`, 'giu') },
  {
    kind: 'footing',
    pattern: new RegExp(
      `(?<!\\p{L})(?:FUNDAMENT-?\\s*(?:ABSATZ|STUFE|ABTREPPUNG|VERSPRUNG)|(?:ABGETREPPTES?|ABTREPPUNG)(?:\\s*FUNDAMENT)?|REDAN(?:\\s*DE)?(?:\\s*SEMELLE)?|` +
        `ZAPATA\\s*ESCALONADA|ESCAL[OÓ]N\\s*(?:DE\\s*)?ZAPATA|SALTO\\s*(?:DI\\s*QUOTA|FONDAZIONE)|GRADONE|FUNDERINGSSPRONG)(?!\\p{L})${WAY}${RISE}`,
      'giu',
    ),
  },
  { kind: 'top', pattern: new RegExp(`(?<!\\p{L})${STEP_WORD}${BETWEEN}${TOP}\\s*${WAY}${RISE}`, 'giu') },
  {
    kind: 'top',
    pattern: new RegExp(`(?<!\\p{L})${TOP}\\s*(?:STEPPED|STEPS?|DROP)(?!\\p{L})\\s*${WAY}${RISE}`, 'giu'),
  },
  {
    kind: 'top',
    pattern: new RegExp(
      `(?<!\\p{L})(?:WANDABSATZ|MAUERABSATZ|D[ÉE]CROCHEMENT\\s*(?:DU\\s*)?MUR)(?!\\p{L})${RISE}`,
      'giu',
    ),
  },
  { kind: null, pattern: new RegExp(`(?<!\\p{L})STEP\\s*(?<way>DOWN|DWN|DN|UP)(?!\\p{L})\\.?${RISE}`, 'giu') },
  {
    kind: null,
    pattern: new RegExp(
      `(?<!\\p{L})STEP\\s*[:=]?\\s*(?<rise>${LENGTH_TEXT})${NUMBER_ENDS}(?!\\s*(?:R(?!\\p{L})|RISERS?|[HV]\\s*:))`,
      'giu',
    ),
  },
  {
    kind: null,
    pattern: new RegExp(`(?<!\\p{L})(?:ABSATZ|VERSPRUNG|RESSAUT|SPRONG|VERSPRINGING)(?!\\p{L})${RISE}`, 'giu'),
  },
  { kind: 'footing', pattern: /^\s*S\.?\s?F\.?\s*$/giu },
  { kind: null, pattern: /^\s*(?:STEP|STUFE)\.?\s*$/giu },
];

/** A rule, a title, or a stair. */
const NO_STEP =
  /\d\s*[HV]?\s*:\s*\d\s*[HV]?|(?<!\p{L})(?:MAX(?:IMUM)?|SHALL|EXCEED|(?:AS|IF|WHERE)\s*REQ\p{L}*|MAY\s*BE|STAIRS?|TREADS?|RISERS?|PORCH|DOOR\s*STEP|TREPPE\p{L}*|HÖCHSTENS)(?!\p{L})|(?:STEP(?:PED)?\s*(?:FOOTING|FTG)|FOOTING\s*STEP|FTG\.?\s*STEP|STEP)\s*DET(?:AIL|\.|(?!\p{L}))(?!\s*\d)|TYP(?:ICAL|\.)?\s*(?:STEP|FTG\.?\s*STEP)\p{L}*\s*(?:FOOTING|FTG)?\.?\s*DET/iu;

/** The steps that a text marks. Each line is read by itself first, since a rule in one line says nothing of the next. */
export const readSteps = (source: string): StepReading[] => {
  const text = plainMarks(source);
  if (
    !/ST[EU]|DROP|ABSATZ|SPR[UO]NG|REDAN|RESSAUT|ESCAL|SALTO|GRADON|D[EÉ]CROCH|ABTREPP|ABGETREPP|^\s*S\.?\s?F/iu.test(
      text,
    )
  )
    return [];
  const found: { at: number; end: number; reading: StepReading }[] = [];
  const rules = text.split('\n').map((line) => NO_STEP.test(line));
  const lineOf = (at: number): number => text.slice(0, at).split('\n').length - 1;
  for (const { kind, pattern } of FORMS) {
    for (const m of text.matchAll(pattern)) {
      const end = m.index + m[0].length;
      if (
        rules[lineOf(m.index)] ||
        rules[lineOf(m.index + m[0].trimEnd().length)] ||
        found.some((f) => m.index < f.end && end > f.at)
      )
        continue;
      const way = m.groups?.way?.toUpperCase();
      const rise = m.groups?.rise;
      found.push({
        at: m.index,
        end,
        reading: {
          kind,
          rise: rise === undefined ? null : measureOf(rise),
          direction: way === undefined ? null : way === 'UP' ? 'up' : 'down',
          raw: m[0].replace(/\s+/g, ' ').trim(),
        },
      });
    }
  }
  return found.sort((p, q) => p.at - q.at).map((f) => f.reading);
};

/** Heights of steps that are believed, mm. *Practice, no source.* */
const RISE_LEAST_MM = 50;
const RISE_MOST_MM = 4000;

/** Heights that a reading can mean, mm, likeliest first. */
export const risesMm = (reading: StepReading, unit: LengthUnit): number[] =>
  reading.rise === null ? [] : sizesMm(reading.rise, unit, RISE_LEAST_MM, RISE_MOST_MM);
