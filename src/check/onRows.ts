/** Whether what the yard stacks to a height carries on some of its tie rows alone: asked before a row gives way to a bar that runs along the wall. */

import type { FormUnit, PressureCase, Stack } from '../ground/vocabulary.js';
import { pressureFrom, ratedForRows } from './ratings.js';
import { courseJoints, type RowsQuestion } from './rowParts.js';
import { needsFoot, rowLoads } from './rows.js';

export interface OnRowsQuestion {
  readonly units: readonly FormUnit[];
  readonly stack: Stack;
  /** The rows that are tied. */
  readonly rowLevelsMm: readonly number[];
  /** All rows, those that would give way too. */
  readonly allLevelsMm: readonly number[];
  readonly footingMm: number;
  readonly topMm: number;
  readonly pressure: PressureCase;
  /** Of the tie. */
  readonly workingKn: number;
}

const RATED_WITHIN_KPA = 1e-6;

/** Has a course with concrete behind it no row of its own? Its foot would have to be held instead. */
const hasBareCourse = (q: RowsQuestion): boolean => {
  const joints = courseJoints(q);
  return joints.slice(1).some((top, i) => {
    const foot = Math.max(joints[i]!, q.footingMm);
    return foot < q.topMm && !q.rowLevelsMm.some((z) => z > joints[i]! && z < top);
  });
};

/**
 * Do the courses stand, each on rows of its own and with no foot held that all rows would leave free, does every panel of their heights bear its pressure with
 * the rows that are left (rule T11), and do the ties carry where the widest panel is tied at both of its edges, half of its width on each? Narrower spacings could
 * carry more; a row that needs them is better kept and the bar moved.
 */
export const carriesOnRows = (q: OnRowsQuestion): boolean => {
  const { stack, rowLevelsMm, footingMm, topMm, pressure } = q;
  const { envelope, pourHeightMm } = pressure;
  const asked = { stack, rowLevelsMm, footingMm, topMm, envelope, liftMm: pourHeightMm };
  const { value, findings } = rowLoads(asked);
  if (value.length === 0 || findings.some((f) => f.severity === 'failure') || hasBareCourse(asked)) return false;
  if (needsFoot(asked) && !needsFoot({ ...asked, rowLevelsMm: q.allLevelsMm })) return false;
  const load = { pressure, footingMm, topMm };
  let baseMm = stack.baseMm;
  for (const heightMm of stack.heightsMm) {
    const piece = { baseMm, topMm: baseMm + heightMm, turned: false };
    baseMm += heightMm;
    if (piece.baseMm >= topMm) break;
    const panels = q.units.filter((u) => u.kind === 'panel' && u.heightMm === heightMm && u.holes.length > 0);
    const bears = panels.every(
      (u) => pressureFrom(load, piece.baseMm) <= ratedForRows(u, piece, load, envelope, rowLevelsMm) + RATED_WITHIN_KPA,
    );
    const widestM = Math.max(0, ...panels.map((u) => u.widthMm)) / 1000;
    const inCourse = value.filter((r) => r.levelMm > piece.baseMm && r.levelMm < piece.topMm);
    if (!bears || inCourse.some((r) => (r.kNPerM * widestM) / 2 > q.workingKn)) return false;
  }
  return true;
};
