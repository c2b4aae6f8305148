/** Codes of the findings that write reports. */

import type { FindingKind } from '../findings.js';

export const writeFindings = {
  'write.second-reader': {
    severity: 'failure',
    rule: 'output',
    meaning:
      'The drawing that was made was read back by a second reader, which found something else than was meant; it is not handed over.',
    action: 'Report it with the drawing: this is a fault of the program.',
  },
  'write.no-place': {
    severity: 'failure',
    rule: 'output',
    meaning: 'A piece of the layout names no face, vertex or wall end, so that it cannot be drawn.',
    action:
      'Report it with the drawing: this is a fault of the program. The piece is in the lists but not in the plan.',
  },
  'write.no-drawing': {
    severity: 'note',
    rule: 'output',
    meaning: 'The layout was to be put into the drawing, but there is no DXF drawing; it is written as an overlay.',
    action: 'Nothing, or set the output to overlay.',
  },
  'write.far-geometry': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Points of the drawing lie so far away that they must be damage; elevations, lists and notes are placed without heed to them.',
    action: 'Look for stray entities in the drawing and erase them.',
  },
  'write.layer-name': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'A layer name of the job file cannot stand in a drawing of this version, or renames no layer of the layout.',
    action: 'Give another name in the job file.',
  },
  'write.layer-exists': {
    severity: 'note',
    rule: 'output',
    meaning:
      "The drawing has a layer under a name of the layout's layers; the layout is drawn on it, and the layer stays as it is.",
    action: 'Nothing, or rename the layer in the job file.',
  },
  'write.text-height': {
    severity: 'note',
    rule: 'output',
    meaning:
      'Marks and dimensions in the model space follow the height of the drawing’s own dimensions or texts, or the job file; the scale of the sheets follows them.',
    action: 'Nothing, or give output.textHeightMm in the job file: 125 for sheets at 1:25, 250 for 1:50.',
  },
  'write.no-sheets': {
    severity: 'attention',
    rule: 'output',
    meaning:
      'The drawing lacks the blocks of model space and paper space that every sheet needs, so that the layout stands in the model space alone.',
    action: 'Save the drawing again from a CAD program and lay it out again, or write an overlay.',
  },
} satisfies Record<string, FindingKind>;
