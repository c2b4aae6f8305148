/** What pushes bulkheads: p t per metre of height, half of it into either face's forms (clamps/pulls.ts), and what their supports carry. Statics of the end of a wall. */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import { type Context, placeOn } from './context.js';
import { pressureFrom, type WallLoad } from './ratings.js';

/** Supports of a bulkhead stand at most so far apart (common practice, no source). */
export const SUPPORT_MM = 600;

/** Push on a bulkhead at a level, kN per metre of height. */
export const bulkheadKnPerM = (pressureKpa: number, thicknessMm: number): number => (pressureKpa * thicknessMm) / 1000;

/** One note for all bulkheads, at the most loaded one. */
export const bulkheadFindings = (ctx: Context, loads: ReadonlyMap<string, WallLoad>): Finding[] => {
  const formed = new Set(ctx.layout.pieces.filter((p) => p.kind === 'bulkhead').map((p) => p.node));
  const ends = ctx.plan.runs.flatMap((run) => {
    const load = loads.get(run.id);
    return [run.start, run.end].flatMap((end) => {
      if (end.kind !== 'free' || !load || !formed.has(end.node)) return [];
      const push = bulkheadKnPerM(pressureFrom(load, load.footingMm), run.thicknessMm);
      return [{ run, end, push }];
    });
  });
  if (ends.length === 0) return [];
  const most = ends.reduce((a, b) => (b.push > a.push ? b : a));
  const count = ends.length === 1 ? 'The bulkhead' : `The most loaded of ${ends.length} bulkheads`;
  const each = plainNumber((most.push * SUPPORT_MM) / 1000, 1);
  const message = `${count}, of wall ${most.run.wall} at node ${most.end.node}, is pushed with ${plainNumber(most.push, 1)} kN per m of height at the foot: a support every ${SUPPORT_MM} mm carries up to ${each} kN, half of it into either face's forms.`;
  const at = placeOn(ctx, most.run.wall, null, (most.end.leftMm + most.end.rightMm) / 2, most.run.footingMm);
  return [finding('check.bulkhead', message, { at, subject: most.run.wall })];
};
