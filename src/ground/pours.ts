/** Which pour a wall, a piece or a tie stands in, where the job is poured in parts. */

import type { FacePlan, Piece, ScheduleRow } from './vocabulary.js';

/** The walls of a piece: those of the faces that it covers, else those that meet at its vertex or node. */
export const wallsOfPieces = (plan: FacePlan): ((piece: Piece) => readonly string[]) => {
  const wallOfFace = new Map(plan.faces.map((f) => [f.id, f.wall]));
  const wallsAt = new Map<string, readonly string[]>([
    ...plan.nodes.map((n) => [n.id, n.walls] as const),
    ...plan.vertices.map((v) => [v.id, v.arms.map((arm) => arm.wall)] as const),
  ]);
  return ({ covers, vertex, node }) => {
    const covered = covers.map((c) => wallOfFace.get(c.face) ?? '');
    if (covered.length > 0) return covered;
    const met = wallsAt.get(vertex ?? '') ?? [];
    return met.length > 0 ? met : (wallsAt.get(node ?? '') ?? []);
  };
};

/**
 * The pours that walls stand in, each once, in the order of pouring; `null` alone where everything is poured at once. What stands at a corner between two
 * pours is needed in both.
 */
export const poursOfWalls = (plan: FacePlan): ((walls: readonly string[]) => readonly (string | null)[]) => {
  const { pours } = plan;
  if (pours === undefined) return () => [null];
  const pourOf = new Map(plan.walls.map((w) => [w.id, w.pour]));
  return (walls) => {
    const own = new Set(walls.map((id) => pourOf.get(id)));
    return pours.filter((name) => own.has(name));
  };
};

/** The most of a row that is needed at one time: what the yard has to have. */
export const atOnce = ({ count, inPours }: ScheduleRow): number =>
  inPours === undefined ? count : Math.max(0, ...inPours.map((p) => p.count));

/** How many of a row the yard lacks. */
export const shortOf = (row: ScheduleRow): number => (row.stock === null ? 0 : Math.max(0, atOnce(row) - row.stock));
