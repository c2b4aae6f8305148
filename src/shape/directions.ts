/**
 * Stretches in, bars out: finds the main directions of the plan and squares stretches that are a little off them.
 *
 * Directions are taken modulo a quarter turn, so that walls at right angles belong to one family. A family's angle is the one on
 * which most length agrees, so one skew wall does not tilt the rest. An angle that moves nothing in the plan by a millimetre counts as
 * the drawing's own axes. A short stretch may be farther off: its direction is known less well. Stretches that meet end to end and that squaring would
 * move out of line with each other are no slips of the hand but a slight bend: they keep directions of their own.
 */

import { byNumber, inOrder } from '../ground/order.js';
import { add, angleOf, cross, distance, dot, scale, sub, unit } from '../ground/plane.js';
import { PARALLEL_RAD, SAME_POINT_MM } from '../ground/tolerance.js';
import type { CappedPart } from './intake.js';
import { type Bar, type Direction, isParallel, makeDirection } from './model.js';
import { END_MM, GAP_MOST_MM, LINE_MM } from './tolerances.js';

/** Where walls bend by so little, faces of walls that are not as thick as each other meet far from the bend: those are left to a jog. */
const AS_THICK_MM = 0.1;
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

interface Squared {
  readonly member: Angled;
  readonly bar: Bar;
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

/** How far two stretches of a wall lie apart across it where they meet end to end, as drawn; null: they do not meet so. */
const meetingMm = (a: CappedPart, b: CappedPart, { u, n }: Direction): number | null => {
  if (Math.abs(a.thicknessMm - b.thicknessMm) > AS_THICK_MM) return null;
  const gaps = [a.start, a.end].flatMap((p) => [b.start, b.end].map((q) => sub(q, p)));
  const met = gaps.filter((g) => Math.abs(dot(g, u)) <= END_MM).map((g) => Math.abs(dot(g, n)));
  return met.length > 0 ? Math.min(...met) : null;
};

const isNearer = (angle: number, to: number, than: number): boolean =>
  Math.abs(turnBetween(angle, to)) < Math.abs(turnBetween(angle, than)) - 1e-9;

/** Does a stretch lie on the drawn line of another, not far from it? */
const goesOn = (a: CappedPart, b: CappedPart): boolean => {
  const u = unit(sub(a.end, a.start));
  const off = [b.start, b.end].map((p) => Math.abs(cross(u, sub(p, a.start))));
  const gaps = [a.start, a.end].flatMap((p) => [distance(p, b.start), distance(p, b.end)]);
  return Math.max(...off) <= LINE_MM && Math.min(...gaps) <= GAP_MOST_MM;
};

/** Of stretches that are squared to one direction: those that stand better by themselves, since they bend from another that stays. */
const bentFrom = (members: readonly Squared[], familyRad: number): Set<Squared> => {
  const off = ({ member }: Squared) => Math.abs(turnBetween(member.angleRad, familyRad));
  const out = new Set<Squared>();
  // Where the first of two bends away the second may stay: the ones that are off most go first.
  const mostOff = [...members].sort(
    inOrder(
      byNumber((m) => -Math.round(off(m) * 1e9)),
      byNumber((m) => m.member.lengthMm),
      byNumber((m) => m.member.index),
    ),
  );
  const byEnd = [...members].sort(byNumber((m) => m.bar.loMm));
  for (const a of mostOff) {
    const { bar, member } = a;
    const bends = byEnd.some((b) => {
      if (b === a || out.has(b) || !isParallel(bar.direction, b.bar.direction)) return false;
      if (b.bar.loMm > bar.hiMm + END_MM || bar.loMm > b.bar.hiMm + END_MM) return false;
      if (Math.abs(bar.offsetMm - b.bar.offsetMm) <= LINE_MM) return false;
      const drawn = meetingMm(member.part, b.member.part, bar.direction);
      return drawn !== null && drawn <= LINE_MM;
    });
    if (bends) out.add(a);
  }
  // What goes on in line with one that goes, goes with it: a wall beyond a junction or an opening.
  for (let grown = out.size > 0; grown; ) {
    const more = members.filter(
      (m) =>
        !out.has(m) &&
        [...out].some(
          (o) => isNearer(m.member.angleRad, o.member.angleRad, familyRad) && goesOn(o.member.part, m.member.part),
        ),
    );
    for (const m of more) out.add(m);
    grown = more.length > 0;
  }
  return out;
};

/** Directions of families, each with its members squared to it; those that bend from another one make families of their own. */
const squaredFamilies = (angled: readonly Angled[], extentMm: number): Squared[] => {
  const done: Squared[] = [];
  let family = 0;
  for (let rest = angled; rest.length > 0; ) {
    const left: Angled[] = [];
    for (const members of inFamilies(rest)) {
      const found = angleOfFamily(members);
      const angle = Math.abs(found) * extentMm <= SAME_POINT_MM ? 0 : found;
      const axes = [makeDirection(family, 0, angle), makeDirection(family, 1, angle)] as const;
      family++;
      const squared = members.map((member): Squared => {
        const along = sub(member.part.end, member.part.start);
        const direction = Math.abs(dot(along, axes[0].u)) >= Math.abs(dot(along, axes[1].u)) ? axes[0] : axes[1];
        return { member, bar: squareUp(member.part, direction) };
      });
      const bent = bentFrom(squared, angle);
      done.push(...squared.filter((m) => !bent.has(m)));
      left.push(...members.filter((m) => [...bent].some((b) => b.member === m)));
    }
    rest = left;
  }
  return done;
};

/** One bar for each part, in the order of the parts; parallel bars share their direction. */
export const straighten = (parts: readonly CappedPart[]): Bar[] => {
  const angled = parts.map((part, index) => {
    const lengthMm = distance(part.start, part.end);
    return { part, lengthMm, angleRad: turnBetween(angleOf(sub(part.end, part.start)), 0), index };
  });
  const extentMm = parts.reduce((m, p) => Math.max(m, p.start.x, p.start.y, p.end.x, p.end.y), 0);
  const bars: Bar[] = new Array(parts.length);
  for (const { member, bar } of squaredFamilies(angled, extentMm)) bars[member.index] = bar;
  return bars;
};
