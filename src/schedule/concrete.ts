/**
 * Volume of concrete. Where all walls share their levels it is the area of the plan outline times the height. Otherwise each wall is taken with
 * the body between its own faces: a mitred quadrilateral at corners (from the re-entrant to the salient vertex), a stem from the through wall's
 * face on, a pilaster by itself. These bodies tile the outline, so that each junction counts once. Own derivation; the tests hold the two ways against each other.
 */

import { endStationMm } from '../ground/arcs.js';
import type { Vec } from '../ground/plane.js';
import type { FacePlan, Side, Wall } from '../ground/vocabulary.js';
import { levelStretches } from './bands.js';

/** Signed area of a ring, anticlockwise positive (shoelace formula). */
export const ringArea = (ring: readonly Vec[]): number => {
  let twice = 0;
  ring.forEach((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    twice += p.x * q.y - q.x * p.y;
  });
  return twice / 2;
};

/** Outer rings less holes, mm2. */
export const outlineAreaMm2 = (plan: FacePlan): number =>
  Math.abs(plan.concrete.reduce((sum, ring) => sum + ringArea(ring), 0));

/** The convex ring's part at or beyond (`sign` 1) or before (`sign` -1) x = `at`; one step of Sutherland and Hodgman's clipping (1974). */
const clipAt = (ring: readonly Vec[], at: number, sign: 1 | -1): readonly Vec[] => {
  const inside = (p: Vec) => sign * (p.x - at) >= 0;
  return ring.flatMap((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    const kept = inside(p) ? [p] : [];
    if (inside(p) === inside(q)) return kept;
    const t = (at - p.x) / (q.x - p.x);
    return [...kept, { x: at, y: p.y + t * (q.y - p.y) }];
  });
};

/** From the lowest to the highest station of the faces of one side, or null if that side has none. */
const sideExtent = (plan: FacePlan, wall: Wall, side: Side): readonly [number, number] | null => {
  const faces = plan.faces.filter((f) => f.wall === wall.id && f.side === side);
  if (faces.length === 0) return null;
  return [Math.min(...faces.map((f) => f.fromMm)), Math.max(...faces.map((f) => f.toMm))];
};

/** The wall's body in its own axes: x station, y offset to the left. */
const wallBody = (plan: FacePlan, wall: Wall): readonly Vec[] => {
  const own: readonly [number, number] = [0, wall.lengthMm];
  const left = sideExtent(plan, wall, 'left') ?? own;
  const right = sideExtent(plan, wall, 'right') ?? own;
  const half = wall.thicknessMm / 2;
  return [
    { x: right[0], y: -half },
    { x: right[1], y: -half },
    { x: left[1], y: half },
    { x: left[0], y: half },
  ];
};

/** Area of the wall's body, mm2; of a curved one its axis times its thickness, which is exact. */
export const wallBodyAreaMm2 = (plan: FacePlan, wall: Wall): number =>
  wall.arc ? wall.lengthMm * wall.thicknessMm : Math.abs(ringArea(wallBody(plan, wall)));

/** Volume of one wall's body by its levels, mm3. */
export const wallVolumeMm3 = (plan: FacePlan, wall: Wall): number => {
  if (wall.arc) {
    const endMm = endStationMm(wall);
    const heights = levelStretches(wall, 0, endMm).map((s) => ((s.toMm - s.fromMm) / endMm) * (s.topMm - s.footingMm));
    return wallBodyAreaMm2(plan, wall) * heights.reduce((a, b) => a + Math.max(0, b), 0);
  }
  const body = wallBody(plan, wall);
  const stations = body.map((p) => p.x);
  return levelStretches(wall, Math.min(...stations), Math.max(...stations)).reduce((sum, s) => {
    const part = clipAt(clipAt(body, s.fromMm, 1), s.toMm, -1);
    return sum + Math.abs(ringArea(part)) * Math.max(0, s.topMm - s.footingMm);
  }, 0);
};

/** The height that all walls share, or null. */
const commonHeightMm = (plan: FacePlan): number | null => {
  const footings = new Set(plan.walls.flatMap((w) => w.base.map((b) => b.levelMm)));
  const tops = new Set(plan.walls.flatMap((w) => w.top.map((b) => b.levelMm)));
  if (footings.size !== 1 || tops.size !== 1) return null;
  return Math.max(0, [...tops][0]! - [...footings][0]!);
};

const pilastersMm3 = ({ runs }: FacePlan): number =>
  runs.reduce((sum, { topMm, footingMm, pilasters = [] }) => {
    const areas = pilasters.map((p) => (p.toMm - p.fromMm) * p.projectionMm);
    return sum + areas.reduce((a, b) => a + b, 0) * Math.max(0, topMm - footingMm);
  }, 0);

/** Volume wall by wall, mm3: for any levels. */
export const volumeByWallsMm3 = (plan: FacePlan): number =>
  plan.walls.reduce((sum, wall) => sum + wallVolumeMm3(plan, wall), pilastersMm3(plan));

/** Volume of all walls, mm3, gross of openings. */
export const concreteMm3 = (plan: FacePlan): number => {
  const heightMm = commonHeightMm(plan);
  return heightMm === null ? volumeByWallsMm3(plan) : outlineAreaMm2(plan) * heightMm;
};
