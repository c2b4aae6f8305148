/** What an opening or a hole of a model comes to: an opening in a wall, or why it is none. Local mm in plan. */

import type { Vec } from '../../ground/plane.js';
import type { FoundOpening, Solid } from '../../ground/vocabulary.js';
import type { LevelPart, StretchLevels } from './wallLevels.js';

export interface PlacedOpening {
  readonly found: FoundOpening;
  /** Of which stretch, in the order of those given; along it. */
  readonly stretch: number;
  readonly fromMm: number;
  readonly toMm: number;
  /** As a sentence begins: 'Door (1Ab…)', 'A hole in the body of Wall (2Cd…)'. */
  readonly name: string;
  readonly isBox: boolean;
}

/** 'nowhere' and 'outside': not in the wall; 'recess': not through it; 'small': left to the ties. */
export type NotOpening = 'recess' | 'outside' | 'nowhere' | 'small';

export interface OpeningNote {
  readonly kind: NotOpening;
  /** GlobalId of the opening; of a hole that a body has itself that of the element. */
  readonly id: string;
  /** 'Door (1Ab…) in Wall (2Cd…)', the beginning of a sentence that `text` ends. */
  readonly name: string;
  readonly text: string;
  readonly at: Vec;
  readonly levelMm: number;
  /** What ties keep clear of where it is small, in the model's axes, and what that is called. */
  readonly clearOf: { readonly what: string; readonly name: string | null; readonly solids: readonly Solid[] };
}

export const isNote = (o: PlacedOpening | OpeningNote): o is OpeningNote => 'kind' in o;

/** Openings up to this, both ways, are sleeves: nothing is boxed out of the forms for them by the layout. *Practice, no source.* */
const SMALL_MM = 300;
/** An opening goes through when it takes this share of the thickness over its width. */
const THROUGH_SHARE = 0.98;
const SAME_MM = 2;

export const levelAt = (s: StretchLevels, u: number): LevelPart | undefined =>
  s.levels.find((l) => u <= l.toMm) ?? s.levels[s.levels.length - 1];

interface Seen {
  readonly widthMm: number;
  readonly baseMm: number;
  readonly topMm: number;
  /** Of the thickness that it takes. */
  readonly share: number;
  /** The model says that it does not go through. */
  readonly isRecess: boolean;
}

/** Why it is no opening of the wall there, or null: it is one. */
export const whyNot = (
  { widthMm, baseMm, topMm, share, isRecess }: Seen,
  level: LevelPart | undefined,
): Pick<OpeningNote, 'kind' | 'text'> | null => {
  if (level && (topMm <= level.baseMm + SAME_MM || baseMm >= level.topMm - SAME_MM))
    return { kind: 'outside', text: 'lies above or below the wall' };
  if (share < THROUGH_SHARE)
    return { kind: 'recess', text: `does not go through: it takes ${Math.round(share * 100)} % of the thickness` };
  if (isRecess) return { kind: 'recess', text: 'is a recess by its type' };
  if (widthMm <= SMALL_MM && topMm - baseMm <= SMALL_MM)
    return { kind: 'small', text: `is ${Math.round(widthMm)} by ${Math.round(topMm - baseMm)} mm` };
  return null;
};
