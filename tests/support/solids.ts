/** Solids of models looked at from outside: boxes, volumes, and whether a point lies within. Plain and slow, for tests. */

import type { PathVertex, Solid, Vec3 } from '../../src/ground/vocabulary.js';

export interface Extent {
  readonly least: readonly [number, number, number];
  readonly most: readonly [number, number, number];
}

const dot = (a: Vec3, b: Vec3): number => a.x * b.x + a.y * b.y + a.z * b.z;
const minus = (a: Vec3, b: Vec3): Vec3 => ({ x: a.x - b.x, y: a.y - b.y, z: a.z - b.z });

/** Arcs as chords of at most 2 degrees. */
export const polygonOf = (outline: readonly PathVertex[]): { x: number; y: number }[] =>
  outline.flatMap((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    if (a.bulge === 0) return [{ x: a.x, y: a.y }];
    const angle = 4 * Math.atan(a.bulge);
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const h = 1 / Math.tan(angle / 2) / 2;
    const [cx, cy] = [a.x + dx / 2 - dy * h, a.y + dy / 2 + dx * h];
    const n = Math.max(2, Math.ceil(Math.abs(angle) / (Math.PI / 90)));
    const start = Math.atan2(a.y - cy, a.x - cx);
    const r = Math.hypot(a.x - cx, a.y - cy);
    return Array.from({ length: n }, (_, k) => ({
      x: cx + r * Math.cos(start + (angle * k) / n),
      y: cy + r * Math.sin(start + (angle * k) / n),
    }));
  });

const areaOf = (polygon: readonly { x: number; y: number }[]): number =>
  polygon.reduce((sum, a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    return sum + (a.x * b.y - b.x * a.y) / 2;
  }, 0);

/** Corners of what a solid is made of; of differences those of the body. */
export const cornersOf = (solid: Solid): Vec3[] => {
  switch (solid.kind) {
    case 'prism': {
      const { frame: f, direction: d, depthMm } = solid;
      const along = (axis: 'x' | 'y' | 'z', p: { x: number; y: number }, t: number): number =>
        f.origin[axis] + f.x[axis] * p.x + f.y[axis] * p.y + d[axis] * t;
      return polygonOf(solid.outlines[0]!).flatMap((p) =>
        [0, depthMm].map((t) => ({ x: along('x', p, t), y: along('y', p, t), z: along('z', p, t) })),
      );
    }
    case 'mesh': {
      const used = new Set(solid.faces.flat(2));
      return solid.points.filter((_, i) => used.has(i));
    }
    case 'half-space':
      return [];
    case 'union':
      return [...cornersOf(solid.first), ...cornersOf(solid.second)];
    default:
      return cornersOf(solid.first);
  }
};

export const extentOf = (points: readonly Vec3[]): Extent => {
  const least: [number, number, number] = [Infinity, Infinity, Infinity];
  const most: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const p of points) {
    for (const [i, v] of [p.x, p.y, p.z].entries()) {
      least[i] = Math.min(least[i]!, v);
      most[i] = Math.max(most[i]!, v);
    }
  }
  return { least, most };
};

/** Volume of closed triangles or faces, by the divergence theorem, mm3; faces as fans. */
const meshVolume = (points: readonly Vec3[], faces: readonly (readonly (readonly number[])[])[]): number => {
  const o = points[0]!;
  let six = 0;
  for (const face of faces) {
    for (const loop of face) {
      for (let i = 1; i + 1 < loop.length; i++) {
        const [a, b, c] = [loop[0]!, loop[i]!, loop[i + 1]!].map((k) => minus(points[k]!, o)) as [Vec3, Vec3, Vec3];
        six += a.x * (b.y * c.z - b.z * c.y) - a.y * (b.x * c.z - b.z * c.x) + a.z * (b.x * c.y - b.y * c.x);
      }
    }
  }
  return six / 6;
};

/** Whether every edge of a mesh is passed once each way: closed, and all faces turned outwards or all inwards. */
const isOriented = (faces: readonly (readonly (readonly number[])[])[]): boolean => {
  const edges = new Map<string, number>();
  for (const loop of faces.flat()) {
    loop.forEach((a, i) => {
      const b = loop[(i + 1) % loop.length]!;
      const key = a < b ? `${a} ${b}` : `${b} ${a}`;
      edges.set(key, (edges.get(key) ?? 0) + (a < b ? 1 : -1));
    });
  }
  return [...edges.values()].every((n) => n === 0);
};

/** Volume of a prism or mesh, mm3; null for what is combined and for faces that do not say where outside is. */
export const volumeOf = (solid: Solid): number | null => {
  if (solid.kind === 'mesh') return isOriented(solid.faces) ? meshVolume(solid.points, solid.faces) : null;
  if (solid.kind !== 'prism') return null;
  const [outer, ...voids] = solid.outlines.map((outline) => Math.abs(areaOf(polygonOf(outline))));
  const height = Math.abs(dot(solid.direction, solid.frame.z)) * solid.depthMm;
  return (outer! - voids.reduce((sum, a) => sum + a, 0)) * height;
};

/** Signed distance of a point to a polygon: positive within. */
const inside = (polygon: readonly { x: number; y: number }[], x: number, y: number): number => {
  let within = false;
  let nearest = Number.POSITIVE_INFINITY;
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    if (a.y > y !== b.y > y && x < a.x + ((y - a.y) / (b.y - a.y)) * (b.x - a.x)) within = !within;
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const t = Math.max(0, Math.min(1, ((x - a.x) * dx + (y - a.y) * dy) / (dx * dx + dy * dy || 1)));
    nearest = Math.min(nearest, Math.hypot(a.x + t * dx - x, a.y + t * dy - y));
  });
  return within ? nearest : -nearest;
};

/** How deep a point lies within a solid, mm, at least; negative outside. Meshes: unknown, taken as everywhere. */
export const depthIn = (solid: Solid, p: Vec3): number => {
  switch (solid.kind) {
    case 'mesh':
      return Number.POSITIVE_INFINITY;
    case 'half-space': {
      const below = -dot(solid.normal, minus(p, solid.origin));
      if (solid.boundary === null) return below;
      const { frame, outline } = solid.boundary;
      const d = minus(p, frame.origin);
      return Math.min(below, inside(polygonOf(outline), dot(d, frame.x), dot(d, frame.y)));
    }
    case 'prism': {
      const { frame, direction, depthMm } = solid;
      const d = minus(p, frame.origin);
      const t = dot(d, frame.z) / dot(direction, frame.z);
      const flat = { x: d.x - direction.x * t, y: d.y - direction.y * t, z: d.z - direction.z * t };
      const sides = solid.outlines.map((outline, i) => {
        const depth = inside(polygonOf(outline), dot(flat, frame.x), dot(flat, frame.y));
        return i === 0 ? depth : -depth;
      });
      return Math.min(t, depthMm - t, ...sides);
    }
    case 'difference':
      return Math.min(depthIn(solid.first, p), -depthIn(solid.second, p));
    case 'union':
      return Math.max(depthIn(solid.first, p), depthIn(solid.second, p));
    default:
      return Math.min(depthIn(solid.first, p), depthIn(solid.second, p));
  }
};
