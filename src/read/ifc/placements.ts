/** Where things stand: points, directions, placements and maps of mapped items, turned to mm. Each is read once. */

import { IFCCARTESIANPOINT, IFCDIRECTION } from 'web-ifc';
import type { Frame, Vec3 } from '../../ground/vocabulary.js';
import { type Line, numberOf, numbersOf, refOf, type Value } from './attributes.js';
import type { Lines } from './lines.js';
import type { ModelLog, Subject } from './log.js';
import {
  type Affine,
  cross3,
  finite3,
  firstAxis,
  frameOf,
  IDENTITY,
  joined,
  secondAxis,
  times,
  unit3,
  vec3,
  Z_AXIS,
} from './space.js';

/** Farther from its origin than this (mm, some 50 times the earth's radius) nothing is built. */
const FARTHEST_MM = 3e11;

/** A map of the plane: where the origin and both axes go, mm. */
export interface Affine2 {
  readonly origin: { readonly x: number; readonly y: number };
  readonly x: { readonly x: number; readonly y: number };
  readonly y: { readonly x: number; readonly y: number };
}

export const IDENTITY2: Affine2 = { origin: { x: 0, y: 0 }, x: { x: 1, y: 0 }, y: { x: 0, y: 1 } };

export class Placements {
  private readonly points = new Map<number, Vec3 | null>();
  private readonly directions = new Map<number, Vec3 | null>();
  private readonly frames = new Map<number, Frame | null>();
  private readonly locals = new Map<number, Affine | null>();

  constructor(
    readonly lines: Lines,
    readonly mmPerUnit: number,
    private readonly log: ModelLog,
  ) {}

  /** A length attribute, mm; null where there is none. */
  lengthMm(value: Value | undefined): number | null {
    const number = numberOf(value);
    return number === null ? null : number * this.mmPerUnit;
  }

  /** An IfcCartesianPoint, mm; z 0 in the plane. */
  point(value: Value | undefined): Vec3 | null {
    const id = refOf(value);
    if (id === null) return null;
    let point = this.points.get(id);
    if (point === undefined) {
      point = this.pointAt(id);
      this.points.set(id, point);
    }
    return point;
  }

  /** The IfcCartesianPoint of this number, for who keeps it himself. */
  pointAt(id: number): Vec3 | null {
    return this.pointOf(this.lines.numbers(id, IFCCARTESIANPOINT) ?? numbersOf(this.lines.once(id)?.Coordinates));
  }

  /** A point of its numbers in file units. */
  pointOf(numbers: readonly number[] | null): Vec3 | null {
    return numbers === null || numbers.length < 2 ? null : this.pointFrom(numbers[0]!, numbers[1]!, numbers[2] ?? 0);
  }

  /** As `pointOf`, of each number by itself. */
  pointFrom(x: number, y: number, z: number): Vec3 | null {
    const k = this.mmPerUnit;
    const point = vec3(x * k, y * k, z * k);
    return Math.max(Math.abs(point.x), Math.abs(point.y), Math.abs(point.z)) <= FARTHEST_MM ? point : null;
  }

  /** An IfcDirection as it stands, of any length but none. */
  direction(value: Value | undefined): Vec3 | null {
    const id = refOf(value);
    if (id === null) return null;
    let direction = this.directions.get(id);
    if (direction === undefined) {
      const numbers = this.lines.numbers(id, IFCDIRECTION) ?? numbersOf(this.lines.once(id)?.DirectionRatios);
      const v = numbers === null || numbers.length < 2 ? null : vec3(numbers[0]!, numbers[1]!, numbers[2] ?? 0);
      direction = v === null || unit3(v) === null ? null : v;
      this.directions.set(id, direction);
    }
    return direction;
  }

  /** IfcAxis2Placement3D or 2D as a frame; null where it cannot be read. An absent one is the identity. */
  axes(value: Value | undefined): Frame | null {
    const id = refOf(value);
    if (id === null) return value === null || value === undefined ? IDENTITY : null;
    let frame = this.frames.get(id);
    if (frame === undefined) {
      const line = this.lines.once(id);
      frame = line === null ? null : this.axesOf(line);
      this.frames.set(id, frame);
    }
    return frame;
  }

  private axesOf(line: Line): Frame | null {
    const origin = this.point(line.Location);
    if (origin === null) return null;
    const [axis, reference] = [this.direction(line.Axis), this.direction(line.RefDirection)];
    this.noteUnread(line, [line.Axis, line.RefDirection]);
    const frame = frameOf(origin, axis, reference);
    if (frame !== null) return frame;
    this.log.add(
      'read.model-direction',
      'Both directions of placements are parallel',
      { id: null, line: line.expressID, name: null },
      'any direction square to the axis',
    );
    return frameOf(origin, axis, null);
  }

  /** Says that a direction is given and says nothing. */
  private noteUnread(line: Line, given: readonly (Value | undefined)[]): void {
    if (given.every((value) => refOf(value) === null || this.direction(value) !== null)) return;
    this.log.add(
      'read.model-direction',
      'Directions of placements are zero or not numbers',
      { id: null, line: line.expressID, name: null },
      'the axes of what they are placed in',
    );
  }

  /** The direction of an extrusion, in the axes of its profile; where it says nothing it is said, and square to the profile. */
  sweep(value: Value | undefined, subject: Subject): Vec3 {
    const direction = this.direction(value);
    if (direction !== null) return direction;
    this.log.add(
      'read.model-direction',
      'Directions of extrusions are missing, zero or not numbers',
      subject,
      'square to the profile',
    );
    return Z_AXIS;
  }

  /** A placement in the plane, as a map of the plane. */
  axes2(value: Value | undefined): Affine2 | null {
    if (refOf(value) === null) return value === null || value === undefined ? IDENTITY2 : null;
    const frame = this.axes(value);
    // In the plane only the reference direction counts.
    return frame === null
      ? null
      : { origin: frame.origin, x: { x: frame.x.x, y: frame.x.y }, y: { x: -frame.x.y, y: frame.x.x } };
  }

  /** World place of an IfcObjectPlacement: all that it is relative to, joined. Null where a part of it cannot be read; then `why` has been said. */
  world(value: Value | undefined, subject: Subject): Affine | null {
    const id = refOf(value);
    if (id === null) return IDENTITY;
    const chain: { id: number; own: Affine }[] = [];
    let at: number | null = id;
    let outer: Affine | null = IDENTITY;
    while (at !== null) {
      const known = this.locals.get(at);
      if (known !== undefined) {
        outer = known;
        break;
      }
      const line = this.lines.get(at);
      const own = line === null ? null : this.ownPlace(line);
      if (line === null || own === null) {
        outer = null;
        this.locals.set(at, null);
        break;
      }
      chain.push({ id: at, own });
      at = refOf(line.PlacementRelTo);
    }
    for (let i = chain.length - 1; i >= 0; i--) {
      const { id: link, own } = chain[i]!;
      outer = outer === null ? null : joined(outer, own);
      if (outer !== null && !finite3(outer.origin)) outer = null;
      this.locals.set(link, outer);
    }
    if (outer === null) {
      this.log.add('read.model-placement', 'Placements cannot be read, and what stands in them was left out', subject);
    }
    return outer;
  }

  private ownPlace(line: Line): Affine | null {
    const entity = this.lines.entity(line);
    if (entity === 'IfcLocalPlacement')
      return refOf(line.RelativePlacement) === null ? null : this.axes(line.RelativePlacement);
    // A linear placement may say its result as a plain one.
    if (entity === 'IfcLinearPlacement' && refOf(line.CartesianPosition) !== null)
      return this.axes(line.CartesianPosition);
    return null;
  }

  /** IfcCartesianTransformationOperator3D, uniform or not, as a map of space. Source: IfcBaseAxis, IFC4 EXPRESS. */
  operator(line: Line | null): Affine | null {
    if (line === null) return null;
    const origin = this.point(line.LocalOrigin);
    this.noteUnread(line, [line.Axis1, line.Axis2, line.Axis3]);
    const z = line.Axis3 === undefined ? Z_AXIS : unit3(this.direction(line.Axis3) ?? Z_AXIS);
    if (origin === null || z === null) return null;
    const x = firstAxis(z, this.direction(line.Axis1));
    const y = x === null ? null : secondAxis(z, x, this.direction(line.Axis2) ?? cross3(z, x));
    if (x === null || y === null) return null;
    const scale = numberOf(line.Scale) ?? 1;
    const [sy, sz] = [numberOf(line.Scale2) ?? scale, numberOf(line.Scale3) ?? scale];
    if (!(scale > 0 && sy > 0 && sz > 0)) return null;
    return { origin, x: times(x, scale), y: times(y, sy), z: times(z, sz) };
  }

  /** IfcCartesianTransformationOperator2D as a map of the plane. */
  operator2(line: Line | null): Affine2 | null {
    if (line === null) return null;
    const origin = this.point(line.LocalOrigin);
    if (origin === null) return null;
    const scale = numberOf(line.Scale) ?? 1;
    const sy = numberOf(line.Scale2) ?? scale;
    if (!(scale > 0 && sy > 0)) return null;
    this.noteUnread(line, [line.Axis1, line.Axis2]);
    const [given, given2] = [this.direction(line.Axis1), this.direction(line.Axis2)];
    const d1 = given === null ? null : unit3(given);
    const d2 = given2 === null ? null : unit3(given2);
    // IfcBaseAxis for two dimensions: the first axis leads, and the second only says on which side it lies.
    const x = d1 ?? (d2 === null ? vec3(1, 0, 0) : vec3(d2.y, -d2.x, 0));
    const left = vec3(-x.y, x.x, 0);
    const y = d1 !== null && d2 !== null && left.x * d2.x + left.y * d2.y < 0 ? times(left, -1) : left;
    return { origin, x: times(x, scale), y: times(y, sy) };
  }
}
