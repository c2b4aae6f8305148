/** Boundary paths of a HATCH as outlines. */

import { arcKnots, circleKnots, ellipseKnots, type Knot, knot, splineKnots, sweep } from '../curves.js';
import type { Fields } from '../fields.js';
import type { Matrix, Point3 } from '../matrix.js';
import { type Outline, outline, radians, samePlace } from './outline.js';

/** Reads the tags one after the other, as the boundary data is a sequence and not a record of named fields. */
class Sequence {
  constructor(
    private readonly fields: Fields,
    public at: number,
  ) {}

  /** Group code of the next tag; -1 at the end. */
  code(): number {
    return this.fields.tags[this.at]?.code ?? -1;
  }

  /** The number of the next tag if it has this code, and one step on; `otherwise`, and no step, if not. */
  take(code: number, otherwise: number): number {
    const tag = this.fields.tags[this.at];
    if (tag === undefined || tag.code !== code) return otherwise;
    this.at++;
    return this.fields.of(tag);
  }

  need(code: number): number {
    if (this.code() !== code) this.fields.bad = true;
    return this.take(code, 0);
  }

  point(code: number, z: number): Point3 {
    const x = this.need(code);
    const y = this.need(code + 10);
    return { x, y, z };
  }

  /** A count that no file of this length can exceed. */
  count(code: number): number {
    const n = this.need(code);
    if (!Number.isInteger(n) || n < 0 || n > this.fields.tags.length) {
      this.fields.bad = true;
      return 0;
    }
    return n;
  }
}

interface Edge {
  readonly knots: Knot[];
  readonly closed: boolean;
  readonly chords: boolean;
}

/**
 * Start and turn of an arc edge. Clockwise edges (73 = 0) have their angles mirrored: the arc runs clockwise from -start to -end.
 * Source: the behaviour of ezdxf's reader, with which tests compare.
 */
const edgeTurn = (
  start: number,
  end: number,
  anticlockwise: boolean,
): { readonly start: number; readonly by: number } =>
  anticlockwise ? { start, by: sweep(start, end) } : { start: -start, by: -sweep(start, end) };

const wholeTurn = (by: number): boolean => Math.abs(by) >= 2 * Math.PI - 1e-9;

const arcEdge = (sequence: Sequence, fields: Fields, z: number): Edge => {
  const centre = sequence.point(10, z);
  const radius = sequence.need(40);
  const from = radians(sequence.need(50));
  const to = radians(sequence.need(51));
  const { start, by } = edgeTurn(from, to, sequence.take(73, 1) !== 0);
  if (radius <= 0) fields.bad = true;
  const closed = wholeTurn(by);
  return { knots: closed ? circleKnots(centre, radius) : arcKnots(centre, radius, start, by), closed, chords: false };
};

/** The ellipse's parameter at an angle seen from its centre, in the same quarter and turn. */
const parameterAt = (angle: number, ratio: number): number => {
  const turns = Math.round(angle / (2 * Math.PI));
  const rest = angle - turns * 2 * Math.PI;
  return Math.atan2(Math.sin(rest) / ratio, Math.cos(rest)) + turns * 2 * Math.PI;
};

const ellipseEdge = (sequence: Sequence, fields: Fields, z: number): Edge => {
  const centre = sequence.point(10, z);
  const major = sequence.point(11, 0);
  const ratio = sequence.need(40);
  const from = radians(sequence.need(50));
  const to = radians(sequence.need(51));
  const anticlockwise = sequence.take(73, 1) !== 0;
  if (ratio <= 0 || Math.hypot(major.x, major.y) === 0) {
    fields.bad = true;
    return { knots: [], closed: false, chords: true };
  }
  const minor = { x: -major.y * ratio, y: major.x * ratio, z: 0 };
  const whole = Math.abs(to - from) >= 2 * Math.PI - 1e-6;
  const { start, by } = edgeTurn(parameterAt(from, ratio), parameterAt(to, ratio), anticlockwise);
  const turn = whole ? Math.sign(by) * 2 * Math.PI : by;
  return { knots: ellipseKnots(centre, major, minor, start, turn), closed: whole, chords: true };
};

const splineEdge = (sequence: Sequence, fields: Fields, z: number): Edge => {
  const degree = sequence.need(94);
  sequence.take(73, 0);
  sequence.take(74, 0);
  const knotCount = sequence.count(95);
  const pointCount = sequence.count(96);
  const knots = Array.from({ length: knotCount }, () => sequence.need(40));
  const points: Point3[] = [];
  const weights: number[] = [];
  for (let i = 0; i < pointCount; i++) {
    points.push(sequence.point(10, z));
    if (sequence.code() === 42) weights.push(sequence.take(42, 1));
  }
  skipFit(sequence);
  const path = splineKnots({ degree, knots, points, weights });
  if (path === null) fields.bad = true;
  return { knots: path ?? [], closed: false, chords: true };
};

/**
 * Fit points and tangents after a spline edge, R2010 and later: 97 count, then 11/21 each, 12/22, 13/23. The count 97 of source objects at the end
 * of a path looks the same, so this one is only taken where points follow or another edge does.
 */
const skipFit = (sequence: Sequence): void => {
  const before = sequence.at;
  if (sequence.code() !== 97) return;
  const n = sequence.take(97, 0);
  const next = sequence.code();
  if (n > 0 && next !== 11) sequence.at = before;
  else if (n === 0 && next !== 97 && next !== 72 && next !== 12) sequence.at = before;
  else while ([11, 21, 12, 22, 13, 23].includes(sequence.code())) sequence.at++;
};

const readEdge = (sequence: Sequence, fields: Fields, z: number): Edge => {
  const kind = sequence.need(72);
  if (kind === 1) {
    const a = sequence.point(10, z);
    const b = sequence.point(11, z);
    return { knots: [knot(a.x, a.y, z), knot(b.x, b.y, z)], closed: false, chords: false };
  }
  if (kind === 2) return arcEdge(sequence, fields, z);
  if (kind === 3) return ellipseEdge(sequence, fields, z);
  if (kind === 4) return splineEdge(sequence, fields, z);
  fields.bad = true;
  return { knots: [], closed: false, chords: false };
};

const reversed = (knots: readonly Knot[]): Knot[] =>
  knots.map((_, i) => {
    const at = knots.length - 1 - i;
    const before = knots[at - 1];
    return { ...knots[at]!, bulge: before ? -before.bulge || 0 : 0 };
  });

/** Edges joined end to start into outlines; a gap begins a new one. */
const chained = (edges: readonly Edge[], frame: Matrix): Outline[] => {
  const outlines: Outline[] = [];
  let path: Knot[] = [];
  let chords = false;
  const finish = (): void => {
    if (path.length >= 2) {
      const closed = path.length > 2 && samePlace(path[0]!, path[path.length - 1]!);
      outlines.push(outline(closed ? path.slice(0, -1) : path, closed, frame, { chords }));
    }
    path = [];
    chords = false;
  };
  for (const edge of edges) {
    if (edge.closed) {
      finish();
      outlines.push(outline(edge.knots, true, frame, { chords: edge.chords }));
      continue;
    }
    const last = path[path.length - 1];
    let next = edge.knots;
    if (last && next[0] && !samePlace(last, next[0])) {
      if (samePlace(last, next[next.length - 1]!)) next = reversed(next);
      else finish();
    }
    // The joint keeps the bulge of the edge that leaves it.
    path.pop();
    for (const v of next) path.push(v);
    chords ||= edge.chords;
  }
  finish();
  return outlines;
};

const polylinePath = (sequence: Sequence, z: number, frame: Matrix): Outline => {
  sequence.take(72, 0);
  const closed = sequence.take(73, 1) !== 0;
  const count = sequence.count(93);
  const knots: Knot[] = [];
  for (let i = 0; i < count; i++) {
    const p = sequence.point(10, z);
    knots.push(knot(p.x, p.y, z, sequence.take(42, 0)));
  }
  return outline(knots, closed, frame);
};

/** The fill of areas that are filled whole. */
export const SOLID = 'SOLID';

/** Name of the pattern in capitals; SOLID where the area is filled (70). */
export const fillOf = (fields: Fields): string => {
  const name = (fields.name(2) ?? '').toUpperCase();
  if (fields.flags(70) === 1) return SOLID;
  return name === '' ? 'UNNAMED' : name;
};

/** Type flags (92) of a path: a polyline; the box round a text, which is left free of hatching and is no line of the drawing. */
const POLYLINE_PATH = 2;
const TEXT_BOX = 8;

/** Reads paths until more than `mostKnots` vertices were made: curves are more of them than the file has tags. */
export const readHatch = (fields: Fields, mostKnots: number): Outline[] => {
  const start = fields.tags.findIndex((tag) => tag.code === 91);
  if (start < 0) {
    fields.bad = true;
    return [];
  }
  const z = fields.number(30, 0);
  const frame = fields.frame();
  const sequence = new Sequence(fields, start);
  const outlines: Outline[] = [];
  let room = mostKnots;
  for (let paths = sequence.count(91); paths > 0 && room >= 0 && !fields.bad; paths--) {
    const flags = Math.trunc(sequence.need(92));
    const made: Outline[] = [];
    if ((flags & POLYLINE_PATH) !== 0) made.push(polylinePath(sequence, z, frame));
    else {
      const edges: Edge[] = [];
      for (let n = sequence.count(93); n > 0 && room >= 0 && !fields.bad; n--) {
        const edge = readEdge(sequence, fields, z);
        room -= edge.knots.length;
        edges.push(edge);
      }
      for (const outline of chained(edges, frame)) made.push(outline);
    }
    for (let n = sequence.take(97, 0); n > 0 && sequence.code() === 330; n--) sequence.at++;
    if ((flags & TEXT_BOX) === 0) for (const outline of made) outlines.push(outline);
  }
  return outlines;
};
