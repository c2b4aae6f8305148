/** The levels at which a solid changes: those of its corners, and where cutting planes meet its edges. Between two of them every section is alike in kind. */

import type { Mesh, Solid, Vec3 } from '../../ground/vocabulary.js';
import { meshOf } from './section.js';
import { dot3, leavesOf, outOf, straightOutline, sub3 } from './space.js';

/** Levels nearer than this are one. */
const SAME_LEVEL_MM = 1;
/** A body of more levels is cut at so many of them, evenly chosen. */
const LEVELS_MOST = 24;
/** Edges looked at for crossings with cutting planes, times planes. */
const CROSSINGS_MOST = 200_000;

const edgesOf = (mesh: Mesh): [Vec3, Vec3][] => {
  const out: [Vec3, Vec3][] = [];
  for (const face of mesh.faces)
    for (const loop of face)
      loop.forEach((number, i) => {
        const a = mesh.points[number];
        const b = mesh.points[loop[(i + 1) % loop.length]!];
        if (a && b) out.push([a, b]);
      });
  return out;
};

/** Sorted, each once, thinned where there are very many; the lowest and the highest always stay. */
const tidied = (levels: readonly number[]): number[] => {
  const sorted = Float64Array.from(levels).sort();
  const once: number[] = [];
  for (const level of sorted) if (once.length === 0 || level - once[once.length - 1]! > SAME_LEVEL_MM) once.push(level);
  // The highest stays what it is: what lies less than that under it goes with it.
  if (once.length > 1) once[once.length - 1] = sorted[sorted.length - 1]!;
  if (once.length <= LEVELS_MOST) return once;
  return Array.from({ length: LEVELS_MOST }, (_, i) => once[Math.round((i * (once.length - 1)) / (LEVELS_MOST - 1))]!);
};

/** Levels of the corners of several solids together, mm, ascending. */
export const levelsOf = (solids: readonly Solid[]): number[] => {
  const levels: number[] = [];
  for (const solid of solids) {
    const leaves = leavesOf(solid);
    const meshes = leaves.flatMap((leaf) => meshOf(leaf) ?? []);
    for (const mesh of meshes) for (const p of mesh.points) levels.push(p.z);
    const planes = leaves.flatMap((leaf) => (leaf.kind === 'half-space' ? [leaf] : []));
    if (planes.length === 0) continue;
    const edges = meshes.flatMap(edgesOf);
    let left = CROSSINGS_MOST;
    for (const plane of planes) {
      const side = (p: Vec3) => dot3(plane.normal, sub3(p, plane.origin));
      for (const [a, b] of edges) {
        if (--left < 0) break;
        const [s, t] = [side(a), side(b)];
        if (s < 0 !== t < 0) levels.push(a.z + ((b.z - a.z) * s) / (s - t));
      }
      if (plane.boundary === null || Math.abs(plane.normal.z) < 1e-9) continue;
      const { frame, outline } = plane.boundary;
      for (const corner of straightOutline(outline)) {
        const p = outOf(frame, corner);
        // Straight up or down from the corner onto the plane.
        levels.push(p.z - side(p) / plane.normal.z);
      }
    }
  }
  return tidied(levels.filter(Number.isFinite));
};
