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

/** Reactions of the supports; null when the system is a mechanism (the caller tests that beforehand by counting). */
export const beamReactions = (beam: Beam): number[] | null => {
  const { nodes, freedoms } = nodesOf(beam);
  const k = Array.from({ length: freedoms }, () => new Array<number>(freedoms).fill(0));
  const f = new Array<number>(freedoms).fill(0);
  for (let e = 0; e + 1 < nodes.length; e++) {
    const [a, b] = [nodes[e]!, nodes[e + 1]!];
    const at = [a.move, a.turnAbove, b.move, b.turnBelow];
    const ke = stiffness(b.at - a.at);
    const fe = nodalLoads(beam.loads, a.at, b.at);
    at.forEach((i, r) => {
      f[i] = f[i]! + fe[r]!;
      at.forEach((j, c) => {
        k[i]![j] = k[i]![j]! + ke[r]![c]!;
      });
    });
  }
  const held = new Set(nodes.filter((n) => n.support !== null).map((n) => n.move));
  const free = Array.from({ length: freedoms }, (_, i) => i).filter((i) => !held.has(i));
  const u = solveDense(
    free.map((i) => free.map((j) => k[i]![j]!)),
    free.map((i) => f[i]!),
    1e-11,
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
