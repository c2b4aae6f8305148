/** What reading leaves out or takes for granted is said, with the element that it happens to. Sizes by hand. */

import { describe, expect, it } from 'vitest';
import type { Finding, FindingCode } from '../../../src/ground/findings.js';
import { bytesOf, globalId } from '../../support/models/building.js';
import { type OneElement, oneElement, oneElementText, upwards } from '../../support/models/oneElement.js';
import { readModel } from './models.js';

const BOX = ['#200=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,4000.,300.);', ...upwards(300, 200, 2000)];

const said = (findings: readonly Finding[], code: FindingCode): readonly string[] =>
  findings.filter((f) => f.code === code).map(({ message, assumed }) => `${message} ${assumed ?? ''}`.trim());

const read = (one: OneElement, code: FindingCode) => {
  const { model, findings } = readModel(oneElement(one));
  return { model, body: model.elements[0]?.body ?? [], said: said(findings, code) };
};

/** Of the text with units beside the millimetre. */
const withUnits = (one: OneElement, units: readonly string[], numbers: string) => {
  const text = oneElementText({ ...one, more: units }).replace(
    'IFCUNITASSIGNMENT((#20))',
    `IFCUNITASSIGNMENT((#20,${numbers}))`,
  );
  return readModel(bytesOf(text));
};

const shapeOf = (n: number, item: number): string[] => [
  `#${n}=IFCPRODUCTDEFINITIONSHAPE($,$,(#${n + 1}));`,
  `#${n + 1}=IFCSHAPEREPRESENTATION(#8,'Body','SweptSolid',(#${item}));`,
];
const aggregates = (n: number, whole: number, part: number): string =>
  `#${n}=IFCRELAGGREGATES('${globalId(n)}',#5,$,$,#${whole},(#${part}));`;

describe('said is', () => {
  it('which kinds of elements were not read, and how many', () => {
    const more = [
      ...shapeOf(400, 300),
      `#410=IFCDOOR('${globalId(410)}',#5,'door',$,$,#48,#400,$,$,$,$,$,$);`,
      `#411=IFCDOOR('${globalId(411)}',#5,'door',$,$,#48,#400,$,$,$,$,$,$);`,
      `#412=IFCSPACE('${globalId(412)}',#5,'room',$,$,#48,#400,$,.ELEMENT.,$,$);`,
      `#413=IFCROOF('${globalId(413)}',#5,'holds others',$,$,#48,$,$,$);`,
    ];
    const { said: texts, model } = read({ lines: BOX, items: [300], more }, 'read.model-unread');
    expect(texts).toHaveLength(1);
    expect(texts[0]).toContain('2 IfcDoor, 1 IfcSpace.');
    expect(model.unread).toEqual({ IfcDoor: 2, IfcSpace: 1 });
    expect(read({ lines: BOX, items: [300] }, 'read.model-unread').said).toEqual([]);
  });

  it('that a surface model has a curved face, instead of its faces before that one', () => {
    const face = (n: number, surface: string, points: string): string[] => [
      `#${n}=IFCFACESURFACE((#${n + 1}),${surface},.T.);`,
      `#${n + 1}=IFCFACEOUTERBOUND(#${n + 2},.T.);`,
      `#${n + 2}=IFCPOLYLOOP((${points}));`,
    ];
    const lines = [
      '#200=IFCSHELLBASEDSURFACEMODEL((#201));',
      '#201=IFCOPENSHELL((#210,#220,#230));',
      '#202=IFCCARTESIANPOINT((0.,0.,0.));',
      '#203=IFCCARTESIANPOINT((1000.,0.,0.));',
      '#204=IFCCARTESIANPOINT((0.,1000.,0.));',
      '#205=IFCPLANE(#7);',
      '#206=IFCCYLINDRICALSURFACE(#7,500.);',
      ...face(210, '#205', '#202,#203,#204'),
      ...face(220, '#206', '#202,#204,#203'),
      ...face(230, '#205', '#203,#204,#202'),
    ];
    const whole = read({ lines, items: [200], type: 'SurfaceModel' }, 'read.model-shape');
    expect(whole.body).toEqual([]);
    expect(whole.said).toEqual([`Shapes of kind IfcShellBasedSurfaceModel could not be read: 'one' ${globalId(100)}.`]);
    const flat = lines.map((line) => line.replace('IFCCYLINDRICALSURFACE(#7,500.)', 'IFCPLANE(#7)'));
    const solid = read({ lines: flat, items: [200], type: 'SurfaceModel' }, 'read.model-shape').body[0]!.solid;
    expect(solid.kind === 'mesh' && solid.faces.length).toBe(3);
  });

  it('that a mesh has more faces than are taken', () => {
    const lines = (faces: number): string[] => [
      '#201=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(1000.,0.,0.),(0.,1000.,0.)));',
      `#200=IFCTRIANGULATEDFACESET(#201,$,.T.,(${'(1,2,3),'.repeat(faces - 1)}(1,2,3)),$);`,
    ];
    const facesOf = (n: number) => {
      const { body, said: texts } = read({ lines: lines(n), items: [200], type: 'Tessellation' }, 'read.too-much');
      const solid = body[0]!.solid;
      return [solid.kind === 'mesh' && solid.faces.length, texts.length];
    };
    expect(facesOf(400_000)).toEqual([400_000, 0]);
    expect(facesOf(400_001)).toEqual([400_000, 1]);
  });

  it('that an outline was closed', () => {
    const lines = (last: string): string[] => [
      '#200=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#201);',
      `#201=IFCPOLYLINE((#202,#203,#204,#205${last}));`,
      '#202=IFCCARTESIANPOINT((0.,0.));',
      '#203=IFCCARTESIANPOINT((4000.,0.));',
      '#204=IFCCARTESIANPOINT((4000.,300.));',
      '#205=IFCCARTESIANPOINT((0.,300.));',
      ...upwards(300, 200, 2000),
    ];
    const open = read({ lines: lines(''), items: [300] }, 'read.model-open-curve');
    const closed = read({ lines: lines(',#202'), items: [300] }, 'read.model-open-curve');
    expect(open.said).toEqual([`Outlines are not closed: 'one' ${globalId(100)}. a straight line from end to start`]);
    expect(closed.said).toEqual([]);
    expect(open.body).toEqual(closed.body);
  });

  it('which way an extrusion without a direction was taken, as a body and as a bar', () => {
    const lines = (direction: string): string[] => [
      BOX[0]!,
      `#300=IFCEXTRUDEDAREASOLID(#200,#7,#301,2000.);`,
      `#301=IFCDIRECTION((${direction}));`,
    ];
    const zero = read({ lines: lines('0.,0.,0.'), items: [300] }, 'read.model-direction');
    const up = read({ lines: lines('0.,0.,1.'), items: [300] }, 'read.model-direction');
    expect(zero.body).toEqual(up.body);
    expect(up.said).toEqual([]);
    const text = `Directions of extrusions are missing, zero or not numbers: 'one' ${globalId(100)}. square to the profile`;
    expect(zero.said).toEqual([text]);
    const bar: OneElement = {
      entity: 'IFCREINFORCINGBAR',
      tail: ",'B500',16.,$,$,$,$",
      lines: ['#200=IFCCIRCLEPROFILEDEF(.AREA.,$,$,8.);', ...lines('0.,0.,0.').slice(1)],
      items: [300],
    };
    expect(read(bar, 'read.model-direction').said).toEqual([text]);
  });

  it('that a mapped shape has axes that say nothing', () => {
    const lines = (x: string): string[] => [
      ...BOX,
      '#310=IFCMAPPEDITEM(#311,#313);',
      '#311=IFCREPRESENTATIONMAP(#7,#312);',
      "#312=IFCSHAPEREPRESENTATION(#8,'Body','SweptSolid',(#300));",
      '#313=IFCCARTESIANTRANSFORMATIONOPERATOR3D(#314,$,#6,$,$);',
      `#314=IFCDIRECTION((${x},0.,0.));`,
    ];
    expect(read({ lines: lines('0.'), items: [310] }, 'read.model-direction').said).toEqual([
      'Directions of placements are zero or not numbers: #313. the axes of what they are placed in',
    ]);
    expect(read({ lines: lines('1.'), items: [310] }, 'read.model-direction').said).toEqual([]);
  });

  it('that a unit of angles or areas cannot be read', () => {
    const { findings } = withUnits(
      { lines: BOX, items: [300] },
      [
        "#60=IFCCONVERSIONBASEDUNIT(#62,.PLANEANGLEUNIT.,'GRAD',$);",
        "#61=IFCCONVERSIONBASEDUNIT(#62,.AREAUNIT.,'ACRE',$);",
        '#62=IFCDIMENSIONALEXPONENTS(0,0,0,0,0,0,0);',
      ],
      '#60,#61',
    );
    expect(said(findings, 'read.model-unit')).toEqual([
      "The model's unit of angles cannot be read. radians",
      "The model's unit of areas cannot be read. the square of its unit of length",
    ]);
  });

  it('that a map conversion is not all that is said of the map', () => {
    const crs = ["#400=IFCPROJECTEDCRS('EPSG:25832',$,$,$,$,$,$);"];
    const one = (schema: string, lines: readonly string[]) =>
      read({ schema, lines: BOX, items: [300], more: [...crs, ...lines] }, 'read.model-georeference').said;
    const plain = '#401=IFCMAPCONVERSION(#8,#400,100.,200.,0.,$,$,$);';
    const scaled = (z: string) => `#401=IFCMAPCONVERSIONSCALED(#8,#400,100.,200.,0.,$,$,$,1.,1.,${z});`;
    expect(one('IFC4', [plain])).toEqual([]);
    expect(one('IFC4', [plain, plain.replace('#401', '#402')])).toEqual([
      'The model has more than one map conversion. the first by its number',
    ]);
    expect(one('IFC4X3_ADD2', [scaled('1.')])).toEqual([]);
    expect(one('IFC4X3_ADD2', [scaled('0.3048')])).toEqual([
      'The map conversion scales its axes one by one, which is not read.',
    ]);
  });
});

describe('a bar without a diameter', () => {
  // 201.1 mm2 is a bar of 16 mm: d = 2 sqrt(A / pi).
  const bar = (area: string): OneElement => ({
    entity: 'IFCREINFORCINGBAR',
    tail: `,'B500',$,${area},$,$,$`,
    lines: ['#200=IFCCIRCLEPROFILEDEF(.AREA.,$,$,8.);', ...upwards(300, 200, 2000)],
    items: [300],
  });

  it.each([
    ['square metres', '#60=IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);', '0.0002011'],
    ['square centimetres', '#60=IFCSIUNIT(*,.AREAUNIT.,.CENTI.,.SQUARE_METRE.);', '2.011'],
    ['square millimetres', '#60=IFCSIUNIT(*,.AREAUNIT.,.MILLI.,.SQUARE_METRE.);', '201.1'],
  ])('has that of its cross-section, in %s', (_, unit, area) => {
    expect(withUnits(bar(area), [unit], '#60').model.bars[0]!.diameterMm).toBeCloseTo(16, 2);
  });
});

describe('parts of a wall that has a body itself', () => {
  const more = (entity: string): string[] => [
    ...shapeOf(400, 300),
    `#410=${entity}('${globalId(410)}',#5,'sleeve',$,$,#48,#400,$,$);`,
    aggregates(411, 100, 410),
  ];

  it('are elements of their own, as sleeves are', () => {
    const { model, said: left } = read(
      { lines: BOX, items: [300], more: more('IFCBUILDINGELEMENTPROXY') },
      'read.model-parts-left',
    );
    expect(model.elements.map(({ line, kind, body }) => [line, kind, body.length])).toEqual([
      [100, 'wall', 1],
      [410, 'other', 1],
    ]);
    expect(left).toEqual([]);
  });

  it.each([
    ['whichever comes first in the file', 410, 420, true],
    ['whichever comes first in the file, the other way', 420, 410, true],
    ['also of a part that has no body', 410, 420, false],
  ])('that have parts again: those are read too, %s', (_, part, inner, hasBody) => {
    const proxy = (id: number, shape: string) =>
      `#${id}=IFCBUILDINGELEMENTPROXY('${globalId(id)}',#5,'sleeve',$,$,#48,${shape},$,$);`;
    const nested = [
      ...shapeOf(400, 300),
      proxy(part, hasBody ? '#400' : '$'),
      proxy(inner, '#400'),
      aggregates(431, 100, part),
      aggregates(432, part, inner),
    ];
    const { model } = read({ lines: BOX, items: [300], more: nested }, 'read.model-parts-left');
    const lines = model.elements.map(({ line }) => line).sort((a, b) => a - b);
    expect(lines).toEqual(hasBody ? [100, 410, 420] : [100, inner]);
  });

  it('are said to be left out where they are pieces of it', () => {
    const { model, said: left } = read(
      { lines: BOX, items: [300], more: more('IFCBUILDINGELEMENTPART') },
      'read.model-parts-left',
    );
    expect(model.elements.map(({ line }) => line)).toEqual([100]);
    expect(left).toEqual([
      `Parts of elements that have a body themselves were not read: 'sleeve' ${globalId(410)}. the body of the whole`,
    ]);
  });
});
