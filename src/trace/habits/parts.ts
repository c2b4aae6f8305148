/** Paths → the straight and curved pieces of which axes are made, in local mm, with what cannot serve handed back as it was. */

import { byText, comparePoints, inOrder } from '../../ground/order.js';
import { distance, type Vec } from '../../ground/plane.js';
import type { DrawingPath, PathVertex } from '../../ground/vocabulary.js';
import { NO_LENGTH_MM, REACH_MOST_MM } from '../limits.js';
import { type LocalFrame, toLocal } from '../segments.js';

export interface StraightPart {
  /** Lower end (x, then y). */
  readonly a: Vec;
  readonly b: Vec;
  readonly source: string;
  readonly layer: string;
  readonly path: DrawingPath;
}

export interface CurvedPart {
  readonly a: Vec;
  readonly b: Vec;
  /** From a to b. */
  readonly bulge: number;
  readonly source: string;
  readonly layer: string;
  readonly path: DrawingPath;
}

export interface Parts {
  readonly straight: readonly StraightPart[];
  readonly curved: readonly CurvedPart[];
  /** Pieces without length, outside the area or without usable coordinates, as paths: pairing reports them. */
  readonly refused: readonly DrawingPath[];
}

/** By ends and source, so that the order of the drawing does not matter. */
const partOrder = inOrder<StraightPart>(
  (p, q) => comparePoints(p.a, q.a),
  (p, q) => comparePoints(p.b, q.b),
  byText((p) => p.source),
);

export const sortedParts = (parts: readonly StraightPart[]): StraightPart[] => [...parts].sort(partOrder);

export type TraceArea = readonly [number, number, number, number] | null;

/** A bulge below this bends by less than 0.1 mm per m of chord: straight. */
const STRAIGHT_BULGE = 1e-4;

/** Is a place (drawing units) inside the area of the job file? */
export const insideArea = (area: TraceArea, p: Vec): boolean =>
  area === null ||
  (p.x >= Math.min(area[0], area[2]) &&
    p.x <= Math.max(area[0], area[2]) &&
    p.y >= Math.min(area[1], area[3]) &&
    p.y <= Math.max(area[1], area[3]));

export const isBent = (bulge: number): boolean => Math.abs(bulge) > STRAIGHT_BULGE;

const usable = (p: Vec): boolean => Math.abs(p.x) <= REACH_MOST_MM && Math.abs(p.y) <= REACH_MOST_MM;

/** A plain open path of two vertices with the names of another. */
export const pieceOf = (path: DrawingPath, p: PathVertex, q: Vec): DrawingPath => ({
  ...path,
  vertices: [p, { x: q.x, y: q.y, bulge: 0 }],
  closed: false,
  width: 0,
  fill: null,
});

export const partsOf = (paths: readonly DrawingPath[], frame: LocalFrame, area: TraceArea): Parts => {
  const straight: StraightPart[] = [];
  const curved: CurvedPart[] = [];
  const refused: DrawingPath[] = [];
  for (const path of paths) {
    const { source, layer } = path;
    const n = path.vertices.length;
    let length = 0;
    for (let i = 0; i < (path.closed ? n : n - 1); i++) {
      const p = path.vertices[i]!;
      const q = path.vertices[(i + 1) % n]!;
      const [a, b] = [toLocal(frame, p), toLocal(frame, q)];
      const mm = distance(a, b);
      if (mm < NO_LENGTH_MM) continue;
      length++;
      if (!(usable(a) && usable(b)) || !insideArea(area, p) || !insideArea(area, q)) refused.push(pieceOf(path, p, q));
      else if (isBent(p.bulge)) curved.push({ a, b, bulge: p.bulge, source, layer, path });
      else {
        const [low, high] = comparePoints(a, b) <= 0 ? [a, b] : [b, a];
        straight.push({ a: low, b: high, source, layer, path });
      }
    }
    if (length === 0 && n > 0) refused.push({ ...path, width: 0, fill: null });
  }
  return { straight, curved, refused };
};
