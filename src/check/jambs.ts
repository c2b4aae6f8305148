/** Joints of the forms at the jambs of an opening, read from the pieces: where a unit ends at a jamb its edge forms the side of the box-out there. */

import { plainNumber } from '../ground/units.js';
import type { Piece, Run } from '../ground/vocabulary.js';
import type { Void } from '../ground/voids.js';
import { type Context, faceOf } from './context.js';

const NAMED_MOST = 8;
/** Joints nearer than this to a jamb are at it. */
const AT_MM = 1;

interface Across {
  readonly piece: Piece;
  /** From the jamb to the nearer edge of the piece. */
  readonly awayMm: number;
}

/** What covers a jamb of an opening at its levels without ending there, on either face. */
const acrossJamb = (ctx: Context, run: Run, { sillMm, headMm }: Void, jambMm: number): Across[] =>
  (['left', 'right'] as const).flatMap((side) =>
    (ctx.covers.get(faceOf(ctx, run.wall, side)?.id ?? '') ?? []).flatMap(({ piece, cover: c }) => {
      const awayMm = Math.min(jambMm - c.fromMm, c.toMm - jambMm);
      const isThere = Math.min(c.topMm, headMm) - Math.max(c.baseMm, sillMm) > AT_MM;
      return isThere && awayMm > AT_MM ? [{ piece, awayMm }] : [];
    }),
  );

const named = (pieces: readonly Across[]): string => {
  const ids = pieces.slice(0, NAMED_MOST).map(({ piece }) => piece.id);
  const more = pieces.length > NAMED_MOST ? [`${pieces.length - NAMED_MOST} more`] : [];
  const all = [...ids, ...more];
  return all.length === 1 ? all[0]! : `${all.slice(0, -1).join(', ')} and ${all[all.length - 1]}`;
};

/** One sentence on both jambs; none for an edge at which the run ends. */
export const jambJoints = (ctx: Context, run: Run, v: Void): string => {
  const opening = ctx.plan.openings.find((o) => o.id === v.opening);
  const jambs = [
    ...(opening?.fromMm === v.fromMm ? [v.fromMm] : []),
    ...(opening?.toMm === v.toMm ? [v.toMm] : []),
  ].map((jambMm) => ({ at: plainNumber(jambMm, 0), across: acrossJamb(ctx, run, v, jambMm) }));
  const met = jambs.filter((j) => j.across.length === 0).map((j) => j.at);
  const parts = [
    ...(met.length > 0
      ? [`joints of the forms stand at its ${met.length > 1 ? 'jambs' : 'jamb'} at station ${met.join(' and ')}`]
      : []),
    ...jambs.flatMap(({ at, across }) => {
      if (across.length === 0) return [];
      const awayMm = Math.max(...across.map((a) => a.awayMm));
      const run = across.length > 1 ? 'run' : 'runs';
      return [`${named(across)} ${run} across its jamb at station ${at}, ${plainNumber(awayMm, 0)} mm from a joint`];
    }),
  ];
  const text = parts.join('; ');
  return text === '' ? '' : ` ${text[0]!.toUpperCase()}${text.slice(1)}.`;
};
