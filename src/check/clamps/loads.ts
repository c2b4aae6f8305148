/** What the clamps of a joint carry: pull along the forms and shear across the joint, by the stretch of height or width that each answers for. */

import type { ClampItem, RowLoad } from '../../ground/vocabulary.js';
import { forceBetween } from '../envelope.js';
import { nearestStretches } from '../nearestStretches.js';
import type { WallLoad } from '../ratings.js';
import type { Joint } from './joints.js';

/** What acts at a joint. */
export interface JointLoad {
  /** Level down to which the lowest clamp of an upright joint answers: below the joint where both units stand over the footing. */
  readonly footMm: number;
  readonly load: WallLoad;
  /** Pull along the forms as a strip of the pressure, mm. */
  readonly pullMm: number;
  /** Shear across an upright joint as such a strip, mm; null: not known. */
  readonly shearMm: number | null;
  /** Shear across a level joint, kN per metre of wall. */
  readonly levelShearKnPerM: number;
}

export interface ClampLoad {
  readonly inPlaneKn: number;
  readonly shearKn: number | null;
}

/**
 * Loads of the clamps of one joint at these levels (upright) or stations (level), rising.
 * Statics: tributary stretches of the envelope.
 */
export const clampLoads = (joint: Joint, at: readonly number[], on: JointLoad): ClampLoad[] => {
  const { load, footMm, pullMm, shearMm, levelShearKnPerM } = on;
  if (joint.kind === 'level') {
    return nearestStretches(at, joint.fromMm, joint.toMm).map(([from, to]) => ({
      inPlaneKn: 0,
      shearKn: (levelShearKnPerM * (to - from)) / 1000,
    }));
  }
  return nearestStretches(at, footMm, joint.topMm).map(([from, to]) => {
    const knPerM = forceBetween(load.pressure.envelope, load.topMm, Math.max(from, load.footingMm), to);
    return { inPlaneKn: (knPerM * pullMm) / 1000, shearKn: shearMm === null ? null : (knPerM * shearMm) / 1000 };
  });
};

/** Pull and shear over what the clamp may carry, added (the safe side; common practice, no source). Shear that is not known or not rated is left out. */
export const utilisationOf = (item: ClampItem, { inPlaneKn, shearKn }: ClampLoad): number =>
  Math.max(0, inPlaneKn) / item.pullKn + (item.shearKn === null || shearKn === null ? 0 : shearKn / item.shearKn);

/**
 * Shear at a horizontal joint, kN per metre of wall: what the rows above carry less the load above, or the load below less what the rows below carry, whichever
 * is more (row loads are never below their tributary values, so the two can differ).
 */
export const levelShear = (load: WallLoad, rows: readonly RowLoad[], levelMm: number): number => {
  const { envelope } = load.pressure;
  const above = rows.filter((r) => r.levelMm > levelMm).reduce((sum, r) => sum + r.kNPerM, 0);
  const below = rows.filter((r) => r.levelMm <= levelMm).reduce((sum, r) => sum + r.kNPerM, 0);
  const loadAbove = forceBetween(envelope, load.topMm, levelMm, load.topMm);
  const loadBelow = forceBetween(envelope, load.topMm, load.footingMm, levelMm);
  return Math.max(Math.abs(above - loadAbove), Math.abs(loadBelow - below));
};
