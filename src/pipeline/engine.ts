/** What must be loaded before a file can be read: loading waits, the pipeline itself does not. */

import { type IfcEngine, isIfc, loadIfcEngine } from '../read/ifc/index.js';

/** The engine that a file needs; null for drawings, which need none. */
export const engineFor = async (bytes: Uint8Array): Promise<IfcEngine | null> =>
  isIfc(bytes) ? await loadIfcEngine() : null;
