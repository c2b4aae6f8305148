/** Small IFC texts of a building whose sizes are known: two storeys' worth of nothing, a footing and walls on it, in any unit, schema and place. */

export interface Building {
  readonly schema: string;
  /** Lines of the length unit; the last is numbered 20. */
  readonly unit: readonly string[];
  /** Size of that unit, mm. */
  readonly mmPerUnit: number;
  /** Place of the site: mm and an angle about z. */
  readonly site: { readonly x: number; readonly y: number; readonly z: number; readonly angleRad: number };
  readonly walls: readonly WallBox[];
}

/** A wall of one rectangle: from a corner along its own x, mm. */
export interface WallBox {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly angleRad: number;
  readonly lengthMm: number;
  readonly thicknessMm: number;
  readonly heightMm: number;
}

export const UNITS: Readonly<Record<string, Pick<Building, 'unit' | 'mmPerUnit'>>> = {
  millimetre: { unit: ['#20=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);'], mmPerUnit: 1 },
  centimetre: { unit: ['#20=IFCSIUNIT(*,.LENGTHUNIT.,.CENTI.,.METRE.);'], mmPerUnit: 10 },
  decimetre: { unit: ['#20=IFCSIUNIT(*,.LENGTHUNIT.,.DECI.,.METRE.);'], mmPerUnit: 100 },
  metre: { unit: ['#20=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);'], mmPerUnit: 1000 },
  foot: conversion('FOOT', 0.3048),
  inch: conversion('inch', 0.0254),
  // The US survey foot: 1200/3937 m.
  surveyFoot: conversion('US Survey Foot', 1200 / 3937),
  // A foot given in inches, which are given in millimetres.
  chained: {
    unit: [
      '#21=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);',
      '#22=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(25.4),#21);',
      '#23=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);',
      "#24=IFCCONVERSIONBASEDUNIT(#23,.LENGTHUNIT.,'INCH',#22);",
      '#25=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(12.),#24);',
      "#20=IFCCONVERSIONBASEDUNIT(#23,.LENGTHUNIT.,'FOOT',#25);",
    ],
    mmPerUnit: 304.8,
  },
};

function conversion(name: string, metres: number): Pick<Building, 'unit' | 'mmPerUnit'> {
  return {
    unit: [
      '#21=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);',
      `#22=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(${real(metres)}),#21);`,
      '#23=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);',
      `#20=IFCCONVERSIONBASEDUNIT(#23,.LENGTHUNIT.,'${name}',#22);`,
    ],
    mmPerUnit: metres * 1000,
  };
}

/** A number as STEP has it: with a point. */
export function real(value: number): string {
  const text = String(value);
  if (/e/.test(text)) {
    const [mantissa = '', exponent = ''] = text.split('e');
    return `${mantissa.includes('.') ? mantissa : `${mantissa}.`}E${exponent.replace('+', '')}`;
  }
  return text.includes('.') ? text : `${text}.`;
}

/** 22 characters of a number. */
export const globalId = (n: number): string => `0${String(n).padStart(21, '0')}`;

/** The file around lines of a data section. */
export const stepFile = (schema: string, lines: readonly string[]): string =>
  [
    'ISO-10303-21;',
    'HEADER;',
    "FILE_DESCRIPTION(('ViewDefinition'),'2;1');",
    "FILE_NAME('a.ifc','2024-01-02T03:04:05',(''),(''),'','','');",
    `FILE_SCHEMA(('${schema}'));`,
    'ENDSEC;',
    'DATA;',
    ...lines,
    'ENDSEC;',
    'END-ISO-10303-21;',
    '',
  ].join('\n');

/** Lines that every building has: owner, context, project, site, building, storey; numbers up to 60. */
export const frameLines = ({ unit, mmPerUnit, site }: Omit<Building, 'walls' | 'schema'>): string[] => {
  const n = (mm: number): string => real(mm / mmPerUnit);
  return [
    '#1=IFCPERSON($,$,$,$,$,$,$,$);',
    "#2=IFCORGANIZATION($,'o',$,$,$);",
    '#3=IFCPERSONANDORGANIZATION(#1,#2,$);',
    "#4=IFCAPPLICATION(#2,'1','a','a');",
    '#5=IFCOWNERHISTORY(#3,#4,$,.ADDED.,$,$,$,0);',
    '#6=IFCCARTESIANPOINT((0.,0.,0.));',
    '#7=IFCAXIS2PLACEMENT3D(#6,$,$);',
    "#8=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,#7,$);",
    ...unit,
    '#30=IFCUNITASSIGNMENT((#20));',
    `#31=IFCPROJECT('${globalId(1)}',#5,'project',$,$,$,$,(#8),#30);`,
    `#40=IFCCARTESIANPOINT((${n(site.x)},${n(site.y)},${n(site.z)}));`,
    `#41=IFCDIRECTION((${real(Math.cos(site.angleRad))},${real(Math.sin(site.angleRad))},0.));`,
    '#42=IFCDIRECTION((0.,0.,1.));',
    '#43=IFCAXIS2PLACEMENT3D(#40,#42,#41);',
    '#44=IFCLOCALPLACEMENT($,#43);',
    `#45=IFCSITE('${globalId(2)}',#5,'site',$,$,#44,$,$,.ELEMENT.,$,$,$,$,$);`,
    '#46=IFCLOCALPLACEMENT(#44,#7);',
    `#47=IFCBUILDING('${globalId(3)}',#5,'building',$,$,#46,$,$,.ELEMENT.,$,$,$);`,
    '#48=IFCLOCALPLACEMENT(#46,#7);',
    `#49=IFCBUILDINGSTOREY('${globalId(4)}',#5,'foundation',$,$,#48,$,$,.ELEMENT.,0.);`,
    `#50=IFCRELAGGREGATES('${globalId(5)}',#5,$,$,#31,(#45));`,
    `#51=IFCRELAGGREGATES('${globalId(6)}',#5,$,$,#45,(#47));`,
    `#52=IFCRELAGGREGATES('${globalId(7)}',#5,$,$,#47,(#49));`,
  ];
};

/** One wall as lines: numbers from `first`, nineteen of them; the wall itself is `first`. */
export const wallLines = (wall: WallBox, first: number, mmPerUnit: number, schema: string): string[] => {
  const n = (mm: number): string => real(mm / mmPerUnit);
  const at = (k: number): string => `#${first + k}`;
  const last = schema === 'IFC2X3' ? '' : ',$';
  return [
    `${at(1)}=IFCCARTESIANPOINT((${n(wall.x)},${n(wall.y)},${n(wall.z)}));`,
    `${at(2)}=IFCDIRECTION((${real(Math.cos(wall.angleRad))},${real(Math.sin(wall.angleRad))},0.));`,
    `${at(3)}=IFCAXIS2PLACEMENT3D(${at(1)},#42,${at(2)});`,
    `${at(4)}=IFCLOCALPLACEMENT(#48,${at(3)});`,
    `${at(5)}=IFCCARTESIANPOINT((${n(wall.lengthMm / 2)},${n(wall.thicknessMm / 2)}));`,
    `${at(6)}=IFCAXIS2PLACEMENT2D(${at(5)},$);`,
    `${at(7)}=IFCRECTANGLEPROFILEDEF(.AREA.,$,${at(6)},${n(wall.lengthMm)},${n(wall.thicknessMm)});`,
    `${at(8)}=IFCEXTRUDEDAREASOLID(${at(7)},#7,#42,${n(wall.heightMm)});`,
    `${at(9)}=IFCSHAPEREPRESENTATION(#8,'Body','SweptSolid',(${at(8)}));`,
    `${at(10)}=IFCPRODUCTDEFINITIONSHAPE($,$,(${at(9)}));`,
    `#${first}=IFCWALL('${globalId(first)}',#5,'wall ${first}',$,$,${at(4)},${at(10)},$${last});`,
    `${at(11)}=IFCRELCONTAINEDINSPATIALSTRUCTURE('${globalId(first + 11)}',#5,$,$,(#${first}),#49);`,
  ];
};

export const buildingText = (building: Building): string =>
  stepFile(building.schema, [
    ...frameLines(building),
    ...building.walls.flatMap((wall, i) => wallLines(wall, 100 + 20 * i, building.mmPerUnit, building.schema)),
  ]);

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

export const AT_ORIGIN: Building['site'] = { x: 0, y: 0, z: 0, angleRad: 0 };
