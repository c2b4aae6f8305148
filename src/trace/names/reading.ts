/** What a layer's name says, all in all. */

import { nameForm } from './forms.js';
import { nameWords, withoutXref } from './split.js';
import {
  CARRYING,
  CONCRETE,
  DEMOLISHED,
  EXISTING,
  FOOTING,
  FOUNDATION,
  GAPLESS,
  NOT_CAST,
  NOT_NOW,
  NOT_WALL,
  STEM,
  THINGS,
  WALL,
} from './words.js';

/**
 * Ranked as evidence from the first to 'silent'; the rest are never walls to be formed: 'not-cast' walls of other stuff, 'not-new' walls that
 * stand already, come down or belong to another contract.
 */
export type LayerKind =
  | 'foundation-wall'
  | 'structural-wall'
  | 'foundation'
  | 'concrete'
  | 'wall'
  | 'silent'
  | 'footing'
  | 'not-cast'
  | 'not-new'
  | 'other';

/** Kinds that may hold walls to be formed, the most telling first. */
export const WALL_KINDS = ['foundation-wall', 'structural-wall', 'foundation', 'concrete', 'wall', 'silent'] as const;

export interface NameReading {
  readonly kind: LayerKind;
  /** Kind if it were new work: what is not taken because of its state. */
  readonly asNew: LayerKind;
  readonly state: 'new' | 'existing' | 'demolished' | 'not-now' | null;
}

type Tag = 'wall' | 'foundation' | 'stem' | 'concrete' | 'carrying' | 'footing' | 'not-cast' | 'other';

const LISTS: readonly (readonly [ReadonlySet<string>, Tag])[] = [
  [WALL, 'wall'],
  [FOUNDATION, 'foundation'],
  [STEM, 'stem'],
  [CONCRETE, 'concrete'],
  [CARRYING, 'carrying'],
  [FOOTING, 'footing'],
  [NOT_CAST, 'not-cast'],
  [NOT_WALL, 'other'],
];

/** Phrases whose words say something else apart. */
const PHRASES: readonly (readonly [RegExp, Tag])[] = [
  [/ sous sol /, 'stem'],
  [/ grade beams? | pile caps? /, 'footing'],
];

/** Beginnings of words in languages that bend them much. */
const BEGINNINGS: readonly (readonly [RegExp, Tag])[] = [
  [/^(фундаментн|fundamentow)/u, 'foundation'],
  [/^(подвальн|цокольн|подпорн|piwniczn|oporow)/u, 'stem'],
  [/^(монолитн|железобетонн|бетонн|betonow|żelbetow|zelbetow)/u, 'concrete'],
];

const tagsOf = (text: string, list: readonly string[]): Set<Tag> => {
  const tags = new Set<Tag>();
  for (const [set, tag] of LISTS) if (list.some((w) => set.has(w))) tags.add(tag);
  const joined = ` ${list.join(' ')} `;
  for (const [pattern, tag] of PHRASES) if (pattern.test(joined)) tags.add(tag);
  for (const [pattern, tag] of GAPLESS) if (pattern.test(text)) tags.add(tag);
  for (const [pattern, tag] of BEGINNINGS) if (list.some((w) => pattern.test(w))) tags.add(tag);
  if (list.some((w) => /^(einzel|streifen|punkt|köcher|koecher)fundament/u.test(w))) tags.add('footing');
  else if (list.some((w) => /(fundament|fundamente|fundering)$/u.test(w))) tags.add('foundation');
  return tags;
};

const kindOf = (tags: ReadonlySet<Tag>, structural: boolean): LayerKind => {
  if (tags.has('other')) return 'other';
  const wall = tags.has('wall');
  if (tags.has('footing') && !wall) return 'footing';
  // "Foundation wall, brick" is not cast; "partition" alone is no wall of ours either.
  if (tags.has('not-cast') && !tags.has('concrete')) return 'not-cast';
  if (wall && (tags.has('foundation') || tags.has('stem'))) return 'foundation-wall';
  if (tags.has('footing')) return 'footing';
  if (wall && (structural || tags.has('concrete') || tags.has('carrying'))) return 'structural-wall';
  if (tags.has('foundation')) return 'foundation';
  if (wall) return 'wall';
  return tags.has('concrete') ? 'concrete' : 'silent';
};

const stateOf = (name: string, list: readonly string[]): NameReading['state'] => {
  if (list.some((w) => DEMOLISHED.has(w)) || /\(d\)/i.test(name)) return 'demolished';
  if (list.some((w) => EXISTING.has(w)) || /\(e\)/i.test(name)) return 'existing';
  if (list.some((w) => NOT_NOW.has(w))) return 'not-now';
  return null;
};

/** Reads a layer's name, with or without the prefix of an external reference. */
export const readName = (name: string): NameReading => {
  const bare = withoutXref(name);
  const form = nameForm(bare);
  const text = form?.words ?? bare;
  const list = nameWords(text);
  const tags = tagsOf(text, list);
  if (form && !form.draws) tags.add('other');
  if (form?.classified && form.classified !== 'other' && !tags.has('wall') && !tags.has('footing')) {
    tags.add(form.classified);
  }
  if (form?.classified === 'other' && tags.size === 0) tags.add('other');
  const structural = /^s[a-z]?[-_. ]/i.test(bare) && list.length + (form?.form === 'bs' ? 1 : 0) > 1;
  const asNew = kindOf(tags, structural);
  const state = stateOf(bare, list) ?? form?.state ?? null;
  const standing = state !== null && state !== 'new' && asNew !== 'other';
  return { kind: standing ? 'not-new' : asNew, asNew, state };
};

/** Does a block's name say door, furniture or the like? */
export const isThing = (block: string): boolean => nameWords(block).some((w) => THINGS.has(w));
