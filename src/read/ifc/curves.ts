/** Bounded curves as pieces, straight or round, in the plane or in space, mm. */

import type { Vec3 } from '../../ground/vocabulary.js';
import {
  booleanOf,
  itemOf,
  type Line,
  listOf,
  numberOf,
  numbersOf,
  refOf,
  typeNameOf,
  type Value,
} from './attributes.js';
import type { Placements } from './placements.js';
import { cross3, dot3, length3, minus, plus, times, unit3 } from './space.js';

/** A piece of a curve: straight, or an arc about a centre. */
export interface Piece {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly arc: Arc | null;
}

export interface Arc {
  readonly centre: Vec3;
  /** Half axes: where the angles 0 and 90 degrees lie; equal in length but for ellipses. */
  readonly u: Vec3;
  readonly v: Vec3;
  readonly startRad: number;
  /** Positive from u to v. */
  readonly sweepRad: number;
}

const FULL = 2 * Math.PI;
/** Arcs as chords stay within this of the arc. */
const CHORD_MM = 1;
/** Ends of segments of one curve that lie farther apart than this do not belong together. */
export const GAP_MM = 5;
const MOST_PIECES = 200_000;

export const onArc = (arc: Arc, angle: number): Vec3 =>
  plus(arc.centre, plus(times(arc.u, Math.cos(angle)), times(arc.v, Math.sin(angle))));

const straight = (points: readonly Vec3[]): Piece[] => {
  const pieces: Piece[] = [];
  for (let i = 1; i < points.length; i++) pieces.push({ from: points[i - 1]!, to: points[i]!, arc: null });
  return pieces;
};

const arcPiece = (arc: Arc): Piece => ({
  from: onArc(arc, arc.startRad),
  to: onArc(arc, arc.startRad + arc.sweepRad),
  arc,
});

export const reversed = (pieces: readonly Piece[]): Piece[] =>
  [...pieces].reverse().map(({ from, to, arc }) => ({
    from: to,
    to: from,
    arc: arc && { ...arc, startRad: arc.startRad + arc.sweepRad, sweepRad: -arc.sweepRad },
  }));

/** The arc from a through b to c; null where they lie in a line. */
const throughPoints = (a: Vec3, b: Vec3, c: Vec3): Arc | null => {
  const [p, q] = [minus(b, a), minus(c, a)];
  const n = cross3(p, q);
  const nn = dot3(n, n);
  // A sagitta of a millionth of the chord is a straight line.
  if (!(nn > 1e-12 * dot3(q, q) * Math.max(dot3(p, p), dot3(q, q)))) return null;
  const toCentre = times(plus(times(cross3(n, p), dot3(q, q)), times(cross3(q, n), dot3(p, p))), 0.5 / nn);
  const middle = plus(a, toCentre);
  const u = minus(a, middle);
  const normal = unit3(n);
  if (normal === null) return null;
  const v = cross3(normal, u);
  const radius2 = dot3(u, u);
  const angleOf = (point: Vec3): number => {
    const d = minus(point, middle);
    const angle = Math.atan2(dot3(d, v) / radius2, dot3(d, u) / radius2);
    return angle <= 0 ? angle + FULL : angle;
  };
  // The normal is that of a, b, c in turn, so that the arc runs from a by b to c in positive sense.
  return { centre: middle, u, v, startRad: 0, sweepRad: angleOf(c) };
};

/** Pieces that follow each other, turned where a segment says so; null where they do not meet. */
const chained = (parts: readonly (readonly Piece[])[]): Piece[] | null => {
  const pieces: Piece[] = [];
  for (const part of parts) {
    const [first] = part;
    const last = pieces[pieces.length - 1];
    if (first === undefined) continue;
    if (last !== undefined && length3(minus(first.from, last.to)) > GAP_MM) return null;
    for (const piece of part) pieces.push(piece);
    if (pieces.length > MOST_PIECES) return null;
  }
  return pieces;
};

/** The axes of a conic; null where its sizes are none. */
const conic = (line: Line, places: Placements, entity: string): Arc | null => {
  const frame = refOf(line.Position) === null ? null : places.axes(line.Position);
  if (frame === null) return null;
  const [a, b] =
    entity === 'IfcCircle'
      ? [places.lengthMm(line.Radius), places.lengthMm(line.Radius)]
      : [places.lengthMm(line.SemiAxis1), places.lengthMm(line.SemiAxis2)];
  if (a === null || b === null || !(a > 0 && b > 0)) return null;
  return { centre: frame.origin, u: times(frame.x, a), v: times(frame.y, b), startRad: 0, sweepRad: FULL };
};

export class Curves {
  constructor(
    private readonly places: Placements,
    private readonly radPerUnit: number,
  ) {}

  /** The curve as pieces; null where it is none that is read here. */
  pieces(line: Line | null): Piece[] | null {
    if (line === null) return null;
    const { places } = this;
    const entity = places.lines.entity(line);
    switch (entity) {
      case 'IfcPolyline': {
        const points = this.points(line.Points);
        return points === null ? null : straight(points);
      }
      case 'IfcIndexedPolyCurve':
        return this.indexed(line);
      case 'IfcCompositeCurve':
      case 'Ifc2DCompositeCurve':
        return this.composite(line);
      case 'IfcTrimmedCurve':
        return this.trimmed(line);
      case 'IfcCircle':
      case 'IfcEllipse': {
        const arc = conic(line, places, entity);
        return arc === null ? null : [arcPiece(arc)];
      }
      default:
        return null;
    }
  }

  /** Whether the curve is of kinds that are read here, and still gives no pieces: it is broken, and no other reader should be tried. */
  isBroken(line: Line): boolean {
    return !this.isForeign(line) && this.pieces(line) === null;
  }

  /** Whether a curve is, or is made of, another kind than those that are read here. */
  private isForeign(line: Line): boolean {
    const { lines } = this.places;
    const entity = lines.entity(line);
    if (entity === 'IfcTrimmedCurve') {
      const basis = lines.at(line.BasisCurve);
      return basis !== null && !/^Ifc(Line|Circle|Ellipse)$/.test(lines.entity(basis));
    }
    if (/^Ifc(2D)?CompositeCurve$/.test(entity)) {
      return lines.all(line.Segments).some((segment) => {
        const parent = lines.at(segment.ParentCurve);
        return parent !== null && this.isForeign(parent);
      });
    }
    return !/^Ifc(Polyline|IndexedPolyCurve|Circle|Ellipse)$/.test(entity);
  }

  private points(value: Value | undefined): Vec3[] | null {
    const found: Vec3[] = [];
    for (const item of listOf(value)) {
      const point = this.places.point(item);
      if (point === null) return null;
      found.push(point);
    }
    return found.length < 2 || found.length > MOST_PIECES ? null : found;
  }

  private indexed(line: Line): Piece[] | null {
    const list = this.places.lines.at(line.Points);
    const points = listOf(list?.CoordList).map((item) => this.places.pointOf(numbersOf(item)));
    if (points.length < 2 || points.length > MOST_PIECES) return null;
    const at = (index: number): Vec3 | null => points[index - 1] ?? null;
    const segments = listOf(line.Segments);
    if (segments.length === 0) return points.includes(null) ? null : straight(points as Vec3[]);
    const parts: Piece[][] = [];
    for (const segment of segments) {
      const corners = (numbersOf(segment) ?? []).map(at);
      if (corners.length < 2 || corners.includes(null)) return null;
      const sound = corners as Vec3[];
      if (typeNameOf(segment)?.toUpperCase() !== 'IFCARCINDEX') parts.push(straight(sound));
      else {
        const [a, b, c] = sound;
        const arc = c === undefined ? null : throughPoints(a!, b!, c);
        parts.push(arc === null ? straight(sound) : [{ from: a!, to: c!, arc }]);
      }
    }
    return chained(parts);
  }

  private composite(line: Line): Piece[] | null {
    const parts: Piece[][] = [];
    for (const segment of this.places.lines.all(line.Segments)) {
      const part = this.pieces(this.places.lines.at(segment.ParentCurve));
      if (part === null) return null;
      parts.push(booleanOf(segment.SameSense) === false ? reversed(part) : part);
    }
    return parts.length === 0 ? null : chained(parts);
  }

  /** The trim as parameter and as point, as far as each is given. */
  private trim(value: Value | undefined): { readonly parameter: number | null; readonly point: Vec3 | null } {
    let parameter: number | null = null;
    let point: Vec3 | null = null;
    for (const item of listOf(value)) {
      if (refOf(item) !== null) point = this.places.point(item);
      else parameter ??= numberOf(item);
    }
    return { parameter, point };
  }

  private trimmed(line: Line): Piece[] | null {
    const { lines } = this.places;
    const basis = lines.at(line.BasisCurve);
    if (basis === null) return null;
    const [one, two] = [this.trim(line.Trim1), this.trim(line.Trim2)];
    const byPoint = itemOf(line.MasterRepresentation) === 'CARTESIAN';
    const sense = booleanOf(line.SenseAgreement) !== false;
    const entity = lines.entity(basis);
    if (entity === 'IfcLine') {
      const [from, to] = [one, two].map((trim) => this.onLine(basis, trim, byPoint));
      return from && to ? [{ from, to, arc: null }] : null;
    }
    if (entity !== 'IfcCircle' && entity !== 'IfcEllipse') {
      // A trimmed polyline whose trims are its ends is the polyline.
      return null;
    }
    const whole = conic(basis, this.places, entity);
    if (whole === null) return null;
    const [start, end] = [one, two].map((trim) => this.angle(whole, trim, byPoint));
    if (start == null || end == null) return null;
    const turn = (((sense ? end - start : start - end) % FULL) + FULL) % FULL;
    // Ends that are the same within rounding trim nothing off.
    const sweep = turn < 1e-9 ? FULL : turn;
    const arc: Arc = { ...whole, startRad: start, sweepRad: sense ? sweep : -sweep };
    return [arcPiece(arc)];
  }

  private angle(arc: Arc, trim: ReturnType<Curves['trim']>, byPoint: boolean): number | null {
    const { parameter, point } = trim;
    if (parameter !== null && !(byPoint && point !== null)) return parameter * this.radPerUnit;
    if (point === null) return null;
    const d = minus(point, arc.centre);
    return Math.atan2(dot3(d, arc.v) / dot3(arc.v, arc.v), dot3(d, arc.u) / dot3(arc.u, arc.u));
  }

  private onLine(line: Line, trim: ReturnType<Curves['trim']>, byPoint: boolean): Vec3 | null {
    const { parameter, point } = trim;
    if (point !== null && (byPoint || parameter === null)) return point;
    const vector = this.places.lines.at(line.Dir);
    const origin = this.places.point(line.Pnt);
    const direction = vector === null ? null : this.places.direction(vector.Orientation);
    const along = direction === null ? null : unit3(direction);
    const magnitude = vector === null ? null : this.places.lengthMm(vector.Magnitude);
    if (parameter === null || origin === null || along === null || magnitude === null) return null;
    return plus(origin, times(along, magnitude * parameter));
  }
}

export const isRound = (arc: Arc): boolean => Math.abs(length3(arc.u) - length3(arc.v)) <= 1e-9 * length3(arc.u);

/** How many chords keep within CHORD_MM of an arc. */
const chordsOf = (arc: Arc): number => {
  const r = Math.max(length3(arc.u), length3(arc.v));
  const step = 2 * Math.acos(Math.max(0.5, 1 - CHORD_MM / r));
  return Math.min(720, Math.max(2, Math.ceil(Math.abs(arc.sweepRad) / step)));
};

/** Points of the pieces, arcs as chords; the start first. */
export const chords = (pieces: readonly Piece[]): Vec3[] => {
  const points: Vec3[] = [];
  const push = (point: Vec3): void => {
    const last = points[points.length - 1];
    if (last === undefined || length3(minus(point, last)) > 1e-6) points.push(point);
  };
  for (const { from, to, arc } of pieces) {
    push(from);
    if (arc !== null) {
      const n = chordsOf(arc);
      for (let i = 1; i < n; i++) push(onArc(arc, arc.startRad + (arc.sweepRad * i) / n));
    }
    push(to);
  }
  return points;
};
