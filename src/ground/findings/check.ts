/** Codes of the findings that check reports. */

import type { FindingKind } from '../findings.js';

export const checkFindings = {} satisfies Record<string, FindingKind>;
