/** The trace drawing: what was understood of the drawing, for a person to confirm before any fitting. Merged or overlay, as the layout's drawing is. */

import type { Refusable } from '../../../ground/findings.js';
import type { TraceResult } from '../../../ground/questions.js';
import type { TagDocument } from '../../../ground/tags.js';
import { finish, type WriteDxfOptions } from '../finish.js';
import { composeTrace } from './compose.js';
import { inkOf } from './ink.js';

/**
 * Writes the trace drawing by the rules of writeDxf: the same coordinates and unit, the architect's entities untouched in merged mode, all that is ours
 * marked as ours and read back by the second reader.
 */
export const writeTraceDxf = (
  result: TraceResult,
  document: TagDocument | null,
  options: WriteDxfOptions,
): Refusable<Uint8Array> => {
  const ink = inkOf(result);
  return finish({
    document,
    options,
    unit: result.source.lengthUnit,
    isInches: ink.unit === 'in',
    compose: (_version, _takenBlocks, drawing) => composeTrace(result, ink, drawing),
  });
};
