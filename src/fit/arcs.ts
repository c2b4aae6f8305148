/**
 * Curved walls: one straight form after the other as chords of the arc, with tapered timber in every joint. Both faces carry the same widths in the same
 * sectors, so that a tie is square to the two parallel forms of a sector.
 *
 * Every form stands by itself: it has a column of ties at either edge, since tapered timber is no hinge that could hand on more than its own load. Its ties
 * carry the strip of the outer face, which is the most that they can get: with N the pull along the outer forms, per metre of height, the ties of a sector
 * carry p R_o less N along the arc, and p R_i plus what is left of p t along the inner one (equilibrium of a ring's sector). N is not below 0.
 */

import { chordRadiusMm, endStationMm, stationRadiusMm, versineMm } from '../ground/arcs.js';
import type { Catalogue, FacePlan, Run, RunDemand, Wall, WallArc } from '../ground/vocabulary.js';
import { formCounts } from './arcCounts.js';
import { halfSectorRad } from './arcGeometry.js';
import {
  type ArcForm,
  type ArcJoint,
  type Chord,
  closing,
  type Placed,
  placesOf,
  type Row,
  type RowQuestion,
  rowOf,
  SLACK_MM,
  settle,
  stretchesOf,
} from './arcRows.js';
import { type Cost, type CostOrder, compareCost } from './cost.js';
import { type Gear, gearFor, tiesFor } from './gear.js';
import { spanHolds } from './groups.js';
import type { FitOptions } from './options.js';

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

interface Question extends RowQuestion {
  readonly demand: RunDemand;
  readonly overhangMm: number;
}

/** Sets of forms that are looked at for each step of the search that is allowed, before the best so far is taken. */
const SETS_PER_STEP = 4;

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
  const free = q.isFree.filter(Boolean).length;
  const needRad = (q.lengthMm + free * (bulkheadMm + bulkheadRoomMm) - (free / 2) * q.timberMostMm) / q.radiusMm;
  return Math.max(1, Math.ceil(needRad / (Math.max(...sectors) * UNLIKE_SHARE)));
};

/** The least row of all, by growing numbers of forms. */
const search = (q: Question, chords: readonly Chord[]) => {
  let best: { row: Row; placed: Placed } | null = null;
  let [work, isAll, cutShort] = [0, true, false];
  const narrowest = Math.min(...chords.map((c) => 2 * c.halfRad));
  const free = q.isFree.filter(Boolean).length;
  const mostRad = (q.lengthMm + free * q.options.runPastMostMm) / q.radiusMm;
  const nMost = Math.floor(mostRad / narrowest) + 2;
  const isBetter = (cost: Cost) => best === null || compareCost(cost, best.row.cost) < 0;
  for (let n = fewest(q, chords); n <= nMost && !cutShort; n++) {
    // More forms cost more joints, units and ties; only timber and run past may fall.
    if (!isBetter(q.order.cost({ places: placesOf(q, n), tiesAndUnits: 2 * n, squares: 1e12 }))) break;
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
    isFree: [run.start.kind === 'free', run.end.kind === 'free'],
    heightMm: run.topMm - run.footingMm,
    rows: demand.rows.length,
    designKpa: demand.designKpa,
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
  if (tiesFor(catalogue, run.thicknessMm).length === 0)
    return refuse(`no tie of the catalogue fits it, ${mm(run.thicknessMm)} mm thick`);
  if (demand.rows.length === 0) return refuse('no tie row lies in its concrete');
  if (chords.length === 0) return refuse(whyNoChord(q));
  const { wide, best, work, isAll, cutShort } = leastWide(q, chords, catalogue.timberLimitMm);
  if (!best) {
    const [least, most] = [chords[chords.length - 1]!, chords[0]!].map((c) => mm(c.widthMm));
    const widths = least === most ? `${least}` : `${least} to ${most}`;
    const why = `no row of panels ${widths} mm wide, which its inner radius of ${mm(q.size.innerRadiusMm)} mm takes, closes it with fill up to ${mm(wide)} mm and with ties that carry ${mm(demand.designKpa)} kPa and are clear of its ends`;
    return refuse(why, work, cutShort);
  }
  const { row, placed } = best;
  const least = fewest({ ...q, timberMostMm: wide }, chords);
  const proven = isAll && !cutShort;
  const bound = proven ? row.cost : order.cost({ places: placesOf(q, least) });
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
