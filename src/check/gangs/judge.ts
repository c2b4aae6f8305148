/**
 * Gangs held against what a crane and a crew need, whoever made them: each is judged from its pieces, its legs and the catalogue alone. The force in a leg is
 * found again from the equilibrium of the hook.
 */

import { type Finding, finding } from '../../ground/findings.js';
import { plainNumber, weightKn } from '../../ground/units.js';
import type { Aligner, Gang, Piece, Side } from '../../ground/vocabulary.js';
import { rowsAtLeast } from '../bracing/options.js';
import { type Context, placeOn } from '../context.js';
import type { GangOptions } from './options.js';
import { alignersOn, type Hanging, kgOf, weightsOf } from './weights.js';

const SAME_MM = 1;
/** What rounding may leave of a force, kN, and of a mass, kg. */
const SLACK_KN = 0.005;
const SLACK_KG = 0.05;
/** How far from the hook's plumb line the centre of gravity may lie, as a share of the distance between the lift points. */
const OFF_SHARE = 0.05;

const kn = (n: number): string => plainNumber(n, 2);
const kg = (n: number): string => plainNumber(n, 0);
const mm = (n: number): string => plainNumber(n, 0);

const sideOf = (ctx: Context, face: string): Side | null => {
  const side = ctx.faces.get(face)?.side;
  return side === 'left' || side === 'right' ? side : null;
};

export const placeOfGang = (
  ctx: Context,
  g: Pick<Gang, 'face' | 'fromMm' | 'toMm' | 'topMm'>,
): readonly [number, number, number] | null => {
  const { wall = '' } = ctx.faces.get(g.face) ?? {};
  return placeOn(ctx, wall, sideOf(ctx, g.face), (g.fromMm + g.toMm) / 2, g.topMm);
};

/** Stretch of a piece on the gang's face. */
const extent = (g: Gang, piece: Piece): readonly [number, number] | null => {
  const cover = piece.covers.find((c) => c.face === g.face);
  return cover ? [cover.fromMm, cover.toMm] : null;
};

/** What it is made of: panels and steel fillers of one face that fill a rectangle. */
const madeOf = (g: Gang, pieces: readonly (Piece | undefined)[]): string | null => {
  let areaMm2 = 0;
  for (const piece of pieces) {
    const at = piece && extent(g, piece);
    if (!piece || !at) return 'names a unit that does not stand on its face';
    if (piece.kind !== 'panel' && piece.kind !== 'filler')
      return `holds ${piece.id}, which turns a corner, comes out first or is cut on site`;
    if (piece.covers.length > 1) return `holds ${piece.id}, which covers two faces`;
    if (at[0] < g.fromMm - SAME_MM || at[1] > g.toMm + SAME_MM)
      return `ends at a joint that ${piece.id} reaches over: it ends between joints`;
    if (piece.baseMm < g.baseMm - SAME_MM || piece.topMm > g.topMm + SAME_MM)
      return `holds ${piece.id}, which stands on another level`;
    areaMm2 += (at[1] - at[0]) * (piece.topMm - piece.baseMm);
  }
  const whole = (g.toMm - g.fromMm) * (g.topMm - g.baseMm);
  return Math.abs(areaMm2 - whole) > 1e-4 * whole ? 'has a hole, or units that lie over each other' : null;
};

/** Lift points on joints from foot to top, with the centre of gravity between and as good as midway. */
const pointsOf = (g: Gang, pieces: readonly Piece[], options: GangOptions): string | null => {
  const [a, b] = g.legs;
  for (const { stationMm } of g.legs) {
    const isParted = pieces.some((p) => {
      const [from, to] = extent(g, p)!;
      return from < stationMm - SAME_MM && to > stationMm + SAME_MM;
    });
    const isInside = stationMm > g.fromMm + SAME_MM && stationMm < g.toMm - SAME_MM;
    if (isParted || !isInside) return `hangs at station ${mm(stationMm)}, where no joint goes from its foot to its top`;
  }
  const middle = (a.stationMm + b.stationMm) / 2;
  if (Math.abs(middle - g.centreMm[0]) > OFF_SHARE * (b.stationMm - a.stationMm) + SAME_MM)
    return `hangs ${mm(Math.abs(middle - g.centreMm[0]))} off its centre of gravity`;
  const angle = a.leanDeg + b.leanDeg;
  return angle > options.legAngleDeg + 1e-6
    ? `is lifted by legs at ${plainNumber(angle, 1)} degrees to each other, more than ${plainNumber(options.legAngleDeg, 1)}`
    : null;
};

/** Forces in the legs from the equilibrium of the hook: two legs, one weight. */
const hookForces = (g: Gang): readonly [number, number] => {
  const [a, b] = g.legs;
  const [x1, x2] = [a.stationMm - g.centreMm[0], b.stationMm - g.centreMm[0]];
  const [l1, l2] = [Math.hypot(x1, g.hookMm), Math.hypot(x2, g.hookMm)];
  // Level: f1 x1 / l1 + f2 x2 / l2 = 0. Plumb: f1 h / l1 + f2 h / l2 = W.
  const det = ((x1 - x2) * g.hookMm) / (l1 * l2);
  const w = weightKn(g.massKg);
  return [(-w * x2) / l2 / det, (w * x1) / l1 / det];
};

const legsOf = (ctx: Context, g: Gang): string | null => {
  const forces = hookForces(g);
  const wrong = g.legs.findIndex((leg, i) => Math.abs(leg.forceKn - forces[i]!) > SLACK_KN);
  if (wrong >= 0) return `has a leg with ${kn(forces[wrong]!)} kN, not ${kn(g.legs[wrong]!.forceKn)}`;
  const item = (ctx.catalogue.liftingBrackets ?? []).find((x) => x.id === g.bracket);
  const most = Math.max(...forces);
  return item && most > item.workingLoadKn + 1e-9
    ? `pulls ${kn(most)} kN on ${item.id}, which carries ${kn(item.workingLoadKn)}`
    : null;
};

/** Rows of tubes over every joint: between hinges nothing else keeps it flat. */
const rowsOf = (g: Gang, pieces: readonly Piece[], aligners: readonly Aligner[]): string | null => {
  const least = rowsAtLeast(g.topMm - g.baseMm);
  const own = alignersOn(g, aligners).filter((a) => a.kind === 'horizontal');
  const ends = pieces.map((p) => extent(g, p)!);
  const joints = [...new Set(ends.map(([from]) => from))].filter((s) => s > g.fromMm + SAME_MM);
  const thin = joints.find(
    (s) => new Set(own.filter((a) => a.fromMm < s && a.toMm > s).map((a) => a.levelMm)).size < least,
  );
  return thin === undefined ? null : `has fewer than ${least} rows of aligners over its joint at station ${mm(thin)}`;
};

export const judgeGang = (ctx: Context, g: Gang, hanging: Hanging, options: GangOptions): Finding[] => {
  const at = placeOfGang(ctx, g);
  const say = (code: 'check.gang' | 'check.gang-loose', words: string) =>
    finding(code, `Gang ${g.id} (face ${g.face}) ${words}.`, { at, subject: g.id });
  const named = g.pieces.map((id) => ctx.pieces.get(id));
  const fault = madeOf(g, named);
  if (fault !== null) return [say('check.gang', fault)];
  const pieces = named as readonly Piece[];
  const bracketKg = (ctx.catalogue.liftingBrackets ?? []).find((x) => x.id === g.bracket)?.massKg ?? 0;
  const massKg = kgOf(weightsOf(ctx, g, pieces, hanging)) + 2 * bracketKg;
  const lengthMm = g.toMm - g.fromMm;
  const faults = [
    Math.abs(massKg - g.massKg) > SLACK_KG ? `weighs ${kg(massKg)} kg, not ${kg(g.massKg)}` : null,
    massKg > options.craneKg + SLACK_KG
      ? `weighs ${kg(massKg)} kg, more than the ${kg(options.craneKg)} that the crane may lift`
      : null,
    lengthMm > options.longestMm + SAME_MM ? `is ${mm(lengthMm)} mm long, more than ${mm(options.longestMm)}` : null,
    pointsOf(g, pieces, options),
    legsOf(ctx, g),
  ];
  const loose = rowsOf(g, pieces, hanging.aligners);
  return [
    ...faults.flatMap((f) => (f === null ? [] : [say('check.gang', f)])),
    ...(loose === null ? [] : [say('check.gang-loose', loose)]),
  ];
};
