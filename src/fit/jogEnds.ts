/**
 * The end zone at a jog: the wall goes on in line with one or both faces out of line by j (a change of thickness, rule T22).
 *
 * Where this wall's face stands out or is in line, its units end at the jog. Where it stands back, a post of timber fills the corner of the return:
 * b along this wall, j across it. The face opposite begins at the jog, so its first panel has fillers of b towards it and the tie beside them lies
 * within the overhang of the joint (endPair.ts). No edge is held, and no clamp has to hold one: each wall's ends stand by themselves.
 *
 * A jog as deep as a leg takes a corner unit (deepJogs.ts) and is packed only where that cannot stand.
 */

import { plainNumber } from '../ground/units.js';
import type { RunEnd, Side } from '../ground/vocabulary.js';
import { type Bound, type FaceZone, NO_FACE_ZONE, openBound, padCost, type RunContext, span } from './bound.js';
import { addCost } from './cost.js';
import { clearFirst, pairOptions } from './endPair.js';

type JogEnd = RunEnd & { readonly kind: 'jog' };

const SIDES: readonly Side[] = ['left', 'right'];

const outOf = (end: JogEnd, side: Side): number => (side === 'left' ? end.leftOutMm : end.rightOutMm);

/** Station of a salient edge at a jog of which the search must keep ties clear; null where there is none, or a pair keeps them off it. */
export const jogEdge = (ctx: RunContext, end: RunEnd): number | null =>
  end.kind === 'jog' && Math.min(end.leftOutMm, end.rightOutMm) >= 0 ? ctx.toGu(end.leftMm) : null;

export const jogBounds = (ctx: RunContext, end: JogEnd, d: 1 | -1): Bound[] => {
  const { gear } = ctx;
  const at = ctx.toGu(end.leftMm);
  const deepestMm = Math.max(...SIDES.map((s) => Math.abs(outOf(end, s))));
  if (ctx.toGu(deepestMm) > gear.timberLimitGu) {
    const why = `the faces jog by ${plainNumber(deepestMm, 1)} mm, which no units and no timber of the yard close`;
    return [openBound(ctx, end, d, why)];
  }
  const recessed = SIDES.map((side) => outOf(end, side) < 0);
  const plain = { jointGu: at, v: [0, 0] as const, cost: ctx.cost({}), failure: null, rule: null };
  if (!recessed.includes(true)) return [{ ...plain, left: NO_FACE_ZONE, right: NO_FACE_ZONE }];

  const post = (side: Side, widthGu: number): FaceZone => {
    const returnFace = (side === 'left' ? end.leftReturn : end.rightReturn)!;
    return outOf(end, side) < 0
      ? { ...NO_FACE_ZONE, pads: [{ ...span(at, at + d * widthGu), returnFace }] }
      : NO_FACE_ZONE;
  };
  const zones = (widthGu: number) => ({ left: post('left', widthGu), right: post('right', widthGu) });
  const cost = (widthGu: number) =>
    padCost(
      ctx,
      SIDES.reduce((sum, s) => sum + (outOf(end, s) < 0 ? widthGu - ctx.toGu(outOf(end, s)) : 0), 0),
    );
  const shears = (widthGu: number) => [recessed[0] ? widthGu : 0, recessed[1] ? widthGu : 0] as const;

  if (!recessed.includes(false)) {
    // Both faces begin behind their posts; a post may be somewhat wider where that closes the wall without another strip. A free end closes anyhow.
    const far = d === 1 ? ctx.run.end : ctx.run.start;
    const tried = far.kind === 'free' && ctx.run.stems.length === 0 ? 1 : (gear.fillers[0]?.widthGu ?? 1);
    const widths = Array.from({ length: tried }, (_, i) => gear.timberLeastGu + i);
    return widths.map((b) => ({ ...plain, jointGu: at + d * b, v: shears(b), cost: cost(b), ...zones(b) }));
  }
  const widths = gear.fillerSets.map((s) => s.widthGu).filter((b) => b >= gear.timberLeastGu && b <= gear.overhangGu);
  const bounds = widths.flatMap((b) => {
    const begins = [recessed[0] ? at + d * b : at, recessed[1] ? at + d * b : at] as const;
    const offEdge = SIDES.some((side) => outOf(end, side) > 0) ? ctx.edgeClearGu : 0;
    const stand = pairOptions(ctx, d, begins).filter((o) => d * (o.tieAtGu - at) >= offEdge);
    const { options, clear } = clearFirst(ctx, stand);
    return options.map((o): Bound => {
      const { left, right } = zones(b);
      const withGroup = (zone: FaceZone, face: 0 | 1): FaceZone => ({
        ...zone,
        group: { group: o.groups[face], fromGu: o.fromGu[face], held: false, tiesGu: [o.tieAtGu] },
      });
      return {
        jointGu: o.jointGu,
        v: shears(b),
        pair: o.pair,
        cost: addCost(cost(b), o.cost),
        left: withGroup(left, 0),
        right: withGroup(right, 1),
        failure: clear ? null : 'no tie beside the jog clears what is in the wall',
        rule: clear ? null : 'fit.ties-not-clear',
      };
    });
  });
  const why = 'no filler of the yard stands opposite the post that fills the jog';
  return bounds.length > 0 ? bounds : [{ ...openBound(ctx, end, d, why), rule: 'fit.special-form' }];
};
