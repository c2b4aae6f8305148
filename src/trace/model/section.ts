/**
 * Plane sections of solids. A prism cut along its profile's plane is its profile, exactly; any other prism and every mesh is cut face by face; half
 * spaces become half planes; what is combined of solids is combined of their sections. The same tool cuts level and upright.
 */

import type { Vec } from '../../ground/plane.js';
import type { Frame, HalfSpace, Mesh, PathVertex, Prism, Solid, Vec3 } from '../../ground/vocabulary.js';
import { joinRings, type Piece } from './joinRings.js';
import {
  areaOf,
  type Box,
  boxOfRegion,
  boxRing,
  difference,
  enclosed,
  filled,
  intersection,
  NOTHING,
  type Region,
  union,
} from './region.js';
import { add3, dot3, into, outOf, scale3, straightOutline, turnedInto } from './space.js';

export interface Section {
  readonly region: Region;
  /** Gaps between ends that should have met: the faces do not close. */
  readonly openEnds: number;
}

const EMPTY: Section = { region: NOTHING, openEnds: 0 };
/** A direction whose part along another is less than this stands square to it. */
const SQUARE = 1e-9;
/** How far the outline of a bounded half space is swept each way, mm: farther than any wall is high. */
const SWEEP_MM = 1e6;

/** A prism's faces: its two ends and a side for each edge. */
const facesOfPrism = (prism: Prism): Mesh => {
  const points: Vec3[] = [];
  const [low, high]: number[][][] = [[], []];
  const faces: number[][][] = [];
  const along = scale3(prism.direction, prism.depthMm);
  for (const outline of prism.outlines) {
    const ring = straightOutline(outline);
    const first = points.length;
    const n = ring.length;
    for (const p of ring) points.push(outOf(prism.frame, p));
    for (let i = 0; i < n; i++) points.push(add3(points[first + i]!, along));
    const numbers = ring.map((_, i) => first + i);
    low!.push(numbers);
    high!.push(numbers.map((i) => i + n));
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      faces.push([[first + i, first + j, first + j + n, first + i + n]]);
    }
  }
  return { kind: 'mesh', points, faces: [low!, high!, ...faces] };
};

/** A solid that is not combined of others, by its faces; null: a half space has none. */
export const meshOf = (leaf: Solid): Mesh | null =>
  leaf.kind === 'mesh' ? leaf : leaf.kind === 'prism' ? facesOfPrism(leaf) : null;

/** Where an edge crosses the plane z = 0, reckoned from the same end whoever asks. */
const crossing = (a: Vec3, b: Vec3): Vec => {
  const turn = a.z > b.z || (a.z === b.z && (a.x > b.x || (a.x === b.x && a.y > b.y)));
  const [p, q] = turn ? [b, a] : [a, b];
  const t = -p.z / (q.z - p.z);
  return { x: p.x + (q.x - p.x) * t, y: p.y + (q.y - p.y) * t };
};

/** In the order along the line that they lie on. */
const alongLine = (points: Vec[]): Vec[] => {
  const p = points[0]!;
  const far = points.reduce((best, q) =>
    Math.hypot(q.x - p.x, q.y - p.y) > Math.hypot(best.x - p.x, best.y - p.y) ? q : best,
  );
  const key = (q: Vec) => (q.x - p.x) * (far.x - p.x) + (q.y - p.y) * (far.y - p.y);
  return [...points].sort((a, b) => key(a) - key(b));
};

/** More rings than this are taken by their crossings alone. */
const RINGS_MOST = 60;
/** A ring that misses another's area by less than this share is inside it, or the same. */
const SAME_SHARE = 0.001;

/**
 * What the rings of a mesh enclose. A mesh may be several shells: one wholly inside another is a void, one that lies partly over another is united with it, and one
 * that is there twice counts once.
 */
const regionOfShells = (rings: readonly (readonly Vec[])[]): Region => {
  if (rings.length < 2 || rings.length > RINGS_MOST) return enclosed(rings);
  const sizes = rings.map((ring) => {
    const region = enclosed([ring]);
    return { region, area: areaOf(region) };
  });
  const sorted = sizes.filter((r) => r.area > 0).sort((p, q) => q.area - p.area);
  let region = NOTHING;
  sorted.forEach((ring, i) => {
    const isTwice = sorted
      .slice(0, i)
      .some(
        (o) =>
          o.area - ring.area < SAME_SHARE * o.area && areaOf(difference(o.region, ring.region)) < SAME_SHARE * o.area,
      );
    if (isTwice) return;
    const isInside = areaOf(difference(ring.region, region)) < SAME_SHARE * ring.area;
    region = isInside ? difference(region, ring.region) : union(region, ring.region);
  });
  return region;
};

const cutMesh = (mesh: Mesh, plane: Frame): Section => {
  const points = mesh.points.map((p) => into(plane, p));
  const pieces: Piece[] = [];
  for (const face of mesh.faces) {
    const met: Vec[] = [];
    for (const loop of face)
      loop.forEach((number, i) => {
        const a = points[number];
        const b = points[loop[(i + 1) % loop.length]!];
        if (a && b && a.z >= 0 !== b.z >= 0) met.push(crossing(a, b));
      });
    const sorted = met.length > 2 ? alongLine(met) : met;
    for (let i = 0; i + 1 < sorted.length; i += 2) pieces.push({ a: sorted[i]!, b: sorted[i + 1]! });
  }
  const { rings, openEnds } = joinRings(pieces);
  return { region: regionOfShells(rings), openEnds };
};

const cutPrism = (prism: Prism, plane: Frame): Section => {
  const [outer, ...voids] = prism.outlines;
  if (!outer || outer.length < 2) return EMPTY;
  const [x, y] = [turnedInto(plane, prism.frame.x), turnedInto(plane, prism.frame.y)];
  if (Math.abs(x.z) > SQUARE || Math.abs(y.z) > SQUARE) return cutMesh(facesOfPrism(prism), plane);
  const origin = into(plane, prism.frame.origin);
  const along = turnedInto(plane, prism.direction);
  if (Math.abs(along.z) <= SQUARE) return EMPTY;
  const t = -origin.z / along.z;
  if (t < 0 || t > prism.depthMm) return EMPTY;
  const ring = (outline: readonly PathVertex[]): Vec[] =>
    straightOutline(outline).map((p) => ({
      x: origin.x + along.x * t + x.x * p.x + y.x * p.y,
      y: origin.y + along.y * t + x.y * p.x + y.y * p.y,
    }));
  return { region: difference(enclosed([ring(outer)]), filled(voids.map(ring))), openEnds: 0 };
};

/** The part of the box on the inner side of the plane. */
const halfPlane = (half: HalfSpace, plane: Frame, box: Box): Region => {
  const n = turnedInto(plane, half.normal);
  const off = dot3(n, into(plane, half.origin));
  const side = (p: Vec) => n.x * p.x + n.y * p.y - off;
  const ring = boxRing(box, 1);
  const kept: Vec[] = [];
  ring.forEach((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    const [a, b] = [side(p), side(q)];
    if (a <= 0) kept.push(p);
    if (a <= 0 !== b <= 0) kept.push({ x: p.x + ((q.x - p.x) * a) / (a - b), y: p.y + ((q.y - p.y) * a) / (a - b) });
  });
  return kept.length < 3 ? NOTHING : enclosed([kept]);
};

const cutHalfSpace = (half: HalfSpace, plane: Frame, box: Box): Section => {
  const region = halfPlane(half, plane, box);
  if (half.boundary === null || region.length === 0) return { region, openEnds: 0 };
  const { frame, outline } = half.boundary;
  const origin = add3(frame.origin, scale3(frame.z, -SWEEP_MM));
  const swept: Prism = {
    kind: 'prism',
    frame: { ...frame, origin },
    outlines: [outline],
    direction: frame.z,
    depthMm: 2 * SWEEP_MM,
  };
  return { region: intersection(region, cutPrism(swept, plane).region), openEnds: 0 };
};

/** The section of one solid; `box` bounds half spaces. Chains of cuts, however long, are worked off one by one. */
const cut = (solid: Solid, plane: Frame, box: Box | null): Section => {
  const steps: { readonly kind: 'difference' | 'union' | 'intersection'; readonly second: Solid }[] = [];
  let base = solid;
  while (base.kind === 'difference' || base.kind === 'union' || base.kind === 'intersection') {
    steps.push({ kind: base.kind, second: base.second });
    base = base.first;
  }
  let { region, openEnds } =
    base.kind === 'prism'
      ? cutPrism(base, plane)
      : base.kind === 'mesh'
        ? cutMesh(base, plane)
        : box === null
          ? EMPTY
          : cutHalfSpace(base as HalfSpace, plane, box);
  for (const { kind, second } of steps.reverse()) {
    if (region.length === 0 && kind !== 'union') break;
    const other = cut(second, plane, boxOfRegion(region) ?? box);
    openEnds += other.openEnds;
    const join = kind === 'difference' ? difference : kind === 'union' ? union : intersection;
    region = join(region, other.region);
  }
  return { region, openEnds };
};

/**
 * The section of a solid with the x-y plane of a frame, in that frame's x and y, mm. The solid must be usable (`isUsableSolid`). Where the
 * plane passes through vertices the section is that of the plane a hair below; a half space by itself has none.
 */
export const sectionAt = (solid: Solid, plane: Frame): Section => cut(solid, plane, null);
