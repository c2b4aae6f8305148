/**
 * Curved walls: one straight form after the other as chords of the arc, with tapered timber in every joint. Both faces carry the same widths in the same
 * sectors, so that a tie is square to the two parallel forms of a sector.
 *
 * Every form stands by itself: it has a column of ties at either edge, since tapered timber is no hinge that could hand on more than its own load. Its ties
 * carry the strip of the outer face, which is the most that they can get: with N the pull along the outer forms, per metre of height, the ties of a sector
 * carry p R_o less N along the arc, and p R_i plus what is left of p t along the inner one (equilibrium of a ring's sector). N is not below 0.
 */

import { chordRadiusMm, endStationMm, stationRadiusMm, versineMm } from '../ground/arcs.js';
import type { Catalogue, FacePlan, Run, RunDemand, Taper, Wall, WallArc } from '../ground/vocabulary.js';
import { formCounts } from './arcCounts.js';
import { type ArcSize, halfSectorRad, tapersOf } from './arcGeometry.js';
import { type Cost, type CostOrder, compareCost } from './cost.js';
import { type Gear, gearFor, type Panel, tiesFor } from './gear.js';
import { spanHolds } from './groups.js';
import type { FitOptions } from './options.js';

/** A form of a curved wall, on both faces alike. Stations along the outer face. */
export interface ArcForm {
  readonly panel: Panel;
  readonly fromMm: number;
  readonly toMm: number;
  readonly tiesMm: readonly [number, number];
}

/** Tapered timber between two forms: its place in stations, and what it measures on either face. */
export interface ArcJoint {
  readonly fromMm: number;
  readonly toMm: number;
  readonly inner: Taper;
  readonly outer: Taper;
}

export interface SolvedArc {
  readonly run: Run;
  readonly wall: Wall & { readonly arc: WallArc };
  readonly gear: Gear;
  readonly demand: RunDemand;
  readonly forms: readonly ArcForm[];
  readonly joints: readonly ArcJoint[];
  readonly cost: Cost;
  readonly bound: Cost;
  /** Why nothing stands there, in words; null where it does. */
  readonly refused: string | null;
  readonly work: number;
  readonly cutShort: boolean;
}

/** A panel that a curve takes. */
interface Chord {
  readonly panel: Panel;
  readonly widthMm: number;
  readonly holesMm: readonly [number, number];
  readonly halfRad: number;
}

interface Question {
  readonly run: Run;
  readonly wall: Wall & { readonly arc: WallArc };
  readonly gear: Gear;
  readonly demand: RunDemand;
  readonly options: FitOptions;
  readonly order: CostOrder;
  readonly size: ArcSize;
  readonly isRing: boolean;
  readonly lengthMm: number;
  /** Radius of the stations. */
  readonly radiusMm: number;
  /** The most that a tie carries, as a strip. */
  readonly stripMm: number;
  readonly tieRadiusMm: number;
  readonly timberMostMm: number;
  readonly overhangMm: number;
}

/** Sets of forms that are looked at for each step of the search that is allowed, before the best so far is taken. */
const SETS_PER_STEP = 4;
/** Joints of a free end are tried in steps of this. */
const PAST_STEP_MM = 5;
const SLACK_MM = 1e-6;

/** How far forms run past a free end at least, for a tie beside their end to clear the bulkhead; whole steps. */
const pastLeastMm = (q: Question, { holesMm, widthMm }: Chord): number => {
  const { bulkheadMm, bulkheadRoomMm } = q.options;
  const fromEdge = Math.max(holesMm[0], widthMm - holesMm[1]);
  const least = Math.max(bulkheadMm + bulkheadRoomMm, bulkheadMm + q.tieRadiusMm + fromEdge);
  return Math.ceil((least - SLACK_MM) / PAST_STEP_MM) * PAST_STEP_MM;
};

/** The panels that the curve takes, widest first. */
const chordsOf = (q: Question): Chord[] => {
  const { gridMm } = q.gear;
  return q.gear.panels.flatMap((panel): Chord[] => {
    const [first, last] = [panel.holesGu[0], panel.holesGu[panel.holesGu.length - 1]];
    const widthMm = panel.widthGu * gridMm;
    const halfRad = halfSectorRad(q.size, widthMm);
    if (first === undefined || last === undefined || first === last || halfRad === null) return [];
    if (versineMm(q.size.innerRadiusMm, widthMm) > q.options.chordMostMm + SLACK_MM) return [];
    if (!spanHolds(panel, last - first, q.demand.designKpa)) return [];
    const holesMm = [first * gridMm, last * gridMm] as const;
    if (Math.max(holesMm[0], widthMm - holesMm[1]) > q.overhangMm) return [];
    return [{ panel, widthMm, holesMm, halfRad }];
  });
};

/** A set of forms in a row: what every joint opens beyond its least, and how far the row runs past the concrete in all. */
interface Row {
  readonly chords: readonly Chord[];
  readonly extraRad: number;
  readonly pastMm: number;
  readonly cost: Cost;
}

/** How a set of forms closes: what every joint opens beyond its least, and how far it runs past in all; null where it does not. */
interface Closing {
  readonly extraRad: number;
  readonly pastMm: number;
}

/** The ends of a row between free ends: its widest forms, so that ties find concrete there; alike where it has two of them. */
const endsOf = (all: readonly Chord[], counts: readonly number[]): readonly [Chord, Chord] => {
  const first = counts.findIndex((c) => c > 0);
  const second = counts[first]! > 1 ? first : counts.findIndex((c, i) => i > first && c > 0);
  return [all[first]!, all[second < 0 ? first : second]!];
};

const closing = (q: Question, all: readonly Chord[], counts: readonly number[]): Closing | null => {
  const n = counts.reduce((a, b) => a + b, 0);
  const sector = all.reduce((sum, c, i) => sum + 2 * c.halfRad * counts[i]!, 0);
  if (q.isRing) {
    const extraRad = (2 * Math.PI - sector) / n;
    return n >= 3 && extraRad >= 0 ? { extraRad, pastMm: 0 } : null;
  }
  const [first, last] = endsOf(all, counts);
  const span =
    n === 1 ? first.widthMm : q.radiusMm * (sector - first.halfRad - last.halfRad) + (first.widthMm + last.widthMm) / 2;
  const least = pastLeastMm(q, first) + pastLeastMm(q, last);
  const pastMm = Math.max(span - q.lengthMm, least);
  if (pastMm > 2 * q.options.runPastMostMm) return null;
  if (span >= q.lengthMm + least) return { extraRad: 0, pastMm };
  return n > 1 ? { extraRad: (q.lengthMm + least - span) / q.radiusMm / (n - 1), pastMm } : null;
};

/** Forms of one width side by side. */
interface Stretch {
  readonly chord: Chord;
  readonly n: number;
}

/** The set in a row: widest first; between free ends one of the widest stands last. */
const stretchesOf = (q: Question, all: readonly Chord[], counts: readonly number[]): Stretch[] => {
  const sorted = all.map((chord, i) => ({ chord, n: counts[i]! })).filter((s) => s.n > 0);
  const [, last] = endsOf(all, counts);
  if (q.isRing || last === sorted[sorted.length - 1]!.chord) return sorted;
  return [...sorted.map((s) => (s.chord === last ? { ...s, n: s.n - 1 } : s)), { chord: last, n: 1 }].filter(
    (s) => s.n > 0,
  );
};

/** Joints of a row: pairs of neighbours, with how often they come. */
const jointsOf = (row: readonly Stretch[], isRing: boolean) => {
  const joints = row.flatMap(({ chord, n }, i) => {
    const next = row[i + 1] ?? (isRing ? row[0] : undefined);
    const same = { a: chord, b: chord, times: n - 1 };
    return next ? [same, { a: chord, b: next.chord, times: 1 }] : [same];
  });
  return joints.filter((j) => j.times > 0);
};

/** The row of a set with its cost; null where fill would be too wide. `better`: whether a cost without timber still counts. */
const rowOf = (
  q: Question,
  stretches: readonly Stretch[],
  { extraRad, pastMm }: Closing,
  better: (least: Cost) => boolean,
): Row | null => {
  const n = stretches.reduce((sum, s) => sum + s.n, 0);
  const { gridMm, courses } = q.gear;
  const [first, last] = [stretches[0]!.chord, stretches[stretches.length - 1]!.chord];
  const least = q.isRing ? 0 : pastLeastMm(q, first) + pastLeastMm(q, last);
  const parts = {
    places: q.isRing ? n : n - 1,
    tiesAndUnits: 2 * n * courses + 2 * n * q.demand.rows.length,
    runPast: (pastMm - least) / gridMm,
    squares: stretches.reduce((sum, s) => sum + 2 * s.n * s.chord.panel.widthGu ** 2 * courses, 0),
  };
  if (!better(q.order.cost(parts))) return null;
  let faceMm = 0;
  for (const { a, b, times } of jointsOf(stretches, q.isRing)) {
    const { inner, outer } = tapersOf(q.size, a.widthMm, b.widthMm, a.halfRad + b.halfRad + extraRad);
    if (Math.max(inner.faceMm, outer.faceMm) > q.timberMostMm + SLACK_MM) return null;
    faceMm += (inner.faceMm + outer.faceMm) * times;
  }
  const heightMm = q.run.topMm - q.run.footingMm;
  const cost = q.order.cost({ ...parts, timberArea: (faceMm * heightMm) / gridMm ** 2 });
  return { chords: stretches.flatMap((s) => Array<Chord>(s.n).fill(s.chord)), extraRad, pastMm, cost };
};

/** Force and moment about station 0 of the load on [from, to] that lies in the concrete. */
const loadOn = (q: Question, from: number, to: number): { readonly size: number; readonly moment: number } => {
  const a = q.isRing ? from : Math.max(from, 0);
  const b = q.isRing ? to : Math.min(to, q.lengthMm);
  return b > a ? { size: b - a, moment: ((b - a) * (a + b)) / 2 } : { size: 0, moment: 0 };
};

/** What fill from `from` to `to` hands on to the forms at its two edges. */
const handsOn = (q: Question, from: number, to: number): readonly [number, number] => {
  const { size, moment } = loadOn(q, from, to);
  const right = to > from ? (moment - size * from) / (to - from) : 0;
  return [size - right, right];
};

/** Do a form's two ties carry it, none of them pushed, and its edges what hangs on them? */
const holds = (q: Question, chord: Chord, form: ArcForm, before: ArcJoint | null, after: ArcJoint | null): boolean => {
  const { fromMm, toMm, tiesMm } = form;
  const low = before ? handsOn(q, before.fromMm, before.toMm)[1] : 0;
  const high = after ? handsOn(q, after.fromMm, after.toMm)[0] : 0;
  const own = loadOn(q, fromMm, toMm);
  const size = own.size + low + high;
  const moment = own.moment + low * fromMm + high * toMm;
  const second = (moment - size * tiesMm[0]) / (tiesMm[1] - tiesMm[0]);
  if (Math.min(second, size - second) < -SLACK_MM || Math.max(second, size - second) > q.stripMm + SLACK_MM)
    return false;
  const { panel } = chord;
  const p = Math.max(q.demand.designKpa, 1e-6);
  const most = (panel.ratedSpanGu * q.gear.gridMm) ** 2 * (panel.ratedKpa / (4 * p));
  const tipHolds = (overhang: number, hangs: number) => overhang ** 2 + 2 * hangs * overhang <= most + SLACK_MM;
  return tipHolds(tiesMm[0] - fromMm, low) && tipHolds(toMm - tiesMm[1], high);
};

/**
 * May a tie stand there? Clear of the bulkhead beyond a free end, clear of the edge before it. A tie is square to its form and not to the end, so that on the
 * inner face it may stand `skew` nearer to the end than on the outer one.
 */
const tieMay = (q: Question, stationMm: number, { widthMm }: Chord): boolean => {
  if (q.isRing) return true;
  const clear = q.options.bulkheadMm + q.tieRadiusMm;
  const inside = q.options.edgeClearMm + (q.size.thicknessMm * widthMm) / (2 * q.size.innerRadiusMm);
  const good = (beyond: number) => beyond >= clear - SLACK_MM || beyond <= -inside;
  return good(-stationMm) && good(stationMm - q.lengthMm);
};

interface Placed {
  readonly forms: readonly ArcForm[];
  readonly joints: readonly ArcJoint[];
}

/** The row with its first edge at a station. */
const place = (q: Question, { chords, extraRad }: Row, firstMm: number): Placed => {
  const forms: ArcForm[] = [];
  const joints: ArcJoint[] = [];
  const between = (a: Chord, b: Chord) => a.halfRad + b.halfRad + extraRad;
  let middle = firstMm + chords[0]!.widthMm / 2;
  chords.forEach((chord, i) => {
    const before = chords[i - 1];
    if (before) middle += q.radiusMm * between(before, chord);
    const fromMm = middle - chord.widthMm / 2;
    const tiesMm = [fromMm + chord.holesMm[0], fromMm + chord.holesMm[1]] as const;
    if (before)
      joints.push({
        fromMm: forms[i - 1]!.toMm,
        toMm: fromMm,
        ...tapersOf(q.size, before.widthMm, chord.widthMm, between(before, chord)),
      });
    forms.push({ panel: chord.panel, fromMm, toMm: fromMm + chord.widthMm, tiesMm });
  });
  if (q.isRing) {
    const [first, last] = [chords[0]!, chords[chords.length - 1]!];
    const tapers = tapersOf(q.size, last.widthMm, first.widthMm, between(last, first));
    joints.push({ fromMm: forms[forms.length - 1]!.toMm, toMm: q.lengthMm, ...tapers });
  }
  return { forms, joints };
};

const stands = (q: Question, { chords }: Row, { forms, joints }: Placed): boolean =>
  forms.every((form, i) => {
    const chord = chords[i]!;
    const before = joints[i - 1] ?? (q.isRing ? joints[joints.length - 1]! : null);
    // Over the seam of a ring the fill lies at its far end.
    const at =
      before && i === 0 ? { ...before, fromMm: before.fromMm - q.lengthMm, toMm: before.toMm - q.lengthMm } : before;
    const isThere = q.isRing || (form.fromMm < q.lengthMm - SLACK_MM && form.toMm > SLACK_MM);
    return isThere && form.tiesMm.every((t) => tieMay(q, t, chord)) && holds(q, chord, form, at, joints[i] ?? null);
  });

/** The row where it stands, its run past shared out so that its ties are clear; null where there is none such. */
const settle = (q: Question, row: Row): Placed | null => {
  if (q.isRing) {
    const placed = place(q, row, 0);
    return stands(q, row, placed) ? placed : null;
  }
  const first = row.chords[0]!;
  const last = row.chords[row.chords.length - 1]!;
  const [least, most] = [pastLeastMm(q, first), q.options.runPastMostMm];
  const restMost = row.pastMm - pastLeastMm(q, last);
  for (let before = least; before <= Math.min(most, restMost) + SLACK_MM; before += PAST_STEP_MM) {
    if (row.pastMm - before > most + SLACK_MM) continue;
    const placed = place(q, row, -before);
    if (stands(q, row, placed)) return placed;
  }
  return null;
};

const mm = (n: number): string => String(Math.round(n * 10) / 10);

/** Why no panel is a chord of this curve, with the numbers. */
const whyNoChord = (q: Question): string => {
  const { gridMm } = q.gear;
  const holed = q.gear.panels.filter((p) => p.holesGu.length > 1);
  const narrow = holed[holed.length - 1];
  const radius = `the inner face has a radius of ${mm(q.size.innerRadiusMm)} mm`;
  if (!narrow) return `${radius}, and the yard has no panel with ties at both edges in these heights`;
  const widthMm = narrow.widthGu * gridMm;
  const half = halfSectorRad(q.size, widthMm);
  if (half === null)
    return `${radius}: the frames of the narrowest panels with ties at both edges (${mm(widthMm)} mm) would meet at its centre`;
  const versine = versineMm(q.size.innerRadiusMm, widthMm);
  if (versine > q.options.chordMostMm)
    return `${radius}: the narrowest panel with ties at both edges (${mm(widthMm)} mm) leaves the arc by ${mm(versine)} mm, more than the ${mm(q.options.chordMostMm)} mm that are allowed`;
  return `${radius}, and no panel that it takes carries ${mm(q.demand.designKpa)} kPa between ties at its edges`;
};

/** Joints of unlike neighbours open no wider than this beyond those of like ones, as a share. */
const UNLIKE_SHARE = 1.02;

/** Least number of forms that reach round at all, each with fill as wide as is allowed: a joint between forms of width w opens 2 (b sin - w/2 cos) of half its turn. */
const fewest = (q: Question, chords: readonly Chord[]): number => {
  const sectors = chords.map(({ widthMm }) => {
    const b = chordRadiusMm(q.size.innerRadiusMm, widthMm) + q.size.thicknessMm;
    const reach = Math.hypot(b, widthMm / 2);
    return 2 * (Math.asin(Math.min(1, q.timberMostMm / 2 / reach)) + Math.atan2(widthMm / 2, b));
  });
  const { bulkheadMm, bulkheadRoomMm } = q.options;
  const needRad = q.isRing
    ? 2 * Math.PI
    : (q.lengthMm + 2 * (bulkheadMm + bulkheadRoomMm) - q.timberMostMm) / q.radiusMm;
  return Math.max(1, Math.ceil(needRad / (Math.max(...sectors) * UNLIKE_SHARE)));
};

/** The least row of all, by growing numbers of forms. */
const search = (q: Question, chords: readonly Chord[]) => {
  let best: { row: Row; placed: Placed } | null = null;
  let [work, isAll, cutShort] = [0, true, false];
  const narrowest = Math.min(...chords.map((c) => 2 * c.halfRad));
  const mostRad = q.isRing ? 2 * Math.PI : (q.lengthMm + 2 * q.options.runPastMostMm) / q.radiusMm;
  const nMost = Math.floor(mostRad / narrowest) + 2;
  const isBetter = (cost: Cost) => best === null || compareCost(cost, best.row.cost) < 0;
  for (let n = fewest(q, chords); n <= nMost && !cutShort; n++) {
    // More forms cost more joints, units and ties; only timber and run past may fall.
    if (!isBetter(q.order.cost({ places: q.isRing ? n : n - 1, tiesAndUnits: 2 * n, squares: 1e12 }))) break;
    const { sets, isAll: these } = formCounts(n, chords.length);
    isAll &&= these;
    for (const counts of sets) {
      const closed = closing(q, chords, counts);
      if (!closed) continue;
      if (++work > SETS_PER_STEP * q.options.stepLimit) {
        cutShort = true;
        break;
      }
      const row = rowOf(q, stretchesOf(q, chords, counts), closed, isBetter);
      if (!row || !isBetter(row.cost)) continue;
      const placed = settle(q, row);
      if (placed) best = { row, placed };
    }
  }
  return { best, work, isAll, cutShort };
};

/** Fill that needs backing is taken only where there is no other way, and then as narrow as will do, in steps of this. */
const WIDER_MM = 10;

/** The least row with fill up to the width that needs no backing, else with the least more than that; `wide`: the most that was allowed. */
const leastWide = (q: Question, chords: readonly Chord[], limitMm: number) => {
  let wide = q.timberMostMm;
  let found = search(q, chords);
  let { work } = found;
  while (!found.best && !found.cutShort && wide < limitMm) {
    wide = Math.min(limitMm, wide + WIDER_MM);
    found = search({ ...q, timberMostMm: wide }, chords);
    work += found.work;
  }
  return { ...found, wide, work };
};

const questionOf = (
  run: Run,
  wall: Wall & { readonly arc: WallArc },
  catalogue: Catalogue,
  demand: RunDemand,
  options: FitOptions,
  order: CostOrder,
): Question => {
  const tie = tiesFor(catalogue, run.thicknessMm)[0];
  const load = Math.max(0, ...demand.rows.map((r) => r.kNPerM));
  return {
    run,
    wall,
    gear: gearFor(catalogue, demand.stack),
    demand,
    options,
    order,
    size: {
      innerRadiusMm: wall.arc.innerRadiusMm,
      thicknessMm: wall.thicknessMm,
      depthMm: catalogue.frameDepthMm,
    },
    isRing: run.start.kind === 'ring',
    lengthMm: endStationMm(wall),
    radiusMm: stationRadiusMm(wall.arc, wall.thicknessMm),
    stripMm: tie && load > 0 ? (tie.workingLoadKn / load) * 1000 : Number.POSITIVE_INFINITY,
    tieRadiusMm: (tie?.diameterMm ?? 0) / 2,
    timberMostMm: catalogue.timberMostMm,
    overhangMm: catalogue.overhangMm,
  };
};

/** Lays out one curved wall. */
export const solveArc = (
  run: Run,
  wall: Wall & { readonly arc: WallArc },
  catalogue: Catalogue,
  demand: RunDemand,
  options: FitOptions,
  order: CostOrder,
): SolvedArc => {
  const q = questionOf(run, wall, catalogue, demand, options, order);
  const chords = chordsOf(q);
  const common = { run, wall, gear: q.gear, demand };
  const failed = order.cost({ failures: 1 });
  const refuse = (refused: string, work = 0, cutShort = false): SolvedArc => ({
    ...common,
    forms: [],
    joints: [],
    cost: failed,
    bound: cutShort ? order.cost({}) : failed,
    refused,
    work,
    cutShort,
  });
  if (chords.length === 0) return refuse(whyNoChord(q));
  const { wide, best, work, isAll, cutShort } = leastWide(q, chords, catalogue.timberLimitMm);
  if (!best) {
    const widths = `${mm(chords[chords.length - 1]!.widthMm)} to ${mm(chords[0]!.widthMm)}`;
    const why = `no row of panels ${widths} mm wide, which its inner radius of ${mm(q.size.innerRadiusMm)} mm takes, closes it with fill up to ${mm(wide)} mm and with ties that carry ${mm(demand.designKpa)} kPa and are clear of its ends`;
    return refuse(why, work, cutShort);
  }
  const { row, placed } = best;
  const least = fewest({ ...q, timberMostMm: wide }, chords);
  const proven = isAll && !cutShort;
  const bound = proven ? row.cost : order.cost({ places: q.isRing ? least : least - 1 });
  return { ...common, ...placed, cost: row.cost, bound, refused: null, work, cutShort };
};

/** Curved walls of a plan that have a demand. */
export const solveArcs = (
  plan: FacePlan,
  catalogue: Catalogue,
  demands: ReadonlyMap<string, RunDemand>,
  options: FitOptions,
  order: CostOrder,
): SolvedArc[] =>
  plan.runs.flatMap((run) => {
    const wall = plan.walls.find((w) => w.id === run.wall);
    const demand = demands.get(run.id);
    return wall?.arc && demand ? [solveArc(run, { ...wall, arc: wall.arc }, catalogue, demand, options, order)] : [];
  });
