/** Elevation of a wall along an axis: how its base and top run, and the holes in it, from its upright section. Levels and lengths mm. */

import type { Vec } from '../../ground/plane.js';
import type { Measured } from './bodies.js';
import { type Axis, bodyRing, onAxis, seenFrom } from './plan.js';
import { areaOf, componentsOf, enclosed, intersection, type Region, ringsOf, union } from './region.js';
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

/** Lengths between two places in which no piece lies, edges left out. */
const gapsIn = (pieces: readonly Piece[], fromMm: number, toMm: number): { fromMm: number; toMm: number }[] => {
  const ends = [...pieces.map((p) => p.toMm), toMm];
  return [fromMm, ...ends.slice(0, -1)]
    .map((from, i) => ({ fromMm: from, toMm: pieces[i]?.fromMm ?? toMm }))
    .filter((gap) => gap.toMm - gap.fromMm > GAP_LEAST_MM);
};

/** A length of an axis moved across into the middle of what a body takes up beside it; null: nothing. */
const besideAxis = (m: Measured, axis: Axis, gap: { fromMm: number; toMm: number }): Axis | null => {
  const part: Axis = { ...axis, from: onAxis(axis, gap.fromMm), lengthMm: gap.toMm - gap.fromMm };
  const pieces = componentsOf(intersection(m.footprint, enclosed([bodyRing(part)])));
  const largest = pieces.sort((p, q) => areaOf(q) - areaOf(p))[0];
  if (largest === undefined) return null;
  const across = ringsOf(largest).flatMap((ring) => ring.map((p) => seenFrom(part, p).v));
  return across.length === 0
    ? null
    : { ...part, from: onAxis(part, 0, (Math.min(...across) + Math.max(...across)) / 2) };
};

const shiftedBy = <T extends { readonly fromMm: number; readonly toMm: number }>(p: T, byMm: number): T => ({
  ...p,
  fromMm: p.fromMm + byMm,
  toMm: p.toMm + byMm,
});

/**
 * Base, top and holes of a wall along the axis of a stretch that it is a part of. Where it stands beside the axis (one of two walls cast as one) it is cut again
 * through its own middle.
 */
export const profileOf = (m: Measured, axis: Axis, origin: Vec): Profile => {
  const us = ringsOf(m.footprint).flatMap((ring) => ring.map((p) => seenFrom(axis, p).u));
  const [fromMm, toMm] = [Math.max(0, Math.min(...us)), Math.min(axis.lengthMm, Math.max(...us))];
  const whole: Piece = { fromMm, toMm, base: [m.baseMm, m.baseMm], top: [m.topMm, m.topMm] };
  if (m.bands.length === 1 || m.lean !== null) return { pieces: [whole], holes: [] };
  const first = cutAlong(m, axis, origin);
  const more = gapsIn(first.pieces, fromMm, toMm).flatMap((gap): Profile[] => {
    const beside = besideAxis(m, axis, gap);
    if (beside === null) return [];
    const { pieces, holes } = cutAlong(m, beside, origin);
    return [{ pieces: pieces.map((p) => shiftedBy(p, gap.fromMm)), holes: holes.map((h) => shiftedBy(h, gap.fromMm)) }];
  });
  const all = [first, ...more];
  const { pieces, doors } = withoutDoors(all.flatMap((p) => p.pieces).sort((p, q) => p.fromMm - q.fromMm));
  return { pieces: pieces.length > 0 ? pieces : [whole], holes: [...all.flatMap((p) => p.holes), ...doors] };
};
