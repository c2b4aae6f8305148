/** Codes of the findings that pipeline reports. */

import type { FindingKind } from '../findings.js';

export const pipelineFindings = {} satisfies Record<string, FindingKind>;
