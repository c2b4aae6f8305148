/**
 * Foundations for tests, made from a known answer without any of the code under test: axis-parallel wall bodies are laid on a raster of
 * their own coordinates; a face is an edge between a filled and an empty cell; a stretch is where both faces of a body are such edges.
 */

import type { Vec } from '../../src/ground/plane.js';
import type { FaceLine, Foundation, Levels, LevelsAt, WallStretch } from '../../src/ground/vocabulary.js';
import { NOTHING_ELSE } from '../support/nothingElse.js';

/** A wall's body: lies along x or y, from `from` to `to` with its axis at `axis`. */
export interface Bodied {
  readonly along: 'x' | 'y';
  readonly axis: number;
  readonly from: number;
  readonly to: number;
  readonly t: number;
}

const LEVELS: Levels = { footingMm: 0, topMm: 2350, footingFrom: 'job', topFrom: 'job' };

export const stretch = (
  start: readonly [number, number],
  end: readonly [number, number],
  thicknessMm: number,
  capped: readonly [boolean, boolean] = [false, false],
  source = 'A1',
): WallStretch => ({
  start: { x: start[0], y: start[1] },
  end: { x: end[0], y: end[1] },
  thicknessMm,
  startCapped: capped[0],
  endCapped: capped[1],
  sources: [source],
});

export const foundation = (
  stretches: readonly WallStretch[],
  faceLines: readonly FaceLine[] = [],
  levelsAt: readonly LevelsAt[] = [],
  levels: Levels = LEVELS,
): Foundation => ({
  lengthUnit: 'mm',
  stretches,
  faceLines,
  ...NOTHING_ELSE,
  levels,
  levelsAt,
});

const rectOf = (b: Bodied) =>
  b.along === 'x'
    ? { x0: b.from, x1: b.to, y0: b.axis - b.t / 2, y1: b.axis + b.t / 2 }
    : { x0: b.axis - b.t / 2, x1: b.axis + b.t / 2, y0: b.from, y1: b.to };

const cuts = (values: readonly number[]): number[] => [...new Set(values)].sort((a, b) => a - b);

export interface Raster {
  readonly xs: readonly number[];
  readonly ys: readonly number[];
  readonly filled: (i: number, j: number) => boolean;
  readonly areaMm2: number;
}

export const rasterOf = (bodies: readonly Bodied[]): Raster => {
  const rects = bodies.map(rectOf);
  const xs = cuts(rects.flatMap((r) => [r.x0, r.x1]));
  const ys = cuts(rects.flatMap((r) => [r.y0, r.y1]));
  const filled = (i: number, j: number): boolean => {
    if (i < 0 || j < 0 || i >= xs.length - 1 || j >= ys.length - 1) return false;
    const [x, y] = [(xs[i]! + xs[i + 1]!) / 2, (ys[j]! + ys[j + 1]!) / 2];
    return rects.some((r) => x > r.x0 && x < r.x1 && y > r.y0 && y < r.y1);
  };
  let areaMm2 = 0;
  for (let i = 0; i < xs.length - 1; i++)
    for (let j = 0; j < ys.length - 1; j++) if (filled(i, j)) areaMm2 += (xs[i + 1]! - xs[i]!) * (ys[j + 1]! - ys[j]!);
  return { xs, ys, filled, areaMm2 };
};

interface Span {
  from: number;
  to: number;
}

/** Neighbouring intervals for which `holds`, joined. */
const spans = (at: readonly number[], holds: (k: number) => boolean): Span[] => {
  const out: Span[] = [];
  for (let k = 0; k < at.length - 1; k++) {
    if (!holds(k)) continue;
    const last = out[out.length - 1];
    if (last && last.to === at[k]) last.to = at[k + 1]!;
    else out.push({ from: at[k]!, to: at[k + 1]! });
  }
  return out;
};

/** Everything that bounds the concrete, as lines from corner to corner. */
export const faceLinesOf = (raster: Raster): FaceLine[] => {
  const { xs, ys, filled } = raster;
  const lines: FaceLine[] = [];
  ys.forEach((y, j) => {
    for (const upper of [true, false])
      for (const s of spans(xs, (i) => filled(i, upper ? j : j - 1) && !filled(i, upper ? j - 1 : j)))
        lines.push({ from: { x: s.from, y }, to: { x: s.to, y }, source: `h${lines.length}` });
  });
  xs.forEach((x, i) => {
    for (const right of [true, false])
      for (const s of spans(ys, (j) => filled(right ? i : i - 1, j) && !filled(right ? i - 1 : i, j)))
        lines.push({ from: { x, y: s.from }, to: { x, y: s.to }, source: `v${lines.length}` });
  });
  return lines;
};

const stretchesOf = (b: Bodied, raster: Raster): WallStretch[] => {
  const { xs, ys } = raster;
  const [along, across] = b.along === 'x' ? [xs, ys] : [ys, xs];
  const cell = (k: number, l: number) => (b.along === 'x' ? raster.filled(k, l) : raster.filled(l, k));
  const [low, high] = [across.indexOf(b.axis - b.t / 2), across.indexOf(b.axis + b.t / 2)];
  const seen = spans(along, (k) => {
    if (along[k]! < b.from || along[k + 1]! > b.to) return false;
    return !cell(k, low - 1) && cell(k, low) && cell(k, high - 1) && !cell(k, high);
  });
  const closed = (at: number, outside: -1 | 0) => {
    const k = along.indexOf(at) + outside;
    for (let l = low; l < high; l++) if (cell(k, l)) return false;
    return true;
  };
  return seen.map((s): WallStretch => {
    const point = (a: number): Vec => (b.along === 'x' ? { x: a, y: b.axis } : { x: b.axis, y: a });
    return {
      start: point(s.from),
      end: point(s.to),
      thicknessMm: b.t,
      startCapped: closed(s.from, -1),
      endCapped: closed(s.to, 0),
      sources: [`${b.along}${b.axis}`],
    };
  });
};

/** The foundation that a drawing of these bodies' common outline is traced to. */
export const drawn = (bodies: readonly Bodied[], levelsAt: readonly LevelsAt[] = []): Foundation => {
  const raster = rasterOf(bodies);
  return foundation(
    bodies.flatMap((b) => stretchesOf(b, raster)),
    faceLinesOf(raster),
    levelsAt,
  );
};

/** The four walls of a room: inside from (0, 0) to (w, d); each runs out to the salient corners. */
export const room = (w: number, d: number, t: number): Bodied[] => [
  { along: 'x', axis: -t / 2, from: -t, to: w + t, t },
  { along: 'x', axis: d + t / 2, from: -t, to: w + t, t },
  { along: 'y', axis: -t / 2, from: -t, to: d + t, t },
  { along: 'y', axis: w + t / 2, from: -t, to: d + t, t },
];

/** The foundation moved by a function of points; mirrored ones need nothing more, since stretches have no sides. */
export const moved = (f: Foundation, move: (p: Vec) => Vec): Foundation => ({
  ...f,
  stretches: f.stretches.map((s) => ({ ...s, start: move(s.start), end: move(s.end) })),
  faceLines: f.faceLines.map((l) => ({ ...l, from: move(l.from), to: move(l.to) })),
  levelsAt: f.levelsAt.map((l) => ({ ...l, near: move(l.near) })),
});
