/** LINE, CIRCLE, ARC, ELLIPSE, SPLINE, SOLID and TRACE as outlines. Group codes: DXF reference, chapter 'Entities'. */

import { arcKnots, circleKnots, ellipseKnots, knot, type SplineData, splineKnots, sweep } from '../curves.js';
import type { Fields } from '../fields.js';
import { IDENTITY, type Matrix, objectFrame, type Point3, turn } from '../matrix.js';
import { type Outline, outline, radians } from './outline.js';

export const readLine = (fields: Fields): Outline[] => {
  const a = fields.point(10);
  const b = fields.point(11);
  return [outline([knot(a.x, a.y, a.z), knot(b.x, b.y, b.z)], false, IDENTITY)];
};

/** A radius that is not positive makes the entity unusable. */
const radiusOf = (fields: Fields): number => {
  const radius = fields.need(40);
  if (radius <= 0) fields.bad = true;
  return radius;
};

export const readCircle = (fields: Fields): Outline[] => [
  outline(circleKnots(fields.point(10), radiusOf(fields)), true, fields.frame()),
];

export const readArc = (fields: Fields): Outline[] => {
  const start = radians(fields.need(50));
  const by = sweep(start, radians(fields.need(51)));
  return [outline(arcKnots(fields.point(10), radiusOf(fields), start, by), false, fields.frame())];
};

/** Axes within this (relative) are equal and the ellipse is an arc of a circle. *Practice, no source.* */
const ROUND = 1e-9;

/** Centre and axes of an ELLIPSE are in world coordinates; the minor axis is extrusion × major, times the ratio (40). */
export const readEllipse = (fields: Fields): Outline[] => {
  const centre = fields.point(10);
  const major = fields.point(11);
  const ratio = fields.need(40);
  const start = fields.number(41, 0);
  const by = sweep(start, fields.number(42, 2 * Math.PI));
  const size = Math.hypot(major.x, major.y, major.z);
  if (size === 0 || ratio === 0) fields.bad = true;
  const normal = { x: fields.number(210, 0), y: fields.number(220, 0), z: fields.number(230, 1) };
  const whole = by >= 2 * Math.PI - 1e-9;
  const minor = times(perpendicular(normal, major), ratio);
  if (Math.abs(Math.abs(ratio) - 1) > ROUND) {
    return [outline(ellipseKnots(centre, major, minor, start, by), whole, IDENTITY, { chords: true })];
  }
  // Equal axes: a circle in the plane of the two axes, exact as bulges.
  const frame: Matrix = {
    ax: times(major, 1 / size),
    ay: times(minor, 1 / size),
    az: objectFrame(normal).az,
    origin: centre,
  };
  const zero = { x: 0, y: 0, z: 0 };
  return [outline(whole ? circleKnots(zero, size) : arcKnots(zero, size, start, by), whole, frame)];
};

const times = (p: Point3, k: number): Point3 => ({ x: p.x * k, y: p.y * k, z: p.z * k });

/** unit(normal) × p: p turned by 90 degrees about the normal. */
const perpendicular = (normal: Point3, p: Point3): Point3 => {
  const { ax, ay, az } = objectFrame(normal);
  const frame: Matrix = { ax, ay, az, origin: { x: 0, y: 0, z: 0 } };
  const local = { x: dot(ax, p), y: dot(ay, p), z: 0 };
  return turn(frame, { x: -local.y, y: local.x, z: 0 });
};

const dot = (a: Point3, b: Point3): number => a.x * b.x + a.y * b.y + a.z * b.z;

/** All points whose x has this code, in order; y and z follow their x. */
export const pointsOf = (fields: Fields, code: number): Point3[] => {
  const points: { x: number; y: number; z: number }[] = [];
  for (const tag of fields.tags) {
    const last = points[points.length - 1];
    if (tag.code === code) points.push({ x: fields.of(tag), y: 0, z: 0 });
    else if (last && tag.code === code + 10) last.y = fields.of(tag);
    else if (last && tag.code === code + 20) last.z = fields.of(tag);
  }
  return points;
};

const numbersOf = (fields: Fields, code: number): number[] =>
  fields.tags.filter((tag) => tag.code === code).map((tag) => fields.of(tag));

/** A SPLINE by its control points; without them the polygon of its fit points. Flags (70): 1 closed. */
export const readSpline = (fields: Fields): Outline[] => {
  const points = pointsOf(fields, 10);
  const fit = pointsOf(fields, 11);
  const spline: SplineData = {
    degree: fields.number(71, 3),
    knots: numbersOf(fields, 40),
    points,
    weights: numbersOf(fields, 41),
  };
  const path = points.length > 0 ? splineKnots(spline) : fit.map((p) => knot(p.x, p.y, p.z));
  if (path === null || path.length < 2) {
    fields.bad = true;
    return [];
  }
  return [outline(path, (fields.flags(70) & 1) !== 0, IDENTITY, { chords: true })];
};

/** The four corners of a SOLID or TRACE run 1, 2, 4, 3; a third without a fourth, or twice the same, makes a triangle. */
export const readSolid = (fields: Fields): Outline[] => {
  const corners = [fields.point(10), fields.point(11)];
  const third = fields.point(12);
  const fourth = fields.has(13) ? fields.point(13) : third;
  corners.push(fourth);
  if (third.x !== fourth.x || third.y !== fourth.y) corners.push(third);
  return [
    outline(
      corners.map((p) => knot(p.x, p.y, p.z)),
      true,
      fields.frame(),
    ),
  ];
};
