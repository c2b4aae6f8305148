/**
 * Pull along the forms, as strips of the pressure (mm): times the pressure at a level it is the force per metre of height that the clamps of a line carry.
 *
 * Corner turning by d: with S_A and S_B what the held edges of the two outer lines carry, N_B = (S_A + S_B cos d) / sin d in B's outer line and
 * the rest, t_B - N_B, in its inner line; tee: t / (2 sin q) in each face of the stem and in the line of the through wall beside it; free end: t / 2 in each face;
 * jog of j: j in the face that stands out. Statics of the corner, cut across the wall. A corner that turns by less than 45 degrees holds no edge: there S is 0 and
 * the inner line has it all.
 */

import { holdsEdge } from '../../ground/cornerAngles.js';
import type { Run, RunEnd, Side } from '../../ground/vocabulary.js';
import type { Context } from '../context.js';
import { stemPull } from '../lines.js';

/** Largest reaction of a held edge, mm of strip, by vertex and wall: '|' between them. */
export type HeldReactions = ReadonlyMap<string, number>;

/** Strips of the two faces; less than 0: pushed together. */
export interface EndPull {
  readonly leftMm: number;
  readonly rightMm: number;
}

const both = (mm: number): EndPull => ({ leftMm: mm, rightMm: mm });

const cornerPull = (run: Run, end: RunEnd & { kind: 'corner' }, held: HeldReactions): EndPull | null => {
  const outer = end.inner === 'left' ? end.rightVertex : end.leftVertex;
  const isHeld = holdsEdge(end.deflectionDeg);
  const own = isHeld ? held.get(`${outer}|${run.wall}`) : 0;
  const other = isHeld ? held.get(`${outer}|${end.other}`) : 0;
  if (own === undefined || other === undefined) return null;
  const d = (end.deflectionDeg * Math.PI) / 180;
  const outerMm = (other + own * Math.cos(d)) / Math.sin(d);
  const innerMm = run.thicknessMm - outerMm;
  return end.inner === 'left' ? { leftMm: innerMm, rightMm: outerMm } : { leftMm: outerMm, rightMm: innerMm };
};

/**
 * What pulls along the two faces of a run at one of its ends; null where nothing does, or nothing is known of it. A curved wall pulls with p t along both
 * faces together, as equilibrium of a sector of the concrete asks (its own pressure pushes its two ends apart with that); how they share it depends on their
 * joints, so either may have it all: at a 'tangent' and along every curve.
 */
export const endPull = (run: Run, end: RunEnd, held: HeldReactions): EndPull | null => {
  switch (end.kind) {
    case 'corner':
      return cornerPull(run, end, held);
    case 'tangent':
      return both(run.thicknessMm);
    case 'jog':
      return end.leftOutMm > 0 || end.rightOutMm > 0
        ? { leftMm: Math.max(0, end.leftOutMm), rightMm: Math.max(0, end.rightOutMm) }
        : null;
    case 'stem':
      return both(stemPull(run.thicknessMm, end.angleDeg));
    case 'free':
      return both(run.thicknessMm / 2);
    // At a step both sides end in joints that nothing pulls along the wall.
    case 'open':
    case 'step':
    case 'ring':
      return null;
  }
};

const sideOf = (pull: EndPull, side: Side): number => (side === 'left' ? pull.leftMm : pull.rightMm);

/** Ends of two runs at one node or riser, at which a line of forms goes on from one to the other. */
const goesOn = (end: RunEnd): boolean => end.kind === 'step' || end.kind === 'jog' || end.kind === 'tangent';

interface Joined {
  readonly run: Run;
  /** This run's left is the first one's right. */
  readonly isTurned: boolean;
}

/** The runs along which a line goes on from a run, itself first: past steps, jogs and the ends of curves. */
const lineOf = (ctx: Context, first: Run, byNode: ReadonlyMap<string, readonly Run[]>): Joined[] => {
  const found: Joined[] = [{ run: first, isTurned: false }];
  const seen = new Set([first.id]);
  for (let i = 0; i < found.length; i++) {
    const { run, isTurned } = found[i]!;
    for (const end of [run.start, run.end]) {
      if (!goesOn(end)) continue;
      const beyond =
        end.kind === 'step'
          ? [ctx.runs.get(end.beyond)].filter((r) => r !== undefined)
          : (byNode.get(end.node ?? '') ?? []).filter((r) => r.id !== run.id);
      for (const next of beyond) {
        if (seen.has(next.id)) continue;
        seen.add(next.id);
        const sameEnd = end.kind !== 'step' && (next.start.node === end.node) === (run.start.node === end.node);
        found.push({ run: next, isTurned: isTurned !== sameEnd });
      }
    }
  }
  return found;
};

/**
 * The largest pull along each side of each run, mm of strip, by run and side ('|' between them): of both ends of its line, since what one end asks for goes
 * through every joint up to the other; of stems on that side; along curves.
 */
export const linePulls = (ctx: Context, held: HeldReactions): Map<string, number> => {
  const { runs } = ctx.plan;
  const byNode = new Map<string, Run[]>();
  for (const run of runs)
    for (const end of [run.start, run.end])
      if (goesOn(end) && end.node !== null) byNode.set(end.node, [...(byNode.get(end.node) ?? []), run]);
  const own = new Map<string, number>();
  for (const run of runs) {
    const pulls = [endPull(run, run.start, held), endPull(run, run.end, held)].filter((p) => p !== null);
    for (const side of ['left', 'right'] as const) {
      const stems = run.stems
        .filter((s) => s.side === side && !s.isOneSided)
        .map((s) => stemPull(s.thicknessMm, s.angleDeg));
      const arc = ctx.walls.get(run.wall)?.arc ? run.thicknessMm : 0;
      own.set(`${run.id}|${side}`, Math.max(0, arc, ...stems, ...pulls.map((p) => sideOf(p, side))));
    }
  }
  const most = new Map<string, number>();
  for (const run of runs)
    for (const side of ['left', 'right'] as const) {
      const opposite = side === 'left' ? 'right' : 'left';
      const along = lineOf(ctx, run, byNode).map((j) => own.get(`${j.run.id}|${j.isTurned ? opposite : side}`) ?? 0);
      most.set(`${run.id}|${side}`, Math.max(...along));
    }
  return most;
};
