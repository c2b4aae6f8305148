/** What bounds the zones of a run: its ends, steps and jogs, and the places of stems and pilasters along it. */

import type { Run, RunEnd } from '../ground/vocabulary.js';
import type { JogEnd, JogFeature, JogOption } from './deepJogs.js';
import { type RunPlace, type StemBound, type StemsFeature, stemsFeatures } from './pilasters.js';
import { type StepEnd, type StepFeature, stepId } from './steps.js';

/** One side of a zone: an end of the run, or a place of stems and pilasters. */
export type Feature =
  | { readonly kind: 'end'; readonly end: RunEnd; readonly direction: 1 | -1 }
  | StemsFeature
  | StepFeature
  | JogFeature;

/** `jointsOf` gives the joints that may be chosen at a step, `optionsOf` the ways to lay out a jog with the wall beyond it; null: each wall by itself. */
export const featuresOf = (
  run: Run,
  jointsOf: (step: string, end: StepEnd) => readonly number[],
  optionsOf: (end: JogEnd) => readonly JogOption[] | null,
  boxesOf: (place: RunPlace) => readonly StemBound[] | null,
): Feature[] => {
  const ending = (end: RunEnd, direction: 1 | -1): Feature => {
    if (end.kind === 'jog') {
      const options = optionsOf(end);
      return options ? { kind: 'jog', id: end.node, end, direction, options } : { kind: 'end', end, direction };
    }
    if (end.kind !== 'step') return { kind: 'end', end, direction };
    const id = stepId(run, end);
    return { kind: 'step', id, end, direction, jointsGu: jointsOf(id, end) };
  };
  return [ending(run.start, 1), ...stemsFeatures(run, boxesOf), ending(run.end, -1)];
};

/** Re-entrant vertices whose legs a feature takes. */
export const featureVertices = (feature: Feature): string[] => {
  if (feature.kind === 'stems') return feature.stems.flatMap((s) => [s.fromVertex, s.toVertex]);
  if (feature.kind === 'step' || feature.kind === 'jog') return [];
  const { end } = feature;
  if (end.kind === 'corner') return [end.inner === 'left' ? end.leftVertex : end.rightVertex];
  return end.kind === 'stem' ? [end.leftVertex, end.rightVertex] : [];
};
