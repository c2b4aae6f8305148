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

/** An axis of a tie as a joint sees it: along the joint, and how far to its side. */
export interface TieBeside {
  readonly atMm: number;
  readonly awayMm: number;
}

/** Ties that are nearer than the item allows to a clamp at a place of a joint. */
export const tiesInTheWay = ({ tieClearMm }: ClampItem, placeMm: number, ties: readonly TieBeside[]): TieBeside[] =>
  tieClearMm ? ties.filter((t) => Math.hypot(t.atMm - placeMm, t.awayMm) < tieClearMm - SLACK_MM) : [];

/** Places moved off the ties beside them: each by the fewest pitches, up or down, between its neighbours; one that finds no place stays. */
const clearOfTies = (
  joint: Joint,
  item: ClampItem,
  at: readonly number[],
  pitchMm: number,
  ties: readonly TieBeside[],
): number[] => {
  const [low, high] = spanOf(joint);
  const moved = [...at];
  for (const [i, place] of at.entries()) {
    if (tiesInTheWay(item, place, ties).length === 0) continue;
    const [from, to] = [
      (moved[i - 1] ?? low - CLOSEST_MM / 2) + CLOSEST_MM / 2,
      (at[i + 1] ?? high + CLOSEST_MM / 2) - CLOSEST_MM / 2,
    ];
    for (let k = 1; k * pitchMm <= high - low; k++) {
      const near = [place - k * pitchMm, place + k * pitchMm].filter((x) => x > from && x < to);
      const free = near.find((x) => {
        const tried = moved.map((m, j) => (j === i ? x : m));
        return tiesInTheWay(item, x, ties).length === 0 && isSpaced(joint, item, tried);
      });
      if (free === undefined) continue;
      moved[i] = free;
      break;
    }
  }
  return moved;
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
const least = (
  joint: Joint,
  item: ClampItem,
  on: JointLoad | null,
  pitchMm: number,
  ties: readonly TieBeside[],
): Placed => {
  const [low, high] = spanOf(joint);
  const most = Math.max(LEAST_CLAMPS, Math.floor((high - low) / CLOSEST_MM));
  let placed: Placed | null = null;
  let beside: Placed | null = null;
  for (let count = LEAST_CLAMPS; count <= most; count++) {
    const at = clearOfTies(joint, item, evenly(joint, count, pitchMm), pitchMm, ties);
    const loads = on ? clampLoads(joint, at, on) : [];
    placed = { item, at, utilisation: Math.max(0, ...loads.map((l) => utilisationOf(item, l))) };
    if (!isSpaced(joint, item, at) || placed.utilisation > 1) continue;
    if (at.every((x) => tiesInTheWay(item, x, ties).length === 0)) return placed;
    beside ??= placed;
  }
  return beside ?? placed!;
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
  ties: readonly TieBeside[] = [],
): Placed | null => {
  const sets = items.filter((c) => closes(c, joint.gapMm)).map((item) => least(joint, item, on, pitchMm, ties));
  const over = ({ utilisation }: Placed) => (utilisation > 1 ? utilisation : 0);
  return sets.reduce<Placed | null>((best, set) => {
    if (!best) return set;
    const order = over(set) - over(best) || set.at.length - best.at.length || set.item.massKg - best.item.massKg;
    return order < 0 ? set : best;
  }, null);
};
