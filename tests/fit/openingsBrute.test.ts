/**
 * Every sequence of a short wall with an opening, tried one by one: all widths, every choice of holes, judged by the check's statics (the matrix of the
 * chain in each band of levels, the beam of the courses on the rows of each column). The cheapest that holds is what the fit must find, and among the
 * cheapest one with the most joints at the jambs.
 */

import { describe, expect, it } from 'vitest';
import { chainReactions, fixedGroups, isFixed } from '../../src/check/index.js';
import { columnLoads, needsFoot } from '../../src/check/rows.js';
import type { Catalogue, FacePlan } from '../../src/ground/vocabulary.js';
import { bandsOf, voidsOf } from '../../src/ground/voids.js';
import { sceneOf, TIE_TO_EDGE_MM } from '../check/support.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { corner, onePlan } from '../support/straightPlan.js';

const WIDTHS = [600, 450, 300];
/** Rows of the panels of 2400, as the catalogue of the examples has them. */
const ROWS = [300, 900, 1500, 2100];
const [TOP, THICK, LEG, HOLE] = [2350, 300, 150, 50];
/** Pressure of the worked examples, rating and rated span of the panels, working load. */
const [P, RATED, SPAN, WORKING] = [43.1, 60, 600, 20];
/** What the corner hands on, on either face: (k + a) / 2. */
const V = (THICK + LEG) / 2;

const yard: Catalogue = {
  ...workedExampleCatalogue,
  units: workedExampleCatalogue.units.filter((u) =>
    u.kind === 'panel' ? u.heightMm === 2400 && WIDTHS.includes(u.widthMm) : u.kind !== 'filler' && u.heightMm === 2400,
  ),
};

interface Unit {
  readonly from: number;
  readonly width: number;
  readonly ties: readonly number[];
}

interface Hole {
  readonly fromMm: number;
  readonly toMm: number;
  readonly sillMm: number;
  readonly headMm: number;
}

const scene = (zone: number, hole: Hole) => {
  const length = zone + 2 * (THICK / 2 + LEG);
  const bare = onePlan(length, THICK, TOP, corner(0, THICK, 'start'), corner(length, THICK, 'end'));
  const plan: FacePlan = { ...bare, openings: [{ id: 'O1', wall: 'W1', ...hole }] };
  return sceneOf(plan, yard);
};

/** How a form of this wall is judged: does a sequence hold, and how many rows has a column? */
const judge = ({ plan, pressure, demands }: ReturnType<typeof scene>, hole: Hole) => {
  const run = plan.runs[0]!;
  const { envelope } = pressure.get(run.id)!;
  const { stack } = demands.get(run.id)!;
  const bands = bandsOf(run, voidsOf(plan, run));
  const plain = { stack, footingMm: 0, topMm: TOP, envelope };
  const isNear = (s: number) => s > hole.fromMm - TIE_TO_EDGE_MM && s < hole.toMm + TIE_TO_EDGE_MM;
  const keeps = (z: number) => z <= hole.sillMm - TIE_TO_EDGE_MM || z >= hole.headMm + TIE_TO_EDGE_MM;
  const rowsAt = (s: number) => (isNear(s) ? ROWS.filter(keeps) : ROWS);
  const shared = (shares: readonly number[]) =>
    bands.map((b, i) => ({ fromMm: b.fromMm, toMm: b.toMm, share: shares[i]! }));
  const foot = [false, true].map((near) =>
    needsFoot({
      ...plain,
      rowLevelsMm: near ? ROWS.filter(keeps) : ROWS,
      bands: shared(bands.map((b) => (near && b.voids.length > 0 ? 0 : 1))),
    }),
  );
  const holds = (units: readonly Unit[]): boolean => {
    const jointsMm = [units[0]!.from, ...units.map((u) => u.from + u.width)];
    const supportsMm = units.flatMap((u) => u.ties);
    if (supportsMm.length < jointsMm.length || !isFixed(jointsMm, supportsMm)) return false;
    const ends = { jointsMm, supportsMm, startShearMm: V, endShearMm: V };
    const whole = chainReactions(ends)!;
    if (whole.reactionsMm.some((r) => r < -1e-6)) return false;
    const reach = (i: number, end: -1 | 1) => {
      const v = Math.max(0, end === -1 ? whole.shearsMm[i]! : -whole.shearsMm[i + 1]!);
      return Math.min(150, -v + Math.sqrt(v * v + (SPAN * SPAN * RATED) / (4 * P))) + 1e-6;
    };
    const longest = SPAN * (RATED / P) ** (1 / 3);
    if (fixedGroups(jointsMm, supportsMm, reach).some((g) => g === null || g.spanMm > longest)) return false;
    const byBand = bands.map((b) => {
      const unloadedMm = b.voids.map((v) => [v.fromMm, v.toMm] as const);
      return chainReactions({ ...ends, unloadedMm })!.reactionsMm;
    });
    return supportsMm.every((s, i) => {
      const q = { ...plain, rowLevelsMm: rowsAt(s), bands: shared(byBand.map((r) => r[i]! / 1000)) };
      const { exact, strips } = columnLoads(q, foot[isNear(s) ? 1 : 0]!);
      return [...exact!, ...strips].every((kN) => kN <= WORKING + 1e-6);
    });
  };
  return { holds, rows: (s: number) => rowsAt(s).length };
};

/** How well joints stand at the jambs: jambs without a joint within the boards of the box-out, jambs with one there but not at them, units over the void. */
type Joints = readonly [none: number, beside: number, over: number];

/** Boards of a box-out, as thick as those of a bulkhead (the default of the fit). */
const BOARDS = 50;

const jointsOf = (units: readonly { from: number; width: number }[], { fromMm, toMm }: Hole): Joints => {
  const joints = [...units.map((u) => u.from), ...units.slice(-1).map((u) => u.from + u.width)];
  const away = [fromMm, toMm].map((jamb) => Math.min(...joints.map((j) => Math.abs(j - jamb))));
  return [
    away.filter((d) => d > BOARDS).length,
    away.filter((d) => d > 1 && d <= BOARDS).length,
    units.filter((u) => Math.min(u.from + u.width, toMm) - Math.max(u.from, fromMm) > 1).length,
  ];
};

const isBetter = (a: Joints, b: Joints): boolean => {
  const i = a.findIndex((x, k) => x !== b[k]);
  return i >= 0 && a[i]! < b[i]!;
};

/** Units on both faces and ties of the cheapest way to close a zone, Infinity where none holds; and of all such ways with these widths the best joints. */
const cheapest = (
  zone: number,
  hole: Hole,
  { holds, rows }: ReturnType<typeof judge>,
  widths: readonly number[] = WIDTHS,
  most = Number.POSITIVE_INFINITY,
): { least: number; joints: Joints | null } => {
  const low = THICK / 2 + LEG;
  let least = most;
  let joints: Joints | null = null;
  const visit = (units: readonly Unit[], at: number, cost: number): void => {
    if (cost > least) return;
    if (at === low + zone) {
      const own = jointsOf(units, hole);
      if (cost === least && joints !== null && !isBetter(own, joints)) return;
      if (!holds(units)) return;
      least = cost;
      joints = own;
      return;
    }
    for (const width of widths) {
      if (at + width > low + zone) continue;
      const [a, b] = [at + HOLE, at + width - HOLE];
      for (const ties of [[], [a], [b], [a, b]]) {
        const more = 2 + ties.reduce((sum, s) => sum + rows(s), 0);
        visit([...units, { from: at, width, ties }], at + width, cost + more);
      }
    }
  };
  visit([], low, 0);
  return { least: joints === null ? Number.POSITIVE_INFINITY : least, joints };
};

describe('short walls with an opening, 2350 high and 300 thick', () => {
  const cases: [zone: number, hole: Hole][] = [
    [1800, { fromMm: 900, toMm: 1500, sillMm: 0, headMm: 900 }],
    [1950, { fromMm: 1000, toMm: 1400, sillMm: 0, headMm: 1200 }],
    [1800, { fromMm: 750, toMm: 1650, sillMm: 0, headMm: 600 }],
    [1950, { fromMm: 1000, toMm: 1700, sillMm: 0, headMm: 1500 }],
    [1950, { fromMm: 870, toMm: 1470, sillMm: 700, headMm: 1600 }],
    // The least has a form that leans on both neighbours: one tie, far from one joint.
    [1800, { fromMm: 810, toMm: 1410, sillMm: 0, headMm: 650 }],
    [2100, { fromMm: 1450, toMm: 1950, sillMm: 0, headMm: 400 }],
    [1350, { fromMm: 770, toMm: 1270, sillMm: 950, headMm: 2150 }],
  ];
  it.each(cases)('%d between the corner legs, opening %o', (zone, hole) => {
    const made = scene(zone, hole);
    const judged = judge(made, hole);
    const { least } = cheapest(zone, hole, judged);
    const tier = (name: string) => made.layout.tiers.find((t) => t.name === name)!;
    if (least === Number.POSITIVE_INFINITY) {
      expect(tier('failures').value + tier('places').value).toBeGreaterThan(0);
      return;
    }
    expect(tier('failures').value + tier('places').value).toBe(0);
    // One panel more at either end of the outer face.
    expect(tier('tiesAndUnits').value).toBe(least + 2);
    // Of what costs the same and is made of the same widths nothing has more joints at the jambs.
    const own = made.layout.groups
      .filter((g) => g.face === 'W1-L')
      .map((g) => ({ from: g.fromMm, width: g.toMm - g.fromMm }))
      .sort((a, b) => a.from - b.from);
    const widths = WIDTHS.filter((w) => own.some((u) => u.width === w));
    expect(jointsOf(own, hole)).toEqual(cheapest(zone, hole, judged, widths, least).joints);
  });
});
