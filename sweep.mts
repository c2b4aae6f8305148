/**
 * Every sequence of a short wall with an opening, tried one by one: all widths, every choice of holes, judged by the check's statics (the matrix of the
 * chain in each band of levels, the beam of the courses on the rows of each column). The cheapest that holds is what the fit must find, and among the
 * cheapest one with the most joints at the jambs.
 */

import { chainReactions, fixedGroups, isFixed } from './src/check/index.js';
import { columnLoads, needsFoot } from './src/check/rows.js';
import type { Catalogue, FacePlan } from './src/ground/vocabulary.js';
import { bandsOf, voidsOf } from './src/ground/voids.js';
import { sceneOf, TIE_TO_EDGE_MM } from './tests/check/support.js';
import { workedExampleCatalogue } from './tests/support/exampleCatalogue.js';
import { corner, onePlan } from './tests/support/straightPlan.js';

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



const cheapestPlain = (zone: number, { holds, rows }: ReturnType<typeof judge>, most: number): number => {
  const low = THICK / 2 + LEG; let least = most + 1; 
  const visit = (units: readonly Unit[], at: number, cost: number, bit: number): void => {
    if (cost >= least) return;
    if (at === low + zone) { if (bit === 1 && holds(units)) least = cost; return; }
    for (const width of WIDTHS) {
      if (at + width > low + zone) continue;
      const [a, b] = [HOLE, width - HOLE];
      const ways: [number[], number][] = bit === 0 ? [[[a], 0], [[a, b], 1]] : [[[], 0], [[b], 1], [[a, b], 1]];
      for (const [ties, to] of ways) {
        const st = ties.map((t) => at + t);
        visit([...units, { from: at, width, ties: st }], at + width, cost + 2 + st.reduce((x, y) => x + rows(y), 0), to);
      }
    }
  };
  visit([], low, 0, 0);
  return least;
};
let seed = Number(process.argv[2] ?? 1);
const rnd = () => { seed = (seed + 0x6d2b79f5) | 0; let t = Math.imul(seed ^ (seed >>> 15), 1 | seed); t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t; return ((t ^ (t >>> 14)) >>> 0) / 4294967296; };
const pick = (a: number, b: number, step: number) => a + step * Math.floor(rnd() * ((b - a) / step + 1));
let n = 0, same = 0;
const end = Date.now() + Number(process.argv[3] ?? 60) * 1000;
while (Date.now() < end) {
  const zone = pick(1200, 2100, 150);
  const low = 300;
  const w = pick(300, 900, 50);
  const from = pick(low + 100, low + zone - w - 100, 10);
  const sill = rnd() < 0.5 ? 0 : pick(300, 1200, 50);
  const head = Math.min(2200, sill + pick(300, 1500, 50));
  const hole = { fromMm: from, toMm: from + w, sillMm: sill, headMm: head };
  if (from < low || from + w > low + zone) continue;
  const made = scene(zone, hole);
  const judged = judge(made, hole);
  const { least } = cheapest(zone, hole, judged);
  const tier = (name: string) => made.layout.tiers.find((t) => t.name === name)!;
  n++;
  const fails = tier('failures').value + tier('places').value;
  const t = tier('tiesAndUnits');
  if (least === Number.POSITIVE_INFINITY ? fails > 0 : fails === 0 && t.value === least + 2) { same++; continue; }
  console.log('plain', cheapestPlain(zone, judged, 60) + 2, JSON.stringify({ zone, hole, least: least + 2, ours: t.value, fails, bound: t.bound, optimal: t.optimal, steps: made.layout.work }));
}
console.log(n, same);
