/** What stands at a vertex of the concrete: the corner unit of every course, or the timber in its place. */

import { isBend } from '../ground/cornerAngles.js';
import { listsBy } from '../ground/groups.js';
import type { FacePlan, FaceSide, FormUnit, PieceKind, Taper, Vertex } from '../ground/vocabulary.js';
import { bendTaper } from './bendTaper.js';
import { TAPERED_GU } from './cornerEnds.js';
import { type Gear, legsAt, outsideAt } from './gear.js';
import type { SolvedPlan } from './plan.js';

export interface CornerPiece {
  readonly kind: PieceKind;
  /** By course; null: timber. */
  readonly items: readonly (string | null)[];
  readonly covers: readonly {
    readonly wall: string;
    readonly side: FaceSide;
    /** Id of a return. */
    readonly face?: string;
    readonly fromGu: number;
    readonly toGu: number;
  }[];
  /** Of the strips at a bend. */
  readonly taper?: Taper;
}

/** How far the tapered strip at a vertex reaches along a wall, as the wall's end zone has it. */
const taperedReach = (solved: SolvedPlan, wall: string, vertex: string): number => {
  const own = solved.runs.filter((r) => r.model.ctx.run.wall === wall);
  const ends = own.flatMap((run) => [run.zones[0]?.start, run.zones[run.zones.length - 1]?.end]);
  const legs = ends.flatMap((b) => (b ? [...b.left.legs, ...b.right.legs] : []));
  const leg = legs.find((l) => l.vertex === vertex);
  return leg ? leg.toGu - leg.fromGu : 0;
};

/** Re-entrant vertices of each node: a junction of which one corner has no unit is not laid out as a whole. */
const besides = (plan: FacePlan): ReadonlyMap<string, readonly Vertex[]> =>
  listsBy(
    plan.vertices.filter((v) => v.kind === 're-entrant'),
    (v) => v.node,
  );

const besidesOf = new WeakMap<FacePlan, ReadonlyMap<string, readonly Vertex[]>>();

const isWhole = (plan: FacePlan, v: Vertex, gear: Gear): boolean => {
  const byNode = besidesOf.get(plan) ?? besides(plan);
  besidesOf.set(plan, byNode);
  return byNode.get(v.node)!.every((x) => x === v || legsAt(gear, x.deflectionDeg).length > 0);
};

/** The corner unit of every course in a re-entrant vertex for a leg; null where the yard has none. */
export const cornerItems = (plan: FacePlan, v: Vertex, gear: Gear, legGu: number): readonly FormUnit[] | null => {
  if (!isWhole(plan, v, gear)) return null;
  return legsAt(gear, v.deflectionDeg).find((l) => l.legGu === legGu)?.items ?? null;
};

/** The corner unit of every course at a salient vertex; null where none stands. */
export const outsideItems = (v: Vertex, gear: Gear): readonly FormUnit[] | null =>
  isBend(v.deflectionDeg) ? null : (outsideAt(gear, v.deflectionDeg)?.items ?? null);

/** The strip of timber over a vertex of a bend; null where none closes it. */
const bendStrip = (plan: FacePlan, v: Vertex, gear: Gear, solved: SolvedPlan): CornerPiece | null => {
  const covers = v.arms.map((a) => {
    const s = Math.round(a.stationMm / gear.gridMm);
    const e = s + a.direction * taperedReach(solved, a.wall, v.id);
    return { wall: a.wall, side: a.side, fromGu: Math.min(s, e), toGu: Math.max(s, e) };
  });
  const depthGu = solved.runs[0]?.model.ctx.frameDepthGu ?? 0;
  if (covers.some((c) => c.toGu === c.fromGu)) return null;
  const edgesMm = covers.map((c, i) => (v.arms[i]!.direction === 1 ? c.toGu : c.fromGu) * gear.gridMm);
  const taper = bendTaper(plan, v, [edgesMm[0]!, edgesMm[1]!], depthGu * gear.gridMm);
  return { kind: 'timber', items: Array<string | null>(gear.courses).fill(null), covers, taper };
};

/** The piece at a vertex; null where none stands, or where the yard has none (said by the end that needs it). */
export const cornerPiece = (plan: FacePlan, v: Vertex, gear: Gear, solved: SolvedPlan): CornerPiece | null => {
  if (isBend(v.deflectionDeg)) return bendStrip(plan, v, gear, solved);
  if (v.kind === 'salient') {
    const outside = outsideItems(v, gear);
    return outside && { kind: 'outside-corner', items: outside.map((u) => u.id), covers: [] };
  }
  const legGu = solved.legOf(v.id);
  const items = cornerItems(plan, v, gear, legGu);
  if (!items && (legGu !== TAPERED_GU || !isWhole(plan, v, gear))) return null;
  const covers = v.arms.map((a) => {
    const s = Math.round(a.stationMm / gear.gridMm);
    const e = s + a.direction * (legGu === TAPERED_GU ? taperedReach(solved, a.wall, v.id) : legGu);
    const face = a.face === undefined ? {} : { face: a.face };
    return { wall: a.wall, side: a.side, ...face, fromGu: Math.min(s, e), toGu: Math.max(s, e) };
  });
  if (items) return { kind: items[0]!.kind as PieceKind, items: items.map((u) => u.id), covers };
  if (covers.every((c) => c.toGu === c.fromGu)) return null;
  return { kind: 'timber', items: Array<string | null>(gear.courses).fill(null), covers };
};
