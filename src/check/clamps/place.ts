/** Where the clamps of a joint stand: as few as the rules and the loads allow, evenly spaced, on the flange holes. */

import type { ClampItem } from '../../ground/vocabulary.js';
import type { Joint } from './joints.js';
import { clampLoads, type JointLoad, utilisationOf } from './loads.js';

/** At least so many to a joint (rule T12, common practice, no source). */
export const LEAST_CLAMPS = 2;
/** No two stand closer: there is no room to set them (common practice, no source). */
const CLOSEST_MM = 150;
/** Rounding of levels that are told to a tenth. */
const SLACK_MM = 0.5;

export interface Placed {
  readonly item: ClampItem;
  /** Levels of an upright joint, stations of a level one, rising. */
  readonly at: readonly number[];
  /** The most loaded clamp, 1 is full. */
  readonly utilisation: number;
}

export const closes = ({ closesMm }: ClampItem, gapMm: number): boolean =>
  gapMm >= closesMm.least - SLACK_MM && gapMm <= closesMm.most + SLACK_MM;

const spanOf = (joint: Joint): readonly [number, number] =>
  joint.kind === 'upright' ? [joint.baseMm, joint.topMm] : [joint.fromMm, joint.toMm];

/** Do these places keep to the item's spacing? */
export const isSpaced = (joint: Joint, item: ClampItem, at: readonly number[]): boolean => {
  const [low, high] = spanOf(joint);
  const first = at[0];
  const last = at[at.length - 1];
  if (first === undefined || last === undefined) return false;
  return (
    first - low <= item.mostFromEndMm + SLACK_MM &&
    high - last <= item.mostFromEndMm + SLACK_MM &&
    at.slice(1).every((x, i) => x - at[i]! <= item.mostSpacingMm + SLACK_MM)
  );
};

/** `count` places with equal shares of the joint; levels on the flange holes, counted from the joint's lower end. */
const evenly = (joint: Joint, count: number, pitchMm: number): number[] => {
  const [low, high] = spanOf(joint);
  const share = (high - low) / count;
  const places = Array.from({ length: count }, (_, i) => (i + 0.5) * share);
  const onHoles =
    joint.kind === 'upright' && share > pitchMm ? places.map((x) => Math.round(x / pitchMm) * pitchMm) : places;
  return onHoles.map((x) => low + x);
};

/**
 * The least number of this item for the joint: spaced as the item asks, none loaded beyond what it carries. Where that cannot be reached without standing too
 * close, the closest set, overloaded.
 */
const least = (joint: Joint, item: ClampItem, on: JointLoad | null, pitchMm: number): Placed => {
  const [low, high] = spanOf(joint);
  const most = Math.max(LEAST_CLAMPS, Math.floor((high - low) / CLOSEST_MM));
  let placed: Placed | null = null;
  for (let count = LEAST_CLAMPS; count <= most; count++) {
    const at = evenly(joint, count, pitchMm);
    const loads = on ? clampLoads(joint, at, on) : [];
    placed = { item, at, utilisation: Math.max(0, ...loads.map((l) => utilisationOf(item, l))) };
    if (isSpaced(joint, item, at) && placed.utilisation <= 1) return placed;
  }
  return placed!;
};

/**
 * Clamps of one joint: of the items that close its gap the one that needs the fewest, then the lightest, then by id; null where none closes it.
 * An item that is overloaded is taken only where all are.
 */
export const placeClamps = (
  items: readonly ClampItem[],
  joint: Joint,
  on: JointLoad | null,
  pitchMm: number,
): Placed | null => {
  const sets = items.filter((c) => closes(c, joint.gapMm)).map((item) => least(joint, item, on, pitchMm));
  const over = ({ utilisation }: Placed) => (utilisation > 1 ? utilisation : 0);
  return sets.reduce<Placed | null>((best, set) => {
    if (!best) return set;
    const order = over(set) - over(best) || set.at.length - best.at.length || set.item.massKg - best.item.massKg;
    return order < 0 ? set : best;
  }, null);
};
