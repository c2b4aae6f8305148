/** What layout.json and trace.json tell of the model that the walls are from: its storeys, and every wall with whether and why it was taken. */

import { z } from 'zod';
import { roundTo } from '../../ground/units.js';
import type { FoundInModel, ModelHeader } from '../../ground/vocabulary.js';

export const modelSchema = z
  .object({
    schema: z.string().describe('as FILE_SCHEMA spells it'),
    mmPerUnit: z.number().describe('size of the file’s own unit of length, mm'),
    project: z.object({ id: z.string(), name: z.string().nullable() }).describe('id: GlobalId'),
    storeys: z.array(z.object({ id: z.string(), name: z.string().nullable(), levelMm: z.number() })),
    elements: z
      .array(
        z.object({
          id: z.string().describe('GlobalId'),
          entity: z.string(),
          name: z.string().nullable(),
          storey: z.string().nullable().describe('GlobalId'),
          taken: z.boolean().describe('is formed'),
          why: z.string(),
        }),
      )
      .describe('every wall of the model'),
    bars: z.int().describe('reinforcing bars that ties were held against'),
    obstacles: z
      .array(z.object({ id: z.string(), name: z.string().nullable(), what: z.string() }))
      .describe('what else ties were held against'),
  })
  .describe('only where the input was a model');

export type ModelSection = z.infer<typeof modelSchema>;

/** Nothing where the input was a drawing. */
export const modelSection = (
  header: ModelHeader | undefined,
  found: FoundInModel | undefined,
): { readonly model?: ModelSection } => {
  if (!header || !found) return {};
  const { schemaName, unit, project, storeys } = header;
  return {
    model: {
      schema: schemaName,
      mmPerUnit: unit.mmPerUnit,
      project: { id: project.id, name: project.name },
      storeys: storeys.map(({ id, name, levelMm }) => ({ id, name, levelMm: roundTo(levelMm, 4) })),
      elements: found.elements.map(({ id, entity, name, storey, taken, why }) => ({
        id,
        entity,
        name,
        storey,
        taken,
        why,
      })),
      bars: found.bars.length,
      obstacles: found.obstacles.map(({ id, name, what }) => ({ id, name, what })),
    },
  };
};
