/**
 * The concrete of a drawing as walls of our own, so that the forms have something to stand against. (A model has its own walls, which are not copied.)
 * Each wall is the body between its own faces: a mitred quadrilateral at corners, a stem from the through wall's face on; these bodies tile the plan.
 * Openings are not cut out: forms run across them.
 */

import { arcFaces, endStationMm } from '../../ground/arcs.js';
import { byNumber } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import { runsOfWall } from '../../ground/runs.js';
import type { FacePlan, LevelBand, Wall } from '../../ground/vocabulary.js';
import type { Author } from './author.js';
import { KINDS } from './kinds.js';
import { coloured, type Types } from './shapes.js';
import { list, type StepRef, text, word } from './step/values.js';
import { type WallFrame, wallFrame } from './wallFrame.js';

export interface Block {
  /** In the wall's axes: x station, y offset to the left. */
  readonly outline: readonly Vec[];
  readonly baseMm: number;
  readonly topMm: number;
}

/** The wall in its own plan: from face end to face end on either side. */
const wholeOutline = (plan: FacePlan, wall: Wall): Vec[] => {
  const runs = runsOfWall(plan, wall.id);
  const [first, last] = [runs[0], runs.at(-1)];
  const left = first && last ? [first.start.leftMm, last.end.leftMm] : [0, wall.lengthMm];
  const right = first && last ? [first.start.rightMm, last.end.rightMm] : [0, wall.lengthMm];
  const half = wall.thicknessMm / 2;
  return [
    { x: right[0]!, y: -half },
    { x: right[1]!, y: -half },
    { x: left[1]!, y: half },
    { x: left[0]!, y: half },
  ];
};

/** The part of a convex ring on one side of x = at (I. Sutherland and G. Hodgman, 'Reentrant Polygon Clipping', 1974, one step). */
const clipped = (ring: readonly Vec[], at: number, keepsBelow: boolean): Vec[] => {
  const keeps = (p: Vec) => (keepsBelow ? p.x <= at : p.x >= at);
  return ring.flatMap((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    const kept = keeps(p) ? [p] : [];
    if ((p.x < at && q.x > at) || (p.x > at && q.x < at)) {
      const share = (at - p.x) / (q.x - p.x);
      kept.push({ x: at, y: p.y + share * (q.y - p.y) });
    }
    return kept;
  });
};

/** Level at a station; beyond the bands that of the nearest. */
const levelAt = (bands: readonly LevelBand[], station: number): number => {
  const sorted = [...bands].sort(byNumber((b) => b.fromMm));
  return (sorted.find((b) => station <= b.toMm) ?? sorted.at(-1))?.levelMm ?? 0;
};

/** A curved wall in parts of at most half a turn, so that each has one outline. */
const curvedBlocks = (wall: Wall): Block[] => {
  const frame = wallFrame(wall);
  const endMm = endStationMm(wall);
  const parts = Math.max(1, Math.ceil((wall.arc?.sweepRad ?? 0) / Math.PI - 1e-9));
  return Array.from({ length: parts }, (_, i): Block => {
    const [outer, inner] = arcFaces(wall, (endMm * i) / parts, (endMm * (i + 1)) / parts);
    const outline = [...outer, ...[...inner].reverse()].map((p) => {
      const { x, y } = frame.point(p, 0);
      return { x, y };
    });
    return { outline, baseMm: levelAt(wall.base, 0), topMm: levelAt(wall.top, 0) };
  });
};

const pilasterBlocks = (plan: FacePlan, wall: Wall): Block[] =>
  runsOfWall(plan, wall.id).flatMap(({ pilasters = [], footingMm, topMm }) =>
    pilasters.map((p): Block => {
      const [near, far] = [wall.thicknessMm / 2, wall.thicknessMm / 2 + p.projectionMm];
      const [low, high] = p.side === 'left' ? [near, far] : [-far, -near];
      const outline = [
        { x: p.fromMm, y: low },
        { x: p.toMm, y: low },
        { x: p.toMm, y: high },
        { x: p.fromMm, y: high },
      ];
      return { outline, baseMm: footingMm, topMm };
    }),
  );

/** A wall's body in prisms, one between each two steps of base or top, and one for each pilaster. */
export const wallBlocks = (plan: FacePlan, wall: Wall): Block[] => {
  if (wall.arc) return curvedBlocks(wall);
  const outline = wholeOutline(plan, wall);
  const xs = outline.map((p) => p.x);
  const [first, last] = [Math.min(...xs), Math.max(...xs)];
  const steps = [...wall.base, ...wall.top]
    .flatMap((b) => [b.fromMm, b.toMm])
    .filter((s) => s > first && s < last)
    .sort((a, b) => a - b);
  const cuts = [...new Set([first, ...steps, last])];
  const blocks: Block[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [from, to] = [cuts[i]!, cuts[i + 1]!];
    const part = clipped(clipped(outline, from, false), to, true);
    const baseMm = levelAt(wall.base, (from + to) / 2);
    const topMm = levelAt(wall.top, (from + to) / 2);
    if (part.length >= 3 && topMm > baseMm) blocks.push({ outline: part, baseMm, topMm });
  }
  return [...blocks, ...pilasterBlocks(plan, wall)];
};

/** Writes a wall of concrete; null where it has no body. */
export const writeWall = (
  author: Author,
  types: Types,
  frame: WallFrame,
  key: string,
  placement: StepRef,
): StepRef | null => {
  const { wall, footMm } = frame;
  const blocks = wallBlocks(author.result.plan, wall);
  if (blocks.length === 0) return null;
  const solids = blocks.map(({ outline, baseMm, topMm }) =>
    coloured(
      author,
      { body: { kind: 'prism', outline, heightMm: topMm - baseMm }, at: { x: 0, y: 0, z: baseMm - footMm } },
      'concrete',
    ),
  );
  const ref = author.file.add('IfcWall', {
    GlobalId: text(author.ids.make(`wall ${key}`)),
    Name: author.label(wall.id),
    Description: text('Concrete as it was understood from the drawing; openings are not cut out'),
    ObjectType: text(KINDS.concrete.objectType),
    ObjectPlacement: placement,
    Representation: types.own('concrete', solids),
    Tag: author.label(wall.id),
    PredefinedType: word('SOLIDWALL'),
  });
  author.describe(`wall ${key}`, [ref], 'Shutterwright_Wall', wallProperties(author, wall));
  return ref;
};

export const wallProperties = (author: Author, wall: Wall) => {
  const { is } = author;
  return [
    { name: 'Wall', value: is.identifier(wall.id) },
    { name: 'Thickness', value: is.length(wall.thicknessMm) },
    { name: 'Length', value: is.length(wall.lengthMm), about: 'Of its axis' },
    { name: 'LowestBaseLevel', value: is.length(Math.min(...wall.base.map((b) => b.levelMm))) },
    { name: 'HighestTopLevel', value: is.length(Math.max(...wall.top.map((b) => b.levelMm))) },
  ];
};

/** The material of these walls. */
export const ofConcrete = (author: Author, walls: readonly StepRef[]): void => {
  if (walls.length === 0) return;
  author.file.add('IfcRelAssociatesMaterial', {
    GlobalId: text(author.ids.make('concrete/of')),
    RelatedObjects: list(walls),
    RelatingMaterial: author.file.add('IfcMaterial', { Name: text('Concrete'), Category: text('concrete') }),
  });
};
