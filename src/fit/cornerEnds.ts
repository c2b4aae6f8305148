/**
 * The end zone at a corner of two walls, of any deflection d (rules T3, T10); bends: bendEnds.ts.
 *
 * On the re-entrant face stands a leg a, with a strip of timber x bolted to it where the outer face needs it. On the salient face stands one rigid
 * group of length k + a + x, held at the salient edge by the outside corner; k = (t_other - t_own cos d)/sin d is the distance between the corner's
 * two vertices along the wall, and negative where the inner face is the longer one.
 *
 * A corner that turns by less than HELD_LEAST_DEG holds no edge: there the outer face is tied within the overhang of it, by a pair (endPair.ts).
 * A leg of the yard is mostly too long for that; then a tapered strip of timber stands in the re-entrant corner,
 * wide enough on each side that the frames behind do not meet: y >= depth tan(d/2).
 */

import { holdsEdge, isBend } from '../ground/cornerAngles.js';
import { COVER_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import type { RunEnd, Side } from '../ground/vocabulary.js';
import { bendBounds } from './bendEnds.js';
import {
  type Bound,
  type FaceZone,
  flip,
  groupCost,
  type LegOf,
  legZone,
  NO_FACE_ZONE,
  openBound,
  PADS_TRIED,
  padCost,
  padsFor,
  type RunContext,
  sideOf,
  span,
  stripsFor,
} from './bound.js';
import { addCost, ZERO_COST } from './cost.js';
import { clearFirst, type PairOption, pairOptions } from './endPair.js';
import { outsideAt } from './gear.js';
import { exactGroup, type Group } from './groups.js';

type CornerEnd = RunEnd & { readonly kind: 'corner' };

/** A leg of no length stands for a tapered strip of timber in place of a corner unit. */
export const TAPERED_GU = 0;

/** Lengths of leg that may stand at a corner's re-entrant vertex. */
export const cornerLegs = (ctx: RunContext, end: CornerEnd): number[] => {
  const legs = ctx.legsAt(innerVertexOf(end)).map((l) => l.legGu);
  if (holdsEdge(end.deflectionDeg)) return legs;
  return isBend(end.deflectionDeg) ? [TAPERED_GU] : [...legs, TAPERED_GU];
};

export const innerVertexOf = (end: CornerEnd): string => (end.inner === 'left' ? end.leftVertex : end.rightVertex);

interface Corner {
  readonly ctx: RunContext;
  readonly end: CornerEnd;
  readonly d: 1 | -1;
  readonly innerGu: number;
  /** Where the outer face's units begin: the salient edge, less the outside corner's own width. */
  readonly outerGu: number;
  /** From the salient vertex to the re-entrant one, in whole steps and as it is. */
  readonly kGu: number;
  readonly kExactGu: number;
  readonly edgeGu: number;
  readonly vertex: string;
}

const cornerAt = (ctx: RunContext, end: CornerEnd, d: 1 | -1): Corner => {
  const outerSide: Side = end.inner === 'left' ? 'right' : 'left';
  const innerGu = ctx.toGu(sideOf(end, end.inner));
  const vertexGu = ctx.toGu(sideOf(end, outerSide));
  const edgeGu = outsideAt(ctx.gear, end.deflectionDeg)?.faceWidthGu ?? 0;
  const rad = (end.deflectionDeg * Math.PI) / 180;
  const kMm = (end.otherThicknessMm - ctx.run.thicknessMm * Math.cos(rad)) / Math.sin(rad);
  return {
    ctx,
    end,
    d,
    innerGu,
    outerGu: vertexGu + d * edgeGu,
    kGu: d * (innerGu - vertexGu),
    kExactGu: kMm / ctx.gear.gridMm,
    edgeGu,
    vertex: innerVertexOf(end),
  };
};

const faces = (end: CornerEnd, inner: FaceZone, outer: FaceZone) =>
  end.inner === 'left' ? { left: inner, right: outer } : { left: outer, right: inner };

const shears = (end: CornerEnd, inner: number, outer: number): [number, number] =>
  end.inner === 'left' ? [inner, outer] : [outer, inner];

/** Noise of k, in grid units. */
const NOISE_GU = 1e-6;

/** The group that reaches from the salient edge to the leg with less than the tolerance of cover missing or too much; the nearest one. */
const groupWithin = (c: Corner, legGu: number): { group: Group; restGu: number } | null => {
  const { ctx } = c;
  const needGu = c.kExactGu + legGu - c.edgeGu;
  const wholeGu = c.kGu + legGu - c.edgeGu;
  const tried = [Math.floor(needGu + NOISE_GU), Math.ceil(needGu - NOISE_GU)]
    .map((lengthGu) => ({ lengthGu, restGu: needGu - lengthGu }))
    .filter((t) => t.lengthGu > 0 && Math.abs(t.restGu) * ctx.gear.gridMm < COVER_MM)
    // The stations are whole steps, and held against them too nothing may be missing.
    .filter((t) => Math.abs(t.lengthGu - wholeGu) * ctx.gear.gridMm <= COVER_MM)
    .sort((a, b) => Math.abs(a.restGu) - Math.abs(b.restGu));
  for (const { lengthGu, restGu } of tried) {
    const group = exactGroup(ctx.gear, lengthGu, ctx.pressureKpa, false);
    if (group) return { group, restGu };
  }
  return null;
};

/** A corner whose salient edge holds the outer face's group. */
const heldBounds = (c: Corner, legGu: number, hasStrip: boolean): Bound[] => {
  const { ctx, end, d, innerGu, outerGu, kGu } = c;
  const bound = (padGu: number, group: Group, restGu: number, isStrip = false): Bound => {
    const jointGu = innerGu + d * (legGu + padGu);
    const inner = legZone(c.vertex, innerGu, d, legGu, padGu, isStrip);
    const outer: FaceZone = {
      ...NO_FACE_ZONE,
      // The panel stands at the salient edge, its filler towards the zone.
      group: { group: d === 1 ? group : flip(group), fromGu: d === 1 ? jointGu - group.lengthGu : jointGu, held: true },
    };
    const half = (kGu + legGu + padGu) / 2;
    return {
      jointGu,
      v: shears(end, Math.max(legGu + padGu, half), half),
      cost: addCost(isStrip ? ZERO_COST : padCost(ctx, padGu), groupCost(ctx, group)),
      ...faces(end, inner, outer),
      failure: null,
      rule: null,
      residueMm: restGu * ctx.gear.gridMm,
    };
  };
  if (hasStrip) return stripsFor(ctx, kGu + legGu - c.edgeGu, false).map((o) => bound(o.padGu, o.group, 0, true));
  const plain = groupWithin(c, legGu);
  const padded = padsFor(ctx, kGu + legGu - c.edgeGu, false)
    .filter((o) => o.padGu > 0)
    .map((o) => bound(o.padGu, o.group, 0));
  if (plain) return [bound(0, plain.group, plain.restGu), ...padded];
  return padded.length > 0 ? padded : [heldFailure(c, legGu, innerGu + d * legGu, outerGu)];
};

/** A corner whose outer zone no rigid group of the yard makes: the leg stands, the outer part is marked. */
const heldFailure = (c: Corner, legGu: number, jointGu: number, outerGu: number): Bound => {
  const { ctx, end, d } = c;
  const inner = legZone(c.vertex, c.innerGu, d, legGu, 0);
  const outer: FaceZone = { ...NO_FACE_ZONE, unsolved: span(outerGu, jointGu) };
  const lengthMm = Math.round(d * (jointGu - outerGu) * ctx.gear.gridMm);
  return {
    jointGu,
    v: [legGu, legGu],
    cost: ctx.cost({ failures: 1 }),
    ...faces(end, inner, outer),
    failure: `the outer face needs one rigid group of ${lengthMm} mm from the salient edge, which the yard cannot make at this pressure`,
    rule: 'fit.special-form',
  };
};

/** What stands in the re-entrant corner of a corner that holds no edge: from its vertex, `reachGu` long in all. */
const nearZone = (c: Corner, legGu: number, reachGu: number): FaceZone =>
  legGu === TAPERED_GU
    ? legZone(c.vertex, c.innerGu, c.d, reachGu, 0)
    : legZone(c.vertex, c.innerGu, c.d, legGu, reachGu - legGu);

/** Half of the place and the strip's area where the timber is one piece round the corner; the other wall counts the other half. */
const nearCost = (c: Corner, legGu: number, reachGu: number) =>
  legGu === TAPERED_GU
    ? c.ctx.cost({ places: 0.5, timberArea: reachGu * c.ctx.heightGu })
    : padCost(c.ctx, reachGu - legGu);

const pairBound = (c: Corner, legGu: number, reachGu: number, option: PairOption, clear: boolean): Bound => {
  const { end } = c;
  const zone = (face: 0 | 1, rest: FaceZone): FaceZone => ({
    ...rest,
    group: { group: option.groups[face], fromGu: option.fromGu[face], held: false, tiesGu: [option.tieAtGu] },
  });
  const inner = nearZone(c, legGu, reachGu);
  const onLeft = end.inner === 'left';
  return {
    jointGu: option.jointGu,
    v: shears(end, Math.max(reachGu, (c.kGu + reachGu) / 2), 0),
    pair: option.pair,
    cost: addCost(nearCost(c, legGu, reachGu), option.cost),
    left: zone(0, onLeft ? inner : NO_FACE_ZONE),
    right: zone(1, onLeft ? NO_FACE_ZONE : inner),
    failure: clear ? null : 'no tie beside the corner clears what is in the wall',
    rule: clear ? null : 'fit.ties-not-clear',
  };
};

/** A bend; where its vertices lie too far apart for timber, which is where the walls differ in thickness, nothing is laid out. */
const bentBounds = ({ ctx, end, d, kGu }: Corner): Bound[] => {
  const bounds = bendBounds(ctx, end, d);
  if (bounds.length > 0) return bounds;
  const mm = (lengthMm: number) => plainNumber(lengthMm, 0);
  const walls = `walls of ${mm(ctx.run.thicknessMm)} and ${mm(end.otherThicknessMm)} turn by only ${plainNumber(end.deflectionDeg, 1)} degrees`;
  const apart = mm(Math.abs(kGu) * ctx.gear.gridMm);
  return [openBound(ctx, end, d, `${walls}, so that its faces end ${apart} mm apart, too far for a strip of timber`)];
};

/** A corner that holds no edge: the outer face is tied within the overhang of it. */
const tiedBounds = (c: Corner, legGu: number): Bound[] => {
  const { ctx, end, d, innerGu, outerGu, kGu } = c;
  const { gear } = ctx;
  const tan = Math.tan((end.deflectionDeg * Math.PI) / 360);
  const clearGu = Math.ceil(ctx.frameDepthGu * tan - NOISE_GU);
  const least = legGu === TAPERED_GU ? Math.max(1, clearGu) : legGu;
  const bounds: Bound[] = [];
  for (let reachGu = least, found = 0; reachGu <= least + gear.timberLimitGu && found < PADS_TRIED; reachGu++) {
    const padGu = reachGu - legGu;
    if (legGu !== TAPERED_GU && padGu > 0 && padGu < gear.timberLeastGu) continue;
    const jointGu = innerGu + d * reachGu;
    const edgeToJoint = kGu + reachGu - c.edgeGu;
    if (edgeToJoint === 0) {
      const inner = nearZone(c, legGu, reachGu);
      const v = shears(end, Math.max(reachGu, (kGu + reachGu) / 2), 0);
      const cost = nearCost(c, legGu, reachGu);
      bounds.push({ jointGu, v, cost, ...faces(end, inner, NO_FACE_ZONE), failure: null, rule: null });
      found++;
    }
    if (edgeToJoint <= 0) continue;
    const begins: [number, number] = end.inner === 'left' ? [jointGu, outerGu] : [outerGu, jointGu];
    const { options, clear } = clearFirst(ctx, pairOptions(ctx, d, begins));
    bounds.push(...options.map((o) => pairBound(c, legGu, reachGu, o, clear)));
    if (options.length > 0) found++;
  }
  return bounds.length > 0 ? bounds : [tiedFailure(c, legGu, Math.max(least, -kGu))];
};

/** What stands in the re-entrant corner is drawn, the outer part is marked. */
const tiedFailure = (c: Corner, legGu: number, reachGu: number): Bound => {
  const { ctx, end, d, innerGu, outerGu } = c;
  const jointGu = innerGu + d * reachGu;
  const outer: FaceZone = { ...NO_FACE_ZONE, unsolved: outerGu === jointGu ? null : span(outerGu, jointGu) };
  const turn = plainNumber(end.deflectionDeg, 1);
  const most = plainNumber(ctx.gear.overhangGu * ctx.gear.gridMm, 0);
  return {
    jointGu,
    v: shears(end, reachGu, 0),
    cost: addCost(nearCost(c, legGu, reachGu), ctx.cost({ failures: 1 })),
    ...faces(end, nearZone(c, legGu, reachGu), outer),
    failure: `a corner that turns by only ${turn} degrees holds no edge, and no tie of the yard stands within ${most} mm of it on the outer face`,
    rule: 'fit.special-form',
  };
};

/** Every way to close a corner with this leg. */
export const cornerBounds = (ctx: RunContext, end: CornerEnd, d: 1 | -1, legOf: LegOf): Bound[] => {
  const c = cornerAt(ctx, end, d);
  const legGu = legOf(c.vertex);
  const hasStrip = legOf.hasStrip?.(c.vertex, ctx.run.wall) === true;
  const turn = plainNumber(end.deflectionDeg, 1);
  const lacks = (what: string): Bound[] => {
    const why = `no ${what} of the yard takes a corner that turns by ${turn} degrees`;
    return [{ ...openBound(ctx, end, d, why), rule: 'fit.no-corner-unit' }];
  };
  if (legGu !== TAPERED_GU && !cornerLegs(ctx, end).includes(legGu)) return lacks('inside corner');
  if (isBend(end.deflectionDeg)) return bentBounds(c);
  if (!holdsEdge(end.deflectionDeg)) return tiedBounds(c, legGu);
  return outsideAt(ctx.gear, end.deflectionDeg) ? heldBounds(c, legGu, hasStrip) : lacks('outside corner');
};
