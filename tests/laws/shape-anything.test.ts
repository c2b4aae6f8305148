/** Any stretches at all end in a plan that holds together, whatever their order. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shape } from '../../src/shape/index.js';
import { GRID } from '../shape/asked.js';
import { foundation } from '../shape/draw.js';

describe('anything at all', () => {
  const coordinate = fc.oneof(
    fc.integer({ min: 0, max: 12 }).map((n) => n * 100),
    fc.double({ min: 0, max: 3000, noNaN: true }),
  );
  const any = fc.record({
    start: fc.record({ x: coordinate, y: coordinate }),
    end: fc.record({ x: coordinate, y: coordinate }),
    thicknessMm: fc.oneof(fc.constantFrom(100, 200, 300), fc.double({ min: 0.01, max: 900, noNaN: true })),
    startCapped: fc.boolean(),
    endCapped: fc.boolean(),
    sources: fc.array(fc.constantFrom('A', 'B', 'C'), { maxLength: 2 }),
  });

  it('ends in a plan that holds together', () => {
    fc.assert(
      fc.property(fc.array(any, { maxLength: 9 }), (stretches) => {
        const { value } = shape(foundation(stretches), GRID);
        const ids = new Set(value.vertices.map((v) => v.id));
        expect(value.runs.map((r) => r.wall)).toEqual(value.walls.map((w) => w.id));
        for (const w of value.walls)
          expect(Number.isFinite(w.start.x + w.start.y + w.end.x + w.end.y + w.lengthMm)).toBe(true);
        for (const f of value.faces) {
          expect(Number.isInteger(f.fromMm) && Number.isInteger(f.toMm)).toBe(true);
          expect(f.toMm).toBeGreaterThanOrEqual(f.fromMm);
        }
        for (const r of value.runs) {
          for (const e of [r.start, r.end])
            if (e.kind === 'corner' || e.kind === 'stem')
              expect(ids.has(e.leftVertex) && ids.has(e.rightVertex)).toBe(true);
          for (const s of r.stems) {
            expect(s.toMm).toBeGreaterThan(s.fromMm);
            expect(ids.has(s.fromVertex) && ids.has(s.toVertex)).toBe(true);
          }
        }
        for (const node of value.nodes)
          for (const w of node.walls) expect(value.walls.some((x) => x.id === w)).toBe(true);
      }),
      { seed: Number(process.env.FC_SEED ?? 7), numRuns: 300 },
    );
  });

  it('in any order gives the same plan', () => {
    fc.assert(
      fc.property(
        fc.array(any, { maxLength: 8 }),
        fc.array(fc.nat(99), { minLength: 8, maxLength: 8 }),
        (stretches, keys) => {
          const mixed = stretches
            .map((s, i) => ({ s, k: keys[i]! * 10 + i }))
            .sort((a, b) => a.k - b.k)
            .map((x) => x.s);
          expect(shape(foundation(mixed), GRID)).toEqual(shape(foundation(stretches), GRID));
        },
      ),
      { seed: Number(process.env.FC_SEED ?? 7), numRuns: 150 },
    );
  });
});
