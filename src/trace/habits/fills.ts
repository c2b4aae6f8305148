/** Fills (hatches and solids) → areas, and which of them can be the cut through a wall. Local mm. */

import { byText, compareText, inOrder } from '../../ground/order.js';
import { add, distance, scale, type Vec } from '../../ground/plane.js';
import { WALL_LEAST_MM, WALL_MOST_MM } from '../../ground/tolerance.js';
import type { DrawingPath } from '../../ground/vocabulary.js';
import { nameWords, withoutXref } from '../layers.js';
import { NO_LENGTH_MM, REACH_MOST_MM, REPAIR_MM, USUAL_MOST_MM } from '../limits.js';
import { type LocalFrame, toLocal } from '../segments.js';
import { type Area, goesRound, type Ring, twiceArea } from './areas.js';
import { chordsOf } from './curves.js';
import { insideArea, isBent, type TraceArea } from './parts.js';

/** Words for hatching in names of layers. */
const HATCH_WORDS = new Set(
  'patt pattern hatch hatching hatches htch hat schraffur schraffuren arcering arceringen hachure hachures poche poché tratteggio retino sombreado hachura skravering skravur skraffering kreskowanie штриховка fill fills solid'.split(
    ' ',
  ),
);

/** The name of a hatch layer without its words for hatching, S-FNDN-WALL of S-FNDN-WALL-PATT; null when it has none of these. */
export const hatchBase = (layer: string): string | null => {
  // Words at even places, what parts them at odd ones.
  const parts = withoutXref(layer).split(/([^\p{L}\p{M}]+)/u);
  const kept = parts.filter((part, i) => i % 2 === 1 || !HATCH_WORDS.has(part.toLowerCase()));
  if (kept.length === parts.length) return null;
  const rest = kept.join('').replace(/^[-_ .]+|[-_ .]+$/gu, '');
  return nameWords(rest).length > 0 ? rest : null;
};

/** Is `layer` the hatch layer that belongs to one of these: S-FNDN-WALL-PATT to S-FNDN-WALL? */
export const isHatchLayerOf = (layer: string, walls: readonly string[]): boolean => {
  const base = hatchBase(layer);
  const same = (w: string) => nameWords(w).join(' ') === nameWords(base!).join(' ');
  return base !== null && walls.some(same);
};

/** What layers hold, those for hatching with what they are named after. */
export const withHatchLayers =
  <T extends string>(kindOf: (layer: string) => T | 'other') =>
  (layer: string): T | 'other' => {
    const kind = kindOf(layer);
    const base = kind === 'other' ? hatchBase(layer) : null;
    return base === null ? kind : kindOf(base);
  };

export interface FillArea extends Area {
  /** The entity's first outline. */
  readonly source: string;
  readonly pattern: string;
  /** Curved sides, from a to b. */
  readonly arcs: readonly { readonly a: Vec; readonly b: Vec; readonly bulge: number; readonly path: DrawingPath }[];
  /** Thickness of the rectangle of the same area and outline, mm. */
  readonly thicknessMm: number;
  readonly lengthMm: number;
  readonly at: Vec;
}

export type FillVerdict =
  | 'wall'
  | 'its outline is not closed'
  | 'its pattern stands for another material'
  | 'it is too thin for a wall'
  | 'it is too broad for a wall';

export interface JudgedFill {
  readonly area: FillArea;
  readonly verdict: FillVerdict;
}

/** Patterns of the usual pattern files that stand for soil, planting and insulation. */
const OTHER_MATERIAL = /^(EARTH|GRASS|GRAVEL|SWAMP|INSUL|BATTHK|AR-RSHKE|AR-RROOF|WOOD)/;
/** What is thicker than usual walls are is only a wall when it is at least this many times as long as thick. */
const BROAD_ASPECT = 3;
/** A triangle is half of a wall that was filled with two of them. */
const TRIANGLE_SHARE = 0.5;
/** The outline's rounded corners and short ends make a wall seem this much thinner at most. */
const THIN_SHARE = 0.9;

const ringOf = (path: DrawingPath, frame: LocalFrame): { ring: Ring; arcs: FillArea['arcs'] } => {
  const points: Vec[] = [];
  const sources: (string | null)[] = [];
  const arcs: { a: Vec; b: Vec; bulge: number; path: DrawingPath }[] = [];
  const n = path.vertices.length;
  path.vertices.forEach((v, i) => {
    const a = toLocal(frame, v);
    const b = toLocal(frame, path.vertices[(i + 1) % n]!);
    if (distance(a, b) < NO_LENGTH_MM) return;
    if (!isBent(v.bulge)) {
      points.push(a);
      sources.push(path.source);
      return;
    }
    arcs.push({ a, b, bulge: v.bulge, path });
    for (const p of chordsOf(a, b, v.bulge).slice(0, -1)) {
      points.push(p);
      sources.push(null);
    }
  });
  return { ring: { points, sources }, arcs };
};

const isClosed = (path: DrawingPath, frame: LocalFrame): boolean => {
  const [first, last] = [path.vertices[0]!, path.vertices.at(-1)!];
  return path.closed || distance(toLocal(frame, first), toLocal(frame, last)) <= REPAIR_MM;
};

/** Area of the rings with holes taken off, and the length of all of them. */
const measure = (rings: readonly Ring[]): { areaMm2: number; outlineMm: number } => {
  let areaMm2 = 0;
  let outlineMm = 0;
  for (const ring of rings) {
    const depth = rings.filter((r) => r !== ring && goesRound(r.points, ring.points[0]!)).length;
    areaMm2 += ((depth % 2 === 0 ? 1 : -1) * Math.abs(twiceArea(ring.points))) / 2;
    ring.points.forEach((p, i) => {
      outlineMm += distance(p, ring.points[(i + 1) % ring.points.length]!);
    });
  }
  return { areaMm2, outlineMm };
};

/** Sides of the rectangle with this area and outline; a square where there is none so compact. */
const likeRectangle = (areaMm2: number, outlineMm: number): { thicknessMm: number; lengthMm: number } => {
  const half = outlineMm / 2;
  const root = half * half - 4 * areaMm2;
  if (root <= 0) return { thicknessMm: Math.sqrt(areaMm2), lengthMm: Math.sqrt(areaMm2) };
  const thicknessMm = (half - Math.sqrt(root)) / 2;
  return { thicknessMm, lengthMm: half - thicknessMm };
};

const verdictOf = (area: FillArea, closed: boolean): FillVerdict => {
  const { thicknessMm, lengthMm, pattern } = area;
  if (!closed) return 'its outline is not closed';
  if (OTHER_MATERIAL.test(pattern)) return 'its pattern stands for another material';
  const triangle = area.rings.length === 1 && area.rings[0]!.points.length === 3;
  if (thicknessMm < WALL_LEAST_MM * (triangle ? TRIANGLE_SHARE : THIN_SHARE)) return 'it is too thin for a wall';
  const broad = thicknessMm > USUAL_MOST_MM && lengthMm < BROAD_ASPECT * thicknessMm;
  // A square up to a pad's size stays: pairing names it as a pad.
  if (thicknessMm > WALL_MOST_MM || broad) return 'it is too broad for a wall';
  return 'wall';
};

/** The entity's name without the number that tells its further outlines apart. */
export const entityOf = (source: string): string => source.replace(/\.\d+$/, '');

/**
 * Fills as areas, one an entity, sorted by source. Those that are not wholly inside the area of the job file, without usable places or
 * without extent are skipped: pairing counts them.
 */
export const judgeFills = (
  paths: readonly DrawingPath[],
  frame: LocalFrame,
  traceArea: TraceArea,
): { judged: JudgedFill[]; skipped: DrawingPath[] } => {
  const skipped: DrawingPath[] = [];
  const entities = new Map<string, DrawingPath[]>();
  for (const path of paths) {
    const within = path.vertices.every((v) => {
      const p = toLocal(frame, v);
      return Math.abs(p.x) <= REACH_MOST_MM && Math.abs(p.y) <= REACH_MOST_MM && insideArea(traceArea, v);
    });
    if (!within) {
      skipped.push(path);
      continue;
    }
    const key = entityOf(path.source);
    entities.set(key, [...(entities.get(key) ?? []), path]);
  }
  const judged = [...entities]
    .sort((p, q) => compareText(p[0], q[0]))
    .flatMap(([source, list]): JudgedFill[] => {
      const sorted = list.sort(inOrder<DrawingPath>(byText((p) => p.source)));
      const made = sorted.map((p) => ringOf(p, frame)).filter((m) => m.ring.points.length >= 3);
      if (made.length === 0) {
        skipped.push(...list);
        return [];
      }
      const rings = made.map((m) => m.ring);
      const { areaMm2, outlineMm } = measure(rings);
      const points = rings[0]!.points;
      const area: FillArea = {
        rings,
        layer: list[0]!.layer,
        source,
        pattern: list[0]!.fill ?? '',
        arcs: made.flatMap((m) => m.arcs),
        ...likeRectangle(areaMm2, outlineMm),
        at: scale(points.reduce(add), 1 / points.length),
      };
      return [
        {
          area,
          verdict: verdictOf(
            area,
            // A single outline is closed by its last side; of several open ones nothing tells which ends belong together.
            sorted.length === 1 || sorted.every((p) => isClosed(p, frame)),
          ),
        },
      ];
    });
  return { judged, skipped };
};
