/** Known curved walls and drawings of them. Truth comes from the measures alone; arcs are written with the DXF reference's bulge. */

import fc from 'fast-check';
import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath, WallCurve } from '../../src/ground/vocabulary.js';
import { type GroupWithCurves, traceGroupWithCurves } from '../../src/trace/curves/withCurves.js';
import { lowerCorner } from '../../src/trace/segments.js';
import { type Placing, pathOf, place } from './plans.js';

/** A curved wall about the origin, with straight walls of the same thickness tangent to its ends (0: none, the end is closed). */
export interface KnownCurve {
  readonly innerMm: number;
  readonly thicknessMm: number;
  /** Degrees. */
  readonly from: number;
  readonly by: number;
  readonly before: number;
  readonly after: number;
}

export const rad = (degrees: number): number => (degrees * Math.PI) / 180;
export const polar = (r: number, degrees: number, c: Vec = { x: 0, y: 0 }): Vec => ({
  x: c.x + r * Math.cos(rad(degrees)),
  y: c.y + r * Math.sin(rad(degrees)),
});

type Piece =
  | { readonly kind: 'line'; readonly a: Vec; readonly b: Vec }
  | { readonly kind: 'arc'; readonly r: number; readonly from: number; readonly by: number };

/** The lines and arcs that bound the concrete. */
export const boundary = (k: KnownCurve): Piece[] => {
  const [r, R] = [k.innerMm, k.innerMm + k.thicknessMm];
  const end = k.from + k.by;
  const out: Piece[] = [
    { kind: 'arc', r, from: k.from, by: k.by },
    { kind: 'arc', r: R, from: k.from, by: k.by },
  ];
  if (k.by >= 360) return out;
  const tangent = (angle: number, sense: 1 | -1, mm: number, at: Vec): Vec => ({
    x: at.x - sense * mm * Math.sin(rad(angle)),
    y: at.y + sense * mm * Math.cos(rad(angle)),
  });
  for (const [angle, sense, mm] of [
    [k.from, -1, k.before],
    [end, 1, k.after],
  ] as const) {
    const [p, q] = [polar(r, angle), polar(R, angle)];
    const [s, t] = [tangent(angle, sense, mm, p), tangent(angle, sense, mm, q)];
    if (mm > 0) out.push({ kind: 'line', a: p, b: s }, { kind: 'line', a: q, b: t });
    out.push({ kind: 'line', a: s, b: t });
  }
  return out;
};

const LAYER = { layer: 'S-FNDN-WALL' };

/** An arc of less than a whole turn as an ARC entity is read: bulged pieces of at most half a turn. */
export const arcPath = (
  c: Vec,
  r: number,
  from: number,
  by: number,
  source: string,
  m: Placing,
  more: Partial<DrawingPath> = {},
): DrawingPath => {
  const n = Math.abs(by) > 180 ? 2 : 1;
  const sign = m.mirrored ? -1 : 1;
  const vertices = Array.from({ length: n + 1 }, (_, i) => ({
    ...place(polar(r, from + (by * i) / n, c), m),
    bulge: i === n ? 0 : sign * Math.tan(rad(by / n) / 4),
  }));
  return { ...pathOf([], source, { entity: 'ARC', ...LAYER, ...more }), vertices, closed: false };
};

export const circlePath = (
  c: Vec,
  r: number,
  source: string,
  m: Placing,
  more: Partial<DrawingPath> = {},
): DrawingPath => ({
  ...pathOf([], source, { entity: 'CIRCLE', ...LAYER, ...more }),
  vertices: [0, 180].map((a) => ({ ...place(polar(r, a, c), m), bulge: m.mirrored ? -1 : 1 })),
  closed: true,
});

export const linePath = (a: Vec, b: Vec, source: string, m: Placing, more: Partial<DrawingPath> = {}): DrawingPath =>
  pathOf([place(a, m), place(b, m)], source, { ...LAYER, ...more });

/** Chords of an arc: `count` LINEs, or one polyline. */
export const chordPaths = (
  r: number,
  from: number,
  by: number,
  count: number,
  source: string,
  m: Placing,
  polyline: boolean,
): DrawingPath[] => {
  const points = Array.from({ length: count + 1 }, (_, i) => place(polar(r, from + (by * i) / count), m));
  if (polyline) return [{ ...pathOf(points, source, LAYER), closed: false }];
  return points.slice(1).map((p, i) => pathOf([points[i]!, p], `${source}.${i}`, LAYER));
};

export type Style = 'arcs' | 'pieces' | 'chords' | 'chord polylines' | 'outline';

/** Pieces that overlap, touch, stop short of each other by up to 20 mm, and lie on each other. */
const arcInPieces = (r: number, from: number, by: number, source: string, m: Placing, cut: number): DrawingPath[] => {
  const mid = from + by * cut;
  const mm = (x: number) => (x / r) * (180 / Math.PI);
  const overlap = by * 0.2;
  return [
    arcPath({ x: 0, y: 0 }, r, from, (mid - from) * 0.6, `${source}a`, m),
    // Touches the first.
    arcPath({ x: 0, y: 0 }, r, from + (mid - from) * 0.6, (mid - from) * 0.4, `${source}b`, m),
    // Drawn the other way round, 20 mm away.
    arcPath({ x: 0, y: 0 }, r, from + by, -(from + by - mid - mm(20)), `${source}c`, m),
    // Twice over a part.
    arcPath({ x: 0, y: 0 }, r, from + by - overlap, overlap, `${source}d`, m),
  ];
};

/** The boundary as one closed polyline, for a curve with less than a whole turn. */
const outlinePath = (k: KnownCurve, m: Placing): DrawingPath => {
  const [r, R] = [k.innerMm, k.innerMm + k.thicknessMm];
  const end = k.from + k.by;
  const sign = m.mirrored ? -1 : 1;
  const bulge = Math.tan(rad(k.by) / 4);
  const shift = (p: Vec, angle: number, mm: number): Vec => ({
    x: p.x - mm * Math.sin(rad(angle)),
    y: p.y + mm * Math.cos(rad(angle)),
  });
  const points: { p: Vec; bulge: number }[] = [
    ...(k.before > 0 ? [{ p: shift(polar(r, k.from), k.from, -k.before), bulge: 0 }] : []),
    { p: polar(r, k.from), bulge: sign * bulge },
    { p: polar(r, end), bulge: 0 },
    ...(k.after > 0
      ? [
          { p: shift(polar(r, end), end, k.after), bulge: 0 },
          { p: shift(polar(R, end), end, k.after), bulge: 0 },
        ]
      : []),
    { p: polar(R, end), bulge: -sign * bulge },
    { p: polar(R, k.from), bulge: 0 },
    ...(k.before > 0 ? [{ p: shift(polar(R, k.from), k.from, -k.before), bulge: 0 }] : []),
  ];
  const vertices = points.map(({ p, bulge: b }) => ({ ...place(p, m), bulge: b }));
  return { ...pathOf([], 'outline', { entity: 'LWPOLYLINE', ...LAYER }), vertices, closed: true };
};

export const drawn = (k: KnownCurve, style: Style, m: Placing): DrawingPath[] => {
  if (style === 'outline' && k.by < 360) return [outlinePath(k, m)];
  return boundary(k).flatMap((piece, i): DrawingPath[] => {
    const source = `P${i}`;
    if (piece.kind === 'line') return [linePath(piece.a, piece.b, source, m)];
    const { r, from, by } = piece;
    if (style === 'chords' || style === 'chord polylines') {
      // Chords that rise by at most 2 mm, at least 8.
      const step = 2 * Math.acos(Math.max(0.98, 1 - 2 / r));
      const count = Math.max(8, Math.ceil(rad(by) / step));
      return chordPaths(r, from, by, count, source, m, style === 'chord polylines');
    }
    if (style === 'pieces') return arcInPieces(r, from, by, source, m, 0.4 + 0.1 * i);
    if (by >= 360) return [circlePath({ x: 0, y: 0 }, r, source, m)];
    return [arcPath({ x: 0, y: 0 }, r, from, by, source, m)];
  });
};

export const traced = (paths: readonly DrawingPath[], cautious = false): GroupWithCurves =>
  traceGroupWithCurves(paths, {
    frame: { origin: lowerCorner(paths), mmPer: 1 },
    area: null,
    footings: 'possible',
    cautious,
  });

/** Straight from the measures: centre, ends of the axis in order, anticlockwise. */
export const truth = (k: KnownCurve, m: Placing) => {
  const radius = k.innerMm + k.thicknessMm / 2;
  const ends = [place(polar(radius, k.from), m), place(polar(radius, k.from + k.by), m)];
  return { centre: place({ x: 0, y: 0 }, m), radius, ends: m.mirrored ? ends.reverse() : ends };
};

export const axisEnds = (c: WallCurve): [Vec, Vec] =>
  [c.fromRad, c.toRad].map((a) => ({
    x: c.centre.x + c.radiusMm * Math.cos(a),
    y: c.centre.y + c.radiusMm * Math.sin(a),
  })) as [Vec, Vec];

export const STILL: Placing = { mirrored: false, turnRad: 0, dx: 0, dy: 0 };

export const arbitraryCurve: fc.Arbitrary<KnownCurve> = fc
  .record({
    innerMm: fc.integer({ min: 600, max: 20_000 }),
    thicknessMm: fc.integer({ min: 100, max: 600 }),
    from: fc.integer({ min: 0, max: 359 }),
    share: fc.integer({ min: 0, max: 100 }),
    before: fc.constantFrom(0, 0, 1500, 4000),
    after: fc.constantFrom(0, 0, 2500),
  })
  .map(({ share, ...k }) => {
    // From what makes a wall three times as long as thick (and is told from a straight one) up to 270 degrees.
    const radius = k.innerMm + k.thicknessMm / 2;
    const least = Math.max((3 * k.thicknessMm * 180) / (Math.PI * radius), 12);
    return { ...k, by: least + ((270 - least) * share) / 100 };
  });
