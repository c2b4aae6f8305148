/**
 * Ties of a run in which panels lie on their side beside or over upright ones. Its columns differ: what stands over each other at a station is read from
 * the pieces, with the levels at which such pieces are tied, and gives the loads of that column's rows by the statics of its courses. Along the wall
 * each course is one chain of forms on all its columns of ties, since a form is stiff in height and is held there by two rows, or by one and the
 * form, or the foot, below.
 */

import type { Finding } from '../ground/findings.js';
import { byNumber } from '../ground/order.js';
import { reachOf } from '../ground/runs.js';
import type { Piece, RowLoad, Run, Side, Tie } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, faceOf, placeOn } from './context.js';
import type { WallLoad } from './ratings.js';
import { rowLoads } from './rows.js';

/** Levels within this are one row. */
const ROW_MM = 1;
/** How far beside a tie its column is looked at: no form is as narrow. */
const BESIDE_MM = 1;

/** Does a panel lie on its side in the run? */
export const isMixed = (ctx: Context, run: Run): boolean =>
  ctx.layout.pieces.some((p) => p.turned && ctx.runOfPiece.get(p.id) === run.id);

/** Levels at which each piece is tied, by piece id. */
export const tiedLevels = (ties: readonly Tie[]): ReadonlyMap<string, readonly number[]> => {
  const levels = new Map<string, number[]>();
  for (const t of ties) for (const id of t.pieces) levels.set(id, [...(levels.get(id) ?? []), t.levelMm]);
  return levels;
};

const distinctLevels = (levels: readonly number[]): number[] =>
  [...levels].sort(byNumber((z) => z)).filter((z, i, all) => i === 0 || z - all[i - 1]! > ROW_MM);

/** Forms that stand in one course, at the same levels, the same way up. */
const kindOf = (p: Piece): string => [p.course, p.baseMm, p.topMm, p.turned].join(' ');

/** Levels at which forms of a kind are tied: a form without a tie of its own hangs on its neighbours' rows. */
const levelsByKind = (ctx: Context, ties: readonly Tie[]): ReadonlyMap<string, readonly number[]> => {
  const levels = new Map<string, number[]>();
  for (const [id, own] of tiedLevels(ties)) {
    const piece = ctx.pieces.get(id);
    if (piece) levels.set(kindOf(piece), [...(levels.get(kindOf(piece)) ?? []), ...own]);
  }
  return levels;
};

/** Panels of a run over each other at a station of a face, lowest first. */
const columnAt = (ctx: Context, run: Run, side: Side, stationMm: number): Piece[] =>
  (ctx.covers.get(faceOf(ctx, run.wall, side)?.id ?? '') ?? [])
    .filter(({ piece, cover }) => piece.kind === 'panel' && cover.fromMm < stationMm && cover.toMm > stationMm)
    .map(({ piece }) => piece)
    .filter((piece) => ctx.runOfPiece.get(piece.id) === run.id)
    .sort(byNumber((p) => p.baseMm));

export interface MixedColumns {
  /** What the row of a tie carries; undefined at a level without concrete. */
  readonly rowOf: (tie: Tie) => RowLoad | undefined;
  /** What is wrong with the columns, each kind of column once. */
  readonly findings: readonly Finding[];
}

/** The columns at the ties of a run, on both faces; of the two faces the one that asks more of a row counts. */
export const mixedColumns = (ctx: Context, run: Run, load: WallLoad, ties: readonly Tie[]): MixedColumns => {
  const levelsOf = levelsByKind(ctx, ties);
  const kinds = new Map<string, readonly RowLoad[]>();
  const findings: Finding[] = [];
  const rowsAt = (side: Side, stationMm: number): readonly RowLoad[] => {
    const pieces = columnAt(ctx, run, side, stationMm);
    const [first] = pieces;
    if (!first) return [];
    const heightsMm = pieces.map((p) => p.topMm - p.baseMm);
    const rowLevelsMm = distinctLevels(pieces.flatMap((p) => levelsOf.get(kindOf(p)) ?? []));
    const key = [first.baseMm, ...heightsMm, 'rows', ...rowLevelsMm].join(' ');
    const known = kinds.get(key);
    if (known) return known;
    const { footingMm, topMm } = run;
    const made = rowLoads({
      stack: { baseMm: first.baseMm, heightsMm },
      rowLevelsMm,
      footingMm,
      topMm,
      envelope: load.pressure.envelope,
      subject: run.id,
      at: placeOn(ctx, run.wall, null, stationMm, footingMm),
    });
    kinds.set(key, made.value);
    findings.push(...made.findings);
    return made.value;
  };
  const worst = new Map<string, RowLoad>();
  for (const tie of ties) {
    // A tie may stand over a joint of the forms below it: then the columns on either side count.
    const rows = (['left', 'right'] as const).flatMap((side) =>
      [-BESIDE_MM, BESIDE_MM].flatMap((d) => rowsAt(side, tie.stationMm + d)),
    );
    const own = rows.filter((r) => Math.abs(r.levelMm - tie.levelMm) <= ROW_MM);
    const most = own.reduce<RowLoad | null>((a, b) => (a === null || b.kNPerM > a.kNPerM ? b : a), null);
    if (most) worst.set(tie.id, { ...most, row: tie.row });
  }
  return { rowOf: (tie) => worst.get(tie.id), findings };
};

/** Where a panel on its side over other courses may end: at edges of the forms below it, or of the run (rule T8). */
export const endsOnJoints = (ctx: Context, run: Run, piece: Piece): boolean => {
  const [cover] = piece.covers;
  const below = (ctx.covers.get(cover?.face ?? '') ?? []).filter(
    (c) => c.piece.course === piece.course - 1 && c.piece.course > 0,
  );
  if (!cover || piece.course <= 1) return true;
  const [low, high] = reachOf(run);
  const edges = [low, high, ...below.flatMap((c) => [c.cover.fromMm, c.cover.toMm])];
  return [cover.fromMm, cover.toMm].every((s) => edges.some((e) => Math.abs(e - s) <= EQUAL_MM));
};
