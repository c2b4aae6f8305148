/** Axes with a thickness → the faces of their walls as linework, and where their concrete is. */

import { add, distance, scale, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import type { DrawingPath } from '../../ground/vocabulary.js';
import type { LocalFrame } from '../segments.js';
import { type Area, BoxBook, boxOf } from './areas.js';
import { type Axis, type AxisPart, type AxisSet, axisEnds, meetAxes } from './axes.js';
import { bodiesOf } from './bodies.js';
import { arcFaces } from './curves.js';
import { type CurvedPart, pieceOf } from './parts.js';

/** A curved axis with its thickness, mm. */
export interface ThickCurve {
  readonly part: CurvedPart;
  readonly thicknessMm: number;
}

export interface Made {
  /** Bodies of the walls, overlapping where they meet, local mm. */
  readonly areas: readonly Area[];
  /** Faces of curved walls, drawing units. */
  readonly arcs: readonly DrawingPath[];
  /** Curves too tight for their thickness: as they were drawn. */
  readonly tight: readonly DrawingPath[];
  readonly axisSet: AxisSet;
  /** Walls whose bodies lie along each other. */
  readonly alongside: readonly { readonly at: Vec; readonly source: string; readonly other: string }[];
}

export const toDrawing = (frame: LocalFrame, p: Vec): Vec => ({
  x: p.x / frame.mmPer + frame.origin.x,
  y: p.y / frame.mmPer + frame.origin.y,
});

const axisBox = (x: Axis) => boxOf(axisEnds(x));

/** Two walls of one direction whose bodies share concrete over more than the thicker one's thickness. */
const alongsides = (axes: readonly Axis[]): Made['alongside'] => {
  const most = axes.reduce((m, x) => x.pieces.reduce((n, p) => Math.max(n, p.thicknessMm), m), 0);
  const out: { at: Vec; source: string; other: string }[] = [];
  const byDirection = new Map<object, Axis[]>();
  for (const x of axes) byDirection.set(x.direction, [...(byDirection.get(x.direction) ?? []), x]);
  for (const list of byDirection.values()) {
    // Axes come sorted by offset within a direction.
    list.forEach((x, i) => {
      for (let j = i + 1; j < list.length && list[j]!.v - x.v < most; j++) {
        const y = list[j]!;
        for (const p of x.pieces) {
          for (const q of y.pieces) {
            const [a, b] = [Math.max(p.a, q.a), Math.min(p.b, q.b)];
            const same = y.v - x.v <= SAME_POINT_MM && Math.abs(p.thicknessMm - q.thicknessMm) <= SAME_POINT_MM;
            if (same || (p.drawn && q.drawn)) continue;
            const clear = y.v - x.v - (p.thicknessMm + q.thicknessMm) / 2;
            if (clear >= -SAME_POINT_MM || b - a <= Math.max(p.thicknessMm, q.thicknessMm)) continue;
            const [e] = axisEnds(x);
            const at = add(e, scale(x.direction, (a + b) / 2 - x.a));
            out.push({ at, source: p.source, other: q.source });
          }
        }
      }
    });
  }
  return out;
};

/** Bodies and faces of straight and curved axes. `parts` sorted by place and source. */
export const makeWalls = (parts: readonly AxisPart[], curves: readonly ThickCurve[], frame: LocalFrame): Made => {
  const axisSet = meetAxes(parts);
  const book = new BoxBook(axisSet.axes, axisBox);
  const near = (p: Vec) =>
    book.near({ x0: p.x - SAME_POINT_MM, y0: p.y - SAME_POINT_MM, x1: p.x + SAME_POINT_MM, y1: p.y + SAME_POINT_MM });
  const areas: Area[] = bodiesOf(axisSet.axes, near);
  const arcs: DrawingPath[] = [];
  const tight: DrawingPath[] = [];
  for (const { part, thicknessMm } of curves) {
    const made = arcFaces(part.a, part.b, part.bulge, thicknessMm);
    const face = (p: Vec, q: Vec) =>
      pieceOf(part.path, { ...toDrawing(frame, p), bulge: part.bulge }, toDrawing(frame, q));
    if (made === null) tight.push(curvePath(frame, part));
    else {
      areas.push({ rings: [made.body], layer: part.layer });
      for (const [p, q] of made.faces) arcs.push(face(p, q));
      arcs.push(
        ...freeEnds(part, made.faces, parts, curves).map(([p, q]) => {
          const [a, b] = [toDrawing(frame, p), toDrawing(frame, q)];
          return pieceOf(part.path, { ...a, bulge: 0 }, b);
        }),
      );
    }
  }
  return { areas, arcs, tight, axisSet, alongside: alongsides(axisSet.axes) };
};

/** The ends of a curved wall where no other axis begins: closed across. */
const freeEnds = (
  part: CurvedPart,
  faces: readonly (readonly [Vec, Vec])[],
  parts: readonly AxisPart[],
  curves: readonly ThickCurve[],
): [Vec, Vec][] => {
  const joined = (p: Vec) =>
    parts.some((s) => distance(s.a, p) <= SAME_POINT_MM || distance(s.b, p) <= SAME_POINT_MM) ||
    curves.some(
      (c) => c.part !== part && (distance(c.part.a, p) <= SAME_POINT_MM || distance(c.part.b, p) <= SAME_POINT_MM),
    );
  return ([part.a, part.b] as const).flatMap((p, i): [Vec, Vec][] =>
    joined(p) ? [] : [[faces[0]![i as 0 | 1], faces[1]![i as 0 | 1]]],
  );
};

/** A line of the made outline as a path of the drawing. */
export const linePath = (
  frame: LocalFrame,
  piece: { readonly a: Vec; readonly b: Vec; readonly source: string; readonly layer: string },
): DrawingPath => ({
  source: piece.source,
  entity: 'LINE',
  layer: piece.layer,
  blocks: [],
  vertices: [piece.a, piece.b].map((p) => ({ ...toDrawing(frame, p), bulge: 0 })),
  closed: false,
  elevation: 0,
  extrusion: 0,
  lineType: 'CONTINUOUS',
  width: 0,
  fill: null,
});

/** A curved part as a path of its own, as it was drawn. */
export const curvePath = (frame: LocalFrame, part: CurvedPart): DrawingPath =>
  pieceOf(part.path, { ...toDrawing(frame, part.a), bulge: part.bulge }, toDrawing(frame, part.b));
