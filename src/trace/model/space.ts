/** Vectors in space and arcs as chords: what cutting solids stands on. Lengths mm. */

import type { Vec } from '../../ground/plane.js';
import { add3, dot3, scale3, sub3 } from '../../ground/space.js';
import { roundTo } from '../../ground/units.js';
import type { Frame, PathVertex, Solid, Vec3 } from '../../ground/vocabulary.js';
import { REACH_MOST_MM } from '../limits.js';

export { add3, dot3, scale3, sub3 };

/** A point of a frame's x-y plane in world axes. */
export const outOf = (frame: Frame, p: Vec): Vec3 =>
  add3(frame.origin, add3(scale3(frame.x, p.x), scale3(frame.y, p.y)));

/** A world direction seen in a frame. */
export const turnedInto = (frame: Frame, d: Vec3): Vec3 => ({
  x: dot3(d, frame.x),
  y: dot3(d, frame.y),
  z: dot3(d, frame.z),
});

/** Places leave rounded to this, so that they do not carry the noise of shifting. */
const PLACES = 4;

/** A local place in the model's axes. */
export const outward = (p: Vec, origin: Vec): Vec => ({
  x: roundTo(p.x + origin.x, PLACES),
  y: roundTo(p.y + origin.y, PLACES),
});

/** A world point seen in a frame; the origin is taken off first, so that far coordinates keep their digits. */
export const into = (frame: Frame, p: Vec3): Vec3 => turnedInto(frame, sub3(p, frame.origin));

/** Horizontal plane at a level, axes of the world, its origin at a place of plan. */
export const levelFrame = (origin: Vec, levelMm: number): Frame => ({
  origin: { x: origin.x, y: origin.y, z: levelMm },
  x: { x: 1, y: 0, z: 0 },
  y: { x: 0, y: 1, z: 0 },
  z: { x: 0, y: 0, z: 1 },
});

/** Upright plane along a direction of plan (unit vector): its x runs along it, its y is the world's z (level 0 at 0). */
export const uprightFrame = (at: Vec, along: Vec): Frame => ({
  origin: { x: at.x, y: at.y, z: 0 },
  x: { x: along.x, y: along.y, z: 0 },
  y: { x: 0, y: 0, z: 1 },
  z: { x: along.y, y: -along.x, z: 0 },
});

/** Chords leave their arc by no more than this. */
const SAGITTA_MM = 0.1;
const CHORDS_MOST = 720;

/** A closed outline with its arcs as chords whose vertices lie on the arc. */
export const straightOutline = (outline: readonly PathVertex[]): Vec[] =>
  outline.flatMap((p, i): Vec[] => {
    const q = outline[(i + 1) % outline.length]!;
    const sweep = 4 * Math.atan(p.bulge);
    const chord = Math.hypot(q.x - p.x, q.y - p.y);
    const half = Math.abs(sweep) / 2;
    const radius = chord / (2 * Math.sin(half));
    if (!(Math.abs(sweep) > 1e-9) || !(chord > 0) || !Number.isFinite(radius)) return [{ x: p.x, y: p.y }];
    const step = 2 * Math.acos(Math.max(0, 1 - SAGITTA_MM / radius));
    const n = Math.max(2, Math.min(CHORDS_MOST, Math.ceil(Math.abs(sweep) / step)));
    // From the middle of the chord to the centre, to the left of the chord for an anticlockwise arc of less than half a turn.
    const rise = (radius * Math.cos(half) * Math.sign(sweep)) / chord;
    const centre = { x: (p.x + q.x) / 2 - (q.y - p.y) * rise, y: (p.y + q.y) / 2 + (q.x - p.x) * rise };
    const from = Math.atan2(p.y - centre.y, p.x - centre.x);
    const on = Array.from({ length: n - 1 }, (_, k): Vec => {
      const a = from + (sweep * (k + 1)) / n;
      return { x: centre.x + radius * Math.cos(a), y: centre.y + radius * Math.sin(a) };
    });
    return [{ x: p.x, y: p.y }, ...on];
  });

/** The solids that a solid is combined of, in order; a chain of any length, without recursion. */
export const leavesOf = (solid: Solid): Solid[] => {
  const leaves: Solid[] = [];
  const open: Solid[] = [solid];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (next.kind === 'prism' || next.kind === 'mesh' || next.kind === 'half-space') leaves.push(next);
    else open.push(next.second, next.first);
  }
  return leaves;
};

const finite3 = (...vs: readonly Vec3[]): boolean =>
  vs.every((v) => Number.isFinite(v.x) && Number.isFinite(v.y) && Number.isFinite(v.z));
const finiteFrame = (f: Frame): boolean => finite3(f.origin, f.x, f.y, f.z);
const finiteOutline = (o: readonly PathVertex[]): boolean =>
  o.every((v) => Number.isFinite(v.x) && Number.isFinite(v.y) && Number.isFinite(v.bulge));

/** Are all numbers finite, and those of bodies within reach of the place? */
export const isUsableSolid = (solid: Solid, from: Vec): boolean => {
  const near = (p: Vec3): boolean =>
    Math.abs(p.x - from.x) <= REACH_MOST_MM &&
    Math.abs(p.y - from.y) <= REACH_MOST_MM &&
    Math.abs(p.z) <= REACH_MOST_MM;
  return leavesOf(solid).every((s) => {
    if (s.kind === 'prism')
      return (
        finiteFrame(s.frame) &&
        finite3(s.direction) &&
        near(s.frame.origin) &&
        Math.abs(s.depthMm) <= REACH_MOST_MM &&
        s.outlines.every((o) => finiteOutline(o) && o.every((v) => near(outOf(s.frame, v))))
      );
    if (s.kind === 'mesh') return s.points.every(near);
    if (s.kind !== 'half-space') return false;
    const bounded = s.boundary === null || (finiteFrame(s.boundary.frame) && finiteOutline(s.boundary.outline));
    return bounded && finite3(s.origin, s.normal);
  });
};
