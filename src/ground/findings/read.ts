/** Codes of the findings that read reports. */

import type { FindingKind } from '../findings.js';

export const readFindings = {
  'read.refused': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The file cannot be read as a drawing; the message says what it is or what is wrong with it.',
    action: 'Hand in the drawing as DXF (R12 to R2018, text or binary).',
  },
  'read.cut': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The file ends before the drawing does; what was there was read.',
    action: 'Get the file again: a download or copy broke off. What is laid out covers only the part that was read.',
  },
  'read.broken-lines': {
    severity: 'failure',
    rule: 'input',
    meaning: 'Part of the file is not made of group codes and values and was left out.',
    action: 'Save the drawing as DXF again; compare what was laid out with the drawing.',
  },
  'read.blank-lines': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Blank lines stand between the tags of the file; they were left out.',
    action: 'Nothing, unless something is missing; the program that wrote the file is at fault.',
  },
  'read.line-ends': {
    severity: 'note',
    rule: 'input',
    meaning: 'The file has line ends of an old kind; the drawing that is written has line feeds.',
    action: 'Nothing.',
  },
  'read.version-unknown': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The header names a version of DXF that is not one of R12 to R2018.',
    action: 'Save the drawing as DXF 2018 or older if something is missing.',
  },
  'read.code-page-unknown': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The header names a code page that cannot be decoded; letters outside ASCII may read wrong.',
    action: 'Check names of layers and texts; save the drawing as DXF 2007 or later, which is UTF-8.',
  },
  'read.code-page-assumed': {
    severity: 'note',
    rule: 'input',
    meaning: 'The header names no code page; how letters outside ASCII are coded was told from the bytes.',
    action: 'Check names of layers and texts if they have letters outside ASCII.',
  },
} satisfies Record<string, FindingKind>;
