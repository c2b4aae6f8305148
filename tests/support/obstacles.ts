/** Things in the way of ties, for tests. */

import type { Obstacle, Vec3 } from '../../src/ground/vocabulary.js';

/** The six sides of a box whose corners count through x, y and z, z fastest. */
const SIDES = [
  [0, 1, 3, 2],
  [4, 5, 7, 6],
  [0, 1, 5, 4],
  [2, 3, 7, 6],
  [0, 2, 6, 4],
  [1, 3, 7, 5],
] as const;

/** A sleeve in the shape of a box between two corners. */
export const boxSleeve = (low: Vec3, high: Vec3): Obstacle => ({
  id: 'sleeve-1',
  name: 'DN 100',
  what: 'sleeve',
  points: [low.x, high.x].flatMap((x) => [low.y, high.y].flatMap((y) => [low.z, high.z].map((z) => ({ x, y, z })))),
  triangles: SIDES.flatMap(([a, b, c, d]) => [[a, b, c] as const, [a, c, d] as const]),
});
