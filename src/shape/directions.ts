/**
 * Stretches in, bars out: finds the main directions of the plan and squares stretches that are a little off them.
 *
 * Directions are taken modulo a quarter turn, so that walls at right angles belong to one family. A family's angle is the one on
 * which most length agrees, so one skew wall does not tilt the rest. An angle that moves nothing in the plan by a millimetre counts as
 * the drawing's own axes. A short stretch may be farther off: its direction is known less well.
 */

import { byNumber, inOrder } from '../ground/order.js';
import { add, angleOf, distance, dot, scale, sub } from '../ground/plane.js';
import { PARALLEL_RAD, SAME_POINT_MM } from '../ground/tolerance.js';
import type { CappedPart } from './intake.js';
import { type Bar, type Direction, makeDirection } from './model.js';

const QUARTER = Math.PI / 2;
/** However short a stretch, it is not turned by more than this (about 6 degrees). */
const TURN_MOST_RAD = 0.1;
/** Only this many of the longest stretches of a family are tried as its angle: keeps the search linear on large drawings. */
const ANGLES_TRIED = 100;

interface Angled {
  readonly part: CappedPart;
  readonly lengthMm: number;
  /** Modulo a quarter turn, in (-pi/4, pi/4]. */
  readonly angleRad: number;
  /** Place in the order of the parts. */
  readonly index: number;
}

/** a - b modulo a quarter turn, in (-pi/4, pi/4]. */
const turnBetween = (a: number, b: number): number => {
  const d = a - b;
  const rest = d - QUARTER * Math.round(d / QUARTER);
  return rest <= -QUARTER / 2 ? rest + QUARTER : rest;
};

/** How far a stretch's direction may be off and still be its family's: its ends move by 1 mm, or the tolerance of parallels. */
const slackOf = (lengthMm: number): number =>
  Math.min(TURN_MOST_RAD, Math.max(PARALLEL_RAD, (2 * SAME_POINT_MM) / lengthMm));

/** The angle on which most length of the family agrees to within half a millimetre at a stretch's ends. */
const angleOfFamily = (members: readonly Angled[]): number => {
  const agrees = (m: Angled, angle: number) =>
    Math.abs(turnBetween(m.angleRad, angle)) * m.lengthMm <= SAME_POINT_MM || m.angleRad === angle;
  const supportOf = (angle: number) => members.reduce((sum, m) => (agrees(m, angle) ? sum + m.lengthMm : sum), 0);
  const tried = members.slice(0, ANGLES_TRIED).map((m) => ({ angle: m.angleRad, support: supportOf(m.angleRad) }));
  const best = [...tried].sort(
    inOrder(
      byNumber((t) => -t.support),
      byNumber((t) => Math.abs(t.angle)),
      byNumber((t) => t.angle),
    ),
  )[0]!;
  const supporters = members.filter((m) => agrees(m, best.angle));
  const weight = supporters.reduce((sum, m) => sum + m.lengthMm, 0);
  const mean = supporters.reduce((sum, m) => sum + turnBetween(m.angleRad, best.angle) * m.lengthMm, 0) / weight;
  return turnBetween(best.angle + mean, 0);
};

const inFamilies = (angled: readonly Angled[]): Angled[][] => {
  const longestFirst = [...angled].sort(
    inOrder(
      byNumber((a) => -a.lengthMm),
      byNumber((a) => a.index),
    ),
  );
  const families: Angled[][] = [];
  for (const one of longestFirst) {
    const home = families.find((f) => Math.abs(turnBetween(one.angleRad, f[0]!.angleRad)) <= slackOf(one.lengthMm));
    if (home) home.push(one);
    else families.push([one]);
  }
  return families;
};

const squareUp = (part: CappedPart, direction: Direction): Bar => {
  const middle = scale(add(part.start, part.end), 0.5);
  const half = Math.abs(dot(sub(part.end, part.start), direction.u)) / 2;
  const along = dot(middle, direction.u);
  const sameSense = dot(sub(part.end, part.start), direction.u) > 0;
  return {
    direction,
    offsetMm: dot(middle, direction.n),
    loMm: along - half,
    hiMm: along + half,
    thicknessMm: part.thicknessMm,
    loCapped: sameSense ? part.startCapped : part.endCapped,
    hiCapped: sameSense ? part.endCapped : part.startCapped,
    parts: [part],
  };
};

/** One bar for each part, in the order of the parts; parallel bars share their direction. */
export const straighten = (parts: readonly CappedPart[]): Bar[] => {
  const angled = parts.map((part, index) => {
    const lengthMm = distance(part.start, part.end);
    return { part, lengthMm, angleRad: turnBetween(angleOf(sub(part.end, part.start)), 0), index };
  });
  const extentMm = parts.reduce((m, p) => Math.max(m, p.start.x, p.start.y, p.end.x, p.end.y), 0);
  const bars: Bar[] = new Array(parts.length);
  inFamilies(angled).forEach((members, family) => {
    const found = angleOfFamily(members);
    const angle = Math.abs(found) * extentMm <= SAME_POINT_MM ? 0 : found;
    const axes = [makeDirection(family, 0, angle), makeDirection(family, 1, angle)] as const;
    for (const m of members) {
      const along = sub(m.part.end, m.part.start);
      const direction = Math.abs(dot(along, axes[0].u)) >= Math.abs(dot(along, axes[1].u)) ? axes[0] : axes[1];
      bars[m.index] = squareUp(m.part, direction);
    }
  });
  return bars;
};
