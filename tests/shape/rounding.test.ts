/** Squaring to the plan and rounding to the grid. */

import { describe, expect, it } from 'vitest';
import { facePoint } from '../../src/ground/arcs.js';
import { shape } from '../../src/shape/index.js';
import { codes, GRID, kinds, only } from './asked.js';
import { drawn, foundation, moved, room, stretch } from './draw.js';

const free = [true, true] as const;

describe('squaring and rounding', () => {
  it('a closed ring of four with misfits of a few tenths closes exactly, on the grid', () => {
    const r = shape(
      foundation([
        stretch([0.3, -100.2], [6349.6, -99.9], 200.1),
        stretch([0.1, 4099.8], [6350.2, 4100.3], 199.8),
        stretch([-100.3, 0.2], [-99.8, 3999.7], 200.2),
        stretch([6450.2, -0.3], [6449.9, 4000.4], 200),
      ]),
      GRID,
    );
    expect(r.value.walls.map((w) => [w.lengthMm, w.thicknessMm])).toEqual([
      [4200, 200],
      [6550, 200],
      [6550, 200],
      [4200, 200],
    ]);
    for (const v of r.value.vertices)
      for (const arm of v.arms) {
        if (arm.side === 'start' || arm.side === 'end') continue;
        const p = facePoint(r.value.walls.find((w) => w.id === arm.wall)!, arm.side, arm.stationMm);
        expect(Math.hypot(p.x - v.at.x, p.y - v.at.y)).toBeLessThan(1e-5);
      }
    expect(r.findings).toMatchObject([{ code: 'shape.squared', severity: 'note' }]);
  });

  it('a wall 0.2 degrees off is squared, with the amount', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([0, 3000], [5000, 3016], 200, free)]),
      GRID,
    );
    const skew = r.value.walls[1]!;
    expect(skew.start.y).toBe(skew.end.y);
    expect(r.findings).toMatchObject([{ code: 'shape.squared', severity: 'attention', subject: 'W2' }]);
    expect(r.findings[0]!.message).toContain('up to 8 mm'); // half of the 16
  });

  it('a wall at 1 degree keeps its angle', () => {
    const d = Math.PI / 180;
    const r = shape(
      foundation([
        stretch([0, 0], [6000, 0], 200, free),
        stretch([0, 3000], [5000 * Math.cos(d), 3000 + 5000 * Math.sin(d)], 200, free),
      ]),
      GRID,
    );
    const w = r.value.walls[1]!;
    expect(Math.atan2(w.end.y - w.start.y, w.end.x - w.start.x)).toBeCloseTo(d, 6);
    expect(codes(r)).toEqual([]);
  });

  it('stretches of one wall 3 mm out of line are aligned, and said', () => {
    const r = shape(
      foundation([
        stretch([0, 0], [5000, 0], 200, [true, false]),
        stretch([5200, 3], [7000, 3], 200, [false, true]),
        stretch([5100, 100], [5100, 3000], 200, [false, true]),
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'tee']);
    expect(only(r, 'shape.rounded')[0]!.message).toContain('3 mm');
  });

  it('an odd thickness: faces true, axes end within half a millimetre of the crossing, stations whole', () => {
    const r = shape(drawn(room(5000, 3000, 175)), GRID);
    const low = r.value.walls.find((w) => w.start.y === -87.5 && w.end.y === -87.5)!;
    expect([low.lengthMm, low.thicknessMm, low.start.x, low.end.x]).toEqual([5175, 175, -88, 5087]);
    expect(r.value.faces.filter((f) => f.wall === low.id).map((f) => f.toMm - f.fromMm)).toEqual([5000, 5350]);
    for (const node of r.value.nodes)
      for (const id of node.walls) {
        const w = r.value.walls.find((x) => x.id === id)!;
        const away = Math.min(...[w.start, w.end].map((p) => Math.hypot(p.x - node.at.x, p.y - node.at.y)));
        expect(away).toBeCloseTo(0.5, 6);
      }
    for (const v of r.value.vertices)
      for (const arm of v.arms) {
        if (arm.side === 'start' || arm.side === 'end') continue;
        expect(Number.isInteger(arm.stationMm)).toBe(true);
        const p = facePoint(r.value.walls.find((w) => w.id === arm.wall)!, arm.side, arm.stationMm);
        expect(Math.hypot(p.x - v.at.x, p.y - v.at.y)).toBeLessThan(1e-5);
      }
    expect(r.findings).toMatchObject([{ code: 'shape.half-grid', severity: 'note' }]);
  });

  it('a partition whose faces lie half-way between grid lines goes the same way however the plan is turned', () => {
    const bodies = [...room(7000, 3000, 200), { along: 'y', axis: 3000, from: -100, to: 3100, t: 175 } as const];
    const bays = [0, 1, 2, 3, 4, 5, 6, 7].map((k) => {
      const a = 0.1 + 0.17 * k;
      const [c, s] = [Math.cos(a), Math.sin(a)];
      const turned = moved(drawn(bodies), (p) => ({ x: p.x * c - p.y * s, y: p.x * s + p.y * c }));
      return shape(turned, GRID).value.runs.flatMap((r) => r.stems.map((x) => x.fromMm));
    });
    for (const b of bays) expect(b).toEqual(bays[0]);
    expect(bays[0]).toHaveLength(2);
  });

  it('a plan turned by less than its own drawing shows is not turned at all', () => {
    const a = 1e-5; // 0.07 mm over the room's 7 m
    const turned = moved(drawn(room(7000, 3000, 200)), (p) => ({ x: p.x - p.y * a, y: p.y + p.x * a }));
    const { walls } = shape(turned, GRID).value;
    for (const w of walls) expect(Math.min(Math.abs(w.end.x - w.start.x), Math.abs(w.end.y - w.start.y))).toBe(0);
  });
});
