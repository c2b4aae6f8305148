/** Bodies as triangles, for what ties must not meet. Cuts and holes are not heeded: what is left out of a pipe is no way for a tie. */

import type { Vec } from '../../ground/plane.js';
import type { Solid, Vec3 } from '../../ground/vocabulary.js';
import { meshOf } from './section.js';
import { sub3 } from './space.js';

export interface Triangles {
  readonly points: readonly Vec3[];
  readonly triangles: readonly (readonly [number, number, number])[];
}

/** Loops of more corners are cut as fans: hostile ones would take too long. */
const CORNERS_MOST = 400;

/** The loop in the plane of two axes that shows it best. */
const flat = (points: readonly Vec3[], loop: readonly number[]): Vec[] => {
  let n = { x: 0, y: 0, z: 0 };
  const first = points[loop[0]!]!;
  loop.forEach((i, k) => {
    const a = sub3(points[i]!, first);
    const b = sub3(points[loop[(k + 1) % loop.length]!]!, first);
    n = { x: n.x + a.y * b.z - a.z * b.y, y: n.y + a.z * b.x - a.x * b.z, z: n.z + a.x * b.y - a.y * b.x };
  });
  const [ax, ay, az] = [Math.abs(n.x), Math.abs(n.y), Math.abs(n.z)];
  const on = (p: Vec3): Vec => {
    if (az >= ax && az >= ay) return { x: p.x, y: n.z < 0 ? -p.y : p.y };
    return ax >= ay ? { x: p.y, y: n.x < 0 ? -p.z : p.z } : { x: p.z, y: n.y < 0 ? -p.x : p.x };
  };
  return loop.map((i) => on(sub3(points[i]!, first)));
};

const turn = (a: Vec, b: Vec, c: Vec): number => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);

/** Ears of a simple loop cut one by one; of a crooked loop what is left becomes a fan. */
const ears = (at: readonly Vec[]): [number, number, number][] => {
  const left = at.map((_, i) => i);
  const out: [number, number, number][] = [];
  while (left.length > 3 && at.length <= CORNERS_MOST) {
    const k = left.findIndex((i, n) => {
      const [a, b] = [left[(n + left.length - 1) % left.length]!, left[(n + 1) % left.length]!];
      if (turn(at[a]!, at[i]!, at[b]!) <= 0) return false;
      return !left.some(
        (j) =>
          j !== a &&
          j !== i &&
          j !== b &&
          turn(at[a]!, at[i]!, at[j]!) >= 0 &&
          turn(at[i]!, at[b]!, at[j]!) >= 0 &&
          turn(at[b]!, at[a]!, at[j]!) >= 0,
      );
    });
    if (k < 0) break;
    out.push([left[(k + left.length - 1) % left.length]!, left[k]!, left[(k + 1) % left.length]!]);
    left.splice(k, 1);
  }
  for (let k = 1; k + 1 < left.length; k++) out.push([left[0]!, left[k]!, left[k + 1]!]);
  return out;
};

/** What a solid is made of, without what is taken away from it. */
const addedTo = (solid: Solid): Solid[] => {
  const out: Solid[] = [];
  const open = [solid];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (next.kind === 'union') open.push(next.second, next.first);
    else if (next.kind === 'difference' || next.kind === 'intersection') open.push(next.first);
    else out.push(next);
  }
  return out;
};

/** Triangles of solids; all numbers must be finite. */
export const trianglesOf = (solids: readonly Solid[]): Triangles => {
  const points: Vec3[] = [];
  const triangles: [number, number, number][] = [];
  for (const leaf of solids.flatMap(addedTo)) {
    const mesh = meshOf(leaf);
    if (!mesh) continue;
    const first = points.length;
    points.push(...mesh.points);
    for (const [outer] of mesh.faces) {
      const loop = outer?.filter((i) => mesh.points[i] !== undefined) ?? [];
      if (loop.length < 3) continue;
      for (const [a, b, c] of ears(flat(mesh.points, loop)))
        triangles.push([first + loop[a]!, first + loop[b]!, first + loop[c]!]);
    }
  }
  return { points, triangles };
};
