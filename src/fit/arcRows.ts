/** Rows of forms on a curved wall: how a set of widths closes, what it costs, where its forms stand, and whether its ties carry it. */

import type { Taper } from '../ground/vocabulary.js';
import { type ArcSize, endTapers, tapersOf } from './arcGeometry.js';
import type { Cost, CostOrder } from './cost.js';
import type { Gear, Panel } from './gear.js';
import type { FitOptions } from './options.js';

/** A panel that a curve takes. */
export interface Chord {
  readonly panel: Panel;
  readonly widthMm: number;
  readonly holesMm: readonly [number, number];
  readonly halfRad: number;
}

/** What a row has to close. Stations along the outer face. */
export interface RowQuestion {
  readonly gear: Gear;
  readonly options: FitOptions;
  readonly order: CostOrder;
  readonly size: ArcSize;
  readonly isRing: boolean;
  /** Whether the concrete ends at start and end, else a straight wall goes on. */
  readonly isFree: readonly [boolean, boolean];
  readonly lengthMm: number;
  readonly heightMm: number;
  /** Radius of the stations. */
  readonly radiusMm: number;
  readonly rows: number;
  readonly designKpa: number;
  /** The most that a tie carries, as a strip. */
  readonly stripMm: number;
  readonly tieRadiusMm: number;
  readonly timberMostMm: number;
}

/** A form of a curved wall, on both faces alike. */
export interface ArcForm {
  readonly panel: Panel;
  readonly fromMm: number;
  readonly toMm: number;
  readonly tiesMm: readonly [number, number];
}

/** Tapered timber between two forms, or between a form and a straight wall's: its place in stations, and what it measures on either face. */
export interface ArcJoint {
  readonly fromMm: number;
  readonly toMm: number;
  readonly inner: Taper;
  readonly outer: Taper;
}

/** A set of forms in a row: what every joint opens beyond its least, and how far the row runs past the concrete in all. */
export interface Row {
  readonly chords: readonly Chord[];
  readonly extraRad: number;
  readonly pastMm: number;
  readonly cost: Cost;
}

/** How a set of forms closes. */
export interface Closing {
  readonly extraRad: number;
  readonly pastMm: number;
}

export interface Placed {
  readonly forms: readonly ArcForm[];
  readonly joints: readonly ArcJoint[];
}

/** Joints of a free end are tried in steps of this. */
const PAST_STEP_MM = 5;
export const SLACK_MM = 1e-6;

/** How far forms run past a free end at least, for a tie beside their end to clear the bulkhead; whole steps. */
const pastLeastMm = (q: RowQuestion, { holesMm, widthMm }: Chord): number => {
  const { bulkheadMm, bulkheadRoomMm } = q.options;
  const fromEdge = Math.max(holesMm[0], widthMm - holesMm[1]);
  const least = Math.max(bulkheadMm + bulkheadRoomMm, bulkheadMm + q.tieRadiusMm + fromEdge);
  return Math.ceil((least - SLACK_MM) / PAST_STEP_MM) * PAST_STEP_MM;
};

/** The ends of a row between free ends: its widest forms, so that ties find concrete there; alike where it has two of them. */
const endsOf = (all: readonly Chord[], counts: readonly number[]): readonly [Chord, Chord] => {
  const first = counts.findIndex((c) => c > 0);
  const second = counts[first]! > 1 ? first : counts.findIndex((c, i) => i > first && c > 0);
  return [all[first]!, all[second < 0 ? first : second]!];
};

/** Run past at both ends at least; 0 at one that is not free. */
const leastPast = (q: RowQuestion, [first, last]: readonly [Chord, Chord]): readonly [number, number] => [
  q.isFree[0] ? pastLeastMm(q, first) : 0,
  q.isFree[1] ? pastLeastMm(q, last) : 0,
];

/**
 * How a set closes; null where it does not. Its joints open alike; beside a straight wall half as much, since half of the joint is the straight wall's. At a
 * free end the row begins with the form's edge, elsewhere with its sector.
 */
export const closing = (q: RowQuestion, all: readonly Chord[], counts: readonly number[]): Closing | null => {
  const n = counts.reduce((a, b) => a + b, 0);
  if (q.isRing && n < 3) return null;
  const sector = all.reduce((sum, c, i) => sum + 2 * c.halfRad * counts[i]!, 0);
  const ends = endsOf(all, counts);
  const freed = ends.map((c, i) => (q.isFree[i] ? c.widthMm / 2 - q.radiusMm * c.halfRad : 0));
  const spanMm = q.radiusMm * sector + freed[0]! + freed[1]!;
  const free = q.isFree.filter(Boolean).length;
  const joints = n - 1 + (2 - free) / 2;
  const [before, after] = leastPast(q, ends);
  const leastMm = before + after;
  if (free > 0 && spanMm >= q.lengthMm + leastMm) {
    const pastMm = spanMm - q.lengthMm;
    return pastMm > free * q.options.runPastMostMm ? null : { extraRad: 0, pastMm };
  }
  const extraRad = joints > 0 ? (q.lengthMm + leastMm - spanMm) / q.radiusMm / joints : -1;
  return extraRad >= 0 ? { extraRad, pastMm: leastMm } : null;
};

/** Forms of one width side by side. */
interface Stretch {
  readonly chord: Chord;
  readonly n: number;
}

/** The set in a row: widest first; before a free end one of the widest stands last. */
export const stretchesOf = (q: RowQuestion, all: readonly Chord[], counts: readonly number[]): Stretch[] => {
  const sorted = all.map((chord, i) => ({ chord, n: counts[i]! })).filter((s) => s.n > 0);
  const [, last] = endsOf(all, counts);
  if (!q.isFree[1] || last === sorted[sorted.length - 1]!.chord) return sorted;
  return [...sorted.map((s) => (s.chord === last ? { ...s, n: s.n - 1 } : s)), { chord: last, n: 1 }].filter(
    (s) => s.n > 0,
  );
};

/** Joints of a row: what fills them on both faces, with how often they come. */
const jointsOf = (q: RowQuestion, row: readonly Stretch[], extraRad: number) => {
  const joints = row.flatMap(({ chord, n }, i) => {
    const next = row[i + 1] ?? (q.isRing ? row[0] : undefined);
    const between = (b: Chord) => tapersOf(q.size, chord.widthMm, b.widthMm, chord.halfRad + b.halfRad + extraRad);
    const same = { tapers: between(chord), times: n - 1 };
    return next ? [same, { tapers: between(next.chord), times: 1 }] : [same];
  });
  const ends = ([0, 1] as const).flatMap((end) => {
    if (q.isRing || q.isFree[end]) return [];
    const { chord } = end === 0 ? row[0]! : row[row.length - 1]!;
    return [{ tapers: endTapers(q.size, chord.widthMm, chord.halfRad + extraRad / 2), times: 1 }];
  });
  return [...joints, ...ends].filter((j) => j.times > 0);
};

/** Places of fill of a row of n forms. */
export const placesOf = (q: RowQuestion, n: number): number =>
  q.isRing ? n : n - 1 + q.isFree.filter((free) => !free).length;

/** The row of a set with its cost; null where fill would be too wide. `better`: whether a cost without timber still counts. */
export const rowOf = (
  q: RowQuestion,
  stretches: readonly Stretch[],
  { extraRad, pastMm }: Closing,
  better: (least: Cost) => boolean,
): Row | null => {
  const n = stretches.reduce((sum, s) => sum + s.n, 0);
  const { gridMm, courses } = q.gear;
  const [before, after] = leastPast(q, [stretches[0]!.chord, stretches[stretches.length - 1]!.chord]);
  const parts = {
    places: placesOf(q, n),
    tiesAndUnits: 2 * n * courses + 2 * n * q.rows,
    runPast: (pastMm - before - after) / gridMm,
    squares: stretches.reduce((sum, s) => sum + 2 * s.n * s.chord.panel.widthGu ** 2 * courses, 0),
  };
  if (!better(q.order.cost(parts))) return null;
  let faceMm = 0;
  for (const { tapers, times } of jointsOf(q, stretches, extraRad)) {
    const [inner, outer] = [tapers.inner.faceMm, tapers.outer.faceMm];
    if (Math.max(inner, outer) > q.timberMostMm + SLACK_MM) return null;
    faceMm += (inner + outer) * times;
  }
  const cost = q.order.cost({ ...parts, timberArea: (faceMm * q.heightMm) / gridMm ** 2 });
  return { chords: stretches.flatMap((s) => Array<Chord>(s.n).fill(s.chord)), extraRad, pastMm, cost };
};

/** Force and moment about station 0 of the load on [from, to] that lies in the concrete. */
const loadOn = (q: RowQuestion, from: number, to: number): { readonly size: number; readonly moment: number } => {
  const a = q.isRing ? from : Math.max(from, 0);
  const b = q.isRing ? to : Math.min(to, q.lengthMm);
  return b > a ? { size: b - a, moment: ((b - a) * (a + b)) / 2 } : { size: 0, moment: 0 };
};

/** What fill from `from` to `to` hands on to the forms at its two edges. */
const handsOn = (q: RowQuestion, from: number, to: number): readonly [number, number] => {
  const { size, moment } = loadOn(q, from, to);
  const right = to > from ? (moment - size * from) / (to - from) : 0;
  return [size - right, right];
};

/** Do a form's two ties carry it, none of them pushed, and its edges what hangs on them? */
const holds = (
  q: RowQuestion,
  { panel }: Chord,
  form: ArcForm,
  before: ArcJoint | null,
  after: ArcJoint | null,
): boolean => {
  const { fromMm, toMm, tiesMm } = form;
  const low = before ? handsOn(q, before.fromMm, before.toMm)[1] : 0;
  const high = after ? handsOn(q, after.fromMm, after.toMm)[0] : 0;
  const own = loadOn(q, fromMm, toMm);
  const size = own.size + low + high;
  const moment = own.moment + low * fromMm + high * toMm;
  const second = (moment - size * tiesMm[0]) / (tiesMm[1] - tiesMm[0]);
  if (Math.min(second, size - second) < -SLACK_MM || Math.max(second, size - second) > q.stripMm + SLACK_MM)
    return false;
  const p = Math.max(q.designKpa, 1e-6);
  const most = (panel.ratedSpanGu * q.gear.gridMm) ** 2 * (panel.ratedKpa / (4 * p));
  const tipHolds = (overhang: number, hangs: number) => overhang ** 2 + 2 * hangs * overhang <= most + SLACK_MM;
  return tipHolds(tiesMm[0] - fromMm, low) && tipHolds(toMm - tiesMm[1], high);
};

/**
 * May a tie stand there? Clear of the bulkhead beyond a free end, clear of the edge before it. A tie is square to its form and not to the end, so that on the
 * inner face it may stand nearer to the end than on the outer one.
 */
const tieMay = (q: RowQuestion, stationMm: number, { widthMm }: Chord): boolean => {
  const clear = q.options.bulkheadMm + q.tieRadiusMm;
  const inside = q.options.edgeClearMm + (q.size.thicknessMm * widthMm) / (2 * q.size.innerRadiusMm);
  const good = (beyond: number) => beyond >= clear - SLACK_MM || beyond <= -inside;
  return (!q.isFree[0] || good(-stationMm)) && (!q.isFree[1] || good(stationMm - q.lengthMm));
};

/** The row in its place; `firstMm`: station of its first edge. */
const place = (q: RowQuestion, { chords, extraRad }: Row, firstMm: number): Placed => {
  const forms: ArcForm[] = [];
  const joints: ArcJoint[] = [];
  const between = (a: Chord, b: Chord) => a.halfRad + b.halfRad + extraRad;
  const [first, last] = [chords[0]!, chords[chords.length - 1]!];
  const atEnd = (c: Chord) => endTapers(q.size, c.widthMm, c.halfRad + extraRad / 2);
  let middle = firstMm + first.widthMm / 2;
  chords.forEach((chord, i) => {
    const before = chords[i - 1];
    if (before) middle += q.radiusMm * between(before, chord);
    const fromMm = middle - chord.widthMm / 2;
    const tiesMm = [fromMm + chord.holesMm[0], fromMm + chord.holesMm[1]] as const;
    if (before) {
      const tapers = tapersOf(q.size, before.widthMm, chord.widthMm, between(before, chord));
      joints.push({ fromMm: forms[i - 1]!.toMm, toMm: fromMm, ...tapers });
    } else if (!q.isRing && !q.isFree[0]) joints.push({ fromMm: 0, toMm: fromMm, ...atEnd(first) });
    forms.push({ panel: chord.panel, fromMm, toMm: fromMm + chord.widthMm, tiesMm });
  });
  const rest = { fromMm: forms[forms.length - 1]!.toMm, toMm: q.lengthMm };
  if (q.isRing) joints.push({ ...rest, ...tapersOf(q.size, last.widthMm, first.widthMm, between(last, first)) });
  else if (!q.isFree[1]) joints.push({ ...rest, ...atEnd(last) });
  return { forms, joints };
};

const stands = (q: RowQuestion, { chords }: Row, { forms, joints }: Placed): boolean => {
  // Fill before the first form: on a ring what lies over its seam, at the far end of the stations.
  const seam = joints[joints.length - 1];
  const shifted = (j: ArcJoint): ArcJoint => ({ ...j, fromMm: j.fromMm - q.lengthMm, toMm: j.toMm - q.lengthMm });
  const opening = q.isRing && seam ? [shifted(seam)] : q.isFree[0] ? [null] : [];
  const around: readonly (ArcJoint | null)[] = [...opening, ...joints];
  return forms.every((form, i) => {
    const chord = chords[i]!;
    const isThere = q.isRing || (form.fromMm < q.lengthMm - SLACK_MM && form.toMm > SLACK_MM);
    const isClear = form.tiesMm.every((t) => tieMay(q, t, chord));
    return isThere && isClear && holds(q, chord, form, around[i] ?? null, around[i + 1] ?? null);
  });
};

/** Stations at which the row may begin: on a ring at its seam, beside a straight wall with its sector, at a free end as far out as is allowed. */
const startsOf = (q: RowQuestion, { chords, extraRad, pastMm }: Row): number[] => {
  const [first, last] = [chords[0]!, chords[chords.length - 1]!];
  if (q.isRing) return [0];
  if (!q.isFree[0]) return [q.radiusMm * (first.halfRad + extraRad / 2) - first.widthMm / 2];
  const most = q.options.runPastMostMm;
  if (!q.isFree[1]) return pastMm <= most + SLACK_MM ? [-pastMm] : [];
  const [least, after] = leastPast(q, [first, last]);
  const starts: number[] = [];
  for (let before = least; before <= Math.min(most, pastMm - after) + SLACK_MM; before += PAST_STEP_MM)
    if (pastMm - before <= most + SLACK_MM) starts.push(-before);
  return starts;
};

/** The row where it stands, its run past shared out so that its ties are clear; null where there is none such. */
export const settle = (q: RowQuestion, row: Row): Placed | null => {
  for (const start of startsOf(q, row)) {
    const placed = place(q, row, start);
    if (stands(q, row, placed)) return placed;
  }
  return null;
};
