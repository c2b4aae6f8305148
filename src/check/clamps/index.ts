/**
 * Rule T12 and the load path along the forms: clamps of every joint, laid out and judged. Clamps that are given are judged as they stand; else they are laid
 * out, and judged by the same eyes.
 */

import { listsBy } from '../../ground/groups.js';
import { runAt } from '../../ground/runs.js';
import { roundTo } from '../../ground/units.js';
import type { Clamp, FaceSide, Piece, Run, Side } from '../../ground/vocabulary.js';
import type { Context } from '../context.js';
import type { JointShear } from '../loads.js';
import type { WallLoad } from '../ratings.js';
import { type Joint, jointsOf } from './joints.js';
import { clampLoads, type JointLoad, levelShear, utilisationOf } from './loads.js';
import { placeClamps, type TieBeside } from './place.js';
import { type HeldReactions, linePulls } from './pulls.js';

/** Shear at the joints of the solved lines: by face and course ('|' between them), station and strip in mm. */
export type JointShears = ReadonlyMap<string, readonly JointShear[]>;

export interface ClampsInput {
  readonly loads: ReadonlyMap<string, WallLoad>;
  readonly held: HeldReactions;
  readonly shears: JointShears;
}

export interface LoadedJoint {
  readonly joint: Joint;
  /** null: the wall's load is not known. */
  readonly on: JointLoad | null;
}

const NEAR_MM = 1.5;

const isLong = (side: FaceSide): side is Side => side === 'left' || side === 'right';

/** Largest shear of the lines' joints within the gap of a joint, in the courses of its units; null: no line has a joint there. */
const shearAt = (shears: JointShears, { face, fromMm, toMm }: Joint, units: readonly Piece[]): number | null => {
  const within = units
    .flatMap((p) => shears.get(`${face}|${p.course}`) ?? [])
    .filter((s) => s.stationMm >= fromMm - NEAR_MM && s.stationMm <= toMm + NEAR_MM);
  return within.length === 0 ? null : Math.max(...within.map((s) => s.shearMm));
};

/** The run whose concrete presses on a joint: of its units' rigid groups, else by its station. */
const runOf = (ctx: Context, joint: Joint, wall: string): Run | null => {
  const grouped = joint.pieces.map((id) => ctx.runs.get(ctx.runOfPiece.get(id) ?? '')).find((r) => r?.wall === wall);
  return grouped ?? runAt(ctx.plan.runs, wall, (joint.fromMm + joint.toMm) / 2);
};

/** Where both units are the lowest of their columns, what is under them hangs on the joint too: down to the higher of their footings. */
const footOf = (ctx: Context, joint: Joint, units: readonly Piece[], run: Run): number => {
  if (units.some((p) => p.course > 1)) return joint.baseMm;
  const runs = units.map((p) => ctx.runs.get(ctx.runOfPiece.get(p.id) ?? '') ?? run);
  return Math.min(joint.baseMm, Math.max(...runs.map((r) => r.footingMm)));
};

/** What acts across a level joint: by the rows of the columns that stand over it. */
const levelShearAt = (ctx: Context, joint: Joint, load: WallLoad): number => {
  if (joint.kind !== 'level') return 0;
  const above = ctx.pieces.get(joint.pieces[1]);
  return levelShear(load, (above?.turned ? load.demand.turnedTop?.rows : undefined) ?? load.demand.rows, joint.baseMm);
};

/** A joint under another pressure: its strips stay as they are. */
export const jointUnder = (ctx: Context, { joint, on }: LoadedJoint, load: WallLoad): LoadedJoint => ({
  joint,
  on: on && { ...on, load, levelShearKnPerM: levelShearAt(ctx, joint, load) },
});

/** Every joint with what acts at it. */
export const loadedJoints = (ctx: Context, { loads, held, shears }: ClampsInput): LoadedJoint[] => {
  const pulls = linePulls(ctx, held);
  return jointsOf(ctx).map((joint): LoadedJoint => {
    const { wall, side } = ctx.faces.get(joint.face)!;
    const units = joint.pieces.map((id) => ctx.pieces.get(id)!);
    const run = runOf(ctx, joint, wall);
    const load = run ? loads.get(run.id) : undefined;
    if (!run || !load) return { joint, on: null };
    // Across the return of a jog the edge of the face that stands out pulls: what hangs there between it and its tie.
    const pullMm = isLong(side)
      ? (pulls.get(`${run.id}|${side}`) ?? 0)
      : Math.max(ctx.catalogue.overhangMm, run.thicknessMm / 2);
    const levelShearKnPerM = levelShearAt(ctx, joint, load);
    const footMm = footOf(ctx, joint, units, run);
    return { joint, on: { load, footMm, pullMm, shearMm: shearAt(shears, joint, units), levelShearKnPerM } };
  });
};

/** Places of the clamps given for a joint, rising. */
export const clampsAt = (joint: Joint, clamps: readonly Clamp[]): Clamp[] =>
  clamps
    .filter((c) => {
      if (c.joint !== joint.kind || c.face !== joint.face) return false;
      if (c.pieces[0] !== joint.pieces[0] || c.pieces[1] !== joint.pieces[1]) return false;
      return joint.kind === 'level' || (c.levelMm > joint.baseMm && c.levelMm < joint.topMm);
    })
    .sort((a, b) => a.levelMm - b.levelMm || a.stationMm - b.stationMm);

/** Looks up the axes of the ties through the wall of a joint's face, as the joint sees them. */
export const tiesBeside = (ctx: Context): ((joint: Joint) => TieBeside[]) => {
  const byWall = listsBy(ctx.layout.ties, (t) => t.wall);
  const needs = (ctx.catalogue.clamps ?? []).some((c) => c.tieClearMm);
  return ({ face, kind, fromMm, toMm, baseMm, topMm }) => {
    const { wall = '', side } = ctx.faces.get(face) ?? {};
    if (!needs || !side || !isLong(side)) return [];
    const middle = (fromMm + toMm) / 2;
    return (byWall.get(wall) ?? []).map((t) =>
      kind === 'upright'
        ? { atMm: t.levelMm, awayMm: Math.abs(t.stationMm - middle) }
        : { atMm: t.stationMm, awayMm: Math.abs(t.levelMm - (baseMm + topMm) / 2) },
    );
  };
};

/** Lays the clamps out. Joints that no clamp of the catalogue closes have none. */
export const layOutClamps = (ctx: Context, joints: readonly LoadedJoint[]): Clamp[] => {
  const items = ctx.catalogue.clamps ?? [];
  const { pitchMm } = ctx.catalogue;
  const ties = tiesBeside(ctx);
  const clamps = joints.flatMap(({ joint, on }): Omit<Clamp, 'id'>[] => {
    const placed = placeClamps(items, joint, on, pitchMm, ties(joint));
    if (!placed) return [];
    const loads = on ? clampLoads(joint, placed.at, on) : [];
    return placed.at.map((at, i) => {
      const load = loads[i] ?? { inPlaneKn: 0, shearKn: null };
      const upright = joint.kind === 'upright';
      return {
        item: placed.item.id,
        face: joint.face,
        joint: joint.kind,
        stationMm: roundTo(upright ? (joint.fromMm + joint.toMm) / 2 : at, 4),
        levelMm: roundTo(upright ? at : joint.baseMm, 4),
        pieces: joint.pieces,
        gapMm: roundTo(joint.gapMm, 4),
        inPlaneKn: roundTo(load.inPlaneKn, 6),
        shearKn: load.shearKn === null ? null : roundTo(load.shearKn, 6),
        utilisation: roundTo(utilisationOf(placed.item, load), 6),
      };
    });
  });
  return clamps.map((c, i) => ({ id: `K${i + 1}`, ...c }));
};
