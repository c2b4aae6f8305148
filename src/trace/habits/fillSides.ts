/** On which side of a line do fills and made bodies show concrete? */

import type { Vec } from '../../ground/plane.js';
import type { Graph } from '../graph.js';
import { REPAIR_MM } from '../limits.js';
import { type LineSet, pointAt } from '../lines.js';

/** Looked for so far beside a line: farther than a fill's edge misses it by, nearer than the other face of any wall. */
const BESIDE_MM = REPAIR_MM + 5;
/** One look for each such length of line, and three at least. */
const LOOK_MM = 1000;

type Filled = (p: Vec) => boolean;

/** Length of the part a..b of a line with concrete on its left only, less that with concrete on its right only, mm. */
const balance = (set: LineSet, line: number, a: number, b: number, filled: Filled): number => {
  const { v, direction } = set.lines[line]!;
  const d = set.directions[direction]!;
  const looks = Math.max(3, Math.min(50, Math.ceil((b - a) / LOOK_MM)));
  let sum = 0;
  for (let k = 0; k < looks; k++) {
    const u = a + ((k + 0.5) / looks) * (b - a);
    const left = filled(pointAt(d, u, v + BESIDE_MM));
    const right = filled(pointAt(d, u, v - BESIDE_MM));
    sum += Number(left) - Number(right);
  }
  return (sum / looks) * (b - a);
};

/** For each chain: length with concrete on the left of its run less that on its right, mm; 0 where nothing tells. */
export const fillVotes = (set: LineSet, graph: Graph, filled: Filled): number[] => {
  const votes = graph.chains.map(() => 0);
  graph.edges.forEach((e, i) => {
    const { chain, sense } = graph.chainOf[i]!;
    votes[chain]! += sense * balance(set, e.line, e.a, e.b, filled);
  });
  return votes;
};

/** Lines with concrete on one side and none on the other over most of their length: faces, whatever stands beside them. */
export const shownFaces = (set: LineSet, filled: Filled): ReadonlySet<number> =>
  new Set(set.lines.flatMap((l, i) => (2 * Math.abs(balance(set, i, l.a, l.b, filled)) > l.b - l.a ? [i] : [])));
