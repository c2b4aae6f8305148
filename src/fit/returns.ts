/**
 * What closes the return of a jog between the leg of its inside corner and the salient edge: stiff fillers bolted to the leg, a strip of timber bolted to
 * it, or both. Leg and fill turn as one about the corner, since no tie can pass a return: the joint between them carries a moment.
 *
 * A panel on the return would be a beam hinged at both edges, and the corner unit then slides along the wall: nothing of the yard holds it. It is taken
 * only where nothing else closes the return, and is a failure.
 */

import { groupUses, padCost, type RunContext } from './bound.js';
import { addCost, type Cost, compareCost, type Uses } from './cost.js';
import { type FillerSet, fillerOf } from './gear.js';
import { exactGroup, type Group } from './groups.js';
import { stockKey } from './stock/keys.js';

export interface ReturnFill {
  /** From the leg to the salient edge. */
  readonly fillers: FillerSet | null;
  readonly timberGu: number;
  /** A panel with fillers, hinged to leg and edge; null in sound returns. */
  readonly loose: Group | null;
  /** Of its units; timber of all returns at a jog is one place. */
  readonly cost: Cost;
  readonly uses: Uses;
}

/**
 * Moment in the joint between leg and fillers of width f, kNm per m of height: the line of the face that stands out pulls at the edge with
 * p t / 2 (t the thicker wall), the concrete pushes with p f^2 / 2 about the joint. Equilibrium of the filler.
 */
const jointMoment = (fillGu: number, thickGu: number, pressureKpa: number, gridMm: number): number =>
  pressureKpa * ((thickGu / 2) * fillGu - fillGu ** 2 / 2) * (gridMm / 1000) ** 2;

/** The least fill behind this leg; undefined where nothing closes the return. */
export const returnFills = (
  ctx: RunContext,
  jogGu: number,
  legGu: number,
  thickGu: number,
  pressureKpa: number,
): ReturnFill | undefined => {
  const { gear } = ctx;
  const rest = jogGu - legGu;
  const fills = [null, ...gear.fillerSets].flatMap((set): ReturnFill[] => {
    const timberGu = rest - (set?.widthGu ?? 0);
    if (timberGu < 0 || (timberGu > 0 && timberGu < gear.timberLeastGu) || timberGu > gear.timberLimitGu) return [];
    const moment = set ? jointMoment(rest, thickGu, pressureKpa, gear.gridMm) : 0;
    if (set && moment > set.momentKnmPerM + 1e-9) return [];
    const count = set?.widthsGu.length ?? 0;
    const uses = (set?.widthsGu ?? []).flatMap(
      (w): Uses => fillerOf(gear, w).items.map((u) => [stockKey(u.id, gear.pour), 1]),
    );
    const units = ctx.cost({ uses, steelFillers: count * gear.courses, tiesAndUnits: count * gear.courses });
    return [{ fillers: set, timberGu, loose: null, uses, cost: units }];
  });
  const whole = (f: ReturnFill) => addCost(f.cost, padCost(ctx, f.timberGu));
  const least = fills.sort((a, b) => compareCost(whole(a), whole(b)))[0];
  if (least) return least;
  const loose = exactGroup(gear, rest, pressureKpa, true);
  if (!loose) return undefined;
  const units = (1 + loose.fillerCount) * gear.courses;
  const uses = groupUses(gear, loose, 1);
  const cost = ctx.cost({ uses, failures: 1, steelFillers: loose.fillerCount * gear.courses, tiesAndUnits: units });
  return { fillers: null, timberGu: 0, loose, uses, cost };
};
