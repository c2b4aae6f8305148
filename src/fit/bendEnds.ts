/**
 * The end zone at a bend: two walls that meet and turn by so little that no hinged corner stands there (rules of layout, section 5). It is formed as
 * the break between two chords of a curve is: the forms of both walls end square to their own wall, at one station on both faces, and one tapered
 * strip of timber closes each face.
 *
 * With d the deflection, t the thickness and D the depth of the frames, on each wall: the inner forms end y from the re-entrant vertex, and
 * y >= D tan(d/2) keeps the backs of the frames apart; the outer ones end k + y from the salient vertex, k = (t_other - t_own cos d)/sin d, which is
 * t tan(d/2) where both are as thick. So the outer strip is 2 t tan(d/2) wider than the inner one. y is free beyond its least: that moves the joint, so
 * that strips can be cut and the rest of the wall closes without another place of fill.
 *
 * Statics: nothing holds the edge. Each side of a strip hangs on its own wall's forms, to which it is bolted: the outer one with p (k + y). On the inner
 * face it is p y and what the pull of the wall, p t, adds round the bend, p t tan(d/2): the same. A part of the pull that the outer line takes lessens
 * both alike.
 */

import type { RunEnd, Side } from '../ground/vocabulary.js';
import { type Bound, type FaceZone, NO_FACE_ZONE, type RunContext, sideOf, span } from './bound.js';

type CornerEnd = RunEnd & { readonly kind: 'corner' };

/** Noise of lengths that are worked out, in grid units. */
const NOISE_GU = 1e-6;

/** From the salient to the re-entrant vertex along a wall, mm. */
const vertexDistance = (ownMm: number, otherMm: number, rad: number): number =>
  (otherMm - ownMm * Math.cos(rad)) / Math.sin(rad);

/** How far from the re-entrant vertex the forms of a wall may end. */
const reaches = ({ gear, frameDepthGu }: RunContext, rad: number, kGu: number, kSumGu: number) => {
  const clearGu = Math.ceil(frameDepthGu * Math.tan(rad / 2) - NOISE_GU);
  const least = Math.max(1, clearGu, Math.ceil(gear.timberLeastGu / 2), 1 - Math.floor(kGu + NOISE_GU));
  // Both walls alike, so that the outer strip needs no backing whatever the other wall takes.
  return { least, most: Math.max(least, Math.floor((gear.timberMostGu - kSumGu) / 2 + NOISE_GU)) };
};

/** Is a free end next on this run? It runs past the concrete as far as is needed, and nothing is won by wider strips. */
const isFreeBeyond = ({ run }: RunContext, d: 1 | -1): boolean =>
  (d === 1 ? run.end : run.start).kind === 'free' && run.stems.length === 0 && (run.pilasters ?? []).length === 0;

/** Every way to close a wall's end at a bend; none where the vertices of the two faces lie too far apart for timber. */
export const bendBounds = (ctx: RunContext, end: CornerEnd, d: 1 | -1): Bound[] => {
  const { gear, run } = ctx;
  const outerSide: Side = end.inner === 'left' ? 'right' : 'left';
  const [innerVertex, outerVertex] =
    end.inner === 'left' ? [end.leftVertex, end.rightVertex] : [end.rightVertex, end.leftVertex];
  const innerGu = ctx.toGu(sideOf(end, end.inner));
  const outerGu = ctx.toGu(sideOf(end, outerSide));
  const kGu = d * (innerGu - outerGu);
  const rad = (end.deflectionDeg * Math.PI) / 180;
  const otherKGu = vertexDistance(end.otherThicknessMm, run.thicknessMm, rad) / gear.gridMm;
  const kSumGu = vertexDistance(run.thicknessMm, end.otherThicknessMm, rad) / gear.gridMm + otherKGu;
  const own = reaches(ctx, rad, kGu, kSumGu);
  const otherMostGu = otherKGu + reaches(ctx, rad, otherKGu, kSumGu).most;
  const mostGu = isFreeBeyond(ctx, d) ? own.least : own.most;
  return Array.from({ length: mostGu - own.least + 1 }, (_, i) => own.least + i).flatMap((reachGu): Bound[] => {
    const armGu = kGu + reachGu;
    if (armGu + otherMostGu > gear.timberLimitGu) return [];
    const jointGu = innerGu + d * reachGu;
    const zone = (vertex: string, fromGu: number): FaceZone => ({
      ...NO_FACE_ZONE,
      legs: [{ vertex, ...span(fromGu, jointGu) }],
    });
    const [inner, outer] = [zone(innerVertex, innerGu), zone(outerVertex, outerGu)];
    return [
      {
        jointGu,
        v: [armGu, armGu],
        // The other wall counts the other half of the place.
        cost: ctx.cost({ places: 0.5, timberArea: (reachGu + armGu) * ctx.heightGu }),
        left: end.inner === 'left' ? inner : outer,
        right: end.inner === 'left' ? outer : inner,
        failure: null,
        rule: null,
      },
    ];
  });
};
