/**
 * Pieces of one circle → arcs: pieces that lie on each other, overlap or stop short of each other by a little are one arc. The circle
 * of the longest piece holds for all of them, arcs that were drawn as arcs before chords. Lengths local mm.
 */

import { byNumber, compareText, inOrder } from '../../ground/order.js';
import { distance, dot, sub, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { REPAIR_MM } from '../limits.js';
import { angleAt, type Circle, lengthOf, middleOf, onCircle, type Sweep, swept, TURN, turned } from './circle.js';
import type { ArcPiece } from './gather.js';

/** An unbroken arc with the pieces that drew it. */
export interface Arc extends Circle, Sweep {
  readonly pieces: readonly ArcPiece[];
  /** Gaps between pieces that were closed. */
  readonly gaps: readonly { readonly at: Vec; readonly sizeMm: number }[];
  /** Pieces that lie wholly on others. */
  readonly doubles: number;
  /** Most that an end of a piece lies off the circle. */
  readonly offMm: number;
}

interface Place {
  from: number;
  by: number;
  piece: ArcPiece;
  offMm: number;
}

/** Five points along a piece. */
const along = (p: Circle & Sweep): Vec[] => [0, 1, 2, 3, 4].map((i) => onCircle(p, p.from + (p.by * i) / 4));

/** Where a piece lies on the circle, or null when it leaves it by more than SAME_POINT_MM or bends the other way. */
const placeOn = (circle: Circle, piece: ArcPiece): Place | null => {
  let offMm = 0;
  const points = along(piece);
  for (const p of points) {
    offMm = Math.max(offMm, Math.abs(distance(p, circle.centre) - circle.radius));
    if (offMm > SAME_POINT_MM) return null;
    if (dot(sub(p, piece.centre), sub(p, circle.centre)) <= 0) return null;
  }
  const by = Math.min(swept(circle.centre, points), TURN);
  return { from: angleAt(circle.centre, points[0]!), by, piece, offMm: Math.max(offMm, piece.offMm) };
};

/** Hair's breadth: lengths that differ by less are equal, so that rounding does not decide. */
const HAIR_MM = 1e-4;

const longestFirst = (a: ArcPiece, b: ArcPiece): number => {
  const [p, q] = [Math.round(lengthOf(a) / HAIR_MM), Math.round(lengthOf(b) / HAIR_MM)];
  return (
    Number(a.chords > 0) - Number(b.chords > 0) ||
    q - p ||
    a.centre.x - b.centre.x ||
    a.centre.y - b.centre.y ||
    a.radius - b.radius ||
    a.from - b.from ||
    compareText(a.sources.join(' '), b.sources.join(' ')) ||
    compareText(a.layer, b.layer)
  );
};

const placeOrder = inOrder<Place>(
  byNumber((p) => p.from),
  byNumber((p) => -p.by),
  (p, q) => longestFirst(p.piece, q.piece),
);

/** Joins the places on one circle to arcs. `isLoose` says whether no other linework ends at a point. */
const join = (circle: Circle, places: readonly Place[], isLoose: (p: Vec) => boolean): Arc[] => {
  const { radius } = circle;
  const closes = (from: number, to: number): boolean => {
    const gapMm = (to - from) * radius;
    if (gapMm <= SAME_POINT_MM) return true;
    return gapMm <= REPAIR_MM && isLoose(onCircle(circle, from)) && isLoose(onCircle(circle, to));
  };
  const open: { from: number; to: number; places: Place[]; gaps: { at: Vec; sizeMm: number }[]; doubles: number }[] =
    [];
  for (const p of [...places].sort(placeOrder)) {
    const last = open.at(-1);
    if (!last || !closes(last.to, p.from)) {
      open.push({ from: p.from, to: p.from + p.by, places: [p], gaps: [], doubles: 0 });
      continue;
    }
    const gapMm = (p.from - last.to) * radius;
    if (gapMm > SAME_POINT_MM) last.gaps.push({ at: onCircle(circle, (last.to + p.from) / 2), sizeMm: gapMm });
    if ((p.from + p.by - last.to) * radius <= HAIR_MM) last.doubles++;
    last.to = Math.max(last.to, p.from + p.by);
    last.places.push(p);
  }
  // The last arcs may run on over the angle 0 into the first.
  for (let first = open[0], last = open.at(-1); first && last && first !== last; first = open[0], last = open.at(-1)) {
    if (!closes(last.to, first.from + TURN)) break;
    const gapMm = (first.from + TURN - last.to) * radius;
    if (gapMm > SAME_POINT_MM)
      last.gaps.push({ at: onCircle(circle, (last.to + first.from + TURN) / 2), sizeMm: gapMm });
    last.doubles += first.doubles + ((first.to + TURN - last.to) * radius <= HAIR_MM ? 1 : 0);
    last.to = Math.max(last.to, first.to + TURN);
    last.places.push(...first.places);
    last.gaps.push(...first.gaps);
    open.shift();
  }
  return open.map((o) => {
    const ring = o.to - o.from >= TURN || closes(o.to, o.from + TURN);
    const gapMm = (o.from + TURN - o.to) * radius;
    if (ring && gapMm > SAME_POINT_MM) o.gaps.push({ at: onCircle(circle, o.from), sizeMm: gapMm });
    return {
      ...circle,
      from: ring ? 0 : turned(o.from),
      by: ring ? TURN : o.to - o.from,
      pieces: o.places.map((p) => p.piece),
      gaps: o.gaps,
      doubles: o.doubles,
      offMm: o.places.reduce((m, p) => Math.max(m, p.offMm), 0),
    };
  });
};

export const arcOrder = inOrder<Arc>(
  byNumber((a) => a.centre.x),
  byNumber((a) => a.centre.y),
  byNumber((a) => a.radius),
  byNumber((a) => a.from),
  byNumber((a) => a.by),
);

/** Pieces → arcs, sorted by centre, radius and angle. */
export const mergeArcs = (pieces: readonly ArcPiece[], isLoose: (p: Vec) => boolean): Arc[] => {
  const circles: { circle: Circle; places: Place[] }[] = [];
  for (const piece of [...pieces].sort(longestFirst)) {
    const middle = middleOf(piece);
    let taken = false;
    for (const c of circles) {
      // Most circles are told apart by one distance.
      if (Math.abs(distance(c.circle.centre, middle) - c.circle.radius) > SAME_POINT_MM) continue;
      const place = placeOn(c.circle, piece);
      if (!place) continue;
      c.places.push(place);
      taken = true;
      break;
    }
    if (!taken) {
      const { centre, radius, from, by, offMm } = piece;
      circles.push({ circle: { centre, radius }, places: [{ from, by, piece, offMm }] });
    }
  }
  return circles.flatMap((c) => join(c.circle, c.places, isLoose)).sort(arcOrder);
};
