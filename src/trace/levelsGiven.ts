/** Levels from job file and drawing, and defaults where neither gives any. */

import { type Finding, finding } from '../ground/findings.js';
import { comparePoints, compareText } from '../ground/order.js';
import { type LengthUnit, MM_PER, plainNumber, roundTo } from '../ground/units.js';
import type { Levels, LevelsAt, TraceOptions } from '../ground/vocabulary.js';
import { DEFAULT_FOOTING_MM, DEFAULT_TOP_MM } from './limits.js';

/** Walls lower or higher than this are not believed of what a drawing says. *Practice, no source.* */
const WALL_HEIGHT_LEAST_MM = 100;
const WALL_HEIGHT_MOST_MM = 12000;

/** Can a wall stand between these levels? */
export const isWallHeight = (footingMm: number, topMm: number): boolean =>
  topMm - footingMm >= WALL_HEIGHT_LEAST_MM && topMm - footingMm <= WALL_HEIGHT_MOST_MM;

/** What the drawing says of the general levels; null where it says nothing. */
export interface DrawnLevels {
  readonly footingMm: number | null;
  readonly topMm: number | null;
}

const NOTHING_DRAWN: DrawnLevels = { footingMm: null, topMm: null };

/** A default footing stays where it is unless the top that is given would then make no wall. */
const footingUnder = (topMm: number | null, drawn: boolean): number => {
  if (topMm === null || !drawn) return DEFAULT_FOOTING_MM;
  return isWallHeight(DEFAULT_FOOTING_MM, topMm) ? DEFAULT_FOOTING_MM : topMm - DEFAULT_TOP_MM;
};

/** The general levels: the job file's, else the drawing's, else a default with a finding. */
export const levelsOf = (
  options: TraceOptions,
  drawn: DrawnLevels = NOTHING_DRAWN,
): { levels: Levels; findings: Finding[] } => {
  const job = options.levels;
  const given = { footingMm: job.footingMm ?? drawn.footingMm, topMm: job.topMm ?? drawn.topMm };
  const from = (key: keyof DrawnLevels) => (job[key] !== null ? 'job' : drawn[key] !== null ? 'drawing' : 'default');
  const footingMm = given.footingMm ?? footingUnder(given.topMm, job.topMm === null);
  const levels: Levels = {
    footingMm,
    topMm: given.topMm ?? footingMm + DEFAULT_TOP_MM,
    footingFrom: from('footingMm'),
    topFrom: from('topMm'),
  };
  const assumed = [
    ...(levels.footingFrom === 'default' ? [`top of the footing at ${plainNumber(levels.footingMm)} mm`] : []),
    ...(levels.topFrom === 'default' ? [`top of the walls at ${plainNumber(levels.topMm)} mm`] : []),
  ].join(', ');
  if (assumed === '') return { levels, findings: [] };
  return { levels, findings: [finding('trace.levels-assumed', `Levels were not given: ${assumed}.`, { assumed })] };
};

/** By place, then by level; what the drawing says after the job file. */
export const compareLevelsAt = (p: LevelsAt, q: LevelsAt): number =>
  comparePoints(p.near, q.near) ||
  (p.footingMm ?? 0) - (q.footingMm ?? 0) ||
  (p.topMm ?? 0) - (q.topMm ?? 0) ||
  compareText(p.text ?? '', q.text ?? '');

/** The job file's levels of single walls, in mm, sorted. */
export const levelsAtOf = (options: TraceOptions, unit: LengthUnit): LevelsAt[] =>
  options.levelsAt
    .map((l) => ({
      ...l,
      from: 'job' as const,
      text: null,
      near: { x: roundTo(l.near.x * MM_PER[unit], 4), y: roundTo(l.near.y * MM_PER[unit], 4) },
    }))
    .sort(compareLevelsAt);
