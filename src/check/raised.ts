/** Forms that stand in the plane of a higher wall's end at a corner, above the lower wall whose outer face they form. */

import { type FaceOverLower, facesOverLower } from '../ground/overLower.js';
import { armOnFace } from '../ground/places.js';
import type { Face, Piece, Run } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, faceOf, unitOf } from './context.js';

/** An outside corner holds what begins so near to its edge. */
const EDGE_MM = 1;

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

/**
 * Ids of such groups that an outside corner holds at the edge. Those above the lower wall's own courses stand in no line of that wall: nothing of it goes on
 * there, and a hold across the wall has the other edge (overLower.ts).
 */
export const heldRaised = (ctx: Context): Set<string> =>
  new Set(
    facesOverLower(ctx.plan).flatMap((over) => {
      const face = over.kind === 'end' ? faceOf(ctx, over.wall, over.side) : undefined;
      const vertex = ctx.plan.vertices.find(
        (v) => v.kind === 'salient' && v.node === over.node && face && armOnFace(v, face),
      );
      const arm = vertex && face ? armOnFace(vertex, face) : undefined;
      if (!face || !vertex || !arm) return [];
      return (ctx.groups.get(face.id) ?? []).flatMap((g) => {
        const piece = ctx.pieces.get(g.pieces[0] ?? '');
        const corner = (ctx.cornersAt.get(vertex.id) ?? []).find((c) => piece && standsBeside(c, piece));
        const edgeMm = arm.stationMm + arm.direction * ((corner && unitOf(ctx, corner)?.faceWidthMm) || 0);
        const awayMm = Math.abs((arm.direction === 1 ? g.fromMm : g.toMm) - edgeMm);
        return corner && awayMm <= EDGE_MM ? [g.id] : [];
      });
    }),
  );

/** Does a corner stand beside a piece at half its height? */
const standsBeside = (corner: Piece, { baseMm, topMm }: Piece): boolean =>
  corner.baseMm <= (baseMm + topMm) / 2 && corner.topMm > (baseMm + topMm) / 2;
