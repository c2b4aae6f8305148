/** Known walls and drawings of them, clean or with the faults that real linework has. */

import fc from 'fast-check';
import type { Vec } from '../../src/ground/plane.js';
import type { LengthUnit } from '../../src/ground/units.js';
import type { Drawing, DrawingPath, DrawingText, TraceOptions } from '../../src/ground/vocabulary.js';
import { NOTHING_TOLD } from '../support/traceOptions.js';

export interface KnownStretch {
  readonly start: Vec;
  readonly end: Vec;
  readonly thicknessMm: number;
  /** How many of its two ends are closed by linework. */
  readonly caps: number;
}

export interface KnownPlan {
  /** Outlines of the concrete, closed. */
  readonly rings: readonly (readonly Vec[])[];
  readonly stretches: readonly KnownStretch[];
}

export interface PlanShape {
  readonly widthMm: number;
  readonly depthMm: number;
  readonly outerMm: number;
  /** A partition from the bottom wall: its left face, thickness, and length if it ends freely (null: it reaches the top wall). */
  readonly partition: { readonly atMm: number; readonly thicknessMm: number; readonly stubMm: number | null } | null;
  /** A wall that stands alone in the right part: lower left corner, length to the right, thickness. */
  readonly alone: {
    readonly x: number;
    readonly y: number;
    readonly lengthMm: number;
    readonly thicknessMm: number;
  } | null;
}

const p = (x: number, y: number): Vec => ({ x, y });
const box = (x0: number, y0: number, x1: number, y1: number): Vec[] => [p(x0, y0), p(x1, y0), p(x1, y1), p(x0, y1)];

/** Outlines and stretches of a plan, worked out from its measures alone. */
export const knownPlan = (s: PlanShape): KnownPlan => {
  const { widthMm: w, depthMm: d, outerMm: t, partition, alone } = s;
  const half = t / 2;
  const rings: Vec[][] = [box(0, 0, w, d)];
  const stretches: KnownStretch[] = [];
  const along = (y: number, cut: boolean) => {
    const parts =
      partition && cut
        ? [
            [t, partition.atMm],
            [partition.atMm + partition.thicknessMm, w - t],
          ]
        : [[t, w - t]];
    for (const [a, b] of parts) stretches.push({ start: p(a!, y), end: p(b!, y), thicknessMm: t, caps: 0 });
  };
  along(half, partition !== null);
  along(d - half, partition !== null && partition.stubMm === null);
  for (const x of [half, w - half]) stretches.push({ start: p(x, t), end: p(x, d - t), thicknessMm: t, caps: 0 });
  if (!partition) rings.push(box(t, t, w - t, d - t));
  else {
    const { atMm: a, thicknessMm: pt, stubMm } = partition;
    const b = a + pt;
    const top = stubMm === null ? d - t : t + stubMm;
    stretches.push({
      start: p(a + pt / 2, t),
      end: p(a + pt / 2, top),
      thicknessMm: pt,
      caps: stubMm === null ? 0 : 1,
    });
    if (stubMm === null) rings.push(box(t, t, a, d - t), box(b, t, w - t, d - t));
    else rings.push([p(t, t), p(a, t), p(a, top), p(b, top), p(b, t), p(w - t, t), p(w - t, d - t), p(t, d - t)]);
  }
  if (alone) {
    const { x, y, lengthMm: l, thicknessMm: at } = alone;
    rings.push(box(x, y, x + l, y + at));
    stretches.push({ start: p(x, y + at / 2), end: p(x + l, y + at / 2), thicknessMm: at, caps: 2 });
  }
  return { rings, stretches };
};

/** Turns by quarter turns, mirrors, turns by any angle, then shifts. */
export interface Placing {
  readonly mirrored: boolean;
  readonly turnRad: number;
  readonly dx: number;
  readonly dy: number;
}

export const place = (q: Vec, m: Placing): Vec => {
  const x = m.mirrored ? -q.x : q.x;
  const c = Math.cos(m.turnRad);
  const s = Math.sin(m.turnRad);
  return { x: x * c - q.y * s + m.dx, y: x * s + q.y * c + m.dy };
};

export const pathOf = (points: readonly Vec[], source: string, more: Partial<DrawingPath> = {}): DrawingPath => ({
  source,
  entity: points.length === 2 ? 'LINE' : 'LWPOLYLINE',
  layer: 'S-FNDN-WALL',
  blocks: [],
  vertices: points.map((v) => ({ ...v, bulge: 0 })),
  closed: points.length > 2,
  elevation: 0,
  extrusion: 0,
  lineType: 'CONTINUOUS',
  width: 0,
  fill: null,
  ...more,
});

export const drawingOf = (paths: readonly DrawingPath[], more: Partial<Drawing> = {}): Drawing => ({
  kind: 'dxf',
  version: 'AC1021',
  declaredUnitCode: 4,
  declaredUnit: 'mm',
  layers: [...new Set(paths.map((x) => x.layer))]
    .sort()
    .map((name) => ({ name, visible: true, lineType: 'CONTINUOUS' })),
  paths,
  texts: [],
  dimensions: [],
  leaders: [],
  inserts: [],
  unread: {},
  unreadOn: [],
  document: { form: 'text', lineEnd: '\n', version: 'AC1021', coding: { label: 'utf8' }, tags: [] },
  ...more,
});

export const textOf = (text: string, height: number): DrawingText => ({
  source: 'T',
  layer: 'A-ANNO',
  blocks: [],
  at: p(0, 0),
  height,
  rotationRad: 0,
  text,
});

export const OPTIONS: TraceOptions = { ...NOTHING_TOLD, levels: { footingMm: 0, topMm: 2400 } };
export const optionsIn = (unit: LengthUnit): TraceOptions => ({ ...OPTIONS, unit });

/** Faults of one side of an outline; lengths mm. */
export interface Faults {
  /** Share of the side where it is split; null: whole. */
  readonly splitAt: number | null;
  /** Positive: the two pieces overlap; negative: a gap between them. */
  readonly lapMm: number;
  /** A second line over part of the first. */
  readonly doubled: boolean;
  /** How far each end runs past (positive) or stops short of (negative) its corner. */
  readonly overMm: readonly [number, number];
  readonly reversed: boolean;
}

/** A side as the lines that a careless draughtsman leaves of it. */
export const faultySide = (a: Vec, b: Vec, f: Faults): [Vec, Vec][] => {
  const l = Math.hypot(b.x - a.x, b.y - a.y);
  const at = (u: number): Vec => p(a.x + ((b.x - a.x) * u) / l, a.y + ((b.y - a.y) * u) / l);
  // A short side keeps its ends: a fault would be as long as the side.
  const over = l > 200 ? f.overMm : [0, 0];
  const from = -over[0]!;
  const to = l + over[1]!;
  const out: [number, number][] = [];
  if (f.splitAt === null || l < 1000) out.push([from, to]);
  else {
    const u = 300 + f.splitAt * (l - 600);
    out.push([from, u + f.lapMm / 2], [u - f.lapMm / 2, to]);
  }
  if (f.doubled) out.push([l * 0.2, l * 0.7]);
  return out.map(([u, v]) => (f.reversed ? [at(v), at(u)] : [at(u), at(v)]));
};

export const arbitraryFaults: fc.Arbitrary<Faults> = fc.record({
  splitAt: fc.option(fc.double({ min: 0, max: 1, noNaN: true }), { nil: null }),
  lapMm: fc.integer({ min: -18, max: 60 }),
  doubled: fc.boolean(),
  overMm: fc.tuple(fc.integer({ min: -15, max: 15 }), fc.integer({ min: -15, max: 15 })),
  reversed: fc.boolean(),
});

const thickness = fc.integer({ min: 100, max: 400 });

export const arbitraryPlan: fc.Arbitrary<PlanShape> = fc
  .record({
    widthMm: fc.integer({ min: 6000, max: 14000 }),
    depthMm: fc.integer({ min: 4000, max: 9000 }),
    outerMm: thickness,
    partition: fc.option(
      fc.record({
        share: fc.double({ min: 0.2, max: 0.5, noNaN: true }),
        thicknessMm: thickness,
        stub: fc.option(fc.double({ min: 0.3, max: 0.7, noNaN: true }), { nil: null }),
      }),
      { nil: null },
    ),
    alone: fc.option(
      fc.record({
        away: fc.integer({ min: 400, max: 1000 }),
        up: fc.integer({ min: 400, max: 2000 }),
        lengthMm: fc.integer({ min: 900, max: 1400 }),
        thicknessMm: thickness,
      }),
      { nil: null },
    ),
  })
  .map(({ widthMm, depthMm, outerMm, partition, alone }) => {
    const atMm = partition ? Math.round(widthMm * partition.share) : 0;
    const x = alone ? widthMm - outerMm - alone.away - alone.lengthMm : 0;
    const fits = x >= atMm + (partition?.thicknessMm ?? 0) + 300;
    return {
      widthMm,
      depthMm,
      outerMm,
      partition: partition && {
        atMm,
        thicknessMm: partition.thicknessMm,
        stubMm: partition.stub === null ? null : Math.round((depthMm - 2 * outerMm) * partition.stub),
      },
      alone: alone && fits && { x, y: outerMm + alone.up, lengthMm: alone.lengthMm, thicknessMm: alone.thicknessMm },
    };
  })
  .map((s) => ({ ...s, alone: s.alone || null }));

/** Lines within 1 mm of one offset are put on one: then the walls may come back that much off. */
export const toleranceOf = (plan: KnownPlan): number => {
  const close = (values: number[]) =>
    values.sort((a, b) => a - b).some((v, i) => i > 0 && v - values[i - 1]! > 0 && v - values[i - 1]! <= 1);
  const points = plan.rings.flat();
  return close(points.map((q) => q.x)) || close(points.map((q) => q.y)) ? 1.01 : 0.01;
};

export const arbitraryPlacing: fc.Arbitrary<Placing> = fc.record({
  mirrored: fc.boolean(),
  turnRad: fc.constantFrom(0, Math.PI / 2, Math.PI, -Math.PI / 2, Math.PI / 6, 1.234),
  dx: fc.constantFrom(0, -12345.678, 655000000),
  dy: fc.constantFrom(0, 98765.4, 6640000000),
});

/** Seed of the property tests: fixed, or FC_SEED. */
export const FC = { seed: Number(process.env.FC_SEED ?? 20240611), numRuns: Number(process.env.FC_RUNS ?? 150) };
