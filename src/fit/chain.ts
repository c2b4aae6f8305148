/**
 * The hinged chain on one face, carried from left to right with exact shears.
 *
 * Source: statics of a chain of rigid groups on hinges (Gerber beam): each group is in equilibrium under its strip of load, its ties and the
 * shears at its two joints. Loads are strips: lengths in grid units, to be multiplied by a row's load per length.
 *
 * - Shear V at a joint: what the part on one side hands on to the other. Positive loads.
 * - State C ("carried"): the group just set is held as soon as its right neighbour is; V handed to the right lies in [lo, hi], and
 *   lo = hi when nothing was coarsened.
 * - State F ("fixed"): the group just set stands by itself; any V from the right in [lo, hi] keeps all ties behind it in [0, most].
 *
 * A group with one tie from C, or none from F, leaves C; two ties from C, or one or two from F, leave F. No tie from C is a mechanism. Three
 * supports from F (its neighbour's hinge and two ties), and more than two ties from either, are redundant: here any equilibrium counts; the layout
 * is checked again elastically. So is a group that leans on its right neighbour though it has those supports, since its last tie is too far from its
 * right joint (`setLeaning`): it leaves C. Where tips are followed the split is that of equal ties, but for what coarsening leaves open.
 *
 * Coarsening: `coarsen` widens both kinds of interval outwards to a grain, so that many histories share one state. Each limit is then tested
 * with the value of V that suits it best, so a coarse chain refuses nothing that an exact one takes: its costs are lower bounds.
 */

export type ChainState =
  | { readonly kind: 'C'; readonly lo: number; readonly hi: number }
  | { readonly kind: 'F'; readonly lo: number; readonly hi: number; readonly tip?: Tip };

/**
 * How far the right joint of a fixed group moves out, `at` + `per` V_r, ties being springs of stiffness 1. Only where splits of redundant forces are to
 * be those of equal ties.
 */
export interface Tip {
  readonly at: number;
  readonly per: number;
}

/** Strip of load on a group: its size, and its first moment about the group's left joint. */
export interface StripLoad {
  readonly size: number;
  readonly moment: number;
}

export interface ChainLimits {
  /** Largest tie reaction as a strip; Infinity when loads are left out of account. */
  readonly mostGu: number;
  /** The same by tie of the group, where they differ. */
  readonly mostsGu?: readonly number[];
  /** 0: no tie may be pushed; -Infinity when loads are left out of account. */
  readonly leastGu: number;
  /** Largest shear at the tip of an overhang o: V <= (w^2 p_u / (4 p) - o^2) / (2 o). */
  readonly tipGu: (overhangGu: number) => number;
}

const SLACK = 1e-6;

const mostOf = ({ mostGu, mostsGu }: ChainLimits, tie: number): number => mostsGu?.[tie] ?? mostGu;

/** The load of the part of [from, from + length] that lies in [loadFrom, loadTo]. */
export const stripLoad = (from: number, length: number, loadFrom: number, loadTo: number): StripLoad => {
  const a = Math.max(from, loadFrom);
  const b = Math.min(from + length, loadTo);
  if (b <= a) return { size: 0, moment: 0 };
  return { size: b - a, moment: (b - a) * ((a + b) / 2 - from) };
};

/** Interval of x with lo <= a + b x <= hi, cut with [x0, x1]; null when empty. */
const within = (
  interval: readonly [number, number] | null,
  a: number,
  b: number,
  lo: number,
  hi: number,
): [number, number] | null => {
  if (!interval) return null;
  let [x0, x1] = interval;
  if (Math.abs(b) < 1e-12) return a >= lo - SLACK && a <= hi + SLACK ? [x0, x1] : null;
  const p = (lo - a) / b;
  const q = (hi - a) / b;
  x0 = Math.max(x0, Math.min(p, q));
  x1 = Math.min(x1, Math.max(p, q));
  return x0 <= x1 + SLACK ? [x0, x1] : null;
};

const asFixed = (interval: readonly [number, number] | null): ChainState | null =>
  interval ? { kind: 'F', lo: interval[0], hi: interval[1] } : null;

/** Stands for as far as a tie may be pushed or pulled where that has no limit, as in the chain of one row (opened.ts): beyond any strip, and still exact to sum. */
const FAR_GU = 1e6;

/**
 * More supports than statics settles: shears from the right for which some split among the ties, and the left neighbour, stays within limits; null where
 * none does. Of all splits the one that loads the ties near the left joint first leaves the least, the one that loads those far from it first takes the most.
 */
const spread = (
  left: { readonly lo: number; readonly hi: number },
  length: number,
  load: StripLoad,
  ties: readonly number[],
  limits: ChainLimits,
): [number, number] | null => {
  const least = Math.max(limits.leastGu, -FAR_GU);
  const rooms = ties.map((h, i) => ({ h, room: Math.min(mostOf(limits, i), FAR_GU) - least }));
  // Moments about the right joint: sum of R (L - h) = A L - M - V_l L, with V_l what is handed to the left neighbour.
  const about = (vl: number) => load.size * length - load.moment - vl * length;
  const pushed = ties.reduce((sum, h) => sum + least * (length - h), 0);
  const all = rooms.reduce((sum, { h, room }) => sum + room * (length - h), pushed);
  const [from, to] = [Math.max(pushed, about(left.hi)), Math.min(all, about(left.lo))];
  if (from > to + SLACK * length) return null;
  // Moments about the left joint: V_r = (sum of R h - M) / L.
  const shear = (order: typeof rooms, moment: number): number => {
    let rest = Math.max(0, moment - pushed);
    let turned = ties.reduce((sum, h) => sum + least * h, 0);
    for (const { h, room } of order) {
      const r = Math.min(room, rest / (length - h));
      rest -= r * (length - h);
      turned += r * h;
    }
    return (turned - load.moment) / length;
  };
  return [shear(rooms, from), shear([...rooms].reverse(), to)];
};

/** A group with more supports than two, its ties and the left neighbour, that stands without its right one. */
const manyTied = (
  left: { readonly lo: number; readonly hi: number },
  length: number,
  load: StripLoad,
  ties: readonly number[],
  limits: ChainLimits,
): ChainState | null => {
  const cap = Math.min(limits.tipGu(length - ties[ties.length - 1]!), 1e9);
  if (ties.some((_, i) => mostOf(limits, i) === Number.POSITIVE_INFINITY)) return { kind: 'F', lo: -1e9, hi: cap };
  const found = spread(left, length, load, ties, limits);
  if (!found) return null;
  const hi = Math.min(found[1], cap);
  return found[0] <= hi + SLACK ? { kind: 'F', lo: found[0], hi } : null;
};

/** x0 + x1 V_r */
type Line = readonly [x0: number, x1: number];

/** Shears from the right that keep a line between two values. */
const keeping = (open: [number, number] | null, [x0, x1]: Line, lo: number, hi: number) => within(open, x0, x1, lo, hi);

/** The right end of a group whose ties at h1 and h2 (or its left joint at h1 = 0) move out by r1 and r2. */
const tipOf = (length: number, h1: number, h2: number, r1: Line, r2: Line): Tip => {
  const a = (length - h1) / (h2 - h1);
  return { at: r1[0] + (r2[0] - r1[0]) * a, per: r1[1] + (r2[1] - r1[1]) * a };
};

/** F, two ties that are springs of stiffness 1, on a left neighbour whose joint gives way by `tip`: R1, R2 and the joint lie on one line. */
const redundantSprings = (
  state: { readonly lo: number; readonly hi: number; readonly tip: Tip },
  length: number,
  load: StripLoad,
  h1: number,
  h2: number,
  limits: ChainLimits,
): ChainState | null => {
  const g = h2 - h1;
  const { at, per } = state.tip;
  const [a, b] = [-(h2 + g * per), h1 - g * per];
  const det = a * h2 - b * h1;
  // Moments about the left joint, h1 R1 + h2 R2 = q; and h1 R2 - h2 R1 + g u = 0 with u = at + per (A + V_r - R1 - R2).
  const solve = (p: number, q: number): [number, number] => [(p * h2 - b * q) / det, (a * q - h1 * p) / det];
  const [c1, c2] = solve(-g * (at + per * load.size), load.moment);
  const [s1, s2] = solve(-g * per, length);
  const [r1, r2]: Line[] = [
    [c1, s1],
    [c2, s2],
  ];
  let open: [number, number] | null = [Number.NEGATIVE_INFINITY, limits.tipGu(length - h2)];
  open = keeping(open, r1!, limits.leastGu, mostOf(limits, 0));
  open = keeping(open, r2!, limits.leastGu, mostOf(limits, 1));
  open = keeping(open, [load.size - c1 - c2, 1 - s1 - s2], state.lo, state.hi);
  return open && { kind: 'F', lo: open[0], hi: open[1], tip: tipOf(length, h1, h2, r1!, r2!) };
};

/** State C with one or two ties. */
const fromCarried = (
  state: { lo: number; hi: number },
  length: number,
  load: StripLoad,
  ties: readonly number[],
  limits: ChainLimits,
  followsTips: boolean,
): ChainState | null => {
  const [h1, h2] = ties;
  if (h1 === undefined) return null;
  let v = within([state.lo, state.hi], 0, 1, Number.NEGATIVE_INFINITY, limits.tipGu(h1));
  // What is handed on from the left is what this group does not hand to it.
  if (ties.length > 2) return v && manyTied({ lo: -v[1], hi: -v[0] }, length, load, ties, limits);
  if (h2 === undefined) {
    // Moments about the right joint: R = a + b V; V_r = V + A - R.
    const a = (load.size * length - load.moment) / (length - h1);
    const b = length / (length - h1);
    v = within(v, a, b, limits.leastGu, mostOf(limits, 0));
    if (!v) return null;
    const after = (x: number) => x + load.size - (a + b * x);
    return { kind: 'C', lo: Math.min(after(v[0]), after(v[1])), hi: Math.max(after(v[0]), after(v[1])) };
  }
  if (!v) return null;
  // Moments about the first tie: R2 = m - V k + b V_r with k = h1 / (h2 - h1); R1 = A + V + V_r - R2. More V lowers R2 and raises R1.
  const [lo, hi] = v;
  const k = h1 / (h2 - h1);
  const m = (load.moment - load.size * h1) / (h2 - h1);
  const b = (length - h1) / (h2 - h1);
  const first = (x: number) => load.size - m + x * (1 + k);
  let open: [number, number] | null = [Number.NEGATIVE_INFINITY, limits.tipGu(length - h2)];
  open = within(open, m - hi * k, b, Number.NEGATIVE_INFINITY, mostOf(limits, 1));
  open = within(open, m - lo * k, b, limits.leastGu, Number.POSITIVE_INFINITY);
  open = within(open, first(lo), 1 - b, Number.NEGATIVE_INFINITY, mostOf(limits, 0));
  open = within(open, first(hi), 1 - b, limits.leastGu, Number.POSITIVE_INFINITY);
  if (!open || !followsTips) return asFixed(open);
  const middle = (lo + hi) / 2;
  const tip = tipOf(length, h1, h2, [first(middle), 1 - b], [m - middle * k, b]);
  return { kind: 'F', lo: open[0], hi: open[1], tip };
};

/** State F with none, one or two ties. */
const fromFixed = (
  state: { readonly lo: number; readonly hi: number; readonly tip?: Tip },
  length: number,
  load: StripLoad,
  ties: readonly number[],
  limits: ChainLimits,
): ChainState | null => {
  const [h1, h2] = ties;
  if (h1 === undefined) {
    const right = load.moment / length;
    const left = load.size - right;
    return left >= state.lo - SLACK && left <= state.hi + SLACK ? { kind: 'C', lo: right, hi: right } : null;
  }
  if (ties.length > 2) return manyTied(state, length, load, ties, limits);
  const { tip } = state;
  if (h2 !== undefined)
    return tip
      ? redundantSprings({ ...state, tip }, length, load, h1, h2, limits)
      : manyTied(state, length, load, ties, limits);
  // Moments about the left joint: R = (M + V_r L) / h; V_l = A + V_r - R.
  let open: [number, number] | null = [Number.NEGATIVE_INFINITY, limits.tipGu(length - h1)];
  open = within(open, load.moment / h1, length / h1, limits.leastGu, mostOf(limits, 0));
  open = within(open, load.size - load.moment / h1, 1 - length / h1, state.lo, state.hi);
  if (!open || !tip) return asFixed(open);
  const joint: Line = [tip.at + tip.per * (load.size - load.moment / h1), tip.per * (1 - length / h1)];
  const own: Line = [load.moment / h1, length / h1];
  return { kind: 'F', lo: open[0], hi: open[1], tip: tipOf(length, 0, h1, joint, own) };
};

/** Sets one group of `length` with `ties` (from its left joint) after `state`; null when it cannot stand or a tie leaves its limits. `followsTips`: redundant ties are equal springs. */
export const setGroup = (
  state: ChainState,
  length: number,
  load: StripLoad,
  ties: readonly number[],
  limits: ChainLimits,
  followsTips = false,
): ChainState | null =>
  state.kind === 'C'
    ? fromCarried(state, length, load, ties, limits, followsTips)
    : fromFixed(state, length, load, ties, limits);

/**
 * Sets a group that needs its right neighbour beside what else holds it: its left one (F) and a tie at least, or (C) two ties. What it hands to the right is
 * not settled by statics: any split within limits counts.
 */
export const setLeaning = (
  state: ChainState,
  length: number,
  load: StripLoad,
  ties: readonly number[],
  limits: ChainLimits,
): ChainState | null => {
  let left: { readonly lo: number; readonly hi: number } = state;
  if (state.kind === 'C') {
    const v = within([state.lo, state.hi], 0, 1, Number.NEGATIVE_INFINITY, limits.tipGu(ties[0]!));
    if (!v) return null;
    // What is handed on from the left is what this group does not hand to it.
    left = { lo: -v[1], hi: -v[0] };
  }
  const found = spread(left, length, load, ties, limits);
  return found && { kind: 'C', lo: -found[1], hi: -found[0] };
};

/** Can the chain end here with this shear from the right (a leg, half of an end zone, 0 at a free end)? */
export const canEnd = (state: ChainState, v: number): boolean =>
  state.kind === 'F' && v >= state.lo - SLACK && v <= state.hi + SLACK;

/** The chain that takes `v` from what stands before it: a leg, half of an end zone, nothing at a free end. */
export const carried = (v: number): ChainState => ({ kind: 'C', lo: v, hi: v });

/** Whether a takes every shear that b takes. */
export const covers = (a: ChainState, b: ChainState): boolean => a.lo <= b.lo && a.hi >= b.hi;

/** The state widened outwards to multiples of `grain`; 0 leaves it as it is. */
export const coarsen = (state: ChainState, grain: number): ChainState =>
  grain === 0 ? state : { ...state, lo: Math.floor(state.lo / grain) * grain, hi: Math.ceil(state.hi / grain) * grain };
