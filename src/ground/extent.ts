/** Where a piece stands along a face, also where a part of it stands on the face of another wall in line: past a jog on a straight face. */

import { pointAlong } from './plane.js';
import { planIndex } from './planIndex.js';
import type { Cover, FacePlan, Piece } from './vocabulary.js';

export interface Extent {
  readonly fromMm: number;
  readonly toMm: number;
}

/** Stretch of a piece in the stations of a face; null: it does not stand there. Parts on the same side of a wall in line count too. */
export const extentOn = (plan: FacePlan, { covers }: Piece, faceId: string): Extent | null => {
  const own = covers.filter((c) => c.face === faceId);
  const others = covers.filter((c) => c.face !== faceId);
  const stations = own.flatMap((c) => [c.fromMm, c.toMm]);
  if (others.length > 0) {
    const { faces, walls } = planIndex(plan);
    const face = faces.get(faceId);
    const wall = walls.get(face?.wall ?? '');
    if (!face || !wall) return null;
    const along = { x: (wall.end.x - wall.start.x) / wall.lengthMm, y: (wall.end.y - wall.start.y) / wall.lengthMm };
    for (const c of others) {
      const other = faces.get(c.face);
      const beside = walls.get(other?.wall ?? '');
      if (!other || !beside || other.side !== face.side) continue;
      for (const s of [c.fromMm, c.toMm]) {
        const p = pointAlong(beside.start, beside.end, s);
        stations.push((p.x - wall.start.x) * along.x + (p.y - wall.start.y) * along.y);
      }
    }
  }
  return stations.length === 0 ? null : { fromMm: Math.min(...stations), toMm: Math.max(...stations) };
};

/** Is this a straight unit that stands on the faces of two walls in line? */
export const runsPast = ({ kind, covers }: Piece): boolean =>
  (kind === 'panel' || kind === 'filler') && covers.length > 1;

/** The first cover of a piece, made as long as the piece is: past a jog it runs on beyond its face. */
export const wholeCover = (plan: FacePlan, piece: Piece): Cover | undefined => {
  const cover = piece.covers[0];
  if (!cover || !runsPast(piece)) return cover;
  return { ...cover, ...extentOn(plan, piece, cover.face) };
};
