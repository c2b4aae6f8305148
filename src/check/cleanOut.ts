/**
 * Clean-outs (rule T16): at the foot of each low stretch of the footing one unit has to come out alone before the pour, so that what has fallen between
 * the faces can be washed out. It is a panel of the lowest course, at most 600 wide, with no tie in its lowest row, beside no corner.
 */

import { type Finding, finding } from '../ground/findings.js';
import { CLEAN_OUT_MOST_MM, lowStretches } from '../ground/lowStretches.js';
import { describeRun, middleOf } from '../ground/runs.js';
import { plainNumber } from '../ground/units.js';
import type { Cover, Face, Run, Side } from '../ground/vocabulary.js';
import { type Context, faceOf, type PlacedCover, placeOn, unitOf } from './context.js';

const LEVEL_MM = 1;

/** Whether a unit stands at an end of its face: there a corner unit holds it. */
const isAtCorner = (face: Face, { fromMm, toMm }: Cover): boolean =>
  Math.abs(fromMm - face.fromMm) < LEVEL_MM || Math.abs(toMm - face.toMm) < LEVEL_MM;

/** Panels of the lowest course of a run that come out alone, the widest first. */
const candidates = (ctx: Context, run: Run, tiedBelow: ReadonlySet<string>): PlacedCover[] =>
  (['left', 'right'] as const)
    .flatMap((side) => {
      const face = faceOf(ctx, run.wall, side);
      if (!face) return [];
      return (ctx.covers.get(face.id) ?? []).filter(({ piece, cover }) => {
        const isUpright = piece.kind === 'panel' && piece.course === 1 && !piece.turned && piece.covers.length === 1;
        if (!isUpright || ctx.runOfPiece.get(piece.id) !== run.id) return false;
        return !tiedBelow.has(piece.id) && !isAtCorner(face, cover) && widthOf(cover) <= CLEAN_OUT_MOST_MM + LEVEL_MM;
      });
    })
    .sort((a, b) => widthOf(b.cover) - widthOf(a.cover) || a.cover.fromMm - b.cover.fromMm);

const widthOf = ({ fromMm, toMm }: Cover): number => toMm - fromMm;

/** Pieces that a tie passes in the lowest row of holes that they have. */
const tiedInLowestRow = (ctx: Context): Set<string> => {
  const tied = new Set<string>();
  for (const tie of ctx.layout.ties) {
    for (const id of tie.pieces) {
      const piece = ctx.pieces.get(id);
      const unit = piece && unitOf(ctx, piece);
      if (!piece || !unit) continue;
      const lowest = Math.min(...unit.holes.map((h) => h.yMm));
      if (tie.levelMm <= piece.baseMm + lowest + LEVEL_MM) tied.add(id);
    }
  }
  return tied;
};

/** 'walls W1, W2': whole walls under one word, parts of walls each by itself. */
const namesOf = (runs: readonly Run[]): string => {
  const whole = runs.filter((r) => r.id === r.wall).map((r) => r.wall);
  const parts = runs.filter((r) => r.id !== r.wall).map(describeRun);
  return [...(whole.length > 1 ? [`walls ${whole.join(', ')}`] : whole.map((w) => `wall ${w}`)), ...parts].join(', ');
};

interface CleanOut {
  readonly runs: readonly Run[];
  /** null: nothing comes out alone there. */
  readonly found: (PlacedCover & { readonly run: Run }) | null;
}

/** The unit that comes out alone of each low stretch. */
const cleanOuts = (ctx: Context): CleanOut[] => {
  const tied = tiedInLowestRow(ctx);
  const formed = new Set(ctx.runOfPiece.values());
  const stretches = lowStretches(ctx.plan).filter((runs) => runs.some((r) => formed.has(r.id)));
  return stretches.map((runs) => {
    for (const run of runs) {
      const [found] = candidates(ctx, run, tied);
      if (found) return { runs, found: { ...found, run } };
    }
    return { runs, found: null };
  });
};

/** Ids of the units that come out alone. */
export const cleanOutPieces = (ctx: Context): ReadonlySet<string> =>
  new Set(cleanOuts(ctx).flatMap(({ found }) => (found ? [found.piece.id] : [])));

export const cleanOutFindings = (ctx: Context): Finding[] =>
  cleanOuts(ctx).map(({ runs, found }): Finding => {
    const level = plainNumber(runs[0]!.footingMm, 0);
    if (found) {
      const { piece: panel, cover, run } = found;
      const { fromMm, toMm } = cover;
      const side = ctx.faces.get(cover.face)!.side as Side;
      const at = placeOn(ctx, run.wall, side, (fromMm + toMm) / 2, panel.baseMm);
      const message = `Clean-out at level ${level}: ${panel.id} (${panel.item}) of ${describeRun(run)}, stations ${plainNumber(fromMm, 0)} to ${plainNumber(toMm, 0)}, has no tie in its lowest row and comes out alone.`;
      return finding('check.clean-out', message, { at, subject: panel.id });
    }
    const [first] = runs;
    const at = placeOn(ctx, first!.wall, null, middleOf(first!), first!.footingMm);
    const message = `No unit of ${namesOf(runs)} comes out alone at the foot (level ${level}): every panel up to ${CLEAN_OUT_MOST_MM} mm wide is tied in its lowest row or held by a corner.`;
    return finding('check.no-clean-out', message, { at, subject: first!.wall });
  });
