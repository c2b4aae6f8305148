/** Single cases: which walls are taken and why, levels against footings, openings, what stands around, and input that nobody should send. */

import { describe, expect, it } from 'vitest';
import type { Solid } from '../../../src/ground/vocabulary.js';
import { shape } from '../../../src/shape/index.js';
import { traceModel } from '../../../src/trace/model/index.js';
import { materialWord } from '../../../src/trace/model/words.js';
import { body, box, element, mesh, model, OPTIONS, opening, outline, prism, sheet, upright } from './byHand.js';

const wallAt = (id: string, y: number, more = {}, base = 0, top = 2500) =>
  element(id, [prism(box(0, y, 5000, y + 250), base, top)], more);
const run = (elements: Parameters<typeof model>[0], options: Partial<typeof OPTIONS> = {}, more = {}) =>
  traceModel(model(elements, more), { ...OPTIONS, ...options });
const takenOf = (r: ReturnType<typeof run>) => r.value.model!.elements.filter((e) => e.taken).map((e) => e.id);
const codesOf = (r: ReturnType<typeof run>) => [...new Set(r.findings.map((f) => f.code))];
const whyOf = (r: ReturnType<typeof run>, id: string) => r.value.model!.elements.find((e) => e.id === id)!.why;

describe('what concrete is called', () => {
  it.each([
    ['Concrete - Cast In Situ', 'concrete'],
    ['beton_C20/25', 'concrete'],
    ['Stahlbeton', 'concrete'],
    ['Béton armé', 'concrete'],
    ['Hormigón', 'concrete'],
    ['Calcestruzzo C25/30', 'concrete'],
    ['RC-W1_300', 'concrete'],
    ['Betong', 'concrete'],
    ['C30/37', 'concrete'],
    ['Masonry - Concrete Block', 'other'],
    ['Betonstein', 'other'],
    ['Porenbeton', 'other'],
    ['kalkzandsteen', 'other'],
    ['metselwerk', 'other'],
    ['Precast concrete', 'other'],
    ['stone_sand-lime', 'other'],
    ['gipsplaat', 'other'],
    ['hout', 'other'],
    ['Insulation / Thermal Barriers - Rigid insulation', 'other'],
    ['Default Wall', 'silent'],
    ['Generic - 8"', 'silent'],
    ['', 'silent'],
  ])('%s: %s', (name, is) => {
    expect(materialWord(name).is).toBe(is);
  });
});

describe('which walls', () => {
  const material = (name: string) => ({ materials: [{ name, category: null, thicknessMm: null }], typeName: null });

  it('concrete on footings, not the brick beside it, not the storey above', () => {
    const footing = element('f', [prism(box(-200, -200, 5200, 450), -300, 0)], {
      kind: 'footing',
      entity: 'IfcFooting',
    });
    const r = run([footing, wallAt('w', 0), wallAt('brick', 300, material('Brick')), wallAt('up', 0, {}, 2700, 5200)]);
    expect(takenOf(r)).toEqual(['w']);
    expect(whyOf(r, 'w')).toBe('stands on footing f, concrete by type (Concrete wall)');
    expect(whyOf(r, 'brick')).toBe('not concrete: masonry (Brick)');
    expect(whyOf(r, 'up')).toBe('above the foundation: stands on wall w');
    expect(r.value.model!.outlines.map((o) => [o.kind, o.id])).toEqual([
      ['footing', 'f'],
      ['wall', 'w'],
      ['wall-left-out', 'brick'],
    ]);
  });

  it('nothing says the material: taken at the level of the foundation, and asked', () => {
    const r = run([wallAt('w', 0, { typeName: null })]);
    expect(takenOf(r)).toEqual(['w']);
    const f = r.findings.find((x) => x.code === 'trace.material-unknown')!;
    expect([f.subject, f.assumed]).toEqual(['w', 'it is concrete cast in place']);
    expect(codesOf(r)).toContain('trace.model-storeys');
  });

  it('walls that are footings by shape carry the others; a wall that is a raft by name and type slab too', () => {
    const low = element('low', [prism(box(-200, -200, 5200, 450), -300, 0)]);
    const r = run([low, wallAt('w', 0)]);
    expect(takenOf(r)).toEqual(['w']);
    expect(whyOf(r, 'low')).toContain('a footing by its shape: 650 mm wide and 300 mm high');
    const raft = element('raft', [prism(box(-1000, -1000, 6000, 6000), -400, 0)], {
      kind: 'slab',
      predefinedType: 'BASESLAB',
    });
    expect(whyOf(run([raft, wallAt('w', 0)]), 'w')).toContain('stands on slab raft');
  });

  it('types that are never formed, storeys, the area and the lists of the job file', () => {
    const storeys = [
      { id: 's1', name: 'Kelder', levelMm: 0, elevationMm: 0 },
      { id: 's2', name: 'Begane grond', levelMm: 0, elevationMm: 0 },
    ];
    const all = [
      wallAt('a', 0, { storey: 's1' }),
      wallAt('b', 3000, { storey: 's2', name: 'North wall' }),
      wallAt('p', 6000, { predefinedType: 'PARTITIONING', storey: 's1' }),
    ];
    expect(takenOf(run(all, {}, { storeys }))).toEqual(['a', 'b']);
    expect(whyOf(run(all, {}, { storeys }), 'a')).toContain('its name or storey says foundation');
    expect(takenOf(run(all, { storeys: ['kelder'] }, { storeys }))).toEqual(['a']);
    expect(takenOf(run(all, { takeElements: ['north*', 'p'] }, { storeys }))).toEqual(['b', 'p']);
    expect(takenOf(run(all, { ignoreElements: ['a'] }, { storeys }))).toEqual(['b']);
    expect(takenOf(run(all, { area: [-100, -100, 6000, 1000] }, { storeys }))).toEqual(['a']);
    const odd = run(all, { takeElements: ['a', 'nobody'], storeys: ['attic'] }, { storeys });
    expect(odd.findings.filter((f) => f.code === 'trace.element-unmatched').map((f) => f.subject)).toEqual([
      'attic',
      'nobody',
    ]);
  });

  it('concreteMaterials decides alone where it is given', () => {
    const all = [wallAt('a', 0, material('Mix 7')), wallAt('b', 3000, material('Concrete'))];
    const r = run(all, { concreteMaterials: ['mix*'] });
    expect(takenOf(r)).toEqual(['a']);
    expect(whyOf(r, 'b')).toBe('not concrete: not in concreteMaterials (Concrete)');
  });

  it('none: a failure with the reasons counted', () => {
    const r = run([
      wallAt('a', 0, material('Brick')),
      wallAt('b', 3000, material('Brick')),
      wallAt('c', 6000, { typeName: 'Timber stud' }),
    ]);
    const f = r.findings.find((x) => x.code === 'trace.no-wall')!;
    expect(f.severity).toBe('failure');
    expect(f.message).toBe(
      'None of the 3 walls of the model was taken: 2 not concrete: masonry; 1 not concrete by type: timber.',
    );
    expect(r.value.stretches).toEqual([]);
    expect(run([]).findings[0]!.message).toContain('The model has no walls');
  });
});

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
    expect(r.findings.find((f) => f.code === 'trace.thickness-varies')!.message).toMatch(
      /is 499\.\d mm thick .* and 250\.\d mm/,
    );
    expect(codesOf(r)).not.toContain('trace.wall-foot');
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
});

describe('input that nobody should send', () => {
  const nan = Number.NaN;
  const hostile: Record<string, Solid> = {
    'numbers that are none': { ...prism(box(0, 0, 5000, 250), 0, 2500), depthMm: nan },
    'no outline': { ...prism(box(0, 0, 5000, 250), 0, 2500), outlines: [] },
    'an empty outline': { ...prism(box(0, 0, 5000, 250), 0, 2500), outlines: [[]] },
    'no height': prism(box(0, 0, 5000, 250), 0, 0),
    'no width': prism(box(0, 0, 5000, 0), 0, 2500),
    'a flat direction': { ...prism(box(0, 0, 5000, 250), 0, 2500), direction: { x: 1, y: 0, z: 0 } },
    'a mesh of nothing': { kind: 'mesh', points: [], faces: [] },
    'faces that point nowhere': { kind: 'mesh', points: [{ x: 0, y: 0, z: 0 }], faces: [[[0, 5, 9]], [[]], []] },
    'infinite points': {
      ...mesh(box(0, 0, 5000, 250), 0, 2500),
      points: mesh(box(0, 0, 5000, 250), 0, 2500).points.map((p) => ({ ...p, x: Infinity })),
    },
    'a half space alone': {
      kind: 'half-space',
      origin: { x: 0, y: 0, z: 0 },
      normal: { x: 0, y: 0, z: 1 },
      boundary: null,
    },
    'all of it cut away': {
      kind: 'difference',
      first: prism(box(0, 0, 5000, 250), 0, 2500),
      second: prism(box(-1, -1, 5001, 251), -1, 2501),
    },
  };
  for (const [what, solid] of Object.entries(hostile))
    it(`${what}: left out with a failure that names it, and the rest is traced`, () => {
      const r = run([element('bad', [solid], { name: 'Bad wall' }), wallAt('good', 3000)]);
      expect(takenOf(r)).toEqual(['good']);
      expect(r.value.stretches.length).toBe(1);
      const f = r.findings.find((x) => x.code === 'trace.body-unusable')!;
      expect([f.severity, f.subject]).toEqual(['failure', 'bad']);
      expect(f.message).toContain('Bad wall (bad)');
    });

  it('a self-crossing profile and far coordinates end in a result', () => {
    const bow = prism(
      [
        [0, 0],
        [5000, 300],
        [5000, 0],
        [0, 300],
      ],
      0,
      2500,
    );
    expect(run([element('bow', [bow])]).findings.length).toBeGreaterThan(0);
    const far = prism(box(1e15, 1e15, 1e15 + 5000, 1e15 + 250), 0, 2500);
    expect(() => run([element('far', [far]), wallAt('w', 0)])).not.toThrow();
    const huge = prism(box(-1e12, -1e12, 1e12, 1e12), 0, 2500);
    expect(() => run([element('huge', [huge]), wallAt('w', 0)])).not.toThrow();
  });

  it('a wall as wide as long is no wall, and that is said', () => {
    const r = run([element('pad', [prism(box(0, 0, 900, 900), 0, 2500)]), wallAt('w', 3000)], {
      takeElements: ['pad', 'w'],
    });
    expect(r.findings.find((f) => f.code === 'trace.wall-not-formed')!.subject).toBe('pad');
  });

  it('a body in good and bad parts: the good ones, and a failure', () => {
    const r = run([
      element('w', [
        body(prism(box(0, 0, 5000, 250), 0, 2500)),
        body({ ...prism(box(0, 0, 1, 1), 0, 1), depthMm: nan }),
      ]),
    ]);
    expect(r.value.stretches.length).toBe(1);
    expect(r.findings.find((f) => f.code === 'trace.body-unusable')!.severity).toBe('failure');
  });
});
