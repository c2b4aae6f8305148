/** Openings that a drawing notes, at their places. */

import type { Vec } from '../../ground/plane.js';
import type { LengthUnit } from '../../ground/units.js';
import type { DrawingLeader, DrawingText } from '../../ground/vocabulary.js';

export interface OpeningNote {
  /** The leader's tip, or where the text stands; mm. */
  readonly at: Vec;
  readonly kind: 'door' | 'window' | 'opening' | null;
  readonly widthMm: number | null;
  readonly heightMm: number | null;
  /** Underside and top of the opening; `sillIs` and `headIs` tell whether the number is a level or a height above the floor. */
  readonly sillMm: number | null;
  readonly sillIs: 'level' | 'height' | null;
  readonly headMm: number | null;
  readonly headIs: 'level' | 'height' | null;
  /** As it is written. */
  readonly text: string;
  readonly source: string;
}

/** The openings noted; sorted by where the texts stand, then by what they say. */
export const openingNotes = (
  _texts: readonly DrawingText[],
  _leaders: readonly DrawingLeader[],
  _unit: LengthUnit,
): readonly OpeningNote[] => [];
