/** The runs of a wall: one, or several where its footing or its top steps. */

import type { FacePlan, Run } from './vocabulary.js';

/** The runs of a wall, in order of station. */
export const runsOfWall = (plan: FacePlan, wall: string): readonly Run[] => plan.runs.filter((r) => r.wall === wall);

/** The station at which a run ends on the side of a step, or beyond everything. */
const reach = (run: Run, end: 'start' | 'end'): number => {
  const { kind, leftMm } = run[end];
  if (kind === 'step') return leftMm;
  return end === 'start' ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
};

/** The run in whose concrete a station of a wall lies; null where the wall has none. On a riser the run after it. */
export const runAt = (runs: readonly Run[], wall: string, stationMm: number): Run | null =>
  runs.find((r) => r.wall === wall && stationMm >= reach(r, 'start') && stationMm < reach(r, 'end')) ?? null;

/** Station half-way along a run. */
export const middleOf = ({ start, end }: Run): number => (start.leftMm + start.rightMm + end.leftMm + end.rightMm) / 4;

/** A run in words: its wall, and which part of it. */
export const describeRun = (run: Run): string =>
  run.id === run.wall ? `wall ${run.wall}` : `wall ${run.wall} (part ${run.id})`;
