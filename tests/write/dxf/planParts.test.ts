/** A plan that does not go on one sheet: its tiles overlap, so that no mark is read in halves alone. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OVERLAP_MM, type Span, stripsOf } from '../../../src/write/dxf/sheets/overlaps.js';
import { heightOf, paperOf, roomOf, widthOf } from '../../../src/write/dxf/sheets/paper.js';
import { drawEdges } from '../../../src/write/dxf/sheets/partInk.js';
import { NAME_MM } from '../../../src/write/dxf/sheets/parts.js';
import { planParts } from '../../../src/write/dxf/sheets/planParts.js';

const seed = Number(process.env.FC_SEED ?? 20240);
const SCALE = 25;
const MOST_MM = 15_000;

const holds = (outer: Span, inner: Span): boolean => outer.fromMm <= inner.fromMm && inner.toMm <= outer.toMm;

const length = fc.integer({ min: MOST_MM + 1, max: 90_000 });
const marks = fc.array(
  fc.record({ at: fc.double({ min: 0, max: 1, noNaN: true }), mm: fc.integer({ min: 20, max: OVERLAP_MM * SCALE }) }),
  { maxLength: 60 },
);

describe('strips of a plan', () => {
  it('show every mark that is no longer than the overlap whole, go on a sheet, and leave nothing between them', () => {
    fc.assert(
      fc.property(length, marks, fc.integer({ min: -50_000, max: 50_000 }), (longMm, drawn, fromMm) => {
        const whole = { fromMm, toMm: fromMm + longMm };
        const spans = drawn.map(({ at, mm }) => {
          const from = fromMm + at * (longMm - mm);
          return { fromMm: from, toMm: from + mm };
        });
        const strips = stripsOf(whole, MOST_MM, SCALE, spans);
        expect(strips[0]!.fromMm).toBe(whole.fromMm);
        expect(strips.at(-1)!.toMm).toBe(whole.toMm);
        for (const [i, s] of strips.entries()) {
          expect(s.toMm - s.fromMm).toBeLessThanOrEqual(MOST_MM + 1e-6);
          expect(holds(s, s.own)).toBe(true);
          if (i > 0) expect(s.own.fromMm).toBeCloseTo(strips[i - 1]!.own.toMm, 6);
        }
        for (const m of spans) {
          const grown = { fromMm: m.fromMm + 1e-6, toMm: m.toMm - 1e-6 };
          expect(strips.some((s) => holds(s, grown))).toBe(true);
        }
      }),
      { seed },
    );
  });

  it('move their edges to where no mark is cut, as far as the sheet has room', () => {
    const plain = stripsOf({ fromMm: 0, toMm: 22_000 }, MOST_MM, SCALE, []);
    const edge = plain[0]!.toMm;
    const moved = stripsOf({ fromMm: 0, toMm: 22_000 }, MOST_MM, SCALE, [{ fromMm: edge - 200, toMm: edge + 300 }]);
    expect(moved[0]!.toMm).toBe(edge + 300);
    expect(moved[0]!.own).toEqual(plain[0]!.own);
  });
});

describe('tiles of a plan', () => {
  const room = roomOf(paperOf('mm'));
  const [w, h] = [widthOf(room) * SCALE, (heightOf(room) - NAME_MM) * SCALE];
  const box = (x: number, y: number, mm = 200) => ({ minX: x, minY: y, maxX: x + mm, maxY: y + mm });
  const plan = { minX: 0, minY: 0, maxX: 1.5 * w, maxY: 0.8 * h };

  it('have their match line within the window, at one place of the plan on both sheets', () => {
    const inPlan = [box(100, 100), box(1.4 * w, 100)];
    const [overview, left, right, ...more] = planParts(plan, { inPlan, marks: [] }, 'mm', SCALE, room);
    expect([overview!.title, more.length]).toEqual(['FORM PLAN, OVERVIEW', 0]);
    const [a, b] = [left!, right!].map((p) => p.edges);
    expect([a!.map((e) => e.side), b!.map((e) => e.side)]).toEqual([['right'], ['left']]);
    expect(a![0]!.atMm).toBeCloseTo(b![0]!.atMm, 6);
    const { window } = left!.placing.part;
    expect(window.maxX - a![0]!.atMm).toBeGreaterThanOrEqual((OVERLAP_MM / 2) * SCALE - 1e-6);
    expect(b![0]!.atMm - right!.placing.part.window.minX).toBeGreaterThanOrEqual((OVERLAP_MM / 2) * SCALE - 1e-6);
  });

  it('say at the end of the line itself, outside of the window, on which sheet the plan goes on', () => {
    const [, left] = planParts(plan, { inPlan: [box(100, 100), box(1.4 * w, 100)], marks: [] }, 'mm', SCALE, room);
    const shapes = drawEdges(left!, () => 3);
    const words = shapes.flatMap((s) => (s.type === 'text' ? [s] : []));
    expect(words.map((t) => t.text)).toEqual(['MATCH LINE - SEE SHEET 3']);
    const { x, part } = left!.placing;
    expect(words[0]!.at.x).toBeCloseTo(x + (left!.edges[0]!.atMm - part.window.minX) / SCALE, 6);
    const ends = shapes.flatMap((s) => (s.type === 'line' ? [s.from, s.to] : []));
    expect(words[0]!.at.x).toBeCloseTo(ends[0]!.x, 6);
    expect(words[0]!.at.y).toBeLessThan(Math.min(...ends.map((e) => e.y)));
  });

  it('without a unit are left out, but not where a mark stands whole on them alone', () => {
    const inPlan = [box(100, 100)];
    const titles = (marks: (typeof plan)[]) =>
      planParts(plan, { inPlan, marks }, 'mm', SCALE, room).map((p) => p.title);
    expect(titles([])).toHaveLength(2);
    expect(titles([box(500, 100)])).toHaveLength(2);
    expect(titles([box(1.4 * w, 100)])).toHaveLength(3);
  });
});
