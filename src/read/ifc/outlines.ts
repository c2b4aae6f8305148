/** Closed outlines in the plane, of pieces of curves: arcs are bulges, as in drawings. */

import type { PathVertex, Vec3 } from '../../ground/vocabulary.js';
import { chords, GAP_MM, isRound, onArc, type Piece } from './curves.js';

/** What is told of an outline: curves that are no arcs were read as chords, or its ends lie apart and were joined. */
export type OutlineNote = 'chords' | 'open';

/**
 * Pieces in the plane z = 0 as a closed outline: arcs as bulges, at most half a circle each. Ends that lie farther apart than `GAP_MM` are joined by a
 * straight line, and `note` is told. Null where it has no area.
 */
export const outlineOf = (pieces: readonly Piece[], note: (what: OutlineNote) => void): PathVertex[] | null => {
  const vertices: PathVertex[] = [];
  const push = (point: Vec3, bulge: number): void => {
    vertices.push({ x: point.x, y: point.y, bulge });
  };
  for (const piece of pieces) {
    const { from, to, arc } = piece;
    if (arc === null) push(from, 0);
    else if (!isRound(arc)) {
      note('chords');
      for (const point of chords([piece]).slice(0, -1)) push(point, 0);
    } else {
      const n = Math.max(1, Math.ceil((Math.abs(arc.sweepRad) - 1e-9) / Math.PI));
      const side = arc.u.x * arc.v.y - arc.u.y * arc.v.x < 0 ? -1 : 1;
      const bulge = side * Math.tan(arc.sweepRad / n / 4);
      for (let i = 0; i < n; i++) {
        push(i === 0 ? from : onArc(arc, arc.startRad + (arc.sweepRad * i) / n), bulge);
      }
    }
    if (piece === pieces[pieces.length - 1]) {
      const first = pieces[0]!.from;
      if (Math.hypot(to.x - first.x, to.y - first.y) > GAP_MM) {
        note('open');
        push(to, 0);
      }
    }
  }
  return cleaned(vertices);
};

const SAME_MM = 1e-6;

/** Without vertices that repeat the one before, the last the first included. */
const cleaned = (vertices: readonly PathVertex[]): PathVertex[] | null => {
  const kept = vertices.filter((vertex, i) => {
    const next = vertices[(i + 1) % vertices.length]!;
    return Math.abs(vertex.x - next.x) > SAME_MM || Math.abs(vertex.y - next.y) > SAME_MM;
  });
  return kept.length < 2 || Math.abs(areaOf(kept)) < 1e-3 ? null : kept;
};

/** Area within a closed outline, mm2; positive anticlockwise. Segments of arcs: r2/2 (t - sin t) with t = 4 atan(bulge). */
const areaOf = (outline: readonly PathVertex[]): number => {
  let area = 0;
  for (let i = 0; i < outline.length; i++) {
    const [a, b] = [outline[i]!, outline[(i + 1) % outline.length]!];
    area += (a.x * b.y - b.x * a.y) / 2;
    if (a.bulge === 0) continue;
    const angle = 4 * Math.atan(a.bulge);
    const chord = Math.hypot(b.x - a.x, b.y - a.y);
    const r = chord / 2 / Math.sin(angle / 2);
    area += (r * r * (angle - Math.sin(angle))) / 2;
  }
  return area;
};
