/** Codes of the findings that fit reports. */

import type { FindingKind } from '../findings.js';

export const fitFindings = {} satisfies Record<string, FindingKind>;
