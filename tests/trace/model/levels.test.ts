/** Base and top of walls, against footings, slopes, clips and the job file. */

import { describe, expect, it } from 'vitest';
import type { Solid } from '../../../src/ground/vocabulary.js';
import { shape } from '../../../src/shape/index.js';
import { box, element, outline, prism, sheet, upright } from './byHand.js';
import { codesOf, run, takenOf, wallAt } from './run.js';

describe('levels', () => {
  const footing = (id: string, x0: number, x1: number, top: number) =>
    element(id, [prism(box(x0, -200, x1, 450), top - 300, top)], { kind: 'footing', entity: 'IfcFooting' });

  it('a wall that reaches into its footing stands on it; one that stands clear is said', () => {
    const deep = run([footing('f', -200, 5200, 0), wallAt('w', 0, {}, -100)]);
    expect(deep.value.levels.footingMm).toBe(0);
    expect(deep.findings.find((f) => f.code === 'trace.footing-reached-into')!.message).toBe(
      'IfcWall w reaches 100 mm into IfcFooting f.',
    );
    const clear = run([footing('f', -200, 5200, -50), wallAt('w', 0)]);
    expect(clear.value.levels.footingMm).toBe(0);
    expect(clear.findings.find((f) => f.code === 'trace.footing-gap')!.message).toBe(
      'IfcWall w stands 50 mm over IfcFooting f.',
    );
  });

  it('a stepped footing under one wall gives bands and a step', () => {
    const wall = element('w', [
      sheet(
        [
          [0, -600],
          [2000, -600],
          [2000, 0],
          [5000, 0],
          [5000, 2500],
          [0, 2500],
        ],
        0,
        250,
      ),
    ]);
    const r = run([footing('low', -200, 2000, -600), footing('high', 2000, 5200, 0), wall]);
    expect(r.value.steps.map((s) => [s.kind, s.at.x, s.riseMm])).toEqual([['footing', 2000, 600]]);
    const [w] = shape(r.value, { gridMm: 1 }).value.walls;
    expect(w!.base.map((b) => [b.toMm, b.levelMm])).toEqual([
      [2000, -600],
      [5000, 0],
    ]);
  });

  it('a wall buried in two footings of different tops stands on each', () => {
    const r = run([footing('low', -200, 2000, -60), footing('high', 2000, 5200, 0), wallAt('w', 0, {}, -100)]);
    const [w] = shape(r.value, { gridMm: 1 }).value.walls;
    expect(w!.base.map((b) => [b.toMm, b.levelMm])).toEqual([
      [2000, -60],
      [5000, 0],
    ]);
  });

  it('a sloping top is poured to its highest level, and both are said; a sloping base is a failure', () => {
    const slope = run([
      element('w', [
        sheet(
          [
            [0, 0],
            [5000, 0],
            [5000, 2000],
            [0, 3000],
          ],
          0,
          250,
        ),
      ]),
    ]);
    expect(slope.value.levels.topMm).toBeCloseTo(3000, 2);
    expect(slope.findings.find((f) => f.code === 'trace.sloping-top')!.message).toContain('from level 2000 to 3000');
    const base = run([
      element('w', [
        sheet(
          [
            [0, 0],
            [5000, 500],
            [5000, 3000],
            [0, 3000],
          ],
          0,
          250,
        ),
      ]),
    ]);
    expect(base.findings.find((f) => f.code === 'trace.sloping-base')!.severity).toBe('failure');
  });

  it('a clipped wall ends where it was clipped', () => {
    const half = {
      kind: 'half-space',
      origin: { x: 0, y: 0, z: 1800 },
      normal: { x: 0, y: 0, z: -1 },
      boundary: null,
    } as const;
    const solid: Solid = { kind: 'difference', first: prism(box(0, 0, 5000, 250), 0, 2500), second: half };
    expect(run([element('w', [solid])]).value.levels.topMm).toBe(1800);
    const part: Solid = {
      ...solid,
      second: { ...half, boundary: { frame: upright(0), outline: outline(box(3000, -100, 6000, 400)) } },
    };
    const r = run([element('w', [part])]);
    expect(r.value.steps.map((s) => [s.kind, s.at.x, s.riseMm])).toEqual([['top', 3000, 700]]);
  });

  it('an inverted tee in one body: the foot is the footing', () => {
    const solid: Solid = {
      kind: 'union',
      first: prism(box(0, 0, 5000, 250), 0, 2500),
      second: prism(box(-300, -300, 5300, 550), -300, 0),
    };
    const r = run([element('w', [solid])]);
    expect([r.value.stretches[0]!.thicknessMm, r.value.levels.footingMm]).toEqual([250, 0]);
    expect(r.findings.find((f) => f.code === 'trace.wall-foot')!.message).toContain('up to level 0');
  });

  it('a brick ledge is said with both thicknesses', () => {
    const r = run([element('w', [prism(box(0, 0, 5000, 300), 0, 2300), prism(box(0, 100, 5000, 300), 2300, 2500)])]);
    expect(r.value.stretches[0]!.thicknessMm).toBe(300);
    const f = r.findings.find((x) => x.code === 'trace.thickness-varies')!;
    expect(f.message).toContain('300 mm thick from level 0 to 2300 and 200 mm from 2300 to 2500');
  });

  it('a battered wall has its thickest thickness, and both are said; its batter is no foot', () => {
    const across: Solid = {
      kind: 'prism',
      frame: {
        origin: { x: 0, y: 0, z: 0 },
        x: { x: 0, y: 1, z: 0 },
        y: { x: 0, y: 0, z: 1 },
        z: { x: 1, y: 0, z: 0 },
      },
      outlines: [
        outline([
          [0, 0],
          [500, 0],
          [250, 2500],
          [0, 2500],
        ]),
      ],
      direction: { x: 1, y: 0, z: 0 },
      depthMm: 5000,
    };
    const r = run([element('w', [across])]);
    expect(r.value.stretches.map((s) => Math.round(s.thicknessMm))).toEqual([500]);
    expect([r.value.levels.footingMm, r.value.levels.topMm]).toEqual([0, 2500]);
    const batter = r.findings.find((f) => f.code === 'trace.not-plumb')!;
    expect([batter.severity, batter.message]).toEqual([
      'failure',
      'The thickness of IfcWall w changes evenly from 500 mm at level 0 to 250 mm at 2500.',
    ]);
    expect(codesOf(r)).not.toContain('trace.wall-foot');
  });

  const across = (section: Parameters<typeof outline>[0]): Solid => ({
    kind: 'prism',
    frame: { origin: { x: 0, y: 0, z: 0 }, x: { x: 0, y: 1, z: 0 }, y: { x: 0, y: 0, z: 1 }, z: { x: 1, y: 0, z: 0 } },
    outlines: [outline(section)],
    direction: { x: 1, y: 0, z: 0 },
    depthMm: 5000,
  });
  const thickOf = (r: ReturnType<typeof run>) => r.value.stretches.map((s) => Math.round(s.thicknessMm));

  it('a wall that leans is as thick as one of its sections, and a failure', () => {
    const r = run([
      element('w', [
        across([
          [0, 0],
          [200, 0],
          [500, 2400],
          [300, 2400],
        ]),
      ]),
    ]);
    expect([thickOf(r), r.value.levels.footingMm, r.value.levels.topMm]).toEqual([[200], 0, 2400]);
    const f = r.findings.find((x) => x.code === 'trace.not-plumb')!;
    expect([f.severity, f.subject]).toEqual(['failure', 'w']);
    expect(Math.round(Number(/run ([\d.]+) mm sideways/.exec(f.message)![1]))).toBe(300);
    const plumb = run([
      element('w', [
        across([
          [0, 0],
          [200, 0],
          [204, 2400],
          [4, 2400],
        ]),
      ]),
    ]);
    expect(codesOf(plumb)).not.toContain('trace.not-plumb');
  });

  it('a corbel at the top is no part of the wall, and a failure; what is over a door is none', () => {
    const r = run([
      element('w', [
        across([
          [0, 0],
          [200, 0],
          [200, 2000],
          [400, 2000],
          [400, 2400],
          [0, 2400],
        ]),
      ]),
    ]);
    expect([thickOf(r), r.value.levels.footingMm, r.value.levels.topMm]).toEqual([[200], 0, 2400]);
    const f = r.findings.find((x) => x.code === 'trace.wall-head')!;
    expect([f.severity, f.message]).toEqual([
      'failure',
      'IfcWall w has a head that stands out of its faces from level 2000 to 2400.',
    ]);
    const door = run([
      element('w', [
        prism(box(0, 0, 2000, 250), 0, 2000),
        prism(box(3000, 0, 5000, 250), 0, 2000),
        prism(box(0, 0, 5000, 250), 2000, 2400),
      ]),
    ]);
    expect(codesOf(door)).not.toContain('trace.wall-head');
  });

  it('what is thicker over a thinner stem is a failure', () => {
    const r = run([element('w', [prism(box(0, 0, 5000, 200), 0, 800), prism(box(0, 0, 5000, 300), 800, 2400)])]);
    expect(r.findings.find((f) => f.code === 'trace.thickness-varies')!.severity).toBe('failure');
  });

  it('a wall whose top slopes down to its base is as long as it is at its base', () => {
    const r = run([
      element('w', [
        sheet(
          [
            [0, 0],
            [5000, 0],
            [0, 2000],
          ],
          0,
          250,
        ),
      ]),
    ]);
    expect(r.value.stretches.map((s) => [s.start.x, Math.round(s.end.x / 10) * 10])).toEqual([[0, 5000]]);
    expect(r.value.levels.topMm).toBeCloseTo(2000, 0);
    expect(codesOf(r)).toContain('trace.sloping-top');
  });

  it('curves alone have levels; where nothing is taken the defaults stand', () => {
    const ring = [
      { x: -5000, y: 0, bulge: -1 },
      { x: 5000, y: 0, bulge: 0 },
      { x: 4700, y: 0, bulge: 1 },
      { x: -4700, y: 0, bulge: 0 },
    ];
    const curved = run([element('w', [{ ...prism(box(0, 0, 1, 1), -700, 1800), outlines: [ring] }])]);
    expect(curved.value.levels).toEqual({ footingMm: -700, topMm: 1800, footingFrom: 'drawing', topFrom: 'drawing' });
    expect(run([]).value.levels).toEqual({ footingMm: 0, topMm: 2400, footingFrom: 'default', topFrom: 'default' });
  });

  it('a floor slab that is typed as a base slab carries no second storey', () => {
    const slab = element('s', [prism(box(-500, -500, 6000, 6000), 2500, 2700)], {
      kind: 'slab',
      predefinedType: 'BASESLAB',
    });
    const r = run([footing('f', -200, 5200, 0), wallAt('w', 0), slab, wallAt('up', 0, {}, 2700, 5200)]);
    expect(takenOf(r)).toEqual(['w']);
  });

  it('what the job file says of all walls stands in place of what most have, and that is said', () => {
    const r = run([wallAt('a', 0), wallAt('b', 3000), wallAt('c', 6000, {}, 200)], {
      levels: { footingMm: -50, topMm: null },
    });
    const walls = shape(r.value, { gridMm: 1 }).value.walls;
    expect(walls.map((w) => [w.sources[0], w.base[0]!.levelMm])).toEqual([
      ['a', -50],
      ['b', -50],
      ['c', 200],
    ]);
    expect(codesOf(r)).toContain('trace.levels-overruled');
  });

  it('walls side by side that differ in height by far are a failure', () => {
    const r = run([wallAt('a', 0), wallAt('b', 250, {}, 0, 1200)]);
    expect(r.value.stretches[0]!.thicknessMm).toBe(500);
    expect(r.findings.find((f) => f.code === 'trace.levels-side-by-side')!.severity).toBe('failure');
  });
});
