/** Beside openings columns have fewer rows: arcs cost what the least has, and each place what it has more. */

import { type RunContext, rowsOfTies, tieUses } from './bound.js';
import type { Cost } from './cost.js';
import type { ZoneProblem } from './zone.js';

/** What a group costs more than its arc where it stands; null where all columns of the run have the same rows. */
export const rowsMore = (ctx: RunContext): ZoneProblem['moreAt'] => {
  if (ctx.leastRows === ctx.rows) return null;
  const costs = new Map<number, Cost>();
  const low = Math.min(...ctx.voidStrips.map((v) => v.fromGu));
  const high = Math.max(...ctx.voidStrips.map((v) => v.toGu));
  return (fromGu, tied, d = 1) => {
    const toGu = fromGu + d * tied.group.lengthGu;
    const isFull = Math.max(fromGu, toGu) <= low || Math.min(fromGu, toGu) >= high;
    const more =
      isFull && !tied.group.panel.turned
        ? tied.tiesGu.length * (ctx.rows - ctx.leastRows)
        : rowsOfTies(ctx, tied, fromGu, d) - rowsOfTies(ctx, tied, null);
    const held = costs.get(more) ?? ctx.cost({ tiesAndUnits: more, uses: tieUses(ctx, more) });
    costs.set(more, held);
    return held;
  };
};
