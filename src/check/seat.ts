/** Rule T23: on both sides of a wall the footing carries the frames, and 25 more for setting them. */

import { type Finding, finding } from '../ground/findings.js';
import { listsBy } from '../ground/groups.js';
import { plainNumber } from '../ground/units.js';
import type { Side } from '../ground/vocabulary.js';
import { type Context, faceOf, placeOn } from './context.js';

/** Room beside the frame to set and align it. *Practice, no source.* */
const ROOM_MM = 25;
const SAME_MM = 0.5;

const mm = (n: number): string => plainNumber(n, 1);

/** Faces with a footing too narrow for their forms, one finding a face; and, once, walls of which nothing is known where it is of others. */
export const seatFindings = (ctx: Context): Finding[] => {
  const { seats } = ctx.plan;
  if (seats === undefined) return [];
  const needMm = ctx.catalogue.frameDepthMm + ROOM_MM;
  const found = [...listsBy(seats, (s) => `${s.wall}|${s.side}`).values()].flatMap((own): Finding[] => {
    const narrow = own.filter((s) => s.projectionMm < needMm - SAME_MM);
    if (narrow.length === 0) return [];
    const worst = narrow.reduce((w, s) => (s.projectionMm < w.projectionMm ? s : w));
    const { wall, side, fromMm, toMm, projectionMm } = worst;
    const face = faceOf(ctx, wall, side)?.id ?? wall;
    const more = narrow.length > 1 ? `, the worst of ${plainNumber(narrow.length, 0)} stretches` : '';
    const message = `Beside face ${face} the footing projects ${mm(projectionMm)} mm at stations ${mm(fromMm)} to ${mm(toMm)}${more}; a frame of ${mm(ctx.catalogue.frameDepthMm)} mm needs ${mm(needMm)} mm: ${mm(needMm - projectionMm)} mm of seat are missing.`;
    const run = ctx.runsOf.get(wall)?.[0];
    const at = placeOn(ctx, wall, side, (fromMm + toMm) / 2, run?.footingMm ?? 0);
    return [finding('check.no-seat', message, { at, subject: face })];
  });
  const known = new Set(seats.map((s) => `${s.wall}|${s.side}`));
  const lacks = [...ctx.runsOf.keys()].filter((wall) =>
    (['left', 'right'] satisfies Side[]).some((side) => !known.has(`${wall}|${side}`)),
  );
  if (lacks.length === 0) return found;
  const message = `How far the footing projects is not known beside ${lacks.join(', ')}.`;
  const told = finding('check.seat-unknown', message, { assumed: 'it is wide enough to stand on' });
  return [...found, told];
};
