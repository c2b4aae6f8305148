/** Widths of the strips at a bend. */

import { dot, sub, unit } from '../ground/plane.js';
import type { FacePlan, Taper, Vertex } from '../ground/vocabulary.js';

/**
 * Width of the strip over a vertex, at the concrete and at the back of the frames: the side opposite the angle of 180 - d between its two arms (law of
 * cosines). Behind a re-entrant vertex the arms are D tan(d/2) shorter, behind a salient one as much longer, since the backs of the frames meet there.
 * `edgesMm`: stations at which the forms of each arm's wall end.
 */
export const bendTaper = (
  plan: FacePlan,
  { at, kind, deflectionDeg, arms }: Vertex,
  edgesMm: readonly [number, number],
  depthMm: number,
): Taper => {
  const rad = (deflectionDeg * Math.PI) / 180;
  // Stations are whole steps of the grid; the strip is cut as the vertex lies.
  const reaches = arms.map((arm, i) => {
    const wall = plan.walls.find((w) => w.id === arm.wall)!;
    return arm.direction * (edgesMm[i]! - dot(sub(at, wall.start), unit(sub(wall.end, wall.start))));
  });
  const behindMm = (kind === 're-entrant' ? -1 : 1) * depthMm * Math.tan(rad / 2);
  const width = (moreMm: number): number => {
    const [a, b] = reaches.map((r) => Math.max(0, r + moreMm)) as [number, number];
    return Math.sqrt(a * a + b * b + 2 * a * b * Math.cos(rad));
  };
  return { faceMm: width(0), backMm: width(behindMm) };
};
