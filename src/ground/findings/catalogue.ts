/** Codes of the findings that loading a catalogue reports. */

import type { FindingKind } from '../findings.js';

export const catalogueFindings = {
  'catalogue.invalid': {
    severity: 'failure',
    rule: 'input',
    meaning: 'A value of the catalogue file is missing, unknown or out of range.',
    action: 'Correct the value at the path that is named.',
  },
  'catalogue.contradiction': {
    severity: 'failure',
    rule: 'T2',
    meaning: 'Two values of the catalogue file cannot both be true, so that no layout could be trusted.',
    action: 'Correct the item that is named.',
  },
  'catalogue.refused': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The catalogue has faults, so nothing was laid out with it.',
    action: 'Correct the faults that are listed before it.',
  },
  'catalogue.tie-factor': {
    severity: 'attention',
    rule: 'T11',
    meaning: 'The working load of a tie is more than half of its ultimate load, so its safety factor is below 2.',
    action: 'Take the working load from the maker at a factor of 2, or have the lower factor approved.',
  },
  'catalogue.gear-missing': {
    severity: 'attention',
    rule: 'T2',
    meaning: 'The yard lacks gear that layouts commonly need, such as a width in one height or a corner for a height.',
    action: 'Add the items, or expect heights, corners or thicknesses that are not laid out.',
  },
  'catalogue.holes-unlike': {
    severity: 'attention',
    rule: 'T10',
    meaning:
      'Tie holes of panels do not mirror or lie at other levels than those of their neighbours: ties cannot use them.',
    action: 'Check the hole positions; only holes that face each other across the wall are used.',
  },
  'catalogue.not-used': {
    severity: 'note',
    rule: 'input',
    meaning: 'The catalogue lists gear or properties that this version reads but does not use.',
    action: 'None; plan that gear by hand.',
  },
} satisfies Record<string, FindingKind>;
