/** What stands around the walls taken: outlines for the drawing, bars and obstacles for the ties, columns in the line of a wall. Local mm in plan. */

import { compareText } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import { roundTo } from '../../ground/units.js';
import type { Model, ModelBar, ModelElement, ModelOutline, Obstacle, Solid, Vec3 } from '../../ground/vocabulary.js';
import { bandsOf, type Measured, type Measurer, planOf, usableSolids } from './bodies.js';
import { boxGrid } from './boxGrid.js';
import type { Chosen } from './choose.js';
import { concreteOf } from './concrete.js';
import type { OpeningNote } from './openingKinds.js';
import type { Matcher } from './patterns.js';
import { bodyRing, seenFrom } from './plan.js';
import { areaOf, type Box, boxOfRegion, enclosed, grown, intersection, type Region, ringsOf } from './region.js';
import { outward } from './space.js';
import { trianglesOf } from './triangles.js';
import type { StretchLevels } from './wallLevels.js';
import { isNamed, SLEEVE } from './words.js';

/** Slabs and walls left out are drawn when they come this near to a wall taken. */
const NEAR_MM = 500;
/** And share this much of its height with it, or stand under it within as much. */
const BESIDE_MM = 300;
const outlineOf = (
  id: string,
  kind: ModelOutline['kind'],
  region: Region,
  levels: { readonly baseMm: number; readonly topMm: number },
  origin: Vec,
): ModelOutline => ({
  id,
  kind,
  rings: ringsOf(region).map((ring) => ring.map((p) => outward(p, origin))),
  baseMm: roundTo(levels.baseMm, 3),
  topMm: roundTo(levels.topMm, 3),
});

/** Says whether points (world) come into the body of a stretch between its base and top. */
const reachIntoWalls = (all: readonly StretchLevels[], origin: Vec): ((points: readonly Vec3[]) => boolean) => {
  const near = boxGrid(all, (s) => boxOfRegion(enclosed([bodyRing(s.of.axis)])));
  return (points) => {
    const finite = points.filter((p) => Number.isFinite(p.x) && Number.isFinite(p.y) && Number.isFinite(p.z));
    if (finite.length === 0) return false;
    const local = finite.map((p) => ({ x: p.x - origin.x, y: p.y - origin.y }));
    let box: Box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
    let [low, high] = [Infinity, -Infinity];
    local.forEach((p, i) => {
      box = {
        x0: Math.min(box.x0, p.x),
        y0: Math.min(box.y0, p.y),
        x1: Math.max(box.x1, p.x),
        y1: Math.max(box.y1, p.y),
      };
      low = Math.min(low, finite[i]!.z);
      high = Math.max(high, finite[i]!.z);
    });
    return near(box).some((s) => {
      const seen = local.map((p) => seenFrom(s.of.axis, p));
      const us = seen.map((p) => p.u);
      const vs = seen.map((p) => p.v);
      const base = Math.min(...s.levels.map((l) => l.baseMm));
      const top = Math.max(...s.levels.map((l) => l.topMm));
      const span = (values: number[], a: number, b: number) => {
        let [least, most] = [Infinity, -Infinity];
        for (const v of values) {
          if (v < least) least = v;
          if (v > most) most = v;
        }
        return least <= b && most >= a;
      };
      const half = s.of.axis.halfMm;
      return span(us, 0, s.of.axis.lengthMm) && span(vs, -half, half) && low <= top && high >= base;
    });
  };
};

const isObstacle = (e: ModelElement): boolean =>
  e.kind === 'service' || (e.kind === 'other' && (e.predefinedType === 'PROVISIONFORVOID' || isNamed(e, SLEEVE)));

const whatOf = (e: ModelElement): string => (isNamed(e, /sleeve|mantelbuis|hülse|fourreau/iu) ? 'sleeve' : e.entity);

/** An obstacle with the solids that it is of, in the model's axes. */
export interface ObstacleBody {
  readonly obstacle: Obstacle;
  readonly solids: readonly Solid[];
}

/** Services, sleeves and small openings that reach into the walls. */
export const obstaclesOf = (
  model: Model,
  notes: readonly OpeningNote[],
  all: readonly StretchLevels[],
  origin: Vec,
): ObstacleBody[] => {
  const reaches = reachIntoWalls(all, origin);
  const services = model.elements.filter(isObstacle).flatMap((e): ObstacleBody[] => {
    const solids = usableSolids(e.body, origin);
    const shape = trianglesOf(solids);
    return reaches(shape.points) ? [{ obstacle: { id: e.id, name: e.name, what: whatOf(e), ...shape }, solids }] : [];
  });
  const small = notes.filter((n) => n.kind === 'small');
  const openings = [...new Set(small.map((n) => n.id))].map((id): ObstacleBody => {
    const own = small.filter((n) => n.id === id);
    const { what, name } = own[0]!.clearOf;
    const solids = own.flatMap((n) => n.clearOf.solids);
    return { obstacle: { id, name, what, ...trianglesOf(solids) }, solids };
  });
  return [...services, ...openings].sort((p, q) => compareText(p.obstacle.id, q.obstacle.id));
};

/** Bars that lie in the walls, wholly or in part. */
export const barsIn = (model: Model, all: readonly StretchLevels[], origin: Vec): ModelBar[] => {
  const reaches = reachIntoWalls(all, origin);
  return model.bars
    .filter((b) => b.path.slice(1).some((p, i) => reaches([b.path[i]!, p])))
    .sort((p, q) => compareText(p.id, q.id));
};

export interface ColumnInWall {
  readonly measured: Measured;
  readonly wall: string;
  readonly at: Vec;
}

/** Concrete columns that stand in walls taken or against them, over a part of their height; `job`: the job file's concreteMaterials. */
export const columnsAt = (
  model: Model,
  chosen: Chosen,
  job: Matcher | null,
  measuredWhole: Measurer,
): ColumnInWall[] => {
  const takenIds = new Set(chosen.taken.map((t) => t.measured.element.id));
  const near = boxGrid(chosen.taken, (t) => t.measured.box);
  const touching: ColumnInWall[] = [];
  for (const e of model.elements) {
    if (e.kind !== 'column' || takenIds.has(e.id) || concreteOf(e, job).is === 'other') continue;
    const measured = measuredWhole(e);
    const reach = grown(measured.footprint, 2);
    const wall = near(measured.box, 2).find(
      (t) =>
        measured.baseMm < t.measured.topMm - BESIDE_MM &&
        measured.topMm > t.measured.baseMm + BESIDE_MM &&
        areaOf(intersection(reach, t.measured.footprint)) > 0,
    );
    const { box } = measured;
    if (!wall || !box) continue;
    const at = { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 };
    touching.push({ measured, wall: wall.measured.element.id, at });
  }
  return touching;
};

/** Outlines for the drawing, by kind and GlobalId. */
export const outlinesOf = (
  model: Model,
  chosen: Chosen,
  columns: readonly ColumnInWall[],
  obstacles: readonly ObstacleBody[],
  measuredWhole: Measurer,
  origin: Vec,
): ModelOutline[] => {
  const near = boxGrid(chosen.taken, (t) => t.measured.box);
  const beside = (m: Measured): boolean =>
    near(m.box, NEAR_MM).some(
      (t) => m.topMm > t.measured.baseMm - BESIDE_MM && m.baseMm < t.measured.topMm - BESIDE_MM,
    );
  const supports = new Set(chosen.supports.map((s) => s.measured.element.id));
  const ofElements = (kind: ModelOutline['kind'], list: readonly Measured[]) =>
    list.map((m) => outlineOf(m.element.id, kind, m.footprint, m, origin));
  const slabs = model.elements
    .filter((e) => e.kind === 'slab' && !supports.has(e.id))
    .map(measuredWhole)
    .filter((m) => m.bands.length > 0 && beside(m));
  const obstacleOutlines = obstacles.flatMap(({ obstacle, solids }): ModelOutline[] => {
    const { bands } = bandsOf(solids, origin);
    const [first, last] = [bands[0], bands[bands.length - 1]];
    if (!first || !last) return [];
    return [outlineOf(obstacle.id, 'obstacle', planOf(bands), { baseMm: first.fromMm, topMm: last.toMm }, origin)];
  });
  const all = [
    ...ofElements(
      'wall',
      chosen.taken.map((t) => t.measured),
    ),
    ...ofElements(
      'wall-left-out',
      chosen.left.map((l) => l.measured).filter((m) => m.bands.length > 0 && !supports.has(m.element.id) && beside(m)),
    ),
    ...chosen.supports
      .filter((s) => beside(s.measured))
      .map((s) => outlineOf(s.measured.element.id, s.kind, s.measured.footprint, s.measured, origin)),
    ...ofElements('slab', slabs),
    ...ofElements(
      'column',
      columns.map((c) => c.measured),
    ),
    ...obstacleOutlines,
  ];
  return all.sort((p, q) => compareText(p.kind, q.kind) || compareText(p.id, q.id));
};
