/**
 * Drawings by others, against what their own linework says. The witness is dxf-parser, which reads vertices without any of our code:
 * where the concrete turns a corner, the draughtsman's lines have an end.
 */

import dxfParser from 'dxf-parser';
import { describe, expect } from 'vitest';
import type { Vec } from '../../src/ground/plane.js';
import { shape } from '../../src/shape/index.js';
import { trace } from '../../src/trace/index.js';
import { itWithSamples, read, sample } from '../read/samples.js';
import { NOTHING_TOLD } from '../support/traceOptions.js';

interface Parsed {
  readonly entities: readonly { readonly type: string; readonly layer: string; readonly vertices?: readonly Vec[] }[];
}
const Parser = ((dxfParser as unknown as { default?: unknown }).default ?? dxfParser) as new () => {
  parseSync(text: string): Parsed;
};

const witness = (file: string, layer: string, mmPerUnit: number): Vec[][] =>
  new Parser()
    .parseSync(new TextDecoder().decode(sample(file)))
    .entities.filter((e) => e.layer === layer && e.vertices)
    .map((e) => e.vertices!.map((p) => ({ x: p.x * mmPerUnit, y: p.y * mmPerUnit })));

const shaped = (file: string, gridMm: number) =>
  shape(trace(read(sample(file)).drawing, NOTHING_TOLD).value, { gridMm });

const nearest = (p: Vec, points: readonly Vec[]): number =>
  Math.min(...points.map((q) => Math.hypot(p.x - q.x, p.y - q.y)));

describe('real drawings', () => {
  itWithSamples('a cabin drawn as two closed outlines gives back those outlines, vertex for vertex', () => {
    const { value } = shaped('cabin_wall_outlines.dxf', 1);
    const outlines = witness('cabin_wall_outlines.dxf', 'Walls', 1);
    expect(outlines).toHaveLength(2);
    expect(value.concrete.map((ring) => ring.length)).toEqual(outlines.map((o) => o.length));
    const drawn = outlines.flat();
    for (const p of value.concrete.flat()) expect(nearest(p, drawn)).toBeLessThanOrEqual(0.5);
    for (const p of drawn) expect(nearest(p, value.concrete.flat())).toBeLessThanOrEqual(0.5);
    // Worked by hand from the outlines: walls 150 round 2,000 by 2,000, door 800, window 1,200.
    expect(value.walls.map((w) => [w.lengthMm, w.thicknessMm]).sort((a, b) => a[0]! - b[0]!)).toEqual([
      [175, 150],
      [225, 150],
      [475, 150],
      [825, 150],
      [1850, 150],
      [1850, 150],
    ]);
  });

  itWithSamples('a house in inches turns its corners where the stem wall lines end', () => {
    const file = 'house_foundation_plan_inches.dxf';
    const gridMm = 25.4 / 16;
    const { value, findings } = shaped(file, gridMm);
    const ends = witness(file, 'xref-Bishop-Overland-08$0$S-STEM-WALL', 25.4).flat();
    expect(ends.length).toBeGreaterThan(30);
    const corners = value.concrete.flat();
    // Counted on the drawing: 11 corners, 2 tees and 2 free ends have 2 vertices each.
    expect(corners).toHaveLength(30);
    // Within a grid step in each direction.
    for (const p of corners) expect(nearest(p, ends)).toBeLessThanOrEqual(gridMm * Math.SQRT2);
    expect(findings.map((f) => f.code)).toEqual(['shape.gap-in-line']);
  });
});
