/** Walls that stand already, beside those that are to be cast: where they leave no room for forms (rule T21). */

import { cross, distance, dot, leftOf, sub, unit, type Vec } from '../ground/plane.js';
import { WALL_LEAST_MM, WALL_MOST_MM } from '../ground/tolerance.js';
import type { DrawingPath, Side, WallStretch } from '../ground/vocabulary.js';
import { type Interval, overlap, totalLength, union } from './intervals.js';
import { LINES_MOST } from './limits.js';
import { readName, WALL_KINDS } from './names/reading.js';
import { collectSegments, lowerCorner, toDrawingMm } from './segments.js';

/** Nearer to a face than this no frame stands between. *Practice, no source.* */
const TOUCHING_MM = 100;
/** Nearer than this nobody sets, clamps and strikes forms there. *Practice, no source.* */
export const ROOM_MM = 600;
/** A line drawn a little within the concrete still stands at its face. */
const WITHIN_MM = 5;
/** What stands is surveyed, and hardly ever parallel to what is drawn: radians, two degrees. *Practice, no source.* */
const BESIDE_RAD = 0.035;
/** Shares of the wall's length, and a length, from which on it counts. *Practice, no source.* */
const TOUCHING_SHARE = 0.5;
const BESIDE_LEAST_MM = 600;

export interface StandingBeside {
  readonly stretch: WallStretch;
  readonly side: Side;
  /**
   * `against`: along half of the face or more no frame fits between them; `touching`: along a part of it; `within`: it stands in the concrete itself; `near`:
   * there is little room, or what is there may be no wall.
   */
  readonly how: 'against' | 'touching' | 'within' | 'near';
  /** Least distance from the face, and over what length it is near, mm. */
  readonly awayMm: number;
  readonly lengthMm: number;
  /** Middle of what is near, on the wall's axis; mm in the drawing's axes. */
  readonly at: Vec;
  readonly layers: readonly string[];
}

const WALLS: ReadonlySet<string> = new Set(WALL_KINDS);
/** What lies over or under the walls, not beside them. */
const ELSEWHERE = /ABOVE|OVERHEAD|OVER(?!\p{L})|BELOW|UNDER|FTG|FOOT|DEMO/iu;

/** Is a layer by its name one of walls that stand already, or one of what stands without saying what? */
const standingOn = (layer: string): 'wall' | 'something' | null => {
  const { kind, asNew, state } = readName(layer);
  if (kind !== 'not-new' || state !== 'existing' || ELSEWHERE.test(layer)) return null;
  return asNew === 'silent' ? 'something' : WALLS.has(asNew) ? 'wall' : null;
};

interface Beside extends Interval {
  /** From the face outwards, where it is nearest and farthest, mm. */
  readonly awayMm: number;
  readonly farMm: number;
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
  const layers = new Set(paths.map((p) => p.layer));
  const stands = new Map([...layers].map((layer) => [layer, taken.includes(layer) ? null : standingOn(layer)]));
  const own = paths.filter((p) => stands.get(p.layer));
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
        if (long <= 0 || Math.abs(cross(u, sub(l.b, l.a))) > BESIDE_RAD * long) return [];
        const ends = [sub(l.a, stretch.start), sub(l.b, stretch.start)].map((p) => ({
          s: dot(p, u),
          y: out * dot(p, n) - half(stretch),
        }));
        const [p, q] = ends.sort((x, y) => x.s - y.s) as [(typeof ends)[0], (typeof ends)[0]];
        const along = overlap({ a: p.s, b: q.s }, { a: 0, b: lengthMm });
        if (!along || along.b <= along.a) return [];
        // Its distance where it runs beside the stretch, not beyond it.
        const at = (x: number) => p.y + ((q.y - p.y) * (x - p.s)) / Math.max(q.s - p.s, 1e-9);
        const [low, high] = [at(along.a), at(along.b)].sort((x, y) => x - y) as [number, number];
        if (high < -stretch.thicknessMm + WITHIN_MM || low > TOUCHING_MM + WALL_MOST_MM) return [];
        return [{ ...along, awayMm: low, farMm: high, layer: l.layer }];
      });
    });
    const least = Math.min(BESIDE_LEAST_MM, TOUCHING_SHARE * lengthMm);
    const lengthOf = (list: readonly Beside[]) => totalLength(union(list));
    const found = (side: Side, how: StandingBeside['how'], used: readonly Beside[]): StandingBeside => {
      const s = (Math.min(...used.map((x) => x.a)) + Math.max(...used.map((x) => x.b))) / 2;
      return {
        stretch,
        side,
        how,
        awayMm: Math.max(0, Math.min(...used.map((x) => x.awayMm))),
        lengthMm: lengthOf(used),
        at: { x: stretch.start.x + u.x * s, y: stretch.start.y + u.y * s },
        layers: [...new Set(used.map((x) => x.layer))].sort(),
      };
    };
    const isWall = (x: Beside) => stands.get(x.layer) === 'wall';
    // A face of what stands inside the concrete is seen from both sides: it is said once.
    const inside = beside[0]!.filter(
      (x) => isWall(x) && x.farMm < -WITHIN_MM && x.awayMm > -stretch.thicknessMm + WITHIN_MM,
    );
    if (lengthOf(inside) >= least) return [found('left', 'within', inside)];
    return (['left', 'right'] as const).flatMap((side, i): StandingBeside[] => {
      const outside = beside[i]!.filter((x) => x.farMm >= -WITHIN_MM);
      const near = outside.filter((x) => x.awayMm < ROOM_MM);
      if (lengthOf(near) < least) return [];
      const touching = near.filter((x) => isWall(x) && x.farMm < TOUCHING_MM);
      // Its own far face tells a wall from a line.
      const backs = outside.filter((x) => touching.some((t) => x.farMm - t.awayMm >= WALL_LEAST_MM));
      const alongMm = Math.min(lengthOf(touching), lengthOf(backs));
      if (alongMm >= TOUCHING_SHARE * lengthMm) return [found(side, 'against', touching)];
      return [alongMm >= least ? found(side, 'touching', touching) : found(side, 'near', near)];
    });
  });
};
