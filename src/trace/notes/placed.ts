/** What the notes of a foundation plan say of its walls: levels, steps and bars, each at its place. */

import type { Staged } from '../../ground/findings.js';
import type { LengthUnit } from '../../ground/units.js';
import type {
  BarNote,
  Drawing,
  DrawingLeader,
  DrawingPath,
  DrawingText,
  FoundStep,
  Levels,
  LevelsAt,
  TraceOptions,
  WallCurve,
  WallStretch,
} from '../../ground/vocabulary.js';
import { levelsAtOf, levelsOf } from '../levelsGiven.js';

export interface NotesInput {
  readonly drawing: Drawing;
  /** Visible ones inside the chosen view, drawing units. */
  readonly texts: readonly DrawingText[];
  /** Drawing units. */
  readonly leaders: readonly DrawingLeader[];
  readonly unit: LengthUnit;
  /** mm in the drawing's axes. */
  readonly walls: readonly WallStretch[];
  readonly curves: readonly WallCurve[];
  /** Those taken as walls, drawing units: for their elevation and extrusion. */
  readonly paths: readonly DrawingPath[];
  readonly options: TraceOptions;
}

export interface PlacedNotes {
  readonly levels: Levels;
  readonly levelsAt: readonly LevelsAt[];
  readonly steps: readonly FoundStep[];
  readonly bars: readonly BarNote[];
}

/** Places the notes. The job file beats the drawing; what differs is a finding. */
export const placeNotes = (input: NotesInput): Staged<PlacedNotes> => {
  const { levels, findings } = levelsOf(input.options);
  return { value: { levels, levelsAt: levelsAtOf(input.options, input.unit), steps: [], bars: [] }, findings };
};
