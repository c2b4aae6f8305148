/**
 * Where a higher wall meets a lower one: what stands over the lower wall, by its pieces, and the forces on it.
 *
 * Per metre of height, p being the pressure of the higher wall at the lower one's top, w the width of the boards and a the leg of the corner units:
 * the boards are pushed out with p w, half of it into what stands on either side of them. Over the lower wall nothing loads or holds the legs of the corner
 * units along it. At a tee under a higher through wall each unit stands in equilibrium under p a on its other leg, p w / 2 at its edge and the joint of
 * that leg, a from the edge: moments about the edge leave p a (a + w) / 2, which a hold across the ends of the two free legs takes with p (a + w) / 2. Where
 * the stem is the higher one its units are pushed apart at their edges with p a / 2. At a corner the lower wall's outer forms, from the held edge over the
 * higher wall's end of t to the joint, are a lever of t + a: the hold at its end takes p t^2 / (2 (t + a)); and the corner unit, whose joint with the higher
 * wall's line has p (w + a) / 2, asks for p w / 2 by moments about its edge. The larger of the two is told. What the walls' own lines ask for is reckoned
 * over the whole height as ever. Statics of the rigid units, cut across; that legs are held together at their ends is common practice, no source.
 */

import { type Finding, finding } from '../ground/findings.js';
import { type FaceOverLower, facesOverLower } from '../ground/overLower.js';
import { plainNumber } from '../ground/units.js';
import type { Piece, Run } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, faceOf, placeOn, unitOf } from './context.js';
import { boardStress, boardUse } from './fillBoards.js';
import { meets } from './raised.js';
import { pressureFrom, type WallLoad } from './ratings.js';

/** The boards over a lower wall. */
const boardsOf = (ctx: Context, over: FaceOverLower): Piece[] =>
  (ctx.covers.get(faceOf(ctx, over.wall, over.side)?.id ?? '') ?? [])
    .filter(({ piece, cover }) => piece.item === null && meets(over, cover.fromMm, cover.toMm))
    .filter(({ cover }) => cover.topMm > over.lowMm + EQUAL_MM)
    .map(({ piece }) => piece);

/** Longest leg of the corner units at the node that stand over the lower wall's top. */
const legMm = (ctx: Context, over: FaceOverLower): number =>
  Math.max(
    0,
    ...ctx.layout.pieces
      .filter((p) => p.node === over.node && p.topMm > over.lowMm + EQUAL_MM)
      .flatMap((p) => unitOf(ctx, p)?.legsMm ?? []),
  );

const n1 = (x: number): string => plainNumber(x, 1);
const mm = (x: number): string => plainNumber(x, 0);

/** What holds the free legs, with its force, kN per m of height. */
const holdWords = (ctx: Context, over: FaceOverLower, higher: Run, leg: number, p: number): string => {
  const width = over.toMm - over.fromMm;
  if (over.at === 'corner') {
    const end = facesOverLower(ctx.plan).find((o) => o.kind === 'end' && o.node === over.node);
    const t = end ? end.toMm - end.fromMm : higher.thicknessMm;
    const force = (p * Math.max(t ** 2 / (2 * (t + leg)), width / 2)) / 1000;
    return `hold the raised forms of the lower wall's outer face to the free leg of the corner unit, across the wall, for ${n1(force)}`;
  }
  if (higher.wall === over.wall)
    return `hold the ends of the two free legs together across the stem for ${n1((p * (leg + width)) / 2 / 1000)}`;
  return `hold the edges of the two corner units together across the boards for ${n1((p * leg) / 2 / 1000)}`;
};

const boardWords = (ctx: Context, over: FaceOverLower, p: number): string => {
  const { timber, timberLimitMm } = ctx.catalogue;
  const width = Math.min(over.toMm - over.fromMm, over.highMm - over.lowMm);
  if (!timber || width > timberLimitMm) return ' The boards are wider than fill may be: have them designed.';
  const use = boardUse(boardStress(p, width, timber.thicknessMm), timber);
  if (use <= 1 + 1e-9) return '';
  return ` Boards of ${n1(timber.thicknessMm)} mm do not carry that over ${mm(width)} mm (${mm(use * 100)} %): back them with walers.`;
};

/** Each place where a wall goes on over a lower one, once. */
export const overLowerFindings = (ctx: Context, loads: ReadonlyMap<string, WallLoad>): Finding[] =>
  facesOverLower(ctx.plan).flatMap((over): Finding[] => {
    const [higher, lower, load] = [ctx.runs.get(over.higher), ctx.runs.get(over.lower), loads.get(over.higher)];
    const boards = over.kind === 'mouth' ? boardsOf(ctx, over) : [];
    if (!higher || !lower || !load || boards.length === 0) return [];
    const p = pressureFrom(load, over.lowMm);
    const [width, height] = [over.toMm - over.fromMm, over.highMm - over.lowMm];
    const hold = holdWords(ctx, over, higher, legMm(ctx, over), p);
    const message = `At node ${over.node} wall ${higher.wall} goes on ${mm(height)} mm over wall ${lower.wall}: ${boards.map((b) => b.id).join(', ')} closes ${mm(width)} mm there and is pushed out with up to ${n1((p * width) / 1000)} kN per m of height, half of it to either side; ${hold} kN per m of height.${boardWords(ctx, over, p)} Let wall ${lower.wall} set before the concrete rises over its top, or cover it: it is pushed up with up to ${n1(p)} kPa.`;
    const at = placeOn(ctx, over.wall, over.side, (over.fromMm + over.toMm) / 2, over.lowMm);
    return [finding('check.over-lower', message, { at, subject: over.node })];
  });
