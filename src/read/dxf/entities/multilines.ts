/** MLINE as outlines: a line for each element of its style, and the caps at its ends. Group codes: DXF reference, MLINE and MLINESTYLE. */

import { handleOf, nameOf, type TagDocument, type TagStructure } from '../../../ground/tags.js';
import { type Knot, knot } from '../curves.js';
import { Fields } from '../fields.js';
import { BY_LAYER, type LineTypes } from '../linetypes.js';
import { IDENTITY, type Point3, ZERO } from '../matrix.js';
import { type Outline, outline } from './outline.js';

export interface MultiStyle {
  /** Distance of each element from the axis, for scale 1, to the left positive; its line type, null where it is the entity's. */
  readonly elements: readonly { readonly offset: number; readonly lineType: string | null }[];
  readonly flags: number;
}

/** More elements than any style has: CAD programs allow 16. */
const MOST_ELEMENTS = 64;

const readStyle = (fields: Fields, lineTypes: LineTypes): MultiStyle => {
  const elements: { offset: number; lineType: string | null }[] = [];
  for (const tag of fields.tags) {
    const last = elements[elements.length - 1];
    if (tag.code === 49) elements.push({ offset: fields.of(tag), lineType: null });
    else if (tag.code === 6 && last) {
      const name = lineTypes.named(fields.part([tag]).name(6));
      last.lineType = name === BY_LAYER ? null : name;
    }
  }
  return { elements: elements.slice(0, MOST_ELEMENTS), flags: fields.flags(70) };
};

/** Styles by handle and by name; the handle (340) of an MLINE goes before its name (2). */
export const multiStyles = (
  document: TagDocument,
  { objects }: TagStructure,
  lineTypes: LineTypes,
): ((mline: Fields) => MultiStyle | null) => {
  const byHandle = new Map<string, MultiStyle>();
  const byName = new Map<string, MultiStyle>();
  for (const record of objects) {
    if (record.type !== 'MLINESTYLE') continue;
    const fields = Fields.of(document, record);
    const style = readStyle(fields, lineTypes);
    if (fields.bad || style.elements.length === 0) continue;
    const name = nameOf(document, record)?.toUpperCase();
    if (record.handle !== null && !byHandle.has(record.handle)) byHandle.set(record.handle, style);
    if (name !== undefined && !byName.has(name)) byName.set(name, style);
  }
  return (mline) =>
    byHandle.get(handleOf(mline.text(340) ?? '') ?? '') ?? byName.get(mline.name(2)?.toUpperCase() ?? '') ?? null;
};

interface Mutable {
  x: number;
  y: number;
  z: number;
}

interface MultiVertex {
  readonly at: Mutable;
  /** Of the segment that begins here. */
  readonly along: Mutable;
  readonly mitre: Mutable;
  /** Of each element: its distance along the mitre, then where it starts and stops along the segment, by turns. */
  readonly elements: number[][];
}

/** Vertices: 11 place, 12 direction, 13 mitre, then for each element the number of its parameters (74) and those (41). */
const multiVertices = (fields: Fields): MultiVertex[] => {
  const vertices: MultiVertex[] = [];
  for (const tag of fields.tags) {
    const last = vertices[vertices.length - 1];
    if (tag.code === 11) {
      const at = { x: fields.of(tag), y: 0, z: 0 };
      vertices.push({ at, along: { ...ZERO }, mitre: { ...ZERO }, elements: [] });
      continue;
    }
    if (!last) continue;
    if (tag.code === 21) last.at.y = fields.of(tag);
    else if (tag.code === 31) last.at.z = fields.of(tag);
    else if (tag.code === 12) last.along.x = fields.of(tag);
    else if (tag.code === 22) last.along.y = fields.of(tag);
    else if (tag.code === 32) last.along.z = fields.of(tag);
    else if (tag.code === 13) last.mitre.x = fields.of(tag);
    else if (tag.code === 23) last.mitre.y = fields.of(tag);
    else if (tag.code === 33) last.mitre.z = fields.of(tag);
    else if (tag.code === 74) last.elements.push([]);
    else if (tag.code === 41) last.elements[last.elements.length - 1]?.push(fields.of(tag));
  }
  return vertices;
};

const dot = (a: Point3, b: Point3): number => a.x * b.x + a.y * b.y + a.z * b.z;
const crossed = (a: Point3, b: Point3): Point3 => ({
  x: a.y * b.z - a.z * b.y,
  y: a.z * b.x - a.x * b.z,
  z: a.x * b.y - a.y * b.x,
});
const plus = (a: Point3, b: Point3, k: number): Point3 => ({ x: a.x + b.x * k, y: a.y + b.y * k, z: a.z + b.z * k });
const straightTo = (p: Point3): Knot => knot(p.x, p.y, p.z);

/** Flags (71) and justification (70) of an MLINE. */
const CLOSED = 2;
const WITHOUT_CAP = [4, 8];
const TOP = 0;
const BOTTOM = 2;

/** The vertices with distances along their mitres worked out from the style as a CAD program does: from the axis, times scale, over the mitre's slant. */
const toldByStyle = (fields: Fields, vertices: readonly MultiVertex[], style: MultiStyle): MultiVertex[] => {
  const offsets = style.elements.map((element) => element.offset);
  const at = fields.number(70, 1);
  const scale = fields.number(40, 1);
  const shift = at === TOP ? -Math.max(...offsets) : at === BOTTOM ? -Math.min(...offsets) : 0;
  const normal = fields.frame().az;
  return vertices.map((vertex) => {
    const slant = dot(vertex.mitre, crossed(normal, vertex.along));
    if (!(Math.abs(slant) > 1e-9)) fields.bad = true;
    return { ...vertex, elements: offsets.map((offset) => [((offset + shift) * scale) / slant]) };
  });
};

/** A line of one element from vertex to vertex, in pieces where it is broken. */
const elementLines = (
  vertices: readonly MultiVertex[],
  element: number,
  closed: boolean,
  lineType: string | null,
): Outline[] => {
  const points = vertices.map((v) => plus(v.at, v.mitre, v.elements[element]![0]!));
  const chains: Knot[][] = [];
  let chain: Knot[] | null = null;
  const pieces = closed ? vertices.length : vertices.length - 1;
  let startsWhole = false;
  for (let i = 0; i < pieces; i++) {
    const { elements, along } = vertices[i]!;
    const stops = elements[element]!.length < 2 ? [0] : elements[element]!.slice(1);
    const next = points[(i + 1) % points.length]!;
    if (stops[0] !== 0) chain = null;
    else if (i === 0) startsWhole = true;
    for (let k = 0; k < stops.length; k += 2) {
      const [from, to] = [stops[k]!, stops[k + 1]];
      if (chain === null) {
        chain = [straightTo(from === 0 ? points[i]! : plus(points[i]!, along, from))];
        chains.push(chain);
      }
      chain.push(straightTo(to === undefined ? next : plus(points[i]!, along, to)));
      if (to !== undefined) chain = null;
    }
  }
  const first = chains[0];
  if (closed && chain !== null && startsWhole && first) {
    chain.pop();
    if (first === chain) return [outline(chain, true, IDENTITY, { lineType })];
    chains.pop();
    chains[0] = chain.concat(first);
  }
  return chains.map((knots) => outline(knots, false, IDENTITY, { lineType }));
};

/** Flags (70) of a style: square and round cap, at the start and at the end. */
const SQUARE = [16, 256];
const ROUND = [64, 1024];

/** The caps of an open MLINE between its outermost elements: straight, and half circles that bulge out. */
const caps = (fields: Fields, vertices: readonly MultiVertex[], style: MultiStyle): Outline[] => {
  const offsets = style.elements.map((element) => element.offset);
  const low = offsets.indexOf(Math.min(...offsets));
  const high = offsets.indexOf(Math.max(...offsets));
  if (low === high) return [];
  const found: Outline[] = [];
  [vertices[0]!, vertices[vertices.length - 1]!].forEach((vertex, end) => {
    if ((fields.flags(71) & WITHOUT_CAP[end]!) !== 0) return;
    const a = plus(vertex.at, vertex.mitre, vertex.elements[high]![0]!);
    const b = plus(vertex.at, vertex.mitre, vertex.elements[low]![0]!);
    if ((style.flags & SQUARE[end]!) !== 0) found.push(outline([straightTo(a), straightTo(b)], false, IDENTITY));
    if ((style.flags & ROUND[end]!) === 0) return;
    // An arc of positive bulge lies to the right of its chord; outwards is against the line at its start, with it at its end.
    const outwards = (vertex.along.x * (b.y - a.y) - vertex.along.y * (b.x - a.x)) * (end === 0 ? -1 : 1);
    const bulge = outwards > 0 ? 1 : -1;
    found.push(outline([knot(a.x, a.y, a.z, bulge), straightTo(b)], false, IDENTITY));
  });
  return found;
};

/**
 * The lines of an MLINE, one for each element of its style and broken where that is, and its caps. Where the vertices do not tell the elements, they are
 * worked out from the style; `null` where there is none either: then nothing says where the lines run. Of a style with more elements than the vertices
 * that may be made (`mostKnots`) only so many are read as go just beyond.
 */
export const readMultiline = (fields: Fields, style: MultiStyle | null, mostKnots: number): Outline[] | null => {
  const vertices = multiVertices(fields);
  if (vertices.length < 2 || fields.bad) {
    fields.bad = true;
    return [];
  }
  const elements = vertices[0]!.elements.length;
  const told =
    elements > 0 && vertices.every((v) => v.elements.length === elements && v.elements.every((e) => e.length > 0));
  if (told) return linesOf(fields, vertices, style?.elements.length === elements ? style : null);
  if (style === null) return null;
  const most = Math.floor(mostKnots / vertices.length) + 1;
  const some = most < style.elements.length ? { ...style, elements: style.elements.slice(0, most) } : style;
  return linesOf(fields, toldByStyle(fields, vertices, some), some);
};

const linesOf = (fields: Fields, vertices: readonly MultiVertex[], style: MultiStyle | null): Outline[] => {
  const closed = (fields.flags(71) & CLOSED) !== 0;
  const lines: Outline[] = [];
  for (let i = 0; i < vertices[0]!.elements.length; i++) {
    for (const line of elementLines(vertices, i, closed, style?.elements[i]?.lineType ?? null)) lines.push(line);
  }
  if (style && !closed) for (const cap of caps(fields, vertices, style)) lines.push(cap);
  return lines;
};
