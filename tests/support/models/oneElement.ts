/** A model of one element whose body is given as lines: for shapes of every kind. Millimetres, degrees where asked for. */

import { AT_ORIGIN, bytesOf, frameLines, globalId, stepFile, UNITS } from './building.js';

export interface OneElement {
  readonly schema?: string;
  /** Lines of the shape, numbered from 200. */
  readonly lines: readonly string[];
  /** Numbers of the items of the body. */
  readonly items: readonly number[];
  readonly identifier?: string;
  readonly type?: string;
  /** Entity of the element with what stands behind its tag: "IFCWALL", ",$". */
  readonly entity?: string;
  readonly tail?: string;
  /** Place of the element: the number of an IfcLocalPlacement among the lines. */
  readonly placement?: number;
  /** Angles in degrees. */
  readonly degrees?: boolean;
  readonly more?: readonly string[];
}

export const oneElementText = (one: OneElement): string => {
  const { schema = 'IFC4', entity = 'IFCWALL', tail = schema === 'IFC2X3' ? '' : ',$' } = one;
  const unit = [...UNITS.millimetre!.unit];
  const frame = frameLines({ unit, mmPerUnit: 1, site: AT_ORIGIN });
  const degrees = [
    '#60=IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.);',
    '#61=IFCMEASUREWITHUNIT(IFCPLANEANGLEMEASURE(0.0174532925199433),#60);',
    '#62=IFCDIMENSIONALEXPONENTS(0,0,0,0,0,0,0);',
    "#63=IFCCONVERSIONBASEDUNIT(#62,.PLANEANGLEUNIT.,'DEGREE',#61);",
  ];
  const lines = one.degrees
    ? [...frame.map((line) => line.replace('IFCUNITASSIGNMENT((#20))', 'IFCUNITASSIGNMENT((#20,#63))')), ...degrees]
    : frame;
  return stepFile(schema, [
    ...lines,
    ...one.lines,
    `#190=IFCSHAPEREPRESENTATION(#8,'${one.identifier ?? 'Body'}','${one.type ?? 'SolidModel'}',(${one.items.map((item) => `#${item}`).join(',')}));`,
    '#191=IFCPRODUCTDEFINITIONSHAPE($,$,(#190));',
    `#100=${entity}('${globalId(100)}',#5,'one',$,$,#${one.placement ?? 48},#191,$${tail});`,
    `#192=IFCRELCONTAINEDINSPATIALSTRUCTURE('${globalId(192)}',#5,$,$,(#100),#49);`,
    ...(one.more ?? []),
  ]);
};

export const oneElement = (one: OneElement): Uint8Array => bytesOf(oneElementText(one));

/** Lines of an extrusion straight up of a profile, numbered `first` on; the solid is `first`. */
export const upwards = (first: number, profile: number, depth: number): string[] => [
  `#${first}=IFCEXTRUDEDAREASOLID(#${profile},#7,#42,${depth}.);`,
];
