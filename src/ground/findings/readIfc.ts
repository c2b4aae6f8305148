/** Codes of the findings that read reports of models. */

import type { FindingKind } from '../findings.js';

export const readIfcFindings = {} satisfies Record<string, FindingKind>;
