/**
 * What stands at a jog that is laid out with units, worked out from the pieces: the group that runs past it on the straight face, the corner unit in the
 * return, and what closes the return up to the salient edge.
 *
 * Statics, per length of a row and as strips (mm): the group past the jog has no tie and hands half of its length to either wall. The corner unit with arms
 * u (to the joint of its leg) and j (the return) is in equilibrium under the concrete on both arms, the pull N = t / 2 of the line that stands out at the
 * salient edge (t the thicker wall, what its far end asks), and the joint: moments about its vertex give Y u = u^2 / 2 + N j - j^2 / 2. What Y lacks of u
 * hangs on the salient edge; what it has more eases the edge, which is not counted.
 */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { Face, Group, Piece, Run, RunEnd, Side } from '../ground/vocabulary.js';
import { type Context, EQUAL_MM, faceOf, placeOn, unitOf } from './context.js';
import { pressureFrom, type WallLoad } from './ratings.js';

type JogEnd = RunEnd & { readonly kind: 'jog' };

const outOf = (end: JogEnd, side: Side): number => (side === 'left' ? end.leftOutMm : end.rightOutMm);
const stationOf = (end: JogEnd, side: Side): number => (side === 'left' ? end.leftMm : end.rightMm);

/** The run beyond a jog with its end there. */
const beyond = (ctx: Context, end: JogEnd): { run: Run; end: JogEnd } | null => {
  for (const run of ctx.runsOf.get(end.other) ?? []) {
    for (const e of [run.start, run.end]) if (e.kind === 'jog' && e.node === end.node) return { run, end: e };
  }
  return null;
};

export interface Hanging {
  readonly group: Group;
  readonly lengthMm: number;
  /** In the stations of the run that is asked about. */
  readonly fromMm: number;
  readonly toMm: number;
}

/** The group on a straight face that touches the jog and has no support of its own: it hangs between the forms of both walls. */
export const hangingAt = (ctx: Context, run: Run, end: JogEnd, side: Side, course: number): Hanging | null => {
  const other = beyond(ctx, end);
  if (outOf(end, side) !== 0 || !other) return null;
  const at = stationOf(end, side);
  const shiftMm = at - stationOf(other.end, side);
  for (const [own, shift] of [
    [run, 0],
    [other.run, shiftMm],
  ] as const) {
    const face = faceOf(ctx, own.wall, side);
    for (const group of ctx.groups.get(face?.id ?? '') ?? []) {
      const [fromMm, toMm] = [group.fromMm + shift, group.toMm + shift];
      const touches = fromMm <= at + EQUAL_MM && toMm >= at - EQUAL_MM;
      const isTied = (ctx.ties.get(own.id) ?? []).some((t) => t.pieces.some((p) => group.pieces.includes(p)));
      if (group.course === course && group.run === own.id && touches && !isTied)
        return { group, lengthMm: toMm - fromMm, fromMm, toMm };
    }
  }
  return null;
};

const returnOf = (end: JogEnd, side: Side): string | null => (side === 'left' ? end.leftReturn : end.rightReturn);

/** The corner unit that stands on a return in a course. */
const legOn = (ctx: Context, returnFace: string, course: number): Piece | undefined =>
  (ctx.covers.get(returnFace) ?? []).find(({ piece }) => piece.kind === 'inside-corner' && piece.course === course)
    ?.piece;

/** Distance from the jog to the first rigid group on the face that stands back. */
const armAt = (ctx: Context, run: Run, end: JogEnd, side: Side, course: number): number | null => {
  const face = faceOf(ctx, run.wall, side);
  const at = stationOf(end, side);
  const groups = (ctx.groups.get(face?.id ?? '') ?? []).filter((g) => g.run === run.id && g.course === course);
  if (groups.length === 0) return null;
  return Math.min(...groups.map((g) => (end === run.start ? g.fromMm - at : at - g.toMm)));
};

const unitShears = (uMm: number, jMm: number, pullMm: number): { leg: number; edge: number } => {
  const joint = (uMm ** 2 / 2 + pullMm * jMm - jMm ** 2 / 2) / uMm;
  return { leg: Math.max(uMm, joint), edge: Math.max(0, uMm - joint) };
};

/** Load that what stands at a jog hands on to the first joint of a line, `distanceMm` from it. */
export const jogShear = (
  ctx: Context,
  run: Run,
  end: JogEnd,
  side: Side,
  course: number,
  distanceMm: number,
): number => {
  const strip = Math.max(0, distanceMm);
  const hanging = hangingAt(ctx, run, end, side, course);
  if (hanging) return hanging.lengthMm / 2;
  const out = outOf(end, side);
  const face = returnOf(end, side);
  const other = beyond(ctx, end);
  if (out === 0 || face === null || !other || !legOn(ctx, face, course)) return strip;
  if (out < 0) return unitShears(strip, -out, other.run.thicknessMm / 2).leg;
  const arm = armAt(ctx, other.run, other.end, side, course);
  return strip + (arm !== null && arm > 0 ? unitShears(arm, out, run.thicknessMm / 2).edge : 0);
};

/** What closes one return in one course: whether it stands. */
const returnFaults = (ctx: Context, face: Face, run: Run, load: WallLoad, course: number): string[] => {
  const placed = (ctx.covers.get(face.id) ?? []).filter(({ piece }) => piece.course === course);
  const leg = legOn(ctx, face.id, course);
  const others = placed.filter(({ piece }) => piece !== leg);
  if (!leg) return others.some(({ piece }) => piece.kind !== 'timber') ? ['has units without a corner unit'] : [];
  const p = pressureFrom(load, leg.baseMm);
  const faults: string[] = [];
  const salient = [...ctx.vertices.values()].find(
    (v) => v.kind === 'salient' && v.arms.some((a) => a.face === face.id),
  );
  if (!salient || !ctx.outsideCorners.has(`${salient.id}|${course}`)) faults.push('has no outside corner at its edge');
  const panel = others.find(({ piece }) => piece.kind === 'panel');
  if (panel) {
    const force = (p * (face.toMm - face.fromMm)) / 1000;
    faults.push(
      `is closed by panel ${panel.piece.id}, hinged at both edges, and nothing holds it against ${plainNumber(force, 1)} kN per m of height along the wall`,
    );
  }
  const fillMm = others.reduce((sum, { cover }) => sum + cover.toMm - cover.fromMm, 0);
  const fillers = others.flatMap(({ piece }) => (piece.kind === 'filler' ? [unitOf(ctx, piece)] : []));
  const rated = Math.min(...fillers.map((u) => (u?.stiffTo === 'panel' ? u.momentKnmPerM : 0)));
  // Moments of the fill about its joint with the leg: the line's pull at the edge, less the concrete on the fill.
  const moment = (p * ((run.thicknessMm / 2) * fillMm - fillMm ** 2 / 2)) / 1e6;
  if (fillers.length > 0 && !panel && moment > rated + 1e-9)
    faults.push(
      `has a joint beside its leg that carries ${plainNumber(moment, 2)} kNm/m; it is rated ${plainNumber(rated, 2)}`,
    );
  return faults;
};

/** The returns of all jogs, each once: told by the wall that stands out. */
export const returnFindings = (ctx: Context, loads: ReadonlyMap<string, WallLoad>): Finding[] =>
  ctx.plan.runs.flatMap((run) =>
    [run.start, run.end].flatMap((end): Finding[] => {
      const load = loads.get(run.id);
      if (end.kind !== 'jog' || !load) return [];
      return (['left', 'right'] as const).flatMap((side): Finding[] => {
        const face = outOf(end, side) > 0 ? ctx.faces.get(returnOf(end, side) ?? '') : undefined;
        if (!face) return [];
        const courses = load.demand.stack.heightsMm.map((_, i) => i + 1);
        const said = new Set(courses.flatMap((c) => returnFaults(ctx, face, run, load, c)));
        const at = placeOn(ctx, run.wall, side, stationOf(end, side));
        return [...said].map((text) =>
          finding('check.return-not-held', `Return ${face.id} at node ${end.node} ${text}.`, { at, subject: face.id }),
        );
      });
    }),
  );
