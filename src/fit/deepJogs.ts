/**
 * Jogs as deep as a corner unit's leg (rules T3, T5): a change of thickness, or a wall that goes on out of line, laid out for both walls at once.
 *
 * Where a wall stands back by j an inside corner stands, leg a along it and the other on the return, which stiff fillers or timber bolted to that leg
 * close up to the salient edge. The face that is straight at the jog has no joint there: one rigid group without a tie runs from the last joint of the
 * thicker wall, b before the jog, to the joint behind the leg, and each wall takes half of its load.
 *
 * The salient edge is not held (statics of the jog): the face that stands out ends in stiff fillers of b, whose panel is tied within the overhang of the
 * edge. So every wall's forms stand by their own ties, and what goes from one wall to the other is told by equilibrium (`jogShears`).
 */

import type { FacePlan, RunEnd, Side, Vertex } from '../ground/vocabulary.js';
import {
  type Bound,
  type FaceZone,
  flip,
  groupCost,
  groupUses,
  legZone,
  NO_FACE_ZONE,
  PADS_TRIED,
  padCost,
  type RunContext,
  span,
} from './bound.js';
import { addCost, type Cost, compareCost, type Uses, ZERO_COST } from './cost.js';
import { clearFirst, pairOptions } from './endPair.js';
import { outsideAt } from './gear.js';
import { exactGroup, type Group } from './groups.js';
import { jogBounds } from './jogEnds.js';
import { type ReturnFill, returnFills } from './returns.js';
import { stockKey } from './stock/keys.js';

export type JogEnd = RunEnd & { readonly kind: 'jog' };

/** One of the two walls at a jog; `direction` leads from the jog into it. */
export interface JogSide {
  readonly ctx: RunContext;
  readonly end: JogEnd;
  readonly direction: 1 | -1;
}

/** Vertices of one return. */
export interface JogReturn {
  readonly face: string;
  readonly salient: string;
  readonly inner: string;
  /** Station of the re-entrant vertex on the return, and the way from it to the salient edge. */
  readonly innerGu: number;
  readonly towards: 1 | -1;
}

/** What stands on one return. */
export interface FilledReturn {
  readonly at: JogReturn;
  /** The wall that stands back there: 0 before the jog, 1 behind it. */
  readonly back: 0 | 1;
  readonly legGu: number;
  readonly fill: ReturnFill;
}

/** The group that runs past the jog on the straight face. */
export interface Across {
  readonly side: Side;
  /** The thinner wall, in whose stations it is told. */
  readonly back: 0 | 1;
  readonly group: Group;
  readonly fromGu: number;
}

export interface JogOption {
  /** Ways to close the wall before the jog and the one behind it. */
  readonly bounds: readonly [readonly Bound[], readonly Bound[]];
  /** Of what stands on the returns and across the jog. */
  readonly cost: Cost;
  readonly uses: Uses;
  readonly returns: readonly FilledReturn[];
  readonly across: Across | null;
}

export interface PlanJog {
  readonly id: string;
  readonly sides: readonly [JogSide, JogSide];
  readonly options: readonly JogOption[];
}

export interface JogFeature {
  readonly kind: 'jog';
  /** The same for the ends of both walls. */
  readonly id: string;
  readonly end: JogEnd;
  readonly direction: 1 | -1;
  readonly options: readonly JogOption[];
}

const SIDES: readonly Side[] = ['left', 'right'];

const outGu = ({ ctx, end }: JogSide, side: Side): number => ctx.toGu(side === 'left' ? end.leftOutMm : end.rightOutMm);

const stationGu = ({ ctx, end }: JogSide): number => ctx.toGu(end.leftMm);

const thicknessGu = ({ ctx }: JogSide): number => ctx.run.thicknessMm / ctx.gear.gridMm;

const squareLegs = (ctx: RunContext): number[] =>
  ctx.gear.legs.filter((l) => l.items[0]!.kind === 'inside-corner').map((l) => l.legGu);

/** Is the jog as deep as a leg on one of its faces? */
export const isDeep = (side: JogSide): boolean => {
  const least = Math.min(...squareLegs(side.ctx));
  return SIDES.some((s) => Math.abs(outGu(side, s)) >= least);
};

/**
 * What the corner unit hands on to its leg's joint and to the salient edge, as strips. Its arms are u (leg and strip) and j (return); the line of the face
 * that stands out pulls at the edge with half of the thicker wall, t / 2, as its other end asks. Moments about the joint give H = (t j - u^2 - j^2) / (2 u)
 * between the edge and the unit: the joint has u + H, and where H is negative the edge has -H to carry. A positive H would ease the edge: not counted.
 */
export const jogShears = (
  armGu: number,
  jogGu: number,
  thickGu: number,
): { readonly leg: number; readonly edge: number } => {
  const h = (thickGu * jogGu - armGu ** 2 - jogGu ** 2) / (2 * armGu);
  return { leg: armGu + Math.max(0, h), edge: Math.max(0, -h) };
};

/** How one face is closed at the jog. */
interface FacePlanned {
  /** Wall that stands back there (0, 1), or null on a straight face. */
  readonly back: 0 | 1 | null;
  readonly jogGu: number;
  readonly legGu: number;
  /** Timber beside the leg, or the whole post where there is no leg. */
  readonly padGu: number;
}

const armOf = (f: FacePlanned): number => f.legGu + f.padGu;

/** Strips beside the two legs of one wall that bring both faces to the same station; null where none can be cut. */
const evenPads = (ctx: RunContext, legs: readonly number[]): number[] | null => {
  const { timberLeastGu, timberLimitGu } = ctx.gear;
  const most = Math.max(...legs);
  for (const to of [most, most + timberLeastGu]) {
    const pads = legs.map((l) => to - l);
    if (pads.every((x) => x === 0 || (x >= timberLeastGu && x <= timberLimitGu))) return pads;
  }
  return null;
};

/** Every way to close both faces, strips left out where both face stand by themselves. */
const planned = (sides: readonly [JogSide, JogSide]): (readonly [FacePlanned, FacePlanned])[] => {
  const { gear } = sides[0].ctx;
  const least = Math.min(...squareLegs(sides[0].ctx));
  const faceChoices = SIDES.map((side): FacePlanned[] => {
    const out = outGu(sides[0], side);
    if (out === 0) return [{ back: null, jogGu: 0, legGu: 0, padGu: 0 }];
    const jogGu = Math.abs(out);
    const back = out > 0 ? 1 : 0;
    if (jogGu < least) return [{ back, jogGu, legGu: 0, padGu: gear.timberLeastGu }];
    const legs = squareLegs(sides[0].ctx).filter((l) => l <= jogGu && squareLegs(sides[1].ctx).includes(l));
    return legs.map((legGu) => ({ back, jogGu, legGu, padGu: 0 }));
  });
  const [left, right] = faceChoices as [FacePlanned[], FacePlanned[]];
  return left.flatMap((l) =>
    right.flatMap((r): (readonly [FacePlanned, FacePlanned])[] => {
      if (l.back === null || r.back === null) {
        // Beside one straight face a strip may make the group across fit.
        const pads = [
          0,
          ...Array.from({ length: gear.timberLimitGu - gear.timberLeastGu + 1 }, (_, i) => gear.timberLeastGu + i),
        ];
        return pads.map((x) => (l.back === null ? [l, { ...r, padGu: x }] : [{ ...l, padGu: x }, r]));
      }
      if (l.back !== r.back) return [[l, r]];
      const pads = evenPads(sides[0].ctx, [armOf(l), armOf(r)]);
      return pads
        ? [
            [
              { ...l, padGu: l.padGu + pads[0]! },
              { ...r, padGu: r.padGu + pads[1]! },
            ],
          ]
        : [];
    }),
  );
};

/** What stands on a face of a wall that stands back. */
const backZone = (side: JogSide, f: FacePlanned, ret: JogReturn): FaceZone => {
  const at = stationGu(side);
  if (f.legGu > 0) return legZone(ret.inner, at, side.direction, f.legGu, f.padGu);
  return { ...NO_FACE_ZONE, pads: [{ ...span(at, at + side.direction * f.padGu), returnFace: ret.face }] };
};

interface WallEnd {
  /** Where its units begin on either face, from the jog. */
  readonly offGu: readonly [number, number];
  readonly v: readonly [number, number];
  readonly zones: readonly [FaceZone, FaceZone];
  readonly cost: Cost;
}

/** The ways to close one wall; with a pair where its faces begin at different stations. */
const boundsOf = (side: JogSide, w: WallEnd): Bound[] => {
  const { ctx, direction: d } = side;
  const at = stationGu(side);
  const [left, right] = w.zones;
  const plain = { v: w.v, left, right, failure: null, rule: null };
  const isOut = SIDES.some((s) => outGu(side, s) > 0);
  if (w.offGu[0] === w.offGu[1] && !isOut) return [{ ...plain, jointGu: at + d * w.offGu[0], cost: w.cost }];
  const begins = [at + d * w.offGu[0], at + d * w.offGu[1]] as const;
  // No tie stands close to a salient edge: panels that begin at it on both faces need fillers towards it.
  const even = w.offGu[0] === w.offGu[1] ? ctx.gear.fillerSets.map((s) => s.widthGu) : [0];
  const far = Math.max(...w.offGu);
  const stand = even
    .flatMap((f) => pairOptions(ctx, d, begins, at + d * (far + f)))
    .filter((o) => !isOut || d * (o.tieAtGu - at) >= ctx.edgeClearGu);
  const { options, clear } = clearFirst(ctx, stand);
  return options.map((o): Bound => {
    const withGroup = (zone: FaceZone, face: 0 | 1): FaceZone => ({
      ...zone,
      group: { group: o.groups[face], fromGu: o.fromGu[face], held: false, tiesGu: [o.tieAtGu] },
    });
    return {
      ...plain,
      jointGu: o.jointGu,
      pair: o.pair,
      cost: addCost(w.cost, o.cost),
      left: withGroup(left, 0),
      right: withGroup(right, 1),
      failure: clear ? null : 'no tie beside the jog clears what is in the wall',
      rule: clear ? null : 'fit.ties-not-clear',
    };
  });
};

/** Corner units of one return, all courses: inside and outside. */
const cornerUses = ({ gear }: RunContext, legGu: number): Uses =>
  [...(gear.legs.find((l) => l.legGu === legGu)?.items ?? []), ...(outsideAt(gear, 90)?.items ?? [])].map((u) => [
    stockKey(u.id, gear.pour),
    1,
  ]);

/** Both walls closed in one way; null where one of them cannot be. */
const optionFor = (
  sides: readonly [JogSide, JogSide],
  faces: readonly [FacePlanned, FacePlanned],
  returns: readonly (JogReturn | null)[],
  fills: readonly (ReturnFill | null)[],
  across: { readonly beyondGu: number; readonly group: Group } | null,
): JogOption | null => {
  const shears = (f: FacePlanned) => jogShears(armOf(f), f.jogGu, thicknessGu(sides[f.back === 0 ? 1 : 0]));
  const arms = faces.map(armOf);
  const backArm = Math.max(...arms);
  const ends = ([0, 1] as const).map((wall): Bound[] => {
    const side = sides[wall];
    const each = faces.map((f, i): { off: number; v: number; zone: FaceZone; cost: Cost } => {
      if (f.back === null) {
        const isBack = faces[1 - i]!.back === wall;
        const off = isBack ? backArm : (across?.beyondGu ?? 0);
        return { off, v: across ? across.group.lengthGu / 2 : 0, zone: NO_FACE_ZONE, cost: ZERO_COST };
      }
      const arm = armOf(f);
      if (f.back !== wall) {
        const v = f.legGu > 0 ? shears(f).edge : 0;
        return { off: 0, v, zone: NO_FACE_ZONE, cost: ZERO_COST };
      }
      const v = f.legGu > 0 ? shears(f).leg : arm;
      const cost = padCost(side.ctx, f.padGu + (f.legGu > 0 || f.padGu === 0 ? 0 : f.jogGu));
      return { off: arm, v, zone: backZone(side, f, returns[i]!), cost };
    });
    const [l, r] = each as [(typeof each)[0], (typeof each)[0]];
    return boundsOf(side, {
      offGu: [l.off, r.off],
      v: [l.v, r.v],
      zones: [l.zone, r.zone],
      cost: addCost(l.cost, r.cost),
    });
  });
  const [before, after] = ends as [Bound[], Bound[]];
  if (before.length === 0 || after.length === 0) return null;
  const straight = faces.findIndex((f) => f.back === null);
  const back = faces.find((f) => f.back !== null)!.back!;
  const { ctx, direction: d } = sides[back];
  const at = stationGu(sides[back]);
  const standing = faces.flatMap((f, i) => (f.legGu > 0 ? [{ legGu: f.legGu, fill: fills[i]! }] : []));
  const corners = standing.flatMap((r): Uses => cornerUses(ctx, r.legGu));
  const fill = standing.reduce<Cost>((sum, r) => addCost(sum, r.fill.cost), ctx.cost({ uses: corners }));
  // Both returns lie at one station: one place of fill.
  const timber = padCost(
    ctx,
    standing.reduce((sum, r) => sum + r.fill.timberGu, 0),
  );
  return {
    bounds: [before, after],
    uses: [
      ...corners,
      ...standing.flatMap((r) => r.fill.uses),
      ...(across ? groupUses(ctx.gear, across.group, 1) : []),
    ],
    cost: addCost(addCost(fill, timber), across ? groupCost(ctx, across.group) : ZERO_COST),
    returns: faces.flatMap((f, i) =>
      f.legGu > 0 ? [{ at: returns[i]!, back: f.back!, legGu: f.legGu, fill: fills[i]! }] : [],
    ),
    across: across && {
      side: SIDES[straight]!,
      back,
      group: d === 1 ? across.group : flip(across.group),
      fromGu: d === 1 ? at - across.beyondGu : at - backArm,
    },
  };
};

/** Distances b before the jog at which the thicker wall's last joint on the straight face may stand: fillers that leave a tie in reach and clear of the edge. */
const beyonds = (side: JogSide): number[] => {
  const { gear, edgeClearGu } = side.ctx;
  const holes = gear.panels.flatMap((p) => [...p.holesGu, ...p.holesGu.map((h) => p.widthGu - h)]);
  const reached = (b: number) => holes.some((h) => b + h >= edgeClearGu && b + h <= gear.overhangGu);
  return [0, ...gear.fillerSets.map((s) => s.widthGu).filter(reached)];
};

const unitOptions = (sides: readonly [JogSide, JogSide], returns: readonly (JogReturn | null)[]): JogOption[] => {
  const pressureKpa = Math.max(sides[0].ctx.pressureKpa, sides[1].ctx.pressureKpa);
  const options: JogOption[] = [];
  const padded = new Map<string, number>();
  for (const faces of planned(sides)) {
    const fills = faces.map((f) =>
      f.legGu > 0
        ? returnFills(sides[f.back!].ctx, f.jogGu, f.legGu, thicknessGu(sides[f.back === 0 ? 1 : 0]), pressureKpa)
        : null,
    );
    if (fills.some((f) => f === undefined)) continue;
    const take = (across: Parameters<typeof optionFor>[4]) => {
      const option = optionFor(sides, faces, returns, fills as (ReturnFill | null)[], across);
      if (option) options.push(option);
    };
    const straight = faces.findIndex((f) => f.back === null);
    if (straight < 0) {
      take(null);
      continue;
    }
    const f = faces[1 - straight]!;
    const front = sides[1 - f.back!]!;
    for (const beyondGu of beyonds(front)) {
      // Wider strips than the least few only cost more timber.
      const key = `${f.legGu} ${beyondGu}`;
      const tried = padded.get(key) ?? 0;
      if (f.padGu > 0 && tried >= PADS_TRIED) continue;
      const group = exactGroup(front.ctx.gear, beyondGu + armOf(f), pressureKpa, true);
      if (!group) continue;
      if (f.padGu > 0) padded.set(key, tried + 1);
      take({ beyondGu, group });
    }
  }
  return options;
};

/** The returns of a jog on the left and on the right, with their vertices; null where the faces are in line. */
export const returnsOf = (plan: FacePlan, end: JogEnd, { toGu }: RunContext): (JogReturn | null)[] =>
  [end.leftReturn, end.rightReturn].map((face): JogReturn | null => {
    if (face === null) return null;
    const at = (kind: Vertex['kind']) =>
      plan.vertices.find((v) => v.kind === kind && v.arms.some((a) => a.face === face))!;
    const inner = at('re-entrant');
    const arm = inner.arms.find((a) => a.face === face)!;
    return { face, salient: at('salient').id, inner: inner.id, innerGu: toGu(arm.stationMm), towards: arm.direction };
  });

/** Every way to lay the jog out, packing by a post of timber last: where that cannot stand either, the bounds say so. */
export const jogOptions = (
  sides: readonly [JogSide, JogSide],
  returns: readonly (JogReturn | null)[],
): readonly JogOption[] => {
  const packed: JogOption = {
    bounds: [
      jogBounds(sides[0].ctx, sides[0].end, sides[0].direction),
      jogBounds(sides[1].ctx, sides[1].end, sides[1].direction),
    ],
    cost: ZERO_COST,
    uses: [],
    returns: [],
    across: null,
  };
  return [...unitOptions(sides, returns).sort((a, b) => compareCost(a.cost, b.cost)), packed];
};
