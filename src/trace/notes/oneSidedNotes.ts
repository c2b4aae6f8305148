/** Notes that say of a wall that only one of its faces is formed: "ONE-SIDED FORM", "CAST AGAINST EXISTING WALL", "einhäuptig". Forms are from memory, no source. */

import type { Vec } from '../../ground/plane.js';
import type { LengthUnit } from '../../ground/units.js';
import type { Against, DrawingLeader, DrawingText } from '../../ground/vocabulary.js';
import { joinTexts } from './joined.js';
import { NUMBER_STARTS, UNIT_TEXT } from './measure.js';
import { isSheetNote } from './parts.js';
import { placeTexts } from './places.js';
import { OTHER_PART, WALL_WORD } from './words.js';

export interface OneSidedNote {
  /** The leader's tip, or where the text stands; mm. */
  readonly at: Vec;
  readonly byLeader: boolean;
  readonly against: Against | null;
  /** As it is written. */
  readonly text: string;
}

const ONE_SIDED = new RegExp(
  [
    String.raw`(?<![\p{L}\d])(?:ONE|1|SINGLE)[\s-]*(?:SIDED?|FACED?)[\s-]*(?:WALL\s*)?(?:FORM(?:S|ED|WORK|ING)?|SHUTTER(?:S|ED|ING)?|WALL)`,
    String.raw`^\s*SINGLE[\s-]*SIDED\s*$`,
    String.raw`FORM(?:ED)?\s+(?:ON\s+)?(?:ONE|1)\s+(?:SIDE|FACE)(?:\s+ONLY)?`,
    String.raw`BLIND[\s-]*SIDED?(?:\s+WALL)?`,
    String.raw`EINH(?:Ä|AE)UPTIG\p{L}*`,
    String.raw`EINSEITIG\p{L}*\s+(?:GE)?SCHAL\p{L}*`,
    String.raw`COFFR(?:AGE|É|EE?)\s+(?:À\s+|A\s+|SUR\s+)?UNE\s+(?:SEULE\s+)?FACE`,
    String.raw`ENCOFRADO\s+(?:A|DE|POR)\s+UNA\s+(?:SOLA\s+)?CARA`,
  ].join('|'),
  'iu',
);

const CAST = String.raw`(?:CAST(?:ING)?|POUR(?:ED|ING)?|PLACED?|CONCRETED|FORM(?:ED)?|BETONIER\p{L}*|GESCHALT|COUL[ÉE]E?|B[ÉE]TONN[ÉE]E?|HORMIGON\p{L}*|VERTIDO|SHOTCRETE)`;
const WHAT: readonly (readonly [Against, string])[] = [
  ['rock', String.raw`ROCK|BEDROCK|FELS\p{L}*|ROCHER|ROCA`],
  [
    'wall',
    String.raw`(?:EX(?:IST(?:ING)?|G)?\.?|\(E\)|ADJ(?:ACENT)?\.?)\s+(?:WALL|FOUNDATION|FDN|FNDN|BUILDING|BLDG|STRUCTURE|BASEMENT)\p{L}*|(?:THE\s+)?NEIGHBOU?R\p{L}*|BESTAND\p{L}*|BESTEHEND\p{L}*\s+(?:WAND|MAUER|GEB[ÄA]UDE)|` +
      String.raw`NACHBAR\p{L}*|(?:MUR|PAROI|VOILE|B[ÂA]TIMENT)\s+EXISTANTE?|(?:MURO|PARED|EDIFICIO)\s+EXISTENTE`,
  ],
  [
    'earth',
    String.raw`(?:UNDISTURBED\s+|NATURAL\s+)?(?:EARTH|SOIL|GROUND|EXCAVATION)(?:\s+FACE)?|LAGGING|SHORING|SHEET\s*PIL\p{L}*|(?:SOLDIER|SECANT|CONTIGUOUS|BORED)\s+PIL\p{L}*|` +
      String.raw`ERD(?:E|REICH)|BODEN|VERBAU\p{L}*|SPUNDW\p{L}*|BERLIN\p{L}*|TERRE|TERRENO|TABLESTACAS?|PILOTES`,
  ],
];
const BETWEEN = String.raw`(?:\s+\p{L}+){0,3}?\s+(?:DIRECTLY\s+)?`;
const TOWARDS = String.raw`(?:AGAINST|TIGHT\s+TO|GEGEN|CONTRE|CONTRA)\s+(?:THE\s+|DAS\s+|DEN\s+|DIE\s+|LA\s+|LE\s+|EL\s+)?`;
const AGAINST = WHAT.map(
  ([against, what]) =>
    [
      against,
      new RegExp(
        `(?:(?<!\\p{L})${CAST}${BETWEEN}${TOWARDS}(?:${what})(?!\\p{L})|${TOWARDS}(?:${what})\\s+(?:${CAST}))`,
        'iu',
      ),
    ] as const,
);
/** What says how much concrete covers bars, as codes word it; other works; what is of another part; and denials. */
const OTHERWISE = new RegExp(
  [
    'COVER|CLEAR|CLR|EXPOSED|PERMANENTLY|ÜBERDECKUNG|DECKUNG|ENROBAGE|RECUBRIMIENTO',
    'INSULAT|WATER\\s*-?PROOF|MEMBRANE|DRAIN|FILL|FILTER|JOINT|VOID|BOARD|PROTECTION|GRAVEL|ABDICHT|DÄMM|ISOL|REMBLAI|RELLENO|IMPERMEAB|[ÉE]TANCH',
    `(?<!\\p{L})${OTHER_PART}(?:S|E?N)?(?!\\p{L})`,
    "(?<!\\p{L})(?:NOT|NO|NEVER|AVOID|DON['’]?T|CANNOT|CAN['’]T|NICHT|KEIN\\p{L}*|NIE|NON|PAS|SANS|SIN)(?!\\p{L})",
  ].join('|'),
  'iu',
);
/** A length in a note that names no wall is how thick the cover is. */
const LENGTH = new RegExp(`${NUMBER_STARTS}${UNIT_TEXT}`, 'iu');
const WALL = new RegExp(WALL_WORD, 'iu');
/** Longer ones are general notes. */
const LETTERS_MOST = 120;

/** What a text says of it; null: nothing. */
export const readOneSided = (text: string): { readonly against: Against | null } | null => {
  if (text.length > LETTERS_MOST || OTHERWISE.test(text) || (LENGTH.test(text) && !WALL.test(text))) return null;
  const against = AGAINST.find(([, pattern]) => pattern.test(text))?.[0] ?? null;
  return against !== null || ONE_SIDED.test(text) ? { against } : null;
};

/**
 * The notes of walls that are formed on one side.
 *
 * @param texts visible ones inside the chosen view, drawing units
 * @returns sorted by where the texts stand, then by what they say; a title or a general note without a leader is none
 */
export const oneSidedNotes = (
  texts: readonly DrawingText[],
  leaders: readonly DrawingLeader[],
  unit: LengthUnit,
): readonly OneSidedNote[] => {
  const whole = joinTexts(texts);
  // Few drawings have such a note: only for one are texts held against leaders.
  if (!whole.texts.some((t) => readOneSided(t.text))) return [];
  return placeTexts(whole.texts, leaders, unit).flatMap((t) => {
    const read = readOneSided(t.text);
    if (!read || (isSheetNote(t.text) && !t.byLeader)) return [];
    return t.at.map((at) => ({ at, byLeader: t.byLeader, against: read.against, text: t.text }));
  });
};
