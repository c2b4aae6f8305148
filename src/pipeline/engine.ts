/** What must be loaded before a job can run: loading waits, the pipeline itself does not. */

import { loadPrograms, type Programs } from '../fit/index.js';
import { type IfcEngine, isIfc, loadIfcEngine } from '../read/ifc/index.js';
import type { LayOutInput } from './input.js';

/** The engine that a file needs; null for drawings, which need none. */
export const engineFor = async (bytes: Uint8Array): Promise<IfcEngine | null> =>
  isIfc(bytes) ? await loadIfcEngine() : null;

/** The solver that a limited stock needs; null where no counts are named, by the job or by a catalogue of its own. */
export const programsFor = async ({
  job,
  stock,
  catalogue,
}: Pick<LayOutInput, 'job' | 'stock' | 'catalogue'>): Promise<Programs | null> =>
  job.stock !== undefined || stock !== undefined || catalogue !== undefined ? await loadPrograms() : null;
