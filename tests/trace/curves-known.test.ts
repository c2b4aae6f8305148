/** Curved walls drawn from known measures come back: in every style, in pieces, turned, mirrored, far away, in any order. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import { arbitraryCurve, axisEnds, drawn, type Style, traced, truth } from './curveScenes.js';
import { arbitraryPlacing, FC } from './plans.js';

const near = (a: Vec, b: Vec, mm: number) => Math.hypot(a.x - b.x, a.y - b.y) <= mm;

/** mm: arcs are exact but for the numbers' own rounding at large coordinates; vertices of chords lie on the circle, faces are read from the fit. */
const TOLERANCE: Record<Style, number> = { arcs: 0.5, pieces: 0.5, outline: 0.5, chords: 1, 'chord polylines': 1 };

describe('known curved walls come back', { timeout: 120_000 }, () => {
  for (const style of ['arcs', 'pieces', 'outline', 'chords', 'chord polylines'] as const) {
    it(`drawn as ${style}`, () => {
      fc.assert(
        fc.property(arbitraryCurve, arbitraryPlacing, (k, m) => {
          const found = traced(drawn(k, style, m));
          const mm = TOLERANCE[style];
          const t = truth(k, m);
          expect(found.curves.length).toBe(1);
          const c = found.curves[0]!;
          expect(Math.abs(c.thicknessMm - k.thicknessMm)).toBeLessThanOrEqual(mm);
          expect(Math.abs(c.radiusMm - t.radius)).toBeLessThanOrEqual(mm);
          expect(near(c.centre, t.centre, mm)).toBe(true);
          const ends = axisEnds(c);
          expect(near(ends[0], t.ends[0]!, mm) && near(ends[1], t.ends[1]!, mm), JSON.stringify({ ends, t })).toBe(
            true,
          );
          const capped = [k.before === 0, k.after === 0];
          expect([c.startCapped, c.endCapped]).toEqual(m.mirrored ? capped.reverse() : capped);
          expect(found.stretches.length).toBe(Number(k.before > 0) + Number(k.after > 0));
          for (const s of found.stretches) {
            expect(Math.abs(s.thicknessMm - k.thicknessMm)).toBeLessThanOrEqual(mm);
            // A tangent wall that is a hair off a direction of the drawing is straightened to it, by up to 5 mm (limits.ts).
            expect(ends.some((e) => near(e, s.start, 5 + mm) || near(e, s.end, 5 + mm))).toBe(true);
          }
          expect(found.leftOver).toEqual([]);
          expect(found.repairs.filter((r) => r.sizeMm > 5)).toEqual([]);
          expect(found.curveFindings.filter((f) => f.code === 'trace.curve-alone')).toEqual([]);
        }),
        FC,
      );
    });
  }
});
