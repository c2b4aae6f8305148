/** One building modelled in many ways must give the same stretches; turned, moved and reordered models turned, moved and equal ones. */

import { describe, expect, it } from 'vitest';
import type {
  Foundation,
  Model,
  ModelElement,
  PathVertex,
  Solid,
  WallStretch,
} from '../../../src/ground/vocabulary.js';
import { shape } from '../../../src/shape/index.js';
import { trace } from '../../../src/trace/index.js';
import { traceModel } from '../../../src/trace/model/index.js';
import { pathsOf, tracePlan } from '../../../src/trace/model/plan.js';
import { enclosed } from '../../../src/trace/model/region.js';
import { body, box, element, mesh, model, movedModel, OPTIONS, prism, type Ring } from './byHand.js';
import { emptyDrawing } from './drawn.js';

const T = 300;
/** A box of 8 x 5 m outside, a cross wall at x = 3 m, and a free stub of 2 m on its right. */
const walls = (make: (id: string, ring: Ring) => ModelElement, joint: 'butt' | 'mitre' | 'overlap'): ModelElement[] => {
  const [w, h] = [8000, 5000];
  const stub = make('stub', box(w, 2000, w + 2000, 2000 + T));
  const cross = make('cross', joint === 'overlap' ? box(3000, 0, 3000 + T, h) : box(3000, T, 3000 + T, h - T));
  if (joint === 'mitre')
    return [
      make('south', [
        [0, 0],
        [w, 0],
        [w - T, T],
        [T, T],
      ]),
      make('north', [
        [0, h],
        [T, h - T],
        [w - T, h - T],
        [w, h],
      ]),
      make('west', [
        [0, 0],
        [T, T],
        [T, h - T],
        [0, h],
      ]),
      make('east', [
        [w, 0],
        [w, h],
        [w - T, h - T],
        [w - T, T],
      ]),
      cross,
      stub,
    ];
  const inset = joint === 'butt' ? T : 0;
  return [
    make('south', box(0, 0, w, T)),
    make('north', box(0, h - T, w, h)),
    make('west', box(0, inset, T, h - inset)),
    make('east', box(w - T, inset, w, h - inset)),
    cross,
    stub,
  ];
};

const [BASE, TOP] = [-1250, 150];
const asPrism = (id: string, ring: Ring) => element(id, [prism(ring, BASE, TOP)]);
const asMesh = (id: string, ring: Ring) => element(id, [mesh(ring, BASE, TOP)]);
const asTriangles = (id: string, ring: Ring) => element(id, [mesh(ring, BASE, TOP, true)]);
const inLayers = (id: string, ring: Ring) => {
  // Two bodies over each other, in half the height and all of it: one element in parts.
  const low: Solid = prism(ring, BASE, (BASE + TOP) / 2);
  const high: Solid = prism(ring, (BASE + TOP) / 2, TOP);
  return element(id, [low, high]);
};
const clipped = (id: string, ring: Ring) => {
  const tall = prism(ring, BASE, 4000);
  const cut: Solid = {
    kind: 'difference',
    first: tall,
    second: { kind: 'half-space', origin: { x: 0, y: 0, z: TOP }, normal: { x: 0, y: 0, z: -1 }, boundary: null },
  };
  return element(id, [cut]);
};

const places = (f: Pick<Foundation, 'stretches'>) =>
  f.stretches.map((s) => [s.start.x, s.start.y, s.end.x, s.end.y, s.thicknessMm, s.startCapped, s.endCapped]);

const reference = traceModel(model(walls(asPrism, 'butt')), OPTIONS);

describe('one building in many ways', () => {
  it('gives what was drawn up: places, thickness, levels, elements', () => {
    const { value, findings } = reference;
    expect(findings.filter((f) => f.severity === 'failure')).toEqual([]);
    expect(value.levels).toEqual({ footingMm: BASE, topMm: TOP, footingFrom: 'drawing', topFrom: 'drawing' });
    const of = (id: string) => value.stretches.filter((s) => s.sources.includes(id));
    expect(of('stub')).toEqual([
      expect.objectContaining({
        start: { x: 8000, y: 2150 },
        end: { x: 10000, y: 2150 },
        thicknessMm: T,
        startCapped: false,
        endCapped: true,
        sources: ['stub'],
      }),
    ]);
    expect(of('west')).toEqual([
      expect.objectContaining({ start: { x: 150, y: 300 }, end: { x: 150, y: 4700 }, sources: ['west'] }),
    ]);
    expect(of('south').map((s) => [s.start.x, s.end.x])).toEqual([
      [300, 3000],
      [3300, 7700],
    ]);
    expect(value.stretches.length).toBe(9);
  });

  for (const joint of ['butt', 'mitre', 'overlap'] as const)
    for (const [how, make] of Object.entries({ asPrism, asMesh, asTriangles, inLayers, clipped }))
      it(`${joint}, ${how}`, () => {
        const { value, findings } = traceModel(model(walls(make, joint)), OPTIONS);
        expect(places(value)).toEqual(places(reference.value));
        expect(value.levels).toEqual(reference.value.levels);
        expect(value.levelsAt).toEqual([]);
        expect(value.stretches.map((s) => s.sources)).toEqual(reference.value.stretches.map((s) => s.sources));
        expect(findings.filter((f) => f.severity === 'failure')).toEqual([]);
      });

  it('one solid for all walls', () => {
    const whole = walls(asPrism, 'butt').flatMap((e) => e.body.map((b) => b.solid));
    const { value } = traceModel(model([element('all', whole)]), OPTIONS);
    expect(places(value)).toEqual(places(reference.value));
  });

  it('layers side by side: the concrete alone where materials tell, a 120 mm insulation left out', () => {
    const layered = walls(asPrism, 'butt').map((e) =>
      e.id === 'south'
        ? {
            ...e,
            body: [
              body(prism(box(0, 0, 8000, T), BASE, TOP), 'Concrete C25/30'),
              body(prism(box(0, -120, 8000, 0), BASE, TOP), 'Insulation XPS'),
            ],
          }
        : e,
    );
    const { value, findings } = traceModel(model(layered), OPTIONS);
    expect(places(value)).toEqual(places(reference.value));
    expect(findings.find((f) => f.code === 'trace.layers-left-out')!.message).toContain('Insulation XPS');
  });

  it('hair cracks of 0.4 mm and overlaps of 0.4 mm between walls change nothing but by themselves', () => {
    for (const off of [-0.4, 0.4]) {
      const loose = walls(asPrism, 'butt').map((e) =>
        e.id === 'cross' ? element('cross', [prism(box(3000, T + off, 3000 + T, 5000 - T), BASE, TOP)]) : e,
      );
      const { value } = traceModel(model(loose), OPTIONS);
      expect(value.stretches.length).toBe(9);
      for (const [i, s] of value.stretches.entries()) {
        const r = reference.value.stretches[i]!;
        expect(Math.hypot(s.start.x - r.start.x, s.start.y - r.start.y)).toBeLessThan(0.5);
        expect(Math.hypot(s.end.x - r.end.x, s.end.y - r.end.y)).toBeLessThan(0.5);
      }
    }
  });

  it('the outline drawn as a DXF on S-WALL gives the same stretches through trace', () => {
    const rings = walls(asPrism, 'butt').flatMap((e) =>
      e.body.map((b) => (b.solid.kind === 'prism' ? b.solid.outlines[0]! : [])),
    );
    const { concrete } = tracePlan(rings.map((r: readonly PathVertex[]) => enclosed([r])));
    const drawn = trace({ ...emptyDrawing(), paths: pathsOf(concrete, 'outline') }, { ...OPTIONS, unit: 'mm' });
    expect(places(drawn.value)).toEqual(places(reference.value));
  });
});

const turned = (s: WallStretch, by: { x: number; y: number }, a: number) => {
  const at = (p: { x: number; y: number }) => ({
    x: p.x * Math.cos(a) - p.y * Math.sin(a) + by.x,
    y: p.x * Math.sin(a) + p.y * Math.cos(a) + by.y,
  });
  return [at(s.start), at(s.end)];
};

describe('turned, moved, reordered', () => {
  const base: Model = model(walls(asMesh, 'overlap'));
  it.each([
    [0, 0, 0, 0],
    [12_345.678, -987.6, 500, 0],
    [0, 0, 0, Math.PI / 6],
    [729_013_348.8, 9_063_992_684.7, 43_000, 1],
    [-4e8, 3e8, -9000, -Math.PI / 3],
  ])('by %d %d %d and %d rad', (x, y, z, angle) => {
    const { value } = traceModel(movedModel(base, { x, y, z }, angle), OPTIONS);
    expect(value.stretches.length).toBe(reference.value.stretches.length);
    expect(value.levels.footingMm).toBeCloseTo(BASE + z, 3);
    expect(value.levels.topMm).toBeCloseTo(TOP + z, 3);
    for (const r of reference.value.stretches) {
      const [p, q] = turned(r, { x, y }, angle) as [{ x: number; y: number }, { x: number; y: number }];
      const near = (a: { x: number; y: number }, b: { x: number; y: number }) =>
        Math.hypot(a.x - b.x, a.y - b.y) < 0.05;
      const same = value.stretches.find(
        (s) => (near(s.start, p) && near(s.end, q)) || (near(s.start, q) && near(s.end, p)),
      );
      expect(same, `${r.start.x} ${r.start.y}`).toBeDefined();
      expect(same!.thicknessMm).toBeCloseTo(r.thicknessMm, 2);
      expect(same!.sources).toEqual(r.sources);
    }
  });

  it('the order of elements, bodies and faces does not matter: the same bytes', () => {
    const elements = base.elements.map((e) => ({
      ...e,
      body: e.body.map((b) =>
        b.solid.kind === 'mesh' ? { ...b, solid: { ...b.solid, faces: [...b.solid.faces].reverse() } } : b,
      ),
    }));
    const other = traceModel({ ...base, elements: [...elements].reverse() }, OPTIONS);
    expect(JSON.stringify(other)).toBe(JSON.stringify(traceModel(base, OPTIONS)));
  });

  it('are all found where there are 1,600 of them', () => {
    const many = model(
      Array.from({ length: 1600 }, (_, i) => {
        const [x, y] = [(i % 50) * 6000, Math.floor(i / 50) * 3000];
        return element(`w${i}`, [prism(box(x, y, x + 5000, y + 250), 0, 2500)]);
      }),
    );
    expect(traceModel(many, OPTIONS).value.stretches.length).toBe(1600);
  });
});

describe('levels reach the walls of the plan', () => {
  const heights = {
    south: [-1250, 150],
    north: [-1250, 150],
    west: [-1250, -50],
    east: [-1850, 150],
    cross: [-1250, 100],
    stub: [-600, 0],
  } as const;
  it('every wall that shape makes has the base and top of its own element', () => {
    const elements = walls(
      (id, ring) => element(id, [prism(ring, ...(heights[id as keyof typeof heights] as [number, number]))]),
      'butt',
    );
    const { value } = traceModel(model(elements), OPTIONS);
    const plan = shape(value, { gridMm: 1 }).value;
    expect(plan.walls.length).toBe(6);
    for (const wall of plan.walls) {
      const [base, top] = heights[wall.sources[0] as keyof typeof heights];
      expect([wall.sources, wall.base.map((b) => b.levelMm), wall.top.map((b) => b.levelMm)]).toEqual([
        wall.sources,
        [base],
        [top],
      ]);
    }
  });

  it('two elements in line with different levels make one wall with a step at their joint', () => {
    const elements = [
      element('a', [prism(box(0, 0, 4000, 300), -1000, 500)]),
      element('b', [prism(box(4000, 0, 9000, 300), -1600, 500)]),
    ];
    const { value } = traceModel(model(elements), OPTIONS);
    expect(value.steps).toEqual([
      { kind: 'footing', at: { x: 4000, y: 150 }, riseMm: 600, text: null, sources: ['a', 'b'] },
    ]);
    const [wall, ...more] = shape(value, { gridMm: 1 }).value.walls;
    expect(more).toEqual([]);
    expect(wall!.base).toEqual([
      { fromMm: 0, toMm: 4000, levelMm: -1000 },
      { fromMm: 4000, toMm: 9000, levelMm: -1600 },
    ]);
  });

  it('and across a tee, where the stretch is parted', () => {
    const elements = [
      element('a', [prism(box(0, 0, 4150, 300), -1000, 500)]),
      element('b', [prism(box(4150, 0, 9000, 300), -1000, 900)]),
      element('stem', [prism(box(4000, 300, 4300, 4000), -1000, 500)]),
    ];
    const { value } = traceModel(model(elements), OPTIONS);
    expect(value.steps.map((s) => [s.kind, s.riseMm])).toEqual([['top', 400]]);
    const through = shape(value, { gridMm: 1 }).value.walls.find((w) => w.lengthMm > 8000)!;
    expect(through.top.map((b) => b.levelMm)).toEqual([500, 900]);
    expect(Math.abs(through.top[0]!.toMm - 4150)).toBeLessThanOrEqual(150);
  });
});
