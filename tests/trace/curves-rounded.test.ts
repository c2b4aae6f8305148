/**
 * Buildings with rounded corners: straight walls and curved ones in turn, drawn as two outlines with bulges, as loose lines and arcs, or with the
 * curves in chords. What has to come back follows from the measures.
 */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import type { DrawingPath } from '../../src/ground/vocabulary.js';
import { arcPath, axisEnds, chordPaths, linePath, polar, rad, traced } from './curveScenes.js';
import { arbitraryPlacing, FC, type Placing, pathOf, place } from './plans.js';

interface Rounded {
  readonly widthMm: number;
  readonly depthMm: number;
  readonly thicknessMm: number;
  /** Inner radius of each corner, anticlockwise from the lower left; null: a sharp corner. */
  readonly innerMm: readonly (number | null)[];
}

interface Turn {
  readonly at: Vec;
  /** Angle at which the arc begins, degrees; it turns by 90. */
  readonly from: number;
}

const ANGLES = [180, 270, 0, 90];

/** One outline, `off` inside the outer one: its corners as turns about their centres, radius 0 where sharp. */
const outline = (s: Rounded, off: number): (Turn & { r: number })[] =>
  ANGLES.map((from, i) => {
    const inner = s.innerMm[i]!;
    const back = inner === null ? off : inner + s.thicknessMm;
    const at = {
      x: i === 0 || i === 3 ? back : s.widthMm - back,
      y: i < 2 ? back : s.depthMm - back,
    };
    return { at, from, r: inner === null ? 0 : back - off };
  });

const startOf = (t: Turn & { r: number }) => polar(t.r, t.from, t.at);
const endOf = (t: Turn & { r: number }) => polar(t.r, t.from + 90, t.at);

type Style = 'outlines' | 'loose' | 'chords';

const drawn = (s: Rounded, style: Style, m: Placing): DrawingPath[] =>
  [0, s.thicknessMm].flatMap((off, k): DrawingPath[] => {
    const turns = outline(s, off);
    if (style === 'outlines') {
      const sign = m.mirrored ? -1 : 1;
      const vertices = turns.flatMap((t) =>
        t.r === 0
          ? [{ ...place(t.at, m), bulge: 0 }]
          : [
              { ...place(startOf(t), m), bulge: sign * Math.tan(Math.PI / 8) },
              { ...place(endOf(t), m), bulge: 0 },
            ],
      );
      return [{ ...pathOf([], `O${k}`, { entity: 'LWPOLYLINE' }), vertices, closed: true }];
    }
    return turns.flatMap((t, i) => {
      const side = linePath(endOf(t), startOf(turns[(i + 1) % 4]!), `L${k}.${i}`, m);
      if (t.r === 0) return [side];
      if (style === 'loose') return [side, arcPath(t.at, t.r, t.from, 90, `A${k}.${i}`, m)];
      const chords = chordPaths(
        t.r,
        t.from,
        90,
        24,
        `C${k}.${i}`,
        { mirrored: false, turnRad: 0, dx: 0, dy: 0 },
        false,
      );
      const moved = chords.map((c) => ({
        ...c,
        vertices: c.vertices.map((v) => ({ ...place({ x: v.x + t.at.x, y: v.y + t.at.y }, m), bulge: 0 })),
      }));
      return [side, ...moved];
    });
  });

const near = (a: Vec, b: Vec, mm: number) => Math.hypot(a.x - b.x, a.y - b.y) <= mm;

const arbitraryRounded: fc.Arbitrary<Rounded> = fc.record({
  widthMm: fc.integer({ min: 7000, max: 12_000 }),
  depthMm: fc.integer({ min: 7000, max: 9000 }),
  thicknessMm: fc.integer({ min: 100, max: 400 }),
  innerMm: fc.array(fc.option(fc.integer({ min: 40, max: 2400 }), { nil: null, freq: 3 }), {
    minLength: 4,
    maxLength: 4,
  }),
});

describe('buildings with rounded corners come back', { timeout: 120_000 }, () => {
  for (const style of ['outlines', 'loose', 'chords'] as const) {
    it(`drawn as ${style}`, () => {
      fc.assert(
        fc.property(arbitraryRounded, arbitraryPlacing, fc.nat(), (s, m, seed) => {
          // Chords of a small radius are no curve that can be told; such corners are left to the other styles.
          const shape = style === 'chords' ? { ...s, innerMm: s.innerMm.map((r) => r && Math.max(r, 300)) } : s;
          const paths = drawn(shape, style, m);
          const turned = paths.map((p, i) => ({ p, k: (i * 7919 + seed) % 104729 })).sort((a, b) => a.k - b.k);
          const found = traced(turned.map((x) => x.p));
          const mm = style === 'chords' ? 1 : 0.5;
          const t = shape.thicknessMm;
          const turns = outline(shape, t / 2);
          const corners = turns.filter((_, i) => shape.innerMm[i] !== null);
          expect(found.curves.length).toBe(corners.length);
          for (const c of corners) {
            const ends = [startOf(c), endOf(c)].map((p) => place(p, m));
            const hit = found.curves.find((k) => {
              const [a, b] = axisEnds(k);
              return ends.some((e) => near(a, e, mm)) && ends.some((e) => near(b, e, mm));
            });
            expect(hit, JSON.stringify({ c, found: found.curves })).toBeDefined();
            expect(Math.abs(hit!.radiusMm - c.r)).toBeLessThanOrEqual(mm);
            expect(Math.abs(hit!.thicknessMm - t)).toBeLessThanOrEqual(mm);
            expect(Math.abs(hit!.toRad - hit!.fromRad - rad(90)) * c.r).toBeLessThanOrEqual(2 * mm);
            expect([hit!.startCapped, hit!.endCapped]).toEqual([false, false]);
          }
          expect(found.stretches.length).toBe(4);
          turns.forEach((c, i) => {
            // A straight wall runs from tangent to tangent; at a sharp corner its inner face begins half a thickness on.
            const next = turns[(i + 1) % 4]!;
            const along = polar(1, c.from + 180);
            const p = endOf(c);
            const q = startOf(next);
            const a = c.r === 0 ? { x: p.x + (along.x * t) / 2, y: p.y + (along.y * t) / 2 } : p;
            const b = next.r === 0 ? { x: q.x - (along.x * t) / 2, y: q.y - (along.y * t) / 2 } : q;
            const [u, v] = [place(a, m), place(b, m)];
            const hit = found.stretches.some(
              (w) => (near(w.start, u, 1) && near(w.end, v, 1)) || (near(w.start, v, 1) && near(w.end, u, 1)),
            );
            expect(hit, JSON.stringify({ u, v, found: found.stretches })).toBe(true);
          });
          expect(found.leftOver).toEqual([]);
          expect(found.repairs).toEqual([]);
          expect(
            [...new Set(found.curveFindings.map((f) => f.code))].filter((x) => x !== 'trace.curve-fitted'),
          ).toEqual(corners.length > 0 ? ['trace.curved'] : []);
        }),
        { ...FC, numRuns: Math.ceil(FC.numRuns / 2) },
      );
    });
  }
});
