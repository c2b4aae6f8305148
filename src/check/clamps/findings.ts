/** Rule T12: what is wrong with the clamps of a layout, whoever set them. */

import { type Finding, finding } from '../../ground/findings.js';
import { listsBy } from '../../ground/groups.js';
import { plainNumber } from '../../ground/units.js';
import type { Clamp, ClampItem, FaceSide, Side } from '../../ground/vocabulary.js';
import { type Context, placeOn } from '../context.js';
import { clampsAt, type LoadedJoint, tiesBeside } from './index.js';
import type { Joint } from './joints.js';
import { clampLoads, utilisationOf } from './loads.js';
import { closes, isSpaced, LEAST_CLAMPS, type TieBeside, tiesInTheWay } from './place.js';

/** Columns that share less height than this hold each other poorly (common practice, no source). */
const LEAST_LAP_MM = 600;
const EQUAL_MM = 1;

const sideOf = (side: FaceSide | undefined): Side | null => (side === 'left' || side === 'right' ? side : null);

interface Place {
  readonly at: readonly [number, number, number] | null;
  readonly words: string;
}

const placeOf = (ctx: Context, { face, kind, fromMm, toMm, baseMm, pieces }: Joint): Place => {
  const { wall = '', side } = ctx.faces.get(face) ?? {};
  const station = (fromMm + toMm) / 2;
  const where = kind === 'upright' ? `station ${plainNumber(station, 0)}` : `level ${plainNumber(baseMm, 0)}`;
  return {
    at: placeOn(ctx, wall, sideOf(side), station, baseMm),
    words: `the joint of ${pieces[0]} and ${pieces[1]} (wall ${wall}, face ${face}, ${where})`,
  };
};

const mm = (value: number): string => plainNumber(value, 1);

/** A joint for which there is no clamp, or none is set. */
const unclamped = (ctx: Context, items: readonly ClampItem[], joint: Joint): Finding => {
  const { at, words } = placeOf(ctx, joint);
  const subject = joint.pieces[0];
  if (items.some((c) => closes(c, joint.gapMm)))
    return finding('check.clamps-few', `No clamp stands at ${words}.`, { at, subject });
  const widest = Math.max(...items.map((c) => c.closesMm.most));
  const message = `No clamp of the catalogue closes over ${mm(joint.gapMm)} mm at ${words}; the widest closes over ${mm(widest)}.`;
  return finding('check.clamp-gap', message, { at, subject });
};

const spacing = (ctx: Context, joint: Joint, item: ClampItem, set: readonly Clamp[]): Finding[] => {
  const places = set.map((c) => (joint.kind === 'upright' ? c.levelMm : c.stationMm));
  if (places.length >= LEAST_CLAMPS && isSpaced(joint, item, places)) return [];
  const { at, words } = placeOf(ctx, joint);
  const count = set.length === 1 ? 'One clamp stands' : `${set.length} clamps stand`;
  const message = `${count} at ${words}; asked for are at least ${LEAST_CLAMPS}, the first and the last within ${mm(item.mostFromEndMm)} mm of its ends and no two more than ${mm(item.mostSpacingMm)} apart.`;
  return [finding('check.clamps-few', message, { at, subject: set[0]!.id })];
};

/** The most loaded clamp of a joint, where it carries too much. */
export const overloads = (ctx: Context, { joint, on }: LoadedJoint, set: readonly Clamp[]): Finding[] => {
  if (!on) return [];
  const byId = new Map((ctx.catalogue.clamps ?? []).map((c) => [c.id, c]));
  const places = set.map((c) => (joint.kind === 'upright' ? c.levelMm : c.stationMm));
  const loads = clampLoads(joint, places, on);
  const worst = set
    .map((clamp, i) => ({ clamp, load: loads[i]!, used: utilisationOf(byId.get(clamp.item)!, loads[i]!) }))
    .reduce((a, b) => (b.used > a.used ? b : a));
  if (worst.used <= 1 + 1e-9) return [];
  const { clamp, load, used } = worst;
  const { at, words } = placeOf(ctx, joint);
  const shear = load.shearKn === null ? '' : ` and ${plainNumber(load.shearKn, 1)} kN across the joint`;
  const message = `Clamp ${clamp.id} at ${words} takes ${plainNumber(load.inPlaneKn, 1)} kN along the forms${shear}: ${plainNumber(used, 2)} of what it may carry.`;
  return [finding('check.clamp-overload', message, { at, subject: clamp.id })];
};

/** Clamps of one joint that stand nearer to a tie than their item allows. */
const besideTies = (
  ctx: Context,
  joint: Joint,
  item: ClampItem,
  set: readonly Clamp[],
  ties: readonly TieBeside[],
): Finding[] => {
  const hit = set.filter(
    (c) => tiesInTheWay(item, joint.kind === 'upright' ? c.levelMm : c.stationMm, ties).length > 0,
  );
  const [first] = hit;
  if (!first) return [];
  const { at, words } = placeOf(ctx, joint);
  const more = hit.length > 1 ? ` and ${hit.length - 1} more` : '';
  const message = `Clamp ${first.id}${more} at ${words} stands within ${mm(item.tieClearMm ?? 0)} mm of a tie, and finds no other place.`;
  return [finding('check.clamp-tie', message, { at, subject: first.id })];
};

/** Columns beside each other that share little of their height, as at steps. Columns whose units are all as low as that are none: walls of little height. */
const shortLaps = (ctx: Context, joints: readonly LoadedJoint[]): Finding[] => {
  const upright = joints.map((l) => l.joint).filter((j) => j.kind === 'upright');
  const byEdge = listsBy(upright, (j) => `${j.face} ${j.fromMm} ${j.toMm}`);
  return [...byEdge.values()].flatMap((own) => {
    const [first] = own;
    const lap = own.reduce((sum, j) => sum + j.topMm - j.baseMm, 0);
    const pieces = own.flatMap((j) => j.pieces.map((id) => ctx.pieces.get(id)!));
    const isWhole = own.length === 1 && pieces.some((p) => lap >= p.topMm - p.baseMm - EQUAL_MM);
    if (!first || lap >= LEAST_LAP_MM || isWhole) return [];
    const { at, words } = placeOf(ctx, first);
    const message = `At ${words} the columns of forms share ${mm(lap)} mm of their height, less than ${LEAST_LAP_MM}.`;
    return [finding('check.clamp-lap', message, { at, subject: first.pieces[0] })];
  });
};

/** Shear for which the catalogue gives no rating, told once with the largest. */
const unrated = (ctx: Context, clamps: readonly Clamp[]): Finding[] => {
  const open = new Set((ctx.catalogue.clamps ?? []).filter((c) => c.shearKn === null).map((c) => c.id));
  const most = clamps
    .filter((c) => open.has(c.item) && (c.shearKn ?? 0) > 0)
    .reduce<Clamp | null>((a, b) => (a && (a.shearKn ?? 0) >= (b.shearKn ?? 0) ? a : b), null);
  if (!most) return [];
  const message = `The catalogue does not say what ${most.item} carries across a joint: up to ${plainNumber(most.shearKn ?? 0, 1)} kN (${most.id}) are not checked.`;
  return [finding('check.clamp-shear', message, { subject: most.item })];
};

/** A joint with the clamps that stand at it and close it. */
export interface ClampedJoint {
  readonly loaded: LoadedJoint;
  readonly set: readonly Clamp[];
}

export const clampedJoints = (
  ctx: Context,
  joints: readonly LoadedJoint[],
  clamps: readonly Clamp[],
): ClampedJoint[] => {
  const byId = new Map((ctx.catalogue.clamps ?? []).map((c) => [c.id, c]));
  const byPiece = listsBy(clamps, (c) => c.pieces[0]);
  return joints.map((loaded) => {
    const { joint } = loaded;
    const set = clampsAt(joint, byPiece.get(joint.pieces[0]) ?? []).filter((c) => {
      const item = byId.get(c.item);
      return item !== undefined && closes(item, joint.gapMm);
    });
    return { loaded, set };
  });
};

/** Judges clamps, laid out by the program or by others, joint by joint. A catalogue without clamps is named elsewhere. */
export const clampFindings = (ctx: Context, joints: readonly LoadedJoint[], clamps: readonly Clamp[]): Finding[] => {
  const items = ctx.catalogue.clamps ?? [];
  if (items.length === 0) return [];
  const byId = new Map(items.map((c) => [c.id, c]));
  const ties = tiesBeside(ctx);
  const found = clampedJoints(ctx, joints, clamps).flatMap(({ loaded, set }): Finding[] => {
    const { joint } = loaded;
    if (set.length === 0) return [unclamped(ctx, items, joint)];
    const item = byId.get(set[0]!.item)!;
    return [
      ...spacing(ctx, joint, item, set),
      ...besideTies(ctx, joint, item, set, ties(joint)),
      ...overloads(ctx, loaded, set),
    ];
  });
  return [...found, ...shortLaps(ctx, joints), ...unrated(ctx, clamps)];
};
