/** Codes of the findings that read reports. */

import type { FindingKind } from '../findings.js';

export const readFindings = {} satisfies Record<string, FindingKind>;
