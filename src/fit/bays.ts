/**
 * End zones: what each face needs from a vertex of the concrete to the first joint that both faces share (rules T3 to T6).
 *
 * - A corner: on the re-entrant face a leg a (with a timber strip x bolted to it where the other face needs it), on the salient face one rigid
 *   group of length k + a + x held at the salient edge; k is the distance between the two vertices along the wall.
 * - A stem's own end: legs on both faces. A stem on a face: legs on either side of it, opposite them one rigid group without a tie.
 * - A free end: both faces run past the concrete.
 *
 * Shears of legs (from the equilibrium of the corner unit): a at rest, (k + a) / 2 at a corner if larger, a + t_s / (2 sin q) at a tee.
 */

import type { Run, RunEnd, RunStem, Side } from '../ground/vocabulary.js';
import { addCost, type Cost, type CostParts, ZERO_COST } from './cost.js';
import type { Gear } from './gear.js';
import { exactGroup, type Group } from './groups.js';
import type { ZoneEnd } from './zone.js';

/** What stands on one face between the zones. */
export interface FaceZone {
  readonly legs: readonly { readonly vertex: string; readonly fromGu: number; readonly toGu: number }[];
  /** Timber strips bolted to a leg. */
  readonly pads: readonly { readonly fromGu: number; readonly toGu: number }[];
  /** A rigid group without a tie of its own. */
  readonly group: { readonly group: Group; readonly fromGu: number; readonly held: boolean } | null;
  /** A part of the face that nothing of the yard closes: drawn as timber, always with a failure. */
  readonly unsolved: { readonly fromGu: number; readonly toGu: number } | null;
}

export const NO_FACE_ZONE: FaceZone = { legs: [], pads: [], group: null, unsolved: null };

export interface Bound extends ZoneEnd {
  readonly left: FaceZone;
  readonly right: FaceZone;
  /** Why this end is not laid out, in words; null when it is. */
  readonly failure: string | null;
  /** Rules of the failure. */
  readonly rule: 'fit.special-form' | 'fit.end-not-laid-out' | null;
}

/** What every cost and check of one run needs; lengths in grid units. */
export interface RunContext {
  readonly run: Run;
  readonly gear: Gear;
  readonly pressureKpa: number;
  /** Height of the concrete. */
  readonly heightGu: number;
  readonly rows: number;
  readonly cost: (parts: CostParts) => Cost;
  readonly toGu: (mm: number) => number;
  readonly bulkheadGu: number;
  readonly runPastLeastGu: number;
  readonly runPastMostGu: number;
  readonly edgeClearGu: number;
  /** Half the tie's diameter, rounded up. */
  readonly tieRadiusGu: number;
  /** May a tie stand at this station for all that is in the wall: bars, sleeves, pipes? */
  readonly isClear: (stationGu: number) => boolean;
  /** Nothing is in the wall that would keep a tie away. */
  readonly allClear: boolean;
}

export type LegOf = (vertex: string) => number;

/** How many widths of strip beside a leg are tried: the narrowest ones; wider strips only cost more timber. */
const PADS_TRIED = 3;

const sideOf = (end: { leftMm: number; rightMm: number }, side: Side): number =>
  side === 'left' ? end.leftMm : end.rightMm;

export const groupCost = (ctx: RunContext, group: Group): Cost =>
  ctx.cost({
    steelFillers: group.fillerCount * ctx.gear.courses,
    tiesAndUnits: (1 + group.fillerCount) * ctx.gear.courses,
    squares: group.panel.widthGu ** 2 * ctx.gear.courses,
  });

const padCost = (ctx: RunContext, padGu: number): Cost =>
  padGu > 0 ? ctx.cost({ places: 1, timberArea: padGu * ctx.heightGu }) : ZERO_COST;

/** Strip widths x >= 0 for which base + x is one rigid group: 0 first if that works, then the narrowest few. */
const padsFor = (ctx: RunContext, baseGu: number, both: boolean): { padGu: number; group: Group }[] => {
  const { gear, pressureKpa } = ctx;
  const plain = baseGu > 0 ? exactGroup(gear, baseGu, pressureKpa, both) : null;
  const found: { padGu: number; group: Group }[] = [];
  for (let x = gear.timberLeastGu; x <= gear.timberLimitGu && found.length < PADS_TRIED; x++) {
    const group = exactGroup(gear, baseGu + x, pressureKpa, both);
    if (group) found.push({ padGu: x, group });
  }
  return plain ? [{ padGu: 0, group: plain }, ...found] : found;
};

const span = (a: number, b: number) => ({ fromGu: Math.min(a, b), toGu: Math.max(a, b) });

/** Leg and strip on a face, from its vertex towards the zone (`d` is +1 at a run's start). */
const legZone = (vertex: string, stationGu: number, d: 1 | -1, legGu: number, padGu: number): FaceZone => ({
  ...NO_FACE_ZONE,
  legs: [{ vertex, ...span(stationGu, stationGu + d * legGu) }],
  pads: padGu > 0 ? [span(stationGu + d * legGu, stationGu + d * (legGu + padGu))] : [],
});

const cornerBounds = (ctx: RunContext, end: RunEnd & { kind: 'corner' }, d: 1 | -1, legOf: LegOf): Bound[] => {
  const outerSide: Side = end.inner === 'left' ? 'right' : 'left';
  const innerGu = ctx.toGu(sideOf(end, end.inner));
  const outerGu = ctx.toGu(sideOf(end, outerSide));
  const innerVertex = end.inner === 'left' ? end.leftVertex : end.rightVertex;
  const legGu = legOf(innerVertex);
  const k = d * (innerGu - outerGu);
  const edge = ctx.gear.outsideCorner?.faceWidthGu ?? 0;
  const options = padsFor(ctx, k + legGu - edge, false);
  if (options.length === 0) return [cornerFailure(ctx, end, d, legGu, innerGu, outerGu, innerVertex)];
  return options.map(({ padGu, group }) => {
    const jointGu = innerGu + d * (legGu + padGu);
    const inner = legZone(innerVertex, innerGu, d, legGu, padGu);
    const outer: FaceZone = {
      ...NO_FACE_ZONE,
      // The panel stands at the salient edge, its filler towards the zone.
      group: { group: d === 1 ? group : flip(group), fromGu: d === 1 ? outerGu + edge : jointGu, held: true },
    };
    const half = (k + legGu + padGu) / 2;
    const vInner = Math.max(legGu + padGu, half);
    const onLeft = end.inner === 'left';
    return {
      jointGu,
      v: onLeft ? [vInner, half] : [half, vInner],
      cost: addCost(padCost(ctx, padGu), groupCost(ctx, group)),
      left: onLeft ? inner : outer,
      right: onLeft ? outer : inner,
      failure: null,
      rule: null,
    };
  });
};

/** A corner whose outer zone no rigid group of the yard makes: the leg stands, the outer part is marked. */
const cornerFailure = (
  ctx: RunContext,
  end: RunEnd & { kind: 'corner' },
  d: 1 | -1,
  legGu: number,
  innerGu: number,
  outerGu: number,
  innerVertex: string,
): Bound => {
  const jointGu = innerGu + d * legGu;
  const inner = legZone(innerVertex, innerGu, d, legGu, 0);
  const outer: FaceZone = { ...NO_FACE_ZONE, unsolved: span(outerGu, jointGu) };
  const onLeft = end.inner === 'left';
  const lengthMm = Math.round(Math.abs(jointGu - outerGu) * ctx.gear.gridMm);
  return {
    jointGu,
    v: [legGu, legGu],
    cost: ctx.cost({ failures: 1 }),
    left: onLeft ? inner : outer,
    right: onLeft ? outer : inner,
    failure: `the outer face needs one rigid group of ${lengthMm} mm from the salient edge, which the yard cannot make at this pressure`,
    rule: 'fit.special-form',
  };
};

/** The same group seen from its other end. */
export const flip = (group: Group): Group => ({
  ...group,
  low: group.high,
  high: group.low,
  holesGu: group.holesGu.map((h) => group.lengthGu - h).sort((a, b) => a - b),
});

const stemBounds = (ctx: RunContext, end: RunEnd & { kind: 'stem' }, d: 1 | -1, legOf: LegOf): Bound[] => {
  const legs = [legOf(end.leftVertex), legOf(end.rightVertex)] as const;
  const at = [ctx.toGu(end.leftMm), ctx.toGu(end.rightMm)] as const;
  const reach = [d * at[0] + legs[0], d * at[1] + legs[1]] as const;
  const far = Math.max(...reach);
  const pads = [far - reach[0], far - reach[1]] as const;
  const uncut = pads.some((x) => x > 0 && (x < ctx.gear.timberLeastGu || x > ctx.gear.timberLimitGu));
  const pull = ctx.run.thicknessMm / ctx.gear.gridMm / 2 / Math.sin((end.angleDeg * Math.PI) / 180);
  return [
    {
      jointGu: d * far,
      v: [legs[0] + pads[0] + pull, legs[1] + pads[1] + pull],
      cost: uncut ? ctx.cost({ failures: 1 }) : addCost(padCost(ctx, pads[0]), padCost(ctx, pads[1])),
      left: legZone(end.leftVertex, at[0], d, legs[0], pads[0]),
      right: legZone(end.rightVertex, at[1], d, legs[1], pads[1]),
      failure: uncut ? 'the strip beside a leg would be too narrow or too wide to cut' : null,
      rule: uncut ? 'fit.special-form' : null,
    },
  ];
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
  return usable.map((jointGu) => ({
    jointGu,
    v: [0, 0],
    cost: ctx.cost({ runPast: d * (edgeGu - jointGu) - ctx.runPastLeastGu }),
    left: NO_FACE_ZONE,
    right: NO_FACE_ZONE,
    failure: null,
    rule: null,
  }));
};

/** An end that this version does not lay out: the zone begins behind both faces' ends, the rest is marked. */
const openBound = (ctx: RunContext, end: RunEnd, d: 1 | -1, why: string): Bound => {
  const left = ctx.toGu(end.leftMm);
  const right = ctx.toGu(end.rightMm);
  const jointGu = d === 1 ? Math.max(left, right) : Math.min(left, right);
  const rest = (at: number): FaceZone => ({ ...NO_FACE_ZONE, unsolved: at === jointGu ? null : span(at, jointGu) });
  return {
    jointGu,
    v: [0, 0],
    cost: ctx.cost({ failures: 1 }),
    left: rest(left),
    right: rest(right),
    failure: why,
    rule: 'fit.end-not-laid-out',
  };
};

const SQUARE_DEG = 0.5;

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
      if (Math.abs(end.deflectionDeg - 90) > SQUARE_DEG) {
        return [
          openBound(
            ctx,
            end,
            d,
            `a corner turning ${Math.round(end.deflectionDeg * 10) / 10} degrees needs hinged corners`,
          ),
        ];
      }
      return cornerBounds(ctx, end, d, legOf);
    case 'stem':
      if (Math.abs(end.angleDeg - 90) > SQUARE_DEG) {
        return [
          openBound(ctx, end, d, `a junction at ${Math.round(end.angleDeg * 10) / 10} degrees needs hinged corners`),
        ];
      }
      return stemBounds(ctx, end, d, legOf);
    case 'free':
      return freeBounds(ctx, end, d, joints);
    case 'open':
      return [openBound(ctx, end, d, end.why)];
  }
};

/** One or two stems at one place of a run, with what stands on each face there. */
export interface StemBound {
  readonly before: ZoneEnd;
  readonly after: ZoneEnd;
  readonly cost: Cost;
  readonly left: FaceZone;
  readonly right: FaceZone;
  readonly failure: string | null;
}

/** Stems that stand opposite each other share one place; others are apart. */
export const stemPlaces = (run: Run): RunStem[][] => {
  const places: RunStem[][] = [];
  for (const stem of run.stems) {
    const last = places[places.length - 1];
    const meets = last?.some((s) => s.side !== stem.side && s.fromMm < stem.toMm && stem.fromMm < s.toMm);
    if (last && meets) last.push(stem);
    else places.push([stem]);
  }
  return places;
};

/** Number of values of the strip choice at a stem: none, or one of the narrowest few beside either leg. */
export const STEM_PADS = 1 + 2 * PADS_TRIED;

const teeBound = (ctx: RunContext, stem: RunStem, legOf: LegOf, pick: number): StemBound | null => {
  const legs = [legOf(stem.fromVertex), legOf(stem.toVertex)] as const;
  const from = ctx.toGu(stem.fromMm);
  const to = ctx.toGu(stem.toMm);
  const base = to - from + legs[0] + legs[1];
  const options = padsFor(ctx, base, true);
  const padded = options.filter((o) => o.padGu > 0);
  const option = pick === 0 ? options.find((o) => o.padGu === 0) : padded[(pick - 1) % PADS_TRIED];
  const none = pick === 0 && !option;
  if (!none && !option) return null;
  const padBefore = pick > 0 && pick <= PADS_TRIED ? option!.padGu : 0;
  const padAfter = pick > PADS_TRIED ? option!.padGu : 0;
  const before = from - legs[0] - padBefore;
  const after = to + legs[1] + padAfter;
  const pull = stem.thicknessMm / ctx.gear.gridMm / 2 / Math.sin((stem.angleDeg * Math.PI) / 180);
  const half = (after - before) / 2;
  const onLeft = stem.side === 'left';
  const low = legZone(stem.fromVertex, from, -1, legs[0], padBefore);
  const high = legZone(stem.toVertex, to, 1, legs[1], padAfter);
  const near: FaceZone = { ...NO_FACE_ZONE, legs: [...low.legs, ...high.legs], pads: [...low.pads, ...high.pads] };
  const opposite: FaceZone = none
    ? { ...NO_FACE_ZONE, unsolved: { fromGu: before, toGu: after } }
    : { ...NO_FACE_ZONE, group: { group: option!.group, fromGu: before, held: false } };
  const v = (leg: number): [number, number] => (onLeft ? [leg + pull, half] : [half, leg + pull]);
  const parts = addCost(padCost(ctx, padBefore), padCost(ctx, padAfter));
  return {
    before: { jointGu: before, v: v(legs[0] + padBefore), cost: ZERO_COST },
    after: { jointGu: after, v: v(legs[1] + padAfter), cost: ZERO_COST },
    cost: none ? addCost(parts, ctx.cost({ failures: 1 })) : addCost(parts, groupCost(ctx, option!.group)),
    left: onLeft ? near : opposite,
    right: onLeft ? opposite : near,
    failure: none
      ? `the face opposite the stem needs one rigid group of ${Math.round(base * ctx.gear.gridMm)} mm, which the yard cannot make at this pressure`
      : null,
  };
};

/** More stems at one place than one a side: nothing of the yard closes what is between them. */
const crowdedBound = (ctx: RunContext, stems: readonly RunStem[]): StemBound => {
  const before = Math.min(...stems.map((s) => ctx.toGu(s.fromMm)));
  const after = Math.max(...stems.map((s) => ctx.toGu(s.toMm)));
  const zone: FaceZone = { ...NO_FACE_ZONE, unsolved: { fromGu: before, toGu: after } };
  return {
    before: { jointGu: before, v: [0, 0], cost: ZERO_COST },
    after: { jointGu: after, v: [0, 0], cost: ZERO_COST },
    cost: ctx.cost({ failures: stems.length }),
    left: zone,
    right: zone,
    failure: `${stems.length} walls meet it too close to each other for corner units`,
  };
};

const crossBound = (ctx: RunContext, stems: readonly RunStem[], legOf: LegOf): StemBound => {
  if (stems.length !== 2) return crowdedBound(ctx, stems);
  const left = stems.find((s) => s.side === 'left')!;
  const right = stems.find((s) => s.side === 'right')!;
  const low = (s: RunStem) => ctx.toGu(s.fromMm) - legOf(s.fromVertex);
  const high = (s: RunStem) => ctx.toGu(s.toMm) + legOf(s.toVertex);
  const before = Math.min(low(left), low(right));
  const after = Math.max(high(left), high(right));
  const zone = (s: RunStem): FaceZone => {
    const a = legZone(s.fromVertex, ctx.toGu(s.fromMm), -1, legOf(s.fromVertex), low(s) - before);
    const b = legZone(s.toVertex, ctx.toGu(s.toMm), 1, legOf(s.toVertex), after - high(s));
    return { ...NO_FACE_ZONE, legs: [...a.legs, ...b.legs], pads: [...a.pads, ...b.pads] };
  };
  const pads = [left, right].flatMap((s) => [low(s) - before, after - high(s)]);
  const uncut = pads.some((x) => x > 0 && (x < ctx.gear.timberLeastGu || x > ctx.gear.timberLimitGu));
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

/** What stands at one place of stems for these legs and this pick of strips; null where that cannot stand. */
export const stemBound = (ctx: RunContext, stems: readonly RunStem[], legOf: LegOf, pick: number): StemBound | null =>
  stems.length === 1 ? teeBound(ctx, stems[0]!, legOf, pick) : pick === 0 ? crossBound(ctx, stems, legOf) : null;
