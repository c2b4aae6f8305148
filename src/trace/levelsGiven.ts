/** Levels from the job file, and defaults where it gives none. */

import { type Finding, finding } from '../ground/findings.js';
import { comparePoints } from '../ground/order.js';
import { type LengthUnit, MM_PER, plainNumber, roundTo } from '../ground/units.js';
import type { Levels, LevelsAt, TraceOptions } from '../ground/vocabulary.js';
import { DEFAULT_FOOTING_MM, DEFAULT_TOP_MM } from './limits.js';

export const levelsOf = (options: TraceOptions): { levels: Levels; findings: Finding[] } => {
  const { footingMm, topMm } = options.levels;
  const levels: Levels = {
    footingMm: footingMm ?? DEFAULT_FOOTING_MM,
    topMm: topMm ?? (footingMm ?? DEFAULT_FOOTING_MM) + DEFAULT_TOP_MM,
    footingFrom: footingMm === null ? 'default' : 'job',
    topFrom: topMm === null ? 'default' : 'job',
  };
  const assumed = [
    ...(footingMm === null ? [`top of the footing at ${plainNumber(levels.footingMm)} mm`] : []),
    ...(topMm === null ? [`top of the walls at ${plainNumber(levels.topMm)} mm`] : []),
  ].join(', ');
  if (assumed === '') return { levels, findings: [] };
  return { levels, findings: [finding('trace.levels-assumed', `Levels were not given: ${assumed}.`, { assumed })] };
};

export const levelsAtOf = (options: TraceOptions, unit: LengthUnit): LevelsAt[] =>
  options.levelsAt
    .map((l) => ({
      ...l,
      from: 'job' as const,
      text: null,
      near: { x: roundTo(l.near.x * MM_PER[unit], 4), y: roundTo(l.near.y * MM_PER[unit], 4) },
    }))
    .sort(
      (p, q) =>
        comparePoints(p.near, q.near) || (p.footingMm ?? 0) - (q.footingMm ?? 0) || (p.topMm ?? 0) - (q.topMm ?? 0),
    );
