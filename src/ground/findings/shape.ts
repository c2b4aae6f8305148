/** Codes of the findings that shape reports. */

import type { FindingKind } from '../findings.js';

export const shapeFindings = {} satisfies Record<string, FindingKind>;
