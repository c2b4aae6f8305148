/** Sample models by others, read whole. Counts of elements are a plain count of the file's text (the samples' own list). */

import { describe, expect } from 'vitest';
import type { ElementKind } from '../../../src/ground/vocabulary.js';
import { readIfc } from '../../../src/read/ifc/index.js';
import { sample } from '../samples.js';
import { engine, itWithModels, MODELS, REFUSED, readModel } from './models.js';

const COUNTS: Readonly<Record<string, Partial<Record<ElementKind, number>>>> = {
  'block_foundation_structural_2x3.ifc': { wall: 296, footing: 1, slab: 29, column: 32 },
  'duplex_foundation_2x3.ifc': { wall: 57, footing: 7, slab: 21 },
  'duplex_foundation_ifc4_rv.ifc': { wall: 57, footing: 7, slab: 21 },
  'house_on_footing_4x3_georef.ifc': { wall: 4, footing: 1 },
  'large_building_clipped_2x3.ifc': { wall: 18, slab: 4 },
  'pavilion_footing_walls_ifc4.ifc': { wall: 13, slab: 2, column: 8 },
  'rc_frame_core_walls_ifc4.ifc': { wall: 18, slab: 48, column: 81 },
  'wall_arched_top_feet_2x3.ifc': { wall: 1 },
  'wall_join_butt_feet_2x3.ifc': { wall: 2 },
  'wall_join_clean_feet_2x3.ifc': { wall: 2 },
  'walls_without_body_2x3.ifc': { wall: 37 },
};

describe('sample models', () => {
  itWithModels('are all looked at', () => {
    expect(MODELS.length).toBeGreaterThanOrEqual(14);
  });

  for (const file of MODELS.filter((name) => COUNTS[name] !== undefined)) {
    itWithModels(`${file}: every element with a body`, () => {
      const { model } = readModel(sample(file));
      for (const [kind, count] of Object.entries(COUNTS[file]!)) {
        const found = model.elements.filter((element) => element.kind === kind);
        expect(found.length, kind).toBe(count);
        if (kind === 'wall') expect(found.filter((element) => element.body.length === 0)).toEqual([]);
      }
    });
  }

  for (const file of REFUSED) {
    itWithModels(`${file} is refused by name of its schema`, () => {
      const result = readIfc(sample(file), engine);
      expect(result.ok).toBe(false);
      expect(result.findings[0]!.message).toContain('IFC20_LONGFORM');
    });
  }
});
