/** The returned drawing: the architect's own with the layout in it (merged), or the layout alone at the same coordinates (overlay). */

import type { Refusable } from '../../ground/findings.js';
import type { TagDocument } from '../../ground/tags.js';
import type { Result } from '../../ground/vocabulary.js';
import { composeFitting } from './composeFitting.js';
import { finish, type WriteDxfOptions } from './finish.js';

export type { WriteDxfOptions } from './finish.js';
export { writeTraceDxf } from './trace/index.js';

/**
 * Writes the DXF. Merged: every record of `document` (as the reader hands it over, without an earlier layout) stands tag for tag; version, form, coding
 * and unit are its own. Overlay, or no document: a sheet of version AC1021 in the unit of `result.source`. What was added is read back by a
 * second reader before it is handed over; a difference refuses the file. Throws when the result names what its own catalogue or plan does not have.
 */
export const writeDxf = (
  result: Result,
  document: TagDocument | null,
  options: WriteDxfOptions,
): Refusable<Uint8Array> =>
  finish({
    document,
    options,
    unit: result.source.lengthUnit,
    isInches: result.catalogue.lengthUnit === 'in',
    compose: (version, takenBlocks, drawing) =>
      composeFitting(result, version, takenBlocks, drawing, options.sheets ?? true),
  });
