/** What walls stand on: footings, rafts, and walls that are footings by name or shape. Contact of a wall with what is under it. */

import { compareText } from '../../ground/order.js';
import type { Model, ModelElement } from '../../ground/vocabulary.js';
import type { Measured, Measurer } from './bodies.js';
import { boxGrid } from './boxGrid.js';
import { thicknessOfPlan } from './planThickness.js';
import { areaOf, difference, intersection, type Region, union } from './region.js';
import { FOOTING, isNamed, RAFT } from './words.js';

export interface Support {
  readonly kind: 'footing' | 'slab';
  readonly measured: Measured;
  /** Its flat tops, highest first: what of each section lies open above. */
  readonly shelves: readonly Shelf[];
}

export interface Shelf {
  readonly topMm: number;
  readonly plan: Region;
}

/** How a wall stands on a support: the wall's base over the support's top; negative: reaching into it. */
export interface Contact {
  readonly support: Support;
  readonly shelf: Shelf;
  /**
   * 'on': the wall's base is at the support's top or within its depth. 'through': the wall goes on below the support. 'crossed': by so much that the
   * support hardly carries it. 'clear': the wall hangs over it.
   */
  readonly how: 'on' | 'through' | 'crossed' | 'clear';
  readonly gapMm: number;
  readonly areaMm2: number;
}

/** A wall up to this far over a footing is meant to stand on it: blinding, bedding, sloppy levels. *Practice, no source.* */
const GAP_MOST_MM = 150;
/** What lies deeper under a wall has nothing to do with it. *Practice, no source.* */
const CLEAR_MOST_MM = 3000;
/** A wall that goes on further below a support is not carried by it: a strip beside a basement wall. As deep as footings step. *Practice, no source.* */
const THROUGH_MOST_MM = 1500;
/** And this share of its plan stands over it. */
const OVER_LEAST = 0.02;
/** Smaller shelves carry nothing: 0.01 m2. */
const SHELF_LEAST_MM2 = 10_000;
/** A "wall" whose plan is wider than this many times its height is a footing. *Practice, no source.* */
const FOOTING_SHAPE = 1.3;
/** A wall called a footing, and lower than this many times its width, is one. *Practice, no source.* */
const FOOTING_NAMED_SHAPE = 2;

/** Is this wall a footing? In a few words why, or null. */
export const footingAsWall = (m: Measured): string | null => {
  if (m.bands.length === 0) return null;
  const width = thicknessOfPlan(m.footprint);
  const height = m.topMm - m.baseMm;
  const size = `${Math.round(width)} mm wide and ${Math.round(height)} mm high`;
  if (width > FOOTING_SHAPE * height) return `a footing by its shape: ${size}`;
  const named = isNamed(m.element, FOOTING) && height < FOOTING_NAMED_SHAPE * width;
  return named ? `a footing by name and shape: ${size}` : null;
};

const isRaft = (e: ModelElement): boolean => e.kind === 'slab' && (e.predefinedType === 'BASESLAB' || isNamed(e, RAFT));

export const asSupport = (kind: Support['kind'], measured: Measured): Support => ({
  kind,
  measured,
  shelves: shelvesOf(measured),
});

/** Faces that slope are no shelf. */
const shelvesOf = (measured: Measured): Shelf[] => {
  const { bands } = measured;
  const last = bands.length - 1;
  const shelves: Shelf[] = [{ topMm: bands[last]!.toMm, plan: bands[last]!.region }];
  let above = bands[last]!.region;
  for (let i = last - 1; i >= 0; i--) {
    const { group, region, toMm } = bands[i]!;
    const slopes = bands.some((b, k) => k !== i && b.group === group);
    const plan = slopes ? [] : difference(region, above);
    if (areaOf(plan) > SHELF_LEAST_MM2) shelves.push({ topMm: toMm, plan });
    above = union(above, region);
  }
  return shelves;
};

/** Footings and rafts of the model, and those that have no body to stand on. */
export const supportsOf = (
  model: Model,
  measuredWhole: Measurer,
): { readonly supports: Support[]; readonly bodiless: ModelElement[] } => {
  const supports: Support[] = [];
  const bodiless: ModelElement[] = [];
  for (const e of model.elements) {
    const kind = e.kind === 'footing' ? 'footing' : isRaft(e) ? 'slab' : null;
    if (kind === null) continue;
    const measured = measuredWhole(e);
    if (measured.bands.length === 0) bodiless.push(e);
    else supports.push(asSupport(kind, measured));
  }
  return { supports, bodiless };
};

const HOWS: readonly Contact['how'][] = ['on', 'through', 'crossed', 'clear'];

const howOf = (gapMm: number, belowMm: number): Contact['how'] => {
  if (gapMm > GAP_MOST_MM) return 'clear';
  if (belowMm <= GAP_MOST_MM) return 'on';
  return belowMm <= THROUGH_MOST_MM ? 'through' : 'crossed';
};

/** Says how a wall stands on supports: those under it or that it reaches into; what it stands on first, of those the one that carries most. */
export const contactsWith = (supports: readonly Support[]): ((wall: Measured) => Contact[]) => {
  const near = boxGrid(supports, (s) => s.measured.box);
  return (wall) =>
    near(wall.box)
      .flatMap((support) =>
        support.shelves.flatMap((shelf): Contact[] => {
          const gapMm = wall.baseMm - shelf.topMm;
          if (gapMm > CLEAR_MOST_MM || wall.topMm <= shelf.topMm) return [];
          const areaMm2 = areaOf(intersection(wall.footprint, shelf.plan));
          if (areaMm2 < OVER_LEAST * areaOf(wall.footprint)) return [];
          const how = howOf(gapMm, support.measured.baseMm - wall.baseMm);
          return [{ support, shelf, how, gapMm, areaMm2 }];
        }),
      )
      .sort(
        (p, q) =>
          HOWS.indexOf(p.how) - HOWS.indexOf(q.how) ||
          q.areaMm2 - p.areaMm2 ||
          compareText(p.support.measured.element.id, q.support.measured.element.id) ||
          q.shelf.topMm - p.shelf.topMm,
      );
};

/** Does it carry the wall, or was meant to? */
export const carries = (c: Contact): boolean => c.how === 'on' || c.how === 'through';
