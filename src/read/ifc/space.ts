/** Directions, frames and maps of space, as IFC's own functions make them. Lengths mm. */

import { cross3, dot3, length3, sub3 as minus, ORIGIN, add3 as plus, scale3 as times } from '../../ground/space.js';
import type { Frame, Vec3 } from '../../ground/vocabulary.js';

export { cross3, dot3, length3, minus, plus, times };

export const vec3 = (x: number, y: number, z: number): Vec3 => ({ x, y, z });
const X_AXIS: Vec3 = vec3(1, 0, 0);
const Y_AXIS: Vec3 = vec3(0, 1, 0);
export const Z_AXIS: Vec3 = vec3(0, 0, 1);

export const finite3 = (a: Vec3): boolean => Number.isFinite(a.x) && Number.isFinite(a.y) && Number.isFinite(a.z);

/** Shorter than this a direction says nothing (ratios of a direction are near 1). */
const NO_DIRECTION = 1e-9;

/** Unit vector, or null where it has no direction. An axis of the world stays exact. */
export const unit3 = (a: Vec3): Vec3 | null => {
  const l = length3(a);
  return Number.isFinite(l) && l > NO_DIRECTION ? vec3(a.x / l, a.y / l, a.z / l) : null;
};

/** A map of space: where the origin and the three axes go. The axes need be neither unit nor square to each other. */
export type Affine = Frame;

export const IDENTITY: Affine = { origin: ORIGIN, x: X_AXIS, y: Y_AXIS, z: Z_AXIS };

export const turned = (m: Affine, v: Vec3): Vec3 =>
  vec3(
    m.x.x * v.x + m.y.x * v.y + m.z.x * v.z,
    m.x.y * v.x + m.y.y * v.y + m.z.y * v.z,
    m.x.z * v.x + m.y.z * v.y + m.z.z * v.z,
  );
export const placed = (m: Affine, p: Vec3): Vec3 => plus(m.origin, turned(m, p));

/** First `inner`, then `outer`. */
export const joined = (outer: Affine, inner: Affine): Affine =>
  outer === IDENTITY
    ? inner
    : inner === IDENTITY
      ? outer
      : {
          origin: placed(outer, inner.origin),
          x: turned(outer, inner.x),
          y: turned(outer, inner.y),
          z: turned(outer, inner.z),
        };

/** IfcFirstProjAxis: `towards` made square to the unit vector `z`; null where it lies along it. Source: IFC4 EXPRESS. */
export const firstAxis = (z: Vec3, towards: Vec3 | null): Vec3 | null => {
  const along = towards === null ? null : unit3(towards);
  const v = along ?? (z.y === 0 && z.z === 0 ? Y_AXIS : X_AXIS);
  const off = times(z, dot3(v, z));
  return unit3(minus(v, off));
};

/** IfcBuildAxes: a right-handed frame of an axis and a reference direction, both optional; null where they say nothing. Source: IFC4 EXPRESS. */
export const frameOf = (origin: Vec3, axis: Vec3 | null, reference: Vec3 | null): Frame | null => {
  const z = axis === null ? Z_AXIS : unit3(axis);
  if (z === null) return null;
  const x = firstAxis(z, reference);
  return x === null ? null : { origin, x, y: cross3(z, x), z };
};

/** IfcSecondProjAxis: `towards` made square to both `z` and `x`. Source: IFC4 EXPRESS. */
export const secondAxis = (z: Vec3, x: Vec3, towards: Vec3 | null): Vec3 | null => {
  const v = towards === null ? Y_AXIS : unit3(towards);
  return v === null ? null : unit3(minus(minus(v, times(z, dot3(v, z))), times(x, dot3(v, x))));
};

const EQUAL = 1e-12;
export const isIdentity = (m: Affine): boolean =>
  [minus(m.x, X_AXIS), minus(m.y, Y_AXIS), minus(m.z, Z_AXIS)].every((d) => length3(d) < EQUAL) &&
  length3(m.origin) < 1e-9;

/** Whether the map turns left into right. */
export const mirrors = (m: Affine): boolean => dot3(cross3(m.x, m.y), m.z) < 0;
