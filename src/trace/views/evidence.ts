/** What a view holds that speaks for the foundation, and in which proportion it is drawn. */

import type { DrawingDimension, DrawingPath, DrawingText } from '../../ground/vocabulary.js';
import type { LayerKind } from '../layers.js';
import { readLength } from '../lengthText.js';

export interface ViewEvidence {
  /** Length of linework on layers whose names say foundation or footing, drawing units. */
  readonly foundation: number;
  /** On layers whose names say wall of any kind, foundations included. */
  readonly named: number;
  /** On layers that are no dimensions, doors and the like by their names. */
  readonly any: number;
  /** Texts that speak of footings and foundation walls. */
  readonly words: number;
}

const FOUNDATION_KINDS: ReadonlySet<LayerKind> = new Set(['foundation-wall', 'foundation', 'footing']);
const NAMED_KINDS: ReadonlySet<LayerKind> = new Set([
  'foundation-wall',
  'structural-wall',
  'foundation',
  'concrete',
  'wall',
  'footing',
]);

/** Words of foundation plans: footings, tops of walls, stem walls (SEEN and MEMORY forms of the note texts; other languages: common words). */
const SPEAKS =
  /\b(footings?|ftg|t\.?o\.?w|t\/w(all)?|t\.?\s?o\.?\s?f|b\.?\s?o\.?\s?f|b\/ftg|t\/ftg|stem ?walls?|found(ation)?|fdn|thk|step(ped)? (ftg|footing))\b|fundament|fundering|semelle|fondation|zapata|cimentaci|fondazion|плита|фундамент/iu;

const lengthOf = (p: DrawingPath): number => {
  let sum = 0;
  const edges = p.closed ? p.vertices.length : p.vertices.length - 1;
  for (let i = 0; i < edges; i++) {
    const q = p.vertices[i]!;
    const r = p.vertices[(i + 1) % p.vertices.length]!;
    const l = Math.hypot(r.x - q.x, r.y - q.y);
    if (Number.isFinite(l)) sum += l;
  }
  return sum;
};

export const measureEvidence = (
  paths: readonly DrawingPath[],
  texts: readonly DrawingText[],
  kindOf: (layer: string) => LayerKind,
): ViewEvidence => {
  let foundation = 0;
  let named = 0;
  let any = 0;
  for (const p of paths) {
    const kind = kindOf(p.layer);
    // Hatched walls may be all that there is of them; other fills say nothing.
    if (p.fill !== null && !NAMED_KINDS.has(kind)) continue;
    const length = lengthOf(p);
    if (FOUNDATION_KINDS.has(kind)) foundation += length;
    if (NAMED_KINDS.has(kind)) named += length;
    if (kind !== 'other') any += length;
  }
  return { foundation, named, any, words: texts.filter((t) => SPEAKS.test(t.text)).length };
};

/** Dimensions that must agree, and how far. */
const DIMENSIONS_LEAST = 2;
const AGREE_SHARE = 0.6;
const AGREE_WITHIN = 0.03;

/**
 * What the dimensions of a view say over what they measure, in mm (or the bare number) per drawing unit; null when fewer than two
 * speak or no proportion holds for most of them.
 */
export const drawnFactor = (dimensions: readonly DrawingDimension[]): number | null => {
  const factors = dimensions
    .flatMap((d) => {
      const value = d.text === null ? undefined : readLength(d.text)?.values.find((v) => v > 0);
      return value === undefined || !(d.measured > 0) ? [] : [value / d.measured];
    })
    .sort((a, b) => a - b);
  const middle = factors[Math.floor(factors.length / 2)];
  if (middle === undefined) return null;
  const agreeing = factors.filter((f) => Math.abs(f - middle) <= AGREE_WITHIN * middle).length;
  return agreeing >= Math.max(DIMENSIONS_LEAST, AGREE_SHARE * factors.length) ? middle : null;
};
