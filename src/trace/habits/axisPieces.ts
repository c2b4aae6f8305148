/** How thick is each part of an axis? Parts drawn over each other are sorted out. Local mm. */

import { byNumber, inOrder } from '../../ground/order.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { type Interval, overlap, totalLength, union } from '../intervals.js';
import { REPAIR_MM } from '../limits.js';
import { type Direction, type Line, pointAt } from '../lines.js';
import type { AxisPart, AxisPiece, ThicknessClash } from './axes.js';

interface Lying extends Interval {
  readonly part: AxisPart;
}

/** A part with thinner ones over this share of its length is no wall beside them: it is their footing, or the wall drawn once more. */
const UNDER_SHARE = 0.6;

/** Parts of a line without those that lie under thinner ones; where both faces are drawn nothing else counts. */
const uppermost = (lying: readonly Lying[], d: Direction, v: number, clashes: ThicknessClash[]): Lying[] =>
  lying.filter((x) => {
    if (x.part.drawn) return true;
    const thinner = lying.filter((y) => !y.part.drawn && y.part.thicknessMm < x.part.thicknessMm - SAME_POINT_MM);
    const under = union(thinner.flatMap((y) => overlap(x, y) ?? []));
    if (totalLength(under) < UNDER_SHARE * (x.b - x.a)) return true;
    const at = pointAt(d, (under[0]!.a + under[0]!.b) / 2, v);
    const takenMm = Math.min(...thinner.filter((y) => overlap(x, y)).map((y) => y.part.thicknessMm));
    clashes.push({ at, takenMm, leftMm: x.part.thicknessMm, source: x.part.source });
    return false;
  });

/**
 * Cuts a line where its thickness changes. Where parts of different thickness lie over each other one with drawn faces decides, else the
 * thinnest. The ends are those of the line where what reaches them is kept.
 */
export const piecesOf = (line: Line, d: Direction, clashes: ThicknessClash[]): AxisPiece[] => {
  const all = line.pieces
    .map((p): Lying => ({ a: Math.max(line.a, p.a), b: Math.min(line.b, p.b), part: p.segment as AxisPart }))
    .filter((p) => p.b > p.a);
  const parts = uppermost(all, d, line.v, clashes).sort(
    inOrder<Lying>(
      byNumber((p) => (p.part.drawn ? 0 : 1)),
      byNumber((p) => p.part.thicknessMm),
      byNumber((p) => p.a - p.b),
      byNumber((p) => p.a),
    ),
  );
  const from = Math.min(...parts.map((p) => p.a));
  const to = Math.max(...parts.map((p) => p.b));
  const ends = [from - line.a <= REPAIR_MM ? line.a : from, line.b - to <= REPAIR_MM ? line.b : to] as const;
  const cuts = [...new Set([...ends, ...parts.flatMap((p) => [p.a, p.b])])].sort((x, y) => x - y);
  const out: AxisPiece[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [a, b] = [cuts[i]!, cuts[i + 1]!];
    const mid = (a + b) / 2;
    const here = parts.filter((p) => p.a <= mid && p.b >= mid);
    const last = out.at(-1);
    const taken = here[0]?.part ?? (last ? null : (parts.find((p) => p.a >= b)?.part ?? parts[0]!.part));
    const other = here.find((p) => Math.abs(p.part.thicknessMm - here[0]!.part.thicknessMm) > SAME_POINT_MM);
    if (other && b - a > REPAIR_MM) {
      const [takenMm, leftMm] = [here[0]!.part.thicknessMm, other.part.thicknessMm];
      clashes.push({ at: pointAt(d, mid, line.v), takenMm, leftMm, source: other.part.source });
    }
    // A closed gap belongs to the piece before it.
    const same = last && taken && taken.source === last.source && taken.thicknessMm === last.thicknessMm;
    if (last && (taken === null || same)) {
      out[out.length - 1] = { ...last, b };
    } else if (taken) {
      const { thicknessMm, drawn, source, layer } = taken;
      out.push({ a, b, thicknessMm, drawn, source, layer });
    }
  }
  return out;
};
