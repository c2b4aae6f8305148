/** Affine maps of space, as far as a plan needs them: rows give x, y, z of the image. */

export interface Point3 {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

const RIGHT_ANGLES: readonly Point3[] = [
  { x: 1, y: 0, z: 0 },
  { x: 0, y: 1, z: 0 },
  { x: -1, y: 0, z: 0 },
  { x: 0, y: -1, z: 0 },
];

/** The direction at this angle; exact at right angles, so that square walls stay square. */
export const directionAt = (angleDeg: number): Point3 => {
  const quarters = angleDeg / 90;
  if (Number.isInteger(quarters)) return RIGHT_ANGLES[((quarters % 4) + 4) % 4]!;
  const angle = (angleDeg * Math.PI) / 180;
  return { x: Math.cos(angle), y: Math.sin(angle), z: 0 };
};

/** Images of the three axes and of the origin. */
export interface Matrix {
  readonly ax: Point3;
  readonly ay: Point3;
  readonly az: Point3;
  readonly origin: Point3;
}

export const ZERO: Point3 = { x: 0, y: 0, z: 0 };
export const IDENTITY: Matrix = {
  ax: { x: 1, y: 0, z: 0 },
  ay: { x: 0, y: 1, z: 0 },
  az: { x: 0, y: 0, z: 1 },
  origin: ZERO,
};

/** The image of a direction (no shift). */
export const turn = (m: Matrix, p: Point3): Point3 => ({
  x: m.ax.x * p.x + m.ay.x * p.y + m.az.x * p.z,
  y: m.ax.y * p.x + m.ay.y * p.y + m.az.y * p.z,
  z: m.ax.z * p.x + m.ay.z * p.y + m.az.z * p.z,
});

/** The image of a point. */
export const apply = (m: Matrix, p: Point3): Point3 => {
  const t = turn(m, p);
  return { x: t.x + m.origin.x, y: t.y + m.origin.y, z: t.z + m.origin.z };
};

/** First `inner`, then `outer`. */
export const compose = (outer: Matrix, inner: Matrix): Matrix => {
  if (inner === IDENTITY) return outer;
  if (outer === IDENTITY) return inner;
  return {
    ax: turn(outer, inner.ax),
    ay: turn(outer, inner.ay),
    az: turn(outer, inner.az),
    origin: apply(outer, inner.origin),
  };
};

const crossed = (a: Point3, b: Point3): Point3 => ({
  x: a.y * b.z - a.z * b.y,
  y: a.z * b.x - a.x * b.z,
  z: a.x * b.y - a.y * b.x,
});

const normed = (a: Point3): Point3 => {
  const l = Math.hypot(a.x, a.y, a.z);
  return { x: a.x / l, y: a.y / l, z: a.z / l };
};

/**
 * Object coordinates to world coordinates for an extrusion direction, by the arbitrary axis algorithm (DXF reference, 'Object coordinate systems'):
 * the x axis is Y × N where N lies within 1/64 of the z axis, else Z × N. A zero direction is taken as the z axis.
 */
export const objectFrame = (extrusion: Point3): Matrix => {
  const size = Math.hypot(extrusion.x, extrusion.y, extrusion.z);
  if (size === 0 || (extrusion.x === 0 && extrusion.y === 0 && extrusion.z > 0)) return IDENTITY;
  const az = normed(extrusion);
  const near = Math.abs(az.x) < 1 / 64 && Math.abs(az.y) < 1 / 64;
  const ax = normed(crossed(near ? { x: 0, y: 1, z: 0 } : { x: 0, y: 0, z: 1 }, az));
  return { ax, ay: normed(crossed(az, ax)), az, origin: ZERO };
};

/** How a map acts on a plane figure seen in plan: 'keeps' arcs (turned, moved, evenly scaled), 'mirrors' them, or 'bends' them into something else. */
export const actionInPlan = (m: Matrix): 'keeps' | 'mirrors' | 'bends' => {
  const a = m.ax.x;
  const b = m.ax.y;
  const c = m.ay.x;
  const d = m.ay.y;
  const size = Math.max(a * a + b * b, c * c + d * d);
  const even = Math.abs(a * a + b * b - c * c - d * d) <= EVEN * size && Math.abs(a * c + b * d) <= EVEN * size;
  if (!even || size === 0) return 'bends';
  return a * d - b * c > 0 ? 'keeps' : 'mirrors';
};

/** The one scale in plan of a map that keeps or mirrors arcs; null for others. */
export const scaleInPlan = (m: Matrix): number | null =>
  actionInPlan(m) === 'bends' ? null : Math.hypot(m.ax.x, m.ax.y);

/** Scales that differ by less than this (relative) are equal: beyond rounding of written decimals, below what any drawing shows. *Practice, no source.* */
const EVEN = 1e-9;
