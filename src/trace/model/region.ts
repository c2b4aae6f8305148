/**
 * Plane regions as sets: union, difference, intersection, closing of hair cracks. Clipper works on integers: mm from a local origin times UNITS_PER_MM;
 * who calls takes the origin off first.
 */

import ClipperLib from 'clipper-lib';
import { byNumber, comparePoints, inOrder } from '../../ground/order.js';
import { fromLowest, type Vec } from '../../ground/plane.js';

/** Rings in clipper's integers: outer ones anticlockwise, holes clockwise. */
export type Region = readonly ClipperLib.Path[];

/** 0.0001 mm, as where bodies are united in shape. */
const UNITS_PER_MM = 10_000;
/** Vertices nearer than this to the line of their neighbours are rounding, not shape (units). */
const CLEAN_UNITS = 30;
/** Mitres of closing may reach this many times as far as it: enough for corners of 15 degrees. */
const MITRE = 8;

const { ctUnion, ctDifference, ctIntersection } = ClipperLib.ClipType;
const { pftNonZero, pftEvenOdd } = ClipperLib.PolyFillType;

export const NOTHING: Region = [];

/** Clipper's integers end at 4.5e15; what lies beyond is as good as at the border. */
const BORDER_UNITS = 1e15;

const units = (mm: number): number => Math.max(-BORDER_UNITS, Math.min(BORDER_UNITS, Math.round(mm * UNITS_PER_MM)));

const path = (ring: readonly Vec[]): ClipperLib.Path => ring.map((p) => ({ X: units(p.x), Y: units(p.y) }));

const executed = (type: ClipperLib.ClipType, subject: Region, clip: Region, fill = pftNonZero): Region => {
  const clipper = new ClipperLib.Clipper();
  if (subject.length > 0) clipper.AddPaths(subject as ClipperLib.Paths, ClipperLib.PolyType.ptSubject, true);
  if (clip.length > 0) clipper.AddPaths(clip as ClipperLib.Paths, ClipperLib.PolyType.ptClip, true);
  const solution: ClipperLib.Paths = [];
  clipper.Execute(type, solution, fill, fill);
  return solution;
};

/** Rings (mm) → what they enclose an odd number of times. */
export const enclosed = (rings: readonly (readonly Vec[])[]): Region =>
  executed(ctUnion, rings.map(path), NOTHING, pftEvenOdd);

/** Rings (mm) → all that any of them encloses. */
export const filled = (rings: readonly (readonly Vec[])[]): Region => union(...rings.map((ring) => enclosed([ring])));

export const union = (...regions: readonly Region[]): Region => executed(ctUnion, regions.flat(), NOTHING);
export const difference = (a: Region, b: Region): Region =>
  a.length === 0 || b.length === 0 ? a : executed(ctDifference, a, b);
export const intersection = (a: Region, b: Region): Region =>
  a.length === 0 || b.length === 0 ? NOTHING : executed(ctIntersection, a, b);

/** mm2. */
export const areaOf = (region: Region): number =>
  region.reduce((sum, ring) => sum + ClipperLib.Clipper.Area(ring), 0) / UNITS_PER_MM ** 2;

/** All its vertices, mm. */
export const verticesOf = (region: Region): Vec[] =>
  region.flatMap((ring) => ring.map((p) => ({ x: p.X / UNITS_PER_MM, y: p.Y / UNITS_PER_MM })));

/** Of all its rings together, mm. */
export const lengthAround = (region: Region): number => {
  let around = 0;
  for (const ring of region)
    ring.forEach((p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      around += Math.hypot(q.X - p.X, q.Y - p.Y);
    });
  return around / UNITS_PER_MM;
};

/** Grown by a distance (mm; negative: shrunk), corners mitred. */
export const grown = (region: Region, byMm: number): Region => {
  const offset = new ClipperLib.ClipperOffset(MITRE, 1);
  offset.AddPaths(region as ClipperLib.Paths, ClipperLib.JoinType.jtMiter, ClipperLib.EndType.etClosedPolygon);
  const solution: ClipperLib.Paths = [];
  offset.Execute(solution, byMm * UNITS_PER_MM);
  return solution;
};

/** Cracks up to `widthMm` wide are filled; all other edges stay where they are. */
export const withoutCracks = (region: Region, widthMm: number): Region =>
  grown(grown(region, widthMm / 2), -widthMm / 2);

export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export const boxOfRegion = (region: Region): Box | null => {
  if (region.length === 0) return null;
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of region)
    for (const p of ring) {
      if (p.X < x0) x0 = p.X;
      if (p.X > x1) x1 = p.X;
      if (p.Y < y0) y0 = p.Y;
      if (p.Y > y1) y1 = p.Y;
    }
  return { x0: x0 / UNITS_PER_MM, y0: y0 / UNITS_PER_MM, x1: x1 / UNITS_PER_MM, y1: y1 / UNITS_PER_MM };
};

export const boxesMeet = (a: Box | null, b: Box | null, withinMm = 0): boolean =>
  a !== null &&
  b !== null &&
  a.x0 <= b.x1 + withinMm &&
  b.x0 <= a.x1 + withinMm &&
  a.y0 <= b.y1 + withinMm &&
  b.y0 <= a.y1 + withinMm;

export const boxRing = (box: Box, byMm = 0): Vec[] => [
  { x: box.x0 - byMm, y: box.y0 - byMm },
  { x: box.x1 + byMm, y: box.y0 - byMm },
  { x: box.x1 + byMm, y: box.y1 + byMm },
  { x: box.x0 - byMm, y: box.y1 + byMm },
];

/** Rings in mm, each from its lowest vertex (x, then y), sorted by it; vertices on the straight line between their neighbours left out. */
export const ringsOf = (region: Region): Vec[][] =>
  ClipperLib.Clipper.CleanPolygons(region as ClipperLib.Paths, CLEAN_UNITS)
    .filter((ring) => ring.length >= 3)
    .map((ring) => fromLowest(ring.map((p) => ({ x: p.X / UNITS_PER_MM, y: p.Y / UNITS_PER_MM }))))
    .sort(
      inOrder<Vec[]>(
        byNumber((r) => r[0]!.x),
        byNumber((r) => r[0]!.y),
        byNumber((r) => r.length),
      ),
    );

/** Is the point (mm) inside? */
export const holds = (region: Region, p: Vec): boolean => {
  const at = { X: Math.round(p.x * UNITS_PER_MM), Y: Math.round(p.y * UNITS_PER_MM) };
  // Holes run the other way round, so that their crossings take away what the outer ring's add.
  let inside = 0;
  for (const ring of region)
    if (ClipperLib.Clipper.PointInPolygon(at, ring) !== 0) inside += ClipperLib.Clipper.Orientation(ring) ? 1 : -1;
  return inside > 0;
};

/** Each connected piece with its holes, by its lowest vertex. */
export const componentsOf = (region: Region): Region[] => {
  const clipper = new ClipperLib.Clipper();
  if (region.length > 0) clipper.AddPaths(region as ClipperLib.Paths, ClipperLib.PolyType.ptSubject, true);
  const tree = new ClipperLib.PolyTree();
  clipper.Execute(ctUnion, tree, pftNonZero, pftNonZero);
  return ClipperLib.JS.PolyTreeToExPolygons(tree)
    .map(({ outer, holes }) => ({ region: [outer, ...holes], key: ringsOf([outer])[0]?.[0] }))
    .filter((c): c is { region: ClipperLib.Path[]; key: Vec } => c.key !== undefined)
    .sort((p, q) => comparePoints(p.key, q.key))
    .map((c) => c.region);
};
