/** A stretch of a wall laid out by hand, in place of what the fit put there, so that the check can judge it. */

import { holePlace } from '../../src/check/ties.js';
import type { Catalogue, FacePlan, Group, Layout, Piece, Side, Tie } from '../../src/ground/vocabulary.js';

export interface HandUnit {
  readonly item: string;
  readonly turned: boolean;
  readonly fromMm: number;
  readonly toMm: number;
  /** Stations of its columns of ties. */
  readonly tiesMm: readonly number[];
}

const SIDES: readonly Side[] = ['left', 'right'];

/** The layout with these units of one course between their first and last station on both faces of a wall; `rowAt` numbers the levels of ties. */
export const handLaid = (
  plan: FacePlan,
  catalogue: Catalogue,
  layout: Layout,
  wall: string,
  units: readonly HandUnit[],
  rows: readonly { readonly row: number; readonly levelMm: number }[],
): Layout => {
  const [from, to] = [units[0]!.fromMm, units.at(-1)!.toMm];
  const faceOf = (side: Side) => plan.faces.find((f) => f.wall === wall && f.side === side)!.id;
  const faces = new Set(SIDES.map(faceOf));
  const inside = (p: Piece) =>
    p.covers.length === 1 && faces.has(p.covers[0]!.face) && p.covers[0]!.fromMm >= from && p.covers[0]!.toMm <= to;
  const gone = new Set(layout.pieces.filter(inside).map((p) => p.id));
  const unitOf = (item: string) => catalogue.units.find((u) => u.id === item)!;
  const placed = units.map((u, i) =>
    SIDES.map((side): Piece => {
      const { widthMm, heightMm } = unitOf(u.item);
      const topMm = u.turned ? widthMm : heightMm;
      const cover = { face: faceOf(side), fromMm: u.fromMm, toMm: u.toMm, baseMm: 0, topMm };
      const { item, turned } = u;
      return { id: `H${i}${side}`, kind: 'panel', item, turned, course: 1, covers: [cover], baseMm: 0, topMm };
    }),
  );
  const ties = units.flatMap((u, i) =>
    u.tiesMm.flatMap((stationMm) =>
      rows.flatMap(({ row, levelMm }): Tie[] => {
        const holes = placed[i]!.map((p, k) =>
          unitOf(u.item).holes.findIndex((_h, n) => {
            const at = holePlace(unitOf(u.item), p, p.covers[0]!, SIDES[k]!, n)!;
            return Math.abs(at.stationMm - stationMm) < 1 && Math.abs(at.levelMm - levelMm) < 1;
          }),
        ) as [number, number];
        if (holes.includes(-1)) return [];
        const pieces = placed[i]!.map((p) => p.id) as [string, string];
        const item = layout.ties.find((t) => t.wall === wall)!.item;
        const id = `HT${stationMm}@${levelMm}`;
        return [{ id, item, wall, run: wall, row, stationMm, levelMm, pieces, holes, outsideConcrete: false }];
      }),
    ),
  );
  const groups = units.flatMap((u, i) =>
    SIDES.map((side, k): Group => {
      const supports = ties.filter((t) => t.pieces.includes(placed[i]![k]!.id)).map((t) => t.id);
      const { fromMm, toMm } = u;
      const pieces = [placed[i]![k]!.id];
      return { id: `HG${i}${side}`, face: faceOf(side), run: wall, fromMm, toMm, course: 1, pieces, supports };
    }),
  );
  return {
    ...layout,
    pieces: [...layout.pieces.filter((p) => !gone.has(p.id)), ...placed.flat()],
    ties: [...layout.ties.filter((t) => !t.pieces.some((id) => gone.has(id))), ...ties],
    groups: [...layout.groups.filter((g) => !g.pieces.some((id) => gone.has(id))), ...groups],
  };
};
