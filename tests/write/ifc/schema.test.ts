/** The written file against the schema IFC4 and its rules. */

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Result } from '../../../src/ground/vocabulary.js';
import { itWithSamples, samplePath } from '../../read/samples.js';
import { exampleResult } from '../../support/exampleResult.js';
import { laidOut, laySheet } from '../../support/lay.js';
import { cornerHouse, inchCellar, weirStore } from '../../support/scenes.js';
import { StepFile, type StepInstance } from '../../support/stepText.js';
import { asModel, FEET_HEADER, moved, textOf } from './results.js';
import { Schema } from './schema.js';

const schema = new Schema();

const scenes: Readonly<Record<string, () => Result>> = {
  'a result made by hand': () => exampleResult,
  'a house with corners and tees': () => laidOut(laySheet(cornerHouse)).result,
  'a cellar in inches': () => laidOut(laySheet(inchCellar)).result,
  'a store with a step': () => laidOut(laySheet(weirStore)).result,
  'a model in feet, far away and turned': () =>
    asModel(moved(exampleResult, 27, { x: 8.53e8, y: -4.21e8 }), FEET_HEADER),
  'a model without storeys': () => asModel(exampleResult, { ...FEET_HEADER, storeys: [] }),
  'no forms at all': () => ({
    ...exampleResult,
    layout: { ...exampleResult.layout, pieces: [], ties: [], pressure: [], ratings: [] },
  }),
};

const files = new Map(Object.entries(scenes).map(([name, make]) => [name, textOf(make())]));

describe('the checker itself', () => {
  it('knows the schema', () => {
    expect(schema.entities.get('IfcWall')?.attributes.map((a) => a.name)).toEqual([
      'GlobalId',
      'OwnerHistory',
      'Name',
      'Description',
      'ObjectType',
      'ObjectPlacement',
      'Representation',
      'Tag',
      'PredefinedType',
    ]);
    // 776 entities of IFC4 by the count of another project (@ifc-lite/parser, README).
    expect(schema.entities.size).toBeGreaterThanOrEqual(776);
    expect(Math.min(schema.enumerations.size, schema.selects.size)).toBeGreaterThanOrEqual(60);
  });

  const good = files.get('a result made by hand')!;
  const broken: readonly (readonly [string, (text: string) => string, RegExp])[] = [
    ['an attribute too few', (t) => t.replace(/,\.SOLIDWALL\.\)/, ')'), /IFCWALL has 8 attributes/],
    ['an unknown item', (t) => t.replace('.SOLIDWALL.', '.SOFTWALL.'), /PredefinedType .* is none of/],
    ['a required one missing', (t) => t.replace(/IFCWALL\('[^']*'/, 'IFCWALL($'), /GlobalId is missing/],
    ['a reference to another kind', (t) => t.replace(/(IFCMAPPEDITEM\()#\d+/, '$1#1'), /MappingSource .* is none of/],
    ['a reference to nothing', (t) => t.replace(/(IFCMAPPEDITEM\()#\d+/, '$1#999999'), /MappingSource/],
    ['a value without its type', (t) => t.replace(/IFCBOOLEAN\(\.T\.\)/, '.T.'), /NominalValue/],
    ['an unknown entity', (t) => t.replace('IFCWALL(', 'IFCWALLET('), /IFCWALLET is no entity/],
  ];
  it.each(broken)('finds %s', (_, breaks, message) => {
    expect(breaks(good)).not.toBe(good);
    expect(schema.breaches(breaks(good)).join('\n')).toMatch(message);
  });

  itWithSamples('finds nothing in a model by others', () => {
    const text = readFileSync(samplePath('duplex_foundation_ifc4_rv.ifc'), 'latin1');
    expect(schema.breaches(text)).toEqual([]);
  });
});

describe.each([...files])('%s', (_, text) => {
  const file = new StepFile(text);
  const all = [...file.instances.values()];
  const nameOf = (i: StepInstance): string => schema.entityOf(i.type)!.name;
  const isA = (i: StepInstance, ancestor: string): boolean => schema.isA(nameOf(i), ancestor);
  const kind = (ancestor: string): StepInstance[] => all.filter((i) => isA(i, ancestor));
  const value = (i: StepInstance, attribute: string) => {
    const at = schema.entityOf(i.type)!.attributes.findIndex((a) => a.name === attribute);
    expect(at, `${i.type}.${attribute}`).toBeGreaterThanOrEqual(0);
    return i.values[at + (i.type === 'IFCSIUNIT' ? 1 : 0)]!;
  };
  const item = (i: StepInstance, attribute: string): string | null => {
    const v = value(i, attribute);
    return v !== null && typeof v === 'object' && 'item' in v ? v.item : null;
  };
  const related = (relation: string, attribute: string): StepInstance[] =>
    kind(relation).flatMap((r) => file.all(value(r, attribute)));

  it('keeps to the schema in every line', () => {
    expect(all.length).toBeGreaterThan(30);
    expect(schema.breaches(text)).toEqual([]);
  });

  it('is STEP text: ASCII, every instance once and in order, references to what stands in the file', () => {
    expect(/[^\n\x20-\x7e]/.test(text)).toBe(false);
    const ids = [...text.matchAll(/^#(\d+)=/gm)].map((m) => Number(m[1]));
    expect(ids).toEqual(ids.map((_, i) => i + 1));
    expect(text.endsWith('ENDSEC;\nEND-ISO-10303-21;\n')).toBe(true);
  });

  it('writes reals with a point and integers without one', () => {
    for (const m of text.matchAll(/^#\d+=IFC(?:CARTESIANPOINT|DIRECTION)\(\((.*)\)\);$/gm))
      for (const number of m[1]!.split(',')) expect(number).toMatch(/^-?\d+\.\d*(E-?\d+)?$/);
    for (const m of text.matchAll(/IFC\w+MEASURE\(([^)]*)\)/g)) expect(m[1]).toMatch(/^-?\d+\.\d*(E-?\d+)?$/);
    for (const m of text.matchAll(/IFCINTEGER\(([^)]*)\)/g)) expect(m[1]).toMatch(/^-?\d+$/);
    expect(text).not.toMatch(/NaN|Infinity|undefined|null|-0\.[,)]/);
  });

  it('IfcRoot.UR1, IfcGloballyUniqueId: GlobalIds are 22 characters of the set, the first 0 … 3, and none twice', () => {
    const ids = kind('IfcRoot').map((i) => String(value(i, 'GlobalId')));
    expect(ids.filter((id) => !/^[0-3][0-9A-Za-z_$]{21}$/.test(id))).toEqual([]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('IfcBuildingElementProxy.HasObjectName; CorrectPredefinedType: what is USERDEFINED says what it is', () => {
    for (const proxy of kind('IfcBuildingElementProxy')) expect(value(proxy, 'Name')).not.toBeNull();
    for (const element of kind('IfcElement'))
      if (item(element, 'PredefinedType') === 'USERDEFINED') expect(value(element, 'ObjectType')).not.toBeNull();
    for (const type of kind('IfcElementType'))
      if (item(type, 'PredefinedType') === 'USERDEFINED') expect(value(type, 'ElementType')).not.toBeNull();
  });

  it('CorrectTypeAssigned, IfcTypeObject.NameRequired: each thing has at most one type, of its own kind', () => {
    const typed = related('IfcRelDefinesByType', 'RelatedObjects');
    expect(new Set(typed.map((t) => t.id)).size).toBe(typed.length);
    for (const relation of kind('IfcRelDefinesByType')) {
      const type = file.at(value(relation, 'RelatingType'))!;
      expect(value(type, 'Name')).not.toBeNull();
      for (const thing of file.all(value(relation, 'RelatedObjects'))) expect(type.type).toBe(`${thing.type}TYPE`);
    }
    const pieces = (
      ['IfcBuildingElementProxy', 'IfcMechanicalFastener', 'IfcMember', 'IfcPlate', 'IfcRailing'] as const
    ).flatMap((entity) => kind(entity));
    expect(typed.length).toBe(pieces.length);
  });

  it('each element stands once in the building: in an assembly or in the storey, never in both', () => {
    const parts = related('IfcRelAggregates', 'RelatedObjects');
    const contained = related('IfcRelContainedInSpatialStructure', 'RelatedElements');
    const elements = kind('IfcElement').map((e) => e.id);
    const placed = [...parts, ...contained].map((e) => e.id).filter((id) => elements.includes(id));
    expect(placed.sort()).toEqual([...elements].sort());
    // IfcRelContainedInSpatialStructure.WR31
    expect(contained.filter((e) => isA(e, 'IfcSpatialElement'))).toEqual([]);
  });

  it('IfcSpatialStructureElement.WR41, IfcProject: project, site, building, storeys hang together', () => {
    const [project] = kind('IfcProject');
    expect(kind('IfcProject').length).toBe(1);
    expect(value(project!, 'Name')).not.toBeNull();
    for (const context of file.all(value(project!, 'RepresentationContexts')))
      expect(context.type).toBe('IFCGEOMETRICREPRESENTATIONCONTEXT');
    const parts = related('IfcRelAggregates', 'RelatedObjects').map((p) => p.id);
    for (const spatial of kind('IfcSpatialStructureElement'))
      expect(parts.filter((id) => id === spatial.id)).toEqual([spatial.id]);
    expect(parts).not.toContain(project!.id);
  });

  it('IfcPropertySet.UniquePropertyNames, IfcObject.UniquePropertySetNames', () => {
    for (const set of kind('IfcPropertySet')) {
      const names = file.all(value(set, 'HasProperties')).map((p) => String(value(p, 'Name')));
      expect(value(set, 'Name')).not.toBeNull();
      expect(new Set(names).size).toBe(names.length);
    }
    const sets = new Map<number, string[]>();
    for (const relation of kind('IfcRelDefinesByProperties')) {
      const name = String(value(file.at(value(relation, 'RelatingPropertyDefinition'))!, 'Name'));
      for (const thing of file.all(value(relation, 'RelatedObjects')))
        sets.set(thing.id, [...(sets.get(thing.id) ?? []), name]);
    }
    for (const names of sets.values()) expect(new Set(names).size).toBe(names.length);
  });

  it('IfcAxis2Placement3D.WR1-5, IfcDirection.MagnitudeGreaterZero', () => {
    const ratios = (i: StepInstance) => file.numbers(value(i, 'DirectionRatios'));
    for (const direction of kind('IfcDirection')) expect(Math.hypot(...ratios(direction))).toBeCloseTo(1, 9);
    for (const axes of kind('IfcAxis2Placement3D')) {
      const [z, x] = [file.at(value(axes, 'Axis')), file.at(value(axes, 'RefDirection'))];
      expect(z === null).toBe(x === null);
      if (z && x) expect(ratios(z).reduce((sum, r, i) => sum + r * ratios(x)[i]!, 0)).toBeCloseTo(0, 9);
    }
  });

  it('IfcShapeRepresentation.HasRepresentationType, CorrectItemsForType; bodies have sizes', () => {
    const OF: Readonly<Record<string, string>> = {
      SweptSolid: 'IfcExtrudedAreaSolid',
      MappedRepresentation: 'IfcMappedItem',
    };
    for (const shape of kind('IfcShapeRepresentation')) {
      const wanted = OF[String(value(shape, 'RepresentationType'))]!;
      for (const body of file.all(value(shape, 'Items'))) expect(nameOf(body)).toBe(wanted);
    }
    for (const solid of kind('IfcExtrudedAreaSolid')) expect(value(solid, 'Depth')).toBeGreaterThan(0);
    for (const profile of kind('IfcRectangleProfileDef')) {
      expect(value(profile, 'XDim')).toBeGreaterThan(0);
      expect(value(profile, 'YDim')).toBeGreaterThan(0);
    }
    for (const profile of kind('IfcArbitraryClosedProfileDef')) {
      const points = file.all(value(file.at(value(profile, 'OuterCurve'))!, 'Points'));
      expect(points.at(-1)).toBe(points[0]);
      for (const point of points) expect(file.numbers(value(point, 'Coordinates')).length).toBe(2);
    }
  });

  it('IfcUnitAssignment.WR01, IfcNamedUnit.WR1: one unit of each kind, with its dimensions', () => {
    const [assignment] = kind('IfcUnitAssignment');
    const units = file.all(value(assignment!, 'Units')).map((u) => item(u, 'UnitType'));
    expect(new Set(units).size).toBe(units.length);
    for (const unit of kind('IfcConversionBasedUnit')) {
      const length = file.at(value(unit, 'Dimensions'))!.values[0];
      expect(length).toBe(item(unit, 'UnitType') === 'LENGTHUNIT' ? 1 : 0);
    }
  });

  it('IfcDocumentReference.WR1: a name or a document, not both; IfcSite: latitude within its bounds', () => {
    for (const reference of kind('IfcDocumentReference'))
      expect((value(reference, 'Name') === null) !== (value(reference, 'ReferencedDocument') === null)).toBe(true);
    for (const site of kind('IfcSite')) {
      const parts = file.numbers(value(site, 'RefLatitude'));
      if (parts.length > 0) expect(Math.abs(parts[0]!)).toBeLessThanOrEqual(90);
    }
  });

  it('IfcRelConnectsElements.NoSelfReference; ties hold two different pieces', () => {
    for (const relation of kind('IfcRelConnectsWithRealizingElements')) {
      const [a, b] = [value(relation, 'RelatingElement'), value(relation, 'RelatedElement')].map((v) => file.at(v)!.id);
      expect(a).not.toBe(b);
    }
  });
});
