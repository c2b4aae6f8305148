/**
 * The axes in which the forms of one wall are placed: origin at the foot of the wall's start, x along its axis, y to its left, z up. Stations are x there,
 * so that every number is small and can be read.
 */

import { cross, dot, sub, unit, type Vec } from '../../ground/plane.js';
import type { Vec3, Wall } from '../../ground/vocabulary.js';

export interface WallFrame {
  readonly wall: Wall;
  readonly footMm: number;
  readonly along: Vec;
  /** A place in plan and a level, in these axes. */
  readonly point: (at: Vec, levelMm: number) => Vec3;
  /** A direction in plan, in these axes. */
  readonly turn: (direction: Vec) => Vec3;
}

export const wallFrame = (wall: Wall): WallFrame => {
  const footMm = wall.base.length > 0 ? Math.min(...wall.base.map((b) => b.levelMm)) : 0;
  const along = unit(sub(wall.end, wall.start));
  const turned = (v: Vec): Vec => ({ x: dot(along, v), y: cross(along, v) });
  return {
    wall,
    footMm,
    along,
    point: (at, levelMm) => ({ ...turned(sub(at, wall.start)), z: levelMm - footMm }),
    turn: (direction) => ({ ...turned(direction), z: 0 }),
  };
};
