/** Ways of drawing walls: known walls → entities, in mm and plan coordinates. */

import type { Vec } from '../../../src/ground/plane.js';
import type { Dice } from './dice.js';
import type { Entity, Knot } from './dxfEntities.js';
import type { Naming } from './names.js';
import {
  bodyOf,
  lengthOf,
  type OutlineVertex,
  outlinesOf,
  pointOn,
  type Truth,
  type TruthWall,
  unitOf,
} from './truth.js';

export const STYLES = [
  'outlines',
  'outlines-repeated',
  'lines',
  'open-polylines',
  'boxes',
  'box-lines',
  'hatch',
  'hatch-pattern',
  'hatch-boxes',
  'hatch-outline',
  'chords',
  'width',
  'mline',
  'centre',
  'centre-noted',
] as const;
export type Style = (typeof STYLES)[number];

/** Hatches and multilines are not in R12. */
export const NEEDS_R2000: ReadonlySet<Style> = new Set([
  'hatch',
  'hatch-pattern',
  'hatch-boxes',
  'hatch-outline',
  'mline',
]);

const knots = (ring: readonly OutlineVertex[]): Knot[] =>
  ring.map((v) => (v.bulge === 0 ? { x: v.x, y: v.y } : { x: v.x, y: v.y, bulge: v.bulge }));

const DEG = 180 / Math.PI;
/** Chords in the place of arcs, as programs export them. */
const CHORD_DEG = 3;

const chorded = (ring: readonly OutlineVertex[]): Knot[] =>
  ring.flatMap((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a.bulge === 0) return [{ x: a.x, y: a.y }];
    const { centre, radius } = circleOf(a, b);
    const angle = 4 * Math.atan(a.bulge);
    const from = Math.atan2(a.y - centre.y, a.x - centre.x);
    const n = Math.max(1, Math.ceil((Math.abs(angle) * DEG) / CHORD_DEG));
    return Array.from({ length: n }, (_, k) => ({
      x: centre.x + radius * Math.cos(from + (angle * k) / n),
      y: centre.y + radius * Math.sin(from + (angle * k) / n),
    }));
  });

const circleOf = (a: OutlineVertex, b: OutlineVertex): { centre: Vec; radius: number } => {
  const c = (1 / a.bulge - a.bulge) / 2;
  const centre = { x: (a.x + b.x - (b.y - a.y) * c) / 2, y: (a.y + b.y + (b.x - a.x) * c) / 2 };
  return { centre, radius: Math.hypot(a.x - centre.x, a.y - centre.y) };
};

/** One piece of outline as a LINE or an ARC. */
const piece = (layer: string, a: OutlineVertex, b: OutlineVertex): Entity => {
  if (a.bulge === 0) return { kind: 'line', layer, a: { x: a.x, y: a.y }, b: { x: b.x, y: b.y } };
  const { centre, radius } = circleOf(a, b);
  const angle = (p: Vec) => Math.atan2(p.y - centre.y, p.x - centre.x) * DEG;
  const [from, to] = a.bulge > 0 ? [a, b] : [b, a];
  return {
    kind: 'arc',
    layer,
    centre,
    radius,
    fromDeg: angle(from),
    toDeg: angle(to),
  };
};

const pieces = (layer: string, rings: readonly (readonly OutlineVertex[])[]): Entity[] =>
  rings.flatMap((ring) => ring.map((a, i) => piece(layer, a, ring[(i + 1) % ring.length]!)));

/** Rings cut at corners into rows, so that each face or row of faces is one polyline. */
const openRows = (layer: string, rings: readonly (readonly OutlineVertex[])[], dice: Dice): Entity[] =>
  rings.flatMap((ring) => {
    const first = dice.whole(ring.length);
    const out: Entity[] = [];
    for (let k = 0; k < ring.length; ) {
      const steps = Math.min(ring.length - k, 1 + dice.whole(4));
      const row = Array.from({ length: steps + 1 }, (_, i) => ring[(first + k + i) % ring.length]!);
      const last = row.length - 1;
      out.push({
        kind: 'poly',
        layer,
        closed: false,
        points: knots(row.map((v, i) => (i === last ? { ...v, bulge: 0 } : v))),
      });
      k += steps;
    }
    return out;
  });

/** The part of a line that a convex ring (anticlockwise) holds, as distances from `from`; null when none. */
const clipped = (from: Vec, d: Vec, ring: readonly Vec[]): [number, number] | null => {
  let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    const n = { x: a.y - b.y, y: b.x - a.x };
    const gap = n.x * (from.x - a.x) + n.y * (from.y - a.y);
    const run = n.x * d.x + n.y * d.y;
    if (Math.abs(run) < 1e-9) {
      if (gap < 0) high = Number.NEGATIVE_INFINITY;
    } else if (run > 0) low = Math.max(low, -gap / run);
    else high = Math.min(high, -gap / run);
  });
  return low < high ? [low, high] : null;
};

/**
 * The parts of a wall that no wall before it in the list holds over its whole thickness: how walls butt against each other. Skew ones run into the
 * other wall until it holds the whole of them.
 */
export const buttParts = (walls: readonly TruthWall[], index: number): [number, number][] => {
  const w = walls[index]!;
  const [l, d, h] = [lengthOf(w), unitOf(w), w.thicknessMm / 2 - 0.5];
  const covered: [number, number][] = [];
  for (const o of walls.slice(0, index)) {
    const held = [h, 0, -h].map((v) => clipped(pointOn(w, 0, v), d, bodyOf(o)));
    if (held.some((x) => x === null)) continue;
    const [low, high] = [Math.max(...held.map((x) => x![0])), Math.min(...held.map((x) => x![1]))];
    if (low < high) covered.push([low, high]);
  }
  covered.sort((p, q) => p[0] - q[0]);
  const out: [number, number][] = [];
  let at = 0;
  for (const [low, high] of covered) {
    if (low > at) out.push([at, Math.min(low, l)]);
    at = Math.max(at, high);
  }
  if (at < l) out.push([at, l]);
  return out;
};

/** Walls, thickest first, with the blocks of square corners added to the earlier wall of the two thickest that meet there. */
export const withCorners = (list: readonly TruthWall[]): TruthWall[] => {
  const walls = [...list].sort((p, q) => q.thicknessMm - p.thicknessMm);
  const past = (w: TruthWall, p: Vec): number => {
    const d = unitOf(w);
    const others = walls.filter((o) => o !== w && [o.start, o.end].some((q) => Math.hypot(p.x - q.x, p.y - q.y) < 0.5));
    const square = others.filter((o) => Math.abs(d.x * unitOf(o).x + d.y * unitOf(o).y) < 1e-6);
    const inLine = others.filter((o) => !square.includes(o));
    const [other] = square;
    // The block belongs to the earlier one, and to neither where a thicker wall goes on in this wall's line.
    if (!other || walls.indexOf(other) < walls.indexOf(w)) return 0;
    return inLine.some((o) => walls.indexOf(o) < walls.indexOf(w)) ? 0 : other.thicknessMm / 2;
  };
  return walls.map((w) => ({
    ...w,
    start: pointOn(w, -past(w, w.start)),
    end: pointOn(w, lengthOf(w) + past(w, w.end)),
  }));
};

/**
 * Where a row that ends within a wall running past, or at a corner of two others of which it meets the thicker one across, meets that wall's face on
 * the way towards `next`; else the tip itself.
 */
const onFace = (tip: Vec, next: Vec, thicknessMm: number, walls: readonly TruthWall[]): Vec => {
  const row = { start: tip, end: next };
  const e = unitOf(row);
  const ending = walls.filter((w) => [w.start, w.end].some((q) => Math.hypot(tip.x - q.x, tip.y - q.y) < 0.5));
  for (const w of walls) {
    const [l, d] = [lengthOf(w), unitOf(w)];
    const [u, v] = [
      (tip.x - w.start.x) * d.x + (tip.y - w.start.y) * d.y,
      (tip.y - w.start.y) * d.x - (tip.x - w.start.x) * d.y,
    ];
    const sine = d.x * e.y - d.y * e.x;
    if (Math.abs(v) > 1 || Math.abs(sine) < 0.1) continue;
    const runsPast = u >= 1 && u <= l - 1;
    const isCorner = ending.length > 2 && ending.includes(w) && w.thicknessMm > thicknessMm;
    if (runsPast || isCorner) return pointOn(row, w.thicknessMm / 2 / Math.abs(sine));
  }
  return tip;
};

const parts = (truth: Truth): TruthWall[] => {
  const long = withCorners(truth.walls).map((w) => ({
    ...w,
    start: onFace(w.start, w.end, w.thicknessMm, truth.walls),
    end: onFace(w.end, w.start, w.thicknessMm, truth.walls),
  }));
  return long.flatMap((w, i) =>
    buttParts(long, i)
      .filter(([a, b]) => b - a > 1)
      .map(([a, b]) => ({ ...w, start: pointOn(w, a), end: pointOn(w, b) })),
  );
};

/** Rows of walls of one thickness, end to end through corners: what is drawn in one go. */
const chains = (walls: readonly TruthWall[]): { points: Vec[]; closed: boolean; thicknessMm: number }[] => {
  const same = (p: Vec, q: Vec) => Math.hypot(p.x - q.x, p.y - q.y) < 0.5;
  const ends = (p: Vec) => walls.filter((w) => same(w.start, p) || same(w.end, p));
  const left = new Set(walls);
  const out: { points: Vec[]; closed: boolean; thicknessMm: number }[] = [];
  for (const first of walls) {
    if (!left.delete(first)) continue;
    const points = [first.start, first.end];
    const grow = (front: boolean) => {
      for (;;) {
        const tip = front ? points[0]! : points.at(-1)!;
        const next = ends(tip).find((w) => left.has(w) && Math.abs(w.thicknessMm - first.thicknessMm) < 0.1);
        if (!next || ends(tip).length !== 2) return;
        left.delete(next);
        const far = same(next.start, tip) ? next.end : next.start;
        if (front) points.unshift(far);
        else points.push(far);
      }
    };
    grow(false);
    grow(true);
    const closed = points.length > 3 && same(points[0]!, points.at(-1)!);
    if (!closed) {
      points[0] = onFace(points[0]!, points[1]!, first.thicknessMm, walls);
      points[points.length - 1] = onFace(points.at(-1)!, points.at(-2)!, first.thicknessMm, walls);
    }
    out.push({ points: closed ? points.slice(0, -1) : points, closed, thicknessMm: first.thicknessMm });
  }
  return out;
};

/** How far a point is from the nearest axis but one. */
const clearOf = (p: Vec, walls: readonly TruthWall[], but: TruthWall): number =>
  Math.min(
    ...walls
      .filter((w) => w !== but)
      .map((w) => {
        const [l, d] = [lengthOf(w), unitOf(w)];
        const [x, y] = [p.x - w.start.x, p.y - w.start.y];
        const u = Math.max(0, Math.min(l, x * d.x + y * d.y));
        return Math.hypot(x - d.x * u, y - d.y * u) - w.thicknessMm / 2;
      }),
    1e6,
  );

/** A note of its thickness at each wall, beside it where there is most room. */
const noted = (truth: Truth, names: Naming): Entity[] =>
  truth.walls.map((w) => {
    const places = [0.5, 0.35, 0.65, 0.25, 0.75].flatMap((u) =>
      [150, -270].map((v) => pointOn(w, u * lengthOf(w), v + Math.sign(v) * (w.thicknessMm / 2))),
    );
    const room = places.map((p) => clearOf(p, truth.walls, w));
    return {
      kind: 'text',
      layer: names.text,
      at: places[room.indexOf(Math.max(...room))]!,
      height: 120,
      text: `${w.thicknessMm} THK`,
      turnDeg: Math.atan2(w.end.y - w.start.y, w.end.x - w.start.x) * DEG,
    };
  });

export const drawWalls = (truth: Truth, style: Style, names: Naming, dice: Dice): Entity[] => {
  const layer = names.wall;
  const rings = outlinesOf(truth);
  const hatch: Entity = {
    kind: 'hatch',
    layer: style === 'hatch' ? layer : names.wallHatch,
    loops: rings.map(knots),
    pattern: 'SOLID',
  };
  const outlines = (closed: boolean): Entity[] =>
    rings.map((r) => ({ kind: 'poly', layer, closed, points: knots(closed ? r : [...r, { ...r[0]!, bulge: 0 }]) }));
  const straightOnly = () => {
    if (truth.curves.length > 0) throw new Error(`${style} draws no curves`);
  };
  switch (style) {
    case 'outlines':
      return outlines(true);
    case 'outlines-repeated':
      return outlines(false);
    case 'lines':
      return pieces(layer, rings);
    case 'open-polylines':
      return openRows(layer, rings, dice);
    case 'boxes':
    case 'box-lines': {
      straightOnly();
      const boxes = [...parts(truth).map(bodyOf), ...truth.blocks];
      if (style === 'boxes') return boxes.map((points) => ({ kind: 'poly', layer, closed: true, points }));
      return pieces(
        layer,
        boxes.map((b) => b.map((p) => ({ ...p, bulge: 0 }))),
      );
    }
    case 'hatch':
      return [hatch];
    case 'hatch-pattern':
      return [{ ...hatch, layer, pattern: 'ANSI31' }];
    case 'hatch-boxes':
      straightOnly();
      return [...parts(truth).map(bodyOf), ...truth.blocks].map((ring) => ({
        kind: 'hatch',
        layer,
        loops: [ring],
        pattern: 'SOLID',
      }));
    case 'chords':
      return rings.map((r) => ({ kind: 'poly', layer, closed: true, points: chorded(r) }));
    case 'hatch-outline':
      return [hatch, ...outlines(true)];
    case 'width':
      straightOnly();
      return truth.walls.map((w) => ({
        kind: 'poly',
        layer,
        closed: false,
        points: [w.start, w.end],
        width: w.thicknessMm,
      }));
    case 'mline':
      straightOnly();
      return chains(truth.walls).map(({ points, closed, thicknessMm: t }) => ({
        kind: 'mline',
        layer,
        points,
        closed,
        offsets: [t / 2, -t / 2],
      }));
    case 'centre':
    case 'centre-noted':
      straightOnly();
      return [
        ...truth.walls.map((w): Entity => ({ kind: 'line', layer: names.axis, a: w.start, b: w.end })),
        ...(style === 'centre-noted' ? noted(truth, names) : []),
      ];
  }
};

/** Middles of the lines that close free ends. */
export const capsOf = (truth: Truth): Vec[] =>
  truth.walls.flatMap((w) => [w.start, w.end].filter((p) => !truth.walls.some((o) => o !== w && touches(o, p))));

/** Does a point lie within a wall or at its end? */
const touches = (w: TruthWall, p: Vec): boolean => {
  const [l, d] = [lengthOf(w), unitOf(w)];
  const [x, y] = [p.x - w.start.x, p.y - w.start.y];
  const [u, v] = [x * d.x + y * d.y, y * d.x - x * d.y];
  return u > -1 && u < l + 1 && Math.abs(v) < w.thicknessMm / 2;
};
