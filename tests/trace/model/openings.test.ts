/** Openings of walls, and what stands around them. */

import { describe, expect, it } from 'vitest';
import type { Solid } from '../../../src/ground/vocabulary.js';
import { shape } from '../../../src/shape/index.js';
import { body, box, element, opening, outline, prism, sheet } from './byHand.js';
import { codesOf, run, wallAt } from './run.js';

describe('openings', () => {
  const withHole = (solid: Solid, more = {}) => run([wallAt('w', 0, { openings: [opening('o', solid, more)] })]);

  it('a door reaches the base and is an opening, not two ends', () => {
    const r = withHole(prism(box(1000, -100, 2000, 350), -50, 2100), { filling: 'door' });
    expect(r.value.stretches.length).toBe(1);
    expect(r.value.openings).toEqual([
      {
        from: { x: 1000, y: 125 },
        to: { x: 2000, y: 125 },
        thicknessMm: 250,
        kind: 'door',
        sillMm: 0,
        headMm: 2100,
        sources: ['o'],
      },
    ]);
    expect(shape(r.value, { gridMm: 1 }).value.openings).toEqual([
      { id: 'O1', wall: 'W1', fromMm: 1000, toMm: 2000, sillMm: 0, headMm: 2100 },
    ]);
  });

  it('holes that a mesh has itself: a door and a window', () => {
    const elevation = [
      [0, 0],
      [1000, 0],
      [1000, 2100],
      [2000, 2100],
      [2000, 0],
      [5000, 0],
      [5000, 2500],
      [0, 2500],
    ] as const;
    const solid = { ...sheet(elevation, 0, 250), outlines: [outline(elevation), outline(box(3000, 900, 4200, 2100))] };
    const r = run([element('w', [solid])]);
    expect(r.value.stretches.map((s) => [s.start.x, s.end.x])).toEqual([[0, 5000]]);
    expect(r.value.openings.map((o) => [o.from.x, o.to.x, o.sillMm, o.headMm, o.sources])).toEqual([
      [1000, 2000, 0, 2100, ['w']],
      [3000, 4200, 900, 2100, ['w']],
    ]);
    expect([r.value.levels.footingMm, r.value.levels.topMm]).toEqual([0, 2500]);
  });

  it('recesses, round ones, sleeves, and those outside the wall are said', () => {
    const recess = withHole(prism(box(1000, -100, 2000, 100), 500, 1500));
    expect(recess.value.openings).toEqual([]);
    expect(recess.findings.find((f) => f.code === 'trace.recess')!.message).toContain('40 % of the thickness');
    const tube = (r: number): Solid => ({
      kind: 'prism',
      frame: {
        origin: { x: 2500, y: -100, z: 1200 },
        x: { x: 1, y: 0, z: 0 },
        y: { x: 0, y: 0, z: 1 },
        z: { x: 0, y: -1, z: 0 },
      },
      outlines: [
        [
          { x: -r, y: 0, bulge: 1 },
          { x: r, y: 0, bulge: 1 },
        ],
      ],
      direction: { x: 0, y: 1, z: 0 },
      depthMm: 500,
    });
    const round = withHole(tube(500));
    const [o] = round.value.openings;
    expect([o!.from.x, o!.to.x].map(Math.round)).toEqual([2000, 3000]);
    expect([o!.sillMm, o!.headMm].map((z) => Math.round(z!))).toEqual([700, 1700]);
    expect(codesOf(round)).toContain('trace.opening-not-box');
    const small = withHole(tube(60));
    expect(small.value.openings).toEqual([]);
    expect(small.value.model!.obstacles.map((x) => [x.id, x.what])).toEqual([['o', 'opening']]);
    expect(codesOf(withHole(prism(box(1000, -100, 2000, 350), 2600, 3000)))).toContain('trace.opening-not-placed');
  });

  it('an opening without a body is said, and so is a footing', () => {
    const footing = element('f', [], { kind: 'footing', entity: 'IfcFooting' });
    const r = run([
      wallAt('w', 0, { openings: [{ ...opening('o', prism(box(0, 0, 1, 1), 0, 0)), body: [] }] }),
      footing,
    ]);
    expect(r.findings.find((f) => f.code === 'trace.opening-not-placed')!.subject).toBe('o');
    expect(r.findings.find((f) => f.code === 'trace.body-unusable')!.subject).toBe('f');
  });

  it('the job file: other levels, and walls that end', () => {
    const all = [wallAt('w', 0, { openings: [opening('o', prism(box(1000, -100, 2000, 350), 0, 2100))] })];
    const near = { x: 1500, y: 125 };
    const levels = run(all, { openings: [{ near, wallEnds: false, sillMm: 100, headMm: 2000, widthMm: null }] });
    expect(levels.value.openings.map((o) => [o.sillMm, o.headMm])).toEqual([[100, 2000]]);
    const ends = run(all, { openings: [{ near, wallEnds: true, sillMm: null, headMm: null, widthMm: null }] });
    expect(ends.value.openings).toEqual([]);
    expect(ends.value.stretches.map((s) => [s.start.x, s.end.x, s.startCapped, s.endCapped, s.sources])).toEqual([
      [0, 1000, true, true, ['w']],
      [2000, 5000, true, true, ['w']],
    ]);
    expect(
      codesOf(
        run(all, {
          openings: [{ near: { x: 90_000, y: 0 }, wallEnds: true, sillMm: null, headMm: null, widthMm: null }],
        }),
      ),
    ).toContain('trace.opening-far');
  });
});

describe('around the walls', () => {
  it('pipes and bars in the walls taken, not those elsewhere; columns are asked about', () => {
    const pipe = (id: string, x: number) =>
      element(id, [prism(box(x, -500, x + 110, 700), 500, 610)], {
        kind: 'service',
        entity: 'IfcPipeSegment',
        typeName: null,
      });
    const bar = (id: string, y: number) => ({
      id,
      line: 1,
      name: null,
      diameterMm: 12,
      path: [
        { x: 100, y, z: 0 },
        { x: 100, y, z: 2400 },
      ],
    });
    const column = element('c', [prism(box(5000, -50, 5300, 300), 0, 2500)], { kind: 'column', entity: 'IfcColumn' });
    const r = run(
      [wallAt('w', 0), pipe('in', 1000), pipe('off', 9000), column],
      {},
      { bars: [bar('b1', 50), bar('b2', 9000)] },
    );
    expect(r.value.model!.obstacles.map((o) => [o.id, o.what, o.triangles.length])).toEqual([
      ['in', 'IfcPipeSegment', 12],
    ]);
    expect(r.value.model!.bars.map((b) => b.id)).toEqual(['b1']);
    expect(r.findings.find((f) => f.code === 'trace.column-in-wall')!.subject).toBe('c');
    const together = run([wallAt('w', 0), column], { takeElements: ['w', 'c'] });
    expect(codesOf(together)).not.toContain('trace.column-in-wall');
  });

  it('a curved wall comes out as a curve with its element', () => {
    const half = (r: number) =>
      [
        { x: -r, y: 0, bulge: -1 },
        { x: r, y: 0, bulge: 0 },
      ] as const;
    const ring = [half(5000)[0], half(5000)[1], { x: 4700, y: 0, bulge: 1 }, { x: -4700, y: 0, bulge: 0 }];
    const r = run([element('w', [{ ...prism(box(0, 0, 1, 1), 0, 2500), outlines: [ring] }])]);
    expect(r.value.stretches).toEqual([]);
    expect(r.value.curves.map((c) => [Math.round(c.radiusMm), Math.round(c.thicknessMm), c.sources])).toEqual([
      [4850, 300, ['w']],
    ]);
  });

  it('cavity leaves are two walls', () => {
    const r = run([wallAt('in', 0), element('out', [prism(box(0, 330, 5000, 430), 0, 2500)])]);
    expect(r.value.stretches.map((s) => [s.thicknessMm, s.sources])).toEqual([
      [250, ['in']],
      [100, ['out']],
    ]);
  });

  it('one opening element of several bodies is several openings; bodies that touch are one', () => {
    const windows = [500, 2000, 3500].map((x) => body(prism(box(x, -100, x + 800, 350), 900, 1700)));
    const r = run([wallAt('w', 0, { openings: [{ ...opening('o', prism(box(0, 0, 1, 1), 0, 1)), body: windows }] })]);
    expect(r.value.openings.map((o) => [o.from.x, o.to.x, o.sillMm, o.headMm])).toEqual([
      [500, 1300, 900, 1700],
      [2000, 2800, 900, 1700],
      [3500, 4300, 900, 1700],
    ]);
    const halves = [-100, 125].map((y) => body(prism(box(2000, y, 2800, y + 225), 900, 1700)));
    const one = run([wallAt('w', 0, { openings: [{ ...opening('o', prism(box(0, 0, 1, 1), 0, 1)), body: halves }] })]);
    expect(one.value.openings.length).toBe(1);
    expect(codesOf(one)).not.toContain('trace.recess');
  });

  it('sleeves and a window in one opening element: each is what it is', () => {
    const bodies = [
      body(prism(box(500, -100, 600, 350), 900, 1000)),
      body(prism(box(2000, -100, 2800, 350), 900, 1700)),
      body(prism(box(3500, -100, 3600, 350), 900, 1000)),
    ];
    const r = run([wallAt('w', 0, { openings: [{ ...opening('o', prism(box(0, 0, 1, 1), 0, 1)), body: bodies }] })]);
    expect(r.value.openings.map((o) => o.from.x)).toEqual([2000]);
    const [sleeves, ...more] = r.value.model!.obstacles;
    expect([sleeves!.id, more.length]).toEqual(['o', 0]);
    expect([...new Set(sleeves!.points.map((p) => p.x))].sort((a, b) => a - b)).toEqual([500, 600, 3500, 3600]);
  });
});
