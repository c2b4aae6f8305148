/**
 * A gang on a sling of two legs: the hook stands plumb over the centre of gravity, so high that neither leg leans more than half of the angle allowed
 * between them. Static weight, without a factor for jerks; moments about the hook's plumb line, then each leg along itself.
 */

import { weightKn } from '../../ground/units.js';
import type { LiftLeg } from '../../ground/vocabulary.js';
import { GANG_RULES } from './options.js';

export interface Lift {
  /** Over the lift points. */
  readonly hookMm: number;
  readonly legs: readonly [LiftLeg, LiftLeg];
}

const RAD = Math.PI / 180;

/** The legs to two points on either side of the centre of gravity. */
export const legsOf = (
  massKg: number,
  cgMm: number,
  [lowMm, highMm]: readonly [number, number],
  legAngleDeg: number,
): Lift => {
  const arms = [cgMm - lowMm, highMm - cgMm] as const;
  const hookMm = Math.max(...arms) / Math.tan((legAngleDeg / 2) * RAD);
  const leg = (stationMm: number, armMm: number, otherMm: number): LiftLeg => {
    const lean = Math.atan2(armMm, hookMm);
    const plumbKn = (weightKn(massKg) * otherMm) / (armMm + otherMm);
    return {
      stationMm,
      lengthMm: Math.hypot(armMm, hookMm),
      leanDeg: lean / RAD,
      forceKn: plumbKn / Math.cos(lean),
    };
  };
  return { hookMm, legs: [leg(lowMm, arms[0], arms[1]), leg(highMm, arms[1], arms[0])] };
};

/** Shares closer than this are alike. */
const SAME_SHARE = 0.005;

/**
 * The two joints for a gang's lift points: as symmetrical about the centre of gravity as can be, then half of the gang's length apart; null: no two joints
 * have it between them and share the weight evenly enough.
 */
export const liftOf = (
  massKg: number,
  cgMm: number,
  jointsMm: readonly number[],
  lengthMm: number,
  legAngleDeg: number,
): Lift | null => {
  let best: { readonly pair: readonly [number, number]; readonly share: number; readonly off: number } | null = null;
  for (const low of jointsMm.filter((s) => s < cgMm))
    for (const high of jointsMm.filter((s) => s > cgMm)) {
      const apart = high - low;
      const share = Math.max(cgMm - low, high - cgMm) / apart;
      if (share > GANG_RULES.shareMost || apart < lengthMm * GANG_RULES.spreadLeast) continue;
      const off = Math.abs(apart - lengthMm / 2);
      const isBetter =
        best === null ||
        share < best.share - SAME_SHARE ||
        (share < best.share + SAME_SHARE && off < best.off - SAME_SHARE);
      if (isBetter) best = { pair: [low, high], share, off };
    }
  return best && legsOf(massKg, cgMm, best.pair, legAngleDeg);
};
