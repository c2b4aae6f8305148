/**
 * Courses of forms as a vertical beam on tie rows: rigid supports, hinges at the joints of the courses, one bending stiffness throughout.
 *
 * Method: displacement method with cubic beam elements between supports and joints, fixed-end forces integrated exactly over each linear
 * piece of the load; exact for a beam of constant stiffness (with three or more rows the same as the equation of three moments).
 * Lengths in m, forces in kN per m of wall.
 */

import type { LinearPiece } from './envelope.js';
import { solveDense } from './solve.js';

export interface Beam {
  /** Levels of the joints of the courses, foot and top included, rising. */
  readonly jointsM: readonly number[];
  /** Levels of the supports, rising. */
  readonly supportsM: readonly number[];
  readonly loads: readonly LinearPiece[];
}

/** Levels closer than this are one. */
const SAME_M = 1e-6;

/** Three Gauss points on [0, 1]: exact for polynomials of degree 5, and load times shape function has degree 4. */
const GAUSS: readonly (readonly [number, number])[] = [
  [0.5 - Math.sqrt(0.15), 5 / 18],
  [0.5, 8 / 18],
  [0.5 + Math.sqrt(0.15), 5 / 18],
];

/** Cubic shape functions of an element of length l at t = x / l: displacement and rotation of either end. */
const shapes = (t: number, l: number): [number, number, number, number] => [
  1 - 3 * t * t + 2 * t ** 3,
  l * (t - 2 * t * t + t ** 3),
  3 * t * t - 2 * t ** 3,
  l * (t ** 3 - t * t),
];

const stiffness = (l: number): number[][] => {
  const c = 1 / l ** 3;
  return [
    [12, 6 * l, -12, 6 * l],
    [6 * l, 4 * l * l, -6 * l, 2 * l * l],
    [-12, -6 * l, 12, -6 * l],
    [6 * l, 2 * l * l, -6 * l, 4 * l * l],
  ].map((row) => row.map((x) => x * c));
};

/** The load on [a, b] as forces at the element's four freedoms. */
const nodalLoads = (loads: readonly LinearPiece[], a: number, b: number): number[] => {
  const f = [0, 0, 0, 0];
  for (const piece of loads) {
    const [low, high] = [piece.lowMm / 1000, piece.highMm / 1000];
    const from = Math.max(a, low);
    const to = Math.min(b, high);
    if (to <= from) continue;
    for (const [g, weight] of GAUSS) {
      const z = from + (to - from) * g;
      const p = piece.lowKpa + ((piece.highKpa - piece.lowKpa) * (z - low)) / (high - low);
      shapes((z - a) / (b - a), b - a).forEach((n, i) => {
        f[i] = f[i]! + n * p * weight * (to - from);
      });
    }
  }
  return f;
};

/** Freedoms of a node: one displacement; one rotation, or two at a hinge. */
interface Node {
  readonly at: number;
  readonly move: number;
  readonly turnBelow: number;
  readonly turnAbove: number;
  readonly support: number | null;
}

const nodesOf = ({ jointsM, supportsM }: Beam): { nodes: Node[]; freedoms: number } => {
  const levels = [...jointsM, ...supportsM].sort((a, b) => a - b);
  const distinct = levels.filter((z, i) => i === 0 || z - levels[i - 1]! > SAME_M);
  let next = 0;
  const nodes = distinct.map((at, i): Node => {
    const inside = i > 0 && i < distinct.length - 1;
    const hinge = inside && jointsM.some((z) => Math.abs(z - at) <= SAME_M);
    const move = next++;
    const turnBelow = next++;
    const turnAbove = hinge ? next++ : turnBelow;
    const support = supportsM.findIndex((z) => Math.abs(z - at) <= SAME_M);
    return { at, move, turnBelow, turnAbove, support: support < 0 ? null : support };
  });
  return { nodes, freedoms: next };
};

/** Freedoms of an element between two neighbouring nodes. */
const freedomsAt = (nodes: readonly Node[], e: number): [number, number, number, number] => {
  const [a, b] = [nodes[e]!, nodes[e + 1]!];
  return [a.move, a.turnAbove, b.move, b.turnBelow];
};

const wholeStiffness = (nodes: readonly Node[], freedoms: number): number[][] => {
  const k = Array.from({ length: freedoms }, () => new Array<number>(freedoms).fill(0));
  for (let e = 0; e + 1 < nodes.length; e++) {
    const at = freedomsAt(nodes, e);
    const ke = stiffness(nodes[e + 1]!.at - nodes[e]!.at);
    at.forEach((i, r) => {
      at.forEach((j, c) => {
        k[i]![j] = k[i]![j]! + ke[r]![c]!;
      });
    });
  }
  return k;
};

const wholeLoads = (nodes: readonly Node[], freedoms: number, loads: readonly LinearPiece[]): number[] => {
  const f = new Array<number>(freedoms).fill(0);
  for (let e = 0; e + 1 < nodes.length; e++) {
    const fe = nodalLoads(loads, nodes[e]!.at, nodes[e + 1]!.at);
    freedomsAt(nodes, e).forEach((i, r) => {
      f[i] = f[i]! + fe[r]!;
    });
  }
  return f;
};

const freeOf = (nodes: readonly Node[], freedoms: number): number[] => {
  const held = new Set(nodes.filter((n) => n.support !== null).map((n) => n.move));
  return Array.from({ length: freedoms }, (_, i) => i).filter((i) => !held.has(i));
};

/** A pivot of less is none: the beam moves. */
const PIVOT = 1e-11;

/** Reactions of the supports; null when the system is a mechanism (the caller tests that beforehand by counting). */
export const beamReactions = (beam: Beam): number[] | null => {
  const { nodes, freedoms } = nodesOf(beam);
  const k = wholeStiffness(nodes, freedoms);
  const f = wholeLoads(nodes, freedoms, beam.loads);
  const free = freeOf(nodes, freedoms);
  const u = solveDense(
    free.map((i) => free.map((j) => k[i]![j]!)),
    free.map((i) => f[i]!),
    PIVOT,
  );
  if (!u) return null;
  const reactions = beam.supportsM.map(() => 0);
  for (const n of nodes) {
    if (n.support === null) continue;
    const row = k[n.move]!;
    reactions[n.support] = f[n.move]! - free.reduce((sum, i, c) => sum + row[i]! * u[c]!, 0);
  }
  return reactions;
};

/** One beam under many loads, on all of its supports or on some of them. */
export interface BeamOnSome {
  /** Loads at the freedoms, to be asked for once and used on any supports. */
  readonly loadsOf: (loads: readonly LinearPiece[]) => readonly number[];
  /** Reactions of these supports (places in the list) from such loads; null: a mechanism. */
  readonly on: (active: readonly number[]) => ((loads: readonly number[]) => number[]) | null;
}

/**
 * The same for many loads: how far every freedom moves when one support does (Müller-Breslau), once for each support, and then only the loads at the
 * freedoms. A support that is not active leaves its place free.
 */
export const beamOnSome = (beam: Omit<Beam, 'loads'>): BeamOnSome => {
  const { nodes, freedoms } = nodesOf({ ...beam, loads: [] });
  const k = wholeStiffness(nodes, freedoms);
  const moves = beam.supportsM.map((_, i) => nodes.find((n) => n.support === i)!.move);
  const on: BeamOnSome['on'] = (active) => {
    const held = new Set(active.map((i) => moves[i]!));
    const free = Array.from({ length: freedoms }, (_, i) => i).filter((i) => !held.has(i));
    const matrix = free.map((i) => free.map((j) => k[i]![j]!));
    const lines: (readonly number[])[] = [];
    for (const i of active) {
      const shares = solveDense(
        matrix,
        free.map((j) => k[moves[i]!]![j]!),
        PIVOT,
      );
      if (!shares) return null;
      lines.push(shares);
    }
    return (f) =>
      active.map((i, n) => {
        const shares = lines[n]!;
        let reaction = f[moves[i]!]!;
        for (let c = 0; c < free.length; c++) reaction -= shares[c]! * f[free[c]!]!;
        return reaction;
      });
  };
  return { loadsOf: (loads) => wholeLoads(nodes, freedoms, loads), on };
};
