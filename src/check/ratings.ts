/** Rule T11, the units: pressure against rating for the span and the rows in use, and the moment of stiff filler joints. */

import { extentOn } from '../ground/extent.js';
import { type Finding, finding } from '../ground/findings.js';
import { runAt, runOfArm } from '../ground/runs.js';
import { plainNumber, roundTo } from '../ground/units.js';
import type {
  CheckedPiece,
  Envelope,
  FormUnit,
  Group,
  Piece,
  PressureCase,
  Run,
  RunDemand,
  Side,
} from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, placeOn, unitOf } from './context.js';
import { momentAbout, pressureAt } from './envelope.js';
import { isMixed, tiedLevels } from './mixedColumns.js';
import { spanAsSet } from './onSide.js';
import { higherRuns } from './raised.js';
import { holeAsSet } from './ties.js';

/** Concrete of a wall against which its units are rated. */
export interface WallLoad {
  readonly demand: RunDemand;
  readonly pressure: PressureCase;
  readonly footingMm: number;
  readonly topMm: number;
}

/** The part of it that presses. */
export type Pressing = Pick<WallLoad, 'pressure' | 'footingMm' | 'topMm'>;

/** Largest pressure on something whose foot is at this level. */
export const pressureFrom = (load: Pressing, baseMm: number): number =>
  pressureAt(load.pressure.envelope, load.topMm - Math.max(baseMm, load.footingMm));

const exponent = (unit: FormUnit): 2 | 3 => (unit.ratingIs === 'strength' ? 2 : 3);

/** Rating for a span between supports: falls with its cube where deflection limits it, with its square where strength does. */
export const ratedForSpan = (unit: FormUnit, spanMm: number, turned = false): number => {
  const rated = spanAsSet(unit, turned);
  return spanMm > rated + EQUAL_MM ? unit.ratedKpa * (rated / spanMm) ** exponent(unit) : unit.ratedKpa;
};

/** Levels of a unit's hole rows as set, rising. */
const holeRows = (unit: FormUnit, piece: Pick<Piece, 'baseMm' | 'turned'>): number[] => {
  const ys = unit.holes.map((_, i) => piece.baseMm + holeAsSet(unit, piece.turned, i)!.yMm);
  return [...new Set(ys)].sort((a, b) => a - b);
};

const widestGap = (levels: readonly number[]): number => Math.max(0, ...levels.slice(1).map((z, i) => z - levels[i]!));

/**
 * Rating where rows of the unit are not tied. Between tied rows it falls with the gap like with a span; the parts below the first and above the
 * last tied row stand out as cantilevers, whose moment may be what the unit carries at its rated gap, p_u g^2 / 8, or at its own edge,
 * p_u d^2 / 2. Statics of the panel; that a panel is as strong as its rows make it is common practice, no source.
 */
export const ratedForRows = (
  unit: FormUnit,
  piece: Pick<Piece, 'baseMm' | 'topMm' | 'turned'>,
  load: Pressing,
  envelope: Envelope,
  levelsMm: readonly number[],
): number => {
  const own = holeRows(unit, piece);
  const tied = levelsMm.filter((z) => own.some((y) => Math.abs(y - z) <= 1));
  const [first, last] = [tied[0], tied[tied.length - 1]];
  if (first === undefined || last === undefined || tied.length === own.length) return unit.ratedKpa;
  const gap = widestGap(own);
  const actual = widestGap(tied);
  const between = gap > 0 && actual > gap + EQUAL_MM ? unit.ratedKpa * (gap / actual) ** exponent(unit) : unit.ratedKpa;
  const p = pressureFrom(load, piece.baseMm);
  const carried = (edgeMm: number) => unit.ratedKpa * Math.max((gap / 1000) ** 2 / 8, (edgeMm / 1000) ** 2 / 2);
  const below = (p * ((first - Math.max(piece.baseMm, load.footingMm)) / 1000) ** 2) / 2;
  const above = momentAbout(envelope, load.topMm, last, piece.topMm);
  const byMoment = (moment: number, edgeMm: number) => (moment > 0 ? (p * carried(edgeMm)) / moment : unit.ratedKpa);
  return Math.min(
    between,
    byMoment(below, own[0]! - piece.baseMm),
    byMoment(above, piece.topMm - own[own.length - 1]!),
    unit.ratedKpa,
  );
};

/** The runs in whose concrete a piece stands: of its rigid group, else by its covers, else by the walls at its vertex. */
export const runsOf = (ctx: Context, piece: Piece): Run[] => {
  const grouped = ctx.runs.get(ctx.runOfPiece.get(piece.id) ?? '');
  if (grouped) return [grouped, ...higherRuns(ctx, piece)];
  const covered = piece.covers.flatMap((c) => {
    const wall = ctx.faces.get(c.face)?.wall;
    return (wall !== undefined && runAt(ctx.plan.runs, wall, (c.fromMm + c.toMm) / 2)) || [];
  });
  if (covered.length > 0) return covered;
  const arms = ctx.plan.vertices.find((v) => v.id === piece.vertex)?.arms ?? [];
  return arms.flatMap((a) => runOfArm(ctx.plan.runs, a) ?? []);
};

const sideOf = (ctx: Context, piece: Piece): Side | null => {
  const side = ctx.faces.get(piece.covers[0]?.face ?? '')?.side;
  return side === 'left' || side === 'right' ? side : null;
};

const standsOver = (piece: Piece, { stack }: RunDemand): boolean =>
  piece.topMm > stack.heightsMm.reduce((sum, h) => sum + h, stack.baseMm) + EQUAL_MM;

/** Pressure and rating of every unit. `spans` is the longest span of the panels, by piece. */
export const rateUnits = (
  ctx: Context,
  loads: ReadonlyMap<string, WallLoad>,
  spans: ReadonlyMap<string, number>,
): { ratings: CheckedPiece[]; findings: Finding[] } => {
  const ratings: CheckedPiece[] = [];
  const findings: Finding[] = [];
  const mixed = new Set(ctx.plan.runs.filter((r) => isMixed(ctx, r)).map((r) => r.id));
  const tied = tiedLevels(ctx.layout.ties);
  /** Where columns differ a panel has the rows at which it is tied itself. */
  const levelsOf = (piece: Piece, { demand }: WallLoad): readonly number[] =>
    mixed.has(ctx.runOfPiece.get(piece.id) ?? '')
      ? [...new Set(tied.get(piece.id) ?? [])].sort((a, b) => a - b)
      : demand.rows.map((r) => r.levelMm);
  for (const piece of ctx.layout.pieces) {
    const unit = unitOf(ctx, piece);
    const runs = runsOf(ctx, piece);
    const own = runs.flatMap((r) => loads.get(r.id) ?? []);
    if (!unit || own.length === 0) continue;
    const pressureKpa = Math.max(...own.map((load) => pressureFrom(load, piece.baseMm)));
    const span = spans.get(piece.id);
    const forSpan = span === undefined ? unit.ratedKpa : ratedForSpan(unit, span, piece.turned);
    // Forms over the end of a higher wall that their own courses do not reach have that wall's, and at the held edge its rows.
    const higher = higherRuns(ctx, piece).flatMap((r) => loads.get(r.id) ?? []);
    const rowed = higher.length > 0 && own.some(({ demand }) => standsOver(piece, demand)) ? higher : own;
    const forRows =
      piece.kind === 'panel'
        ? Math.min(
            ...rowed.map((load) => ratedForRows(unit, piece, load, load.pressure.envelope, levelsOf(piece, load))),
          )
        : unit.ratedKpa;
    const ratedKpa = Math.min(forSpan, forRows);
    ratings.push({ piece: piece.id, pressureKpa: roundTo(pressureKpa, 6), ratedKpa: roundTo(ratedKpa, 6) });
    if (pressureKpa <= ratedKpa + 1e-6) continue;
    const why =
      forSpan < unit.ratedKpa && forSpan <= forRows ? ` over its span of ${plainNumber(span ?? 0, 0)} mm` : '';
    const rows = forRows < forSpan ? ' with the rows that are tied' : '';
    const message = `Piece ${piece.id} (${unit.id}) takes ${plainNumber(pressureKpa, 1)} kPa; it is rated ${plainNumber(ratedKpa, 1)}${why}${rows}.`;
    const cover = piece.covers[0];
    const wall = runs[0]?.wall ?? '';
    const station = cover ? (cover.fromMm + cover.toMm) / 2 : 0;
    const at = cover ? placeOn(ctx, wall, sideOf(ctx, piece), station, piece.baseMm) : null;
    findings.push(finding('check.rating', message, { at, subject: piece.id }));
  }
  return { ratings, findings };
};

/** Fillers at either end of a group, outermost first, and the panel's neighbours' joints with the filler width beyond each. */
const fillerJoints = (ctx: Context, group: Group): { fillerMm: number; momentKnmPerM: number; piece: string }[] => {
  const pieces = group.pieces
    .flatMap((id) => ctx.pieces.get(id) ?? [])
    .sort(
      (a, b) => (extentOn(ctx.plan, a, group.face)?.fromMm ?? 0) - (extentOn(ctx.plan, b, group.face)?.fromMm ?? 0),
    );
  const panel = pieces.findIndex((p) => p.kind === 'panel');
  const joint = (fillers: readonly Piece[]) => {
    if (panel < 0 || fillers.length === 0) return [];
    const width = fillers.reduce((sum, p) => sum + p.covers.reduce((w, c) => w + c.toMm - c.fromMm, 0), 0);
    const moment = Math.min(...fillers.map((p) => unitOf(ctx, p)?.momentKnmPerM ?? 0));
    return [{ fillerMm: width, momentKnmPerM: moment, piece: fillers[0]!.id }];
  };
  return [...joint(pieces.slice(0, Math.max(panel, 0))), ...joint(pieces.slice(panel + 1))];
};

/** Moment of a stiff joint, p f (L - f) / 2 with f the filler and L the group (a beam between its ends), against its rating. */
export const jointMoments = (ctx: Context, loads: ReadonlyMap<string, WallLoad>): Finding[] =>
  ctx.layout.groups.flatMap((group) => {
    const face = ctx.faces.get(group.face);
    const load = loads.get(group.run);
    if (!face || !load) return [];
    const baseMm = Math.min(...group.pieces.flatMap((id) => ctx.pieces.get(id)?.baseMm ?? []));
    const p = pressureFrom(load, baseMm);
    const length = group.toMm - group.fromMm;
    return fillerJoints(ctx, group).flatMap(({ fillerMm, momentKnmPerM, piece }) => {
      const moment = (p * fillerMm * (length - fillerMm)) / 2 / 1e6;
      if (moment <= momentKnmPerM + 1e-9) return [];
      const message = `The stiff joint of filler ${piece} carries ${plainNumber(moment, 2)} kNm/m; it is rated ${plainNumber(momentKnmPerM, 2)}.`;
      const side: Side | null = face.side === 'left' || face.side === 'right' ? face.side : null;
      const at = placeOn(ctx, face.wall, side, (group.fromMm + group.toMm) / 2, baseMm);
      return [finding('check.joint-moment', message, { at, subject: piece })];
    });
  });
