/**
 * Joins bars that lie on one line: doubled ones, ones parted by less than the joining tolerance, by the wall that stands between them
 * (a tee, a cross), or by an interruption of one face only. What is joined here is one through wall for all that follows.
 */

import { type Finding, finding } from '../ground/findings.js';
import { groupsOf } from '../ground/groups.js';
import { byNumber, inOrder } from '../ground/order.js';
import { dot, type Vec } from '../ground/plane.js';
import { SAME_POINT_MM, WALL_MOST_MM } from '../ground/tolerance.js';
import { plainNumber } from '../ground/units.js';
import { type Bar, crossingOf, crossingPlace, isParallel, lengthOf, placeOf, pointOf } from './model.js';
import { END_MM, GAP_MOST_MM, LINE_MM, OUTLINE_MM, SPIKE_THICKNESSES, THICKNESS_MM } from './tolerances.js';

/** A line of the drawing in local coordinates. */
export interface LocalLine {
  readonly from: Vec;
  readonly to: Vec;
  readonly source: string;
}

export interface Joined {
  readonly bars: readonly Bar[];
  readonly findings: readonly Finding[];
}

type Interval = readonly [number, number];

const onOneLine = (a: Bar, b: Bar): boolean =>
  isParallel(a.direction, b.direction) &&
  Math.abs(a.offsetMm - b.offsetMm) <= LINE_MM &&
  Math.abs(a.thicknessMm - b.thicknessMm) <= THICKNESS_MM;

/** The value in the middle when each counts with its weight: what most length agrees on, whatever the order. */
const weightedMedian = (items: readonly { readonly value: number; readonly weight: number }[]): number => {
  const sorted = [...items].sort(byNumber((i) => i.value));
  const half = sorted.reduce((sum, i) => sum + i.weight, 0) / 2;
  let sum = 0;
  for (const [k, item] of sorted.entries()) {
    sum += item.weight;
    // Exactly half on either side: the mean of the two middle values, so that a mirrored plan gives the mirrored line.
    if (Math.abs(sum - half) <= 1e-9 * half && sorted[k + 1]) return (item.value + sorted[k + 1]!.value) / 2;
    if (sum > half) return item.value;
  }
  return sorted[sorted.length - 1]!.value;
};

/** One bar from several on one line. */
const merged = (bars: readonly Bar[]): Bar => {
  if (bars.length === 1) return bars[0]!;
  const loMm = bars.reduce((least, b) => Math.min(least, b.loMm), bars[0]!.loMm);
  const hiMm = bars.reduce((most, b) => Math.max(most, b.hiMm), bars[0]!.hiMm);
  return {
    direction: bars[0]!.direction,
    offsetMm: weightedMedian(bars.map((b) => ({ value: b.offsetMm, weight: lengthOf(b) }))),
    loMm,
    hiMm,
    thicknessMm: weightedMedian(bars.map((b) => ({ value: b.thicknessMm, weight: lengthOf(b) }))),
    loCapped: bars.some((b) => b.loCapped && b.loMm - loMm <= SAME_POINT_MM),
    hiCapped: bars.some((b) => b.hiCapped && hiMm - b.hiMm <= SAME_POINT_MM),
    parts: bars.flatMap((b) => b.parts),
  };
};

const byLine = inOrder<Bar>(
  byNumber((b) => b.direction.family),
  byNumber((b) => b.direction.axis),
  byNumber((b) => b.loMm),
  byNumber((b) => b.offsetMm),
  byNumber((b) => b.hiMm),
  byNumber((b) => b.thicknessMm),
);

const sourcesOf = (...bars: readonly Bar[]): string =>
  [...new Set(bars.flatMap((b) => b.parts.flatMap((p) => p.sources)))].sort().join(' ');

/** Merges bars that lie over each other; `bars` in order of byLine. */
const withoutDoubles = (bars: readonly Bar[], origin: Vec): Joined => {
  const pairs: [number, number][] = [];
  bars.forEach((a, i) => {
    for (let j = i + 1; j < bars.length; j++) {
      const b = bars[j]!;
      if (!isParallel(a.direction, b.direction) || b.loMm > a.hiMm) break;
      const overlapMm = Math.min(a.hiMm, b.hiMm) - b.loMm;
      if (onOneLine(a, b) && overlapMm > Math.min(END_MM, lengthOf(a) / 2, lengthOf(b) / 2)) pairs.push([i, j]);
    }
  });
  const groups = groupsOf(bars.length, pairs).map((g) => g.map((i) => bars[i]!));
  const findings = groups
    .filter((group) => group.length > 1)
    .map((group) => {
      const one = merged(group);
      const overMm = group.reduce((sum, b) => sum + lengthOf(b), 0) - lengthOf(one);
      const message = `${group.length} stretches of wall lie over each other for ${plainNumber(overMm, 0)} mm in all.`;
      return finding('shape.duplicate', message, {
        at: placeOf(pointOf(one, (one.loMm + one.hiMm) / 2), origin),
        subject: sourcesOf(...group),
        assumed: 'they are one wall',
      });
    });
  return { bars: groups.map(merged), findings };
};

/** What of `gap` the intervals leave open, as the longest piece. */
const longestHole = (gap: Interval, covers: readonly Interval[]): number => {
  let at = gap[0];
  let hole = 0;
  for (const [from, to] of [...covers].sort(byNumber((c) => c[0]))) {
    hole = Math.max(hole, Math.min(from, gap[1]) - at);
    at = Math.max(at, to);
  }
  return Math.max(hole, gap[1] - at);
};

/** The intervals of a bar's line near `gap` on which other walls stand: where their ends reach it, or they run through it. */
const footprints = (line: Bar, gap: Interval, all: readonly Bar[]): Interval[] =>
  all.flatMap((other) => {
    const place = crossingPlace(line, other);
    // No footprint is wider than this at the angles at which walls stand on each other.
    const most = SPIKE_THICKNESSES * (line.thicknessMm + other.thicknessMm);
    if (place === null || place < gap[0] - most || place > gap[1] + most) return [];
    const crossing = crossingOf(line, other)!;
    const [alongLine, alongOther] = crossing.along;
    const slack = crossing.reach[1] + END_MM;
    if (alongOther < other.loMm - slack || alongOther > other.hiMm + slack) return [];
    return [[alongLine - crossing.reach[0], alongLine + crossing.reach[0]] as const];
  });

/** The intervals of a bar's left or right face that lines of the drawing cover. */
const faceCovers = (bar: Bar, side: 1 | -1, lines: readonly LocalLine[]): Interval[] => {
  const { u, n } = bar.direction;
  const face = bar.offsetMm + (side * bar.thicknessMm) / 2;
  return lines.flatMap((l) => {
    const off = Math.max(Math.abs(dot(l.from, n) - face), Math.abs(dot(l.to, n) - face));
    if (off > OUTLINE_MM) return [];
    const [a, b] = [dot(l.from, u), dot(l.to, u)];
    return [[Math.min(a, b), Math.max(a, b)] as const];
  });
};

type Bridge = 'none' | 'touching' | 'walls' | 'one-face';

/** Why two collinear bars with a gap between them are one wall, if they are. */
const bridgeOver = (a: Bar, b: Bar, all: readonly Bar[], lines: readonly LocalLine[]): Bridge => {
  const gap: Interval = [a.hiMm, b.loMm];
  const gapMm = gap[1] - gap[0];
  if (gapMm <= END_MM) return 'touching';
  if (longestHole(gap, footprints(a, gap, all)) <= END_MM) return 'walls';
  const between = all.some(
    (p) =>
      isParallel(p.direction, a.direction) &&
      Math.abs(p.offsetMm - a.offsetMm) < (p.thicknessMm + a.thicknessMm) / 2 - LINE_MM &&
      Math.min(p.hiMm, gap[1]) - Math.max(p.loMm, gap[0]) > END_MM,
  );
  if (between || gapMm > WALL_MOST_MM) return 'none';
  const runsOn = ([1, -1] as const).some((side) => longestHole(gap, faceCovers(a, side, lines)) <= END_MM);
  return runsOn ? 'one-face' : 'none';
};

/** Index of the bar that follows `i` on its line, if `i` is also the one before it; `bars` in order of byLine. */
const followerOf = (bars: readonly Bar[], i: number): number | null => {
  const a = bars[i]!;
  const follows = (x: Bar, y: Bar) => y !== x && onOneLine(x, y) && y.loMm >= x.hiMm - END_MM && y.loMm > x.loMm;
  let next = -1;
  for (let j = i + 1; j < bars.length; j++) {
    const b = bars[j]!;
    if (!isParallel(a.direction, b.direction) || b.loMm > a.hiMm + GAP_MOST_MM) break;
    if (follows(a, b)) {
      next = j;
      break;
    }
  }
  if (next < 0) return null;
  const nearer = bars.slice(i + 1, next).some((c) => follows(c, bars[next]!) && c.hiMm > a.hiMm);
  return nearer ? null : next;
};

const bridgeFinding = (a: Bar, b: Bar, why: Bridge, origin: Vec): Finding[] => {
  const gapMm = b.loMm - a.hiMm;
  const at = placeOf(pointOf(a, a.hiMm + gapMm / 2), origin);
  const subject = sourcesOf(a, b);
  const gapText = plainNumber(gapMm, 1);
  if (why === 'touching' && gapMm > SAME_POINT_MM) {
    const message = `A wall is interrupted by a gap of ${gapText} mm.`;
    return [finding('shape.gap-closed', message, { at, subject, assumed: 'the wall runs through' })];
  }
  if (why === 'one-face') {
    const message = `One face of a wall runs through while the other is interrupted over ${gapText} mm, and no wall stands there.`;
    return [finding('shape.face-missing', message, { at, subject, assumed: 'the wall is whole' })];
  }
  return [];
};

/** Leaves out bars whose whole body lies inside the body of another. */
const withoutContained = (bars: readonly Bar[], origin: Vec): Joined => {
  const findings: Finding[] = [];
  const area = (b: Bar) => lengthOf(b) * b.thicknessMm;
  const inside = (small: Bar, big: Bar) =>
    [small.loMm, small.hiMm].every((along) =>
      [1, -1].every((side) => {
        const p = pointOf(small, along, (side * small.thicknessMm) / 2);
        const [s, o] = [dot(p, big.direction.u), dot(p, big.direction.n) - big.offsetMm];
        const slack = SAME_POINT_MM;
        return s >= big.loMm - slack && s <= big.hiMm + slack && Math.abs(o) <= big.thicknessMm / 2 + slack;
      }),
    );
  const kept = bars.filter((b) => {
    if (!bars.some((other) => area(other) > area(b) && inside(b, other))) return true;
    findings.push(
      finding('shape.stretch-dropped', 'A stretch of wall lies wholly inside the body of another wall.', {
        at: placeOf(pointOf(b, (b.loMm + b.hiMm) / 2), origin),
        subject: sourcesOf(b),
        assumed: 'it is no wall of its own',
      }),
    );
    return false;
  });
  return { bars: kept, findings };
};

/**
 * Bars of one line joined into through walls, in order of direction, place along it, offset.
 * `lines` are the drawing's face lines in local coordinates: they tell a wall with one face interrupted from two walls.
 */
export const joinCollinear = (bars: readonly Bar[], lines: readonly LocalLine[], origin: Vec): Joined => {
  const single = withoutDoubles([...bars].sort(byLine), origin);
  const sorted = [...single.bars].sort(byLine);
  const pairs: [number, number][] = [];
  const findings: Finding[] = [];
  sorted.forEach((a, i) => {
    const next = followerOf(sorted, i);
    if (next === null) return;
    const why = bridgeOver(a, sorted[next]!, sorted, lines);
    if (why === 'none') return;
    pairs.push([i, next]);
    findings.push(...bridgeFinding(a, sorted[next]!, why, origin));
  });
  const long = groupsOf(sorted.length, pairs).map((g) => merged(g.map((i) => sorted[i]!)));
  const kept = withoutContained([...long].sort(byLine), origin);
  return { bars: kept.bars, findings: [...single.findings, ...findings, ...kept.findings] };
};
