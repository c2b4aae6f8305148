/** Inside and outside of walls: a face is inside where a closed room lies before it, or where the corners of an open foundation turn to it. */

import { facePoint } from '../../ground/arcs.js';
import { cross, sub, type Vec } from '../../ground/plane.js';
import { roomsOf } from '../../ground/rooms.js';
import type { Run, Side } from '../../ground/vocabulary.js';
import type { Context } from '../context.js';
import type { SideWish } from './options.js';

export const other = (side: Side): Side => (side === 'left' ? 'right' : 'left');

/** How far before a face is looked whether a room lies there, and at how many places along it: stems stand before some. */
const BEFORE_MM = 10;
const LOOKS = 7;

/** Whether a point lies within a ring: crossings of a ray to the right. */
const isWithin = (p: Vec, ring: readonly Vec[]): boolean => {
  let inside = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y === b.y > p.y) return;
    const side = cross(sub(b, a), sub(p, a));
    if (b.y > a.y ? side > 0 : side < 0) inside = !inside;
  });
  return inside;
};

export interface WallSides {
  /** The side that looks outwards, of both that do, or neither, the one that is taken for it. */
  readonly outside: (run: Run) => Side;
  /** Whether no room lies before that side. */
  readonly isOpen: (run: Run, side: Side) => boolean;
}

export const wallSides = (ctx: Context): WallSides => {
  const rooms = roomsOf(ctx.plan);
  const known = new Map<string, number>();
  const areaBefore = (run: Run, side: Side): number => {
    const key = `${run.id} ${side}`;
    const area = known.get(key) ?? lookBefore(run, side);
    known.set(key, area);
    return area;
  };
  const lookBefore = (run: Run, side: Side): number => {
    const wall = ctx.walls.get(run.wall)!;
    const [from, to] = side === 'left' ? [run.start.leftMm, run.end.leftMm] : [run.start.rightMm, run.end.rightMm];
    const areas = Array.from({ length: LOOKS }, (_, i) => {
      const p = facePoint(wall, side, from + ((to - from) * (i + 1)) / (LOOKS + 1), BEFORE_MM);
      return rooms.find((room) => isWithin(p, room.ring))?.areaMm2 ?? 0;
    });
    return Math.max(...areas);
  };
  /** Corners at which a side is the inner one, less those at which it is the outer. */
  const turns = (run: Run, side: Side): number =>
    [run.start, run.end].reduce((n, e) => n + (e.kind === 'corner' ? (e.inner === side ? 1 : -1) : 0), 0) +
    run.stems.reduce((n, s) => n + (s.side === side ? 1 : -1), 0);
  const outside = (run: Run): Side => {
    const [left, right] = [areaBefore(run, 'left'), areaBefore(run, 'right')];
    const isLeftOpen = left === 0;
    if (isLeftOpen !== (right === 0)) return isLeftOpen ? 'left' : 'right';
    // Between two rooms the larger has more space for braces.
    if (left > 0 && Math.abs(left - right) > 1) return left > right ? 'left' : 'right';
    return turns(run, 'left') > turns(run, 'right') ? 'right' : 'left';
  };
  return { outside, isOpen: (run, side) => areaBefore(run, side) === 0 };
};

/** The side of a run that a wish means. */
export const sideFor = (sides: WallSides, run: Run, wish: SideWish): Side =>
  wish === 'outside' ? sides.outside(run) : wish === 'inside' ? other(sides.outside(run)) : wish;
