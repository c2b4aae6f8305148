/** What the check tells of the pour while it rises: rows that carry more than under the full pour, and what the foot must be held for. */

import { type Finding, finding } from '../ground/findings.js';
import { middleOf } from '../ground/runs.js';
import { plainNumber, roundTo } from '../ground/units.js';
import type { RisingRun, Run } from '../ground/vocabulary.js';
import { type Context, placeOn } from './context.js';
import { isMixed } from './mixedColumns.js';
import type { WallLoad } from './ratings.js';
import { risingLoads } from './rising.js';
import { courseJoints, liftsOf, type RowsQuestion, tiedRows } from './rowParts.js';
import { rowLoads } from './rows.js';

/** Columns beside openings and of panels on their side differ from the run's: they are not looked at. */
export const risingRun = (ctx: Context, run: Run, load: WallLoad): RisingRun | null => {
  const { demand, pressure, footingMm, topMm } = load;
  if (demand.turnedTop || isMixed(ctx, run) || ctx.voids.has(run.id)) return null;
  const q: RowsQuestion = {
    stack: demand.stack,
    rowLevelsMm: demand.rows.map((r) => r.levelMm),
    footingMm,
    topMm,
    envelope: pressure.envelope,
    liftMm: pressure.pourHeightMm,
  };
  const full = rowLoads({ ...q, whileRising: false });
  if (full.findings.some((f) => f.severity === 'failure')) return null;
  const lifts = liftsOf(q);
  const { rows, foot } = risingLoads(q, courseJoints(q), tiedRows(q), lifts);
  return {
    run: run.id,
    lifts: lifts.length,
    rows: full.value.map((r, i) => {
      const most = rows[i]!;
      const isMore = most.kNPerM > r.kNPerM + 1e-9 && most.fillMm < topMm;
      return {
        levelMm: r.levelMm,
        fullKnPerM: roundTo(r.kNPerM, 6),
        mostKnPerM: roundTo(Math.max(r.kNPerM, most.kNPerM), 6),
        fillMm: isMore ? most.fillMm : null,
      };
    }),
    footKnPerM: roundTo(foot.kNPerM, 6),
    footFillMm: foot.fillMm,
  };
};

/** One finding for the job: the foot that is pushed out most. */
export const risingFindings = (ctx: Context, rising: readonly RisingRun[]): Finding[] => {
  const worst = rising.reduce<RisingRun | null>((a, b) => (b.footKnPerM > (a?.footKnPerM ?? 0) + 1e-6 ? b : a), null);
  const run = worst && ctx.runs.get(worst.run);
  if (!worst || !run) return [];
  const fill = plainNumber(worst.footFillMm - run.footingMm, 0);
  const message = `While the pour is low the concrete pushes the foot of the forms out below the lowest row of ties: hold it on both faces for up to ${plainNumber(Math.ceil(worst.footKnPerM * 100 - 1e-6) / 100, 2)} kN per m (wall ${run.wall}, with ${fill} mm of concrete).`;
  return [
    finding('check.rising-foot', message, {
      at: placeOn(ctx, run.wall, null, middleOf(run), run.footingMm),
      subject: run.wall,
    }),
  ];
};
