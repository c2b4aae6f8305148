/** Box-outs (rule T16): what holds each down, where joints of the forms stand at its jambs, and which units across it are held by columns that lack rows. */

import { type Finding, finding } from '../ground/findings.js';
import { rowsAt } from '../ground/rows.js';
import { plainNumber, unitWeightKnPerM3 } from '../ground/units.js';
import type { Run, RunDemand } from '../ground/vocabulary.js';
import type { Void } from '../ground/voids.js';
import { type Context, faceOf, placeOn } from './context.js';
import { jambJoints } from './jambs.js';
import type { WallLoad } from './ratings.js';

const NAMED_MOST = 8;
/** Ties stand this near to each jamb (rule T16). Common practice, no source. */
const JAMB_MOST_MM = 300;

/** Columns of ties that hold what stands between two stations: those within, and the next on either side, which hold it through its hinges. */
const holding = (columnsMm: readonly number[], fromMm: number, toMm: number): number[] => [
  ...columnsMm.filter((s) => s < fromMm).slice(-1),
  ...columnsMm.filter((s) => s >= fromMm && s <= toMm),
  ...columnsMm.filter((s) => s > toMm).slice(0, 1),
];

/** Units that stand over the void, wholly or in part, and are held by a column that lacks rows; all others are rated as they are tied. */
const unitsAcross = (
  ctx: Context,
  run: Run,
  { fromMm, toMm, sillMm, headMm }: Void,
  demand: RunDemand | undefined,
): string[] => {
  const columns = [...new Set((ctx.ties.get(run.id) ?? []).map((t) => t.stationMm))].sort((a, b) => a - b);
  const lacksRows = (s: number) => !demand || rowsAt(demand, s).length < demand.rows.length;
  return (['left', 'right'] as const).flatMap((side) =>
    (ctx.covers.get(faceOf(ctx, run.wall, side)?.id ?? '') ?? [])
      .filter(
        ({ piece, cover: c }) =>
          piece.kind === 'panel' &&
          Math.min(c.toMm, toMm) - Math.max(c.fromMm, fromMm) > 1 &&
          Math.min(c.topMm, headMm) - Math.max(c.baseMm, sillMm) > 1 &&
          holding(columns, c.fromMm, c.toMm).some(lacksRows),
      )
      .map(({ piece }) => piece.id),
  );
};

const densityOf = (load: WallLoad): number | null => {
  const { densityKgPerM3 } = load.pressure.inputs;
  return typeof densityKgPerM3 === 'number' ? densityKgPerM3 : null;
};

/** Uplift of a box-out: the weight of the concrete that it displaces, where concrete lies under it. kN. */
const upliftKn = (v: Void, thicknessMm: number, footingMm: number, densityKgPerM3: number): number => {
  if (v.sillMm <= footingMm + 1) return 0;
  const volumeM3 = ((v.toMm - v.fromMm) * (v.headMm - v.sillMm) * thicknessMm) / 1e9;
  return volumeM3 * unitWeightKnPerM3(densityKgPerM3);
};

/** Jambs of a box-out beside which no tie stands near enough at the levels of the opening, in words. */
const loneJambs = (ctx: Context, run: string, v: Void): string[] => {
  const ties = ctx.layout.ties.filter((t) => t.run === run && t.levelMm > v.sillMm && t.levelMm < v.headMm);
  // An opening between two rows has ties over and under it instead.
  if (!ties.some((t) => t.stationMm < v.fromMm || t.stationMm > v.toMm)) return [];
  const near = (awayMm: (s: number) => number) =>
    ties.some(({ stationMm }) => awayMm(stationMm) >= 0 && awayMm(stationMm) <= JAMB_MOST_MM);
  return [
    ...(near((s) => v.fromMm - s) ? [] : [plainNumber(v.fromMm, 0)]),
    ...(near((s) => s - v.toMm) ? [] : [plainNumber(v.toMm, 0)]),
  ];
};

export const openingFindings = (ctx: Context, loads: ReadonlyMap<string, WallLoad>): Finding[] =>
  ctx.plan.runs.flatMap((run) => {
    const load = loads.get(run.id);
    return (ctx.voids.get(run.id) ?? []).flatMap((v) => {
      const at = placeOn(ctx, run.wall, null, (v.fromMm + v.toMm) / 2, (v.sillMm + v.headMm) / 2);
      const size = `${plainNumber(v.toMm - v.fromMm, 0)} x ${plainNumber(v.headMm - v.sillMm, 0)}`;
      const density = load ? densityOf(load) : null;
      const up = density === null ? null : upliftKn(v, run.thicknessMm, run.footingMm, density);
      const held =
        up === null
          ? 'what holds it down is not worked out'
          : up === 0
            ? 'it stands on the footing and is braced between its jambs'
            : `it is held down against ${plainNumber(up, 2)} kN less 0.9 of its own weight`;
      const message = `Box-out ${v.opening} in wall ${run.wall}, ${size}: ${held}.${jambJoints(ctx, run, v)}`;
      const found = [finding('check.box-out', message, { at, subject: v.opening })];
      const jambs = loneJambs(ctx, run.id, v);
      if (jambs.length > 0) {
        const text = `No tie stands within ${JAMB_MOST_MM} mm of ${jambs.length > 1 ? 'the jambs' : 'the jamb'} of box-out ${v.opening} at station ${jambs.join(' and ')} of wall ${run.wall}.`;
        found.push(finding('check.jamb-ties', text, { at, subject: v.opening }));
      }
      const units = unitsAcross(ctx, run, v, load?.demand);
      if (units.length > 0) {
        const names = units.slice(0, NAMED_MOST).join(', ');
        const more = units.length > NAMED_MOST ? ` and ${units.length - NAMED_MOST} more` : '';
        const text = `Units ${names}${more} stand across box-out ${v.opening} without all their tie rows.`;
        found.push(finding('check.box-out-units', text, { at, subject: v.opening }));
      }
      return found;
    });
  });
