/** Codes of the findings that trace reports. */

import type { FindingKind } from '../findings.js';

export const traceFindings = {} satisfies Record<string, FindingKind>;
