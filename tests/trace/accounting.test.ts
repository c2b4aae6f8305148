/** Nothing passes silently: each line on a layer that was taken is wall, or is named among what was left out, or both in parts. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MM_PER } from '../../src/ground/units.js';
import type { DrawingPath, FaceLine } from '../../src/ground/vocabulary.js';
import { type TracedGroup, traceGroup } from '../../src/trace/group.js';
import { lowerCorner } from '../../src/trace/segments.js';
import { itWithSamples, read, sample } from '../read/samples.js';
import { arbitraryFaults, arbitraryPlan, FC, faultySide, knownPlan, pathOf } from './plans.js';

const traced = (paths: readonly DrawingPath[], mmPer = 1, cautious = false): TracedGroup =>
  traceGroup(paths, {
    frame: { origin: lowerCorner(paths), mmPer },
    area: null,
    footings: cautious ? 'likely' : 'possible',
    cautious,
  });

const lengthOf = (f: FaceLine) => Math.hypot(f.to.x - f.from.x, f.to.y - f.from.y);

/** Sources of straight linework that is neither used nor left out. */
const unaccounted = (paths: readonly DrawingPath[], group: TracedGroup): string[] => {
  const named = new Set([
    ...group.faceLines.map((f) => f.source),
    ...group.leftOver.flatMap((l) => l.sources),
    ...group.pilasters.flatMap((p) => p.sources),
    ...group.segmentSet.zeroLength,
    ...group.segmentSet.unusable,
    ...group.segmentSet.unstraight.map((u) => u.source),
  ]);
  return paths.map((p) => p.source).filter((s) => !named.has(s));
};

const junk = fc.array(
  fc.record({
    x: fc.integer({ min: -2000, max: 12000 }),
    y: fc.integer({ min: -2000, max: 9000 }),
    l: fc.integer({ min: 30, max: 6000 }),
    turn: fc.constantFrom(0, 1, 2, 0.3, 0.785),
  }),
  { minLength: 0, maxLength: 25 },
);

describe('accounting', { timeout: 60_000 }, () => {
  it('holds for known walls among lines at random', () => {
    fc.assert(
      fc.property(
        arbitraryPlan,
        fc.array(arbitraryFaults, { minLength: 5, maxLength: 9 }),
        junk,
        (shape, faults, lines) => {
          let k = 0;
          const sides = knownPlan(shape).rings.flatMap((ring) =>
            ring.flatMap((a, i) => faultySide(a, ring[(i + 1) % ring.length]!, faults[k++ % faults.length]!)),
          );
          const random = lines.map(({ x, y, l, turn }): [{ x: number; y: number }, { x: number; y: number }] => {
            const angle = (turn * Math.PI) / 2;
            return [
              { x, y },
              { x: x + l * Math.cos(angle), y: y + l * Math.sin(angle) },
            ];
          });
          const paths = [...sides, ...random].map(([a, b], i) => pathOf([a, b], `L${i}`));
          const group = traced(paths);
          expect(unaccounted(paths, group)).toEqual([]);
          // What is used and what is left over makes up each loose line: at most twice where lines double, never less than drawn.
          const drawn = paths.reduce(
            (s, p) => s + Math.hypot(p.vertices[1]!.x - p.vertices[0]!.x, p.vertices[1]!.y - p.vertices[0]!.y),
            0,
          );
          const used = group.faceLines.reduce((s, f) => s + lengthOf(f), 0);
          const left = group.leftOver.reduce((s, l) => s + l.lengthMm, 0);
          const doubled = paths.length * 6000;
          const repaired = group.repairs.reduce((s, r) => s + r.sizeMm, 0);
          // Behind a pilaster the face runs on where the drawing has no line.
          const behind = group.pilasters.reduce((s, x) => s + x.widthMm, 0);
          expect(used + left).toBeLessThanOrEqual(drawn + repaired + behind + 1e-3 * paths.length);
          expect(used + left + doubled).toBeGreaterThan(drawn);
          for (const s of group.stretches) {
            expect(s.sources.length).toBeGreaterThan(0);
            expect(Math.hypot(s.end.x - s.start.x, s.end.y - s.start.y)).toBeGreaterThan(0);
            expect(s.thicknessMm).toBeGreaterThanOrEqual(74);
            expect(s.thicknessMm).toBeLessThanOrEqual(1201);
          }
        },
      ),
      FC,
    );
  });

  it('every stretch lies between two of its face lines', () => {
    fc.assert(
      fc.property(arbitraryPlan, (shape) => {
        const paths = knownPlan(shape).rings.map((r, i) => pathOf(r, `R${i}`));
        const { stretches, faceLines } = traced(paths);
        for (const s of stretches) {
          const l = Math.hypot(s.end.x - s.start.x, s.end.y - s.start.y);
          const n = { x: -(s.end.y - s.start.y) / l, y: (s.end.x - s.start.x) / l };
          for (const side of [1, -1]) {
            const m = {
              x: (s.start.x + s.end.x) / 2 + (side * n.x * s.thicknessMm) / 2,
              y: (s.start.y + s.end.y) / 2 + (side * n.y * s.thicknessMm) / 2,
            };
            const on = faceLines.some((f) => {
              const a = Math.hypot(m.x - f.from.x, m.y - f.from.y) + Math.hypot(m.x - f.to.x, m.y - f.to.y);
              return Math.abs(a - lengthOf(f)) < 0.01;
            });
            expect(on).toBe(true);
          }
        }
      }),
      { ...FC, numRuns: Math.ceil(FC.numRuns / 3) },
    );
  });

  for (const [file, layer, unit] of [
    ['house_foundation_plan_inches.dxf', 'S-STEM-WALL', 'in'],
    ['house_foundation_plan_inches.dxf', 'A-WALL', 'in'],
    ['pavilion_plan_metres_r2013.dxf', 'Walls', 'm'],
    ['cabin_wall_outlines.dxf', 'Walls', 'mm'],
    ['pavilion_sheet_r12.dxf', '0', 'mm'],
  ] as const) {
    itWithSamples(`holds for layer ${layer} of ${file}`, () => {
      const paths = read(sample(file)).drawing.paths.filter((p) => p.layer.replace(/^.*\$0\$/, '') === layer);
      expect(paths.length).toBeGreaterThan(0);
      expect(unaccounted(paths, traced(paths, MM_PER[unit], layer === '0'))).toEqual([]);
    });
  }
});
