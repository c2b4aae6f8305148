/** LWPOLYLINE, POLYLINE with its VERTEX records, and MLINE as outlines. */

import { type Knot, knot } from '../curves.js';
import type { Fields } from '../fields.js';
import { IDENTITY } from '../matrix.js';
import { type Outline, outline } from './outline.js';

interface Mutable {
  x: number;
  y: number;
  z: number;
}

/** Vertices begin at each group 10; a bulge (42) belongs to the vertex before it. Other codes among them (40, 41, 43, 91) are widths and ids. */
export const readLightPolyline = (fields: Fields): Outline[] => {
  const z = fields.number(38, 0);
  const knots: (Mutable & { bulge: number })[] = [];
  for (const tag of fields.tags) {
    const last = knots[knots.length - 1];
    if (tag.code === 10) knots.push({ x: fields.of(tag), y: Number.NaN, z, bulge: 0 });
    else if (last && tag.code === 20) last.y = fields.of(tag);
    else if (last && tag.code === 42) last.bulge = fields.of(tag);
  }
  if (knots.length === 0 || knots.some((v) => Number.isNaN(v.y))) fields.bad = true;
  return [outline(knots, (fields.flags(70) & 1) !== 0, fields.frame())];
};

/** Flags (70) of a POLYLINE. */
const CLOSED = 1;
const SPATIAL = 8;
const MESHES = 16 | 64;
/** Flag of a VERTEX: control point of a spline frame, which is not drawn. */
const FRAME = 16;

/** Whether the POLYLINE is a mesh of faces, which has no outline in plan. */
export const isMesh = (fields: Fields): boolean => (fields.flags(70) & MESHES) !== 0;

export const readPolyline = (fields: Fields, vertices: readonly Fields[]): Outline[] => {
  const flags = fields.flags(70);
  const spatial = (flags & SPATIAL) !== 0;
  const elevation = fields.number(30, 0);
  const knots: Knot[] = [];
  for (const vertex of vertices) {
    if ((vertex.flags(70) & FRAME) !== 0) continue;
    const p = vertex.point(10);
    knots.push(spatial ? knot(p.x, p.y, p.z) : knot(p.x, p.y, elevation, vertex.number(42, 0)));
    if (vertex.bad) fields.bad = true;
  }
  if (knots.length === 0) fields.bad = true;
  return [outline(knots, (flags & CLOSED) !== 0, spatial ? IDENTITY : fields.frame())];
};

interface MultiVertex {
  readonly at: Mutable;
  readonly mitre: Mutable;
  /** First parameter of each element: its distance from the vertex along the mitre. */
  readonly offsets: number[];
}

/** Vertices of an MLINE: 11 place, 13 mitre, then for each element the number of its parameters (74) and those (41). */
const multiVertices = (fields: Fields): MultiVertex[] => {
  const vertices: MultiVertex[] = [];
  let first = false;
  for (const tag of fields.tags) {
    const last = vertices[vertices.length - 1];
    if (tag.code === 11) {
      vertices.push({ at: { x: fields.of(tag), y: 0, z: 0 }, mitre: { x: 0, y: 0, z: 0 }, offsets: [] });
      continue;
    }
    if (!last) continue;
    if (tag.code === 21) last.at.y = fields.of(tag);
    else if (tag.code === 31) last.at.z = fields.of(tag);
    else if (tag.code === 13) last.mitre.x = fields.of(tag);
    else if (tag.code === 23) last.mitre.y = fields.of(tag);
    else if (tag.code === 33) last.mitre.z = fields.of(tag);
    else if (tag.code === 74) first = fields.of(tag) > 0;
    else if (tag.code === 41 && first) {
      last.offsets.push(fields.of(tag));
      first = false;
    }
  }
  return vertices;
};

/** Flag (71) of a closed MLINE. */
const MULTI_CLOSED = 2;

/** The lines of an MLINE, one for each element of its style; where vertices do not agree on the elements, the line through the vertices alone. */
export const readMultiline = (fields: Fields): Outline[] => {
  const vertices = multiVertices(fields);
  if (vertices.length < 2) fields.bad = true;
  const closed = (fields.flags(71) & MULTI_CLOSED) !== 0;
  const elements = vertices[0]?.offsets.length ?? 0;
  const line = (offset: (v: MultiVertex) => number): Outline =>
    outline(
      vertices.map((v) => {
        const k = offset(v);
        return knot(v.at.x + v.mitre.x * k, v.at.y + v.mitre.y * k, v.at.z + v.mitre.z * k);
      }),
      closed,
      IDENTITY,
    );
  if (elements === 0 || vertices.some((v) => v.offsets.length !== elements)) return [line(() => 0)];
  return Array.from({ length: elements }, (_, i) => line((v) => v.offsets[i]!));
};
