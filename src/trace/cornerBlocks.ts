/**
 * Corners with a block in them: a column or pilaster in the inner angle keeps the faces of both walls from being seen up to the corner, so that both
 * stop short. Where the outer face of each runs on by itself and the two meet, the walls are taken up to the corner and the block is listed.
 */

import { byNumber, comparePoints, inOrder } from '../ground/order.js';
import { add, cross, distance, dot, leftOf, meet, scale, sub, unit, type Vec } from '../ground/plane.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import { roundTo } from '../ground/units.js';
import type { FaceLine, Pilaster, WallStretch } from '../ground/vocabulary.js';
import type { LeftOver } from './group.js';
import type { WithPilasters } from './pilasters.js';

/** Farthest that a wall is taken on to its corner. *Practice, no source.* */
const FARTHEST_MM = 1500;
const NEAR_MM = 3 * SAME_POINT_MM;
/** Directions that differ by less than this do not make a corner. */
const SIN_LEAST = 0.17;
const PLACES = 4;
const tidy = (p: Vec): Vec => ({ x: roundTo(p.x, PLACES), y: roundTo(p.y, PLACES) });

/** An end of a stretch that no line closes, one of whose faces runs on as a left-over line. */
interface Running {
  readonly stretch: number;
  readonly end: 'start' | 'end';
  readonly tip: Vec;
  /** Outwards. */
  readonly u: Vec;
  /** From the axis to the face that runs on. */
  readonly out: Vec;
  readonly halfMm: number;
  /** Where that face's line ends. */
  readonly corner: Vec;
  readonly line: LeftOver;
}

const runningEnds = (stretches: readonly WallStretch[], leftOver: readonly LeftOver[]): Running[] =>
  stretches.flatMap((s, stretch) =>
    (['start', 'end'] as const).flatMap((end) => {
      if (end === 'start' ? s.startCapped : s.endCapped) return [];
      const tip = end === 'start' ? s.start : s.end;
      const u = unit(sub(tip, end === 'start' ? s.end : s.start));
      const halfMm = s.thicknessMm / 2;
      return [1, -1].flatMap((side) => {
        const out = scale(leftOf(u), side);
        const face = add(tip, scale(out, halfMm));
        return leftOver.flatMap((line) => {
          const [near, corner] =
            distance(line.from, face) <= distance(line.to, face) ? [line.from, line.to] : [line.to, line.from];
          const along = dot(sub(corner, face), u);
          const straight = [near, corner].every((p) => Math.abs(cross(sub(p, face), u)) <= NEAR_MM);
          // The first part of it counts as the face of the joint, up to the wall's thickness.
          const gapMm = dot(sub(near, face), u);
          if (!straight || gapMm < -NEAR_MM || gapMm > s.thicknessMm + NEAR_MM || along <= gapMm) return [];
          return along <= FARTHEST_MM + s.thicknessMm ? [{ stretch, end, tip, u, out, halfMm, corner, line }] : [];
        });
      });
    }),
  );

interface Block {
  readonly a: Running;
  readonly b: Running;
  /** Where the axes of the stretches then end: on the other wall's inner face. */
  readonly tips: readonly [Vec, Vec];
  /** The block's corner in the room. */
  readonly at: Vec;
  readonly sizes: readonly [number, number];
}

/** Where the axis of `r` meets the inner face of `other`. */
const tipAt = (r: Running, other: Running): Vec | null =>
  meet(r.tip, r.u, sub(other.tip, scale(other.out, other.halfMm)), other.u);

const blockOf = (a: Running, b: Running): Block | null => {
  if (a.stretch === b.stretch || distance(a.corner, b.corner) > NEAR_MM) return null;
  if (Math.abs(cross(a.u, b.u)) < SIN_LEAST) return null;
  const tips = [tipAt(a, b), tipAt(b, a)] as const;
  if (!tips[0] || !tips[1]) return null;
  const sizes = [dot(sub(tips[0], a.tip), a.u), dot(sub(tips[1], b.tip), b.u)] as const;
  if (sizes.some((mm) => mm < NEAR_MM || mm > FARTHEST_MM)) return null;
  const innerA = sub(a.tip, scale(a.out, a.halfMm));
  const innerB = sub(b.tip, scale(b.out, b.halfMm));
  // Its sides leave the inner faces along the other wall.
  const at = meet(innerA, b.u, innerB, a.u);
  return at ? { a, b, tips: [tidy(tips[0]), tidy(tips[1])], at: tidy(at), sizes } : null;
};

const moved = (s: WallStretch, end: 'start' | 'end', tip: Vec): WallStretch =>
  end === 'start' ? { ...s, start: tip } : { ...s, end: tip };

/** Is the line's middle in the angle between the two walls, no farther from the corner than the block? */
const isOfBlock = (block: Block, line: LeftOver): boolean => {
  const { a, b } = block;
  const mid = scale(add(line.from, line.to), 0.5);
  const reach = distance(a.corner, block.at) + NEAR_MM;
  return [line.from, line.to, mid].every((p) => {
    const fromA = dot(sub(p, a.tip), a.u);
    const fromB = dot(sub(p, b.tip), b.u);
    return distance(p, a.corner) <= reach && fromA >= -NEAR_MM && fromB >= -NEAR_MM;
  });
};

const faceLine = (from: Vec, to: Vec, source: string): FaceLine => {
  const [p, q] = [tidy(from), tidy(to)].sort(comparePoints);
  return { from: p!, to: q!, source };
};

/** Takes walls up to corners with a block in the inner angle. */
export const withCornerBlocks = (input: WithPilasters): WithPilasters => {
  const ends = runningEnds(input.stretches, input.leftOver);
  const blocks: Block[] = [];
  const taken = new Set<string>();
  for (const [i, a] of ends.entries()) {
    for (const b of ends.slice(i + 1)) {
      const block = blockOf(a, b);
      const keys = [`${a.stretch} ${a.end}`, `${b.stretch} ${b.end}`];
      if (!block || keys.some((k) => taken.has(k))) continue;
      for (const k of keys) taken.add(k);
      blocks.push(block);
    }
  }
  const stretches = [...input.stretches];
  const faceLines = [...input.faceLines];
  const used = new Set<LeftOver>();
  const pilasters: Pilaster[] = [];
  for (const block of blocks) {
    const { a, b, tips } = block;
    stretches[a.stretch] = moved(stretches[a.stretch]!, a.end, tips[0]);
    stretches[b.stretch] = moved(stretches[b.stretch]!, b.end, tips[1]);
    const lines = input.leftOver.filter((l) => l === a.line || l === b.line || isOfBlock(block, l));
    for (const l of lines) used.add(l);
    const sources = [...new Set(lines.flatMap((l) => l.sources))].sort();
    for (const r of [a, b]) {
      faceLines.push(faceLine(add(r.tip, scale(r.out, r.halfMm)), r.corner, r.line.sources[0]!));
      const inner = scale(r.out, -r.halfMm);
      faceLines.push(faceLine(add(r.tip, inner), add(r === a ? tips[0] : tips[1], inner), r.line.sources[0]!));
    }
    const [widthMm, projectionMm] = block.sizes.map((mm) => roundTo(mm, PLACES));
    pilasters.push({ at: block.at, widthMm: widthMm!, projectionMm: projectionMm!, inCorner: true, sources });
  }
  return {
    stretches,
    faceLines,
    leftOver: input.leftOver.filter((l) => !used.has(l)),
    pilasters: [...input.pilasters, ...pilasters].sort(
      inOrder<Pilaster>(
        (p, q) => comparePoints(p.at, q.at),
        byNumber((p) => p.widthMm),
      ),
    ),
  };
};
