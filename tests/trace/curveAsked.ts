/** Curves as the tests of curved walls draw them and ask about them. */

import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath, PathVertex } from '../../src/ground/vocabulary.js';
import { arcPath, circlePath, linePath, polar, STILL, traced } from './curveScenes.js';
import { pathOf } from './plans.js';

let count = 0;
export const id = () => `E${count++}`;
export const O: Vec = { x: 0, y: 0 };
export const arc = (r: number, from: number, by: number, c: Vec = O) => arcPath(c, r, from, by, id(), STILL);
export const circle = (r: number, c: Vec = O) => circlePath(c, r, id(), STILL);
export const line = (x0: number, y0: number, x1: number, y1: number) =>
  linePath({ x: x0, y: y0 }, { x: x1, y: y1 }, id(), STILL);
export const spoke = (r0: number, r1: number, angle: number, c: Vec = O) =>
  linePath(polar(r0, angle, c), polar(r1, angle, c), id(), STILL);
export const bent = (
  vertices: readonly (readonly [number, number, number?])[],
  closed: boolean,
  entity = 'LWPOLYLINE',
): DrawingPath => ({
  ...pathOf([], id(), { entity }),
  closed,
  vertices: vertices.map(([x, y, bulge]): PathVertex => ({ x, y, bulge: bulge ?? 0 })),
});
export const QUARTER = Math.tan(Math.PI / 8);

export const n = (x: number) => String(Math.round(x * 10) / 10 + 0);
export const deg = (x: number) => n((x * 180) / Math.PI);

export const run = (paths: readonly DrawingPath[], cautious = false) => {
  const found = traced(paths, cautious);
  return {
    curves: found.curves.map((c) => {
      const caps = `${Number(c.startCapped)}${Number(c.endCapped)}`;
      return `${n(c.centre.x)},${n(c.centre.y)} r${n(c.radiusMm)} t${n(c.thicknessMm)} ${deg(c.fromRad)}..${deg(c.toRad)} ${caps}`;
    }),
    walls: found.stretches.map(
      (s) => `${n(s.start.x)},${n(s.start.y)} ${n(s.end.x)},${n(s.end.y)} t${n(s.thicknessMm)}`,
    ),
    left: found.leftOver.map((l) => `${n(l.lengthMm)} ${l.reason}`),
    codes: [...new Set(found.curveFindings.map((f) => f.code))].sort(),
    said: found.curveFindings.map((f) => f.message),
    found,
  };
};
