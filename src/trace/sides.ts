/**
 * On which side of each chain of linework does concrete lie? In: strips and chains; out: a side for each chain such that as much wall
 * as possible has both its faces, thin walls before thick ones.
 *
 * A strip is concrete when the chains on both its faces have their concrete towards it; its worth is its length less a share for
 * thickness. The best choice is sought by a start from pairing the rows of lines station by station (exact for lines that
 * stand alone), then by turning single chains and pairs of chains while that gains. Where chains are long outlines, the pairing
 * of one place decides for the whole outline: a room's outline does not turn a room into a wall.
 *
 * Not proven best: a plan whose choice needs three chains turned at once can stay at a lesser choice; the lines that then
 * find no partner are reported like all others.
 */

import { WALL_MOST_MM } from '../ground/tolerance.js';
import { edgeAt, type Graph, signedArea } from './graph.js';
import { type Interval, overlap } from './intervals.js';
import type { LineSet } from './lines.js';
import { isWallThickness, type Station, type Strip } from './strips.js';

/** Part of a strip between one edge and one edge. */
export interface SubStrip extends Interval {
  readonly strip: number;
  readonly lowEdge: number;
  readonly highEdge: number;
}

/** Worth of a strip per mm: half at the thickest wall, so that of two readings the one with thinner walls wins. */
const worthPerMm = (thicknessMm: number): number => 1 - thicknessMm / (2 * WALL_MOST_MM);
/** A strip shorter than the least aspect times its thickness is rarely a wall; it must not outweigh one. */
const SHORT_SHARE = 0.2;
/** Worth (mm) of keeping the side where a line runs on through a meeting; only a tie-break. */
const RUN_ON_MM = 10;
/** Worth of the inside of an outline, as a share of its length; only a tie-break. */
const INSIDE_SHARE = 0.01;
/** Worth per mm of the side on which a fill shows concrete: more than any pairing can gain. */
const FILL_PER_MM = 4;
const GAIN_LEAST = 1e-6;
const PASSES_MOST = 60;

/** +1: concrete to the left of the chain's run, -1: to its right. */
export type ChainSides = readonly (1 | -1)[];

/** The strips of wall thickness, cut where the edges of either face change. */
export const cutStrips = (graph: Graph, strips: readonly Strip[]): SubStrip[] => {
  const out: SubStrip[] = [];
  strips.forEach((s, strip) => {
    if (!isWallThickness(s.thicknessMm)) return;
    for (let i = edgeAt(graph, s.low, s.a); i < graph.edgesOf[s.low]![1]; i++) {
      if (graph.edges[i]!.a >= s.b) break;
      const p = overlap(s, graph.edges[i]!);
      if (!p) continue;
      for (let j = edgeAt(graph, s.high, p.a); j < graph.edgesOf[s.high]![1]; j++) {
        const q = overlap(p, graph.edges[j]!);
        if (q) out.push({ strip, lowEdge: i, highEdge: j, a: q.a, b: q.b });
        else if (graph.edges[j]!.a >= p.b) break;
      }
    }
  });
  return out;
};

interface Bond {
  readonly i: number;
  readonly si: 1 | -1;
  readonly j: number;
  readonly sj: 1 | -1;
  readonly worth: number;
}

const stripWorth = (s: Strip, aspectLeast: number): number =>
  worthPerMm(s.thicknessMm) * (s.b - s.a >= aspectLeast * s.thicknessMm ? 1 : SHORT_SHARE);

const makeBonds = (
  set: LineSet,
  graph: Graph,
  strips: readonly Strip[],
  subs: readonly SubStrip[],
  aspectLeast: number,
  shown: readonly number[],
): Bond[] => {
  const bonds: Bond[] = [];
  for (const sub of subs) {
    const low = graph.chainOf[sub.lowEdge]!;
    const high = graph.chainOf[sub.highEdge]!;
    const worth = stripWorth(strips[sub.strip]!, aspectLeast) * (sub.b - sub.a);
    // Left of an edge's u is +v: the low face wants its concrete there, the high face on the other side.
    bonds.push({ i: low.chain, si: low.sense, j: high.chain, sj: high.sense === 1 ? -1 : 1, worth });
  }
  set.lines.forEach((_, line) => {
    const [first, end] = graph.edgesOf[line]!;
    for (let e = first; e + 1 < end; e++) {
      const p = graph.chainOf[e]!;
      const q = graph.chainOf[e + 1]!;
      if (p.chain === q.chain) continue;
      for (const s of [1, -1] as const) {
        bonds.push({
          i: p.chain,
          si: p.sense === s ? 1 : -1,
          j: q.chain,
          sj: q.sense === s ? 1 : -1,
          worth: RUN_ON_MM,
        });
      }
    }
  });
  shown.forEach((mm, i) => {
    const s = mm > 0 ? 1 : -1;
    if (mm !== 0) bonds.push({ i, si: s, j: i, sj: s, worth: FILL_PER_MM * Math.abs(mm) });
  });
  graph.chains.forEach((chain, i) => {
    if (!chain.closed) return;
    const lengthMm = chain.links.reduce((sum, l) => sum + graph.edges[l.edge]!.b - graph.edges[l.edge]!.a, 0);
    const inside = signedArea(graph, chain) > 0 ? 1 : -1;
    bonds.push({ i, si: inside, j: i, sj: inside, worth: INSIDE_SHARE * lengthMm });
  });
  return bonds;
};

/** Best pairing of neighbours along one row of lines: each line in at most one pair. Gives the low line's place of each pair. */
const pairRow = (worth: readonly number[]): number[] => {
  const best = [0, 0];
  for (let k = 0; k < worth.length; k++) best.push(Math.max(best[k + 1]!, best[k]! + worth[k]!));
  const out: number[] = [];
  for (let k = worth.length; k > 0; ) {
    if (best[k + 1]! > best[k]! && worth[k - 1]! > 0) {
      out.push(k - 1);
      k -= 2;
    } else k -= 1;
  }
  return out;
};

/** Votes of the stations' own best pairings for each chain's side. */
const startFromRows = (set: LineSet, graph: Graph, byStation: readonly (readonly Station[])[]): (1 | -1)[] => {
  const votes = graph.chains.map(() => 0);
  for (const list of byStation) {
    for (const s of list) {
      const v = s.lines.map((l) => set.lines[l]!.v);
      const worth = v.slice(1).map((x, i) => (isWallThickness(x - v[i]!) ? worthPerMm(x - v[i]!) : 0));
      for (const k of pairRow(worth)) {
        const mid = (s.a + s.b) / 2;
        const mm = (s.b - s.a) * worth[k]!;
        const low = graph.chainOf[edgeAt(graph, s.lines[k]!, mid)]!;
        const high = graph.chainOf[edgeAt(graph, s.lines[k + 1]!, mid)]!;
        votes[low.chain]! += low.sense * mm;
        votes[high.chain]! -= high.sense * mm;
      }
    }
  }
  return votes.map((x) => (x >= 0 ? 1 : -1));
};

const startFromWorth = (count: number, bonds: readonly Bond[]): (1 | -1)[] => {
  const votes = Array.from({ length: count }, () => 0);
  for (const b of bonds) {
    votes[b.i]! += b.si * b.worth;
    votes[b.j]! += b.sj * b.worth;
  }
  return votes.map((x) => (x >= 0 ? 1 : -1));
};

/** Turns chains, singly and in bonded pairs, while the total worth rises. Works in place; gives the worth reached. */
const climb = (side: (1 | -1)[], bonds: readonly Bond[]): number => {
  const of: number[][] = side.map(() => []);
  bonds.forEach((b, k) => {
    of[b.i]!.push(k);
    if (b.j !== b.i) of[b.j]!.push(k);
  });
  const worthOf = (k: number) => {
    const b = bonds[k]!;
    return side[b.i] === b.si && side[b.j] === b.sj ? b.worth : 0;
  };
  const turn = (chains: readonly number[]) => {
    for (const c of chains) side[c] = side[c] === 1 ? -1 : 1;
  };
  const tryTurn = (chains: readonly number[]): boolean => {
    const touched = new Set(chains.flatMap((c) => of[c]!));
    let before = 0;
    for (const k of touched) before += worthOf(k);
    turn(chains);
    let after = 0;
    for (const k of touched) after += worthOf(k);
    if (after > before + GAIN_LEAST) return true;
    turn(chains);
    return false;
  };
  const pairs = [
    ...new Map(bonds.filter((b) => b.i !== b.j).map((b) => [`${b.i} ${b.j}`, [b.i, b.j] as const])).values(),
  ];
  for (let pass = 0, moved = true; moved && pass < PASSES_MOST; pass++) {
    moved = false;
    for (let i = 0; i < side.length; i++) if (tryTurn([i])) moved = true;
    for (const pair of pairs) if (tryTurn(pair)) moved = true;
  }
  return bonds.reduce((sum, _, k) => sum + worthOf(k), 0);
};

/**
 * `aspectLeast`: how many times as long as thick a strip has to be to count in full. `shown`: for each chain the length (mm) along which fills
 * show concrete on the left of its run, less that on its right; empty where there are none.
 */
export const chooseSides = (
  set: LineSet,
  graph: Graph,
  strips: readonly Strip[],
  subs: readonly SubStrip[],
  byStation: readonly (readonly Station[])[],
  aspectLeast: number,
  shown: readonly number[] = [],
): ChainSides => {
  const bonds = makeBonds(set, graph, strips, subs, aspectLeast, shown);
  const first = startFromRows(set, graph, byStation);
  const second = startFromWorth(graph.chains.length, bonds);
  const firstWorth = climb(first, bonds);
  const secondWorth = climb(second, bonds);
  return secondWorth > firstWorth + GAIN_LEAST ? second : first;
};

/** Does concrete fill this part of a strip? */
export const isConcrete = (graph: Graph, sides: ChainSides, sub: SubStrip): boolean => {
  const low = graph.chainOf[sub.lowEdge]!;
  const high = graph.chainOf[sub.highEdge]!;
  return sides[low.chain] === low.sense && sides[high.chain] === -high.sense;
};
