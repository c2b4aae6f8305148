/**
 * Niches and rooms so narrow that no panel with a tie hole stands between the two legs on a face (rule T21): the legs stand back to back, with stiff
 * fillers or timber between. No tie passes there, so the layout of such a place is a special form: what it has to carry is told, and it is a failure.
 */

import { isBend } from '../ground/cornerAngles.js';
import { type Finding, finding } from '../ground/findings.js';
import { placeAlong } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { FacePlan } from '../ground/vocabulary.js';
import type { Bound, FaceZone } from './bound.js';
import type { Gear } from './gear.js';
import type { SolvedRun } from './plan.js';
import type { ZoneSolution } from './zones.js';

/** What stands between two legs back to back. */
export interface NicheFill {
  readonly fillersGu: readonly number[];
  readonly timberGu: number;
}

/** Fewest fillers that are exactly so wide in all, widest first; null where none are. */
const exactFillers = ({ fillers }: Gear, widthGu: number): readonly number[] | null => {
  const best: (readonly number[] | null)[] = [[]];
  for (let w = 1; w <= widthGu; w++) {
    best[w] = fillers.reduce<readonly number[] | null>((least, { widthGu: f }) => {
      const rest = f <= w ? best[w - f] : null;
      return rest && (least === null || rest.length + 1 < least.length) ? [...rest, f] : least;
    }, null);
  }
  const found = best[widthGu];
  return found ? [...found].sort((a, b) => b - a) : null;
};

/** What closes the clear width between two legs: nothing where they touch, fillers alone, else timber; null where it is too narrow to cut or too wide. */
export const nicheFill = (gear: Gear, betweenGu: number): NicheFill | null => {
  if (betweenGu < 0) return null;
  const fillersGu = exactFillers(gear, betweenGu);
  if (fillersGu) return { fillersGu, timberGu: 0 };
  return betweenGu >= gear.timberLeastGu && betweenGu <= gear.timberLimitGu
    ? { fillersGu: [], timberGu: betweenGu }
    : null;
};

/** Is a place of this width between two legs too narrow for a panel with a tie hole? */
export const isNiche = ({ panels }: Gear, betweenGu: number): boolean => {
  const holed = panels.filter((p) => p.holesGu.length > 0).map((p) => p.widthGu);
  return betweenGu >= 0 && betweenGu < Math.min(...holed);
};

/** Has this face of a zone a leg at either end? */
export const betweenLegs = (low: FaceZone, high: FaceZone): boolean => low.legs.length > 0 && high.legs.length > 0;

/** A zone that is a niche, in words; null where it is none. */
export const nicheFinding = (plan: FacePlan, { model }: SolvedRun, zone: ZoneSolution): Finding | null => {
  const { ctx, demand } = model;
  const { gear, run, pressureKpa } = ctx;
  const betweenGu = zone.toGu - zone.fromGu;
  const [start, end] = [zone.start, zone.end] as [Bound, Bound];
  const side = (['left', 'right'] as const).find((s) => betweenLegs(start[s], end[s]));
  if (zone.level !== 'none' || !side || !isNiche(gear, betweenGu)) return null;
  const mm = (gu: number) => plainNumber(gu * gear.gridMm, 1);
  const legs = [start[side].legs.at(-1)!, end[side].legs[0]!].map((l) => l.toGu - l.fromGu);
  const clearGu = betweenGu + legs[0]! + legs[1]!;
  const fill = nicheFill(gear, betweenGu);
  const between =
    fill === null
      ? `whose ${mm(betweenGu)} between them nothing closes`
      : fill.timberGu > 0
        ? `with timber of ${mm(fill.timberGu)} between them`
        : fill.fillersGu.length > 0
          ? `with fillers of ${fill.fillersGu.map(mm).join(' + ')} between them`
          : 'with nothing between them';
  const isAtBend = [run.start, run.end].some((e) => e.kind === 'corner' && isBend(e.deflectionDeg));
  const what = isAtBend ? 'strips and legs' : 'legs';
  const foot = plainNumber((pressureKpa * clearGu * gear.gridMm) / 1000, 1);
  const perM = demand.rows.reduce((sum, r) => sum + r.stripKnPerM, 0);
  const all = plainNumber((perM * clearGu * gear.gridMm) / 1000, 1);
  const message = `On wall ${run.wall} only ${mm(clearGu)} mm are clear on the ${side} face: ${what} of ${legs.map(mm).join(' and ')} stand back to back, ${between}. No tie passes there; the concrete pushes with ${foot} kN per m of height at the foot, ${all} kN in all, and the ${what} are trapped when stripped.`;
  const at = placeAlong(plan, run.wall, ((zone.fromGu + zone.toGu) / 2) * gear.gridMm);
  return finding('fit.niche', message, {
    at,
    subject: run.wall,
    assumed: 'drawn so, to be designed as a special form',
  });
};
