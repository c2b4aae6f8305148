/** Codes of the findings that the writer of models reports. */

import type { FindingKind } from '../findings.js';

export const writeIfcFindings = {} satisfies Record<string, FindingKind>;
