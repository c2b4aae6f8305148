/** One fact, one finding: what tracing has said or the job file has settled is not said again by the stages after it. */

import type { Finding, FindingCode, Staged } from '../ground/findings.js';
import { MM_PER } from '../ground/units.js';
import type { Foundation } from '../ground/vocabulary.js';
import type { Job } from './schema.js';

/** Tracing and shape name one break at places that differ by the rounding to the grid at most, mm. */
const SAME_PLACE_MM = 50;
/** An answer of the job file is about a break no farther off than this, as tracing has it, mm. */
const ANSWER_REACH_MM = 1500;

/** Codes by which tracing asks about a break in a wall. */
const BREAKS: ReadonlySet<FindingCode> = new Set(['trace.gap-in-wall', 'trace.opening-unclear']);

export const notSaidBefore = (traced: Staged<Foundation>, later: readonly Finding[], job: Job): Finding[] => {
  const mmPer = MM_PER[traced.value.lengthUnit];
  const breaks = traced.findings.filter((f) => BREAKS.has(f.code)).flatMap((f) => (f.at === null ? [] : [f.at]));
  const ends = (job.drawing?.openings ?? []).filter((o) => o.wallEnds === true).map((o) => o.near);
  const isSettled = ({ at }: Finding): boolean =>
    at !== null &&
    (breaks.some(([x, y]) => Math.hypot(x - at[0], y - at[1]) <= SAME_PLACE_MM) ||
      ends.some(([x, y]) => Math.hypot(x * mmPer - at[0], y * mmPer - at[1]) <= ANSWER_REACH_MM));
  return later.filter((f) => {
    if (f.code === 'shape.no-walls') return traced.value.stretches.length > 0;
    return f.code !== 'shape.gap-in-line' || !isSettled(f);
  });
};

/** Codes that say what the fit does not lay out yet: nothing to be asked of a reading, but a person may want to know. */
const LIMITS_OF_LAYOUT: ReadonlySet<FindingCode> = new Set([
  'shape.curved',
  'shape.junction-not-laid-out',
  'shape.opening',
  'shape.pilaster',
  'shape.step',
  'shape.thickness-change',
]);

/** Before any fitting a limit of the layout is for the record. */
export const beforeLayout = (f: Finding): Finding => (LIMITS_OF_LAYOUT.has(f.code) ? { ...f, severity: 'note' } : f);
