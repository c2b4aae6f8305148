/**
 * Layer names in the forms of standards. What each field is comes from the standards' own descriptions as published in summaries:
 * - US National CAD Standard: discipline (1-2), major (4), up to two minor groups (4), status (1), parted by dashes.
 * - ISO 13567: agent 2, element 6, presentation 2, then optionally status 1 …, of fixed length, padded with '-' or '_'. Elements are numbered
 *   by national tables, so that a number tells nothing here.
 * - BS 1192:2007: role-classification-presentation-description, with Uniclass 1997 table G or Uniclass 2015.
 */

export interface NameForm {
  readonly form: 'ncs' | 'iso' | 'bs';
  /** What is left to be read as words. */
  readonly words: string;
  /** Draws the things themselves rather than text, hatching, dimensions or the sheet. */
  readonly draws: boolean;
  readonly state: 'new' | 'existing' | 'demolished' | 'not-now' | null;
  /** What the classification says where its table is known. */
  readonly classified: 'wall' | 'foundation' | 'other' | null;
}

/** NCS status: N new work, E existing to remain, D existing to demolish, F future, T temporary, M to be moved, X not in contract, 1-9 phases. */
const NCS_STATE: Readonly<Record<string, NameForm['state']>> = {
  N: 'new',
  E: 'existing',
  D: 'demolished',
  F: 'not-now',
  T: 'not-now',
  M: 'existing',
  X: 'not-now',
};

const ncs = (name: string): NameForm | null => {
  const m = /^[A-Z]{1,2}-[A-Z0-9]{4}(?:-[A-Z0-9]{4}){0,2}(?:-([A-Z0-9]))?$/i.exec(name);
  if (!m) return null;
  const state = m[1] === undefined ? null : (NCS_STATE[m[1].toUpperCase()] ?? null);
  const words = m[1] === undefined ? name : name.slice(0, -2);
  return { form: 'ncs', words, draws: true, state, classified: null };
};

/** ISO 13567-2 status: N new, E existing, R to be removed, T temporary. */
const ISO_STATE: Readonly<Record<string, NameForm['state']>> = {
  N: 'new',
  E: 'existing',
  R: 'demolished',
  T: 'not-now',
};

const iso = (name: string): NameForm | null => {
  const m = /^([A-Z][-_A-Z0-9])([-_A-Z0-9]{6})([-_A-Z][-_A-Z0-9])([-_A-Z])?([-_A-Z0-9]*)$/.exec(name);
  // Names of ten letters and more that are no code have no padding: ask for some inside the first three fields.
  if (!m || !/[-_]{2}|[-_]$/.test(name.slice(0, 10)) || !/^[A-Z0-9]+[-_]*$/.test(m[2]!)) return null;
  const presentation = m[3]!;
  if (!/^(--|__|[ETHDJKGUBPVYZ].)$/.test(presentation)) return null;
  return {
    form: 'iso',
    words: m[2]!,
    draws: /^[-_E]/.test(presentation),
    state: m[4] === undefined ? null : (ISO_STATE[m[4]] ?? null),
    classified: null,
  };
};

/** Uniclass 1997 table G, Uniclass 2015 tables EF and Ss: the groups that matter here; from memory. */
const UNICLASS: readonly (readonly [RegExp, 'wall' | 'foundation'])[] = [
  [/^G25/i, 'wall'],
  [/^G21/i, 'foundation'],
  [/^(EF|Ss)_25/i, 'wall'],
  [/^EF_20_05|^Ss_20_05/i, 'foundation'],
];

const bs = (name: string): NameForm | null => {
  const m = /^[A-Z]{1,2}-([A-Z]{1,2}(?:_\d{2})+|[A-Z]\d{1,4}|\d{2,4})-([A-Z])\d?(?:[-_](.*))?$/i.exec(name);
  if (m) {
    const group =
      UNICLASS.find(([pattern]) => pattern.test(m[1]!))?.[1] ?? (/^(G|EF|Ss)/i.test(m[1]!) ? 'other' : null);
    const draws = /[MG]/i.test(m[2]!);
    return { form: 'bs', words: m[3] ?? '', draws, state: null, classified: group };
  }
  // The older British form: discipline, three digits of CI/SfB, graphics, pen: A210G70, A210G701_WALL. CI/SfB (21) external and (22)
  // internal walls, (16) foundations; 210 for wall is seen, the others are from memory.
  const old = /^[A-Z](\d{3})([ACDGHTZ])\d*(?:_(.*))?$/.exec(name);
  if (!old) return null;
  const classified = /^2[12]/.test(old[1]!) ? 'wall' : /^16/.test(old[1]!) ? 'foundation' : 'other';
  return { form: 'bs', words: old[3] ?? '', draws: old[2] === 'G', state: null, classified };
};

/** The form that a name (without xref prefix) has, or null for a free name. */
export const nameForm = (name: string): NameForm | null => bs(name) ?? ncs(name) ?? iso(name);
