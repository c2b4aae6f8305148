/**
 * Short thickenings. Pairing sees a pilaster as a break in the wall with a block of another thickness in it, or leaves its outline over; here the wall
 * runs through again and the thickening is listed by itself. Whatever is longer than wide is no pilaster but a wall.
 */

import { byNumber, comparePoints, inOrder } from '../ground/order.js';
import { distance, type Vec } from '../ground/plane.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import { roundTo } from '../ground/units.js';
import type { FaceLine, Pilaster, WallStretch } from '../ground/vocabulary.js';
import { withCornerBlocks } from './cornerBlocks.js';
import { bodyOf, boxOf, type Gap, gapsOf, joinedOver, type LocalAxes, type LocalBox, worldAt } from './gaps.js';
import type { LeftOver } from './group.js';
import { pointsNear } from './near.js';

/** The widest and deepest thickening that is a pilaster. *Practice, no source.* */
const WIDEST_MM = 1500;
const DEEPEST_MM = 600;
const SHALLOWEST_MM = 20;

export interface WithPilasters {
  readonly stretches: readonly WallStretch[];
  readonly faceLines: readonly FaceLine[];
  readonly pilasters: readonly Pilaster[];
  readonly leftOver: readonly LeftOver[];
}

const PLACES = 4;
const tidy = (p: Vec): Vec => ({ x: roundTo(p.x, PLACES), y: roundTo(p.y, PLACES) });

const within = (inner: LocalBox, outer: LocalBox, slackMm = 2 * SAME_POINT_MM): boolean =>
  inner.u0 >= outer.u0 - slackMm &&
  inner.u1 <= outer.u1 + slackMm &&
  inner.v0 >= outer.v0 - slackMm &&
  inner.v1 <= outer.v1 + slackMm;

/** The thickening on one side: its outer face lies `projectionMm` beyond the wall's. */
const pilasterAt = (axes: LocalAxes, box: LocalBox, side: 1 | -1, projectionMm: number, sources: readonly string[]) => {
  const v = side === 1 ? box.v1 : box.v0;
  return {
    at: tidy(worldAt(axes, (box.u0 + box.u1) / 2, v)),
    widthMm: roundTo(box.u1 - box.u0, PLACES),
    projectionMm: roundTo(projectionMm, PLACES),
    sources: [...new Set(sources)].sort(),
  };
};

interface Bump {
  readonly gap: Gap;
  /** Stretches that are the block itself. */
  readonly blocks: readonly number[];
  readonly box: LocalBox;
  readonly pilasters: readonly Pilaster[];
}

const deepEnough = (mm: number, widthMm: number): boolean =>
  mm >= SHALLOWEST_MM && mm <= Math.min(DEEPEST_MM, widthMm + SAME_POINT_MM);

/** The block in a break of the wall, or null when what stands there is no pilaster. */
const bumpIn = (stretches: readonly WallStretch[], nearStart: (p: Vec) => number[], gap: Gap): Bump | null => {
  const half = gap.thicknessMm / 2;
  const room = { u0: 0, u1: gap.widthMm, v0: -half - DEEPEST_MM, v1: half + DEEPEST_MM };
  const blocks: number[] = [];
  let box: LocalBox | null = null;
  nearStart(gap.from).forEach((k) => {
    if (k === gap.before || k === gap.after) return;
    const body = boxOf(gap, bodyOf(stretches[k]!));
    if (!within(body, room)) return;
    blocks.push(k);
    box = box
      ? { u0: 0, u1: gap.widthMm, v0: Math.min(box.v0, body.v0), v1: Math.max(box.v1, body.v1) }
      : { ...body, u0: 0, u1: gap.widthMm };
  });
  if (box === null) return null;
  const { v0, v1 }: LocalBox = box;
  const depths = [
    [1, v1 - half],
    [-1, -half - v0],
  ] as const;
  const deep = depths.filter(([, mm]) => mm > 2 * SAME_POINT_MM);
  if (deep.length === 0 || !deep.every(([, mm]) => deepEnough(mm, gap.widthMm))) return null;
  const sources = blocks.flatMap((k) => stretches[k]!.sources);
  const pilasters = deep.map(([side, mm]) => pilasterAt(gap, box!, side, mm, sources));
  return { gap, blocks, box, pilasters };
};

/** The wall's faces across a thickening: no line of the drawing runs there, the concrete's face is that of the wall to both sides. */
const facesAcross = (gap: Gap, box: LocalBox, source: string): FaceLine[] => {
  const half = gap.thicknessMm / 2;
  const bumped = [...(box.v1 > half + 1 ? [half] : []), ...(box.v0 < -half - 1 ? [-half] : [])];
  return bumped.map((v) => {
    const ends = [tidy(worldAt(gap, 0, v)), tidy(worldAt(gap, gap.widthMm, v))].sort(comparePoints);
    return { from: ends[0]!, to: ends[1]!, source };
  });
};

/** Lines of the block's outline, without those on the wall's own faces. */
const isOutline = (axes: LocalAxes, box: LocalBox, halfMm: number, line: { readonly from: Vec; readonly to: Vec }) => {
  const own = boxOf(axes, [line.from, line.to]);
  if (!within(own, box)) return false;
  return own.v1 > halfMm + SAME_POINT_MM || own.v0 < -halfMm - SAME_POINT_MM;
};

const throughBreaks = (input: WithPilasters): WithPilasters => {
  let { stretches, faceLines } = input;
  const pilasters = [...input.pilasters];
  // What lies in a break starts no farther from it than this.
  const thickest = stretches.reduce((most, s) => Math.max(most, s.thicknessMm), 0);
  const reachMm = Math.hypot(WIDEST_MM, thickest / 2 + DEEPEST_MM) + 10 * SAME_POINT_MM;
  // One break after the other: joining two stretches may bring the next pair into line.
  for (;;) {
    const current = stretches;
    const nearStart = pointsNear(
      current.map((t) => t.start),
      reachMm,
    );
    let bump: Bump | null = null;
    for (const gap of gapsOf(current, WIDEST_MM)) {
      bump = bumpIn(current, nearStart, gap);
      if (bump) break;
    }
    if (!bump) break;
    const { gap, box, blocks } = bump;
    const sources = blocks.flatMap((k) => current[k]!.sources);
    const joined = joinedOver(current[gap.before]!, current[gap.after]!, sources);
    stretches = [...current.filter((_, k) => k !== gap.before && k !== gap.after && !blocks.includes(k)), joined];
    pilasters.push(...bump.pilasters);
    faceLines = [
      ...faceLines.filter((f) => !isOutline(gap, box, gap.thicknessMm / 2, f)),
      ...facesAcross(gap, box, bump.pilasters[0]!.sources[0]!),
    ];
  }
  return { ...input, stretches, faceLines, pilasters };
};

/** A left-over line parallel to a wall outside one face, joined to that face by a left-over line at either end: a block drawn by itself. */
const besideWalls = (input: WithPilasters): WithPilasters => {
  const pilasters = [...input.pilasters];
  const used = new Set<LeftOver>();
  for (const s of input.stretches) {
    const lengthMm = distance(s.start, s.end);
    const u = { x: (s.end.x - s.start.x) / lengthMm, y: (s.end.y - s.start.y) / lengthMm };
    const axes = { from: s.start, u };
    const half = s.thicknessMm / 2;
    const boxes = input.leftOver.map((l) => ({ l, box: boxOf(axes, [l.from, l.to]) }));
    for (const { l, box } of boxes) {
      const widthMm = box.u1 - box.u0;
      if (used.has(l) || box.v1 - box.v0 > SAME_POINT_MM || widthMm > WIDEST_MM) continue;
      if (box.u0 < -SAME_POINT_MM || box.u1 > lengthMm + SAME_POINT_MM) continue;
      const side = box.v0 > 0 ? 1 : -1;
      const depthMm = Math.abs(box.v0) - half;
      if (!deepEnough(depthMm, widthMm)) continue;
      const sides = [box.u0, box.u1].map((at) =>
        boxes.find(
          (b) =>
            Math.abs(b.box.u0 - at) <= 2 * SAME_POINT_MM &&
            b.box.u1 - b.box.u0 <= 2 * SAME_POINT_MM &&
            Math.abs(b.box.v1 - b.box.v0 - depthMm) <= 3 * SAME_POINT_MM &&
            b.box.v0 * side > 0,
        ),
      );
      if (!sides[0] || !sides[1]) continue;
      const room = { u0: box.u0, u1: box.u1, v0: side > 0 ? half : box.v0, v1: side > 0 ? box.v1 : -half };
      const lines = boxes.filter((b) => within(b.box, room)).map((b) => b.l);
      for (const line of lines) used.add(line);
      pilasters.push(
        pilasterAt(
          axes,
          room,
          side,
          depthMm,
          lines.flatMap((line) => line.sources),
        ),
      );
    }
  }
  return { ...input, pilasters, leftOver: input.leftOver.filter((l) => !used.has(l)) };
};

export const pilasterOrder = inOrder<Pilaster>(
  (p, q) => comparePoints(p.at, q.at),
  byNumber((p) => p.widthMm),
  byNumber((p) => p.projectionMm),
);

/**
 * Takes pilasters out of the stretches and left-over lines of a group. The order of the lists does not matter.
 * `boxes`: blocks drawn by themselves against a wall count too; where layers were guessed they are furniture and paving as often as not.
 */
export const withPilasters = (
  stretches: readonly WallStretch[],
  faceLines: readonly FaceLine[],
  leftOver: readonly LeftOver[],
  boxes: boolean,
): WithPilasters => {
  const through = throughBreaks({ stretches, faceLines, leftOver, pilasters: [] });
  const out = withCornerBlocks(boxes ? besideWalls(through) : through);
  return { ...out, pilasters: [...out.pilasters].sort(pilasterOrder) };
};
