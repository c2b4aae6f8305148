/** What is read of the samples against @ifc-lite/parser, a reader by others: entities, GlobalIds, names, storeys, units. */

import { IfcParser } from '@ifc-lite/parser';
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { sample } from '../samples.js';
import { itWithModels, MODELS, REFUSED, readModel } from './models.js';

const bufferOf = (file: string): ArrayBuffer => {
  const bytes = sample(file);
  const inner = file.endsWith('.ifczip') ? Object.values(unzipSync(bytes))[0]! : bytes;
  return inner.slice().buffer as ArrayBuffer;
};

/** IfcWallStandardCase is grouped with IfcWall by that reader. */
const grouped = (entity: string): string => entity.replace(/(StandardCase|ElementedCase)$/, '').toLowerCase();

const READ = MODELS.filter((name) => !REFUSED.includes(name) && !name.startsWith('broken'));

describe('to another reader', () => {
  itWithModels('are many', () => expect(READ.length).toBeGreaterThan(8));

  it.each(READ)('%s is the same', async (file) => {
    const { model } = readModel(sample(file));
    const store = await new IfcParser().parseColumnar(bufferOf(file));
    expect((store.lengthUnitScale ?? Number.NaN) * 1000).toBeCloseTo(model.unit.mmPerUnit, 6);
    expect(store.schemaVersion).toBe(model.schema);
    const storeyIds = new Map(model.storeys.map(({ id, name }) => [id, name]));
    expect(store.spatialHierarchy?.storeyElevations.size ?? 0).toBe(model.storeys.length);
    let stood = 0;
    for (const element of model.elements) {
      const { entities } = store;
      expect(grouped(entities.getTypeName(element.line))).toBe(grouped(element.entity));
      expect(entities.getGlobalId(element.line)).toBe(element.id);
      // Escapes are for each reader to resolve; those of the samples without one must be equal.
      const name = entities.getName(element.line);
      expect(name === '' ? null : name).toBe(element.name);
      const storey = store.spatialHierarchy?.elementToStorey.get(element.line);
      if (storey === undefined || element.storey === null) continue;
      stood++;
      expect(entities.getGlobalId(storey)).toBe(element.storey);
      expect(entities.getName(storey)).toBe(storeyIds.get(element.storey));
    }
    if (model.storeys.length > 0) expect(stood).toBeGreaterThan(0);
  });
});
