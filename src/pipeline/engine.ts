/** What must be loaded before a job can run: loading waits, the pipeline itself does not. */

import { loadPrograms, type Programs } from '../fit/index.js';
import { isIfc } from '../read/ifc/container.js';
import type { LayOutInput, ReadModel } from './input.js';

/**
 * What reads a model, with its engine; null for drawings. The engine and all that stands on it take longer to load than many a drawing takes to be
 * laid out, so they are loaded for models alone.
 */
export const engineFor = async (bytes: Uint8Array): Promise<ReadModel | null> => {
  if (!isIfc(bytes)) return null;
  const { loadIfcEngine, readIfc } = await import('../read/ifc/index.js');
  const engine = await loadIfcEngine();
  return (model) => readIfc(model, engine);
};

/** The solver that a limited stock needs; null where no counts are named, by the job or by a catalogue of its own. */
export const programsFor = async ({
  job,
  stock,
  catalogue,
}: Pick<LayOutInput, 'job' | 'stock' | 'catalogue'>): Promise<Programs | null> =>
  job.stock !== undefined || stock !== undefined || catalogue !== undefined ? await loadPrograms() : null;
