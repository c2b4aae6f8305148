/** Looks up what a plan has by id and by wall. Made once for a plan; a plan is never changed. */

import { listsBy } from './groups.js';
import type { Face, FacePlan, PlanNode, Run, Vertex, Wall } from './vocabulary.js';

export interface PlanIndex {
  readonly walls: ReadonlyMap<string, Wall>;
  readonly nodes: ReadonlyMap<string, PlanNode>;
  readonly faces: ReadonlyMap<string, Face>;
  readonly vertices: ReadonlyMap<string, Vertex>;
  /** In the plan's order. */
  readonly facesOfWall: (wall: string) => readonly Face[];
  readonly runsOfWall: (wall: string) => readonly Run[];
  readonly verticesAtNode: (node: string | undefined) => readonly Vertex[];
  /** Vertices of which an arm lies on a face of this wall. */
  readonly verticesOfWall: (wall: string) => readonly Vertex[];
}

/** By id, the first of those that share one. */
const byId = <T extends { readonly id: string }>(items: readonly T[]): Map<string, T> =>
  new Map([...items].reverse().map((item) => [item.id, item]));

const indexOf = (plan: FacePlan): PlanIndex => {
  const faces = listsBy(plan.faces, (f) => f.wall);
  const runs = listsBy(plan.runs, (r) => r.wall);
  const vertices = listsBy(plan.vertices, (v) => v.node);
  const arms = plan.vertices.flatMap((vertex) =>
    [...new Set(vertex.arms.map((arm) => arm.wall))].map((wall) => ({ wall, vertex })),
  );
  const ofWall = listsBy(arms, (a) => a.wall);
  return {
    walls: byId(plan.walls),
    nodes: byId(plan.nodes),
    faces: byId(plan.faces),
    vertices: byId(plan.vertices),
    facesOfWall: (wall) => faces.get(wall) ?? [],
    runsOfWall: (wall) => runs.get(wall) ?? [],
    verticesAtNode: (node) => (node === undefined ? [] : (vertices.get(node) ?? [])),
    verticesOfWall: (wall) => (ofWall.get(wall) ?? []).map((a) => a.vertex),
  };
};

const known = new WeakMap<FacePlan, PlanIndex>();

export const planIndex = (plan: FacePlan): PlanIndex => {
  const found = known.get(plan);
  if (found) return found;
  const made = indexOf(plan);
  known.set(plan, made);
  return made;
};
