/**
 * The end of a wall that stands on another as a stem, at any angle (rule T4): legs on both faces, which start t cot q apart where the stem stands
 * askew. What the leading leg is ahead is closed on the other face by timber beside the leg, and by stiff fillers of the first group there where
 * that leaves less of it.
 */

import type { RunEnd } from '../ground/vocabulary.js';
import { type Bound, type FaceZone, type LegOf, legZone, PADS_TRIED, padCost, type RunContext } from './bound.js';
import { addCost, ZERO_COST } from './cost.js';
import { clearFirst, pairOptions } from './endPair.js';
import { gcd } from './levels.js';

type StemEnd = RunEnd & { readonly kind: 'stem' };

interface Strips {
  readonly leftGu: number;
  readonly rightGu: number;
}

/** Timber beside the two legs for which both faces reach the same station: strips that can be cut, the least first; empty when there are none. */
const evenStrips = (ctx: RunContext, reach: readonly [number, number]): Strips[] => {
  const { timberLeastGu, timberLimitGu } = ctx.gear;
  const ahead = reach[0] - reach[1];
  const cut = (x: number) => x === 0 || (x >= timberLeastGu && x <= timberLimitGu);
  for (const more of [0, timberLeastGu]) {
    const strips = { leftGu: more + Math.max(0, -ahead), rightGu: more + Math.max(0, ahead) };
    if (cut(strips.leftGu) && cut(strips.rightGu)) return [strips];
  }
  return [];
};

/** Strips that leave a sum of fillers between the two faces; the narrowest few of those narrower than the whole distance. */
const fillerStrips = (ctx: RunContext, reach: readonly [number, number]): Strips[] => {
  const ahead = reach[0] - reach[1];
  const distance = Math.abs(ahead);
  const strips = ctx.gear.fillerSets
    .map((set) => distance - set.widthGu)
    .filter((x) => x === 0 || (x >= ctx.gear.timberLeastGu && x <= ctx.gear.timberLimitGu))
    .sort((a, b) => a - b)
    .slice(0, PADS_TRIED);
  return strips.map((x) => (ahead > 0 ? { leftGu: 0, rightGu: x } : { leftGu: x, rightGu: 0 }));
};

/**
 * Strips on both faces that let the rooms on either side go: every width from the least up to one step of the yard's widths more, so that the rest closes
 * without fill wherever it can.
 */
const strippedEnds = (ctx: RunContext, reach: readonly [number, number]): Strips[] => {
  const { gear, stripGu } = ctx;
  if (stripGu === null) return [];
  const stepGu = [...gear.panels.map((p) => p.widthGu), ...gear.fillerSets.map((f) => f.widthGu)].reduce(gcd, 0);
  const ahead = reach[0] - reach[1];
  const least = Math.max(stripGu, gear.timberLeastGu);
  return Array.from({ length: stepGu }, (_, i) => ({
    leftGu: least + i + Math.max(0, -ahead),
    rightGu: least + i + Math.max(0, ahead),
  })).filter((s) => Math.max(s.leftGu, s.rightGu) <= gear.timberLimitGu);
};

export const stemEnds = (ctx: RunContext, end: StemEnd, d: 1 | -1, legOf: LegOf): Bound[] => {
  const legs = [legOf(end.leftVertex), legOf(end.rightVertex)] as const;
  const at = [ctx.toGu(end.leftMm), ctx.toGu(end.rightMm)] as const;
  const reach = [d * at[0] + legs[0], d * at[1] + legs[1]] as const;
  const pull = ctx.run.thicknessMm / ctx.gear.gridMm / 2 / Math.sin((end.angleDeg * Math.PI) / 180);
  const hasStrip = legOf.hasStrip?.(end.leftVertex, ctx.run.wall) === true;
  const zones = ({ leftGu, rightGu }: Strips) => ({
    v: [legs[0] + leftGu + pull, legs[1] + rightGu + pull] as const,
    left: legZone(end.leftVertex, at[0], d, legs[0], leftGu, hasStrip),
    right: legZone(end.rightVertex, at[1], d, legs[1], rightGu, hasStrip),
  });
  if (hasStrip)
    return strippedEnds(ctx, reach).map((s): Bound => {
      const jointGu = d * (reach[0] + s.leftGu);
      return { jointGu, ...zones(s), cost: ZERO_COST, failure: null, rule: null };
    });
  // One place even where both faces have a strip: it is one station interval.
  const stripsCost = ({ leftGu, rightGu }: Strips) => padCost(ctx, leftGu + rightGu);
  const even = evenStrips(ctx, reach).map((s): Bound => {
    const jointGu = d * (reach[0] + s.leftGu);
    return { jointGu, ...zones(s), cost: stripsCost(s), failure: null, rule: null };
  });
  const filled = fillerStrips(ctx, reach).flatMap((s) => {
    const begins = [d * (reach[0] + s.leftGu), d * (reach[1] + s.rightGu)] as const;
    const { options, clear } = clearFirst(ctx, pairOptions(ctx, d, begins));
    return options.map((o): Bound => {
      const { v, left, right } = zones(s);
      const withGroup = (zone: FaceZone, face: 0 | 1): FaceZone => ({
        ...zone,
        group: { group: o.groups[face], fromGu: o.fromGu[face], held: false, tiesGu: [o.tieAtGu] },
      });
      return {
        jointGu: o.jointGu,
        v,
        pair: o.pair,
        cost: addCost(stripsCost(s), o.cost),
        left: withGroup(left, 0),
        right: withGroup(right, 1),
        failure: clear ? null : 'no tie beside the legs clears what is in the wall',
        rule: clear ? null : 'fit.ties-not-clear',
      };
    });
  });
  if (even.length + filled.length > 0) return [...even, ...filled];
  const far = Math.max(...reach);
  return [
    {
      jointGu: d * far,
      ...zones({ leftGu: far - reach[0], rightGu: far - reach[1] }),
      cost: ctx.cost({ failures: 1 }),
      failure: 'the strip beside a leg would be too narrow or too wide to cut',
      rule: 'fit.special-form',
    },
  ];
};
