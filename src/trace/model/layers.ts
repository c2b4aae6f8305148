/** Which solids of a layered wall are its concrete, where the file names the layers but not the solids: by thickness, then by their order across the wall. */

import type { Vec } from '../../ground/plane.js';
import type { BodySolid, ModelElement } from '../../ground/vocabulary.js';
import { bandsOf, planOf, usableSolids } from './bodies.js';
import type { Concrete } from './concrete.js';
import { thicknessOfPlan } from './planThickness.js';
import { boxOfRegion, type Region, ringsOf, union } from './region.js';

/** A solid is of a layer when it is as thick within this. */
const SAME_THICK_MM = 2;
/** More solids are no layers. */
const LAYERS_MOST = 12;

const isAs = (thickMm: number, layerMm: number | null): boolean =>
  layerMm !== null && Math.abs(thickMm - layerMm) <= SAME_THICK_MM;

/** Square to the longest edge of a plan. */
const acrossOf = (region: Region): Vec => {
  let [longest, across] = [0, { x: 0, y: 1 }];
  for (const ring of ringsOf(region))
    ring.forEach((p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      const size = Math.hypot(q.x - p.x, q.y - p.y);
      if (size > longest) [longest, across] = [size, { x: -(q.y - p.y) / size, y: (q.x - p.x) / size }];
    });
  return across;
};

const lowestAlong = (region: Region, d: Vec): number =>
  Math.min(...ringsOf(region).flatMap((ring) => ring.map((p) => p.x * d.x + p.y * d.y)));

/** The concrete's solids; null: nothing tells. */
const matched = (e: ModelElement, others: readonly string[], origin: Vec): readonly BodySolid[] | null => {
  const layers = e.materials;
  if (e.body.length !== layers.length || e.body.length > LAYERS_MOST) return null;
  const isCast = (i: number) => !others.includes(layers[i]!.name);
  const seen = e.body.map((body) => {
    const plan = planOf(bandsOf(usableSolids([body], origin), origin).bands);
    return { body, plan, thickMm: thicknessOfPlan(plan) };
  });
  if (seen.some((s) => boxOfRegion(s.plan) === null)) return null;
  // Each solid is as thick as some layer, and all that are so thick are concrete, or none is.
  const kinds = seen.map((s) => new Set(layers.flatMap((l, i) => (isAs(s.thickMm, l.thicknessMm) ? [isCast(i)] : []))));
  if (kinds.every((k) => k.size === 1)) {
    const cast = seen.filter((_, i) => kinds[i]!.has(true));
    return cast.length === layers.filter((_, i) => isCast(i)).length ? cast.map((s) => s.body) : null;
  }
  const across = acrossOf(union(...seen.map((s) => s.plan)));
  const order = [...seen].sort((p, q) => lowestAlong(p.plan, across) - lowestAlong(q.plan, across));
  const ways = [order, [...order].reverse()].filter((way) =>
    way.every((s, i) => isAs(s.thickMm, layers[i]!.thicknessMm)),
  );
  const casts = ways.map((way) => way.filter((_, i) => isCast(i)).map((s) => s.body));
  const [first, second] = casts;
  if (first === undefined || (second && first.some((b) => !second.includes(b)))) return null;
  return e.body.filter((b) => first.includes(b));
};

/** Takes the concrete's solids alone where they can be told from the others; where not, it says so. */
export const withLayers = (e: ModelElement, concrete: Concrete, origin: Vec): Concrete => {
  const untold = e.body.length > 1 && e.body.every((b) => b.material === null);
  if (concrete.is !== 'concrete' || !concrete.isWhole || concrete.others.length === 0 || !untold) return concrete;
  const body = matched(e, concrete.others, origin);
  return body === null || body.length === 0 ? concrete : { ...concrete, body, isWhole: false };
};
