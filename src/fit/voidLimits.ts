/** What ties beside openings carry, as the search tells it: strips of the full wall, on columns that have fewer rows. */

import type { RunContext, VoidStrip } from './bound.js';
import type { Level } from './levels.js';
import type { ZoneProblem } from './zone.js';

/** Most that a tie carries on a column with fewer rows, for a group from `fromGu` on. */
const mostAt = (v: VoidStrip, fromGu: number, lengthGu: number): number => {
  const open = Math.max(0, Math.min(fromGu + lengthGu, v.voidToGu) - Math.max(fromGu, v.voidFromGu)) / lengthGu;
  return 1 / (open / v.openGu + (1 - open) / v.solidGu);
};

/**
 * Beside openings ties carry less strip, since fewer rows carry more. Between a group in the opening and one beside full concrete the load goes with the
 * share of concrete behind the group. That is an estimate: the check works out every level by itself.
 */
export const limitsBeside = (
  { voidStrips }: RunContext,
  { limitsOf, limits: { mostGu } }: Level,
): ZoneProblem['limitsAt'] => {
  if (voidStrips.length === 0 || !Number.isFinite(mostGu)) return (_, { group }) => limitsOf(group.panel);
  return (fromGu, { group, tiesGu }) => {
    const most = tiesGu.map((t) => {
      const v = voidStrips.find((x) => fromGu + t > x.fromGu && fromGu + t < x.toGu);
      return v ? mostAt(v, fromGu, group.lengthGu) : mostGu;
    });
    const limits = limitsOf(group.panel);
    const least = Math.min(mostGu, ...most);
    return least < mostGu ? { ...limits, mostGu: least } : limits;
  };
};
