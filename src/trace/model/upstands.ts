/** Concrete of the foundation that may want forms and is no wall: ground beams, upstands, walls of other kinds. They are listed, not taken. */

import type { Model, ModelElement } from '../../ground/vocabulary.js';
import type { Measurer } from './bodies.js';
import { concreteOf } from './concrete.js';
import type { Matcher } from './patterns.js';
import { thicknessOfPlan } from './planThickness.js';
import { isNamed, SLEEVE } from './words.js';

export interface Upstand {
  readonly element: ModelElement;
  /** 'a footing beam'. */
  readonly what: string;
}

/** What is lower needs no forms of this kind. *Practice, no source.* */
const HEIGHT_LEAST_MM = 300;
/** A footing or another element that is higher than this many times its width is of the shape of a wall. *Practice, no source.* */
const WALL_SHAPE = 2;
/** Ground beams end this far over the base of the walls at most. */
const OVER_BASE_MM = 300;

const kindOf = (e: ModelElement, shape: { heightMm: number; widthMm: number }): string | null => {
  const isUpright = shape.heightMm > WALL_SHAPE * shape.widthMm;
  if (e.kind === 'footing') {
    if (e.predefinedType === 'FOOTING_BEAM') return 'a footing beam';
    return isUpright ? 'a footing of the shape of a wall' : null;
  }
  if (e.kind === 'beam') return 'a beam at the level of the foundation';
  const isWall = e.kind === 'other' && isUpright && !isNamed(e, SLEEVE);
  return isWall ? `concrete of the shape of a wall, modelled as ${e.entity}` : null;
};

/**
 * Those at the level of the walls taken, by the model's order.
 *
 * @param baseMm the highest base of the walls taken; null: none was taken, and the lowest of these stand for them
 * @param job the job file's concreteMaterials, null where it has none
 */
export const upstandsOf = (
  model: Model,
  isTaken: (id: string) => boolean,
  baseMm: number | null,
  job: Matcher | null,
  measuredWhole: Measurer,
): Upstand[] => {
  const shaped = model.elements.flatMap((element) => {
    const { kind } = element;
    if ((kind !== 'footing' && kind !== 'beam' && kind !== 'other') || isTaken(element.id)) return [];
    const concrete = concreteOf(element, job).is;
    if (concrete === 'other' || (kind === 'other' && concrete !== 'concrete')) return [];
    const m = measuredWhole(element);
    const heightMm = m.topMm - m.baseMm;
    if (m.bands.length === 0 || heightMm < HEIGHT_LEAST_MM) return [];
    const what = kindOf(element, { heightMm, widthMm: thicknessOfPlan(m.footprint) });
    return what === null ? [] : [{ element, what, m }];
  });
  const level = baseMm ?? Math.min(...shaped.map(({ m }) => m.topMm));
  return shaped
    .filter(({ element, m }) => (element.kind === 'beam' ? m.topMm : m.baseMm) <= level + OVER_BASE_MM)
    .map(({ element, what }) => ({ element, what }));
};
