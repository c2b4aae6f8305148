/** The trace's own signs, each drawn alike in plan and in the legend. */

import { add, leftOf, scale, sub, unit, type Vec } from '../../../ground/plane.js';
import { line, polyline, type Shape } from '../sheet.js';

type About = readonly string[];

/** Strokes of one hatch: more make a drawing heavy and show no more. */
const STROKES_MOST = 400;

/**
 * Parallel strokes across a strip, as one polyline that turns along the strip's edges. `widthMm`: across, half to either side of start-end.
 */
export const hatch = (start: Vec, end: Vec, widthMm: number, pitchMm: number, about: About): Shape[] => {
  const along = sub(end, start);
  const lengthMm = Math.hypot(along.x, along.y);
  const leanMm = Math.min(widthMm, lengthMm);
  const room = lengthMm - leanMm;
  const strokes = Math.max(1, Math.min(STROKES_MOST, Math.floor(room / pitchMm) + 1));
  const step = strokes > 1 ? room / (strokes - 1) : 0;
  const [u, n] = [unit(along), leftOf(unit(along))];
  const at = (s: number, side: 1 | -1): Vec => add(start, add(scale(u, s), scale(n, (side * widthMm) / 2)));
  const vertices = Array.from({ length: strokes }, (_, i) => {
    const ends = [at(i * step, -1), at(i * step + leanMm, 1)];
    return i % 2 === 0 ? ends : ends.reverse();
  }).flat();
  return [polyline('TRCE-HTCH', vertices, false, about)];
};

/** An opening: jambs across the wall, and a diagonal cross between them. */
export const openingSign = (from: Vec, to: Vec, thicknessMm: number, about: About): Shape[] => {
  const n = scale(leftOf(unit(sub(to, from))), thicknessMm / 2);
  const [a, b, c, d] = [add(from, n), sub(from, n), sub(to, n), add(to, n)];
  const pairs: readonly (readonly [Vec, Vec])[] = [
    [a, b],
    [c, d],
    [a, c],
    [b, d],
  ];
  return pairs.map(([p, q]) => line('TRCE-OPNG', p, q, about));
};

/** A step: a stroke across the wall that goes down from one side to the other, like the step seen from the side. */
export const stepSign = (at: Vec, along: Vec, halfMm: number, about: About): Shape[] => {
  const across = scale(leftOf(along), halfMm);
  const tread = scale(along, halfMm / 2);
  return [
    polyline(
      'TRCE-LEVL',
      [sub(add(at, across), tread), add(at, across), sub(at, across), add(sub(at, across), tread)],
      false,
      about,
    ),
  ];
};

/** A level: a triangle that stands on its point, with a bar over it. */
export const levelSign = (at: Vec, sizeMm: number, about: About): Shape[] => {
  const top = (dx: number): Vec => add(at, { x: dx * sizeMm, y: sizeMm });
  return [polyline('TRCE-LEVL', [at, top(0.6), top(-0.6)], true, about), line('TRCE-LEVL', top(-1), top(1), about)];
};

/** A note of bars: two short parallel strokes with a dot at one end. */
export const barSign = (at: Vec, sizeMm: number, about: About): Shape[] => {
  const point = (dx: number, dy: number): Vec => add(at, { x: dx * sizeMm, y: dy * sizeMm });
  return [
    line('TRCE-BARS', point(-1, 0.3), point(1, 0.3), about),
    line('TRCE-BARS', point(-1, -0.3), point(1, -0.3), about),
    { type: 'circle', layer: 'TRCE-BARS', centre: at, radiusMm: sizeMm * 0.15, about },
  ];
};
