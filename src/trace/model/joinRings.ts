/** Pieces of line between faces and a plane → closed rings. Ends within JOIN_MM are one; what does not close is closed straight, and counted. */

import { grouping } from '../../ground/groups.js';
import { comparePoints } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';

export interface Piece {
  readonly a: Vec;
  readonly b: Vec;
}

/** Corners of neighbouring faces lie within this of each other. */
const JOIN_MM = 0.05;

/** Numbers for points, one for all that lie within JOIN_MM of the first of them. */
const numbering = (): { readonly points: Vec[]; readonly of: (p: Vec) => number } => {
  const points: Vec[] = [];
  const cells = new Map<string, number[]>();
  const of = (p: Vec): number => {
    const [i, j] = [Math.floor(p.x / JOIN_MM), Math.floor(p.y / JOIN_MM)];
    for (let di = -1; di <= 1; di++)
      for (let dj = -1; dj <= 1; dj++)
        for (const k of cells.get(`${i + di} ${j + dj}`) ?? [])
          if (Math.hypot(points[k]!.x - p.x, points[k]!.y - p.y) <= JOIN_MM) return k;
    points.push(p);
    const own = cells.get(`${i} ${j}`);
    if (own) own.push(points.length - 1);
    else cells.set(`${i} ${j}`, [points.length - 1]);
    return points.length - 1;
  };
  return { points, of };
};

type Link = readonly [number, number];

/**
 * Links that are there several times: a face between two bodies of one mesh goes out, with its double; a body that is there twice stays once.
 */
const once = (links: readonly Link[], pointCount: number): Link[] => {
  const counts = new Map<string, { readonly link: Link; count: number }>();
  for (const [a, b] of links) {
    const link: Link = a < b ? [a, b] : [b, a];
    const key = `${link[0]} ${link[1]}`;
    const own = counts.get(key);
    if (own) own.count++;
    else counts.set(key, { link, count: 1 });
  }
  if (counts.size === links.length) return [...links];
  const hanging = grouping(pointCount);
  for (const { link } of counts.values()) hanging.connect(...link);
  const of = ({ link }: { readonly link: Link }) => hanging.lowestOf(link[0]);
  const odd = new Set([...counts.values()].filter((c) => c.count % 2 === 1).map(of));
  return [...counts.values()].filter((c) => c.count % 2 === 1 || !odd.has(of(c))).map((c) => c.link);
};

/** Rings of the pieces; the order and direction of the pieces do not matter. */
export const joinRings = (
  pieces: readonly Piece[],
): { readonly rings: readonly Vec[][]; readonly openEnds: number } => {
  const tidy = pieces
    .map(({ a, b }) => (comparePoints(a, b) <= 0 ? { a, b } : { a: b, b: a }))
    .sort((p, q) => comparePoints(p.a, q.a) || comparePoints(p.b, q.b));
  const { points, of } = numbering();
  const all = tidy.map(({ a, b }) => [of(a), of(b)] as const).filter(([a, b]) => a !== b);
  const links = once(all, points.length);
  const at = new Map<number, number[]>();
  links.forEach(([a, b], i) => {
    for (const end of [a, b]) {
      const own = at.get(end);
      if (own) own.push(i);
      else at.set(end, [i]);
    }
  });
  const used = new Set<number>();
  const next = (end: number): number | undefined => {
    const own = at.get(end);
    while (own && own.length > 0 && used.has(own[own.length - 1]!)) own.pop();
    return own?.[own.length - 1];
  };
  const rings: Vec[][] = [];
  let openEnds = 0;
  const walk = (start: number): void => {
    const ring = [start];
    for (let link = next(start); link !== undefined; link = next(ring[ring.length - 1]!)) {
      used.add(link);
      const [a, b] = links[link]!;
      const to = a === ring[ring.length - 1] ? b : a;
      if (to === start) {
        rings.push(ring.map((i) => points[i]!));
        return;
      }
      ring.push(to);
    }
    openEnds += 2;
    if (ring.length >= 3) rings.push(ring.map((i) => points[i]!));
  };
  // Loose ends first, so that an open chain is walked from its end and not from its middle.
  const loose = [...at].filter(([, own]) => own.length % 2 === 1).map(([end]) => end);
  for (const end of loose) if (next(end) !== undefined) walk(end);
  links.forEach(([a], i) => {
    if (!used.has(i)) walk(a);
  });
  return { rings, openEnds };
};
