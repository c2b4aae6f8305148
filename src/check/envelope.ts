/** Exact integrals of a pressure envelope, which is linear between its points. Depths and levels in mm, pressure in kPa. */

import type { Envelope } from '../ground/vocabulary.js';

/** Pressure at a depth below the pour line: 0 above it, linear between the points, constant below the last. kPa. */
export const pressureAt = (envelope: Envelope, depthMm: number): number => {
  if (depthMm <= 0) return 0;
  let before = { depthMm: 0, kpa: 0 };
  for (const point of envelope.points) {
    if (depthMm <= point.depthMm) {
      const span = point.depthMm - before.depthMm;
      if (span <= 0) return point.kpa;
      return before.kpa + ((point.kpa - before.kpa) * (depthMm - before.depthMm)) / span;
    }
    before = point;
  }
  return before.kpa;
};

/** A stretch of height on which the pressure is linear: from a lower to an upper level. */
export interface LinearPiece {
  readonly lowMm: number;
  readonly highMm: number;
  readonly lowKpa: number;
  readonly highKpa: number;
}

/** The load between two levels as linear pieces from below; empty where there is no concrete. */
export const linearPieces = (envelope: Envelope, pourMm: number, fromMm: number, toMm: number): LinearPiece[] => {
  const high = Math.min(toMm, pourMm);
  if (high <= fromMm) return [];
  const breaks = envelope.points.map((p) => pourMm - p.depthMm).filter((z) => z > fromMm && z < high);
  const levels = [...new Set([fromMm, ...breaks, high])].sort((a, b) => a - b);
  return levels.slice(1).map((top, i) => {
    const low = levels[i]!;
    return {
      lowMm: low,
      highMm: top,
      lowKpa: pressureAt(envelope, pourMm - low),
      highKpa: pressureAt(envelope, pourMm - top),
    };
  });
};

/** Force of such pieces per metre of wall, kN/m. */
export const forceOf = (pieces: readonly LinearPiece[]): number =>
  pieces.reduce((sum, p) => sum + ((p.lowKpa + p.highKpa) / 2) * ((p.highMm - p.lowMm) / 1000), 0);

/** Force per metre of wall between two levels, kN/m. */
export const forceBetween = (envelope: Envelope, pourMm: number, fromMm: number, toMm: number): number =>
  forceOf(linearPieces(envelope, pourMm, fromMm, toMm));

/** Moment of such pieces about a level, kNm/m: positive where they press above it. */
export const momentOf = (pieces: readonly LinearPiece[], aboutMm: number): number =>
  pieces.reduce((sum, p) => {
    const l = (p.highMm - p.lowMm) / 1000;
    const arm = (p.lowMm - aboutMm) / 1000;
    return sum + ((p.lowKpa + p.highKpa) / 2) * l * arm + (l * l * (p.lowKpa + 2 * p.highKpa)) / 6;
  }, 0);

/** Moment of the force between two levels about the lower one, kNm/m. */
export const momentAbout = (envelope: Envelope, pourMm: number, fromMm: number, toMm: number): number =>
  momentOf(linearPieces(envelope, pourMm, fromMm, toMm), fromMm);
