/** Cutting paths at the boundary of a clipped insert: what lies outside is not seen. */

import type { Vec } from '../../ground/plane.js';
import type { PathVertex } from '../../ground/vocabulary.js';

/** A simple polygon in plan. */
export type Boundary = readonly Vec[];

/** Boundaries of more corners than this are not cut along. *Practice, no source.* */
export const MOST_CORNERS = 256;

/** Shares of a piece that differ by less than this are one place; so are places that differ by less, relative to their size. *Practice, no source.* */
const SAME = 1e-9;

const cross = (o: Vec, a: Vec, b: Vec): number => (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);

/** Whether no two sides of the polygon meet but neighbours in their corner, and it encloses an area. */
export const isSimple = (corners: Boundary): boolean => {
  const n = corners.length;
  if (n < 3 || n > MOST_CORNERS) return false;
  const at = (i: number): Vec => corners[i % n]!;
  let area = 0;
  for (let i = 0; i < n; i++) {
    area += cross(at(0), at(i), at(i + 1));
    if (at(i).x === at(i + 1).x && at(i).y === at(i + 1).y) return false;
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const a = cross(at(i), at(i + 1), at(j)) * cross(at(i), at(i + 1), at(j + 1));
      const b = cross(at(j), at(j + 1), at(i)) * cross(at(j), at(j + 1), at(i + 1));
      if (a <= 0 && b <= 0 && (a < 0 || b < 0)) return false;
    }
  }
  return area !== 0;
};

const distanceTo = (a: Vec, b: Vec, p: Vec): number => {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const size = dx * dx + dy * dy;
  const t = size === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / size));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
};

/** Whether the place is within the boundary or on it. */
export const isInside = (boundary: Boundary, p: Vec): boolean => {
  let inside = false;
  const slack = SAME * Math.max(1, Math.abs(p.x), Math.abs(p.y));
  for (let i = 0, j = boundary.length - 1; i < boundary.length; j = i++) {
    const a = boundary[i]!;
    const b = boundary[j]!;
    if (distanceTo(a, b, p) <= slack) return true;
    if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
  }
  return inside;
};

/** A straight piece or an arc from a to b, by its share from 0 to 1. */
interface Piece {
  at(share: number): Vec;
  /** Shares where it meets the line through p and q between them. */
  meets(p: Vec, q: Vec): number[];
  /** Bulge of the part between two shares. */
  bulge(from: number, to: number): number;
}

const straight = (a: Vec, b: Vec): Piece => ({
  at: (t) => (t === 1 ? b : { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t }),
  meets: (p, q) => {
    const along = (b.x - a.x) * (q.y - p.y) - (b.y - a.y) * (q.x - p.x);
    if (along === 0) return [];
    const t = ((p.x - a.x) * (q.y - p.y) - (p.y - a.y) * (q.x - p.x)) / along;
    const u = ((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / along;
    return u >= -SAME && u <= 1 + SAME ? [t] : [];
  },
  bulge: () => 0,
});

/** Centre from the chord: DXF reference, bulge = tan(angle / 4). */
const arc = (a: PathVertex, b: Vec): Piece => {
  const angle = 4 * Math.atan(a.bulge);
  const k = (1 - a.bulge * a.bulge) / (4 * a.bulge);
  const c = { x: (a.x + b.x) / 2 - k * (b.y - a.y), y: (a.y + b.y) / 2 + k * (b.x - a.x) };
  const radius = Math.hypot(a.x - c.x, a.y - c.y);
  const start = Math.atan2(a.y - c.y, a.x - c.x);
  const shareOf = (x: number, y: number): number => {
    const turned = (Math.atan2(y - c.y, x - c.x) - start) * Math.sign(angle);
    return (turned < -SAME ? turned + 2 * Math.PI : turned) / Math.abs(angle);
  };
  return {
    at: (t) =>
      t === 0
        ? a
        : t === 1
          ? b
          : { x: c.x + radius * Math.cos(start + angle * t), y: c.y + radius * Math.sin(start + angle * t) },
    meets: (p, q) => {
      const dx = q.x - p.x;
      const dy = q.y - p.y;
      const size = dx * dx + dy * dy;
      const half = (dx * (p.x - c.x) + dy * (p.y - c.y)) / size;
      const rest = half * half - ((p.x - c.x) ** 2 + (p.y - c.y) ** 2 - radius * radius) / size;
      if (!(rest >= 0)) return [];
      return [-half - Math.sqrt(rest), -half + Math.sqrt(rest)]
        .filter((u) => u >= -SAME && u <= 1 + SAME)
        .map((u) => shareOf(p.x + u * dx, p.y + u * dy));
    },
    bulge: (from, to) => Math.tan((angle * (to - from)) / 4),
  };
};

/** Shares from and to between which the piece lies inside, in order; pieces that only touch the boundary are not parted. */
const insideParts = (piece: Piece, boundary: Boundary): (readonly [number, number])[] => {
  const cuts = [0, 1];
  boundary.forEach((p, i) => {
    for (const t of piece.meets(p, boundary[(i + 1) % boundary.length]!)) if (t > SAME && t < 1 - SAME) cuts.push(t);
  });
  cuts.sort((x, y) => x - y);
  const parts: [number, number][] = [];
  for (let i = 1; i < cuts.length; i++) {
    const [from, to] = [cuts[i - 1]!, cuts[i]!];
    if (to - from <= SAME || !isInside(boundary, piece.at((from + to) / 2))) continue;
    const last = parts[parts.length - 1];
    if (last && from - last[1] <= SAME) last[1] = to;
    else parts.push([from, to]);
  }
  return parts;
};

export interface Outlined {
  readonly vertices: readonly PathVertex[];
  readonly closed: boolean;
}

/** The parts of a path that lie inside the boundary, in the path's order; the path itself, and nothing else, where all of it does. */
export const cutAt = (path: Outlined, boundary: Boundary): readonly Outlined[] => {
  const { vertices, closed } = path;
  const chains: PathVertex[][] = [];
  let chain: PathVertex[] | null = null;
  let whole = true;
  let startsInside = false;
  const pieces = closed ? vertices.length : vertices.length - 1;
  for (let i = 0; i < pieces; i++) {
    const a = vertices[i]!;
    const b = vertices[(i + 1) % vertices.length]!;
    if (a.x === b.x && a.y === b.y) continue;
    const piece = a.bulge === 0 ? straight(a, b) : arc(a, b);
    const parts = insideParts(piece, boundary);
    if (parts.length !== 1 || parts[0]![0] !== 0 || parts[0]![1] !== 1) whole = false;
    if (i === 0) startsInside = parts[0]?.[0] === 0;
    if (parts[0]?.[0] !== 0) chain = null;
    for (const [from, to] of parts) {
      const bulge = piece.bulge(from, to);
      const start = { ...piece.at(from), bulge };
      if (chain === null) {
        chain = [start];
        chains.push(chain);
      } else chain[chain.length - 1] = start;
      const { x, y } = piece.at(to);
      chain.push({ x, y, bulge: 0 });
      if (to !== 1) chain = null;
    }
  }
  if (whole) return [path];
  const first = chains[0];
  // A closed path is joined again where its first vertex lies inside.
  if (closed && chain !== null && startsInside && first && first !== chain) {
    chain.pop();
    chains.pop();
    chains[0] = chain.concat(first);
  }
  return chains.map((part) => ({ vertices: part, closed: false }));
};
