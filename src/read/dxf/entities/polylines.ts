/** LWPOLYLINE, and POLYLINE with its VERTEX records, as outlines. */

import { type Knot, knot } from '../curves.js';
import type { Fields } from '../fields.js';
import { IDENTITY } from '../matrix.js';
import { type Outline, outline } from './outline.js';

interface Mutable {
  x: number;
  y: number;
  z: number;
}

/** Widths at both ends of the piece that a vertex begins. */
interface Widths {
  start: number;
  end: number;
}

/** Two widths that differ by less than this (relative) are one. *Practice, no source.* */
const SAME_WIDTH = 1e-9;

/** The one width of all pieces; null where they taper or differ. The last vertex of an open polyline begins no piece. */
const oneWidth = (widths: readonly Widths[], closed: boolean): number | null => {
  const width = Math.abs(widths[0]?.start ?? 0);
  const pieces = closed || widths.length < 2 ? widths.length : widths.length - 1;
  for (let i = 0; i < pieces; i++) {
    const { start, end } = widths[i]!;
    const off = Math.max(Math.abs(Math.abs(start) - width), Math.abs(Math.abs(end) - width));
    if (off > SAME_WIDTH * width) return null;
  }
  return width;
};

/**
 * Vertices begin at each group 10; bulge (42) and widths (40, 41) belong to the vertex before them. The constant width (43) holds where no vertex states
 * one. Source: DXF reference, LWPOLYLINE.
 */
export const readLightPolyline = (fields: Fields): Outline[] => {
  const z = fields.number(38, 0);
  const knots: (Mutable & { bulge: number })[] = [];
  const widths: Widths[] = [];
  let constant = 0;
  let varies = false;
  for (const tag of fields.tags) {
    const last = knots[knots.length - 1];
    if (tag.code === 43) constant = fields.of(tag);
    else if (tag.code === 10) {
      knots.push({ x: fields.of(tag), y: Number.NaN, z, bulge: 0 });
      widths.push({ start: 0, end: 0 });
    } else if (!last) continue;
    else if (tag.code === 20) last.y = fields.of(tag);
    else if (tag.code === 42) last.bulge = fields.of(tag);
    else if (tag.code === 40) widths[widths.length - 1]!.start = fields.of(tag);
    else if (tag.code === 41) widths[widths.length - 1]!.end = fields.of(tag);
    else continue;
    varies ||= (tag.code === 40 || tag.code === 41) && fields.of(tag) !== 0;
  }
  if (knots.length === 0 || knots.some((v) => Number.isNaN(v.y))) fields.bad = true;
  const closed = (fields.flags(70) & 1) !== 0;
  const width = varies ? oneWidth(widths, closed) : Math.abs(constant);
  return [outline(knots, closed, fields.frame(), { width })];
};

/** Flags (70) of a POLYLINE. */
const CLOSED = 1;
const SPATIAL = 8;
const MESHES = 16 | 64;
/** Flag of a VERTEX: control point of a spline frame, which is not drawn. */
const FRAME = 16;

/** Whether the POLYLINE is a mesh of faces, which has no outline in plan. */
export const isMesh = (fields: Fields): boolean => (fields.flags(70) & MESHES) !== 0;

/** Whether its vertices lie in space, in world coordinates. */
export const isSpatial = (fields: Fields): boolean => (fields.flags(70) & SPATIAL) !== 0;

export const readPolyline = (fields: Fields, vertices: readonly Fields[]): Outline[] => {
  const flags = fields.flags(70);
  const spatial = isSpatial(fields);
  const closed = (flags & CLOSED) !== 0;
  const elevation = fields.number(30, 0);
  const start = fields.number(40, 0);
  const end = fields.number(41, 0);
  const knots: Knot[] = [];
  const widths: Widths[] = [];
  for (const vertex of vertices) {
    if ((vertex.flags(70) & FRAME) !== 0) continue;
    const p = vertex.point(10);
    knots.push(spatial ? knot(p.x, p.y, p.z) : knot(p.x, p.y, elevation, vertex.number(42, 0)));
    widths.push({ start: vertex.number(40, start), end: vertex.number(41, end) });
    if (vertex.bad) fields.bad = true;
  }
  if (knots.length === 0) fields.bad = true;
  if (spatial) return [outline(knots, closed, IDENTITY)];
  return [outline(knots, closed, fields.frame(), { width: oneWidth(widths, closed) })];
};
