/**
 * Finds where bars meet. A stretch of wall ends where one of its faces does, so at a junction it stops short of the other wall's axis:
 * at an L by |k|/2 with k = (t_other - t_own cos d)/sin d (d the deflection), at a tee at the near face. Where walls are drawn as
 * rectangles laid against or over each other it may also run past by as much. Both are looked for, give or take END_MM.
 *
 * Complexity: every pair of bars is looked at once.
 */

import { type Finding, finding } from '../ground/findings.js';
import { groupsOf } from '../ground/groups.js';
import { byNumber } from '../ground/order.js';
import { dot, meet, scale, toSegment, type Vec } from '../ground/plane.js';
import { SAME_POINT_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import type { LocalLine } from './collinear.js';
import {
  type Bar,
  type BarEnd,
  bySense,
  type Crossing,
  crossingOf,
  type EndAt,
  endOf,
  isParallel,
  type Joint,
  placeOf,
  pointOf,
} from './model.js';
import { END_MM, LINE_MM, OUTLINE_MM, SPIKE_THICKNESSES, STEM_LEAST_RAD } from './tolerances.js';

/** How a bar comes to a place: with an end, or passing. */
type Coming = { readonly end: BarEnd; readonly missMm: number } | { readonly end: null };

interface Contact {
  readonly bars: readonly [number, number];
  readonly comings: readonly [Coming, Coming];
  readonly at: Vec;
  /** Place of the contact along each bar. */
  readonly along: readonly [number, number];
}

export interface Met {
  readonly joints: readonly Joint[];
  readonly findings: readonly Finding[];
}

const nearestEnd = (bar: Bar, along: number): BarEnd =>
  Math.abs(along - bar.loMm) <= Math.abs(along - bar.hiMm) ? 'lo' : 'hi';

/** How far `along` lies beyond the end, outwards; negative: inside the bar. */
export const beyond = (bar: Bar, end: BarEnd, along: number): number => bySense(end) * (along - endOf(bar, end));

const outward = (bar: Bar, end: BarEnd): Vec => scale(bar.direction.u, bySense(end));

/** How far from the crossing of the axes the end of `a` may lie when a[endA] and b[endB] make a corner, without tolerance. */
const cornerReach = (a: Bar, endA: BarEnd, b: Bar, endB: BarEnd, crossing: Crossing, reach: number): number => {
  const cosTurn = -dot(outward(a, endA), outward(b, endB));
  const thickest = Math.max(a.thicknessMm, b.thicknessMm);
  // Nearly parallel walls of different thickness have their vertices far from the crossing; those are no corner.
  const most = cosTurn > 0 ? thickest : SPIKE_THICKNESSES * thickest;
  const half = Math.min(most, Math.abs((b.thicknessMm - a.thicknessMm * cosTurn) / crossing.sin) / 2);
  // At a flat bend the bodies share a long strip; an end anywhere in it would not tell a bend from a miss.
  return crossing.sin >= 0.5 ? Math.max(half, reach) : half;
};

const isOnLine = (p: Vec, lines: readonly LocalLine[]): boolean =>
  lines.some((l) => toSegment(p, l.from, l.to) <= OUTLINE_MM);

/** Where the outer faces of a corner would meet. */
const outerVertex = (a: Bar, endA: BarEnd, b: Bar, endB: BarEnd): Vec | null => {
  const outerSide = (own: Bar, other: Bar, end: BarEnd) => Math.sign(dot(outward(other, end), own.direction.n));
  const pa = pointOf(a, 0, (outerSide(a, b, endB) * a.thicknessMm) / 2);
  const pb = pointOf(b, 0, (outerSide(b, a, endA) * b.thicknessMm) / 2);
  return meet(pa, a.direction.u, pb, b.direction.u);
};

const isCapped = (bar: Bar, end: BarEnd): boolean => (end === 'lo' ? bar.loCapped : bar.hiCapped);

/** Two closed ends that touch corner to corner: no corner, unless the drawing has its outer vertex. */
const onlyTouch = (
  a: Bar,
  b: Bar,
  ends: readonly [BarEnd, BarEnd],
  c: Crossing,
  lines: readonly LocalLine[],
): boolean => {
  if (!isCapped(a, ends[0]) || !isCapped(b, ends[1])) return false;
  const short = (bar: Bar, end: BarEnd, i: 0 | 1) => beyond(bar, end, c.along[i]) >= c.reach[i] - END_MM;
  if (!short(a, ends[0], 0) || !short(b, ends[1], 1)) return false;
  const outer = outerVertex(a, ends[0], b, ends[1]);
  return outer === null || !isOnLine(outer, lines);
};

const passing: Coming = { end: null };
/** An end that comes to a place, and how far it lies outside of where it may. */
const coming = (end: BarEnd, beyondMm: number, reachMm: number): Coming => ({
  end,
  missMm: Math.max(0, Math.abs(beyondMm) - reachMm),
});

/** How two bars that are not parallel meet, or null. */
const contactOf = (bars: readonly Bar[], i: number, j: number, lines: readonly LocalLine[]): Contact | null => {
  const [a, b] = [bars[i]!, bars[j]!];
  const c = crossingOf(a, b);
  if (!c) return null;
  const contact = (x: Coming, y: Coming): Contact => ({ bars: [i, j], comings: [x, y], at: c.at, along: c.along });
  const [endA, endB] = [nearestEnd(a, c.along[0]), nearestEnd(b, c.along[1])];
  const [outA, outB] = [beyond(a, endA, c.along[0]), beyond(b, endB, c.along[1])];
  const reachA = cornerReach(a, endA, b, endB, c, c.reach[0]);
  const reachB = cornerReach(b, endB, a, endA, c, c.reach[1]);
  if (Math.abs(outA) <= reachA + END_MM && Math.abs(outB) <= reachB + END_MM)
    return onlyTouch(a, b, [endA, endB], c, lines)
      ? null
      : contact(coming(endA, outA, reachA), coming(endB, outB, reachB));
  if (c.sin < Math.sin(STEM_LEAST_RAD)) return null;
  if (Math.abs(outA) <= c.reach[0] + END_MM && outB < 0) return contact(coming(endA, outA, c.reach[0]), passing);
  if (Math.abs(outB) <= c.reach[1] + END_MM && outA < 0) return contact(passing, coming(endB, outB, c.reach[1]));
  return outA < 0 && outB < 0 ? contact(passing, passing) : null;
};

/** Parallel bars that end against each other out of line or with different thicknesses. */
const steppedContact = (bars: readonly Bar[], i: number, j: number): Contact | null => {
  const [a, b] = [bars[i]!, bars[j]!];
  const shared = (a.thicknessMm + b.thicknessMm) / 2 - Math.abs(a.offsetMm - b.offsetMm);
  if (shared <= LINE_MM) return null;
  for (const [endA, endB] of [
    ['hi', 'lo'],
    ['lo', 'hi'],
  ] as const) {
    const gapMm = bySense(endA) * (endOf(b, endB) - endOf(a, endA));
    if (Math.abs(gapMm) > END_MM) continue;
    const along = (endOf(a, endA) + endOf(b, endB)) / 2;
    const missMm = Math.abs(gapMm) / 2;
    return {
      bars: [i, j],
      comings: [
        { end: endA, missMm },
        { end: endB, missMm },
      ],
      at: pointOf(a, along),
      along: [along, along],
    };
  }
  return null;
};

/** Ends that already meet something, with how far from the crossing each may lie: keys `${bar}${end}`. */
const reachesOf = (bars: readonly Bar[], contacts: readonly Contact[]): Map<string, number> => {
  const reaches = new Map<string, number>();
  for (const c of contacts)
    c.comings.forEach((coming, k) => {
      if (coming.end === null) return;
      const key = `${c.bars[k]}${coming.end}`;
      const outMm = Math.abs(beyond(bars[c.bars[k]!]!, coming.end, c.along[k]!));
      reaches.set(key, Math.max(reaches.get(key) ?? 0, outMm));
    });
  return reaches;
};

/**
 * Ends left over that come to a corner of two others. A wall between two of different thickness ends at the thicker one's face, which
 * is too far from the thinner one for a corner of these two alone.
 */
const lateContacts = (bars: readonly Bar[], contacts: readonly Contact[]): Contact[] => {
  const reaches = reachesOf(bars, contacts);
  // Two walls meet once: at a flat bend the far end of a short one may lie as near to the crossing as ends at a sharp corner do.
  const met = new Set(contacts.map((c) => c.bars.join(' ')));
  return bars.flatMap((a, i) =>
    (['lo', 'hi'] as const).flatMap((endA): Contact[] => {
      if (reaches.has(`${i}${endA}`)) return [];
      return bars.flatMap((b, j): Contact[] => {
        const c = met.has(`${Math.min(i, j)} ${Math.max(i, j)}`) ? null : crossingOf(a, b);
        if (!c) return [];
        const endB = nearestEnd(b, c.along[1]);
        const held = reaches.get(`${j}${endB}`);
        const [outA, outB] = [beyond(a, endA, c.along[0]), beyond(b, endB, c.along[1])];
        const reachA = cornerReach(a, endA, b, endB, c, c.reach[0]);
        if (held === undefined || Math.abs(outA) > reachA + END_MM || Math.abs(outB) > held + END_MM) return [];
        const comings = [coming(endA, outA, reachA), coming(endB, outB, held)] as const;
        return [{ bars: [i, j], comings, at: c.at, along: c.along }];
      });
    }),
  );
};

const allContacts = (bars: readonly Bar[], lines: readonly LocalLine[]): Contact[] => {
  const contacts: Contact[] = [];
  bars.forEach((a, i) => {
    for (let j = i + 1; j < bars.length; j++) {
      const parallel = isParallel(a.direction, bars[j]!.direction);
      const contact = parallel ? steppedContact(bars, i, j) : contactOf(bars, i, j, lines);
      if (contact) contacts.push(contact);
    }
  });
  return [...contacts, ...lateContacts(bars, contacts)];
};

/** Ends are slots 2i and 2i + 1; a bar's passings at one place share a slot after them. */
const slotsOf = (bars: readonly Bar[], contacts: readonly Contact[]) => {
  const passes: { bar: number; along: number }[] = [];
  contacts.forEach((c) => {
    c.comings.forEach((coming, k) => {
      if (coming.end === null) passes.push({ bar: c.bars[k]!, along: c.along[k]! });
    });
  });
  passes.sort((a, b) => a.bar - b.bar || a.along - b.along);
  const places: { bar: number; first: number; last: number }[] = [];
  for (const p of passes) {
    const last = places[places.length - 1];
    if (last && last.bar === p.bar && p.along - last.last <= LINE_MM) last.last = p.along;
    else places.push({ bar: p.bar, first: p.along, last: p.along });
  }
  const slotOf = (bar: number, coming: Coming, along: number): number =>
    coming.end !== null
      ? 2 * bar + (coming.end === 'hi' ? 1 : 0)
      : 2 * bars.length + places.findIndex((p) => p.bar === bar && along >= p.first && along <= p.last);
  return { places, slotOf };
};

const missFindings = (bars: readonly Bar[], contacts: readonly Contact[], origin: Vec): Finding[] => {
  const worst = new Map<number, number>();
  for (const c of contacts)
    c.comings.forEach((coming, k) => {
      if (coming.end === null) return;
      const key = 2 * c.bars[k]! + (coming.end === 'hi' ? 1 : 0);
      worst.set(key, Math.max(worst.get(key) ?? 0, coming.missMm));
    });
  return [...worst]
    .filter(([, missMm]) => missMm > SAME_POINT_MM)
    .map(([key, missMm]) => {
      const bar = bars[Math.floor(key / 2)]!;
      const end = key % 2 === 1 ? 'hi' : 'lo';
      return finding('shape.end-moved', `A wall's end misses the wall that it meets by ${plainNumber(missMm, 1)} mm.`, {
        at: placeOf(pointOf(bar, endOf(bar, end)), origin),
        subject: bar.parts[0]!.sources.join(' '),
        assumed: 'the walls meet',
      });
    });
};

/** Every place where bars meet, and every end that meets nothing: each end of each bar is in exactly one joint. */
export const findJoints = (bars: readonly Bar[], lines: readonly LocalLine[], origin: Vec): Met => {
  const contacts = allContacts(bars, lines);
  const { places, slotOf } = slotsOf(bars, contacts);
  const pairs = contacts.map(
    (c) => [slotOf(c.bars[0], c.comings[0], c.along[0]), slotOf(c.bars[1], c.comings[1], c.along[1])] as const,
  );
  const joints = groupsOf(2 * bars.length + places.length, pairs).map((slots): Joint => {
    const ends = slots
      .filter((s) => s < 2 * bars.length)
      .map((s): EndAt => ({ bar: Math.floor(s / 2), end: s % 2 === 1 ? 'hi' : 'lo' }));
    const passes = slots.filter((s) => s >= 2 * bars.length).map((s) => places[s - 2 * bars.length]!.bar);
    return { ends, passes: [...new Set(passes)].sort(byNumber((b) => b)) };
  });
  const crossings = contacts
    .filter((c) => c.comings.every((coming) => coming.end === null))
    .filter((c) => c.bars.every((b) => isDrawnThrough(bars[b]!, c)))
    .map((c) =>
      finding('shape.drawn-through', 'Two walls are drawn running through each other.', {
        at: placeOf(c.at, origin),
        assumed: 'they cross there',
      }),
    );
  return { joints, findings: [...missFindings(bars, contacts, origin), ...crossings] };
};

/** A part of the bar runs over the place of the contact: the drawing does not interrupt it there. */
const isDrawnThrough = (bar: Bar, c: Contact): boolean =>
  bar.parts.some((p) => {
    const [s, e] = [dot(p.start, bar.direction.u), dot(p.end, bar.direction.u)];
    const at = dot(c.at, bar.direction.u);
    return Math.min(s, e) < at - END_MM && Math.max(s, e) > at + END_MM;
  });
