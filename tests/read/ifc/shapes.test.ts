/** Shapes of every kind, with areas, volumes and places worked out by hand. */

import { describe, expect, it } from 'vitest';
import type { BodySolid, Prism, Solid } from '../../../src/ground/vocabulary.js';
import { type OneElement, oneElement, upwards } from '../../support/models/oneElement.js';
import { cornersOf, depthIn, extentOf, volumeOf } from '../../support/solids.js';
import { readModel } from './models.js';

const read = (one: OneElement) => {
  const { model, findings } = readModel(oneElement(one));
  const [element] = model.elements;
  return {
    element: element!,
    body: element?.body ?? [],
    bars: model.bars,
    findings,
    codes: findings.map((f) => f.code),
  };
};

const only = (body: readonly BodySolid[]): Solid => {
  expect(body.length).toBe(1);
  return body[0]!.solid;
};

const prism = (body: readonly BodySolid[]): Prism => {
  const solid = only(body);
  if (solid.kind !== 'prism') throw new Error(`not a prism: ${solid.kind}`);
  return solid;
};

/** Volume of the one prism or mesh, m3. */
const cubicMetres = (body: readonly BodySolid[]): number => Math.abs(volumeOf(only(body))!) / 1e9;

describe('profiles', () => {
  const cases: readonly (readonly [string, readonly string[], number])[] = [
    ['rectangle', ['#200=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,4000.,300.);'], 4 * 0.3],
    ['hollow rectangle', ['#200=IFCRECTANGLEHOLLOWPROFILEDEF(.AREA.,$,$,1000.,600.,100.,$,$);'], 0.6 - 0.8 * 0.4],
    [
      'rounded rectangle',
      ['#200=IFCROUNDEDRECTANGLEPROFILEDEF(.AREA.,$,$,1000.,600.,100.);'],
      0.6 - 0.01 * (4 - Math.PI),
    ],
    ['circle', ['#200=IFCCIRCLEPROFILEDEF(.AREA.,$,$,500.);'], Math.PI * 0.25],
    ['tube', ['#200=IFCCIRCLEHOLLOWPROFILEDEF(.AREA.,$,$,500.,100.);'], Math.PI * (0.25 - 0.16)],
    ['trapezium', ['#200=IFCTRAPEZIUMPROFILEDEF(.AREA.,$,$,1000.,600.,500.,100.);'], 0.8 * 0.5],
    [
      'polyline with a void',
      [
        '#200=IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,#201,(#202));',
        '#201=IFCPOLYLINE((#203,#204,#205,#206,#203));',
        '#202=IFCPOLYLINE((#207,#208,#209,#207));',
        '#203=IFCCARTESIANPOINT((0.,0.));',
        '#204=IFCCARTESIANPOINT((1000.,0.));',
        '#205=IFCCARTESIANPOINT((1000.,1000.));',
        '#206=IFCCARTESIANPOINT((0.,1000.));',
        '#207=IFCCARTESIANPOINT((100.,100.));',
        '#208=IFCCARTESIANPOINT((500.,100.));',
        '#209=IFCCARTESIANPOINT((100.,500.));',
      ],
      1 - 0.08,
    ],
    [
      'indexed curve with an arc: half a disk',
      [
        '#200=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#201);',
        '#201=IFCINDEXEDPOLYCURVE(#202,(IFCLINEINDEX((1,2)),IFCARCINDEX((2,3,1))),.F.);',
        '#202=IFCCARTESIANPOINTLIST2D(((-500.,0.),(500.,0.),(0.,500.)),$);',
      ],
      (Math.PI * 0.25) / 2,
    ],
    [
      'mirrored profile',
      [
        '#200=IFCMIRROREDPROFILEDEF(.AREA.,$,#201,*,$);',
        '#201=IFCTRAPEZIUMPROFILEDEF(.AREA.,$,$,1000.,600.,500.,100.);',
      ],
      0.4,
    ],
  ];
  for (const [name, lines, squareMetres] of cases) {
    it(`${name}: exact`, () => {
      const { body, findings } = read({ lines: [...lines, ...upwards(300, 200, 2000)], items: [300] });
      expect(findings).toEqual([]);
      expect(body[0]!.from).toBe('extrusion');
      // Arcs are chords of 2 degrees in the measure.
      expect(cubicMetres(body) / (squareMetres * 2)).toBeCloseTo(1, 3);
    });
  }

  it('composite profiles are one solid a part', () => {
    const { body } = read({
      lines: [
        '#200=IFCCOMPOSITEPROFILEDEF(.AREA.,$,(#201,#202),$);',
        '#201=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,100.,100.);',
        '#202=IFCCIRCLEPROFILEDEF(.AREA.,$,$,50.);',
        ...upwards(300, 200, 1000),
      ],
      items: [300],
    });
    expect(body.map(({ solid }) => (solid as Prism).outlines[0]!.length)).toEqual([4, 2]);
  });

  it('rolled sections are tessellated, and it is said', () => {
    const { body, codes } = read({
      lines: ['#200=IFCISHAPEPROFILEDEF(.AREA.,$,$,200.,300.,10.,15.,$,$,$);', ...upwards(300, 200, 1000)],
      items: [300],
    });
    expect(body[0]!.from).toBe('engine');
    expect(codes).toEqual(['read.model-tessellated']);
    // Two flanges and a web.
    expect(cubicMetres(body)).toBeCloseTo(0.2 * 0.015 * 2 + 0.01 * 0.27, 5);
  });
});

describe('curves', () => {
  /** A sector: two straight sides of 1000 and a quarter of a circle, trimmed by `trims`. */
  const sector = (trims: string, sense: string, segment: string): readonly string[] => [
    '#200=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#201);',
    '#201=IFCCOMPOSITECURVE((#210,#211,#212),.F.);',
    '#210=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#220);',
    `#211=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,${segment},#221);`,
    '#212=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#222);',
    '#220=IFCPOLYLINE((#230,#231));',
    `#221=IFCTRIMMEDCURVE(#223,${trims},${sense},.PARAMETER.);`,
    '#222=IFCPOLYLINE((#232,#230));',
    '#223=IFCCIRCLE(#224,1000.);',
    '#224=IFCAXIS2PLACEMENT2D(#230,$);',
    '#230=IFCCARTESIANPOINT((0.,0.));',
    '#231=IFCCARTESIANPOINT((1000.,0.));',
    '#232=IFCCARTESIANPOINT((0.,1000.));',
  ];
  const ways: readonly (readonly [string, string, string, string, boolean])[] = [
    ['degrees', '(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(90.))', '.T.', '.T.', true],
    ['radians', '(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(1.5707963267948966))', '.T.', '.T.', false],
    ['points', '(#231),(#232)', '.T.', '.T.', false],
    ['sense reversed', '(#232),(#231)', '.F.', '.F.', false],
    ['segment reversed', '(#232,IFCPARAMETERVALUE(90.)),(#231,IFCPARAMETERVALUE(0.))', '.F.', '.F.', true],
    ['past zero', '(IFCPARAMETERVALUE(360.)),(IFCPARAMETERVALUE(450.))', '.T.', '.T.', true],
  ];
  for (const [name, trims, sense, segment, degrees] of ways) {
    it(`trimmed circle, ${name}`, () => {
      // With both reversed the arc runs from y to x clockwise, and the segment turns it round.
      const { body, findings } = read({
        lines: [...sector(trims, sense, segment), ...upwards(300, 200, 1000)],
        items: [300],
        degrees,
      });
      expect(findings).toEqual([]);
      const [outline] = prism(body).outlines;
      expect(outline!.map((v) => v.bulge).filter((b) => b !== 0)).toHaveLength(1);
      expect(outline!.find((v) => v.bulge !== 0)!.bulge).toBeCloseTo(Math.tan(Math.PI / 8), 9);
      expect(cubicMetres(body)).toBeCloseTo(Math.PI / 4, 3);
    });
  }

  it('a curve whose ends do not meet is refused, not closed somehow', () => {
    const { body, codes } = read({
      lines: [...sector('(IFCPARAMETERVALUE(0.)),(IFCPARAMETERVALUE(90.))', '.T.', '.T.'), ...upwards(300, 200, 1000)],
      items: [300],
      degrees: false,
    });
    expect(body).toEqual([]);
    expect(codes).toEqual(['read.model-no-body', 'read.model-shape']);
  });
});

const BOX = ['#200=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,4000.,300.);', ...upwards(300, 200, 2000)];

describe('clippings', () => {
  const plane = (agreement: string): string[] => [
    ...BOX,
    '#210=IFCCARTESIANPOINT((0.,0.,1500.));',
    '#211=IFCAXIS2PLACEMENT3D(#210,$,$);',
    '#212=IFCPLANE(#211);',
    `#213=IFCHALFSPACESOLID(#212,${agreement});`,
    '#214=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#300,#213);',
  ];

  it('AgreementFlag false takes off what lies on the side of the normal, true the other', () => {
    const above = only(read({ lines: plane('.F.'), items: [214] }).body);
    expect([1000, 1600].map((z) => depthIn(above, { x: 0, y: 0, z }) > 0)).toEqual([true, false]);
    const below = only(read({ lines: plane('.T.'), items: [214] }).body);
    expect([1000, 1600].map((z) => depthIn(below, { x: 0, y: 0, z }) > 0)).toEqual([false, true]);
  });

  it('a bounded half space cuts within its boundary alone', () => {
    const { body } = read({
      lines: [
        ...plane('.F.').slice(0, -2),
        '#213=IFCPOLYGONALBOUNDEDHALFSPACE(#212,.F.,#7,#220);',
        '#214=IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#300,#213);',
        '#220=IFCPOLYLINE((#221,#222,#223,#224,#221));',
        '#221=IFCCARTESIANPOINT((0.,-500.));',
        '#222=IFCCARTESIANPOINT((3000.,-500.));',
        '#223=IFCCARTESIANPOINT((3000.,500.));',
        '#224=IFCCARTESIANPOINT((0.,500.));',
      ],
      items: [214],
    });
    expect(body[0]!.from).toBe('clipped');
    const solid = only(body);
    expect(depthIn(solid, { x: -1000, y: 0, z: 1900 })).toBeGreaterThan(0);
    expect(depthIn(solid, { x: 1000, y: 0, z: 1900 })).toBeLessThan(0);
    expect(depthIn(solid, { x: 1000, y: 0, z: 1400 })).toBeGreaterThan(0);
  });

  it('solids of blocks are combined', () => {
    const { body } = read({
      lines: [
        '#210=IFCBLOCK(#7,1000.,1000.,1000.);',
        '#211=IFCCARTESIANPOINT((500.,500.,-100.));',
        '#212=IFCAXIS2PLACEMENT3D(#211,$,$);',
        '#213=IFCRIGHTCIRCULARCYLINDER(#212,1200.,200.);',
        '#214=IFCBOOLEANRESULT(.DIFFERENCE.,#210,#213);',
        '#215=IFCCSGSOLID(#214);',
      ],
      items: [215],
    });
    const solid = only(body);
    expect(depthIn(solid, { x: 500, y: 500, z: 500 })).toBeLessThan(0);
    expect(depthIn(solid, { x: 100, y: 100, z: 500 })).toBeGreaterThan(0);
    expect(extentOf(cornersOf(solid))).toEqual({ least: [0, 0, 0], most: [1000, 1000, 1000] });
  });
});

describe('faces', () => {
  const points = [0, 1].flatMap((z) => [0, 1].flatMap((y) => [0, 1].map((x) => [x, y, z].map((v) => v * 1000))));
  const quads = [
    [1, 3, 4, 2],
    [5, 6, 8, 7],
    [1, 2, 6, 5],
    [2, 4, 8, 6],
    [4, 3, 7, 8],
    [3, 1, 5, 7],
  ];
  const list = `#201=IFCCARTESIANPOINTLIST3D((${points.map((p) => `(${p.map((v) => `${v}.`).join(',')})`).join(',')}),$);`;

  it('polygonal face set, through PnIndex too', () => {
    for (const turned of [false, true]) {
      const index = (i: number): number => (turned ? 9 - i : i);
      const { body } = read({
        lines: [
          list,
          ...quads.map((quad, i) => `#${210 + i}=IFCINDEXEDPOLYGONALFACE((${quad.map(index).join(',')}));`),
          `#200=IFCPOLYGONALFACESET(#201,.T.,(${quads.map((_, i) => `#${210 + i}`).join(',')}),${turned ? '(8,7,6,5,4,3,2,1)' : '$'});`,
        ],
        items: [200],
        type: 'Tessellation',
      });
      expect(body[0]!.from).toBe('faces');
      expect(cubicMetres(body)).toBeCloseTo(1, 9);
    }
  });

  it('triangulated face set', () => {
    const triangles = quads.flatMap(([a, b, c, d]) => [
      [a, b, c],
      [a, c, d],
    ]);
    const { body } = read({
      lines: [
        list,
        `#200=IFCTRIANGULATEDFACESET(#201,$,.T.,(${triangles.map((t) => `(${t.join(',')})`).join(',')}),$);`,
      ],
      items: [200],
      type: 'Tessellation',
    });
    expect(cubicMetres(body)).toBeCloseTo(1, 9);
  });

  it('brep whose bounds are turned', () => {
    const { body } = read({
      lines: [
        ...points.map((p, i) => `#${211 + i}=IFCCARTESIANPOINT((${p.map((v) => `${v}.`).join(',')}));`),
        ...quads.flatMap((quad, i) => [
          `#${230 + i}=IFCPOLYLOOP((${[...quad]
            .reverse()
            .map((q) => `#${210 + q}`)
            .join(',')}));`,
          `#${240 + i}=IFCFACEOUTERBOUND(#${230 + i},.F.);`,
          `#${250 + i}=IFCFACE((#${240 + i}));`,
        ]),
        `#260=IFCCLOSEDSHELL((${quads.map((_, i) => `#${250 + i}`).join(',')}));`,
        '#200=IFCFACETEDBREP(#260);',
      ],
      items: [200],
      type: 'Brep',
    });
    expect(volumeOf(only(body))! / 1e9).toBeCloseTo(1, 9);
  });
});

describe('mapped items', () => {
  const map = (operator: string): string[] => [
    ...BOX,
    "#310=IFCSHAPEREPRESENTATION(#8,'Body','SweptSolid',(#300));",
    '#311=IFCREPRESENTATIONMAP(#7,#310);',
    '#312=IFCMAPPEDITEM(#311,#313);',
    `#313=${operator};`,
    '#320=IFCCARTESIANPOINT((100.,200.,300.));',
    '#321=IFCDIRECTION((0.,1.,0.));',
    '#322=IFCDIRECTION((1.,0.,0.));',
  ];

  it('shifted, turned and scaled', () => {
    const { body, findings } = read({
      lines: map('IFCCARTESIANTRANSFORMATIONOPERATOR3D(#321,$,#320,2.,$)'),
      items: [312],
      type: 'MappedRepresentation',
    });
    expect(findings).toEqual([]);
    const { least, most } = extentOf(cornersOf(prism(body)));
    for (const [i, v] of [100 - 300, 200 - 4000, 300].entries()) expect(least[i]).toBeCloseTo(v, 6);
    for (const [i, v] of [100 + 300, 200 + 4000, 4300].entries()) expect(most[i]).toBeCloseTo(v, 6);
  });

  it('scaled unevenly and mirrored', () => {
    // x goes to y and y to x: a mirror.
    const { body } = read({
      lines: map('IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM(#321,#322,#320,1.,$,2.,0.5)'),
      items: [312],
      type: 'MappedRepresentation',
    });
    const { least, most } = extentOf(cornersOf(prism(body)));
    for (const [i, v] of [100 - 300, 200 - 2000, 300].entries()) expect(least[i]).toBeCloseTo(v, 6);
    for (const [i, v] of [100 + 300, 200 + 2000, 1300].entries()) expect(most[i]).toBeCloseTo(v, 6);
  });
});

describe('placements', () => {
  it('directions of any length and not square to each other are made a frame', () => {
    const { body } = read({
      lines: [
        ...BOX,
        '#310=IFCCARTESIANPOINT((1000.,0.,0.));',
        '#311=IFCDIRECTION((0.,0.,7.));',
        '#312=IFCDIRECTION((0.,3.,5.));',
        '#313=IFCAXIS2PLACEMENT3D(#310,#311,#312);',
        '#314=IFCLOCALPLACEMENT(#48,#313);',
      ],
      items: [300],
      placement: 314,
    });
    const { frame } = prism(body);
    expect([frame.x.x, frame.x.y, frame.x.z]).toEqual([0, 1, 0]);
    const { least, most } = extentOf(cornersOf(prism(body)));
    for (const [i, v] of [850, -2000, 0].entries()) expect(least[i]).toBeCloseTo(v, 9);
    for (const [i, v] of [1150, 2000, 2000].entries()) expect(most[i]).toBeCloseTo(v, 9);
  });

  it('on a grid are said and leave the element without a body', () => {
    const { body, codes } = read({ lines: [...BOX, '#314=IFCGRIDPLACEMENT($,$,$);'], items: [300], placement: 314 });
    expect(body).toEqual([]);
    expect(codes).toContain('read.model-placement');
  });

  it('that refer to themselves are said', () => {
    const { codes } = read({
      lines: [...BOX, '#314=IFCLOCALPLACEMENT(#315,#7);', '#315=IFCLOCALPLACEMENT(#314,#7);'],
      items: [300],
      placement: 314,
    });
    expect(codes).toContain('read.model-circular');
    expect(codes).toContain('read.model-placement');
  });
});

describe('sizes that are none', () => {
  for (const depth of ['0.', '-5.', '$', '1.E30', '1.E-300']) {
    it(`depth ${depth}`, () => {
      const { body, codes } = read({
        lines: [BOX[0]!, `#300=IFCEXTRUDEDAREASOLID(#200,#7,#42,${depth});`],
        items: [300],
      });
      expect(body).toEqual([]);
      expect(codes).toContain('read.model-size');
      expect(codes).toContain('read.model-no-body');
    });
  }

  it('Axis, FootPrint and Box are no bodies', () => {
    for (const identifier of ['Axis', 'FootPrint', 'Box']) {
      expect(read({ lines: BOX, items: [300], identifier, type: 'SweptSolid' }).body).toEqual([]);
    }
  });
});

describe('bars', () => {
  it('swept disks along lines and arcs; the diameter is the nominal one', () => {
    const { bars } = read({
      entity: 'IFCREINFORCINGBAR',
      tail: ",'B500',16.,$,$,$,$",
      lines: [
        '#200=IFCSWEPTDISKSOLID(#201,8.,$,$,$);',
        '#201=IFCINDEXEDPOLYCURVE(#202,(IFCLINEINDEX((1,2)),IFCARCINDEX((2,3,4)),IFCLINEINDEX((4,5))),.F.);',
        '#202=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(1000.,0.,0.),(1070.710678,29.289322,0.),(1100.,100.,0.),(1100.,500.,0.)),$);',
      ],
      items: [200],
      type: 'AdvancedSweptSolid',
    });
    expect(bars).toHaveLength(1);
    const [bar] = bars;
    expect(bar!.diameterMm).toBe(16);
    expect(bar!.path[0]).toEqual({ x: 0, y: 0, z: 0 });
    expect(bar!.path.at(-1)!.y).toBeCloseTo(500, 6);
    // A quarter of a circle of radius 100 about (1000, 100).
    const onArc = bar!.path.slice(1, -1);
    for (const p of onArc) expect(Math.hypot(p.x - 1000, p.y - 100)).toBeCloseTo(100, 3);
    expect(onArc.length).toBeGreaterThan(3);
  });

  it('of extruded circles; the diameter of the cross-section where there is no other: 201.1 mm2 is 16 mm', () => {
    const { bars } = read({
      entity: 'IFCREINFORCINGBAR',
      tail: ",'B500',$,201.1,$,$,$",
      lines: ['#200=IFCCIRCLEPROFILEDEF(.AREA.,$,$,8.);', ...upwards(300, 200, 2000)],
      items: [300],
      type: 'SweptSolid',
    });
    expect(bars[0]!.path).toEqual([
      { x: 0, y: 0, z: 0 },
      { x: 0, y: 0, z: 2000 },
    ]);
    expect(bars[0]!.diameterMm).toBeCloseTo(16, 2);
  });
});
