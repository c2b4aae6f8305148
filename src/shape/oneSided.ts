/**
 * Walls that are cast against earth, rock or a wall that stands: forms on one face only, so that no tie passes through (rule T21). Nothing is laid out
 * there: their runs leave the plan, and walls that meet them end open.
 */

import { type Finding, finding, type Staged } from '../ground/findings.js';
import { byNumber } from '../ground/order.js';
import { cross, distance, sub, type Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { FacePlan, OneSidedWall, OneSidedWish, Run, RunEnd, Side, Wall } from '../ground/vocabulary.js';
import { pointToWall } from './nearest.js';
import { LEVEL_NOTE_MM } from './tolerances.js';

/** On which side of a wall a point lies; null within its body. */
const sideOf = (p: Vec, wall: Wall): Side | null => {
  const { arc, thicknessMm } = wall;
  const leftMm = arc
    ? arc.innerRadiusMm + thicknessMm / 2 - distance(p, arc.centre)
    : cross(sub(wall.end, wall.start), sub(p, wall.start)) / Math.max(distance(wall.start, wall.end), 1e-9);
  if (Math.abs(leftMm) <= thicknessMm / 2) return null;
  return leftMm > 0 ? 'left' : 'right';
};

/** An end that met a wall formed on one side. */
const openedEnd = (end: RunEnd, gone: (run: RunEnd) => string | null): RunEnd => {
  const other = gone(end);
  if (other === null || end.node === null) return end;
  const { node, leftMm, rightMm } = end;
  return { kind: 'open', node, leftMm, rightMm, why: `wall ${other}, which meets it, is formed on one side only` };
};

const otherOf = (end: RunEnd): string | null => {
  if (end.kind === 'corner' || end.kind === 'jog' || end.kind === 'tangent') return end.other;
  return end.kind === 'stem' ? end.through : null;
};

/** Takes the walls that are formed on one side out of what is laid out. */
export const withOneSided = (plan: FacePlan, wishes: readonly OneSidedWish[] | undefined): Staged<FacePlan> => {
  if (wishes === undefined || wishes.length === 0) return { value: plan, findings: [] };
  const findings: Finding[] = [];
  const sides = new Map<string, OneSidedWish & { readonly side: Side }>();
  for (const wish of wishes) {
    const at = [wish.near.x, wish.near.y, 0] as const;
    const near = plan.walls
      .map((wall) => ({ wall, awayMm: pointToWall(wish.near, wall) }))
      .sort(byNumber((n) => n.awayMm))[0];
    if (!near || near.awayMm > LEVEL_NOTE_MM) {
      const far = near ? `: the nearest wall, ${near.wall.id}, is ${plainNumber(near.awayMm, 0)} mm away` : '';
      const message = `A wall formed on one side is named where there is none${far}.`;
      findings.push(
        finding('shape.one-sided-unclear', message, { at, assumed: 'every wall there has two faces formed' }),
      );
      continue;
    }
    const { id } = near.wall;
    const seen = wish.formed ?? sideOf(wish.near, near.wall);
    const known = sides.get(id);
    const side = known?.side ?? seen ?? 'left';
    if (seen === null || (known && known.side !== seen)) {
      const why = seen === null ? 'the point lies within it' : 'both sides are named';
      const message = `On which face of wall ${id} the forms stand is not clear: ${why}.`;
      findings.push(
        finding('shape.one-sided-unclear', message, {
          at,
          subject: id,
          assumed: `face ${id}-${side === 'left' ? 'L' : 'R'}`,
        }),
      );
    }
    sides.set(id, { ...wish, side });
  }
  const oneSided = plan.walls.flatMap((wall): OneSidedWall[] => {
    const wish = sides.get(wall.id);
    if (!wish) return [];
    const runs = plan.runs.filter((r) => r.wall === wall.id);
    return [{ wall: wall.id, formed: wish.side, against: wish.against, runs }];
  });
  const gone = (end: RunEnd): string | null => {
    const other = otherOf(end);
    return other !== null && sides.has(other) ? other : null;
  };
  const runs = plan.runs
    .filter((r) => !sides.has(r.wall))
    .map(
      (run): Run => ({
        ...run,
        start: openedEnd(run.start, gone),
        end: openedEnd(run.end, gone),
        stems: run.stems.map((s) => (sides.has(s.wall) ? { ...s, isOneSided: true } : s)),
      }),
    );
  const value = oneSided.length === 0 ? plan : { ...plan, runs, oneSided };
  return { value, findings };
};
