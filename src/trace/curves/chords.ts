/**
 * Chains of short chords that lie on a circle: exploded arcs, flattened ellipses and splines. Chords are chained where one goes on into
 * another with a small turn; along each chain the longest runs that fit a circle are taken. Nothing depends on who drew a chord, nor in
 * which order or direction. Lengths local mm.
 */

import { comparePoints, compareText } from '../../ground/order.js';
import { cross, distance, dot, sub, type Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { type Circle, fitCircle, residuals, riseOf, sweepOf } from './circle.js';
import { type ArcPiece, type Chord, CURVED } from './gather.js';
import {
  CHORD_RATIO,
  CHORD_RISE_MM,
  CHORD_TURN_RAD,
  CHORDS_LEAST,
  FIT_MOST_MM,
  FIT_RMS_MM,
  RISE_LEAST_MM,
  STAR_MOST,
} from './limits.js';

/** Ends of chords nearer than this are one vertex. */
const VERTEX_MM = SAME_POINT_MM / 2;
/** Vertices of a run lie within this of its circle, or within so many times its own scatter. */
const TRIM_MM = 0.1;
/** As TRIM_MM, where all of a run is an ellipse or a spline. */
const CURVED_MM = 3;
const SCATTER = 4;
const ROUNDS_MOST = 8;

/** A chord between two vertices, with all the pieces that drew it. */
interface Link {
  readonly a: number;
  readonly b: number;
  readonly drawn: readonly Chord[];
  readonly lengthMm: number;
}

/** Numbers for points, one for all within VERTEX_MM of the first (by x, then y) of them. */
const numberVertices = (chords: readonly Chord[]): { vertices: Vec[]; of: (p: Vec) => number } => {
  const vertices: Vec[] = [];
  const cells = new Map<string, number[]>();
  const cell = (x: number, y: number) => `${x} ${y}`;
  const find = (p: Vec): number => {
    const x = Math.floor(p.x / VERTEX_MM);
    const y = Math.floor(p.y / VERTEX_MM);
    let best = -1;
    for (let i = x - 1; i <= x + 1; i++) {
      for (let j = y - 1; j <= y + 1; j++) {
        for (const v of cells.get(cell(i, j)) ?? []) {
          const d = distance(vertices[v]!, p);
          if (d <= VERTEX_MM && (best < 0 || d < distance(vertices[best]!, p))) best = v;
        }
      }
    }
    return best;
  };
  for (const p of chords.flatMap((c) => [c.a, c.b]).sort(comparePoints)) {
    if (find(p) >= 0) continue;
    const key = cell(Math.floor(p.x / VERTEX_MM), Math.floor(p.y / VERTEX_MM));
    cells.set(key, [...(cells.get(key) ?? []), vertices.length]);
    vertices.push(p);
  }
  return { vertices, of: find };
};

const linksOf = (chords: readonly Chord[], of: (p: Vec) => number): Link[] => {
  const links = new Map<string, { a: number; b: number; drawn: Chord[]; lengthMm: number }>();
  for (const c of chords) {
    const [a, b] = [of(c.a), of(c.b)];
    if (a === b) continue;
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    const link = links.get(key);
    if (link) link.drawn.push(c);
    else links.set(key, { a: Math.min(a, b), b: Math.max(a, b), drawn: [c], lengthMm: distance(c.a, c.b) });
  }
  return [...links.values()].sort((p, q) => p.a - q.a || p.b - q.b);
};

const far = (l: Link, v: number): number => (l.a === v ? l.b : l.a);

/** How badly link `t` goes on from link `s` at vertex `v`: 0 is best, null when it does not. */
const goesOn = (vertices: readonly Vec[], s: Link, t: Link, v: number): number | null => {
  const d = sub(vertices[v]!, vertices[far(s, v)]!);
  const e = sub(vertices[far(t, v)]!, vertices[v]!);
  const turn = Math.abs(Math.atan2(cross(d, e), dot(d, e)));
  const ratio = Math.max(s.lengthMm, t.lengthMm) / Math.min(s.lengthMm, t.lengthMm);
  if (turn > CHORD_TURN_RAD || ratio > CHORD_RATIO) return null;
  const curved = [s, t].every((l) => l.drawn.some((c) => CURVED.has(c.entity)));
  // The circle through both chords has about this radius; a chord of length c rises by c²/8R.
  const radius = (s.lengthMm + t.lengthMm) / (2 * turn);
  if (!curved && Math.max(s.lengthMm, t.lengthMm) ** 2 / (8 * radius) > CHORD_RISE_MM) return null;
  return turn / CHORD_TURN_RAD + Math.log(ratio);
};

/** For each link the one that it goes on into at its a-end and its b-end; each end of a link has one partner. */
const chainEnds = (vertices: readonly Vec[], links: readonly Link[]): readonly (readonly [number, number])[] => {
  const at: number[][] = vertices.map(() => []);
  links.forEach((l, i) => {
    at[l.a]!.push(i);
    at[l.b]!.push(i);
  });
  const next = links.map((): [number, number] => [-1, -1]);
  at.forEach((list, v) => {
    if (list.length > STAR_MOST) return;
    const pairs: { i: number; j: number; cost: number }[] = [];
    for (let x = 0; x < list.length; x++) {
      for (let y = x + 1; y < list.length; y++) {
        const cost = goesOn(vertices, links[list[x]!]!, links[list[y]!]!, v);
        if (cost !== null) pairs.push({ i: list[x]!, j: list[y]!, cost });
      }
    }
    pairs.sort((p, q) => p.cost - q.cost || p.i - q.i || p.j - q.j);
    const side = (i: number) => (links[i]!.a === v ? 0 : 1);
    for (const { i, j } of pairs) {
      if (next[i]![side(i)] !== -1 || next[j]![side(j)] !== -1) continue;
      next[i]![side(i)] = j;
      next[j]![side(j)] = i;
    }
  });
  return next;
};

/** A row of links end to end; vertices are one more, the last the first again when the row is closed. */
interface Row {
  readonly links: readonly number[];
  readonly vertices: readonly number[];
}

const rowsOf = (links: readonly Link[], next: readonly (readonly [number, number])[]): Row[] => {
  const seen = links.map(() => false);
  const walk = (first: number, from: number): Row => {
    const row: number[] = [];
    const vertices = [from];
    for (let i = first, v = from; i >= 0 && !seen[i]; ) {
      seen[i] = true;
      row.push(i);
      v = far(links[i]!, v);
      vertices.push(v);
      i = next[i]![links[i]!.a === v ? 0 : 1]!;
    }
    return { links: row, vertices };
  };
  const out: Row[] = [];
  // Open rows from their lower end first, then rings from their lowest link.
  links.forEach((l, i) => {
    if (seen[i]) return;
    if (next[i]![0] < 0) out.push(walk(i, l.a));
    else if (next[i]![1] < 0) out.push(walk(i, l.b));
  });
  links.forEach((l, i) => {
    if (!seen[i]) out.push(walk(i, l.a));
  });
  return out.filter((r) => r.links.length >= CHORDS_LEAST);
};

const fits = (points: readonly Vec[]): Circle | null => {
  const circle = fitCircle(points);
  if (!circle) return null;
  const { rmsMm, mostMm } = residuals(circle, points);
  return rmsMm <= FIT_RMS_MM && mostMm <= FIT_MOST_MM ? circle : null;
};

/** The last index up to which the points from `i` on fit a circle: by doubling, then halving the step. */
const reach = (points: readonly Vec[], i: number): number => {
  const ok = (j: number) => j < points.length && fits(points.slice(i, j + 1)) !== null;
  let good = i + CHORDS_LEAST;
  if (!ok(good)) return i;
  let step = CHORDS_LEAST;
  while (ok(good + step)) {
    good += step;
    step *= 2;
  }
  for (; step >= 1; step = Math.floor(step / 2)) if (ok(good + step)) good += step;
  return good;
};

/**
 * The circle of the middle part of points i..j, and the range that follows it within `tolMm` or its own scatter. The circle
 * is fitted anew to what it has reached until it reaches no farther.
 */
const settle = (points: readonly Vec[], i: number, j: number, tolMm: number) => {
  const trim = Math.min(Math.floor((j - i) / 5), Math.floor((j - i - CHORDS_LEAST) / 2));
  let [from, to] = [i + trim, j - trim];
  for (let round = 0; round < ROUNDS_MOST; round++) {
    const core = points.slice(from, to + 1);
    const circle = fitCircle(core);
    if (!circle) return null;
    const within = Math.max(tolMm, SCATTER * residuals(circle, core).rmsMm);
    const near = (k: number) => Math.abs(distance(circle.centre, points[k]!) - circle.radius) <= within;
    const before = { from, to };
    while (from > 0 && near(from - 1)) from--;
    while (to + 1 < points.length && near(to + 1)) to++;
    if (from === before.from && to === before.to) return { circle, from, to };
  }
  const circle = fitCircle(points.slice(from, to + 1));
  return circle && { circle, from, to };
};

const pieceOf = (circle: Circle, points: readonly Vec[], drawn: readonly Chord[]): ArcPiece => ({
  ...circle,
  ...sweepOf(circle.centre, points),
  sources: [...new Set(drawn.map((c) => c.source))].sort(),
  layer: drawn.map((c) => c.layer).sort()[0]!,
  entity: drawn
    .map((c) => c.entity)
    .sort((p, q) => Number(CURVED.has(q)) - Number(CURVED.has(p)) || compareText(p, q))[0]!,
  keys: drawn.map((c) => c.key),
  offMm: residuals(circle, points).mostMm,
  chords: points.length - 1,
});

/** Arcs along a row, and along what is left of it before and after each. */
const arcsOfRow = (row: Row, vertices: readonly Vec[], links: readonly Link[]): ArcPiece[] => {
  const all = row.vertices.map((v) => vertices[v]!);
  const out: ArcPiece[] = [];
  const ranges = [{ lo: 0, hi: all.length - 1 }];
  for (let range = ranges.pop(); range; range = ranges.pop()) {
    const { lo, hi } = range;
    const points = all.slice(lo, hi + 1);
    for (let i = 0; i + CHORDS_LEAST < points.length; ) {
      const j = reach(points, i);
      // Pieces of an ellipse or spline go over into each other; where straight lines go on from an arc it ends more sharply.
      const curved = row.links.slice(lo + i, lo + j).every((l) => links[l]!.drawn.some((c) => CURVED.has(c.entity)));
      const found = j > i ? settle(points, i, j, curved ? CURVED_MM : TRIM_MM) : null;
      const piece =
        found &&
        pieceOf(
          found.circle,
          points.slice(found.from, found.to + 1),
          row.links.slice(lo + found.from, lo + found.to).flatMap((l) => links[l]!.drawn),
        );
      if (found && piece && piece.chords >= CHORDS_LEAST && riseOf(piece) >= RISE_LEAST_MM) {
        out.push(piece);
        ranges.push({ lo: lo + found.to, hi }, { lo, hi: lo + found.from });
        break;
      }
      i = j > i ? Math.max(i + 1, j - CHORDS_LEAST) : i + 1;
    }
  }
  return out;
};

/** Arcs that the chords make. A chord is part of one of them at most. */
export const arcsOfChords = (chords: readonly Chord[]): ArcPiece[] => {
  const { vertices, of } = numberVertices(chords);
  const links = linksOf(chords, of);
  return rowsOf(links, chainEnds(vertices, links)).flatMap((row) => arcsOfRow(row, vertices, links));
};
