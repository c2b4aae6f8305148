/** Plane vectors and lines, all in one length unit (mm unless the caller says otherwise). Angles in radians, anticlockwise. */

export interface Vec {
  readonly x: number;
  readonly y: number;
}

export const add = (a: Vec, b: Vec): Vec => ({ x: a.x + b.x, y: a.y + b.y });
export const sub = (a: Vec, b: Vec): Vec => ({ x: a.x - b.x, y: a.y - b.y });
export const scale = (a: Vec, k: number): Vec => ({ x: a.x * k, y: a.y * k });
export const dot = (a: Vec, b: Vec): number => a.x * b.x + a.y * b.y;
/** z of the cross product: positive when b lies to the left of a. */
export const cross = (a: Vec, b: Vec): number => a.x * b.y - a.y * b.x;
export const length = (a: Vec): number => Math.hypot(a.x, a.y);
export const distance = (a: Vec, b: Vec): number => Math.hypot(b.x - a.x, b.y - a.y);
/** a turned by 90 degrees to the left. */
export const leftOf = (a: Vec): Vec => ({ x: -a.y, y: a.x });
/** Unit vector of a; a zero vector gives (1, 0), so callers must refuse zero lengths first. */
export const unit = (a: Vec): Vec => {
  const l = length(a);
  return l === 0 ? { x: 1, y: 0 } : { x: a.x / l, y: a.y / l };
};
export const angleOf = (a: Vec): number => Math.atan2(a.y, a.x);

/** The point at `station` along start-end, moved `offset` to the left (negative: right) of that direction. */
export const pointAlong = (start: Vec, end: Vec, station: number, offset = 0): Vec => {
  const u = unit(sub(end, start));
  const n = leftOf(u);
  return { x: start.x + u.x * station + n.x * offset, y: start.y + u.y * station + n.y * offset };
};

/** Share of the way from a to b at which the point of that segment nearest to p lies, 0 to 1; 0 where a and b are one. */
export const segmentShare = (p: Vec, a: Vec, b: Vec): number => {
  const along = sub(b, a);
  const size = dot(along, along);
  return size === 0 ? 0 : Math.max(0, Math.min(1, dot(sub(p, a), along) / size));
};

/** The point of the segment from a to b that is nearest to p. */
export const footOnSegment = (p: Vec, a: Vec, b: Vec): Vec => add(a, scale(sub(b, a), segmentShare(p, a, b)));

/** Distance from p to the segment from a to b. */
export const toSegment = (p: Vec, a: Vec, b: Vec): number => distance(p, footOnSegment(p, a, b));

/** Where the infinite lines p + s*u and q + t*v meet, or null when they are parallel within `sinLeast`. */
export const meet = (p: Vec, u: Vec, q: Vec, v: Vec, sinLeast = 1e-9): Vec | null => {
  const d = cross(u, v);
  if (Math.abs(d) <= sinLeast * length(u) * length(v)) return null;
  const s = cross(sub(q, p), v) / d;
  return add(p, scale(u, s));
};

/** The ring from its lowest vertex (x, then y). */
export const fromLowest = (ring: readonly Vec[]): Vec[] => {
  let first = 0;
  ring.forEach((p, i) => {
    const low = ring[first]!;
    if (p.x < low.x || (p.x === low.x && p.y < low.y)) first = i;
  });
  return [...ring.slice(first), ...ring.slice(0, first)];
};
