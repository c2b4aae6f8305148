/** What a finding is about, as things that a viewer can show: GlobalIds of ours and of the architect's, a place, and the side from which it is seen. */

import { endStationMm, reachPoints, wallDirection, wallPoint } from '../../../ground/arcs.js';
import { isGlobalId } from '../../../ground/ids.js';
import { add, dot, leftOf, scale, sub, type Vec } from '../../../ground/plane.js';
import type { Face, Result, Wall } from '../../../ground/vocabulary.js';
import { type Standing, standingPieces } from '../bodies.js';
import { middle } from '../extent.js';
import type { Ids } from '../globalId.js';
import { pieceKeys, tieKeys, wallKeys } from '../keys.js';
import { sourceWalls } from '../source.js';

export interface Subject {
  /** A key that a revision keeps. */
  readonly key: string;
  /** Key of the wall that it belongs to. */
  readonly wallKey: string;
  readonly components: readonly string[];
  /** Plan and level, mm. */
  readonly at: Vec;
  readonly levelMm: number;
  /** Unit vector in plan from which it is looked at. */
  readonly outward: Vec;
}

type Place = Pick<Subject, 'at' | 'levelMm' | 'outward'>;

/** The middle of a wall, seen from the side that is turned away from the middle of the plan. */
const middleOf = (wall: Wall, centre: Vec): Place => {
  const middleMm = endStationMm(wall) / 2;
  const at = wall.arc ? wallPoint(wall, middleMm) : scale(add(wall.start, wall.end), 0.5);
  const left = leftOf(wallDirection(wall, middleMm));
  return {
    at,
    levelMm: middle([...wall.base, ...wall.top].map((b) => b.levelMm)),
    outward: dot(left, sub(at, centre)) > 0 ? left : scale(left, -1),
  };
};

/** Where a face's crew stands: to the left, to the right, before the start, behind the end, before a pilaster. */
const outOfFace = (wall: Wall, { side, stands }: Face): Vec => {
  if (stands) return stands.outward;
  const along = wallDirection(wall, side === 'start' ? 0 : endStationMm(wall) / (side === 'end' ? 1 : 2));
  if (side === 'start') return scale(along, -1);
  if (side === 'end') return along;
  return side === 'left' ? leftOf(along) : scale(leftOf(along), -1);
};

/** Subjects by the ids that findings name: pieces, ties, walls, faces, nodes, openings. */
export const subjectsOf = (result: Result, ids: Ids): ReadonlyMap<string, Subject> => {
  const { plan, catalogue, layout, model } = result;
  const keys = wallKeys(plan, model !== undefined);
  const walls = new Map(plan.walls.map((w) => [w.id, w]));
  const ends = plan.walls.flatMap(reachPoints);
  const centre = { x: middle(ends.map((p) => p.x)), y: middle(ends.map((p) => p.y)) };
  const found = new Map<string, Subject>();
  const sources = (wallIds: readonly string[]): string[] =>
    wallIds.flatMap((id) => {
      const wall = walls.get(id);
      return wall ? sourceWalls(result, wall) : [];
    });
  const keep = (id: string, subject: Subject): void => {
    if (!found.has(id)) found.set(id, { ...subject, components: [...new Set(subject.components)] });
  };
  const pieces = pieceKeys(plan, layout.pieces, keys);
  const outwardOf = (s: Standing): Vec => ({ x: s.along.y, y: -s.along.x });
  for (const s of standingPieces(plan, catalogue, layout.pieces).standing) {
    const key = pieces.get(s.piece)!;
    const levelMm = (s.piece.baseMm + s.piece.topMm) / 2;
    const components = [ids.of(key), ...sources(s.walls)];
    const wallKey = s.walls.map((w) => keys.get(w) ?? w)[0] ?? '';
    keep(s.piece.id, { key, wallKey, components, at: s.at, levelMm, outward: outwardOf(s) });
  }
  const ties = tieKeys(layout.ties, keys);
  for (const tie of layout.ties) {
    const wall = walls.get(tie.wall);
    if (!wall) continue;
    const key = ties.get(tie)!;
    const at = wallPoint(wall, tie.stationMm);
    const { outward } = middleOf(wall, centre);
    keep(tie.id, {
      key,
      wallKey: keys.get(wall.id)!,
      components: [ids.of(key), ...sources([wall.id])],
      at,
      levelMm: tie.levelMm,
      outward,
    });
  }
  const ofWall = (wall: Wall): Subject => {
    const key = `forms ${keys.get(wall.id)!}`;
    const own = model ? sources([wall.id]) : [ids.of(`wall ${keys.get(wall.id)!}`)];
    return { key, wallKey: keys.get(wall.id)!, components: [ids.of(key), ...own], ...middleOf(wall, centre) };
  };
  for (const wall of plan.walls) keep(wall.id, ofWall(wall));
  for (const { id, wall } of plan.openings) {
    const of = walls.get(wall);
    if (of) keep(id, { ...ofWall(of), key: `${ofWall(of).key}/${id.replace(wall, '')}` });
  }
  for (const face of plan.faces) {
    const { id, wall } = face;
    const of = walls.get(wall);
    if (of) keep(id, { ...ofWall(of), key: `${ofWall(of).key}/${id.replace(wall, '')}`, outward: outOfFace(of, face) });
  }
  for (const node of plan.nodes) {
    const of = node.walls.flatMap((w) => walls.get(w) ?? []);
    const first = of[0];
    if (!first) continue;
    const key = `node ${node.walls
      .map((w) => keys.get(w) ?? w)
      .sort()
      .join('&')}`;
    keep(node.id, { ...ofWall(first), key, components: of.flatMap((w) => ofWall(w).components), at: node.at });
  }
  return found;
};

/** A subject that is itself a GlobalId of the source model. */
export const isSourceElement = (result: Result, subject: string): boolean =>
  result.model !== undefined && isGlobalId(subject);
