/** What the fit is told of each run: its stack, the loads of its tie rows, its pressure, where ties may not stand. Made by check's formulas, handed on as data. */

import {
  barSpacing,
  keepClear,
  mergedIntervals,
  pressureAt,
  rowLoads,
  type VoidColumns,
  voidColumns,
} from '../check/index.js';
import { type StackChoice, tiesFor } from '../fit/index.js';
import { type Finding, finding, type Staged } from '../ground/findings.js';
import { describeRun, middleOf, placeAlong } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type {
  Catalogue,
  FacePlan,
  FoundInModel,
  PressureCase,
  RowLoad,
  Run,
  RunDemand,
  Stack,
  TurnedTop,
} from '../ground/vocabulary.js';
import { voidsOf } from '../ground/voids.js';
import { concreteInputs } from './concrete.js';
import { MOST_LIFTS, pressureOf } from './pressures.js';
import type { Job } from './schema.js';
import { barsOf, fitOptions, tieClearMm } from './settings.js';

export interface Demands {
  /** By run id; runs without a stack have none. */
  readonly demands: ReadonlyMap<string, RunDemand>;
  /** By run id, for the same runs; those of one pour height share a case. */
  readonly pressure: ReadonlyMap<string, PressureCase>;
}

/** Findings that say the same of several pour heights are said once. */
const once = (findings: readonly Finding[]): Finding[] => {
  const said = new Set<string>();
  return findings.filter((f) => {
    const key = JSON.stringify([f.code, f.subject, f.at, f.message, f.assumed]);
    if (said.has(key)) return false;
    said.add(key);
    return true;
  });
};

/** Where no tie of the run may stand. */
const clearOf = (
  plan: FacePlan,
  run: Run,
  rowLevelsMm: readonly number[],
  job: Job,
  catalogue: Catalogue,
  model: FoundInModel | undefined,
): Pick<RunDemand, 'keepClear' | 'verticals'> => {
  const wall = plan.walls.find((w) => w.id === run.wall);
  const [tie] = tiesFor(catalogue, run.thicknessMm);
  // Ties of curved walls are not moved for bars: the check tells where they meet.
  if (!wall || wall.arc || !tie) return {};
  const clearMm = tieClearMm(job);
  const { bars = [], obstacles = [] } = model ?? {};
  const found = keepClear({ wall, rowLevelsMm, tieDiameterMm: tie.diameterMm, clearMm, bars, obstacles });
  const { verticals } = barsOf(job);
  return {
    ...(found.length > 0 ? { keepClear: found } : {}),
    ...(verticals ? { verticals: barSpacing(verticals, tie.diameterMm, clearMm) } : {}),
  };
};

/** What the openings of a run leave of its columns of ties. */
const openedAt = (
  plan: FacePlan,
  run: Run,
  stack: Stack,
  rows: readonly RowLoad[],
  { envelope }: PressureCase,
  job: Job,
  catalogue: Catalogue,
): VoidColumns => {
  const [tie] = tiesFor(catalogue, run.thicknessMm);
  const clearMm = fitOptions(job).edgeClearMm + (tie?.diameterMm ?? 0) / 2;
  return voidColumns({ run, stack, rows, voids: voidsOf(plan, run), clearMm, envelope });
};

/** Rows and loads of the columns that end in panels on their side; rows that the run has too keep its numbers, all are numbered from below. */
const turnedTopOf = (
  { stack, rowLevelsMm, turnedTop }: StackChoice,
  rows: readonly RowLoad[],
  run: Run,
  { envelope }: PressureCase,
): { rows: RowLoad[]; turnedTop?: TurnedTop } => {
  if (!turnedTop) return { rows: [...rows] };
  const { heightMm } = turnedTop;
  const lower = stack.heightsMm.slice(0, -1);
  const loads = rowLoads({
    stack: { baseMm: stack.baseMm, heightsMm: [...lower, heightMm] },
    rowLevelsMm: turnedTop.rowLevelsMm,
    footingMm: run.footingMm,
    topMm: run.topMm,
    envelope,
  }).value;
  const levels = [...new Set([...rowLevelsMm, ...turnedTop.rowLevelsMm])].sort((a, b) => a - b);
  const numbered = (list: readonly RowLoad[]) => list.map((r) => ({ ...r, row: levels.indexOf(r.levelMm) + 1 }));
  const footMm = lower.reduce((sum, h) => sum + h, stack.baseMm);
  const designKpa = pressureAt(envelope, run.topMm - Math.max(footMm, run.footingMm));
  const only = turnedTop.only === true;
  return {
    rows: numbered(only ? loads.filter((r) => r.levelMm < footMm) : rows),
    turnedTop: { heightMm, rows: numbered(loads), designKpa, ...(only ? { only } : {}) },
  };
};

/**
 * Pressure of each pour height and loads of each run's tie rows. A wall is taken as poured in one go, or in lifts of the job file's pour height where that is
 * less; where it is more it counts for the pressure.
 */
export const demandsOf = (
  plan: FacePlan,
  stacks: ReadonlyMap<string, StackChoice>,
  job: Job,
  catalogue: Catalogue,
  model: FoundInModel | undefined,
): Staged<Demands> => {
  const concrete = concreteInputs(job);
  const findings: Finding[] = [...concrete.findings];
  const givenMm = job.concrete?.pourHeightMm;
  const pressureFor = pressureOf(job, plan);
  const demands = new Map<string, RunDemand>();
  const byRun = new Map<string, PressureCase>();
  for (const run of plan.runs) {
    const choice = stacks.get(run.id);
    if (choice === undefined) continue;
    const wallMm = run.topMm - run.footingMm;
    if (givenMm !== undefined && givenMm < wallMm) {
      const lifts = Math.ceil((wallMm - 1) / givenMm);
      const isLayers = givenMm * MOST_LIFTS < wallMm;
      const message = `${describeRun(run)} is ${plainNumber(wallMm)} high, concrete.pourHeightMm is ${plainNumber(givenMm)}: ${isLayers ? `more than ${MOST_LIFTS} lifts are layers, so the whole height was taken as poured at once` : `poured in ${lifts} lifts, rows and pressure are those of the worst of them`}.`;
      findings.push(
        finding('pipeline.lifts', message.charAt(0).toUpperCase() + message.slice(1), {
          at: placeAlong(plan, run.wall, middleOf(run), run.topMm),
          subject: run.wall,
          assumed: isLayers ? 'poured in one go' : 'each lift has set before the next is placed',
        }),
      );
    }
    const made = pressureFor(run, choice);
    findings.push(...made.findings);
    const pressure = made.value;
    const rows = rowLoads({
      stack: choice.stack,
      rowLevelsMm: choice.rowLevelsMm,
      footingMm: run.footingMm,
      topMm: run.topMm,
      envelope: pressure.envelope,
      liftMm: pressure.pourHeightMm,
      subject: run.wall,
      at: placeAlong(plan, run.wall, middleOf(run), run.footingMm),
    });
    // Where columns of two kinds may stand the check says of those that do how they stand.
    if (!choice.turnedTop) findings.push(...rows.findings);
    // Upright columns that do not stand are not laid out: their rows are of no use.
    const fails = rows.findings.some((f) => f.severity === 'failure');
    const both = turnedTopOf(choice, choice.turnedTop && fails ? [] : rows.value, run, pressure);
    byRun.set(run.id, pressure);
    const opened = openedAt(plan, run, choice.stack, rows.value, pressure, job, catalogue);
    findings.push(...opened.findings);
    const levels = [...choice.rowLevelsMm, ...(choice.turnedTop?.rowLevelsMm ?? [])];
    const clear = clearOf(
      plan,
      run,
      [...new Set(levels)].sort((a, b) => a - b),
      job,
      catalogue,
      model,
    );
    const never = mergedIntervals([...(clear.keepClear ?? []), ...opened.none]);
    demands.set(run.id, {
      stack: choice.stack,
      ...both,
      designKpa: pressure.designKpa,
      ...clear,
      ...(never.length > 0 ? { keepClear: never } : {}),
      ...(opened.columns.length > 0 ? { voidColumns: opened.columns } : {}),
      ...(opened.shares ? { shares: opened.shares } : {}),
    });
  }
  return { value: { demands, pressure: byRun }, findings: once(findings) };
};
