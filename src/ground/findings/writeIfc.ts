/** Codes of the findings that the writer of models reports. */

import type { FindingKind } from '../findings.js';

export const writeIfcFindings = {
  'write.ifc-no-place': {
    severity: 'failure',
    rule: 'output',
    meaning:
      'A piece of the layout names no face, vertex or wall end, or has no size, so that it cannot stand in the model of the forms.',
    action:
      'Report it with the source file: this is a fault of the program. The piece is in the lists but not in the model.',
  },
  'write.ifc-no-number': {
    severity: 'failure',
    rule: 'output',
    meaning: 'A place, a level or a size is no number or lies beyond any site; no model of the forms is written.',
    action:
      'Look for damage at the place named in the source; without any, report it with the file: then it is a fault of the program.',
  },
  'write.ifc-text-cut': {
    severity: 'note',
    rule: 'input',
    meaning: 'A name is longer than the 255 characters that IFC allows for names; it is cut in the model of the forms.',
    action: 'Nothing, or give a shorter name in the source.',
  },
  'write.ifc-crs-unnamed': {
    severity: 'note',
    rule: 'input',
    meaning:
      'The source model has a map conversion whose coordinate reference system has no name, which IFC4 demands; the model of the forms calls it "unnamed".',
    action: 'Name the coordinate reference system in the source model if viewers place the two files apart.',
  },
  'write.ifc-topics-gathered': {
    severity: 'note',
    rule: 'output',
    meaning:
      'There are more findings than a person goes through one by one; the BCF file has the first as topics of their own and names the others in one topic.',
    action: 'Read the other findings in the report or in layout.json.',
  },
} satisfies Record<string, FindingKind>;
