/** The pressure on each run: what is poured at once there, by the method of the job file. */

import { pressureCase, type RateQuestion } from '../check/index.js';
import type { StackChoice } from '../fit/index.js';
import type { Staged } from '../ground/findings.js';
import { dot, leftOf, sub, unit, type Vec } from '../ground/plane.js';
import { M3_PER_YD3 } from '../ground/units.js';
import type { FacePlan, PressureCase, Run } from '../ground/vocabulary.js';
import { pourAmounts } from '../schedule/index.js';
import { concreteInputs } from './concrete.js';
import type { Job } from './schema.js';

/** A wall of more lifts than this is poured in layers, not in lifts: it is taken as poured in one go. */
export const MOST_LIFTS = 40;

/** What is poured at once with a run, mm: a wall in one go, or the pour height of the job file. */
const pourMmOf = (run: Run, job: Job): number => {
  const wallMm = run.topMm - run.footingMm;
  const givenMm = job.concrete?.pourHeightMm ?? wallMm;
  return givenMm * MOST_LIFTS < wallMm ? wallMm : givenMm;
};

/** Height of the forms over the footing that a stack makes, mm. */
const formMmOf = (run: Run, { stack, turnedTop }: StackChoice): number => {
  const top = stack.heightsMm.reduce((sum, h) => sum + h, stack.baseMm);
  const lower = top - (stack.heightsMm.at(-1) ?? 0);
  return Math.max(top, turnedTop ? lower + turnedTop.heightMm : top) - run.footingMm;
};

/** The longest side of a column in plan, mm (CIRIA 108). */
const COLUMN_MOST_MM = 2000;

/** Does the concrete of this run stand alone, neither side of its plan longer than that of a column? */
const isColumn = ({ walls, concrete }: FacePlan, { wall: id, start, end }: Run): boolean => {
  const wall = walls.find((w) => w.id === id);
  if (!wall || wall.arc || start.kind !== 'free' || end.kind !== 'free') return false;
  const along = unit(sub(wall.end, wall.start));
  const normal = leftOf(along);
  const place = (p: Vec, by: Vec) => dot(sub(p, wall.start), by);
  const extent = (ring: readonly Vec[], by: Vec): readonly [number, number] => {
    const at = ring.map((p) => place(p, by));
    return [Math.min(...at), Math.max(...at)];
  };
  return concrete.some((ring) => {
    const [[a, b], [c, d]] = [extent(ring, along), extent(ring, normal)];
    const middle = wall.lengthMm / 2;
    const holdsIt = a <= middle && middle <= b && c <= 0 && 0 <= d;
    return holdsIt && b - a <= COLUMN_MOST_MM && d - c <= COLUMN_MOST_MM;
  });
};

export type PressureFor = (run: Run, stack?: StackChoice) => Staged<PressureCase>;

/** The pressure on a run, worked out once for each pour height and, where the method asks for them, height of form and shape of the plan. */
export const pressureOf = (job: Job, plan: FacePlan): PressureFor => {
  const concrete = concreteInputs(job).value;
  const asksForShape = concrete.method === 'ciria-108';
  const cases = new Map<string, Staged<PressureCase>>();
  return (run, choice) => {
    const pourMm = pourMmOf(run, job);
    const formMm = Math.max(job.concrete?.formHeightMm ?? 0, choice ? formMmOf(run, choice) : 0, pourMm);
    const shape = asksForShape ? { formHeightMm: formMm, isColumn: isColumn(plan, run) } : {};
    const key = [pourMm, shape.formHeightMm, shape.isColumn].join(' ');
    const made = cases.get(key) ?? pressureCase(concrete, pourMm, shape);
    cases.set(key, made);
    return made;
  };
};

/** What the check needs to tell rates of rise. */
export const rateQuestionOf = (job: Job, plan: FacePlan): RateQuestion => {
  const { supplyM3PerH, supplyYd3PerH } = job.concrete ?? {};
  return {
    concrete: concreteInputs(job).value,
    pours: pourAmounts(plan),
    supplyM3PerH: supplyM3PerH ?? (supplyYd3PerH === undefined ? null : supplyYd3PerH * M3_PER_YD3),
  };
};
