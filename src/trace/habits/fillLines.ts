/** Fills that can be walls → the lines that bound them where no line is drawn, and the concrete that they show. Local mm. */

import { add, distance, leftOf, scale, sub, unit } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import type { DrawingPath } from '../../ground/vocabulary.js';
import { totalLength } from '../intervals.js';
import { LONG_MM } from '../limits.js';
import type { LocalFrame } from '../segments.js';
import { filledBy } from './areas.js';
import { uncoveredBy } from './covered.js';
import { centreOf } from './curves.js';
import { entityOf, type FillArea } from './fills.js';
import { curvePath, linePath } from './made.js';
import { type Outline, type OutlinePiece, outlineOf } from './outline.js';

export interface FillLines {
  /** Lines and curves of the outline that are not drawn, drawing units. */
  readonly paths: readonly DrawingPath[];
  /** Fills whose outlines are drawn as lines nearly all round. */
  readonly drawn: readonly FillArea[];
  /** Fills that are drawn without lines, or with few of them. */
  readonly alone: readonly FillArea[];
  /** Long edges of fills of the first kind without a line. */
  readonly edges: readonly OutlinePiece[];
  readonly cracks: Outline['cracks'];
}

/** A fill with lines along this share of its outline is drawn with lines; what these leave out of it is not. *Practice, no source.* */
const DRAWN_SHARE = 0.6;
/** The same for one about as long as thick, of which the ends across the wall are half of the outline. */
const COMPACT_SHARE = 0.4;
const COMPACT_ASPECT = 2;

/** An edge longer than this many thicknesses runs along the wall. */
const ACROSS_SHARE = 1.5;

const partOf = (piece: OutlinePiece, from: number, to: number): OutlinePiece => {
  const u = unit(sub(piece.b, piece.a));
  const whole = distance(piece.a, piece.b);
  return {
    ...piece,
    a: from <= 0 ? piece.a : add(piece.a, scale(u, from)),
    b: to >= whole ? piece.b : add(piece.a, scale(u, to)),
  };
};

/** Curved sides with concrete on one side and none on the other. */
const arcPaths = (areas: readonly FillArea[], all: readonly FillArea[], frame: LocalFrame): DrawingPath[] => {
  const filled = filledBy(all);
  return areas.flatMap(({ arcs, layer }) =>
    arcs.flatMap(({ a, b, bulge, path }): DrawingPath[] => {
      const c = centreOf(a, b, bulge);
      const out = unit(leftOf(sub(b, a)));
      // The middle of the arc lies on the right of its chord when it turns to the left.
      const mid = add(scale(add(a, b), 0.5), scale(out, (-bulge * distance(a, b)) / 2));
      const radial = unit(sub(mid, c));
      const beside = (mm: number) => filled(add(mid, scale(radial, mm)));
      // The areas have chords in the place of arcs, up to a 1900th of the radius off them.
      const clearMm = SAME_POINT_MM + distance(a, c) / 1000;
      if (beside(clearMm) === beside(-clearMm)) return [];
      const entity = 'LWPOLYLINE';
      return [curvePath(frame, { a, b, bulge, source: path.source, layer, path: { ...path, entity } })];
    }),
  );
};

/** Null when there is more than tracing works through. `lines`: the linework that is there already. */
export const fillLines = (
  areas: readonly FillArea[],
  lines: readonly { readonly a: OutlinePiece['a']; readonly b: OutlinePiece['b'] }[],
  frame: LocalFrame,
): FillLines | null => {
  const outline = outlineOf(areas);
  if (outline === null) return null;
  const uncovered = uncoveredBy(lines);
  const open = outline.pieces.map((piece) => ({ piece, parts: uncovered(piece) }));
  const sums = new Map<string, { all: number; bare: number }>();
  for (const { piece, parts } of open) {
    const key = entityOf(piece.source);
    const sum = sums.get(key) ?? { all: 0, bare: 0 };
    sum.all += distance(piece.a, piece.b);
    sum.bare += totalLength(parts);
    sums.set(key, sum);
  }
  const share = new Map(
    areas.map((a) => [a.source, a.lengthMm < COMPACT_ASPECT * a.thicknessMm ? COMPACT_SHARE : DRAWN_SHARE]),
  );
  const isDrawn = (source: string) => {
    const sum = sums.get(entityOf(source));
    return sum === undefined || sum.bare <= (1 - share.get(entityOf(source))!) * sum.all;
  };
  // The ends of a fill that stops within a wall go across it and are no faces.
  const across = new Map(areas.map((a) => [a.source, ACROSS_SHARE * a.thicknessMm]));
  const edges: OutlinePiece[] = [];
  const paths: DrawingPath[] = [];
  for (const { piece, parts } of open) {
    for (const { a, b } of parts) {
      const part = partOf(piece, a, b);
      if (!isDrawn(piece.source)) paths.push(linePath(frame, part));
      else if (b - a > Math.max(LONG_MM, across.get(entityOf(piece.source))!)) {
        paths.push(linePath(frame, part));
        edges.push(part);
      }
    }
  }
  const alone = areas.filter((a) => !isDrawn(a.source));
  return {
    paths: [...paths, ...arcPaths(alone, areas, frame)],
    drawn: areas.filter((a) => isDrawn(a.source)),
    alone,
    edges,
    cracks: outline.cracks,
  };
};
