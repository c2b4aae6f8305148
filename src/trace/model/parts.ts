/** Which elements a stretch of wall is made of, and over which part of its length each stands in it. Local mm. */

import { compareText } from '../../ground/order.js';
import type { WallStretch } from '../../ground/vocabulary.js';
import { boxGrid } from './boxGrid.js';
import type { WallSeen } from './choose.js';
import { type Axis, axisOf, bodyRing, seenFrom } from './plan.js';
import { areaOf, boxOfRegion, componentsOf, enclosed, intersection, NOTHING, type Region, ringsOf } from './region.js';

export interface Part {
  readonly seen: WallSeen;
  /** Along the stretch's axis. */
  readonly fromMm: number;
  readonly toMm: number;
}

export interface StretchParts {
  readonly stretch: WallStretch;
  readonly axis: Axis;
  /** By place, then GlobalId. */
  readonly parts: readonly Part[];
}

/** The stretch's body is drawn in by this, so that walls that merely touch it are none of its own. */
const INSIDE_MM = 1;
/** A part that fills less than this share of the thickness over its length is a sliver at an end. */
const FILLS_LEAST = 0.2;

interface Reach {
  readonly fromMm: number;
  readonly toMm: number;
  /** How full of it the body is between. */
  readonly share: number;
}

/** What of a region lies in the body of an axis. */
const sharedWith = (region: Region, axis: Axis): Region =>
  axis.lengthMm <= 2 * INSIDE_MM || axis.halfMm <= INSIDE_MM
    ? NOTHING
    : intersection(region, enclosed([bodyRing(axis, INSIDE_MM)]));

const reachOf = (shared: Region, axis: Axis): Reach | null => {
  const us = ringsOf(shared).flatMap((ring) => ring.map((p) => seenFrom(axis, p).u));
  if (us.length === 0) return null;
  const [low, high] = [Math.min(...us), Math.max(...us)];
  if (high - low <= INSIDE_MM) return null;
  const share = areaOf(shared) / ((high - low) * 2 * (axis.halfMm - INSIDE_MM));
  const fromMm = low <= 2 * INSIDE_MM ? 0 : low;
  const toMm = high >= axis.lengthMm - 2 * INSIDE_MM ? axis.lengthMm : high;
  return { fromMm, toMm, share };
};

/** From where to where a region reaches along an axis, piece by piece: supports with gaps between them. */
export const reachesOf = (region: Region, axis: Axis): Reach[] =>
  componentsOf(sharedWith(region, axis)).flatMap((piece) => reachOf(piece, axis) ?? []);

/** For each stretch the elements that it is made of. */
export const partsOf = (stretches: readonly WallStretch[], taken: readonly WallSeen[]): StretchParts[] => {
  const near = boxGrid(taken, (t) => t.measured.box);
  return stretches.map((stretch) => {
    const axis = axisOf(stretch);
    const parts = near(boxOfRegion(enclosed([bodyRing(axis)]))).flatMap((seen): Part[] => {
      const reach = reachOf(sharedWith(seen.measured.footprint, axis), axis);
      return reach && reach.share >= FILLS_LEAST ? [{ seen, fromMm: reach.fromMm, toMm: reach.toMm }] : [];
    });
    parts.sort(
      (p, q) =>
        p.fromMm - q.fromMm || p.toMm - q.toMm || compareText(p.seen.measured.element.id, q.seen.measured.element.id),
    );
    return { stretch, axis, parts };
  });
};

export const idsOf = (parts: readonly Part[]): string[] =>
  [...new Set(parts.map((p) => p.seen.measured.element.id))].sort(compareText);
