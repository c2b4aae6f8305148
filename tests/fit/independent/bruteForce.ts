/**
 * The least cost of a short run by plain enumeration: every number of panels, fillers and timber that closes it, in the order of their cost,
 * in every order along the wall, with every choice of tie holes. No bound but the count of what stands there, no state but the wall so far.
 *
 * A chain is judged twice: hinge after hinge from the start (what may hang on the next joint with every tie in [0, T], which also tells early
 * that nothing further can help), and once complete by `fixedByIteration` (plain iteration of rule T10).
 *
 * At most one strip of timber stands between the end zones, beside those on the legs.
 */

import { matrixReactions } from '../../support/chainMatrix.js';
import {
  type Cost,
  type EndChoice,
  fillersOf,
  type Group,
  loadOn,
  ratedOver,
  timberGroup,
  tipStripMm,
  unitsOf,
  type Zone,
} from './problem.js';

export interface Placed {
  readonly group: Group;
  readonly fromMm: number;
  readonly tiesMm: readonly number[];
}

export interface Found {
  readonly cost: Cost;
  readonly start: EndChoice;
  readonly end: EndChoice;
  readonly placed: readonly Placed[];
}

const EPS = 1e-7;

/** What the part of the wall left of a joint may hand to the part right of it, per face; `fixed`: the left part stands without the right. */
interface Handed {
  readonly fixed: boolean;
  readonly range: readonly (readonly [number, number])[];
}

type Point = readonly [number, number];

/** The part of a convex polygon where a x + b y is at most c. */
const cut = (polygon: readonly Point[], a: number, b: number, c: number): Point[] => {
  const value = ([x, y]: Point) => a * x + b * y - c;
  return polygon.flatMap((p, i) => {
    const q = polygon[(i + 1) % polygon.length]!;
    const [vp, vq] = [value(p), value(q)];
    const kept = vp <= EPS ? [p] : [];
    if ((vp < -EPS && vq > EPS) || (vp > EPS && vq < -EPS)) {
      const t = vp / (vp - vq);
      kept.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
    }
    return kept;
  });
};

/**
 * What a group hands on, given what it is handed: statics of one rigid body with reactions in [0, T]. `most` are the strips that may hang
 * on its left and right tip. With reactions R at h: right = (moment - sum R h) / L, left = sum R - load + right.
 */
const handOn = (
  lengthMm: number,
  load: { sum: number; moment: number },
  ties: readonly number[],
  strip: number,
  handed: readonly [number, number],
  most: readonly [number, number],
): readonly [number, number] | null => {
  const [h1, h2] = [ties[0] ?? 0, ties[1] ?? 0];
  const [t1, t2] = [ties.length > 0 ? strip : 0, ties.length > 1 ? strip : 0];
  let corners: Point[] = [
    [0, 0],
    [t1, 0],
    [t1, t2],
    [0, t2],
  ];
  const [l1, l2] = [1 - h1 / lengthMm, 1 - h2 / lengthMm];
  const l0 = load.moment / lengthMm - load.sum;
  corners = cut(corners, l1, l2, Math.min(handed[1], most[0]) - l0);
  corners = cut(corners, -l1, -l2, l0 - handed[0]);
  // What hangs on the right tip is what is handed on with its sign changed.
  corners = cut(corners, h1 / lengthMm, h2 / lengthMm, most[1] + load.moment / lengthMm);
  if (corners.length === 0) return null;
  const on = corners.map(([r1, r2]) => (load.moment - r1 * h1 - r2 * h2) / lengthMm);
  return [Math.min(...on), Math.max(...on)];
};

const setNext = (
  zone: Zone,
  group: Group,
  fromMm: number,
  ties: readonly number[],
  before: readonly Handed[],
): Handed[] => {
  const load = loadOn(zone, group, fromMm);
  const after: Handed[] = [];
  for (const left of before)
    for (const fixed of [true, false]) {
      // The left hinge supports where the left part is fixed without this group, the right hinge where the right part will be.
      const supports = [...(left.fixed ? [0] : []), ...ties, ...(fixed ? [] : [group.lengthMm])];
      if (supports.length < 2) continue;
      const tips = [supports[0]!, group.lengthMm - supports[supports.length - 1]!];
      const most = tips.map((o) => tipStripMm(zone, group, o));
      if (most[0] === null || most[1] === null) continue;
      if (supports.some((s, i) => i > 0 && ratedOver(group, s - supports[i - 1]!) < zone.designKpa - 1e-9)) continue;
      const range = left.range.map((r) => handOn(group.lengthMm, load, ties, zone.tieStripMm, r, [most[0]!, most[1]!]));
      if (range.some((r) => r === null)) continue;
      after.push({ fixed, range: range as [number, number][] });
    }
  return after;
};

/** Plain iteration: a group is fixed by its ties and by the hinges to groups that are fixed already, where `stands` says that these supports hold it. */
const allFixed = (
  placed: readonly Placed[],
  stands: (group: Group, supportsMm: readonly number[], i: number) => boolean,
): boolean => {
  const fixed = placed.map(() => false);
  for (let changed = true; changed; ) {
    changed = false;
    for (const [i, { group, tiesMm }] of placed.entries()) {
      if (fixed[i]) continue;
      const at = [...(fixed[i - 1] ? [0] : []), ...tiesMm, ...(fixed[i + 1] ? [group.lengthMm] : [])];
      if (at.length < 2 || !stands(group, at, i)) continue;
      fixed[i] = true;
      changed = true;
    }
  }
  return fixed.every(Boolean);
};

/** Rule T10: a group is fixed by two supports that it overhangs by no more than the catalogue allows. */
export const fixedByIteration = (placed: readonly Placed[], overhangMm: number): boolean =>
  allFixed(placed, ({ lengthMm }, at) => Math.min(...at) <= overhangMm && lengthMm - Math.max(...at) <= overhangMm);

/**
 * Does a chain hold when its ties are equal springs, whatever else could balance it: every tie in [0, T], and each group fixed by two supports between
 * which it carries the pressure and beyond which it carries what then hangs on its tips? By the stiffness matrix and plain iteration.
 */
const holdsOnEqualTies = (zone: Zone, placed: readonly Placed[], start: EndChoice, end: EndChoice): boolean =>
  [0, 1].every((face) => {
    const joints = [...placed.map((p) => p.fromMm), end.jointMm];
    const loads = placed.map((p) => loadOn(zone, p.group, p.fromMm));
    const stations = placed.flatMap((p) => p.tiesMm.map((h) => p.fromMm + h));
    const found = matrixReactions(joints, stations, start.shearsMm[face]!, end.shearsMm[face]!, loads);
    if (!found || found.some((r) => r < -1e-6 || r > zone.tieStripMm + 1e-6)) return false;
    const shears = [start.shearsMm[face]!];
    placed.forEach(({ fromMm, group }, i) => {
      const taken = found.filter((_, k) => stations[k]! > fromMm && stations[k]! < fromMm + group.lengthMm);
      shears.push(shears[i]! + loads[i]!.sum - taken.reduce((a, b) => a + b, 0));
    });
    return allFixed(placed, (group, at, i) => {
      if (at.some((s, k) => k > 0 && ratedOver(group, s - at[k - 1]!) < zone.designKpa - 1e-9)) return false;
      const most = [at[0]!, group.lengthMm - at[at.length - 1]!].map((o) => tipStripMm(zone, group, o));
      const hangs = [shears[i]!, -shears[i + 1]!];
      return most.every((m, k) => m !== null && hangs[k]! <= m + 1e-6);
    });
  });

/** What stands in the zone, not yet in order. */
interface Bag {
  readonly start: EndChoice;
  readonly end: EndChoice;
  /** Panel width → how many; filler width → how many. */
  readonly panels: ReadonlyMap<number, number>;
  readonly fillers: ReadonlyMap<number, number>;
  readonly timberMm: number;
  readonly groups: number;
  readonly head: readonly [number, number, number];
  readonly units: number;
  readonly runPastMm: number;
}

const countsUpTo = (
  widths: readonly number[],
  mostMm: number,
): { counts: Map<number, number>; sum: number; n: number }[] => {
  let list = [{ counts: new Map<number, number>(), sum: 0, n: 0 }];
  for (const w of widths)
    list = list.flatMap((x) =>
      Array.from({ length: Math.floor((mostMm - x.sum) / w) + 1 }, (_, n) => ({
        counts: n > 0 ? new Map([...x.counts, [w, n]]) : x.counts,
        sum: x.sum + n * w,
        n: x.n + n,
      })),
    );
  return list;
};

const bagsWith = (zone: Zone, places: number): Bag[] => {
  const panelWidths = [...new Set(zone.groups.map((g) => g.panelMm))];
  const fillerWidths = [...new Set(zone.groups.flatMap((g) => g.fillersMm))];
  const mostFillers = Math.max(...zone.groups.map((g) => g.fillersMm.length));
  const bags: Bag[] = [];
  const longest = Math.max(...zone.ends.map((e) => e.jointMm)) - Math.min(...zone.starts.map((s) => s.jointMm));
  const widestFillers = Math.max(0, ...fillerWidths) * mostFillers;
  const sets = countsUpTo(panelWidths, longest).map((p) => ({
    ...p,
    fillers: countsUpTo(fillerWidths, p.n * widestFillers).filter((f) => f.n <= p.n * mostFillers),
  }));
  for (const start of zone.starts)
    for (const end of zone.ends) {
      const zoneMm = end.jointMm - start.jointMm;
      const strips = places - (start.padMm > 0 ? 1 : 0) - (end.padMm > 0 ? 1 : 0);
      if (zoneMm <= 0 || strips < 0 || strips > 1) continue;
      for (const p of sets) {
        if (p.n === 0 || p.sum > zoneMm) continue;
        for (const f of p.fillers) {
          const timberMm = zoneMm - p.sum - f.sum;
          if (strips === 0 ? timberMm !== 0 : timberMm < zone.timberLeastMm || timberMm > zone.timberMostMm) continue;
          bags.push({
            start,
            end,
            panels: p.counts,
            fillers: f.counts,
            timberMm,
            groups: p.n + strips,
            head: [places, start.padMm + end.padMm + 2 * timberMm, 2 * f.n + fillersOf(start) + fillersOf(end)],
            units: 2 * (p.n + f.n) + unitsOf(start) + unitsOf(end),
            runPastMm: start.runPastMm + end.runPastMm,
          });
        }
      }
    }
  return bags;
};

/** Thrown where the enumeration would take too long to be worth it. */
export class TooMany extends Error {}

interface Budget {
  left: number;
}

/** Some order and some `tieCount` stations with which the bag stands; null where there is none. */
const standing = (zone: Zone, bag: Bag, tieCount: number, budget: Budget, sharing: Sharing): Placed[] | null => {
  const panels = new Map(bag.panels);
  const fillers = new Map(bag.fillers);
  const placed: Placed[] = [];
  let timberLeft = bag.timberMm > 0;
  const take = (g: Group, n: 1 | -1) => {
    panels.set(g.panelMm, (panels.get(g.panelMm) ?? 0) - n);
    for (const f of g.fillersMm) fillers.set(f, (fillers.get(f) ?? 0) - n);
  };
  const finished = (handed: readonly Handed[]): boolean => {
    const ties = placed.flatMap((p) => p.tiesMm.map((h) => p.fromMm + h));
    const before = zone.tieAtOrBefore;
    const after = zone.tieAtOrAfter;
    if (before !== null && !ties.some((s) => s <= before)) return false;
    if (after !== null && !ties.some((s) => s >= after)) return false;
    const hangs = bag.end.shearsMm;
    const holds = handed.some(
      (x) => x.fixed && x.range.every(([lo, hi], face) => lo - EPS <= -hangs[face]! && -hangs[face]! <= hi + EPS),
    );
    if (holds && !fixedByIteration(placed, zone.overhangMm))
      throw new Error('the two ways to see a fixed chain differ');
    return holds && (sharing === 'any' || holdsOnEqualTies(zone, placed, bag.start, bag.end));
  };
  const visit = (atMm: number, handed: readonly Handed[], left: number, tiesLeft: number): boolean => {
    if (left === 0) return tiesLeft === 0 && finished(handed);
    // Every group needs a support; the first of those to come one more unless what stands is fixed.
    const least = left + (handed.some((x) => x.fixed) ? 0 : 1);
    if (tiesLeft < least || tiesLeft > 2 * left) return false;
    const tryGroup = (g: Group): boolean => {
      const holes = g.holesMm.filter((h) => zone.mayTie(atMm + h));
      for (let mask = 0; mask < 1 << holes.length; mask++) {
        const ties = holes.filter((_, i) => mask & (1 << i));
        if (budget.left-- <= 0) throw new TooMany();
        const next = setNext(zone, g, atMm, ties, handed);
        if (next.length === 0) continue;
        placed.push({ group: g, fromMm: atMm, tiesMm: ties });
        if (visit(atMm + g.lengthMm, next, left - 1, tiesLeft - ties.length)) return true;
        placed.pop();
      }
      return false;
    };
    for (const g of zone.groups) {
      take(g, 1);
      const enough =
        panels.get(g.panelMm)! >= 0 &&
        g.fillersMm.every((f) => fillers.get(f)! >= 0) &&
        (left > 1 || (!timberLeft && [...fillers.values()].every((n) => n === 0)));
      if (enough && tryGroup(g)) return true;
      take(g, -1);
    }
    if (!timberLeft) return false;
    timberLeft = false;
    if (tryGroup(timberGroup(bag.timberMm))) return true;
    timberLeft = true;
    return false;
  };
  const hung: Handed = { fixed: false, range: bag.start.shearsMm.map((v) => [v, v] as const) };
  return visit(bag.start.jointMm, [hung], bag.groups, tieCount) ? placed : null;
};

const compareHeads = (a: readonly number[], b: readonly number[]): number => {
  for (const [i, x] of a.entries()) if (x !== b[i]) return x - b[i]!;
  return 0;
};

/** Two pads and one strip between them. */
const MOST_PLACES = 3;

/** How ties share what statics does not settle: any way that holds, or as equal springs. */
export type Sharing = 'any' | 'equal';

/** Least cost; null where nothing stands. Throws `TooMany` after `stepLimit` groups set. */
export const bruteForce = (zone: Zone, stepLimit = 2_000_000, sharing: Sharing = 'any'): Found | null => {
  const budget = { left: stepLimit };
  for (let places = 0; places <= MOST_PLACES; places++) {
    const bags = bagsWith(zone, places).sort((a, b) => compareHeads(a.head, b.head));
    for (let i = 0; i < bags.length; ) {
      let j = i;
      while (j < bags.length && compareHeads(bags[j]!.head, bags[i]!.head) === 0) j++;
      const tries = bags.slice(i, j).flatMap((bag) =>
        // n hinged groups never stand on fewer than n + 1 ties; each panel has two holes at most.
        Array.from({ length: bag.groups }, (_, n) => ({
          bag,
          ties: bag.groups + 1 + n,
          tail: [zone.rows * (bag.groups + 1 + n) + bag.units, bag.runPastMm] as const,
        })),
      );
      tries.sort((a, b) => compareHeads(a.tail, b.tail));
      for (const { bag, ties, tail } of tries) {
        const placed = standing(zone, bag, ties, budget, sharing);
        if (placed) return { cost: [...bag.head, ...tail], start: bag.start, end: bag.end, placed };
      }
      i = j;
    }
  }
  return null;
};
