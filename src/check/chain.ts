/**
 * A line of rigid groups joined by hinges, under a uniform load: the independent solution that the layout is checked with.
 *
 * Method: every group is straight between its joints, so that deflections are hat functions, one for each joint, and by virtual work the
 * reactions balance the load on each hat. With just enough supports that gives the reactions at once; with more, equal elastic supports decide.
 * Whether a chain stands at all: its supports can be matched in order to the joints, each strictly between that joint's two neighbours (the
 * Schoenberg-Whitney condition for linear splines; Schoenberg and Whitney 1953, de Boor 1978).
 *
 * Forces are strips: mm of loaded length, to be multiplied by a load per length. Complexity: O(n^3) in the number of groups.
 */

import { solveDense } from './solve.js';

export interface ChainProblem {
  /** Stations of the joints, rising: ends of the groups, the two ends of the line included. */
  readonly jointsMm: readonly number[];
  /** Stations of ties and held edges, rising. */
  readonly supportsMm: readonly number[];
  /** Load that what stands before the first joint hands on to it, and what stands behind the last one. */
  readonly startShearMm: number;
  readonly endShearMm: number;
  /** Only this stretch is loaded; left out: all of it. */
  readonly loadedMm?: readonly [number, number];
  /** Stretches without load inside it, in order and apart. */
  readonly unloadedMm?: readonly (readonly [number, number])[];
}

export interface ChainAnswer {
  /** One for each support; negative: pushed. */
  readonly reactionsMm: readonly number[];
  /** At each joint the load that the part before it hands on to the part behind it. */
  readonly shearsMm: readonly number[];
}

/** Can the supports be matched in order to the joints, each strictly between the joint's neighbours? */
export const isFixed = (jointsMm: readonly number[], supportsMm: readonly number[]): boolean => {
  const supports = [...supportsMm].sort((a, b) => a - b);
  let next = 0;
  return jointsMm.every((_, i) => {
    const low = jointsMm[i - 1] ?? Number.NEGATIVE_INFINITY;
    const high = jointsMm[i + 1] ?? Number.POSITIVE_INFINITY;
    while (next < supports.length && supports[next]! <= low) next++;
    const fits = next < supports.length && supports[next]! < high;
    next++;
    return fits;
  });
};

/** Index of the group that holds a station. */
const groupAt = (jointsMm: readonly number[], stationMm: number): number => {
  for (let i = 0; i + 1 < jointsMm.length; i++)
    if (jointsMm[i]! <= stationMm && stationMm <= jointsMm[i + 1]!) return i;
  throw new Error(`support ${stationMm} lies outside its chain`);
};

/** A group i and the values of the hat functions of its joints i and i + 1 at a station of it. */
export type Hat = readonly [number, number, number];

export const hats = (jointsMm: readonly number[], stationMm: number): Hat => {
  const i = groupAt(jointsMm, stationMm);
  const t = (stationMm - jointsMm[i]!) / (jointsMm[i + 1]! - jointsMm[i]!);
  return [i, 1 - t, t];
};

const loadedStretches = ({ jointsMm, loadedMm, unloadedMm = [] }: ChainProblem): (readonly [number, number])[] => {
  const [low, high] = loadedMm ?? [jointsMm[0]!, jointsMm[jointsMm.length - 1]!];
  const cuts = unloadedMm.filter(([a, b]) => b > low && a < high);
  const starts = [low, ...cuts.map(([, b]) => b)];
  const ends = [...cuts.map(([a]) => a), high];
  return starts.map((a, i): [number, number] => [a, ends[i]!]).filter(([a, b]) => b > a);
};

export const jointLoads = (problem: ChainProblem): number[] => {
  const { jointsMm: joints, startShearMm, endShearMm } = problem;
  const last = joints.length - 1;
  const f = joints.map(() => 0);
  for (let i = 0; i < last; i++) {
    for (const [low, high] of loadedStretches(problem)) {
      const a = Math.max(joints[i]!, low);
      const b = Math.min(joints[i + 1]!, high);
      if (b <= a) continue;
      const t = ((a + b) / 2 - joints[i]!) / (joints[i + 1]! - joints[i]!);
      f[i] = f[i]! + (b - a) * (1 - t);
      f[i + 1] = f[i + 1]! + (b - a) * t;
    }
  }
  f[0] = f[0]! + startShearMm;
  f[last] = f[last]! + endShearMm;
  return f;
};

/** As many supports as joints: the reactions that balance the load on each hat. */
const balance = (rows: readonly Hat[], loads: readonly number[]): number[] | null => {
  const a = loads.map((_, j) => rows.map(([i, low, high]) => (j === i ? low : j === i + 1 ? high : 0)));
  return solveDense(a, loads, 1e-14);
};

/** More supports than joints: equal springs, deflections of the joints from their stiffness. */
const elastic = (rows: readonly Hat[], loads: readonly number[]): number[] | null => {
  const k = loads.map(() => loads.map(() => 0));
  const addTo = (i: number, j: number, x: number) => {
    k[i]![j] = k[i]![j]! + x;
  };
  for (const [i, a, b] of rows) {
    addTo(i, i, a * a);
    addTo(i, i + 1, a * b);
    addTo(i + 1, i, a * b);
    addTo(i + 1, i + 1, b * b);
  }
  const u = solveDense(k, loads);
  return u && rows.map(([i, a, b]) => a * u[i]! + b * u[i + 1]!);
};

/** Exact reactions and joint shears; null when the chain is a mechanism. Throws for supports outside the chain. */
export const chainReactions = (problem: ChainProblem): ChainAnswer | null => {
  const { jointsMm: joints, supportsMm: supports } = problem;
  if (!isFixed(joints, supports)) return null;
  const rows = supports.map((s) => hats(joints, s));
  const loads = jointLoads(problem);
  const reactionsMm = supports.length === joints.length ? balance(rows, loads) : elastic(rows, loads);
  if (!reactionsMm) return null;
  const stretches = loadedStretches(problem);
  const shearsMm = joints.map((x) => {
    const load = stretches.reduce((sum, [a, b]) => sum + Math.max(0, Math.min(x, b) - Math.max(joints[0]!, a)), 0);
    return supports.reduce((v, s, i) => (s < x ? v - reactionsMm[i]! : v), problem.startShearMm + load);
  });
  return { reactionsMm, shearsMm };
};

/** How far a group may stand out beyond its outermost support at its low (-1) or high (+1) end, mm. */
export type Reach = (group: number, end: -1 | 1) => number;

export interface FixedGroup {
  /** Longest stretch between two neighbouring supports of the group, hinges to fixed neighbours included. */
  readonly spanMm: number;
}

/**
 * Which groups stand, by plain iteration: a group is fixed when it has two supports (ties, held edges, hinges to neighbours that are fixed
 * already) and stands out beyond the outermost ones by no more than its reach; repeated until nothing changes. null: not fixed.
 */
export const fixedGroups = (
  jointsMm: readonly number[],
  supportsMm: readonly number[],
  reach: Reach,
): (FixedGroup | null)[] => {
  const n = jointsMm.length - 1;
  const own = Array.from({ length: n }, (_, i) => supportsMm.filter((s) => s >= jointsMm[i]! && s <= jointsMm[i + 1]!));
  const state = new Array<FixedGroup | null>(n).fill(null);
  for (;;) {
    const wave: [number, FixedGroup][] = [];
    for (let i = 0; i < n; i++) {
      if (state[i]) continue;
      const [a, b] = [jointsMm[i]!, jointsMm[i + 1]!];
      const points = [...own[i]!];
      if (i > 0 && state[i - 1]) points.push(a);
      if (i + 1 < n && state[i + 1]) points.push(b);
      const at = [...new Set(points)].sort((x, y) => x - y);
      if (at.length < 2) continue;
      if (at[0]! - a > reach(i, -1) || b - at[at.length - 1]! > reach(i, 1)) continue;
      wave.push([i, { spanMm: Math.max(...at.slice(1).map((x, j) => x - at[j]!)) }]);
    }
    if (wave.length === 0) return state;
    for (const [i, group] of wave) state[i] = group;
  }
};
