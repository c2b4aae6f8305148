/** Rules T2 and T1: every piece is the unit that it names, in its own size; timber is of a width that can be cut. */

import { takesDeflection } from '../ground/cornerAngles.js';
import { extentOn } from '../ground/extent.js';
import { type Finding, finding } from '../ground/findings.js';
import { COVER_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import type { Cover, FormUnit, Piece, Side } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, placeOn } from './context.js';

const same = (a: number, b: number): boolean => Math.abs(a - b) <= COVER_MM;

const placeOf = (ctx: Context, piece: Piece): readonly [number, number, number] | null => {
  const cover = piece.covers[0];
  const face = cover && ctx.faces.get(cover.face);
  if (!cover || !face) return null;
  const side: Side | null = face.side === 'left' || face.side === 'right' ? face.side : null;
  const station =
    face.stands?.stationMm ??
    (side === null
      ? face.side === 'end'
        ? (ctx.walls.get(face.wall)?.lengthMm ?? 0)
        : 0
      : (cover.fromMm + cover.toMm) / 2);
  return placeOn(ctx, face.wall, side, station, cover.baseMm);
};

const widthOf = (c: Cover): number => c.toMm - c.fromMm;
const heightOf = (c: Cover): number => c.topMm - c.baseMm;

/** What is wrong with a piece that names a unit, in words; null when nothing is. */
const unlikeUnit = (ctx: Context, piece: Piece, unit: FormUnit): string | null => {
  const vertex = piece.vertex === undefined ? undefined : ctx.vertices.get(piece.vertex);
  if (vertex && piece.kind.endsWith('corner') && !takesDeflection(unit, vertex.deflectionDeg))
    return `stands at a corner that turns by ${plainNumber(vertex.deflectionDeg, 1)} degrees, which ${unit.id} does not take`;
  if (unit.kind !== piece.kind) return `is set as ${piece.kind}, but ${unit.id} is a ${unit.kind}`;
  if (piece.turned && !unit.turnable) return `is turned, which ${unit.id} does not allow`;
  if (unit.legsMm) {
    const legs = [...unit.legsMm].sort((a, b) => a - b);
    const widths = piece.covers.map(widthOf).sort((a, b) => a - b);
    if (widths.length !== 2 || !widths.every((w, i) => same(w, legs[i]!)))
      return `covers ${widths.map((w) => plainNumber(w, 1)).join(' and ')} mm, the legs are ${legs.join(' and ')}`;
    return piece.covers.every((c) => same(heightOf(c), unit.heightMm)) ? null : 'is not as high as its unit';
  }
  if (unit.kind === 'outside-corner')
    return same(piece.topMm - piece.baseMm, unit.heightMm) ? null : 'is not as high as its unit';
  const [w, h] = piece.turned ? [unit.heightMm, unit.widthMm] : [unit.widthMm, unit.heightMm];
  const [cover, more] = piece.covers;
  // Past a jog a unit stands on the faces of two walls in line.
  const extent = cover && extentOn(ctx.plan, piece, cover.face);
  const whole =
    extent &&
    same(
      extent.toMm - extent.fromMm,
      piece.covers.reduce((sum, c) => sum + widthOf(c), 0),
    );
  if (!cover || !extent || (more && !whole)) return 'does not cover one place of one face';
  const widthMm = extent.toMm - extent.fromMm;
  if (same(widthMm, w) && same(heightOf(cover), h)) return null;
  const [a, b] = [plainNumber(widthMm, 1), plainNumber(heightOf(cover), 1)];
  return `covers ${a} x ${b} mm, ${unit.id} is ${plainNumber(w, 1)} x ${plainNumber(h, 1)}`;
};

/** Pieces that need no unit of the yard. */
const CUT_TO_SIZE: ReadonlySet<string> = new Set(['timber', 'strip', 'bulkhead', 'box-out']);

const unitFinding = (ctx: Context, piece: Piece): Finding | null => {
  const say = (text: string) =>
    finding('check.unit', `Piece ${piece.id} ${text}.`, { at: placeOf(ctx, piece), subject: piece.id });
  if (piece.item === null) return CUT_TO_SIZE.has(piece.kind) ? null : say(`is a ${piece.kind} but names no unit`);
  const unit = ctx.units.get(piece.item);
  if (!unit) return say(`names ${piece.item}, which the catalogue does not have`);
  const why = unlikeUnit(ctx, piece, unit);
  return why === null ? null : say(why);
};

/** Strips of timber on wall faces by their short side. What closes the gap under forms may be as low as it is: laths or mortar. */
const timberFindings = (ctx: Context, piece: Piece): Finding[] => {
  if (piece.kind !== 'timber') return [];
  const { timberLeastMm, timberLimitMm } = ctx.catalogue;
  // One strip round a corner that turns by little: cut to the angle, it may be as narrow as the corner asks (rules of layout, exemptions).
  if (piece.covers.length > 1) return [];
  return piece.covers.flatMap((cover) => {
    const side = ctx.faces.get(cover.face)?.side;
    const isUnder = piece.course === 0;
    const wide = piece.taper?.faceMm ?? widthOf(cover);
    const short = isUnder ? wide : Math.min(wide, heightOf(cover));
    if (side !== 'left' && side !== 'right') return [];
    // Tapered fill on a curve may be as narrow as the curve asks.
    if ((piece.taper || short >= timberLeastMm - EQUAL_MM) && (isUnder || short <= timberLimitMm + EQUAL_MM)) return [];
    const limit =
      !piece.taper && short < timberLeastMm
        ? `less than ${plainNumber(timberLeastMm, 2)} mm, the least that can be cut`
        : `more than ${plainNumber(timberLimitMm, 2)} mm, the most that timber may close`;
    const message = `Timber ${piece.id} is ${plainNumber(short, 1)} mm wide: ${limit}.`;
    return [finding('check.timber-width', message, { at: placeOf(ctx, piece), subject: piece.id })];
  });
};

export const pieceFindings = (ctx: Context): Finding[] =>
  ctx.layout.pieces.flatMap((piece) => {
    const unit = unitFinding(ctx, piece);
    return [...(unit ? [unit] : []), ...timberFindings(ctx, piece)];
  });
