/** Loads of the tie rows of a stack of courses, by statics of the stack and, beside it, by plain strips. */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { RowLoad } from '../ground/vocabulary.js';
import { beamReactions } from './beam.js';
import { isFixed } from './chain.js';
import { forceOf } from './envelope.js';
import { risingLoads } from './rising.js';
import { courseJoints, filledTo, liftsOf, loadsBetween, type RowsQuestion, tiedRows } from './rowParts.js';

export type { RowsQuestion } from './rowParts.js';

/** Less than this, kN/m, is no push. */
const NO_PUSH = 1e-9;
/** A force of less reads as nothing at two places. */
const SAID_KN_PER_M = 0.005;

const strips = (q: RowsQuestion, rows: readonly number[]): number[] =>
  rows.map((z, i) => {
    const from = i === 0 ? q.footingMm : (rows[i - 1]! + z) / 2;
    const to = i === rows.length - 1 ? q.topMm : (z + rows[i + 1]!) / 2;
    return forceOf(loadsBetween(q, from, to));
  });

type Statics = {
  readonly kind: 'stands' | 'base-held' | 'pushed' | 'mechanism';
  readonly rows: readonly number[];
  /** Reaction of the held foot; 0 where it is free. */
  readonly base: number;
};

/** Exact row loads: with the foot free where that stands and pushes no row, else with the foot held. */
const statics = (q: RowsQuestion, joints: readonly number[], rows: readonly number[]): Statics => {
  const loads = loadsBetween(q, q.footingMm, joints[joints.length - 1]!);
  const solve = (supports: readonly number[]) =>
    isFixed(joints, supports)
      ? beamReactions({ jointsM: joints.map((z) => z / 1000), supportsM: supports.map((z) => z / 1000), loads })
      : null;
  const free = solve(rows);
  const pulls = (r: readonly number[]) => r.every((x) => x >= -NO_PUSH);
  if (free && pulls(free)) return { kind: 'stands', rows: free, base: 0 };
  const held = solve([joints[0]!, ...rows]);
  if (held && pulls(held)) return { kind: 'base-held', rows: held.slice(1), base: held[0]! };
  if (free) return { kind: 'pushed', rows: free, base: 0 };
  if (held) return { kind: 'pushed', rows: held.slice(1), base: held[0]! };
  return { kind: 'mechanism', rows: [], base: 0 };
};

const staticsFindings = (q: RowsQuestion, rows: readonly number[], s: Statics): Finding[] => {
  const detail = { subject: q.subject ?? '', at: q.at ?? null };
  const on = q.subject ? ` of ${q.subject}` : '';
  const levels = rows.map((z) => plainNumber(z, 0)).join(', ');
  if (s.kind === 'mechanism') {
    const heights = q.stack.heightsMm.map((h) => plainNumber(h, 0)).join(' + ');
    const message = `The courses ${heights}${on} do not stand on tie rows at ${levels}: a course with concrete has no row of its own.`;
    return [finding('check.course-without-row', message, { ...detail, assumed: 'row loads by strips' })];
  }
  if (s.kind === 'base-held') {
    const held = s.base >= SAID_KN_PER_M ? `${plainNumber(s.base, 2)} kN/m` : 'less than 0.01 kN/m';
    const message =
      rows.length === 1 && s.base < SAID_KN_PER_M
        ? `The forms${on} balance on the tie row at ${levels}: the least push would turn them unless their foot is held.`
        : `The forms${on} stand on tie rows at ${levels} only with their foot held for ${held}.`;
    return [finding('check.base-held', message, { ...detail, assumed: 'the foot is held against moving out' })];
  }
  const foot = `The foot of the forms${on} would move in: on the tie rows at ${levels} it would have to be held back for ${plainNumber(-s.base, 2)} kN/m.`;
  const moved = s.base < -NO_PUSH ? [finding('check.row-pushed', foot, detail)] : [];
  const pushed = s.rows.flatMap((r, i) => {
    if (r >= -NO_PUSH) return [];
    const message = `The tie row at ${plainNumber(rows[i]!, 0)}${on} would be pushed by ${plainNumber(-r, 2)} kN/m.`;
    return [finding('check.row-pushed', message, detail)];
  });
  return [...moved, ...pushed];
};

/**
 * Loads of the tie rows of one stack, lowest row first, kN per metre of wall.
 *
 * `kNPerM` is the reaction of the stack as a beam (courses are groups, their joints hinges, rows rigid supports), never less than the strip;
 * `stripKnPerM` is the envelope integrated half-way to the neighbouring rows, from the footing to the pour line. Strips sum to the area of
 * the envelope. Where the stack stands only with its foot held, that is assumed and said; a row that would be pushed, or a foot that would move in, is a failure; a stack that
 * is a mechanism is a failure and has its loads by strips. No row in the concrete: no loads, and a failure.
 *
 * A row carries more before the pour is full where the load of spans beyond its neighbours would lift it (rising.ts): `kNPerM` is the most of any fill, and
 * `fillMm` tells the level. Where the wall is poured in lifts it is the most of any of them.
 */
export const rowLoads = (q: RowsQuestion): Staged<RowLoad[]> => {
  const rows = tiedRows(q);
  if (rows.length === 0) {
    const message = `No tie row lies in the concrete${q.subject ? ` of ${q.subject}` : ''}.`;
    return { value: [], findings: [finding('check.no-row', message, { subject: q.subject ?? '', at: q.at ?? null })] };
  }
  const joints = courseJoints(q);
  const lifts = liftsOf(q);
  const isWhole = lifts.length === 1;
  const ofLifts = lifts.map(([from, to]) => strips(isWhole ? q : filledTo(q, from, to), rows));
  const strip = rows.map((_, i) => Math.max(...ofLifts.map((list) => list[i]!)));
  const exact = statics(q, joints, rows);
  const rising =
    exact.kind === 'mechanism' || q.bands || q.whileRising === false ? null : risingLoads(q, joints, rows, lifts);
  const value = rows.map((levelMm, i): RowLoad => {
    const full = Math.max(isWhole ? (exact.rows[i] ?? 0) : 0, strip[i]!);
    const most = rising?.rows[i] ?? { kNPerM: 0, fillMm: q.topMm };
    const isMore = most.kNPerM > full + NO_PUSH;
    return {
      row: i + 1,
      levelMm,
      kNPerM: isMore ? most.kNPerM : full,
      stripKnPerM: strip[i]!,
      ...(isMore && most.fillMm < q.topMm ? { fillMm: most.fillMm } : {}),
    };
  });
  // In lifts no row is pushed for good: set concrete stands behind those below, and those above let go.
  const told = isWhole || exact.kind === 'mechanism' ? staticsFindings(q, rows, exact) : [];
  return { value, findings: told };
};

/** Are the foot's reaction and the rows' all pulls, or is the foot all that keeps the stack from turning? */
export const needsFoot = (q: RowsQuestion): boolean => {
  const joints = courseJoints(q);
  const rows = tiedRows(q);
  return (
    statics(q, joints, rows).kind === 'base-held' || (!isFixed(joints, rows) && isFixed(joints, [joints[0]!, ...rows]))
  );
};

/** What rows take by the statics of their courses, and by strips. */
export interface ColumnLoads {
  /** null: the courses are a mechanism on these rows. */
  readonly exact: readonly number[] | null;
  readonly strips: readonly number[];
}

/**
 * The same for one column under its own bands, without findings. A foot that is held is a support among the rows, and takes its own strip. Both ways of
 * counting are linear in the shares of the bands: a row that would be pushed is counted so.
 */
export const columnLoads = (q: RowsQuestion, isFootHeld: boolean): ColumnLoads => {
  const rows = tiedRows(q);
  const joints = courseJoints(q);
  const foot = isFootHeld ? 1 : 0;
  const supports = isFootHeld ? [joints[0]!, ...rows] : rows;
  const loads = loadsBetween(q, q.footingMm, joints[joints.length - 1]!);
  const exact = isFixed(joints, supports)
    ? beamReactions({ jointsM: joints.map((z) => z / 1000), supportsM: supports.map((z) => z / 1000), loads })
    : null;
  return {
    exact: exact?.slice(foot) ?? null,
    strips: strips(q, [...(isFootHeld ? [q.footingMm] : []), ...rows]).slice(foot),
  };
};
