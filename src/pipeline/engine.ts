/** What must be loaded before a job can run: loading waits, the pipeline itself does not. */

import { loadPrograms, type Programs } from '../fit/index.js';
import { isIfc } from '../read/ifc/container.js';
import type { PaintKit } from '../write/report/painter.js';
import type { PaperKit } from '../write/report/pdf/index.js';
import type { LayOutInput, Paint, ReadModel, WritePdf } from './input.js';

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

/** What sets the report on paper; null where the job wants no PDF. It takes longer to load than the rest of the report to be written. */
export const printerFor = async (
  { job }: Pick<LayOutInput, 'job'>,
  kit: () => Promise<PaperKit>,
): Promise<WritePdf | null> => {
  if (job.output?.pdf === false) return null;
  const [{ reportPdf }, ready] = await Promise.all([import('../write/report/pdf/index.js'), kit()]);
  return (result) => reportPdf(result, ready);
};

/** What makes PNG of SVG; null where the job does not ask for it. */
export const painterFor = async (
  { job }: Pick<LayOutInput, 'job'>,
  kit: () => Promise<PaintKit>,
): Promise<Paint | null> => {
  if (job.output?.pictures !== 'png') return null;
  const [{ loadPainter }, ready] = await Promise.all([import('../write/report/painter.js'), kit()]);
  return loadPainter(ready);
};
