/** How far forms run past the concrete where a wall ends free. */

import { dot, scale, sub, type Vec } from '../ground/plane.js';
import type { FacePlan, Run } from '../ground/vocabulary.js';
import type { RunContext } from './bound.js';
import type { Feature } from './features.js';

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

/** How far from a free end of a run that of another wall in line with it stands, mm; Infinity where none does. */
const roomAheadMm = (plan: FacePlan, run: Run): number => {
  const wall = plan.walls.find((w) => w.id === run.wall)!;
  const ends = plan.nodes.filter((n) => n.kind === 'end' && !n.walls.includes(wall.id));
  const along = scale(sub(wall.end, wall.start), 1 / wall.lengthMm);
  const ahead = (from: Vec, d: 1 | -1): number =>
    ends.reduce((least, { at }) => {
      const to = sub(at, from);
      const [onMm, offMm] = [d * dot(to, along), Math.abs(to.x * along.y - to.y * along.x)];
      return onMm > 0 && offMm < run.thicknessMm ? Math.min(least, onMm) : least;
    }, Number.POSITIVE_INFINITY);
  return Math.min(
    run.start.kind === 'free' ? ahead(wall.start, -1) : Number.POSITIVE_INFINITY,
    run.end.kind === 'free' ? ahead(wall.end, 1) : Number.POSITIVE_INFINITY,
  );
};

/** The most that forms run past a free end: those of two ends that face each other share the room between them. `leastMm` they always have. */
export const runPastMost = (plan: FacePlan, run: Run, leastMm: number, mostMm: number): number =>
  Math.min(mostMm, Math.max(leastMm, Math.floor(roomAheadMm(plan, run) / 2)));
