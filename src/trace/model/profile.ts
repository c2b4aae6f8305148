/** Elevation of a wall along an axis: how its base and top run, and the holes in it, from its upright section. Levels and lengths mm. */

import type { Vec } from '../../ground/plane.js';
import type { Measured } from './bodies.js';
import { type Axis, bodyRing, onAxis, seenFrom } from './plan.js';
import { areaOf, componentsOf, enclosed, intersection, type Region, ringsOf, union, verticesOf } from './region.js';
import { sectionAt } from './section.js';
import { uprightFrame } from './space.js';

/** Base and top over a part of the axis, at its two ends: straight between them. */
export interface Piece {
  readonly fromMm: number;
  readonly toMm: number;
  readonly base: readonly [number, number];
  readonly top: readonly [number, number];
}

/** A hole that the body itself has. */
export interface Hole {
  readonly fromMm: number;
  readonly toMm: number;
  readonly sillMm: number;
  readonly headMm: number;
  readonly isBox: boolean;
}

export interface Profile {
  readonly pieces: readonly Piece[];
  readonly holes: readonly Hole[];
}

/** Corners of the elevation nearer along the wall than this are one place. */
const SAME_PLACE_MM = 1;
/** Looked at this far beside a corner, where the value at the corner itself is two-fold. */
const BESIDE_MM = 0.02;
/** A rise of the base between lower parts, at least so high, is an opening that begins at the base. *Practice, no source.* */
const OPENING_LEAST_MM = 300;
/** An opening at the base is up to so wide; a wider one is a step down on both sides. */
const OPENING_WIDEST_MM = 6500;
/** A wall that stands beside the axis over a shorter length does so at its edge alone. */
const GAP_LEAST_MM = 50;
/** Or with no more of its plan than this. */
const BESIDE_LEAST_MM2 = 1000;
/** So many lines beside the axis are cut along. */
const CUTS_MOST = 8;
/** Holes smaller than this each way are hair of the model. */
const HOLE_LEAST_MM = 20;
const BOX_SHARE = 0.99;

/** Lowest and highest of the section over one place; null: nothing there. */
const reachAt = (rings: readonly Vec[][], u: number): readonly [number, number] | null => {
  let [low, high] = [Infinity, -Infinity];
  for (const ring of rings)
    ring.forEach((p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      if (p.x <= u === q.x <= u) return;
      const z = p.y + ((q.y - p.y) * (u - p.x)) / (q.x - p.x);
      low = Math.min(low, z);
      high = Math.max(high, z);
    });
  return low < high ? [low, high] : null;
};

const holesOf = (rings: readonly Vec[][]): Hole[] =>
  rings.flatMap((ring): Hole[] => {
    const area = ring.reduce((sum, p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      return sum + (p.x - ring[0]!.x) * (q.y - ring[0]!.y) - (q.x - ring[0]!.x) * (p.y - ring[0]!.y);
    }, 0);
    const [us, zs] = [ring.map((p) => p.x), ring.map((p) => p.y)];
    const [fromMm, toMm, sillMm, headMm] = [Math.min(...us), Math.max(...us), Math.min(...zs), Math.max(...zs)];
    if (area >= 0 || toMm - fromMm < HOLE_LEAST_MM || headMm - sillMm < HOLE_LEAST_MM) return [];
    return [{ fromMm, toMm, sillMm, headMm, isBox: -area / 2 > BOX_SHARE * (toMm - fromMm) * (headMm - sillMm) }];
  });

/** Takes openings that begin at the base out of the run of the base. */
const withoutDoors = (pieces: readonly Piece[]): { pieces: Piece[]; doors: Hole[] } => {
  const doors: Hole[] = [];
  const out = [...pieces];
  for (let i = 1; i < out.length; i++) {
    // From piece i on, pieces that stand clear of what comes before, up to one that is down again.
    const before = out[i - 1]!.base[1];
    let j = i;
    while (j < out.length && Math.min(...out[j]!.base) - before >= OPENING_LEAST_MM) j++;
    const widthMm = j > i ? out[j - 1]!.toMm - out[i]!.fromMm : 0;
    if (j === i || j === out.length || widthMm > OPENING_WIDEST_MM) continue;
    const sillMm = Math.max(before, out[j]!.base[0]);
    const heads = out.slice(i, j).flatMap((p) => p.base);
    const headMm = Math.max(...heads);
    const isBox = headMm - Math.min(...heads) < SAME_PLACE_MM;
    doors.push({ fromMm: out[i]!.fromMm, toMm: out[j - 1]!.toMm, sillMm, headMm, isBox });
    for (let k = i; k < j; k++) out[k] = { ...out[k]!, base: [sillMm, sillMm] };
  }
  return { pieces: out, doors };
};

/** The upright section of a body along an axis (local mm), in u and level; over the axis' own length. */
const elevationOf = (m: Measured, axis: Axis, origin: Vec): Region => {
  const at = { x: axis.from.x + origin.x, y: axis.from.y + origin.y };
  const frame = uprightFrame(at, axis.u);
  const region = union(...m.solids.map((s) => sectionAt(s, frame).region));
  const [low, high] = [m.footMm ?? m.baseMm - 1, m.topMm + 1];
  const window = [
    { x: 0, y: low },
    { x: axis.lengthMm, y: low },
    { x: axis.lengthMm, y: high },
    { x: 0, y: high },
  ];
  return intersection(region, enclosed([window]));
};

/** How base and top run in one section, and the holes that it shows. */
const cutAlong = (m: Measured, axis: Axis, origin: Vec): Profile => {
  const region = elevationOf(m, axis, origin);
  if (areaOf(region) <= 0) return { pieces: [], holes: [] };
  const rings = ringsOf(region);
  const places = [...new Set(rings.flatMap((ring) => ring.map((p) => p.x)))].sort((a, b) => a - b);
  const cuts = places.filter((u, i) => i === 0 || u - places[i - 1]! > SAME_PLACE_MM);
  const pieces = cuts.slice(1).flatMap((toMm, i): Piece[] => {
    const fromMm = cuts[i]!;
    const beside = Math.min(BESIDE_MM, (toMm - fromMm) / 4);
    const [a, b] = [reachAt(rings, fromMm + beside), reachAt(rings, toMm - beside)];
    return a && b ? [{ fromMm, toMm, base: [a[0], b[0]], top: [a[1], b[1]] }] : [];
  });
  return { pieces, holes: holesOf(rings) };
};

interface Length {
  readonly fromMm: number;
  readonly toMm: number;
}

/** Lengths between two places in which no piece lies, edges left out. */
const gapsIn = (pieces: readonly Piece[], { fromMm, toMm }: Length): Length[] => {
  const sorted = [...pieces].sort((p, q) => p.fromMm - q.fromMm);
  return [fromMm, ...sorted.map((p) => p.toMm)]
    .map((from, i) => ({ fromMm: from, toMm: sorted[i]?.fromMm ?? toMm }))
    .filter((gap) => gap.toMm - gap.fromMm > GAP_LEAST_MM);
};

/** The largest of what a body takes up beside the axis, along these lengths of it; null: nothing. */
const besideAxis = (m: Measured, axis: Axis, lengths: readonly Length[]): Region | null => {
  const rings = lengths.map(({ fromMm, toMm }) =>
    bodyRing({ ...axis, from: onAxis(axis, fromMm), lengthMm: toMm - fromMm }),
  );
  const pieces = componentsOf(intersection(m.footprint, enclosed(rings)));
  return pieces.sort((p, q) => areaOf(q) - areaOf(p)).find((piece) => areaOf(piece) > BESIDE_LEAST_MM2) ?? null;
};

/** Along the axis, through the middle of a region. */
const throughMiddle = (region: Region, axis: Axis): Axis => {
  const across = verticesOf(region).map((p) => seenFrom(axis, p).v);
  return { ...axis, from: onAxis(axis, 0, (Math.min(...across) + Math.max(...across)) / 2) };
};

/** The part of a piece within a length. */
const partOf = (p: Piece, { fromMm: low, toMm: high }: Length): Piece[] => {
  const [fromMm, toMm] = [Math.max(p.fromMm, low), Math.min(p.toMm, high)];
  if (toMm - fromMm <= SAME_PLACE_MM) return [];
  const at = ([a, b]: readonly [number, number], u: number) => a + ((b - a) * (u - p.fromMm)) / (p.toMm - p.fromMm);
  const run = (ends: readonly [number, number]) => [at(ends, fromMm), at(ends, toMm)] as const;
  return [{ fromMm, toMm, base: run(p.base), top: run(p.top) }];
};

/**
 * Base, top and holes of a wall along the axis of a stretch that it is a part of. Where it stands beside the axis (one of two walls cast as one) it is cut again
 * through the middle of what stands there; what CUTS_MOST cuts do not meet has the base and top of all of it.
 */
export const profileOf = (m: Measured, axis: Axis, origin: Vec): Profile => {
  const us = ringsOf(m.footprint).flatMap((ring) => ring.map((p) => seenFrom(axis, p).u));
  const reach: Length = { fromMm: Math.max(0, Math.min(...us)), toMm: Math.min(axis.lengthMm, Math.max(...us)) };
  const ends = { base: [m.baseMm, m.baseMm], top: [m.topMm, m.topMm] } as const;
  if (m.bands.length === 1 || m.lean !== null) return { pieces: [{ ...reach, ...ends }], holes: [] };
  const first = cutAlong(m, axis, origin);
  const [all, holes] = [[...first.pieces], [...first.holes]];
  for (let cuts = 0; ; cuts++) {
    const gaps = gapsIn(all, reach);
    const beside = gaps.length === 0 ? null : besideAxis(m, axis, gaps);
    if (beside === null) break;
    const more = cutAlong(m, throughMiddle(beside, axis), origin);
    const added = more.pieces.flatMap((p) => gaps.flatMap((gap) => partOf(p, gap)));
    if (added.length === 0 || cuts === CUTS_MOST) {
      all.push(...gaps.map((gap) => ({ ...gap, ...ends })));
      break;
    }
    all.push(...added);
    const isIn = (u: number) => gaps.some((gap) => u > gap.fromMm && u < gap.toMm);
    holes.push(...more.holes.filter((h) => isIn((h.fromMm + h.toMm) / 2)));
  }
  const { pieces, doors } = withoutDoors(all.sort((p, q) => p.fromMm - q.fromMm));
  return { pieces: pieces.length > 0 ? pieces : [{ ...reach, ...ends }], holes: [...holes, ...doors] };
};
