/** What is said about elements by others: types, materials, openings, parts, storeys, places on the map. */

import { describe, expect, it } from 'vitest';
import { globalId } from '../../support/models/building.js';
import { oneElement, upwards } from '../../support/models/oneElement.js';
import { readModel } from './models.js';

const BOX = ['#200=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,4000.,300.);', ...upwards(300, 200, 2000)];
const shapeOf = (n: number, item: number): string[] => [
  `#${n}=IFCPRODUCTDEFINITIONSHAPE($,$,(#${n + 1}));`,
  `#${n + 1}=IFCSHAPEREPRESENTATION(#8,'Body','SweptSolid',(#${item}));`,
];
const rel = (n: number, entity: string, rest: string): string => `#${n}=${entity}('${globalId(n)}',#5,$,$,${rest});`;

const readOne = (more: readonly string[], items: readonly number[] = [300]) => {
  const { model, findings } = readModel(oneElement({ lines: BOX, items, more }));
  return { model, findings, wall: model.elements.find(({ line }) => line === 100)! };
};

describe('elements', () => {
  it('take predefined type and materials of their type where they have none', () => {
    const { wall } = readOne([
      `#400=IFCWALLTYPE('${globalId(400)}',#5,'Concrete 300',$,$,$,$,$,$,.SOLIDWALL.);`,
      rel(401, 'IFCRELDEFINESBYTYPE', '(#100),#400'),
      "#420=IFCMATERIAL('C30/37',$,'concrete');",
      "#421=IFCMATERIAL('XPS',$,$);",
      '#422=IFCMATERIALLAYER(#420,240.,$,$,$,$,$);',
      '#423=IFCMATERIALLAYER(#421,60.,$,$,$,$,$);',
      "#424=IFCMATERIALLAYERSET((#423,#422),'set',$);",
      rel(425, 'IFCRELASSOCIATESMATERIAL', '(#400),#424'),
    ]);
    expect(wall.predefinedType).toBe('SOLIDWALL');
    expect(wall.typeName).toBe('Concrete 300');
    expect(wall.materials).toEqual([
      { name: 'XPS', category: null, thicknessMm: 60 },
      { name: 'C30/37', category: 'concrete', thicknessMm: 240 },
    ]);
  });

  it('have their openings with what fills them, and stay whole', () => {
    const { wall, findings } = readOne([
      ...shapeOf(400, 410),
      '#411=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,900.,400.);',
      ...upwards(410, 411, 1200),
      `#420=IFCOPENINGELEMENT('${globalId(420)}',#5,'hole',$,$,#48,#400,$,.OPENING.);`,
      rel(421, 'IFCRELVOIDSELEMENT', '#100,#420'),
      `#422=IFCDOOR('${globalId(422)}',#5,'door',$,$,#48,$,$,$,$,$,$,$);`,
      rel(423, 'IFCRELFILLSELEMENT', '#420,#422'),
    ]);
    expect(findings).toEqual([]);
    expect(wall.body[0]!.solid.kind).toBe('prism');
    expect(
      wall.openings.map(({ id, filling, predefinedType, body }) => [id, filling, predefinedType, body.length]),
    ).toEqual([[globalId(420), 'door', 'OPENING', 1]]);
  });

  it('without a body of their own have that of their parts, with the openings and materials of these', () => {
    const { model, wall, findings } = readOne(
      [
        ...shapeOf(400, 300),
        `#410=IFCBUILDINGELEMENTPART('${globalId(410)}',#5,'leaf',$,$,#48,#400,$,$);`,
        rel(411, 'IFCRELAGGREGATES', '#100,(#410)'),
        "#412=IFCMATERIAL('C25/30',$,$);",
        rel(413, 'IFCRELASSOCIATESMATERIAL', '(#410),#412'),
        `#420=IFCOPENINGELEMENT('${globalId(420)}',#5,'hole',$,$,#48,#400,$,$);`,
        rel(421, 'IFCRELVOIDSELEMENT', '#410,#420'),
      ],
      [],
    );
    expect(findings).toEqual([]);
    expect(model.elements.map(({ line }) => line)).toEqual([100]);
    expect(wall.body.map(({ part, material, from }) => [part, material, from])).toEqual([
      [globalId(410), 'C25/30', 'extrusion'],
    ]);
    expect(wall.openings.length).toBe(1);
  });

  it('that are parts of an assembly are elements of their own in the storey of the assembly', () => {
    const { model } = readOne([
      ...shapeOf(400, 300),
      `#410=IFCELEMENTASSEMBLY('${globalId(410)}',#5,'precast',$,$,#48,$,$,$,$);`,
      `#411=IFCWALL('${globalId(411)}',#5,'part',$,$,#48,#400,$,$);`,
      rel(412, 'IFCRELAGGREGATES', '#410,(#411)'),
      rel(413, 'IFCRELCONTAINEDINSPATIALSTRUCTURE', '(#410),#49'),
    ]);
    const part = model.elements.find(({ line }) => line === 411)!;
    expect(part.kind).toBe('wall');
    expect(part.storey).toBe(globalId(4));
  });

  it('of one body in several solids have the material of each by its shape aspect', () => {
    const { wall } = readOne(
      [
        ...upwards(301, 200, 500),
        "#420=IFCMATERIAL('C30/37',$,$);",
        "#421=IFCMATERIAL('XPS',$,$);",
        "#422=IFCMATERIALCONSTITUENT('core',$,#420,$,$);",
        "#423=IFCMATERIALCONSTITUENT('insulation',$,#421,$,$);",
        "#424=IFCMATERIALCONSTITUENTSET('set',$,(#422,#423));",
        rel(425, 'IFCRELASSOCIATESMATERIAL', '(#100),#424'),
        "#430=IFCSHAPEREPRESENTATION(#8,'Body','SweptSolid',(#301));",
        "#431=IFCSHAPEASPECT((#430),'insulation',$,.U.,#191);",
        "#432=IFCSHAPEREPRESENTATION(#8,'Body','SweptSolid',(#300));",
        "#433=IFCSHAPEASPECT((#432),'core',$,.U.,#191);",
      ],
      [300, 301],
    );
    expect(wall.body.map(({ material }) => material)).toEqual(['C30/37', 'XPS']);
  });

  it('pipes are services; doors, furniture and spaces are counted, not read', () => {
    const { model } = readOne([
      ...shapeOf(400, 300),
      `#410=IFCPIPESEGMENT('${globalId(410)}',#5,'pipe',$,$,#48,#400,$,$);`,
      `#411=IFCFURNITURE('${globalId(411)}',#5,'chair',$,$,#48,#400,$,$);`,
      `#412=IFCSPACE('${globalId(412)}',#5,'room',$,$,#48,#400,$,.ELEMENT.,$,$);`,
      `#413=IFCBUILDINGELEMENTPROXY('${globalId(413)}',#5,'sleeve',$,$,#48,#400,$,$);`,
    ]);
    expect(model.elements.map(({ kind, name }) => `${kind} ${name}`).sort()).toEqual([
      'other sleeve',
      'service pipe',
      'wall one',
    ]);
    expect(model.unread).toEqual({ IfcFurniture: 1, IfcSpace: 1 });
  });
});

describe('the model', () => {
  it('keeps its map conversion, projected system and true north as they stand', () => {
    const text = new TextDecoder()
      .decode(
        oneElement({
          lines: BOX,
          items: [300],
          more: [
            "#400=IFCPROJECTEDCRS('EPSG:25832','UTM 32N','ETRS89','DHHN2016','UTM','32',#401);",
            '#401=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);',
            '#402=IFCMAPCONVERSION(#8,#400,691234.5,5334567.25,512.125,0.8,0.6,0.001);',
            '#403=IFCDIRECTION((0.6,0.8));',
          ],
        }),
      )
      .replace("'Model',3,1.E-5,#7,$", "'Model',3,1.E-5,#7,#403");
    const { model } = readModel(new TextEncoder().encode(text));
    expect(model.georeference).toEqual({
      map: {
        eastings: 691234.5,
        northings: 5334567.25,
        orthogonalHeight: 512.125,
        xAxisAbscissa: 0.8,
        xAxisOrdinate: 0.6,
        scale: 0.001,
        crs: {
          name: 'EPSG:25832',
          description: 'UTM 32N',
          geodeticDatum: 'ETRS89',
          verticalDatum: 'DHHN2016',
          mapProjection: 'UTM',
          mapZone: '32',
          unit: { prefix: null, conversionName: null, mmPerUnit: 1000 },
        },
      },
      trueNorth: [0.6, 0.8],
      worldFrame: null,
      latitude: null,
      longitude: null,
      siteElevationMm: null,
    });
    expect(model.timeStamp).toBe('2024-01-02T03:04:05');
  });
});
