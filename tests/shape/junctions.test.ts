/** Junctions that are not laid out, and walls that clash: each is a failure with its place. */

import { describe, expect, it } from 'vitest';
import type { WallStretch } from '../../src/ground/vocabulary.js';
import { shape } from '../../src/shape/index.js';
import { codes, GRID, kinds, only } from './asked.js';
import { drawn, foundation, stretch } from './draw.js';

const free = [true, true] as const;

describe('changes of thickness and junctions that are not laid out', () => {
  it('a jog of equal thickness has a return on either side, each across the wall that stands out there', () => {
    const r = shape(
      foundation([stretch([0, 0], [3000, 0], 200, [true, false]), stretch([3000, 60], [7000, 60], 200, [false, true])]),
      GRID,
    );
    expect(r.findings).toEqual([]);
    const returns = { leftReturn: 'W2-S', rightReturn: 'W1-E' };
    expect(r.value.runs[0]!.end).toMatchObject({ kind: 'jog', leftOutMm: -60, rightOutMm: 60, ...returns });
    expect(r.value.runs[1]!.start).toMatchObject({ kind: 'jog', leftOutMm: 60, rightOutMm: -60, ...returns });
    const across = (id: string) => r.value.faces.find((f) => f.id === id);
    expect(across('W1-E')).toMatchObject({ side: 'end', fromMm: 140, toMm: 200 });
    expect(across('W2-S')).toMatchObject({ side: 'start', fromMm: 0, toMm: 60 });
  });

  it('three walls at a corner, two of them in line with different thickness: all open', () => {
    const r = shape(
      drawn([
        { along: 'x', axis: 0, from: 0, to: 3000, t: 300 },
        { along: 'x', axis: 0, from: 3000, to: 7000, t: 200 },
        { along: 'y', axis: 3000, from: -150, to: 4000, t: 200 },
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'thickness-change']);
    const node = r.value.nodes.find((n) => n.kind === 'thickness-change')!;
    expect(node.walls).toEqual(['W1', 'W2', 'W3']);
    expect(only(r, 'shape.thickness-change')).toHaveLength(1);
    const ends = r.value.runs.flatMap((x) => [x.start, x.end]).filter((e) => e.kind === 'open');
    expect(ends).toHaveLength(3);
    expect(r.value.vertices).toEqual([]);
  });

  it('three walls in a Y: open, and the outline still whole', () => {
    const arm = (deg: number): WallStretch => {
      const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
      // The faces of two arms at 120 degrees meet t/2 tan 30 = 57.7 from the crossing, along either.
      return stretch([57.735 * c, 57.735 * s], [3000 * c, 3000 * s], 200, [false, true]);
    };
    const r = shape(foundation([arm(90), arm(210), arm(330)]), GRID);
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'tee']);
    expect(only(r, 'shape.junction-not-laid-out')).toMatchObject([{ severity: 'failure', at: [0, 0, 0] }]);
    expect(r.value.concrete).toHaveLength(1);
    const ring = r.value.concrete[0]!;
    const area = ring.reduce((sum, p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      return sum + (p.x * q.y - q.x * p.y) / 2;
    }, 0);
    // Three arms of 2,942.3 by 200 and the triangle between their ends, whose sides are 200.
    expect(Math.abs(area - (3 * 200 * (3000 - 57.735) + (Math.sqrt(3) / 4) * 200 ** 2))).toBeLessThan(3 * 200);
  });

  it('two stems on one side of one place: both open, the through wall interrupted once', () => {
    const [c, s] = [Math.cos(Math.PI / 4), Math.sin(Math.PI / 4)];
    const from = 100 / s + 100; // a stem's shorter face starts there, measured along its axis
    const r = shape(
      foundation([
        stretch([-4000, 0], [4000, 0], 200, free),
        stretch([from * c, from * s], [3000 * c, 3000 * s], 200, [false, true]),
        stretch([-from * c, from * s], [-3000 * c, 3000 * s], 200, [false, true]),
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['cross', 'end', 'end', 'end', 'end']);
    expect(r.findings.map((f) => [f.code, f.severity])).toEqual([['shape.junction-not-laid-out', 'failure']]);
    const through = r.value.runs.find((x) => x.stems.length > 0)!;
    expect(through.stems).toHaveLength(1);
    // Each stem's far face meets the through face 100 + 200/sin 45/2 = 241.4 from the middle.
    expect([through.stems[0]!.fromMm, through.stems[0]!.toMm]).toEqual([3759, 4241]);
  });

  it('a corner turning back by 172 degrees has its outer vertex 1,430 away: open, no spike in the outline', () => {
    const d = (172 * Math.PI) / 180;
    const half = 100 * Math.tan(d / 2);
    const r = shape(
      foundation([
        stretch([-9000, 0], [-half, 0], 200, [true, false]),
        stretch([half * Math.cos(d), half * Math.sin(d)], [9000 * Math.cos(d), 9000 * Math.sin(d)], 200, [false, true]),
      ]),
      GRID,
    );
    // 1,430 is more than 4 thicknesses: not even taken as meeting, so both ends are free and said to be.
    expect(kinds(r)).toEqual(['end', 'end', 'end', 'end']);
    expect(r.findings.some((f) => f.severity !== 'note')).toBe(true);
    for (const p of r.value.concrete.flat()) expect(p.x).toBeLessThan(1000);
  });

  it('a corner turning by 160 degrees, 567 to its vertices, is a corner; by 166, over 800, it is left open', () => {
    const turning = (deg: number) => {
      const d = (deg * Math.PI) / 180;
      const half = Math.min(100 * Math.tan(d / 2), 795);
      return shape(
        foundation([
          stretch([-9000, 0], [-half, 0], 200, [true, false]),
          stretch([half * Math.cos(d), half * Math.sin(d)], [9000 * Math.cos(d), 9000 * Math.sin(d)], 200, [
            false,
            true,
          ]),
        ]),
        GRID,
      );
    };
    expect(turning(160).findings).toEqual([]);
    const open = turning(166);
    expect(kinds(open)).toEqual(['corner', 'end', 'end']);
    // One failure for one place: that the two bodies lie over each other there is the same trouble.
    expect(open.findings.filter((f) => f.severity === 'failure')).toMatchObject([
      { code: 'shape.junction-not-laid-out', at: [0, 0, 0] },
    ]);
    expect(open.value.vertices).toEqual([]);
  });

  it('a bend of 6 degrees is a bend', () => {
    const d = (6 * Math.PI) / 180;
    const half = 100 * Math.tan(d / 2);
    const r = shape(
      foundation([
        stretch([-4000, 0], [-half, 0], 200, [true, false]),
        stretch([half * Math.cos(d), half * Math.sin(d)], [4000 * Math.cos(d), 4000 * Math.sin(d)], 200, [false, true]),
      ]),
      GRID,
    );
    expect(r.value.nodes.filter((n) => n.kind === 'bend')).toMatchObject([{ angleDeg: 6 }]);
    expect(codes(r)).toEqual([]);
  });

  it('long walls that turn by a fifth of a degree bend, and are not squared into a jog; short ones are one wall', () => {
    const d = (0.2 * Math.PI) / 180;
    const nodes = (mm: number) =>
      shape(
        foundation([
          stretch([-mm, 0], [0, 0], 200, [true, false]),
          stretch([0, 0], [mm * Math.cos(d), mm * Math.sin(d)], 200, [false, true]),
        ]),
        GRID,
      ).value.nodes.map((n) => n.kind);
    // Squared about their middles the walls would lie 20,000 (d/2) = 35 mm out of line at least, 2,000 long ones 4.
    expect(nodes(20_000)).toEqual(['end', 'bend', 'end']);
    expect(nodes(2000)).toEqual(['end', 'end']);
  });

  it('what goes on in line beyond a tee bends with its wall', () => {
    const d = (0.2 * Math.PI) / 180;
    const at = (along: number, left: number): [number, number] => [
      along * Math.cos(d) - left * Math.sin(d),
      along * Math.sin(d) + left * Math.cos(d),
    ];
    const r = shape(
      foundation([
        stretch([-9000, 0], [0, 0], 200, [true, false]),
        stretch(at(0, 0), at(6900, 0), 200, free),
        stretch(at(7100, 0), at(15_000, 0), 200, [false, true]),
        stretch(at(7000, 100), at(7000, 3000), 200, [false, true]),
      ]),
      GRID,
    );
    expect(r.value.nodes.map((n) => n.kind).sort()).toEqual(['bend', 'end', 'end', 'end', 'tee']);
  });

  it('at a bend a short wall keeps its free end', () => {
    const d = (6 * Math.PI) / 180;
    const half = 100 * Math.tan(d / 2);
    for (const mm of [300, 700, 1500]) {
      const r = shape(
        foundation([
          stretch([-4000, 0], [-half, 0], 200, [true, false]),
          stretch([half * Math.cos(d), half * Math.sin(d)], [mm * Math.cos(d), mm * Math.sin(d)], 200, [false, true]),
        ]),
        GRID,
      );
      expect(r.value.nodes.map((n) => n.kind)).toEqual(['end', 'bend', 'end']);
      expect(Math.round(r.value.walls[1]!.lengthMm)).toBe(mm);
    }
  });
});

describe('walls that clash', () => {
  it('lying over each other out of line: a failure with the area', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([1000, 150], [5000, 150], 200, free)]),
      GRID,
    );
    expect(only(r, 'shape.bodies-overlap')).toMatchObject([{ severity: 'failure', subject: 'W1 W2' }]);
    expect(only(r, 'shape.bodies-overlap')[0]!.message).toContain('0.2 m2'); // 4,000 by 50
  });

  it('face against face (a wall doubled): a failure', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 200, free), stretch([1000, 200], [5000, 200], 200, free)]),
      GRID,
    );
    expect(r.findings).toMatchObject([{ code: 'shape.walls-touching', severity: 'failure', at: [3000, 100, 0] }]);
  });

  it('a stretch inside the body of another is left out', () => {
    const r = shape(
      foundation([stretch([0, 0], [6000, 0], 400, free), stretch([1000, 50], [5000, 50], 150, free)]),
      GRID,
    );
    expect(r.value.walls).toHaveLength(1);
    expect(r.findings).toMatchObject([{ code: 'shape.stretch-dropped' }]);
  });

  it('two walls 150 apart on the axis, joined at the end, leave no face between them', () => {
    const r = shape(
      foundation([
        stretch([0, 0], [4000, 0], 200, [true, false]),
        stretch([4100, 20], [4100, 130], 200),
        stretch([0, 150], [4000, 150], 200, [true, false]),
      ]),
      GRID,
    );
    expect(r.findings.filter((f) => f.severity === 'failure').map((f) => f.code)).toContain('shape.wall-too-short');
    for (const f of r.value.faces) expect(f.toMm).toBeGreaterThanOrEqual(f.fromMm);
  });

  it('a Z shorter than its thickness is laid out: its two faces are 150 long', () => {
    const r = shape(
      drawn([
        { along: 'x', axis: 0, from: -4000, to: 100, t: 200 },
        { along: 'y', axis: 0, from: -100, to: 250 + 100, t: 200 },
        { along: 'x', axis: 250, from: -100, to: 4000, t: 200 },
      ]),
      GRID,
    );
    expect(kinds(r)).toEqual(['corner', 'corner', 'end', 'end']);
    const short = r.value.walls.find((w) => w.lengthMm === 250)!;
    expect(r.value.faces.filter((f) => f.wall === short.id).map((f) => f.toMm - f.fromMm)).toEqual([250, 250]);
    expect(codes(r)).toEqual([]);
  });
});
