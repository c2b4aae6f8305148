/** Tie rows and what runs along the walls (rule T10): which rows meet it, what is said of those that give way, and when bars at an even spacing would clear them all. */

import { barSpacing, barsFromMm, horizontalLevels, metAlong } from '../check/index.js';
import { laterStarts, type StackChoice, tiesFor } from '../fit/index.js';
import { type Finding, finding } from '../ground/findings.js';
import { listsBy } from '../ground/groups.js';
import { describeRun, middleOf, placeAlong, reachOf } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { BarSpacing, Catalogue, FacePlan, FoundInModel, Run, Wall } from '../ground/vocabulary.js';
import type { Job } from './schema.js';
import { barsOf, tieClearMm } from './settings.js';

export interface RowsMetQuestion {
  readonly plan: FacePlan;
  readonly job: Job;
  readonly catalogue: Catalogue;
  readonly model: FoundInModel | undefined;
}

/** The horizontal bars of the job file as the ties of a wall meet them; null where it states none, or no tie fits. */
const horizontalsOf = ({ job, catalogue }: RowsMetQuestion, wall: Wall): BarSpacing | null => {
  const { horizontals } = barsOf(job);
  const [tie] = tiesFor(catalogue, wall.thicknessMm);
  return horizontals && tie ? barSpacing(horizontals, tie.diameterMm, tieClearMm(job)) : null;
};

/** By level: whether ties of the wall between two stations meet something that runs along it. */
type MetIn = (levelMm: number, fromMm: number, toMm: number) => boolean;

const metIn = (q: RowsMetQuestion, wall: Wall): MetIn => {
  const { bars = [], obstacles = [] } = q.model ?? {};
  const [tie] = tiesFor(q.catalogue, wall.thicknessMm);
  if (!tie) return () => false;
  const even = horizontalsOf(q, wall);
  const levels = even ? horizontalLevels(wall, barsOf(q.job).horizontals!) : [];
  // Bars of a model in a curved wall are held against its ties by the check alone.
  const along = wall.arc
    ? () => []
    : metAlong({ wall, tieDiameterMm: tie.diameterMm, clearMm: tieClearMm(q.job), bars, obstacles });
  return (z, fromMm, toMm) =>
    levels.some((bar) => Math.abs(bar - z) < even!.reachMm) || along(z).some((i) => i.fromMm < toMm && i.toMm > fromMm);
};

/** Whether ties of a run's row at a level meet what runs along its wall; undefined where nothing is known to. */
export const rowsMet = (q: RowsMetQuestion): ((run: Run, levelMm: number) => boolean) | undefined => {
  const { bars = [], obstacles = [] } = q.model ?? {};
  if (barsOf(q.job).horizontals === null && bars.length + obstacles.length === 0) return undefined;
  const byWall = new Map<string, MetIn>();
  const known = new Map<string, boolean>();
  return (run, levelMm) => {
    const wall = q.plan.walls.find((w) => w.id === run.wall);
    if (!wall) return false;
    const key = `${run.id}|${levelMm}`;
    const held = known.get(key);
    if (held !== undefined) return held;
    const met = byWall.get(wall.id) ?? metIn(q, wall);
    byWall.set(wall.id, met);
    const [from, to] = reachOf(run);
    const isMet = met(levelMm, Math.max(from, 0), Math.min(to, wall.lengthMm));
    known.set(key, isMet);
    return isMet;
  };
};

const listed = (levels: readonly number[]): string => levels.map((z) => plainNumber(z, 1)).join(', ');

/** A window of starts that a bar fixer can keep to, mm. *Practice, no source.* */
const WINDOW_LEAST_MM = 10;

/**
 * By how much higher the even bars would have to start to clear the rows of `plain`, the courses that stand without them: they would be chosen then. null where
 * no start does.
 */
const higherWords = (q: RowsMetQuestion, plain: ReadonlyMap<string, StackChoice>): string | null => {
  let firstOf: BarSpacing | null = null;
  const heights = q.plan.runs.flatMap((run) => {
    const wall = q.plan.walls.find((w) => w.id === run.wall);
    const choice = plain.get(run.id);
    if (!wall || !choice) return [];
    const even = horizontalsOf(q, wall);
    // Ties of several diameters: the thickest counts for all.
    if (even && (firstOf === null || even.reachMm > firstOf.reachMm)) firstOf = even;
    return [...choice.rowLevelsMm, ...(choice.turnedTop?.rowLevelsMm ?? [])].map((z) => z - barsFromMm(wall));
  });
  if (firstOf === null) return null;
  const starts = laterStarts(firstOf, heights).filter((i) => i.toMm - i.fromMm >= WINDOW_LEAST_MM);
  if (starts.length === 0) return null;
  const mm = ({ fromMm, toMm }: (typeof starts)[0]) =>
    `${plainNumber(Math.ceil(fromMm), 0)} to ${plainNumber(Math.floor(toMm), 0)}`;
  return `${starts.map(mm).join(' or ')} mm`;
};

/** The job without its horizontal bars. */
export const withoutHorizontals = (job: Job): Job => ({
  ...job,
  reinforcement: { ...job.reinforcement, horizontals: undefined },
});

/** So many walls are named, the others counted. */
const NAMED_MOST = 6;

const namesOf = (runs: readonly Run[]): string => {
  const names = runs.map(describeRun);
  const rest = names.length - NAMED_MOST;
  return rest > 0 ? `${names.slice(0, NAMED_MOST).join(', ')} and ${rest} more` : names.join(', ');
};

/** One finding for all runs in which the same rows are meant, at the first of them. */
const ofRows = (
  q: RowsMetQuestion,
  code: Finding['code'],
  levelsOf: (run: Run) => readonly number[] | undefined,
  said: readonly [one: string, several: string],
): Finding[] =>
  [
    ...listsBy(
      q.plan.runs.filter((r) => levelsOf(r)),
      (r) => levelsOf(r)!.join(),
    ),
  ].map(([, runs]) => {
    const [first] = runs as [Run];
    const levels = levelsOf(first)!;
    const [rows, what] = levels.length === 1 ? ['The tie row', said[0]] : ['Tie rows', said[1]];
    return finding(code, `${rows} at ${listed(levels)} of ${namesOf(runs)} ${what}`, {
      at: placeAlong(q.plan, first.wall, middleOf(first)),
      subject: first.wall,
    });
  });

/**
 * What is said of rows that give way to what runs along the walls, and of those that could not. `plain`: the stacks that would be chosen without the horizontal
 * bars of the job file; asked for where some row meets any.
 */
export const rowFindings = (
  q: RowsMetQuestion,
  stacks: ReadonlyMap<string, StackChoice>,
  plain: () => ReadonlyMap<string, StackChoice>,
): Finding[] => {
  const meeting = q.plan.runs.flatMap((run) => {
    const { leftOutMm = [], metMm = [] } = stacks.get(run.id) ?? {};
    return [...leftOutMm, ...metMm].map((levelMm) => ({ run, levelMm }));
  });
  if (meeting.length === 0) return [];
  // Bars of a model stay where they are.
  const isMetByModel = rowsMet({ ...q, job: withoutHorizontals(q.job) });
  const canMove = !isMetByModel || !meeting.some(({ run, levelMm }) => isMetByModel(run, levelMm));
  const higher = canMove ? higherWords(q, plain()) : null;
  const advice = higher
    ? ` Horizontal bars that start ${higher} higher would clear every row of the courses that stand without them.`
    : '';
  const out = (is: string) =>
    `would meet bars that run along the wall and ${is} left out; the rows that are left stand and carry without.${advice}`;
  const met = (meets: string) =>
    `${meets} what runs along the wall: no phase, courses or rows of the yard keep clear of it and carry.${advice}`;
  return [
    ...ofRows(q, 'fit.row-left-out', (r) => stacks.get(r.id)?.leftOutMm, [out('is'), out('are')]),
    ...ofRows(q, 'fit.rows-not-clear', (r) => stacks.get(r.id)?.metMm, [met('meets'), met('meet')]),
  ];
};
