/** Codes of the findings that trace reports of models. */

import type { FindingKind } from '../findings.js';

export const traceModelFindings = {} satisfies Record<string, FindingKind>;
