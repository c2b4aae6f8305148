/** What a line of forms can be taken apart into without parting a unit: stretches between joints that go through all courses. */

import type { Piece } from '../../ground/vocabulary.js';
import type { FormLine } from '../bracing/formLines.js';
import { type Context, faceOf, type PlacedCover } from '../context.js';

export interface Block {
  readonly fromMm: number;
  readonly toMm: number;
  readonly baseMm: number;
  readonly topMm: number;
  readonly pieces: readonly Piece[];
  /** Panels and steel fillers alone, from its foot to its top: may be lifted. What turns a corner, comes out first or is cut on site may not. */
  readonly isLiftable: boolean;
}

/** Edges closer than this are one joint. */
const SAME_MM = 1;
/** Area that rounding may leave, mm2. */
const AREA_MM2 = 5000;

const straddles = ({ cover }: PlacedCover, stationMm: number): boolean =>
  cover.fromMm < stationMm - SAME_MM && cover.toMm > stationMm + SAME_MM;

const isLiftable = (covers: readonly PlacedCover[], areaMm2: number): boolean => {
  const filled = covers.reduce((sum, { piece, cover }) => {
    return sum + (cover.toMm - cover.fromMm) * (piece.topMm - piece.baseMm);
  }, 0);
  const areUnits = covers.every(
    ({ piece }) => (piece.kind === 'panel' || piece.kind === 'filler') && piece.covers.length === 1,
  );
  return areUnits && Math.abs(filled - areaMm2) <= AREA_MM2;
};

/** Blocks by station. */
export const blocksOf = (line: FormLine): Block[] => {
  const edges = line.covers.flatMap(({ cover }) => [cover.fromMm, cover.toMm]).sort((a, b) => a - b);
  const joints = edges.filter(
    (s, i) => (i === 0 || s - edges[i - 1]! > SAME_MM) && !line.covers.some((c) => straddles(c, s)),
  );
  return joints.slice(1).map((toMm, i): Block => {
    const fromMm = joints[i]!;
    const here = line.covers.filter(
      ({ cover }) => cover.toMm - cover.fromMm > 0 && cover.fromMm >= fromMm - SAME_MM && cover.toMm <= toMm + SAME_MM,
    );
    const baseMm = Math.min(...here.map(({ piece }) => piece.baseMm));
    const topMm = Math.max(...here.map(({ piece }) => piece.topMm));
    return {
      fromMm,
      toMm,
      baseMm,
      topMm,
      pieces: here.map(({ piece }) => piece),
      isLiftable: isLiftable(here, (toMm - fromMm) * (topMm - baseMm)),
    };
  });
};

/** Does no unit of the other face reach over this station: is it a joint of both faces, or beyond the other one? */
export const isCommon = (ctx: Context, line: FormLine, stationMm: number): boolean => {
  const other = faceOf(ctx, line.run.wall, line.side === 'left' ? 'right' : 'left');
  return !(ctx.covers.get(other?.id ?? '') ?? []).some((c) => c.piece.course > 0 && straddles(c, stationMm));
};
