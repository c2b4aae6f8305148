/** What walls stand on: footings, rafts, and walls that are footings by name or shape. Contact of a wall with what is under it. */

import type { Model, ModelElement } from '../../ground/vocabulary.js';
import { boxGrid } from './boxGrid.js';
import { type Measured, measure } from './bodies.js';
import type { Vec } from '../../ground/plane.js';
import { areaOf, intersection, type Region } from './region.js';
import { FOOTING, RAFT } from './words.js';

export interface Support {
  readonly kind: 'footing' | 'slab';
  readonly measured: Measured;
  /** Section just below its top. */
  readonly plan: Region;
}

/** How a wall stands on a support: the wall's base over the support's top; negative: reaching into it. */
export interface Contact {
  readonly support: Support;
  readonly gapMm: number;
  readonly areaMm2: number;
}

/** A wall up to this far over a footing is meant to stand on it: blinding, bedding, sloppy levels. *Practice, no source.* */
const GAP_MOST_MM = 150;
/** And this share of its plan stands over it. */
const OVER_LEAST = 0.02;
/** A "wall" whose plan is wider than this many times its height is a footing. *Practice, no source.* */
const FOOTING_SHAPE = 1.3;
/** A wall called a footing, and lower than this many times its width, is one. *Practice, no source.* */
const FOOTING_NAMED_SHAPE = 2;

const namesOf = (e: ModelElement): string => [e.typeName, e.objectType, e.name].filter((n) => n !== null).join('\n');

/** Thickness of a long body in plan: the least thickness that gives its area along its outline's half. */
export const thicknessOfPlan = (region: Region): number => {
  let around = 0;
  for (const ring of region)
    ring.forEach((p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      around += Math.hypot(q.X - p.X, q.Y - p.Y) / 10_000;
    });
  const half = around / 2;
  const area = areaOf(region);
  // Sides a and b of a rectangle: a + b = half, a b = area.
  return half === 0 ? 0 : (half - Math.sqrt(Math.max(0, half * half - 4 * area))) / 2;
};

/** Is this wall a footing? In a few words why, or null. */
export const footingAsWall = (m: Measured): string | null => {
  if (m.bands.length === 0) return null;
  const width = thicknessOfPlan(m.footprint);
  const height = m.topMm - m.baseMm;
  const size = `${Math.round(width)} mm wide and ${Math.round(height)} mm high`;
  if (width > FOOTING_SHAPE * height) return `a footing by its shape: ${size}`;
  const named = FOOTING.test(namesOf(m.element)) && height < FOOTING_NAMED_SHAPE * width;
  return named ? `a footing by name and shape: ${size}` : null;
};

const isRaft = (e: ModelElement): boolean =>
  e.kind === 'slab' && (e.predefinedType === 'BASESLAB' || RAFT.test(namesOf(e)));

export const asSupport = (kind: Support['kind'], measured: Measured): Support => ({
  kind,
  measured,
  plan: measured.bands[measured.bands.length - 1]!.region,
});

/** Footings and rafts of the model, and those that have no body to stand on. */
export const supportsOf = (
  model: Model,
  origin: Vec,
): { readonly supports: Support[]; readonly bodiless: ModelElement[] } => {
  const supports: Support[] = [];
  const bodiless: ModelElement[] = [];
  for (const e of model.elements) {
    const kind = e.kind === 'footing' ? 'footing' : isRaft(e) ? 'slab' : null;
    if (kind === null) continue;
    const measured = measure(e, e.body, origin, false);
    if (measured.bands.length === 0) bodiless.push(e);
    else supports.push(asSupport(kind, measured));
  }
  return { supports, bodiless };
};

/** Says how a wall stands on supports: those under it or that it reaches into, the one that carries most first. */
export const contactsWith = (supports: readonly Support[]): ((wall: Measured) => Contact[]) => {
  const near = boxGrid(supports, (s) => s.measured.box);
  return (wall) =>
    near(wall.box)
      .flatMap((support): Contact[] => {
        const { baseMm, topMm } = support.measured;
        const gapMm = wall.baseMm - topMm;
        if (gapMm > GAP_MOST_MM || wall.baseMm < baseMm - GAP_MOST_MM || wall.topMm <= topMm) return [];
        const areaMm2 = areaOf(intersection(wall.footprint, support.plan));
        return areaMm2 < OVER_LEAST * areaOf(wall.footprint) ? [] : [{ support, gapMm, areaMm2 }];
      })
      .sort(
        (p, q) => q.areaMm2 - p.areaMm2 || (p.support.measured.element.id < q.support.measured.element.id ? -1 : 1),
      );
};
