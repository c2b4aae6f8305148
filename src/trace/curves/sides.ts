/**
 * Which strips between arcs are concrete? Each arc is a face and has concrete on one side only, so of two strips that share an arc one
 * at most is concrete. The choice has the most worth: angle, less a share for thickness (thin walls before thick ones), more for ends
 * that linework closes and for ends whose faces go on as the faces of a straight wall.
 */

import { WALL_MOST_MM } from '../../ground/tolerance.js';
import type { Strip } from './strips.js';

/** What the ends of a strip tell. */
export interface EndEvidence {
  /** Ends closed by linework across the strip, 0 to 2. */
  readonly capped: number;
  /** Ends whose two faces are the two faces of a straight wall there, 0 to 2. */
  readonly joined: number;
}

/** Added to the worth for each end of the kind, as shares of it. */
const CAPPED_SHARE = 0.5;
const JOINED_SHARE = 1;
/** A strip shorter than the least aspect is rarely a wall by itself; it must not outweigh one. */
const SHORT_SHARE = 0.2;
/** Connected strips up to this many are tried in every combination; beyond, the worthiest are taken first. */
const TRIED_MOST = 14;

const worthOf = (s: Strip, ends: EndEvidence, aspectLeast: number): number => {
  const lengthMm = s.by * s.axis.radius;
  const perMm = 1 - s.thicknessMm / (2 * WALL_MOST_MM);
  const share = lengthMm >= aspectLeast * s.thicknessMm || ends.joined === 2 ? 1 : SHORT_SHARE;
  // By angle, not by length: of two walls about one centre the outer one is longer and not the likelier for it.
  return s.by * perMm * share * (1 + CAPPED_SHARE * ends.capped + JOINED_SHARE * ends.joined);
};

/** Strips that hang together by arcs, each list sorted by index. */
const clusters = (strips: readonly Strip[]): number[][] => {
  const byArc = new Map<number, number[]>();
  strips.forEach((s, i) => {
    for (const arc of [s.low, s.high]) byArc.set(arc, [...(byArc.get(arc) ?? []), i]);
  });
  const seen = strips.map(() => false);
  return strips.flatMap((_, first) => {
    if (seen[first]) return [];
    const list: number[] = [];
    const todo = [first];
    seen[first] = true;
    for (let i = todo.pop(); i !== undefined; i = todo.pop()) {
      list.push(i);
      for (const arc of [strips[i]!.low, strips[i]!.high]) {
        for (const j of byArc.get(arc)!) {
          if (seen[j]) continue;
          seen[j] = true;
          todo.push(j);
        }
      }
    }
    return [list.sort((a, b) => a - b)];
  });
};

/** Two strips that need concrete on both sides of one arc. */
const clash = (s: Strip, t: Strip): boolean => s.high === t.low || s.low === t.high;

/** Worth that is not more than a rounding. */
const EQUAL = 1e-6;

const bestOf = (list: readonly number[], strips: readonly Strip[], worth: readonly number[]): number[] => {
  const order = [...list].sort((i, j) => {
    const d = worth[j]! - worth[i]!;
    return Math.abs(d) > EQUAL ? d : i - j;
  });
  const fits = (chosen: readonly number[], i: number) => !chosen.some((j) => clash(strips[i]!, strips[j]!));
  if (list.length > TRIED_MOST) {
    const chosen: number[] = [];
    for (const i of order) if (fits(chosen, i)) chosen.push(i);
    return chosen;
  }
  let best: { chosen: number[]; worth: number } = { chosen: [], worth: 0 };
  const tryFrom = (k: number, chosen: number[], sum: number): void => {
    if (sum > best.worth + EQUAL) best = { chosen, worth: sum };
    for (let i = k; i < order.length; i++) {
      if (fits(chosen, order[i]!)) tryFrom(i + 1, [...chosen, order[i]!], sum + worth[order[i]!]!);
    }
  };
  tryFrom(0, [], 0);
  return best.chosen;
};

/** The strips (by index, rising) that are concrete. */
export const concreteStrips = (
  strips: readonly Strip[],
  ends: readonly EndEvidence[],
  aspectLeast: number,
): number[] => {
  const worth = strips.map((s, i) => worthOf(s, ends[i]!, aspectLeast));
  return clusters(strips)
    .flatMap((list) => bestOf(list, strips, worth))
    .sort((a, b) => a - b);
};
