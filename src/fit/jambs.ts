/**
 * Joints at the edges of openings: among layouts of one cost that one is taken whose units end at the jambs, so that a unit's edge forms the side of the
 * box-out and few units run across it. Counted by what stands across each jamb: nothing (a joint at the jamb), a group that ends within the boards
 * of the box-out (beside it; the boards cover the joint, or what little concrete lies outside it), or another. Then by the groups over the opening.
 * That boards cover a joint so near is common practice, no source.
 */

import type { Void } from '../ground/voids.js';
import { addCost, type Cost, TIERS, ZERO_COST } from './cost.js';
import type { TiedGroup } from './groups.js';
import type { PlacedGroup, ZoneProblem } from './zone.js';

/** An opening along its run, grid units. */
export interface Jambs {
  readonly fromGu: number;
  readonly toGu: number;
}

export const jambsOf = (voids: readonly Void[], gridMm: number): Jambs[] =>
  voids.map((v) => ({ fromGu: v.fromMm / gridMm, toGu: v.toMm / gridMm }));

/** How near a joint is at a jamb, and how near beside it; grid units. */
export interface Reach {
  readonly atGu: number;
  readonly besideGu: number;
}

/** Nearer than this no crew tells a joint from the jamb, mm. */
const AT_MM = 1;

export const reachFor = (boardsMm: number, gridMm: number): Reach => ({
  atGu: Math.max(AT_MM / gridMm, 0.5) + 1e-6,
  besideGu: boardsMm / gridMm + 1e-6,
});

/** A jamb without a joint counts before one with a joint beside it, that before a group over an opening. */
const NONE = 4096;
const BESIDE = 64;
/** More than the squares of all groups of a zone: these only order layouts that agree in joints at jambs. */
const SCALE = 2 ** 32;

/** What a group from here to there makes worse: jambs that it crosses, openings over which it stands. */
const worse = (openings: readonly Jambs[], { atGu, besideGu }: Reach, fromGu: number, toGu: number): number => {
  let sum = 0;
  for (const o of openings) {
    if (toGu - o.fromGu <= atGu || o.toGu - fromGu <= atGu) continue;
    sum++;
    for (const jamb of [o.fromGu, o.toGu]) {
      const near = Math.min(jamb - fromGu, toGu - jamb);
      if (near > atGu) sum += near <= besideGu ? BESIDE : NONE;
    }
  }
  return sum;
};

/** The same as a cost, in its tie-break. */
const worseCost = (sum: number): Cost => ZERO_COST.map((_, i) => (i === TIERS ? sum * SCALE : 0));

export interface JambRules {
  readonly moreAt: NonNullable<ZoneProblem['moreAt']>;
  readonly timberMoreAt: NonNullable<ZoneProblem['timberMoreAt']>;
  /** Of a whole layout. */
  readonly of: (placed: readonly PlacedGroup[]) => Cost;
}

/** What groups cost more where they stand when joints at jambs count too. */
export const jambRules = (openings: readonly Jambs[], reach: Reach, moreAt: ZoneProblem['moreAt']): JambRules => {
  const held = new Map<number, Cost>();
  const at = (fromGu: number, toGu: number): Cost => {
    const sum = worse(openings, reach, fromGu, toGu);
    const cost = held.get(sum) ?? worseCost(sum);
    held.set(sum, cost);
    return cost;
  };
  const own = (fromGu: number, { group: { lengthGu } }: TiedGroup, d: 1 | -1): Cost =>
    d === 1 ? at(fromGu, fromGu + lengthGu) : at(fromGu - lengthGu, fromGu);
  return {
    moreAt: (fromGu, tied, d = 1) => {
      const cost = own(fromGu, tied, d);
      return moreAt ? addCost(moreAt(fromGu, tied, d), cost) : cost;
    },
    timberMoreAt: at,
    of: (placed) => placed.reduce((sum, p) => addCost(sum, at(p.fromGu, p.fromGu + p.lengthGu)), ZERO_COST),
  };
};
