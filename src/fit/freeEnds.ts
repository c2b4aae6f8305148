/** How far forms run past the concrete where a wall ends free. */

import type { RunContext } from './bound.js';
import type { Feature } from './zones.js';

/** Where a free end's forms may stop. */
export const freeEdge = (ctx: RunContext, f: Feature): number | null => {
  if (f.kind !== 'end' || f.end.kind !== 'free') return null;
  const { leftMm, rightMm } = f.end;
  return ctx.toGu(f.direction === 1 ? Math.min(leftMm, rightMm) : Math.max(leftMm, rightMm));
};

/** Least run past at which a tie beside the forms' end clears the bulkhead; rounded up to 5 mm where the grid is finer. */
export const clearRunPast = (ctx: RunContext): number => {
  const hole = Math.min(...ctx.gear.panels.flatMap((p) => p.holesGu));
  const least = Math.max(ctx.runPastLeastGu, ctx.bulkheadGu + ctx.tieRadiusGu + (Number.isFinite(hole) ? hole : 0));
  const round = Math.max(1, Math.round(5 / ctx.gear.gridMm));
  return Math.ceil(least / round) * round;
};
