/** What the drawings and lists need to know of pilasters. */

import type { Cover, Face, FacePlan, LevelBand, Piece } from './vocabulary.js';

/** A post beside a pilaster: as wide as the wall's face that it covers, as deep as the pilaster's side. */
export interface Post {
  readonly cover: Cover;
  readonly widthMm: number;
  readonly depthMm: number;
}

/** The post that a piece of timber is, null where it is none. */
export const postOf = (plan: FacePlan, { kind, covers }: Piece): Post | null => {
  const [own, side] = covers;
  if (kind !== 'timber' || !own || !side || !plan.faces.some((f) => f.id === side.face && f.stands)) return null;
  return { cover: own, widthMm: own.toMm - own.fromMm, depthMm: side.toMm - side.fromMm };
};

/** Levels along a wall as a pilaster's face has them: of the wall where it stands, over the whole face. Bands of other faces as they are. */
export const bandsAlong = ({ stands, fromMm, toMm }: Face, bands: readonly LevelBand[]): readonly LevelBand[] => {
  if (!stands) return bands;
  const own = bands.find((b) => stands.stationMm <= b.toMm) ?? bands.at(-1);
  return own ? [{ fromMm, toMm, levelMm: own.levelMm }] : [];
};
