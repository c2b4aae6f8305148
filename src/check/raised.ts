/** Forms that stand in the plane of a higher wall's end at a corner, above the lower wall whose outer face they form. */

import { type FaceOverLower, facesOverLower } from '../ground/overLower.js';
import type { Face, Piece, Run } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM } from './context.js';

const endsOn = (ctx: Context, face: Face): FaceOverLower[] =>
  facesOverLower(ctx.plan).filter((o) => o.kind === 'end' && o.wall === face.wall && o.side === face.side);

export const meets = (o: FaceOverLower, fromMm: number, toMm: number): boolean =>
  Math.min(o.toMm, toMm) - Math.max(o.fromMm, fromMm) > EQUAL_MM;

/** Do these stations of a face lie in the plane of a higher wall's end? */
export const isRaised = (ctx: Context, face: Face, fromMm: number, toMm: number): boolean =>
  endsOn(ctx, face).some((o) => meets(o, fromMm, toMm));

/** The runs of higher walls whose end a piece closes. */
export const higherRuns = (ctx: Context, piece: Piece): Run[] =>
  piece.covers.flatMap((c) => {
    const face = ctx.faces.get(c.face);
    const over = face ? endsOn(ctx, face).filter((o) => meets(o, c.fromMm, c.toMm) && c.topMm > o.lowMm) : [];
    return over.flatMap((o) => ctx.runs.get(o.higher) ?? []);
  });
