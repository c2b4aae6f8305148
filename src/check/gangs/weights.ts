/** What hangs on the crane with a stretch of forms: units, clamps, aligners and platforms as single weights, each with its place. */

import type { Aligner, Clamp, Piece, Platform } from '../../ground/vocabulary.js';
import { RULES } from '../bracing/options.js';
import type { Context } from '../context.js';

export interface Weight {
  readonly of: 'unit' | 'clamp' | 'aligner' | 'platform';
  readonly kg: number;
  readonly stationMm: number;
  readonly levelMm: number;
  /** Behind the face of the concrete. */
  readonly outMm: number;
}

export interface Stretch {
  readonly face: string;
  readonly run: string;
  readonly fromMm: number;
  readonly toMm: number;
}

export interface Hanging {
  readonly clamps: readonly Clamp[];
  readonly aligners: readonly Aligner[];
  readonly platforms: readonly Platform[];
}

const massOf = (items: readonly { readonly id: string; readonly massKg: number }[] | undefined, id: string): number =>
  items?.find((x) => x.id === id)?.massKg ?? 0;

const shareOf = (a: { readonly fromMm: number; readonly toMm: number }, s: Stretch): number =>
  a.toMm > a.fromMm
    ? Math.max(0, Math.min(a.toMm, s.toMm) - Math.max(a.fromMm, s.fromMm)) / (a.toMm - a.fromMm)
    : Number(a.fromMm >= s.fromMm && a.fromMm <= s.toMm);

/** Aligners that are lifted with a stretch: those that lie on it by more than half of their length. */
export const alignersOn = (stretch: Stretch, aligners: readonly Aligner[]): Aligner[] =>
  aligners.filter((a) => a.face === stretch.face && a.run === stretch.run && shareOf(a, stretch) > 0.5);

const ofAligner = (ctx: Context, a: Aligner): Weight => {
  const item = ctx.catalogue.aligners?.find((x) => x.id === a.item);
  const fixings = a.parts.reduce((sum, p) => sum + (p.item === item?.fixing?.id ? p.count * item.fixing.massKg : 0), 0);
  return {
    of: 'aligner',
    kg: (item?.massKg ?? 0) + fixings,
    stationMm: (a.fromMm + a.toMm) / 2,
    levelMm: (a.levelMm + (a.topMm ?? a.levelMm)) / 2,
    outMm: ctx.catalogue.frameDepthMm + RULES.offFrameMm,
  };
};

/** Floor and guards of a platform as far as they reach over the stretch, and its brackets that hang there. */
const ofPlatform = (ctx: Context, p: Platform, stretch: Stretch): Weight[] => {
  const { brackets, planks = [], rails = [], frameDepthMm } = ctx.catalogue;
  const share = shareOf(p, stretch);
  const outMm = frameDepthMm + p.widthMm / 2;
  const kg = share * p.parts.reduce((sum, x) => sum + x.count * massOf([...planks, ...rails], x.item), 0);
  const stationMm = (Math.max(p.fromMm, stretch.fromMm) + Math.min(p.toMm, stretch.toMm)) / 2;
  const hung = p.brackets.filter((s) => s > stretch.fromMm && s < stretch.toMm);
  const weight = (mass: number, at: number): Weight => ({
    of: 'platform',
    kg: mass,
    stationMm: at,
    levelMm: p.levelMm,
    outMm,
  });
  return [...(share > 0 ? [weight(kg, stationMm)] : []), ...hung.map((s) => weight(massOf(brackets, p.item), s))];
};

/** Units by their middles, clamps where they stand. */
export const bareWeights = (
  ctx: Context,
  stretch: Stretch,
  pieces: readonly Piece[],
  clamps: readonly Clamp[],
): Weight[] => {
  const ids = new Set(pieces.map((p) => p.id));
  const outMm = ctx.catalogue.frameDepthMm / 2;
  const units = pieces.map((p): Weight => {
    const cover = p.covers.find((c) => c.face === stretch.face)!;
    return {
      of: 'unit',
      kg: ctx.units.get(p.item ?? '')?.massKg ?? 0,
      stationMm: (cover.fromMm + cover.toMm) / 2,
      levelMm: (p.baseMm + p.topMm) / 2,
      outMm,
    };
  });
  const joined = clamps.filter((c) => c.face === stretch.face && c.pieces.every((id) => ids.has(id)));
  const joints = joined.map((c): Weight => {
    return {
      of: 'clamp',
      kg: massOf(ctx.catalogue.clamps, c.item),
      stationMm: c.stationMm,
      levelMm: c.levelMm,
      outMm,
    };
  });
  return [...units, ...joints];
};

export const weightsOf = (ctx: Context, stretch: Stretch, pieces: readonly Piece[], hanging: Hanging): Weight[] => [
  ...bareWeights(ctx, stretch, pieces, hanging.clamps),
  ...alignersOn(stretch, hanging.aligners).map((a) => ofAligner(ctx, a)),
  ...hanging.platforms
    .filter((p) => p.face === stretch.face && p.run === stretch.run)
    .flatMap((p) => ofPlatform(ctx, p, stretch)),
];

export const kgOf = (weights: readonly Weight[], of?: Weight['of']): number =>
  weights.reduce((sum, w) => sum + (of === undefined || w.of === of ? w.kg : 0), 0);

/** Centre of gravity: station, level, distance behind the concrete. */
export const centreOf = (weights: readonly Weight[]): readonly [number, number, number] => {
  const kg = kgOf(weights);
  const mean = (place: (w: Weight) => number) => weights.reduce((sum, w) => sum + w.kg * place(w), 0) / kg;
  return [mean((w) => w.stationMm), mean((w) => w.levelMm), mean((w) => w.outMm)];
};
