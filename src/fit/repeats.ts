/**
 * Zones that differ by nothing but where they stand have one answer: buildings repeat their bays. Held for one set of rules at a time, so that it is gone
 * with them.
 */

import type { Level } from './levels.js';
import { type Guide, solveZone, type ZoneEnd, type ZoneProblem, type ZoneResult } from './zone.js';

interface Held {
  readonly fromGu: number;
  readonly ends: readonly ZoneEnd[];
  readonly result: ZoneResult;
}

const held = new WeakMap<Level, Map<string, Held>>();

const seenFrom = (fromGu: number, { jointGu, v, cost, pair }: ZoneEnd) => [jointGu - fromGu, v, cost, pair ?? null];

/** The answer of a zone that begins at `byGu` more, with the ends of that one. */
const moved = (
  result: ZoneResult,
  byGu: number,
  heldEnds: readonly ZoneEnd[],
  ends: readonly ZoneEnd[],
): ZoneResult => {
  if (result.kind === 'none') return { ...result, steps: 0 };
  const { answer } = result;
  const end = ends[heldEnds.indexOf(answer.end)]!;
  const placed = answer.placed.map((p) => ({ ...p, fromGu: p.fromGu + byGu }));
  return { kind: 'found', answer: { ...answer, placed, end, steps: 0 } };
};

/** As `solveZone`, for zones along which every station is like every other: nothing in the wall, no end of the concrete, no opening. */
export const solveRepeated = (problem: ZoneProblem, guide: Guide, level: Level): ZoneResult => {
  const fromGu = problem.start.jointGu;
  const key = JSON.stringify([
    problem.stepLimit,
    seenFrom(fromGu, problem.start),
    problem.ends.map((e) => seenFrom(fromGu, e)),
  ]);
  const ofLevel = held.get(level) ?? new Map<string, Held>();
  held.set(level, ofLevel);
  const before = ofLevel.get(key);
  if (before) return moved(before.result, fromGu - before.fromGu, before.ends, problem.ends);
  const result = solveZone(problem, guide);
  ofLevel.set(key, { fromGu, ends: problem.ends, result });
  return result;
};
