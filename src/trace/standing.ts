/** Walls that stand already, beside those that are to be cast: where they leave no room for forms (rule T21). */

import { cross, distance, dot, leftOf, sub, unit, type Vec } from '../ground/plane.js';
import { PARALLEL_RAD, WALL_LEAST_MM, WALL_MOST_MM } from '../ground/tolerance.js';
import type { DrawingPath, Side, WallStretch } from '../ground/vocabulary.js';
import { type Interval, overlap, totalLength, union } from './intervals.js';
import { LINES_MOST } from './limits.js';
import { readName } from './names/reading.js';
import { collectSegments, lowerCorner, toDrawingMm } from './segments.js';

/** Nearer to a face than this no frame stands between. *Practice, no source.* */
const TOUCHING_MM = 100;
/** Nearer than this nobody sets, clamps and strikes forms there. *Practice, no source.* */
export const ROOM_MM = 600;
/** A line drawn a little within the concrete still stands at its face. */
const WITHIN_MM = 5;
/** Shares of the wall's length, and a length, from which on it counts. *Practice, no source.* */
const TOUCHING_SHARE = 0.5;
const BESIDE_LEAST_MM = 600;

export interface StandingBeside {
  readonly stretch: WallStretch;
  readonly side: Side;
  /** The face is cast against it; else it is only near. */
  readonly isTouching: boolean;
  /** Least distance from the face, and over what length it is near, mm. */
  readonly awayMm: number;
  readonly lengthMm: number;
  /** Middle of what is near, on the wall's axis; mm in the drawing's axes. */
  readonly at: Vec;
  readonly layers: readonly string[];
}

/** Is a layer by its name one of walls that stand already? */
const holdsStanding = (layer: string): boolean => {
  const { kind, asNew, state } = readName(layer);
  return kind === 'not-new' && state === 'existing' && asNew !== 'silent';
};

interface Beside extends Interval {
  /** From the face outwards, mm. */
  readonly awayMm: number;
  readonly layer: string;
}

const half = ({ thicknessMm }: WallStretch): number => thicknessMm / 2;

/**
 * Standing walls beside the stretches, by side; `taken`: layers that were taken as walls to be cast.
 *
 * @param paths drawing units
 * @returns in the order of the stretches, left before right
 */
export const standingBeside = (
  paths: readonly DrawingPath[],
  stretches: readonly WallStretch[],
  taken: readonly string[],
  mmPer: number,
): readonly StandingBeside[] => {
  const own = paths.filter((p) => holdsStanding(p.layer) && !taken.includes(p.layer));
  if (own.length === 0) return [];
  const frame = { origin: lowerCorner(own), mmPer };
  const { segments } = collectSegments(own, frame, null);
  if (segments.length > LINES_MOST) return [];
  const lines = segments.map((s) => ({ ...s, a: toDrawingMm(frame, s.a), b: toDrawingMm(frame, s.b) }));
  return stretches.flatMap((stretch) => {
    const lengthMm = distance(stretch.start, stretch.end);
    if (lengthMm <= 0) return [];
    const u = unit(sub(stretch.end, stretch.start));
    const n = leftOf(u);
    const beside = (['left', 'right'] as const).map((side) => {
      const out = side === 'left' ? 1 : -1;
      return lines.flatMap((l): Beside[] => {
        const long = distance(l.a, l.b);
        if (long <= 0 || Math.abs(cross(u, sub(l.b, l.a))) > PARALLEL_RAD * long) return [];
        const [p, q] = [sub(l.a, stretch.start), sub(l.b, stretch.start)];
        const awayMm = out * ((dot(p, n) + dot(q, n)) / 2) - half(stretch);
        const [a, b] = [dot(p, u), dot(q, u)].sort((x, y) => x - y) as [number, number];
        const along = overlap({ a, b }, { a: 0, b: lengthMm });
        if (!along || awayMm < -WITHIN_MM || awayMm > TOUCHING_MM + WALL_MOST_MM) return [];
        return [{ ...along, awayMm, layer: l.layer }];
      });
    });
    return (['left', 'right'] as const).flatMap((side, i): StandingBeside[] => {
      const near = beside[i]!.filter((x) => x.awayMm < ROOM_MM);
      const nearMm = totalLength(union(near));
      if (nearMm < Math.min(BESIDE_LEAST_MM, TOUCHING_SHARE * lengthMm)) return [];
      const touching = near.filter((x) => x.awayMm < TOUCHING_MM);
      // Its own far face tells a wall from a line.
      const backs = beside[i]!.filter((x) =>
        touching.some((t) => x.awayMm - t.awayMm >= WALL_LEAST_MM && x.awayMm - t.awayMm <= WALL_MOST_MM),
      );
      const [touchingMm, backMm] = [touching, backs].map((list) => totalLength(union(list))) as [number, number];
      const isTouching = Math.min(touchingMm, backMm) >= TOUCHING_SHARE * lengthMm;
      const used = isTouching ? touching : near;
      const [from, to] = [Math.min(...used.map((x) => x.a)), Math.max(...used.map((x) => x.b))];
      const s = (from + to) / 2;
      return [
        {
          stretch,
          side,
          isTouching,
          awayMm: Math.max(0, Math.min(...used.map((x) => x.awayMm))),
          lengthMm: isTouching ? touchingMm : nearMm,
          at: { x: stretch.start.x + u.x * s, y: stretch.start.y + u.y * s },
          layers: [...new Set(used.map((x) => x.layer))].sort(),
        },
      ];
    });
  });
};
