/** Where the deck of an inner corner lies in plan. */

import { add, leftOf, scale, sub, unit, type Vec } from './plane.js';
import { planIndex } from './planIndex.js';
import { FLOOR_OUT_MM } from './siteSizes.js';
import type { CornerDeck, FacePlan } from './vocabulary.js';

/** Its four corners, mm in the drawing's axes, from the one nearest the vertex along the first face and round; null: the plan has no such vertex. */
export const deckOutline = (plan: FacePlan, deck: CornerDeck, frameDepthMm: number): readonly Vec[] | null => {
  const { vertices, walls } = planIndex(plan);
  const vertex = vertices.get(deck.vertex);
  if (!vertex) return null;
  const ways = vertex.arms.flatMap((arm) => {
    const wall = walls.get(arm.wall);
    if (!wall || (arm.side !== 'left' && arm.side !== 'right')) return [];
    const along = unit(sub(wall.end, wall.start));
    return [{ away: scale(along, arm.direction), out: scale(leftOf(along), arm.side === 'left' ? 1 : -1) }];
  });
  const [a, b] = ways;
  if (!a || !b) return null;
  const out = frameDepthMm + FLOOR_OUT_MM;
  const t = out / Math.tan((((180 - vertex.deflectionDeg) / 2) * Math.PI) / 180);
  const near = add(vertex.at, add(scale(a.away, t), scale(a.out, out)));
  const [longA, longB] = [scale(a.away, deck.sizeMm[0]), scale(b.away, deck.sizeMm[1])];
  return [near, add(near, longA), add(add(near, longA), longB), add(near, longB)];
};
