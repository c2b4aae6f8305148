/**
 * Timber fill as a span between two frames: a board simply supported on both, loaded by the pressure at its foot. M = p w^2 / 8, stress 6 M / t^2; V = p w / 2,
 * shear 1.5 V / t, each per metre of height. Statics of the rectangle; working stresses of the catalogue.
 */

import { type Finding, finding } from '../ground/findings.js';
import { runAt } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { FillBoards } from '../ground/vocabulary.js';
import { type Context, placeOn } from './context.js';
import { pressureFrom, type WallLoad } from './ratings.js';

export interface BoardStress {
  readonly bendingMpa: number;
  readonly shearMpa: number;
}

/** Stresses of a board of this width over the gap under a pressure. */
export const boardStress = (pressureKpa: number, widthMm: number, thicknessMm: number): BoardStress => {
  // Per mm of height: kPa is 1e-3 N/mm2.
  const loadNPerMm = pressureKpa / 1000;
  const momentNmm = (loadNPerMm * widthMm ** 2) / 8;
  const shearN = (loadNPerMm * widthMm) / 2;
  return { bendingMpa: (6 * momentNmm) / thicknessMm ** 2, shearMpa: (1.5 * shearN) / thicknessMm };
};

/** Larger of the two stresses over what is allowed. */
export const boardUse = (stress: BoardStress, boards: FillBoards): number =>
  Math.max(stress.bendingMpa / boards.bendingMpa, stress.shearMpa / boards.shearMpa);

export const boardFindings = (ctx: Context, loads: ReadonlyMap<string, WallLoad>): Finding[] => {
  const boards = ctx.catalogue.timber;
  if (!boards) return [];
  return ctx.layout.pieces.flatMap((piece) => {
    const cover = piece.kind === 'timber' ? piece.covers[0] : undefined;
    const face = cover ? ctx.faces.get(cover.face) : undefined;
    const side = face?.side;
    if (!cover || !face || (side !== 'left' && side !== 'right')) return [];
    const middle = (cover.fromMm + cover.toMm) / 2;
    const load = loads.get(runAt(ctx.plan.runs, face.wall, middle)?.id ?? '');
    if (!load) return [];
    const widthMm = Math.min(piece.taper?.faceMm ?? cover.toMm - cover.fromMm, cover.topMm - cover.baseMm);
    // Longer than any fill: a form to be designed, named as such elsewhere.
    if (widthMm > ctx.catalogue.timberLimitMm) return [];
    const stress = boardStress(pressureFrom(load, cover.baseMm), widthMm, boards.thicknessMm);
    if (boardUse(stress, boards) <= 1 + 1e-9) return [];
    const message = `Timber ${piece.id} spans ${plainNumber(widthMm, 1)} mm: ${plainNumber(stress.bendingMpa, 1)} MPa in bending (allowed ${plainNumber(boards.bendingMpa, 1)}) and ${plainNumber(stress.shearMpa, 2)} in shear (allowed ${plainNumber(boards.shearMpa, 2)}) in boards of ${plainNumber(boards.thicknessMm, 1)} mm.`;
    return [
      finding('check.timber-span', message, {
        at: placeOn(ctx, face.wall, side, middle, cover.baseMm),
        subject: piece.id,
      }),
    ];
  });
};
