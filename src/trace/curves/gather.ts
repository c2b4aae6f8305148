/** Paths → arcs as drawn and straight pieces, each known by the path and the place in it that drew it. */

import { byText, comparePoints, inOrder } from '../../ground/order.js';
import { distance, type Vec } from '../../ground/plane.js';
import type { DrawingPath } from '../../ground/vocabulary.js';
import { NO_LENGTH_MM, REACH_MOST_MM } from '../limits.js';
import { type LocalFrame, toLocal } from '../segments.js';
import { arcOfBulge, type Circle, type Sweep } from './circle.js';

/** Which piece of linework: the place of the path in the list and of the piece in the path. Holds for one list of paths only. */
export type PieceKey = `${number}:${number}`;

export interface Chord {
  /** Lower end (x, then y) first. */
  readonly a: Vec;
  readonly b: Vec;
  readonly source: string;
  readonly layer: string;
  readonly entity: string;
  readonly key: PieceKey;
}

/** One arc as it stands in the drawing, or a chain of chords that lies on a circle. */
export interface ArcPiece extends Circle, Sweep {
  readonly sources: readonly string[];
  readonly layer: string;
  readonly entity: string;
  readonly keys: readonly PieceKey[];
  /** Chords: how far their ends lie off the circle; 0 for an arc that was drawn as one. */
  readonly offMm: number;
  readonly chords: number;
}

export interface Gathered {
  readonly arcs: readonly ArcPiece[];
  readonly chords: readonly Chord[];
}

type Area = readonly [number, number, number, number] | null;

/** Types that are curved by themselves: their chords are no straight walls. */
export const CURVED: ReadonlySet<string> = new Set(['ARC', 'CIRCLE', 'ELLIPSE', 'SPLINE', 'HELIX']);
const FILLED: ReadonlySet<string> = new Set(['HATCH', 'MPOLYGON', 'SOLID', 'TRACE', '3DFACE', 'WIPEOUT', 'IMAGE']);

const inside = (area: Area, p: Vec): boolean =>
  area === null ||
  (p.x >= Math.min(area[0], area[2]) &&
    p.x <= Math.max(area[0], area[2]) &&
    p.y >= Math.min(area[1], area[3]) &&
    p.y <= Math.max(area[1], area[3]));

const within = (p: Vec): boolean => Math.abs(p.x) <= REACH_MOST_MM && Math.abs(p.y) <= REACH_MOST_MM;

/** Arcs and chords of the paths. What is not usable or not wholly in the area (drawing units) is passed over: the straight tracing counts it. */
export const gather = (paths: readonly DrawingPath[], frame: LocalFrame, area: Area): Gathered => {
  const arcs: ArcPiece[] = [];
  const chords: Chord[] = [];
  paths.forEach((path, k) => {
    const { source, layer, entity, vertices } = path;
    if (FILLED.has(entity)) return;
    const count = path.closed ? vertices.length : vertices.length - 1;
    for (let i = 0; i < count; i++) {
      const p = vertices[i]!;
      const q = vertices[(i + 1) % vertices.length]!;
      const a = toLocal(frame, p);
      const b = toLocal(frame, q);
      if (!within(a) || !within(b) || !Number.isFinite(p.bulge) || distance(a, b) < NO_LENGTH_MM) continue;
      if (!inside(area, p) || !inside(area, q)) continue;
      const key: PieceKey = `${k}:${i}`;
      if (p.bulge === 0) {
        const [low, high] = comparePoints(a, b) <= 0 ? [a, b] : [b, a];
        chords.push({ a: low, b: high, source, layer, entity, key });
      } else {
        const arc = arcOfBulge(a, b, p.bulge);
        // A bulge of a hair's breadth has its centre beyond all numbers: a straight piece.
        if (!within(arc.centre) || !(arc.radius > NO_LENGTH_MM)) continue;
        arcs.push({ ...arc, sources: [source], layer, entity, keys: [key], offMm: 0, chords: 0 });
      }
    }
  });
  chords.sort(
    inOrder<Chord>(
      (s, t) => comparePoints(s.a, t.a),
      (s, t) => comparePoints(s.b, t.b),
      byText((s) => s.source),
      byText((s) => s.layer),
    ),
  );
  return { arcs, chords };
};

/** The paths without the pieces in `taken`, bent pieces in `straight` as straight ones; each unbroken rest is a path of its own. */
export const withoutPieces = (
  paths: readonly DrawingPath[],
  taken: ReadonlySet<PieceKey>,
  straight: ReadonlySet<PieceKey>,
): DrawingPath[] =>
  paths.flatMap((path, k) => {
    const n = path.vertices.length;
    const count = path.closed ? n : n - 1;
    const keyOf = (i: number): PieceKey => `${k}:${i}`;
    let touched = false;
    for (let i = 0; i < count; i++) touched ||= taken.has(keyOf(i)) || straight.has(keyOf(i));
    // What is left of a curve is no curve any more: it lies outside the area, has no length, or is a straight line.
    const entity = CURVED.has(path.entity) ? 'LWPOLYLINE' : path.entity;
    if (!touched) return [entity === path.entity ? path : { ...path, entity }];
    const out: DrawingPath[] = [];
    let open: { x: number; y: number; bulge: number }[] = [];
    const close = () => {
      if (open.length > 1) out.push({ ...path, entity, closed: false, vertices: open });
      open = [];
    };
    for (let i = 0; i < count; i++) {
      if (taken.has(keyOf(i))) {
        close();
        continue;
      }
      const p = path.vertices[i]!;
      const q = path.vertices[(i + 1) % n]!;
      if (open.length === 0) open.push(p);
      const last = open.at(-1)!;
      open[open.length - 1] = { x: last.x, y: last.y, bulge: straight.has(keyOf(i)) ? 0 : p.bulge };
      open.push({ x: q.x, y: q.y, bulge: 0 });
    }
    close();
    return out;
  });
