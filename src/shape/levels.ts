/** Gives each wall its footing and top level: the plan's, unless a note of levels stands nearest to it. */

import { type Finding, finding } from '../ground/findings.js';
import { byNumber, inOrder } from '../ground/order.js';
import { distance, dot, sub, type Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { Levels, LevelsAt, PlanNode, Wall } from '../ground/vocabulary.js';
import { LEVEL_NOTE_MM } from './tolerances.js';

export interface WallLevels {
  readonly footingMm: number;
  readonly topMm: number;
}

export interface Levelled {
  /** In the order of the walls. */
  readonly levels: readonly WallLevels[];
  readonly findings: readonly Finding[];
}

/** Distance from a point to a wall's body, mm; 0 inside it. */
const distanceToWall = (p: Vec, wall: Wall): number => {
  const along = sub(wall.end, wall.start);
  const size = dot(along, along);
  const t = size === 0 ? 0 : Math.max(0, Math.min(1, dot(sub(p, wall.start), along) / size));
  const axis = distance(p, { x: wall.start.x + along.x * t, y: wall.start.y + along.y * t });
  return Math.max(0, axis - wall.thicknessMm / 2);
};

interface Claim {
  readonly note: LevelsAt;
  readonly wall: number;
  readonly awayMm: number;
}

const place = (p: Vec): readonly [number, number, number] => [p.x, p.y, 0];

const claimOf = (note: LevelsAt, walls: readonly Wall[]): Claim => {
  const near = walls
    .map((wall, i) => ({ note, wall: i, awayMm: distanceToWall(note.near, wall) }))
    .sort(
      inOrder(
        byNumber((c) => c.awayMm),
        byNumber((c) => c.wall),
      ),
    );
  return near[0]!;
};

const isUsable = (note: LevelsAt): boolean =>
  [note.near.x, note.near.y, note.footingMm ?? 0, note.topMm ?? 0].every(Number.isFinite);

const refusedNote = (note: LevelsAt): Finding =>
  finding('shape.levels-refused', 'A note of levels has a value that is no usable number.', {
    at: Number.isFinite(note.near.x) && Number.isFinite(note.near.y) ? place(note.near) : null,
    assumed: 'the note is not there',
  });

/** The value of the nearest note that gives one; a finding where others give another. */
const settle = (
  claims: readonly Claim[],
  key: 'footingMm' | 'topMm',
  wall: Wall,
  findings: Finding[],
): number | null => {
  const given = claims.filter((c) => c.note[key] !== null);
  const first = given[0];
  if (!first) return null;
  const other = given.find((c) => c.note[key] !== first.note[key]);
  const name = key === 'footingMm' ? 'footing' : 'top';
  if (other)
    findings.push(
      finding(
        'shape.levels-conflict',
        `Two notes give wall ${wall.id} the ${name} levels ${plainNumber(first.note[key]!, 1)} and ${plainNumber(other.note[key]!, 1)}.`,
        { at: place(first.note.near), subject: wall.id, assumed: `${name} level ${plainNumber(first.note[key]!, 1)}` },
      ),
    );
  return first.note[key];
};

const generalLevels = (levels: Levels, findings: Finding[]): WallLevels => {
  const usable = (n: number) => (Number.isFinite(n) ? n : 0);
  if (!Number.isFinite(levels.footingMm) || !Number.isFinite(levels.topMm))
    findings.push(
      finding('shape.levels-refused', 'The level of the footing or of the top is no usable number.', {
        assumed: 'level 0',
      }),
    );
  return { footingMm: usable(levels.footingMm), topMm: usable(levels.topMm) };
};

/** Levels of each wall; `levelsAt.near` in the drawing's axes, mm. */
export const levelWalls = (walls: readonly Wall[], levels: Levels, levelsAt: readonly LevelsAt[]): Levelled => {
  const findings: Finding[] = levelsAt.filter((n) => !isUsable(n)).map(refusedNote);
  const general = generalLevels(levels, findings);
  if (walls.length === 0) return { levels: [], findings };
  const claims = levelsAt
    .filter(isUsable)
    .map((note) => claimOf(note, walls))
    .sort(
      inOrder(
        byNumber((c) => c.wall),
        byNumber((c) => c.awayMm),
        byNumber((c) => c.note.near.x),
        byNumber((c) => c.note.near.y),
        byNumber((c) => c.note.footingMm ?? Number.NEGATIVE_INFINITY),
        byNumber((c) => c.note.topMm ?? Number.NEGATIVE_INFINITY),
      ),
    );
  for (const c of claims)
    if (c.awayMm > LEVEL_NOTE_MM)
      findings.push(
        finding('shape.levels-far', `A note of levels is ${plainNumber(c.awayMm, 0)} mm from the nearest wall.`, {
          at: place(c.note.near),
          subject: walls[c.wall]!.id,
          assumed: `it is for wall ${walls[c.wall]!.id}`,
        }),
      );
  const settled = walls.map((wall, w): WallLevels => {
    const own = claims.filter((c) => c.wall === w);
    return {
      footingMm: settle(own, 'footingMm', wall, findings) ?? general.footingMm,
      topMm: settle(own, 'topMm', wall, findings) ?? general.topMm,
    };
  });
  findings.push(...upsideDown(walls, settled));
  return { levels: settled, findings };
};

/** Walls whose top is not above their footing. */
const upsideDown = (walls: readonly Wall[], levels: readonly WallLevels[]): Finding[] =>
  walls.flatMap((wall, w) => {
    const { footingMm, topMm } = levels[w]!;
    if (topMm > footingMm) return [];
    const message = `Wall ${wall.id} has its top at ${plainNumber(topMm, 1)}, not above its footing at ${plainNumber(footingMm, 1)}.`;
    return [finding('shape.levels-refused', message, { at: place(wall.start), subject: wall.id })];
  });

/** Nodes at which walls of different levels meet. */
export const steppedNodes = (
  nodes: readonly PlanNode[],
  walls: readonly Wall[],
  levels: readonly WallLevels[],
): Finding[] => {
  const placeOfWall = new Map(walls.map((w, i) => [w.id, i]));
  return nodes.flatMap((node) => {
    const own = node.walls.map((id) => levels[placeOfWall.get(id)!]!);
    const differs = (key: keyof WallLevels) => own.some((l) => l[key] !== own[0]![key]);
    const what = [...(differs('footingMm') ? ['footings'] : []), ...(differs('topMm') ? ['tops'] : [])];
    if (what.length === 0) return [];
    const values = node.walls.map(
      (id, k) => `${id} from ${plainNumber(own[k]!.footingMm, 1)} to ${plainNumber(own[k]!.topMm, 1)}`,
    );
    const message = `Walls of different ${what.join(' and ')} meet: ${values.join(', ')}.`;
    return [
      finding('shape.levels-differ', message, {
        at: place(node.at),
        subject: node.id,
        assumed: 'each wall is formed at its own levels',
      }),
    ];
  });
};
