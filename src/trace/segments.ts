/** Paths of the drawing → straight segments in local mm, with what could not be taken counted and placed. */

import { byText, comparePoints, inOrder } from '../ground/order.js';
import { distance, type Vec } from '../ground/plane.js';
import type { DrawingPath } from '../ground/vocabulary.js';
import { NO_LENGTH_MM, REACH_MOST_MM } from './limits.js';

/** Where the local axes lie: local = (drawing - origin) * mmPer. Keeps differences exact at huge coordinates. */
export interface LocalFrame {
  /** Drawing units. */
  readonly origin: Vec;
  readonly mmPer: number;
}

export const toLocal = (frame: LocalFrame, p: Vec): Vec => ({
  x: (p.x - frame.origin.x) * frame.mmPer,
  y: (p.y - frame.origin.y) * frame.mmPer,
});
/** Local mm → mm in the drawing's own axes. */
export const toDrawingMm = (frame: LocalFrame, p: Vec): Vec => ({
  x: p.x + frame.origin.x * frame.mmPer,
  y: p.y + frame.origin.y * frame.mmPer,
});

/** A straight piece of linework; `a` is its lower end (x, then y), so that the direction in which it was drawn does not matter. */
export interface Segment {
  readonly a: Vec;
  readonly b: Vec;
  readonly source: string;
  readonly layer: string;
}

/** Something on a wall layer that is not straight linework. */
export interface Unstraight {
  readonly kind: 'curve' | 'fill';
  readonly entity: string;
  readonly layer: string;
  readonly source: string;
  readonly at: Vec;
}

export interface SegmentSet {
  readonly segments: readonly Segment[];
  readonly unstraight: readonly Unstraight[];
  readonly zeroLength: readonly string[];
  /** Coordinates that are no finite numbers, or too far from the rest. */
  readonly unusable: readonly string[];
  readonly outsideArea: readonly string[];
}

/** Types that readers hand on as curves or as fans of short chords. */
const CURVED = new Set(['ARC', 'CIRCLE', 'ELLIPSE', 'SPLINE', 'HELIX']);
const FILLED = new Set(['HATCH', 'MPOLYGON', 'SOLID', 'TRACE', '3DFACE', 'WIPEOUT', 'IMAGE']);
/** A bulge below this bends by less than 0.1 mm per m of chord: straight. */
const STRAIGHT_BULGE = 1e-4;

/** Lower left corner of the linework, drawing units; the origin when there is none. Not finite points are passed over. */
export const lowerCorner = (paths: readonly DrawingPath[]): Vec => {
  let x = Infinity;
  let y = Infinity;
  for (const path of paths) {
    for (const v of path.vertices) {
      if (Number.isFinite(v.x) && v.x < x) x = v.x;
      if (Number.isFinite(v.y) && v.y < y) y = v.y;
    }
  }
  return { x: Number.isFinite(x) ? x : 0, y: Number.isFinite(y) ? y : 0 };
};

type Area = readonly [number, number, number, number] | null;

const inside = (area: Area, p: Vec): boolean =>
  area === null ||
  (p.x >= Math.min(area[0], area[2]) &&
    p.x <= Math.max(area[0], area[2]) &&
    p.y >= Math.min(area[1], area[3]) &&
    p.y <= Math.max(area[1], area[3]));

/**
 * Straight segments of the paths, sorted by their ends and source. `area` is in drawing units: a segment that is not wholly inside
 * it is left out and counted.
 */
export const collectSegments = (paths: readonly DrawingPath[], frame: LocalFrame, area: Area): SegmentSet => {
  const segments: Segment[] = [];
  const unstraight: Unstraight[] = [];
  const zeroLength: string[] = [];
  const unusable: string[] = [];
  const outsideArea: string[] = [];
  for (const path of paths) {
    const n = path.vertices.length;
    const { source, layer, entity } = path;
    const first = path.vertices[0];
    if (first === undefined) continue;
    if (CURVED.has(entity) || FILLED.has(entity)) {
      if (inside(area, first)) {
        const kind = CURVED.has(entity) ? 'curve' : 'fill';
        unstraight.push({ kind, entity, layer, source, at: toLocal(frame, first) });
      }
      continue;
    }
    const count = path.closed ? n : n - 1;
    let seen = 0;
    for (let i = 0; i < count; i++) {
      const p = path.vertices[i]!;
      const q = path.vertices[(i + 1) % n]!;
      const a = toLocal(frame, p);
      const b = toLocal(frame, q);
      if (distance(a, b) < NO_LENGTH_MM) continue;
      seen++;
      if (![a.x, a.y, b.x, b.y].every((c) => Math.abs(c) <= REACH_MOST_MM)) unusable.push(source);
      else if (!inside(area, p) || !inside(area, q)) outsideArea.push(source);
      else if (Math.abs(p.bulge) > STRAIGHT_BULGE) unstraight.push({ kind: 'curve', entity, layer, source, at: a });
      else segments.push(comparePoints(a, b) <= 0 ? { a, b, source, layer } : { a: b, b: a, source, layer });
    }
    if (seen === 0) zeroLength.push(source);
  }
  const order = inOrder<Segment>(
    (p, q) => comparePoints(p.a, q.a),
    (p, q) => comparePoints(p.b, q.b),
    byText((s) => s.source),
    byText((s) => s.layer),
  );
  return {
    segments: segments.sort(order),
    unstraight: unstraight.sort(
      inOrder<Unstraight>(
        (p, q) => comparePoints(p.at, q.at),
        byText((u) => u.source),
      ),
    ),
    zeroLength: zeroLength.sort(),
    unusable: [...new Set(unusable)].sort(),
    outsideArea: [...new Set(outsideArea)].sort(),
  };
};
