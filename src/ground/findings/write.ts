/** Codes of the findings that write reports. */

import type { FindingKind } from '../findings.js';

export const writeFindings = {} satisfies Record<string, FindingKind>;
