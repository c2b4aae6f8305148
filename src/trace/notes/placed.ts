/** What the notes of a foundation plan say of its walls: levels, steps and bars, each at its place. */

import { compareFindings, type Finding, finding, type Staged } from '../../ground/findings.js';
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
import { compareLevelsAt, levelsAtOf, levelsOf } from '../levelsGiven.js';
import { placeBars } from './barNotes.js';
import { generalLevels } from './generalLevels.js';
import { hostsOf } from './hosts.js';
import { joinTexts } from './joined.js';
import { levelNotes } from './levelNotes.js';
import { levelsNear } from './levelsNear.js';
import { placeTexts, tooManyNotes } from './places.js';
import { notesListed } from './say.js';
import { placeSteps } from './stepPlaces.js';

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

const tooMany = (): Finding =>
  finding(
    'trace.notes-too-many',
    'The drawing holds more texts or leaders than are read; notes beyond that were left out.',
  );

/**
 * Places the notes. A leader's tip is the place of its text, else the text's own. The job file beats the drawing, and what differs is a finding.
 *
 * @returns levels in mm of the drawing's datum. `levelsAt` has the job file's and the drawing's, and `steps` too, each sorted by place; a level of a single wall
 *   stands on that wall's axis. Findings are in the order of compareFindings.
 */
export const placeNotes = (input: NotesInput): Staged<PlacedNotes> => {
  const { drawing, unit, options } = input;
  const hosts = hostsOf(input.walls, input.curves);
  const whole = joinTexts(input.texts);
  const leaders = input.leaders.map((l) => ({
    ...l,
    text: l.text === null ? null : (whole.joined.get(l.text) ?? l.text),
  }));
  const texts = placeTexts(whole.texts, leaders, unit);
  const noted = levelNotes(texts, hosts, unit);
  const general = generalLevels(noted.notes, input.paths, unit, options);
  const { levels, findings } = levelsOf(options, general);
  const stepped = placeSteps(drawing, texts, hosts, unit, options);
  const jobAt = levelsAtOf(options, unit);
  const near = levelsNear({
    notes: noted.notes,
    hosts,
    general,
    levels,
    steps: stepped.steps,
    jobAt,
    paths: input.paths,
    unit,
    options,
  });
  const barred = placeBars(texts);
  return {
    value: {
      levels,
      levelsAt: [...jobAt, ...near.levelsAt].sort(compareLevelsAt),
      steps: stepped.steps,
      bars: barred.bars,
    },
    findings: [
      ...(tooManyNotes(input.texts, input.leaders) ? [tooMany()] : []),
      ...findings,
      ...notesListed([
        ...noted.findings,
        ...general.findings,
        ...stepped.findings,
        ...near.findings,
        ...barred.findings,
      ]),
    ].sort(compareFindings),
  };
};
