/** What stands at a vertex of the concrete: the corner unit of every course, or the timber in its place. */

import { BEND_MOST_DEG } from '../ground/cornerAngles.js';
import type { FacePlan, PieceKind, Side, Vertex } from '../ground/vocabulary.js';
import { TAPERED_GU } from './cornerEnds.js';
import { type Gear, legsAt, outsideAt } from './gear.js';
import type { SolvedPlan } from './plan.js';

export interface CornerPiece {
  readonly kind: PieceKind;
  /** By course; null: timber. */
  readonly items: readonly (string | null)[];
  readonly covers: readonly {
    readonly wall: string;
    readonly side: Side;
    readonly fromGu: number;
    readonly toGu: number;
  }[];
}

/** How far the tapered strip at a vertex reaches along a wall, as the wall's end zone has it. */
const taperedReach = (solved: SolvedPlan, wall: string, vertex: string): number => {
  const own = solved.runs.filter((r) => r.model.ctx.run.wall === wall);
  const ends = own.flatMap((run) => [run.zones[0]?.start, run.zones[run.zones.length - 1]?.end]);
  const legs = ends.flatMap((b) => (b ? [...b.left.legs, ...b.right.legs] : []));
  const leg = legs.find((l) => l.vertex === vertex);
  return leg ? leg.toGu - leg.fromGu : 0;
};

/** The piece at a vertex; null where none stands: on the outside of a bend, or where the yard has none (said by the end that needs it). */
export const cornerPiece = (plan: FacePlan, v: Vertex, gear: Gear, solved: SolvedPlan): CornerPiece | null => {
  if (v.kind === 'salient') {
    const outside = v.deflectionDeg < BEND_MOST_DEG ? null : outsideAt(gear, v.deflectionDeg);
    return outside && { kind: 'outside-corner', items: outside.items.map((u) => u.id), covers: [] };
  }
  const legGu = solved.legOf(v.id);
  // A junction of which one corner has no unit is not laid out as a whole.
  const beside = plan.vertices.filter((x) => x.node === v.node && x.kind === 're-entrant' && x !== v);
  if (beside.some((x) => legsAt(gear, x.deflectionDeg).length === 0)) return null;
  const leg = legsAt(gear, v.deflectionDeg).find((l) => l.legGu === legGu);
  if (!leg && legGu !== TAPERED_GU) return null;
  const covers = v.arms.map((a) => {
    const s = Math.round(a.stationMm / gear.gridMm);
    const e = s + a.direction * (legGu === TAPERED_GU ? taperedReach(solved, a.wall, v.id) : legGu);
    return { wall: a.wall, side: a.side, fromGu: Math.min(s, e), toGu: Math.max(s, e) };
  });
  if (leg) return { kind: leg.items[0]!.kind as PieceKind, items: leg.items.map((u) => u.id), covers };
  if (covers.every((c) => c.toGu === c.fromGu)) return null;
  return { kind: 'timber', items: Array<string | null>(gear.courses).fill(null), covers };
};
