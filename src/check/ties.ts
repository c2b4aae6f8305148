/** Rule T10, where ties may stand: through a real hole of the unit on each face, in this wall's concrete alone, of an item that fits. */

import { type Finding, finding } from '../ground/findings.js';
import { HOLE_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import type { Cover, FormUnit, LevelBand, Piece, Run, Side, Tie, TieItem } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, faceOf, placeOn, unitOf } from './context.js';

/** Place of a hole as it stands: seen from outside, from the left edge and the foot. Turned is 90 degrees anticlockwise. */
export const holeAsSet = (unit: FormUnit, turned: boolean, index: number): { xMm: number; yMm: number } | null => {
  const hole = unit.holes[index];
  if (!hole) return null;
  return turned ? { xMm: unit.heightMm - hole.yMm, yMm: hole.xMm } : hole;
};

/** Station and level of a hole of a piece. Seen from outside, the left edge lies at the higher station on the left face. */
export const holePlace = (
  unit: FormUnit,
  piece: Piece,
  cover: Cover,
  side: Side,
  index: number,
): { stationMm: number; levelMm: number } | null => {
  const hole = holeAsSet(unit, piece.turned, index);
  if (!hole) return null;
  const stationMm = side === 'left' ? cover.toMm - hole.xMm : cover.fromMm + hole.xMm;
  return { stationMm, levelMm: cover.baseMm + hole.yMm };
};

/** Does a tie of the catalogue fit a thickness? Within 1 mm, as thicknesses are drawn. */
export const fitsThickness = (tie: TieItem, thicknessMm: number): boolean =>
  'fromMm' in tie.wallMm
    ? thicknessMm >= tie.wallMm.fromMm - 1 && thicknessMm <= tie.wallMm.toMm + 1
    : tie.wallMm.some((t) => Math.abs(t - thicknessMm) <= 1);

/** What is wrong with the hole on one face, in words; null when the tie passes it. */
const holeFault = (ctx: Context, tie: Tie, side: Side): string | null => {
  const i = side === 'left' ? 0 : 1;
  const piece = ctx.pieces.get(tie.pieces[i]);
  const face = faceOf(ctx, tie.wall, side);
  if (!piece) return `names piece ${tie.pieces[i]}, which is not there`;
  const cover = piece.covers.find((c) => c.face === face?.id);
  if (!cover) return `names piece ${piece.id}, which does not stand on the ${side} face`;
  const unit = unitOf(ctx, piece);
  const place = unit ? holePlace(unit, piece, cover, side, tie.holes[i]) : null;
  if (!place) return `names hole ${tie.holes[i]} of piece ${piece.id}, which has no such hole`;
  const off = Math.max(Math.abs(place.stationMm - tie.stationMm), Math.abs(place.levelMm - tie.levelMm));
  if (off <= HOLE_MM + EQUAL_MM) return null;
  const [s, z] = [plainNumber(place.stationMm, 1), plainNumber(place.levelMm, 1)];
  return `misses hole ${tie.holes[i]} of piece ${piece.id}, which is at station ${s}, level ${z}`;
};

const levelAt = (bands: readonly LevelBand[], stationMm: number): number | null => {
  const hits = bands.filter((b) => stationMm >= b.fromMm - EQUAL_MM && stationMm <= b.toMm + EQUAL_MM);
  return hits.length === 0 ? null : Math.max(...hits.map((b) => b.levelMm));
};

const edge = (run: Run, which: 'start' | 'end', side: Side): number =>
  side === 'left' ? run[which].leftMm : run[which].rightMm;

/** Where the tie may not stand, in words; null when its place is good. */
const placeFault = (ctx: Context, run: Run, tie: Tie): string | null => {
  const s = tie.stationMm;
  const stems = (ctx.runsOf.get(run.wall) ?? []).flatMap((r) => r.stems);
  const stem = stems.find((x) => s > x.fromMm - EQUAL_MM && s < x.toMm + EQUAL_MM);
  if (stem) return `runs down wall ${stem.wall}, which stands at stations ${stem.fromMm} to ${stem.toMm}`;
  const pilaster = (ctx.runsOf.get(run.wall) ?? [])
    .flatMap((r) => r.pilasters ?? [])
    .find((x) => s > x.fromMm - EQUAL_MM && s < x.toMm + EQUAL_MM);
  if (pilaster) return `passes pilaster ${pilaster.id}, where the wall is thicker`;
  const low = Math.max(edge(run, 'start', 'left'), edge(run, 'start', 'right'));
  const high = Math.min(edge(run, 'end', 'left'), edge(run, 'end', 'right'));
  const past = s < low ? run.start : s > high ? run.end : null;
  // Over a lower footing the forms of the upper run stand out past the riser; those of the lower run end before it.
  if (past?.kind === 'step' && run.footingMm < past.beyondFootingMm) return 'stands beyond the riser';
  if (past && past.kind !== 'free' && past.kind !== 'step')
    return 'stands in the corner, where it would run down the other wall';
  if (past?.kind === 'free' && !tie.outsideConcrete)
    return 'stands beyond the end of the concrete without being marked so';
  if (past?.kind !== 'free' && tie.outsideConcrete) return 'is marked as beyond the concrete, but passes it';
  const wall = ctx.walls.get(tie.wall);
  const foot = levelAt(wall?.base ?? [], s) ?? run.footingMm;
  const top = wall?.top.find((b) => s >= b.fromMm - EQUAL_MM && s <= b.toMm + EQUAL_MM)?.levelMm ?? run.topMm;
  if (tie.levelMm <= foot || tie.levelMm >= top) return 'stands above or below the concrete';
  const opening = ctx.plan.openings.find(
    (o) => o.wall === tie.wall && s > o.fromMm && s < o.toMm && tie.levelMm > o.sillMm && tie.levelMm < o.headMm,
  );
  if (opening) return `stands in the void of opening ${opening.id}`;
  return null;
};

const itemFault = (ctx: Context, run: Run, tie: Tie): string | null => {
  const item = ctx.tieItems.get(tie.item);
  if (!item) return `is of item ${tie.item}, which the catalogue does not have`;
  if (fitsThickness(item, run.thicknessMm)) return null;
  return `is of item ${tie.item}, which does not fit a wall ${plainNumber(run.thicknessMm, 1)} mm thick`;
};

/** Two ties cannot pass the same hole. */
const doubled = (ties: readonly Tie[]): Set<string> => {
  const seen = new Set<string>();
  const twice = new Set<string>();
  for (const t of ties) {
    const key = `${t.wall}|${Math.round(t.stationMm)}|${Math.round(t.levelMm)}`;
    if (seen.has(key)) twice.add(t.id);
    seen.add(key);
  }
  return twice;
};

export const tieFindings = (ctx: Context): Finding[] => {
  const found: Finding[] = [];
  const twice = doubled(ctx.layout.ties);
  for (const tie of ctx.layout.ties) {
    const run = ctx.runs.get(tie.run);
    const at = placeOn(ctx, tie.wall, null, tie.stationMm, tie.levelMm);
    const say = (code: 'check.tie-hole' | 'check.tie-place' | 'check.tie-item', text: string) =>
      found.push(finding(code, `Tie ${tie.id} ${text}.`, { at, subject: tie.id }));
    if (!run) {
      say('check.tie-place', `is in run ${tie.run} of wall ${tie.wall}, which is not there`);
      continue;
    }
    for (const side of ['left', 'right'] as const) {
      const fault = holeFault(ctx, tie, side);
      if (fault) say('check.tie-hole', fault);
    }
    const place = placeFault(ctx, run, tie);
    if (place) say('check.tie-place', place);
    if (twice.has(tie.id)) say('check.tie-place', 'stands in the same hole as another tie');
    const item = itemFault(ctx, run, tie);
    if (item) say('check.tie-item', item);
  }
  for (const [, [run]] of ctx.runsOf) {
    if (!run || ctx.catalogue.ties.some((t) => fitsThickness(t, run.thicknessMm))) continue;
    const wall = ctx.walls.get(run.wall);
    const at = placeOn(ctx, run.wall, null, (wall?.lengthMm ?? 0) / 2);
    const message = `No tie of the catalogue fits wall ${run.wall}, ${plainNumber(run.thicknessMm, 1)} mm thick.`;
    found.push(finding('check.no-tie-item', message, { at, subject: run.wall }));
  }
  return found;
};
