/** The runs of a wall: one, or several where its footing or its top steps. */

import { wallPoint } from './arcs.js';
import { listsBy } from './groups.js';
import { planIndex } from './planIndex.js';
import type { FacePlan, Run, VertexArm } from './vocabulary.js';

/** The runs of a wall, in order of station. */
export const runsOfWall = (plan: FacePlan, wall: string): readonly Run[] => planIndex(plan).runsOfWall(wall);

/** Stations from and to which a run is its wall: its risers, or beyond everything. */
export const reachOf = ({ start, end }: Run): readonly [number, number] => [
  start.kind === 'step' ? start.leftMm : Number.NEGATIVE_INFINITY,
  end.kind === 'step' ? end.leftMm : Number.POSITIVE_INFINITY,
];

/** The run in whose concrete a station of a wall lies; null where the wall has none. On a riser the run after it. */
export const runAt = (runs: readonly Run[], wall: string, stationMm: number): Run | null =>
  runs.find((r) => r.wall === wall && reaches(r, stationMm)) ?? null;

const reaches = (run: Run, stationMm: number): boolean => {
  const [from, to] = reachOf(run);
  return stationMm >= from && stationMm < to;
};

/** The same for many questions of one plan: runs are looked up by wall. */
export const runFinder = (runs: readonly Run[]): ((wall: string, stationMm: number) => Run | null) => {
  const byWall = listsBy(runs, (r) => r.wall);
  return (wall, stationMm) => byWall.get(wall)?.find((r) => reaches(r, stationMm)) ?? null;
};

/** The run on which an arm of a vertex lies: of a return the one at its end of the wall. */
export const runOfArm = (runs: readonly Run[], { wall, side, stationMm, face }: VertexArm): Run | null => {
  if (face === undefined) return runAt(runs, wall, stationMm);
  const own = runs.filter((r) => r.wall === wall);
  return (side === 'start' ? own[0] : own[own.length - 1]) ?? null;
};

/** Station half-way along a run. */
export const middleOf = ({ start, end }: Run): number => (start.leftMm + start.rightMm + end.leftMm + end.rightMm) / 4;

/** A place on a wall's axis, for findings: in the drawing's axes, mm; null where the plan has no such wall. */
export const placeAlong = (
  plan: FacePlan,
  wall: string,
  stationMm: number,
  levelMm = 0,
): readonly [number, number, number] | null => {
  const w = planIndex(plan).walls.get(wall);
  if (!w) return null;
  const { x, y } = wallPoint(w, stationMm);
  return [x, y, levelMm];
};

/** A run in words: its wall, and which part of it. */
export const describeRun = (run: Run): string =>
  run.id === run.wall ? `wall ${run.wall}` : `wall ${run.wall} (part ${run.id})`;
