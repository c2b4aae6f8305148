/** What stands on the returns of a jog that is laid out with units, and past it on the straight face. */

import type { Face, FacePlan, PieceKind } from '../ground/vocabulary.js';
import { type Draft, FACE_RANK } from './drafts.js';
import type { GroupDraft } from './emitTies.js';
import { fillerOf, type Gear } from './gear.js';
import type { Group } from './groups.js';
import type { SolvedJog } from './plan.js';

export interface JogDrafts {
  readonly drafts: readonly Draft[];
  readonly groups: readonly GroupDraft[];
}

interface Part {
  readonly kind: PieceKind;
  readonly items: readonly (string | null)[];
  readonly widthGu: number;
}

const fillerPart = (gear: Gear, widthGu: number): Part => ({
  kind: 'filler',
  items: fillerOf(gear, widthGu).items.map((u) => u.id),
  widthGu,
});

/** A group from its lower edge. */
const groupParts = (gear: Gear, group: Group): Part[] => [
  ...[...(group.low?.widthsGu ?? [])].reverse().map((w) => fillerPart(gear, w)),
  { kind: 'panel', items: group.panel.items.map((u) => u.id), widthGu: group.panel.widthGu },
  ...(group.high?.widthsGu ?? []).map((w) => fillerPart(gear, w)),
];

const coursesOf = (gear: Gear): number[] => Array.from({ length: gear.courses }, (_, i) => i + 1);

const faceById = (plan: FacePlan, id: string): Face => plan.faces.find((f) => f.id === id)!;

const orderOn = (plan: FacePlan, face: Face, fromGu: number): Draft['order'] => [
  plan.walls.findIndex((w) => w.id === face.wall),
  FACE_RANK[face.side],
  fromGu,
];

/** Fill between the leg and the salient edge. */
const returnDrafts = (plan: FacePlan, { jog, option }: SolvedJog): JogDrafts => {
  const drafts: Draft[] = [];
  const groups: GroupDraft[] = [];
  for (const { at, back, legGu, fill } of option.returns) {
    const { ctx } = jog.sides[back === 0 ? 1 : 0];
    const face = faceById(plan, at.face);
    const parts: Part[] = [
      ...(fill.fillers?.widthsGu ?? []).map((w) => fillerPart(ctx.gear, w)),
      ...(fill.timberGu > 0
        ? [{ kind: 'timber' as const, items: Array<null>(ctx.gear.courses).fill(null), widthGu: fill.timberGu }]
        : []),
      ...(fill.loose ? groupParts(ctx.gear, fill.loose) : []),
    ];
    const first = at.innerGu + at.towards * legGu;
    let reach = first;
    for (const { kind, items, widthGu } of parts) {
      const next = reach + at.towards * widthGu;
      const [fromGu, toGu] = [Math.min(reach, next), Math.max(reach, next)];
      const covers = [{ face: face.id, fromGu, toGu }];
      drafts.push({ kind, items, order: orderOn(plan, face, fromGu), covers, run: ctx.run.id });
      reach = next;
    }
    if (!fill.loose) continue;
    const [fromGu, toGu] = [Math.min(first, reach), Math.max(first, reach)];
    const { id, wall } = ctx.run;
    groups.push({
      face: face.id,
      run: id,
      wall,
      side: 'left',
      fromGu,
      toGu,
      tiesGu: [],
      held: false,
      courses: coursesOf(ctx.gear),
    });
  }
  return { drafts, groups };
};

/** The group on the straight face: each of its pieces covers what lies on either wall's face. */
const acrossDrafts = (plan: FacePlan, { jog, option }: SolvedJog): JogDrafts => {
  const { across } = option;
  if (!across) return { drafts: [], groups: [] };
  const { ctx, end, direction } = jog.sides[across.back];
  const other = jog.sides[across.back === 0 ? 1 : 0];
  const faceOf = (wall: string) => plan.faces.find((f) => f.wall === wall && f.side === across.side)!;
  const [own, past] = [faceOf(ctx.run.wall), faceOf(other.ctx.run.wall)];
  const at = ctx.toGu(end.leftMm);
  const shift = other.ctx.toGu(other.end.leftMm) - at;
  const toGu = across.fromGu + across.group.lengthGu;
  const split = (from: number, to: number): Draft['covers'] => {
    const [low, high] = [Math.min(to, at), Math.max(from, at)];
    const below = { fromGu: from, toGu: low };
    const above = { fromGu: high, toGu: to };
    const [mine, theirs] = direction === 1 ? [above, below] : [below, above];
    return [
      ...(mine.toGu > mine.fromGu ? [{ face: own.id, ...mine }] : []),
      ...(theirs.toGu > theirs.fromGu
        ? [{ face: past.id, fromGu: theirs.fromGu + shift, toGu: theirs.toGu + shift }]
        : []),
    ];
  };
  let reach = across.fromGu;
  const drafts = groupParts(ctx.gear, across.group).map(({ kind, items, widthGu }): Draft => {
    const covers = split(reach, reach + widthGu);
    reach += widthGu;
    const [first] = covers;
    const order = orderOn(plan, faceById(plan, first!.face), first!.fromGu);
    return { kind, items, order, covers, run: ctx.run.id };
  });
  const beyond = split(across.fromGu, toGu).find((c) => c.face === past.id);
  const { id, wall } = ctx.run;
  const group: GroupDraft = {
    face: own.id,
    run: id,
    wall,
    side: across.side,
    fromGu: across.fromGu,
    toGu,
    tiesGu: [],
    held: false,
    courses: coursesOf(ctx.gear),
    ...(beyond ? { past: beyond } : {}),
  };
  return { drafts, groups: [group] };
};

export const jogDrafts = (plan: FacePlan, jogs: readonly SolvedJog[]): JogDrafts => {
  const all = jogs.flatMap((j) => [returnDrafts(plan, j), acrossDrafts(plan, j)]);
  return { drafts: all.flatMap((d) => d.drafts), groups: all.flatMap((d) => d.groups) };
};

/** Legs at the re-entrant vertices of jogs. */
export const jogLegsOf = (jogs: readonly SolvedJog[]): ReadonlyMap<string, number> =>
  new Map(jogs.flatMap(({ option }) => option.returns.map((r) => [r.at.inner, r.legGu] as const)));
