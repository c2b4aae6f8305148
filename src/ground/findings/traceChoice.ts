/** Codes of the findings that trace reports about its choice of linework, view and unit. */

import type { FindingKind } from '../findings.js';

export const traceChoiceFindings = {
  'trace.not-new': {
    severity: 'attention',
    rule: 'input',
    meaning:
      "A layer's name says that what is on it stands already, comes down or is no part of this work, so it was left out.",
    action: 'If walls on it are to be formed, name the layer under drawing.wallLayers in the job file.',
  },
  'trace.not-cast': {
    severity: 'attention',
    rule: 'input',
    meaning: "A layer's name says walls of masonry, timber, boards or glass, so it was left out.",
    action: 'If walls on it are of concrete, name the layer under drawing.wallLayers in the job file.',
  },
} satisfies Record<string, FindingKind>;
