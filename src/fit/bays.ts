/**
 * End zones: what each face needs from a vertex of the concrete to the first joint that both faces share (rules T3 to T6).
 *
 * - A corner: on the re-entrant face a leg a (with a timber strip x bolted to it where the other face needs it), on the salient face one rigid
 *   group of length k + a + x held at the salient edge; k is the distance between the two vertices along the wall.
 * - A stem's own end: legs on both faces. A stem on a face: legs on either side of it, opposite them one rigid group without a tie.
 * - A free end: both faces run past the concrete.
 * - A jog: both faces have a joint there; in the corner of the return stands a post of timber (jogEnds.ts).
 *
 * Shears of legs (from the equilibrium of the corner unit): a at rest, (k + a) / 2 at a corner if larger, a + t_s / (2 sin q) at a tee.
 */

import type { RunEnd, RunStem, Side } from '../ground/vocabulary.js';
import {
  type Bound,
  bareBound,
  type FaceZone,
  groupCost,
  type LegOf,
  legZone,
  NO_FACE_ZONE,
  openBound,
  PADS_TRIED,
  padCost,
  padsFor,
  type RunContext,
  stripsFor,
} from './bound.js';
import { cornerBounds } from './cornerEnds.js';
import { addCost, type Cost, ZERO_COST } from './cost.js';
import type { Group } from './groups.js';
import { jogBounds } from './jogEnds.js';
import { mixedBound, type RunPlace, type StemBound } from './pilasters.js';
import { stemEnds } from './stemEnds.js';

/** Corner units that the yard does not have at these vertices, in words; null where it has them all. */
const lacking = (ctx: RunContext, vertices: readonly string[], legOf: LegOf): string | null =>
  vertices.every((v) => ctx.legsAt(v).some((l) => l.legGu === legOf(v)))
    ? null
    : 'no inside corner of the yard takes the angle at which the walls meet';

const stemBounds = (ctx: RunContext, end: RunEnd & { kind: 'stem' }, d: 1 | -1, legOf: LegOf): Bound[] => {
  const lacks = lacking(ctx, [end.leftVertex, end.rightVertex], legOf);
  return lacks ? [{ ...openBound(ctx, end, d, lacks), rule: 'fit.no-corner-unit' }] : stemEnds(ctx, end, d, legOf);
};

/** Joints at which a free end may close: `lattice` gives the residues that the zone can reach. */
const freeBounds = (ctx: RunContext, end: RunEnd & { kind: 'free' }, d: 1 | -1, joints: readonly number[]): Bound[] => {
  const edgeGu = ctx.toGu(d === 1 ? Math.min(end.leftMm, end.rightMm) : Math.max(end.leftMm, end.rightMm));
  const usable = joints.filter((j) => d * (edgeGu - j) >= ctx.runPastLeastGu && d * (edgeGu - j) <= ctx.runPastMostGu);
  if (usable.length === 0) {
    const jointGu = edgeGu - d * ctx.runPastLeastGu;
    const why = 'no arrangement of the widths of the yard ends within the run past that is allowed at the free end';
    return [{ ...openBound(ctx, end, d, why), jointGu, rule: 'fit.special-form' }];
  }
  return usable.map((jointGu) =>
    bareBound(jointGu, 0, ctx.cost({ runPast: d * (edgeGu - jointGu) - ctx.runPastLeastGu })),
  );
};

/** Where a curved wall goes on both faces have a joint; what hangs there of the fill between is handed on as at a step. */
const tangentBound = (ctx: RunContext, end: RunEnd & { kind: 'tangent' }): Bound => {
  const hangs = (end.hangsMm ?? 0) / ctx.gear.gridMm;
  return bareBound(ctx.toGu((end.leftMm + end.rightMm) / 2), hangs);
};

/** Every way to close one end of a run with these legs; `joints` are the stations that a free end may use. */
export const endBounds = (
  ctx: RunContext,
  end: RunEnd,
  d: 1 | -1,
  legOf: LegOf,
  joints: readonly number[],
): readonly Bound[] => {
  switch (end.kind) {
    case 'corner':
      return cornerBounds(ctx, end, d, legOf);
    case 'stem':
      return stemBounds(ctx, end, d, legOf);
    case 'free':
      return freeBounds(ctx, end, d, joints);
    case 'step':
      throw new Error('a step is no end of its own: its joint is chosen with the run beyond it');
    case 'jog':
      return jogBounds(ctx, end, d);
    case 'tangent':
      return [tangentBound(ctx, end)];
    case 'ring':
      throw new Error('a curved wall is laid out by itself');
    case 'open':
      return [openBound(ctx, end, d, end.why)];
  }
};

/** Number of values of the strip choice at a stem: none, or one of the narrowest few beside either leg. */
export const STEM_PADS = 1 + 2 * PADS_TRIED;

/** What stands at a tee: the group opposite the stem (null: none of the yard does), timber beside its two legs. */
interface TeeChoice {
  readonly group: Group | null;
  readonly padBefore: number;
  readonly padAfter: number;
}

const teePads = (ctx: RunContext, base: number, pick: number): TeeChoice | null => {
  const options = padsFor(ctx, base, true);
  if (pick === 0) return { group: options.find((o) => o.padGu === 0)?.group ?? null, padBefore: 0, padAfter: 0 };
  const option = options.filter((o) => o.padGu > 0)[(pick - 1) % PADS_TRIED];
  if (!option) return null;
  const { group, padGu } = option;
  return pick <= PADS_TRIED ? { group, padBefore: padGu, padAfter: 0 } : { group, padBefore: 0, padAfter: padGu };
};

/** The same with strips that let a room go beside one leg or both; picks are then the narrowest few widths. */
const teeStrips = (ctx: RunContext, base: number, strips: readonly unknown[], pick: number): TeeChoice | null => {
  const option = stripsFor(ctx, base, true, strips.filter((x) => x).length)[pick];
  if (!option) return null;
  const { group, padGu } = option;
  const [first, second] = [Math.floor(padGu / 2), Math.ceil(padGu / 2)];
  if (strips[0] && strips[1]) return { group, padBefore: first, padAfter: second };
  return strips[0] ? { group, padBefore: padGu, padAfter: 0 } : { group, padBefore: 0, padAfter: padGu };
};

const teeBound = (ctx: RunContext, stem: RunStem, legOf: LegOf, pick: number): StemBound | null => {
  const legs = [legOf(stem.fromVertex), legOf(stem.toVertex)] as const;
  const from = ctx.toGu(stem.fromMm);
  const to = ctx.toGu(stem.toMm);
  const base = to - from + legs[0] + legs[1];
  const strips = [legOf.hasStrip?.(stem.fromVertex, ctx.run.wall), legOf.hasStrip?.(stem.toVertex, ctx.run.wall)];
  const chosen = strips.some((x) => x) ? teeStrips(ctx, base, strips, pick) : teePads(ctx, base, pick);
  if (!chosen) return null;
  const { group, padBefore, padAfter } = chosen;
  const none = group === null;
  const before = from - legs[0] - padBefore;
  const after = to + legs[1] + padAfter;
  const pull = stem.thicknessMm / ctx.gear.gridMm / 2 / Math.sin((stem.angleDeg * Math.PI) / 180);
  const half = (after - before) / 2;
  const onLeft = stem.side === 'left';
  const low = legZone(stem.fromVertex, from, -1, legs[0], padBefore, strips[0]);
  const high = legZone(stem.toVertex, to, 1, legs[1], padAfter, strips[1]);
  const near: FaceZone = { ...NO_FACE_ZONE, legs: [...low.legs, ...high.legs], pads: [...low.pads, ...high.pads] };
  const opposite: FaceZone = none
    ? { ...NO_FACE_ZONE, unsolved: { fromGu: before, toGu: after } }
    : { ...NO_FACE_ZONE, group: { group, fromGu: before, held: false } };
  const v = (leg: number): [number, number] => (onLeft ? [leg + pull, half] : [half, leg + pull]);
  const parts = strips.some((x) => x) ? ZERO_COST : addCost(padCost(ctx, padBefore), padCost(ctx, padAfter));
  return {
    before: { jointGu: before, v: v(legs[0] + padBefore), cost: ZERO_COST },
    after: { jointGu: after, v: v(legs[1] + padAfter), cost: ZERO_COST },
    cost: none ? addCost(parts, ctx.cost({ failures: 1 })) : addCost(parts, groupCost(ctx, group)),
    left: onLeft ? near : opposite,
    right: onLeft ? opposite : near,
    failure: none
      ? `the face opposite the stem needs one rigid group of ${Math.round(base * ctx.gear.gridMm)} mm, which the yard cannot make at this pressure`
      : null,
  };
};

/** Stems between which nothing of the yard stands. */
const crowdedBound = (ctx: RunContext, stems: readonly RunStem[], failure: string): StemBound => {
  const before = Math.min(...stems.map((s) => ctx.toGu(s.fromMm)));
  const after = Math.max(...stems.map((s) => ctx.toGu(s.toMm)));
  const zone: FaceZone = { ...NO_FACE_ZONE, unsolved: { fromGu: before, toGu: after } };
  return {
    before: { jointGu: before, v: [0, 0], cost: ZERO_COST },
    after: { jointGu: after, v: [0, 0], cost: ZERO_COST },
    cost: ctx.cost({ failures: stems.length }),
    left: zone,
    right: zone,
    failure,
  };
};

const crossBound = (ctx: RunContext, stems: readonly RunStem[], legOf: LegOf): StemBound => {
  if (stems.length !== 2)
    return crowdedBound(ctx, stems, `${stems.length} walls meet it too close to each other for corner units`);
  const left = stems.find((s) => s.side === 'left')!;
  const right = stems.find((s) => s.side === 'right')!;
  const low = (s: RunStem) => ctx.toGu(s.fromMm) - legOf(s.fromVertex);
  const high = (s: RunStem) => ctx.toGu(s.toMm) + legOf(s.toVertex);
  const strips = [
    legOf.hasStrip?.(stems[0]!.fromVertex, ctx.run.wall) === true,
    legOf.hasStrip?.(stems[0]!.toVertex, ctx.run.wall) === true,
  ] as const;
  const { stripGu } = ctx;
  const before = Math.min(low(left), low(right)) - (strips[0] ? stripGu! : 0);
  const after = Math.max(high(left), high(right)) + (strips[1] ? stripGu! : 0);
  const zone = (s: RunStem): FaceZone => {
    const a = legZone(s.fromVertex, ctx.toGu(s.fromMm), -1, legOf(s.fromVertex), low(s) - before, strips[0]);
    const b = legZone(s.toVertex, ctx.toGu(s.toMm), 1, legOf(s.toVertex), after - high(s), strips[1]);
    return { ...NO_FACE_ZONE, legs: [...a.legs, ...b.legs], pads: [...a.pads, ...b.pads] };
  };
  const widths = [left, right].flatMap((s) => [low(s) - before, after - high(s)]);
  // What lets a room go is no fill.
  const pads = widths.filter((_, i) => !strips[i % 2]);
  const uncut = widths.some((x) => x > 0 && (x < ctx.gear.timberLeastGu || x > ctx.gear.timberLimitGu));
  const pull = (s: RunStem) => s.thicknessMm / ctx.gear.gridMm / 2 / Math.sin((s.angleDeg * Math.PI) / 180);
  const v = (edge: (s: RunStem) => number): [number, number] => [edge(left) + pull(left), edge(right) + pull(right)];
  return {
    before: { jointGu: before, v: v((s) => ctx.toGu(s.fromMm) - before), cost: ZERO_COST },
    after: { jointGu: after, v: v((s) => after - ctx.toGu(s.toMm)), cost: ZERO_COST },
    cost: uncut ? ctx.cost({ failures: 1 }) : pads.reduce<Cost>((sum, x) => addCost(sum, padCost(ctx, x)), ZERO_COST),
    left: zone(left),
    right: zone(right),
    failure: uncut ? 'the strip beside a leg would be too narrow or too wide to cut' : null,
  };
};

/** The same with nothing where the stems themselves stand. */
const withoutStems = (bound: StemBound, stems: readonly RunStem[]): StemBound => {
  const on = (side: Side, zone: FaceZone) => (stems.some((s) => s.side === side) ? NO_FACE_ZONE : zone);
  return { ...bound, left: on('left', bound.left), right: on('right', bound.right) };
};

/** Where a stem is formed on one side no corner units stand: forms end at its faces, and what is opposite is to be designed. */
const besideOneSided = (ctx: RunContext, stems: readonly RunStem[]): StemBound => {
  const { wall } = stems.find((s) => s.isOneSided)!;
  const bound = crowdedBound(ctx, stems, `wall ${wall}, which meets it, is formed on one side only`);
  const half = (bound.after.jointGu - bound.before.jointGu) / 2;
  const hangs = (side: Side) => (stems.some((s) => s.side === side) ? 0 : half);
  const v = [hangs('left'), hangs('right')] as const;
  return withoutStems({ ...bound, before: { ...bound.before, v }, after: { ...bound.after, v } }, stems);
};

/** What stands at one place of stems for these legs and this pick of strips; null where that cannot stand. */
export const stemBound = (
  ctx: RunContext,
  { stems, pilasters, boxes }: RunPlace & { readonly boxes?: readonly StemBound[] },
  legOf: LegOf,
  pick: number,
): StemBound | null => {
  if (boxes) return boxes[pick]!;
  const vertices = stems.flatMap((s) => [s.fromVertex, s.toVertex]);
  if (stems.some((s) => s.isOneSided)) return pick === 0 ? besideOneSided(ctx, stems) : null;
  const lacks = lacking(ctx, vertices, legOf);
  if (lacks) return pick === 0 ? withoutStems(crowdedBound(ctx, stems, lacks), stems) : null;
  if (pilasters.length > 0) return pick === 0 ? mixedBound(ctx, { stems, pilasters }, legOf) : null;
  if (stems.length === 1) return teeBound(ctx, stems[0]!, legOf, pick);
  return pick === 0 ? crossBound(ctx, stems, legOf) : null;
};
