/**
 * Pilasters as timber boxes (rule T22): the face ends at a post on either side of the pilaster, each closes one of its sides as well, and a front board
 * lies between them. Opposite stands one rigid group without a tie, as opposite a stem, since no tie of the wall passes the pilaster.
 *
 * Statics, as strips: the box's front pushes with its width, which walers across it hand on to the forms on either side, half to each; a post hangs on the
 * form beside it. Opposite, the group hands half of its length to either side. So both faces of the wall pull alike on the ties beside the pilaster.
 */

import { type Finding, finding } from '../ground/findings.js';
import { placeAlong } from '../ground/runs.js';
import { modulo, plainNumber } from '../ground/units.js';
import type { FacePlan, Run, RunPilaster, RunStem, Side } from '../ground/vocabulary.js';
import { type FaceZone, groupCost, type LegOf, legZone, NO_FACE_ZONE, padCost, type RunContext } from './bound.js';
import { addCost, type Cost, compareCost, ZERO_COST } from './cost.js';
import { exactGroup, type Group } from './groups.js';
import type { SolvedRun } from './plan.js';
import type { ZoneEnd } from './zone.js';

/** One or two stems or pilasters at one place of a run, with what stands on each face there. */
export interface StemBound {
  readonly before: ZoneEnd;
  readonly after: ZoneEnd;
  readonly cost: Cost;
  readonly left: FaceZone;
  readonly right: FaceZone;
  readonly failure: string | null;
}

/** What stands on the faces of a run at one place. */
export interface RunPlace {
  readonly stems: readonly RunStem[];
  readonly pilasters: readonly RunPilaster[];
}

type Standing = { readonly side: Side; readonly fromMm: number; readonly toMm: number };

/** Stems and pilasters that stand opposite each other share one place; others are apart. */
export const placesOf = ({ stems, pilasters = [] }: Pick<Run, 'stems' | 'pilasters'>): RunPlace[] => {
  const all = [
    ...stems.map((s) => ({ s: s as Standing, place: { stems: [s], pilasters: [] } as RunPlace })),
    ...pilasters.map((p) => ({ s: p as Standing, place: { stems: [], pilasters: [p] } as RunPlace })),
  ].sort((a, b) => a.s.fromMm - b.s.fromMm || (a.s.side === b.s.side ? 0 : a.s.side === 'left' ? -1 : 1));
  const places: RunPlace[] = [];
  for (const { s, place } of all) {
    const last = places.at(-1);
    const own: Standing[] = last ? [...last.stems, ...last.pilasters] : [];
    const meets = own.some((o) => o.side !== s.side && o.fromMm < s.toMm && s.fromMm < o.toMm);
    if (last && meets) {
      places[places.length - 1] = {
        stems: [...last.stems, ...place.stems],
        pilasters: [...last.pilasters, ...place.pilasters],
      };
    } else places.push(place);
  }
  return places;
};

/** A place in the search; `boxes`: the ways to lay out one of pilasters alone. */
export type StemsFeature = RunPlace & {
  readonly kind: 'stems';
  readonly id: string;
  readonly boxes?: readonly StemBound[];
};

/** `boxesOf` gives the ways to lay out a place of pilasters; null: with the legs of a stem there. */
export const stemsFeatures = (run: Run, boxesOf: (place: RunPlace) => readonly StemBound[] | null): StemsFeature[] =>
  placesOf(run).map((place, i) => {
    const boxes = boxesOf(place);
    return { kind: 'stems', id: `${run.id}:${i}`, ...place, ...(boxes ? { boxes } : {}) };
  });

/** Joints tried before a pilaster for each residue of the lattice, and groups tried opposite for each joint. */
const POSTS_TRIED = 4;
const GROUPS_TRIED = 3;
/** Pairs of posts tried where pilasters face each other: those that take least timber. */
const FACING_TRIED = 40;

interface Span {
  readonly fromGu: number;
  readonly toGu: number;
}

const spanOf = (ctx: RunContext, { fromMm, toMm }: Standing): Span => ({
  fromGu: ctx.toGu(fromMm),
  toGu: ctx.toGu(toMm),
});

/** The box on its face between two joints. */
const boxZone = (ctx: RunContext, p: RunPilaster, before: number, after: number): FaceZone => {
  const { fromGu, toGu } = spanOf(ctx, p);
  return {
    ...NO_FACE_ZONE,
    pads: [
      { fromGu: before, toGu: fromGu, returnFace: p.low },
      { fromGu: toGu, toGu: after, returnFace: p.high },
    ],
    boxes: [{ pilaster: p, fromGu: before, toGu: after }],
  };
};

const cutTo = (ctx: RunContext, widthGu: number): boolean =>
  widthGu >= ctx.gear.timberLeastGu && widthGu <= ctx.gear.timberLimitGu;

/** What a box takes of timber: its posts, its sides and its front. */
const boxCost = (ctx: RunContext, p: RunPilaster, before: number, after: number): Cost =>
  padCost(ctx, after - before + 2 * ctx.toGu(p.projectionMm));

/** Strips that hang on the joints before and behind a box on its face. */
const boxShears = (ctx: RunContext, p: RunPilaster, before: number, after: number): readonly [number, number] => {
  const { fromGu, toGu } = spanOf(ctx, p);
  const half = (toGu - fromGu) / 2;
  return [fromGu - before + half, after - toGu + half];
};

const inOrder = (side: Side, own: number, other: number): [number, number] =>
  side === 'left' ? [own, other] : [other, own];

const withGroup = (ctx: RunContext, p: RunPilaster, before: number, group: Group): StemBound => {
  const after = before + group.lengthGu;
  const half = group.lengthGu / 2;
  const [low, high] = boxShears(ctx, p, before, after);
  const box = boxZone(ctx, p, before, after);
  const opposite: FaceZone = { ...NO_FACE_ZONE, group: { group, fromGu: before, held: false } };
  return {
    before: { jointGu: before, v: inOrder(p.side, low, half), cost: ZERO_COST },
    after: { jointGu: after, v: inOrder(p.side, high, half), cost: ZERO_COST },
    cost: addCost(boxCost(ctx, p, before, after), groupCost(ctx, group)),
    left: p.side === 'left' ? box : opposite,
    right: p.side === 'left' ? opposite : box,
    failure: null,
  };
};

/** The first widths of post for which its joint lies `stepGu` from an anchor, and the narrowest one. */
const postsFor = (ctx: RunContext, fromGu: number, anchorsGu: readonly number[], stepGu: number): number[] => {
  const least = ctx.gear.timberLeastGu;
  const residues = new Set(anchorsGu.map((a) => modulo(fromGu - least - a, stepGu)));
  const first = [...residues, 0].map((r) => least + r);
  const all = first.flatMap((b) => Array.from({ length: POSTS_TRIED }, (_, i) => b + i * stepGu));
  return [...new Set(all)].filter((b) => cutTo(ctx, b)).sort((a, b) => a - b);
};

const aloneBounds = (ctx: RunContext, p: RunPilaster, anchorsGu: readonly number[], stepGu: number): StemBound[] => {
  const { gear, pressureKpa } = ctx;
  const { fromGu, toGu } = spanOf(ctx, p);
  const least = gear.timberLeastGu;
  const widthGu = toGu - fromGu;
  /** With a post of this width on one side, those on the other with which a group stands opposite. */
  const partners = (post: number): { post: number; other: number; group: Group }[] => {
    const found: { post: number; other: number; group: Group }[] = [];
    for (let other = least; other <= gear.timberLimitGu && found.length < GROUPS_TRIED; other++) {
      const group = exactGroup(gear, post + widthGu + other, pressureKpa, true);
      if (group) found.push({ post, other, group });
    }
    return found;
  };
  const ahead = postsFor(ctx, fromGu, anchorsGu, stepGu).flatMap(partners);
  const mirrored = anchorsGu.map((a) => -a);
  const behind = postsFor(ctx, -toGu, mirrored, stepGu).flatMap(partners);
  const ways = [...ahead, ...behind.map(({ post, other, group }) => ({ post: other, other: post, group }))];
  const distinct = new Map(ways.map((w) => [`${w.post} ${w.other}`, w]));
  const bounds = [...distinct.values()].map((w) => withGroup(ctx, p, fromGu - w.post, w.group));
  if (bounds.length > 0)
    return bounds.sort((a, b) => compareCost(a.cost, b.cost) || b.before.jointGu - a.before.jointGu);
  const [before, after] = [fromGu - least, toGu + least];
  const unsolved: FaceZone = { ...NO_FACE_ZONE, unsolved: { fromGu: before, toGu: after } };
  const box = boxZone(ctx, p, before, after);
  const mm = plainNumber((after - before) * gear.gridMm, 1);
  return [
    {
      before: { jointGu: before, v: [0, 0], cost: ZERO_COST },
      after: { jointGu: after, v: [0, 0], cost: ZERO_COST },
      cost: addCost(boxCost(ctx, p, before, after), ctx.cost({ failures: 1 })),
      left: p.side === 'left' ? box : unsolved,
      right: p.side === 'left' ? unsolved : box,
      failure: `the face opposite pilaster ${p.id} needs one rigid group of ${mm} mm or somewhat more, which the yard cannot make at this pressure, and no tie passes the pilaster`,
    },
  ];
};

/** Ways to lay out a place with a pilaster alone, the least first. `anchorsGu`: stations from which units reach its joints in steps of `stepGu`. */
export const pilasterBounds = (
  ctx: RunContext,
  { stems, pilasters }: RunPlace,
  anchorsGu: readonly number[],
  stepGu: number,
): readonly StemBound[] | null => {
  if (pilasters.length === 0 || stems.length > 0) return null;
  return pilasters.length === 1
    ? aloneBounds(ctx, pilasters[0]!, anchorsGu, stepGu)
    : facingBounds(ctx, pilasters, anchorsGu, stepGu);
};

const facingBounds = (
  ctx: RunContext,
  pilasters: readonly RunPilaster[],
  anchorsGu: readonly number[],
  stepGu: number,
): StemBound[] => {
  const spans = pilasters.map((p) => spanOf(ctx, p));
  const from = Math.min(...spans.map((s) => s.fromGu));
  const to = Math.max(...spans.map((s) => s.toGu));
  const ahead = postsFor(ctx, from, anchorsGu, stepGu);
  const mirrored = anchorsGu.map((a) => -a);
  const behind = postsFor(ctx, -to, mirrored, stepGu);
  const place = { stems: [], pilasters };
  const ways = ahead.flatMap((a) => behind.map((b) => onBoth(ctx, place, () => 0, from - a, to + b)));
  const stand = ways.filter((w) => w.failure === null).sort((a, b) => compareCost(a.cost, b.cost));
  return stand.length > 0 ? stand.slice(0, FACING_TRIED) : ways.slice(0, 1);
};

/** A pilaster opposite a stem, or several on both faces: between one pair of joints. */
const onBoth = (ctx: RunContext, place: RunPlace, legOf: LegOf, before: number, after: number): StemBound => {
  const { stems, pilasters } = place;
  const at = (side: Side) => ({
    stem: stems.filter((s) => s.side === side),
    box: pilasters.filter((p) => p.side === side),
  });
  const sides = (['left', 'right'] as const).map((side): { zone: FaceZone; v: [number, number]; cost: Cost } => {
    const { stem, box } = at(side);
    const [own] = box;
    if (own) {
      const [low, high] = boxShears(ctx, own, before, after);
      return { zone: boxZone(ctx, own, before, after), v: [low, high], cost: boxCost(ctx, own, before, after) };
    }
    const s = stem[0]!;
    const pull = s.thicknessMm / ctx.gear.gridMm / 2 / Math.sin((s.angleDeg * Math.PI) / 180);
    const { fromGu, toGu } = spanOf(ctx, s);
    const legs = [legOf(s.fromVertex), legOf(s.toVertex)] as const;
    const pads = [fromGu - legs[0] - before, after - toGu - legs[1]] as const;
    const low = legZone(s.fromVertex, fromGu, -1, legs[0], pads[0]);
    const high = legZone(s.toVertex, toGu, 1, legs[1], pads[1]);
    return {
      zone: { ...NO_FACE_ZONE, legs: [...low.legs, ...high.legs], pads: [...low.pads, ...high.pads] },
      v: [fromGu - before + pull, after - toGu + pull],
      cost: addCost(padCost(ctx, pads[0]), padCost(ctx, pads[1])),
    };
  });
  const [left, right] = sides as [(typeof sides)[0], (typeof sides)[0]];
  const pads = sides.flatMap((s) => s.zone.pads.map((x) => x.toGu - x.fromGu));
  const isCut = pads.every((x) => cutTo(ctx, x));
  const crowded = stems.length + pilasters.length > 2;
  const failure = crowded
    ? 'pilasters and walls stand too close to each other for forms between them'
    : isCut
      ? null
      : 'a post or strip beside a pilaster would be too narrow or too wide to cut';
  const cost = addCost(left.cost, right.cost);
  return {
    // What is refused anyway asks nothing of the forms beside it.
    before: { jointGu: before, v: failure ? [0, 0] : [left.v[0], right.v[0]], cost: ZERO_COST },
    after: { jointGu: after, v: failure ? [0, 0] : [left.v[1], right.v[1]], cost: ZERO_COST },
    cost: failure ? addCost(cost, ctx.cost({ failures: 1 })) : cost,
    left: left.zone,
    right: right.zone,
    failure,
  };
};

/** A place where stems and pilasters face each other, with these legs: as short as legs and posts allow. */
export const mixedBound = (ctx: RunContext, place: RunPlace, legOf: LegOf): StemBound => {
  const least = ctx.gear.timberLeastGu;
  const reach = [
    ...place.stems.map((s) => {
      const { fromGu, toGu } = spanOf(ctx, s);
      return [fromGu - legOf(s.fromVertex), toGu + legOf(s.toVertex)] as const;
    }),
    ...place.pilasters.map((p) => {
      const { fromGu, toGu } = spanOf(ctx, p);
      return [fromGu - least, toGu + least] as const;
    }),
  ];
  return onBoth(ctx, place, legOf, Math.min(...reach.map((r) => r[0])), Math.max(...reach.map((r) => r[1])));
};

/** Sides deeper than this are tied across. Common practice, no source. */
const TIED_ACROSS_MM = 250;

/** What each box has to carry, in words. */
export const pilasterFindings = (plan: FacePlan, { model, stems }: SolvedRun): Finding[] => {
  const { ctx, demand } = model;
  const { gear, run, pressureKpa } = ctx;
  const mm = (n: number) => plainNumber(n, 1);
  const perM = demand.rows.reduce((sum, r) => sum + r.stripKnPerM, 0);
  return stems.flatMap(({ bound }) =>
    (['left', 'right'] as const).flatMap((side) => {
      const zone = bound[side];
      return (zone.boxes ?? []).map(({ pilaster: p, fromGu, toGu }) => {
        const width = p.toMm - p.fromMm;
        const kN = (lengthMm: number, each: number) => plainNumber((each * lengthMm) / 1000, 1);
        const posts = zone.pads.map((x) => mm((x.toGu - x.fromGu) * gear.gridMm)).join(' and ');
        const high = mm(demand.stack.heightsMm.reduce((a, b) => a + b, 0));
        const across = p.projectionMm > TIED_ACROSS_MM ? ' Its sides are deeper than 250: tie them across.' : '';
        const message = `Pilaster ${p.id} on the ${side} face of wall ${run.wall} is a timber box ${high} high: ${mm(width)} wide and ${mm(p.projectionMm)} deep, posts of ${posts} beside it, front boards of ${mm((toGu - fromGu) * gear.gridMm)} over both. No tie passes it. The concrete pushes its front with ${kN(width, pressureKpa)} kN per m of height at the foot, ${kN(width, perM)} kN in all: walers bring half of that to the forms on either side, whose ties count it. Its sides are pushed apart with ${kN(p.projectionMm, pressureKpa)} kN per m.${across}`;
        return finding('fit.pilaster', message, {
          at: placeAlong(plan, run.wall, (p.fromMm + p.toMm) / 2, run.footingMm),
          subject: run.wall,
          assumed: 'boards, walers and their fixings are to be designed as a detail',
        });
      });
    }),
  );
};
