/**
 * Strips between neighbouring concentric arcs. Arcs that run side by side about one centre are a family; seen from its centre the
 * family is cut at every end of an arc, and two arcs that are neighbours between two cuts bound a strip, with no other arc between. A strip
 * is a candidate for concrete or for air; which, sides.ts decides. Lengths local mm.
 */

import { grouping } from '../../ground/groups.js';
import { byNumber, inOrder } from '../../ground/order.js';
import { add, angleOf, cross, distance, dot, scale, sub, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM, WALL_MOST_MM } from '../../ground/tolerance.js';
import { isWallThickness } from '../strips.js';
import {
  angleAt,
  boxOf,
  type Circle,
  isFull,
  lengthOf,
  middleOf,
  onCircle,
  type Sweep,
  swept,
  TURN,
  turned,
} from './circle.js';
import { ASKEW_RAD, GAP_SPREAD_MM, ROW_ENTRIES_MOST } from './limits.js';
import type { Arc } from './merge.js';

/** Rays on which two arcs are compared. */
const RAYS = 9;
/** Arcs farther apart than this are not the faces of one wall. */
const REACH_MM = WALL_MOST_MM + GAP_SPREAD_MM;

export interface Strip extends Sweep {
  /** Arcs by index; `low` is the one nearer to the centre. */
  readonly low: number;
  readonly high: number;
  /** The circle midway between both faces; the strip's angles are about its centre. */
  readonly axis: Circle;
  readonly thicknessMm: number;
  /** By how much the gap between the faces varies. */
  readonly spreadMm: number;
}

/** The parts that two sweeps about one centre share. */
export const sharedParts = (s: Sweep, t: Sweep): Sweep[] => {
  if (isFull(s)) return [t];
  if (isFull(t)) return [s];
  const out: Sweep[] = [];
  const start = turned(t.from - s.from);
  for (const a of [start, start - TURN]) {
    const from = Math.max(a, 0);
    const to = Math.min(a + t.by, s.by);
    if (to > from) out.push({ from: turned(s.from + from), by: to - from });
  }
  return out;
};

/** The sweep of an arc as seen from a point near its centre. */
export const seenFrom = (centre: Vec, arc: Circle & Sweep): Sweep => {
  if (isFull(arc) && distance(centre, arc.centre) < arc.radius) return { from: 0, by: TURN };
  const points = [0, 1, 2, 3, 4].map((i) => onCircle(arc, arc.from + (arc.by * i) / 4));
  return { from: angleAt(centre, points[0]!), by: Math.min(Math.abs(swept(centre, points)), TURN) };
};

/** Distance from `from` to the circle along a ray; null when the ray misses it. */
export const rayTo = (from: Vec, angle: number, circle: Circle): number | null => {
  const u = { x: Math.cos(angle), y: Math.sin(angle) };
  const e = sub(circle.centre, from);
  const root = circle.radius * circle.radius - cross(e, u) ** 2;
  return root < 0 ? null : dot(e, u) + Math.sqrt(root);
};

export interface Gap {
  /** Positive when the second arc lies outside the first. */
  readonly meanMm: number;
  readonly spreadMm: number;
}

/** The gap between two arcs over the parts (as seen from the first one's centre), or null when they do not run side by side. */
export const gapBetween = (p: Arc, q: Arc, parts: readonly Sweep[]): Gap | null => {
  let [sum, count, least, most] = [0, 0, Infinity, -Infinity];
  for (const part of parts) {
    for (let i = 0; i < RAYS; i++) {
      const angle = part.from + (part.by * i) / (RAYS - 1);
      const reach = rayTo(p.centre, angle, q);
      if (reach === null) return null;
      const at = onCircle({ centre: p.centre, radius: reach }, angle);
      const outward = sub(at, q.centre);
      const askew = Math.abs(
        angleOf({
          x: Math.cos(angle) * outward.x + Math.sin(angle) * outward.y,
          y: Math.cos(angle) * outward.y - Math.sin(angle) * outward.x,
        }),
      );
      if (askew > ASKEW_RAD) return null;
      const gap = reach - p.radius;
      sum += gap;
      count++;
      least = Math.min(least, gap);
      most = Math.max(most, gap);
    }
  }
  if (count === 0 || most - least > GAP_SPREAD_MM || least * most < 0) return null;
  return { meanMm: sum / count, spreadMm: most - least };
};

const sideBySide = (p: Arc, q: Arc): Gap | null =>
  gapBetween(p, q, sharedParts({ from: p.from, by: p.by }, seenFrom(p.centre, q)));

/** Families of arcs (by index, longest first) that run side by side, nearer than the thickest wall. */
const familiesOf = (arcs: readonly Arc[]): number[][] => {
  // Most pairs are told apart by where they lie.
  const boxes = arcs.map(boxOf);
  const apart = (i: number, j: number): boolean => {
    const [p, q] = [boxes[i]!, boxes[j]!];
    return p[0] > q[2] + REACH_MM || q[0] > p[2] + REACH_MM || p[1] > q[3] + REACH_MM || q[1] > p[3] + REACH_MM;
  };
  const byLength = arcs.map((_, i) => i).sort((i, j) => lengthOf(arcs[j]!) - lengthOf(arcs[i]!) || i - j);
  const families = grouping(arcs.length);
  byLength.forEach((i, k) => {
    byLength.slice(k + 1).forEach((j, n) => {
      if (apart(i, j)) return;
      const gap = sideBySide(arcs[i]!, arcs[j]!);
      if (gap && Math.abs(gap.meanMm) <= WALL_MOST_MM + SAME_POINT_MM) families.connect(k, k + 1 + n);
    });
  });
  return families.groups().flatMap((f) => (f.length > 1 ? [f.map((k) => byLength[k]!)] : []));
};

interface Seen extends Sweep {
  readonly arc: number;
  readonly reachMm: number;
}

const covers = (s: Sweep, angle: number): boolean => isFull(s) || turned(angle - s.from) < s.by;

/** Parts between cuts, by pair of neighbours. */
const neighbours = (
  seen: readonly Seen[],
  budget: { left: number },
): Map<string, { low: number; high: number; parts: Sweep[] }> => {
  const least = Math.min(...seen.map((s) => s.reachMm));
  const cuts = [0, ...seen.flatMap((s) => (isFull(s) ? [] : [s.from, turned(s.from + s.by)]))].sort((a, b) => a - b);
  const pairs = new Map<string, { low: number; high: number; parts: Sweep[] }>();
  cuts.forEach((from, k) => {
    const to = cuts[k + 1] ?? TURN;
    if (to - from <= 1e-12) return;
    const row = seen.filter((s) => covers(s, (from + to) / 2)).sort((p, q) => p.reachMm - q.reachMm || p.arc - q.arc);
    budget.left -= row.length;
    if (budget.left < 0) return;
    for (let i = 0; i + 1 < row.length; i++) {
      const [low, high] = [row[i]!.arc, row[i + 1]!.arc];
      const pair = pairs.get(`${low} ${high}`) ?? { low, high, parts: [] };
      const last = pair.parts.at(-1);
      if (last && from - (last.from + last.by) <= 1e-12)
        pair.parts[pair.parts.length - 1] = { from: last.from, by: to - last.from };
      else pair.parts.push({ from, by: to - from });
      pairs.set(`${low} ${high}`, pair);
    }
  });
  for (const pair of pairs.values()) {
    // What runs on over the angle 0 is one part; what is shorter than a point is none.
    const [first, last] = [pair.parts[0]!, pair.parts.at(-1)!];
    if (first !== last && first.from === 0 && last.from + last.by >= TURN - 1e-12) {
      pair.parts.pop();
      pair.parts[0] = { from: last.from, by: last.by + first.by };
    }
    pair.parts = pair.parts.filter((p) => p.by * least > SAME_POINT_MM);
  }
  return pairs;
};

const stripsOfFamily = (arcs: readonly Arc[], family: readonly number[], budget: { left: number }): Strip[] => {
  const { centre } = arcs[family[0]!]!;
  const seen = family.map((arc): Seen => {
    const s = seenFrom(centre, arcs[arc]!);
    return { arc, ...s, reachMm: distance(centre, middleOf(arcs[arc]!)) };
  });
  const out: Strip[] = [];
  for (const { low, high, parts } of neighbours(seen, budget).values()) {
    const [p, q] = [arcs[low]!, arcs[high]!];
    const axis = { centre: scale(add(p.centre, q.centre), 0.5), radius: (p.radius + q.radius) / 2 };
    for (const part of parts) {
      // The same two ends, as seen from the pair's own centre.
      const mid = { centre, radius: (distance(centre, middleOf(p)) + distance(centre, middleOf(q))) / 2 };
      const own = isFull(part) ? part : seenFrom(axis.centre, { ...mid, ...part });
      const gap = gapBetween(p, q, [isFull(own) ? own : seenFrom(p.centre, { ...axis, ...own })]);
      if (!gap || gap.meanMm <= 0 || !isWallThickness(gap.meanMm)) continue;
      out.push({ low, high, axis, ...own, thicknessMm: gap.meanMm, spreadMm: gap.spreadMm });
    }
  }
  return out;
};

const stripOrder = inOrder<Strip>(
  byNumber((s) => s.low),
  byNumber((s) => s.high),
  byNumber((s) => s.from),
);

/** Strips of wall thickness between arcs that lie beside each other; null when that is more than tracing works through. */
export const stripsOf = (arcs: readonly Arc[]): Strip[] | null => {
  const budget = { left: ROW_ENTRIES_MOST };
  const strips = familiesOf(arcs).flatMap((f) => stripsOfFamily(arcs, f, budget));
  return budget.left < 0 ? null : strips.sort(stripOrder);
};
