/** The written file read by @ifc-lite/parser, which shares nothing with web-ifc: counts, names, types of properties, units, georeference, structure. */

import {
  extractAllEntityAttributes,
  extractDocumentsOnDemand,
  extractEntityAttributesOnDemand,
  extractGeoreferencingOnDemand,
  extractGroupMembersOnDemand,
  extractProjectUnits,
  extractPropertiesOnDemand,
  extractTypePropertiesOnDemand,
  type IfcDataStore,
  IfcParser,
} from '@ifc-lite/parser';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { marksOf } from '../../../src/ground/marks.js';
import type { Result } from '../../../src/ground/vocabulary.js';
import { exampleResult } from '../../support/exampleResult.js';
import { laidOut, laySheet } from '../../support/lay.js';
import { inchCellar } from '../../support/scenes.js';
import { ARCHITECTS, asModel, bytesOf, FEET_HEADER, moved } from './results.js';

const parsed = async (result: Result): Promise<IfcDataStore> => {
  const bytes = bytesOf(result);
  const quiet = vi.spyOn(console, 'log').mockImplementation(() => {});
  const store = await new IfcParser().parseColumnar(bytes.slice().buffer as ArrayBuffer);
  quiet.mockRestore();
  return store;
};

const ofType = (store: IfcDataStore, type: string): readonly number[] => store.entityIndex.byType.get(type) ?? [];

const setOf = (store: IfcDataStore, id: number, name: string): ReadonlyMap<string, unknown> => {
  const set = extractPropertiesOnDemand(store, id).find((s) => s.name === name);
  return new Map(set?.properties.map((p) => [p.name, p.value]));
};

const scenes: Readonly<Record<string, () => Result>> = {
  'a result made by hand': () => exampleResult,
  'a cellar in inches': () => laidOut(laySheet(inchCellar)).result,
  'a model in feet, far away and turned': () => asModel(moved(exampleResult, 27, { x: 8.53e8, y: -4.21e8 })),
};

/** Entities of what the forms are made of. */
const GEAR = ['IFCBUILDINGELEMENTPROXY', 'IFCMECHANICALFASTENER', 'IFCMEMBER', 'IFCPLATE', 'IFCRAILING'];

/** Those of an entity that a property set describes. */
const ofSet = (store: IfcDataStore, type: string, set: string): number[] =>
  [...ofType(store, type)].filter((id) => setOf(store, id, set).size > 0);

describe.each(Object.entries(scenes))('%s', (_, make) => {
  const result = make();
  let store: IfcDataStore;
  beforeAll(async () => {
    store = await parsed(result);
  });

  it('is IFC4 with as many things as the layout has', () => {
    expect(store.schemaVersion).toBe('IFC4');
    expect(ofSet(store, 'IFCBUILDINGELEMENTPROXY', 'Shutterwright_Piece').length).toBe(result.layout.pieces.length);
    expect(ofSet(store, 'IFCMECHANICALFASTENER', 'Shutterwright_Tie').length).toBe(result.layout.ties.length);
    const { aligners = [], braces = [], platforms = [] } = result.layout;
    expect(ofSet(store, 'IFCMEMBER', 'Shutterwright_Aligner').length).toBe(aligners.length);
    expect(ofSet(store, 'IFCMEMBER', 'Shutterwright_Brace').length).toBe(braces.length);
    expect(ofSet(store, 'IFCPLATE', 'Shutterwright_Platform').length).toBe(platforms.length);
    expect(ofType(store, 'IFCWALL').length).toBe(result.model ? 0 : result.plan.walls.length);
    expect(ofType(store, 'IFCBUILDINGSTOREY').length).toBe(result.model?.storeys.length ?? 1);
  });

  it('names each piece by its mark and tags it with its item, as drawing and lists do', () => {
    const marks = marksOf(result.plan, result.catalogue, result.layout);
    const byId = new Map(result.layout.pieces.map((p) => [p.id, p]));
    for (const id of ofSet(store, 'IFCBUILDINGELEMENTPROXY', 'Shutterwright_Piece')) {
      const piece = byId.get(String(setOf(store, id, 'Shutterwright_Piece').get('Piece')))!;
      const { mark, size } = marks.ofPiece(piece);
      const { name, tag } = extractEntityAttributesOnDemand(store, id);
      expect([name, tag]).toEqual([mark, piece.item ?? `${piece.kind} ${size}`]);
    }
  });

  it('gives every piece the data of its type', () => {
    const units = new Map(result.catalogue.units.map((u) => [u.id, u]));
    for (const id of ofSet(store, 'IFCBUILDINGELEMENTPROXY', 'Shutterwright_Piece')) {
      const item = setOf(store, id, 'Shutterwright_Piece').get('Item');
      const type = extractTypePropertiesOnDemand(store, id);
      const values = new Map(
        type?.properties.find((s) => s.name === 'Shutterwright_Item')?.properties.map((p) => [p.name, p.value]),
      );
      if (typeof item !== 'string') continue;
      expect(type?.typeName).toBe(item);
      expect(values.get('Mass')).toBe(units.get(item)!.massKg);
      expect(values.get('RatedPressure')).toBe(units.get(item)!.ratedKpa);
    }
  });

  it('has the units of the layout', () => {
    const units = extractProjectUnits(store.source, store.entityIndex);
    const { mmPerUnit } = result.model?.unit ?? {
      mmPerUnit: { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 }[result.source.lengthUnit],
    };
    expect(units.unitForMeasure('IfcLengthMeasure')!.siScale).toBeCloseTo(mmPerUnit / 1000, 12);
    expect(store.lengthUnitScale).toBeCloseTo(mmPerUnit / 1000, 12);
    expect(units.unitForMeasure('IfcForceMeasure')).toMatchObject({ symbol: 'kN', siScale: 1000 });
    expect(units.unitForMeasure('IfcPressureMeasure')).toMatchObject({ symbol: 'kPa', siScale: 1000 });
    expect(units.unitForMeasure('IfcMassMeasure')!.symbol).toBe('kg');
  });

  it('stands in the storey of its walls, whose names and levels are the source’s', () => {
    const { spatialHierarchy } = store;
    const storeys = ofType(store, 'IFCBUILDINGSTOREY').map((id) => [
      store.entities.getName(id),
      spatialHierarchy!.storeyElevations.get(id)! / (store.lengthUnitScale ?? 1),
    ]);
    if (result.model) {
      expect(storeys[0]![0]).toBe('T/FDN');
      expect(storeys[1]![0]).toBe('Level 1');
    }
    const [wanted] = ofType(store, 'IFCBUILDINGSTOREY');
    for (const id of GEAR.flatMap((type) => [...ofType(store, type)]))
      expect(spatialHierarchy!.elementToStorey.get(id)).toBe(wanted);
  });

  it('groups by wall all that touches it, corners with both', () => {
    const touching = (wall: string): number => {
      const faces = new Map(result.plan.faces.map((f) => [f.id, f.wall]));
      const vertices = new Map(result.plan.vertices.map((v) => [v.id, v.arms.map((a) => a.wall)]));
      const of = (p: (typeof result.layout.pieces)[number]) =>
        new Set([...p.covers.map((c) => faces.get(c.face)), ...(vertices.get(p.vertex ?? '') ?? [])]);
      const ofWall = <T extends { readonly face: string }>(things: readonly T[] = []): T[] =>
        things.filter((x) => faces.get(x.face) === wall);
      const { layout } = result;
      const joints = new Set(ofWall(layout.clamps).map((c) => [c.face, c.joint, ...c.pieces, c.item, c.gapMm].join()));
      // Of a platform its floor, its guard, its brackets and its ladder.
      const platforms = ofWall(layout.platforms).map((p) => 2 + p.brackets.length + (p.ladderMm === null ? 0 : 1));
      return (
        layout.pieces.filter((p) => of(p).has(wall)).length +
        layout.ties.filter((t) => t.wall === wall).length +
        joints.size +
        ofWall(layout.aligners).length +
        ofWall(layout.braces).length +
        ofWall(layout.decks).length +
        platforms.reduce((sum, n) => sum + n, 0)
      );
    };
    for (const id of ofType(store, 'IFCGROUP')) {
      const wall = store.entities.getName(id).replace('Wall ', '');
      expect(extractGroupMembersOnDemand(store, id).length).toBe(touching(wall));
    }
    expect(ofType(store, 'IFCGROUP').length).toBe(result.plan.walls.length);
  });

  it('carries the source and the cautions', () => {
    const [project] = ofType(store, 'IFCPROJECT');
    const job = setOf(store, project!, 'Shutterwright_Job');
    expect(job.get('SourceSha256')).toBe(result.source.sha256);
    expect(String(job.get('Cautions'))).toContain('Nobody works under a form that is not braced.');
    expect(extractDocumentsOnDemand(store, project!)[0]).toMatchObject({
      identification: `sha256:${result.source.sha256}`,
      name: result.source.file,
    });
  });
});

describe('a model in feet, far away and turned', () => {
  it('has the georeference, the true north and the names of its source, none of its GlobalIds', async () => {
    const result = asModel(moved(exampleResult, 27, { x: 8.53e8, y: -4.21e8 }));
    const store = await parsed(result);
    const georeference = extractGeoreferencingOnDemand(store);
    expect(georeference).toMatchObject({
      hasGeoreference: true,
      mapConversion: {
        eastings: 2781000.123,
        northings: 1203456.789,
        orthogonalHeight: 401.5,
        xAxisAbscissa: 0.8660254037844387,
        xAxisOrdinate: 0.5,
        scale: 1,
      },
      projectedCRS: { name: 'EPSG:2056', geodeticDatum: 'CH1903+', verticalDatum: 'LN02' },
    });
    const [project] = ofType(store, 'IFCPROJECT');
    expect(store.entities.getName(project!)).toBe("Müller's House 東");
    const text = new TextDecoder().decode(bytesOf(result));
    const own = [...text.matchAll(/=IFC\w+\('([^']{22})',/g)].map((m) => m[1]);
    const theirs = [FEET_HEADER.project, ...FEET_HEADER.sites, ...FEET_HEADER.buildings, ...FEET_HEADER.storeys].map(
      (n) => n.id,
    );
    expect(own.filter((id) => [...theirs, ...ARCHITECTS].includes(id!))).toEqual([]);
    const [context] = ofType(store, 'IFCGEOMETRICREPRESENTATIONCONTEXT');
    const north = extractAllEntityAttributes(store, context!).find((a) => a.name === 'TrueNorth');
    expect(north).toBeDefined();
    expect(text).toContain('IFCDIRECTION((-0.25881904510252074,0.9659258262890683))');
  });

  it('refers to the architect’s walls in their own document', async () => {
    const store = await parsed(asModel(exampleResult));
    const found = ofType(store, 'IFCELEMENTASSEMBLY').flatMap((id) => extractDocumentsOnDemand(store, id));
    expect(found.map((d) => d.identification).sort()).toEqual([...ARCHITECTS.slice(0, 2)].sort());
  });
});
